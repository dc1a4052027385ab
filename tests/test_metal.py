"""Metals: density, modulus, strengths by temper."""

from __future__ import annotations

from itertools import pairwise
from math import e

import periodictable
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.stock.metal import (
    TEMPERS,
    FlowStress,
    Hardening,
    Metal,
    Strength,
    Temper,
    find_metal,
    metals,
    temper_name,
)
from layouts.errors import OutOfRange, UnknownName


def rule_of_mixtures(**percent: float) -> float:
    """Density in g/cm3 of an alloy of these mass per cents: 1 / rho = sum(w / rho), elements from periodictable."""
    assert sum(percent.values()) == pytest.approx(100)
    return 100 / sum(w / periodictable.elements.symbol(symbol).density for symbol, w in percent.items())


# --- densities against periodictable ---


@pytest.mark.parametrize(
    ("name", "percent"),
    [
        ("sterling", {"Ag": 92.5, "Cu": 7.5}),
        ("C510", {"Cu": 95.0, "Sn": 5.0}),  # without its trace of phosphorus
        ("18k", {"Au": 75.0, "Ag": 12.5, "Cu": 12.5}),
        ("5056", {"Al": 94.7, "Mg": 5.1, "Mn": 0.1, "Cr": 0.1}),
    ],
)
def test_density_agrees_with_the_rule_of_mixtures_within_0_7_percent(name: str, percent: dict[str, float]) -> None:
    assert find_metal(name).density_g_cm3 == pytest.approx(rule_of_mixtures(**percent), rel=0.007)


@pytest.mark.parametrize(
    ("name", "percent", "below"),
    [
        ("C260", {"Cu": 70.0, "Zn": 30.0}, 0.025),
        ("C752", {"Cu": 65.0, "Ni": 18.0, "Zn": 17.0}, 0.018),
        ("304", {"Fe": 72.0, "Cr": 18.5, "Ni": 9.5}, 0.024),
    ],
)
def test_mixtures_of_brass_and_steel_come_out_low_by_a_known_part_so_the_table_stands(
    name: str, percent: dict[str, float], below: float
) -> None:
    short = 1 - rule_of_mixtures(**percent) / find_metal(name).density_g_cm3
    assert short == pytest.approx(below, abs=0.004)


@pytest.mark.parametrize(
    ("name", "symbol", "rel"),
    [
        ("fine silver", "Ag", 0.0015),
        ("copper", "Cu", 0.003),
        ("aluminium 1100", "Al", 0.005),
        ("niobium", "Nb", 1e-9),
        ("titanium grade 1", "Ti", 0.007),  # periodictable has 4.54, other lists 4.506
    ],
)
def test_nearly_pure_metals_weigh_what_the_element_weighs(name: str, symbol: str, rel: float) -> None:
    assert find_metal(name).density_g_cm3 == pytest.approx(periodictable.elements.symbol(symbol).density, rel=rel)


def test_gold_filled_weighs_one_part_in_twenty_of_14k_on_brass() -> None:
    # 16 CFR part 23 for the 1/20 by mass; 1 / rho = sum(w / rho).
    layers = 1 / (0.05 / find_metal("14k").density_g_cm3 + 0.95 / find_metal("brass").density_g_cm3)
    assert find_metal("gold-filled").density_g_cm3 == pytest.approx(layers, abs=0.005)


# --- hardening pairs ---


@pytest.mark.parametrize(
    "pair_of",
    [(m, pair) for m in metals() for t in m.tempers.values() for pair in t.hardening_pairs],
    ids=lambda pair_of: f"{pair_of[0].name} {pair_of[1].k_mpa:g}",
)
def test_every_hardening_pair_gives_the_tensile_strength_back(pair_of: tuple[Metal, Hardening]) -> None:
    metal, pair = pair_of
    tensile = metal.temper("soft").tensile_mpa
    assert 0.95 * tensile.low < pair.tensile_mpa < 1.25 * tensile.high


def test_the_published_copper_pair_that_is_not_sane_would_fail_that_check() -> None:
    bad = Hardening(k_mpa=315, n=0.54, source="a pair that the table leaves out")
    assert bad.tensile_mpa < 0.95 * find_metal("copper").temper("soft").tensile_mpa.low


def test_the_tensile_strength_of_a_pair_is_k_times_n_over_e_to_the_n() -> None:
    assert Hardening(k_mpa=530, n=0.44, source="Callister").tensile_mpa == pytest.approx(530 * (0.44 / e) ** 0.44)
    assert Hardening(k_mpa=530, n=0.44, source="Callister").tensile_mpa == pytest.approx(237.8, abs=0.1)


@pytest.mark.parametrize(
    ("name", "pairs"),
    [
        ("copper", [(530, 0.44)]),  # Callister
        ("brass", [(900, 0.49)]),  # Kalpakjian & Schmid Table 2.3
        ("1100", [(180, 0.20)]),  # Kalpakjian & Schmid Table 2.3
        ("304", [(1400, 0.44), (1275, 0.45)]),  # Callister; Kalpakjian & Schmid Table 2.3
        ("sterling", []),
    ],
)
def test_the_hardening_pairs_are_the_published_ones(name: str, pairs: list[tuple[float, float]]) -> None:
    assert [(p.k_mpa, p.n) for p in find_metal(name).temper("soft").hardening_pairs] == pairs


# --- flow stress ---


def figures(flow: FlowStress) -> tuple[float, float, float]:
    return flow.low_mpa, flow.middle_mpa, flow.high_mpa


def test_annealed_wire_runs_from_yield_to_tensile_with_half_way_as_the_middle() -> None:
    # Fine silver, Callister Table B.4: Y 54, U 170.
    flow = find_metal("fine silver").temper("soft").flow_stress()
    assert figures(flow) == (54, 112, 170)
    assert flow.words == "a band from yield 54 to tensile 170 MPa (Callister Table B.4)"


def test_bands_on_both_sides_keep_their_outer_ends() -> None:
    # Sterling: Y 124, U 207-283; the middle is (124 + 245) / 2.
    assert figures(find_metal("sterling").temper("soft").flow_stress()) == (124, 184.5, 283)


def test_hard_wire_goes_by_its_tensile_band() -> None:
    # ASTM B159: C510 hard 745-885.
    flow = find_metal("bronze").temper("hard").flow_stress()
    assert figures(flow) == (745, 815, 885)
    assert flow.words.startswith("a band: tensile 745-885 MPa")


def test_hard_wire_with_a_yield_figure_still_goes_by_tensile() -> None:
    assert figures(find_metal("5056").temper("hard").flow_stress()) == (414, 414, 414)


def test_a_single_figure_says_that_it_is_no_band() -> None:
    flow = find_metal("sterling").temper("hard").flow_stress()
    assert figures(flow) == (496, 496, 496)
    assert flow.words.startswith("one figure, no band: tensile 496 MPa")


def test_annealed_wire_without_a_yield_figure_says_so() -> None:
    flow = find_metal("bronze").temper("soft").flow_stress()
    assert figures(flow) == (295, 347.5, 400)
    assert "no yield published" in flow.words


def test_a_caution_of_the_table_reaches_the_basis() -> None:
    assert "thinner wire is stronger" in find_metal("304").temper("spring").flow_stress().words


@pytest.mark.parametrize("metal", metals(), ids=lambda m: m.name)
def test_a_harder_temper_is_never_weaker(metal: Metal) -> None:
    known = [metal.tempers[name].tensile_mpa for name in TEMPERS if name in metal.tempers]
    assert all(a.low <= b.low and a.high <= b.high for a, b in pairwise(known))


# --- names ---


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("copper", "copper"),
        ("Copper", "copper"),
        ("C110", "copper"),
        ("sterling", "sterling silver"),
        ("925", "sterling silver"),
        ("bronze", "phosphor bronze"),
        ("brass", "yellow brass"),
        ("  yellow   brass ", "yellow brass"),
        ("jeweler's brass", "jeweller's brass"),
        ("jeweller’s brass", "jeweller's brass"),
        ("gold filled", "gold-filled 14k"),
        ("aluminum 5056", "aluminium 5056"),
        ("302", "stainless 304"),
    ],
)
def test_a_metal_is_found_by_the_name_a_person_types(typed: str, name: str) -> None:
    assert find_metal(typed).name == name


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("coper", "copper"),
        ("stainless", "stainless 304"),
        ("silver", "fine silver"),
        ("titanium", "titanium grade 1"),
        ("niobum", "niobium"),
    ],
)
def test_an_unknown_metal_is_refused_with_the_nearest_name_first(typed: str, first: str) -> None:
    with pytest.raises(UnknownName, match=rf"no metal is called '{typed}'; known: {first}, ") as refusal:
        find_metal(typed)
    assert set(refusal.value.known) == {m.name for m in metals()}


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("soft", "soft"),
        ("Annealed", "soft"),
        ("half hard", "half-hard"),
        ("HALF-HARD", "half-hard"),
        ("spring", "spring"),
    ],
)
def test_a_temper_is_found_by_the_name_a_person_types(typed: str, name: str) -> None:
    assert temper_name(typed) == name
    assert find_metal("copper").temper(typed).name == name


def test_an_unknown_temper_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownName, match=r"no temper is called 'hart'; known: hard, half-hard, soft, spring"):
        find_metal("copper").temper("hart")


def test_a_temper_without_figures_is_refused_with_the_tempers_that_have_some() -> None:
    with pytest.raises(OutOfRange) as refusal:
        find_metal("fine silver").temper("spring")
    assert str(refusal.value) == (
        "no strength of spring fine silver is known here; "
        "tempers with one: soft, hard; or give the strength of your wire"
    )


# --- the user's own figures ---


def test_a_metal_of_ones_own_needs_no_table() -> None:
    metal = Metal.custom(density_g_cm3=8.86, modulus_gpa=110, strength_mpa=450)
    assert figures(metal.temper("soft").flow_stress()) == (450, 450, 450)
    assert metal.name == "metal as given"


def test_a_metal_of_ones_own_without_a_strength_has_no_temper() -> None:
    with pytest.raises(OutOfRange, match=r"tempers with one: none; or give the strength"):
        Metal.custom(density_g_cm3=8.86, modulus_gpa=110).temper("soft")


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"density_g_cm3": 8860.0}, r"no metal has a density of 8860 g/cm3; give 0\.5 to 25 g/cm3"),
        ({"density_g_cm3": float("nan")}, r"density"),
        ({"modulus_gpa": 110_000.0}, r"no metal has a modulus of 110000 GPa; give 1 to 1000 GPa"),
        ({"modulus_gpa": 0.0}, r"modulus is 0"),
        ({"strength_mpa": 2e6}, r"no metal has a strength of 2e\+06 MPa"),
        ({"strength_mpa": float("inf")}, r"strength"),
    ],
)
def test_a_figure_that_no_metal_has_is_refused(changes: dict[str, float], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        Metal.custom(**changes)


# --- values check themselves ---


def test_a_band_upside_down_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"a band from 2 to 1 MPa is upside down; write the low end first"):
        Strength(low=2, high=1)


def test_a_temper_that_yields_above_its_tensile_strength_is_refused() -> None:
    high, low = Strength(low=9, high=9), Strength(low=1, high=2)
    with pytest.raises(OutOfRange, match=r"temper 'soft' yields above its tensile strength"):
        Temper(name="soft", yield_mpa=high, tensile_mpa=low, hardening=None, source="-")


@pytest.mark.parametrize("n", [-0.1, 1.0, float("nan")])
def test_a_hardening_exponent_that_no_metal_has_is_refused(n: float) -> None:
    with pytest.raises(OutOfRange, match=r"hardening exponent"):
        Hardening(k_mpa=500, n=n, source="-")


@pytest.mark.parametrize("triple", [(2, 1, 3), (0, 1, 2), (1, 2, float("inf")), (float("nan"), 1, 2)])
def test_flow_stresses_out_of_order_are_refused(triple: tuple[float, float, float]) -> None:
    low, middle, high = triple
    with pytest.raises(OutOfRange, match=r"are out of order; write low, middle and high"):
        FlowStress(low_mpa=low, middle_mpa=middle, high_mpa=high, words="-")


def test_a_metal_can_be_a_key() -> None:
    assert {find_metal("copper"): 1}[find_metal("C110")] == 1


def test_the_tempers_of_a_metal_cannot_be_changed() -> None:
    with pytest.raises(TypeError):
        find_metal("copper").tempers["soft"] = find_metal("brass").temper("soft")  # type: ignore[index]


def metal_or_refusal(text: str) -> Metal | UnknownName:
    try:
        return find_metal(text)
    except UnknownName as refusal:
        return refusal


@given(st.text(max_size=80))
def test_any_text_is_a_metal_or_a_refusal_in_one_line(text: str) -> None:
    outcome = metal_or_refusal(text)
    assert isinstance(outcome, Metal) or len(str(outcome).splitlines()) == 1
