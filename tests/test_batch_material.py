"""What a batch makes of its metal: given figures, metals of which little is known, and records that go first."""

from __future__ import annotations

import math
from dataclasses import replace
from types import MappingProxyType

import pytest
from batches import SPRINGY, STERLING, WHITE_GOLD, batch

from jigs.making.batch import Batch
from jigs.making.bending import NoSpringback, PerfectlyPlastic, PowerLaw
from jigs.making.cutting import Cutters, Saw, choose_cut
from jigs.making.material import LawBand, Material, choose_material
from jigs.stock.figure import Basis
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.errors import OutOfRange, QuantityRefused, UnknownName

# -- the material


def test_a_metal_without_a_temper_is_taken_soft_and_says_so():
    material = choose_material(find_metal("copper"))
    assert material.name == "copper, soft"
    assert "temper assumed, common practice" in material.laws.words


def test_given_figures_replace_the_tables():
    material = choose_material(find_metal("copper"), density_g_cm3=8.9, modulus_gpa=120, strength_mpa=241)
    assert (material.density_g_cm3, material.modulus_gpa) == (8.9, 120)
    assert material.laws.middle == PerfectlyPlastic.of(flow_mpa=241, modulus_gpa=120)
    assert material.laws.words == "strength 241 MPa as given, E 120 GPa as given"
    assert material.density_basis == "8.9 g/cm3 (as given)"


def test_a_given_strength_needs_no_temper():
    assert choose_material(find_metal("copper"), strength_mpa=241).name == "copper"


def test_a_density_alone_weighs_and_does_not_bend():
    material = choose_material(None, density_g_cm3=9)
    assert isinstance(material.laws.middle, NoSpringback)
    assert (
        pytest.approx(math.pi / 4 * 6 * math.pi * 9 / 1000, rel=0.01)
        == batch(material=material, mandrel_mm=5.0).ring_mass_g
    )


@pytest.mark.parametrize("given", [{"modulus_gpa": 75}, {"strength_mpa": 300}])
def test_half_a_law_is_refused(given):
    with pytest.raises(QuantityRefused, match="springback needs both a modulus and a strength"):
        choose_material(None, **given)


def test_a_temper_without_a_metal_is_refused():
    with pytest.raises(QuantityRefused, match="the temper 'hard' needs its metal; name the metal too"):
        choose_material(None, "hard")


def test_an_unknown_temper_lists_the_known():
    with pytest.raises(UnknownName, match=r"known: .*soft"):
        choose_material(find_metal("copper"), "squishy")


@pytest.mark.parametrize("name", ["density_g_cm3", "modulus_gpa", "strength_mpa"])
def test_given_figures_that_are_none_are_refused(name):
    with pytest.raises(OutOfRange, match=name.split("_")[0]):
        choose_material(find_metal("copper"), **{name: math.nan})


def test_a_metal_without_figures_has_no_grams_and_no_springback_and_says_so():
    made = batch(material=choose_material(WHITE_GOLD), mandrel_mm=5.0)
    assert (made.ring_mass_g, made.springback_ratio, made.figures()["springback_ratio"]) == (None, 1.0, None)
    assert made.ledger[1].words == "no modulus of nickel white gold is known here: springback not counted"
    assert made.ledger[1].basis is Basis.NOT_COUNTED
    assert any(
        caution.startswith("no modulus of nickel white gold is known here: springback not counted; wind a trial coil")
        for caution in made.cautions
    )
    assert made.material.density_basis == "no density of nickel white gold is known here: give it"


def test_figures_of_ones_own_give_it_grams_and_springback():
    own = {"density_g_cm3": 12.7, "modulus_gpa": 100, "strength_mpa": 450}
    made = batch(material=choose_material(WHITE_GOLD, "hard", **own), mandrel_mm=5.0)
    same = batch(material=choose_material(None, **own), mandrel_mm=5.0)
    assert made.ring == same.ring
    assert made.ring_mass_g == same.ring_mass_g
    assert (made.ledger[1].basis, made.material.name) == (Basis.CERTIFICATE, "nickel white gold, hard")


def test_a_strength_for_a_metal_without_a_modulus_needs_that_too():
    with pytest.raises(QuantityRefused, match="springback needs both a modulus and a strength; give the modulus too"):
        choose_material(WHITE_GOLD, strength_mpa=450)


def test_a_modulus_alone_leaves_titanium_alloy_without_springback():
    made = batch(material=choose_material(find_metal("Ti-6Al-4V")), mandrel_mm=5.0)
    assert made.ledger[1].words == "no strength of titanium grade 5 is known here: springback not counted"
    assert made.ring_mass_g == pytest.approx(math.pi / 4 * 18.87606 * 4.43 / 1000, rel=1e-6)


def test_a_modulus_with_a_source_of_its_own_says_it():
    assert "E 75 GPa (from memory)" in choose_material(find_metal("sterling"), "soft").laws.words
    assert "(published figures run 71-117 GPa)" in choose_material(find_metal("niobium"), "soft").laws.words
    bronze = choose_material(find_metal("bronze"), "soft").laws.words
    assert bronze.endswith("E 110 GPa")
    assert choose_material(find_metal("bronze"), "soft", modulus_gpa=105.0).laws.words.endswith("E 105 GPa as given")


def test_a_temper_that_was_only_assumed_says_nothing_of_what_cutters_bear():
    """Ring wire is usually soft, and stainless is often sold hard for rings: who did not say it is warned."""
    for temper, warned in ((None, True), ("spring", True), ("soft", False)):
        made = batch(material=choose_material(find_metal("304"), temper), mandrel_mm=6.0, cut=Cutters.for_wire(1.0))
        assert any("damages ordinary flush cutters" in caution for caution in made.cautions) is warned


def test_the_most_trusted_mandrel_and_trim_count():
    both = batch(mandrel_mm=5.0, measured_mm=5.1)
    assert (both.mandrel.basis, both.acting_mandrel_mm) == (Basis.MEASURED, 5.1)
    named = batch(mandrel_mm=5.0)
    assert (named.mandrel.basis, named.acting_mandrel_mm) == (Basis.NOMINAL, 5.0)
    usual, given = (choose_cut("cutters", wire_mm=1.0, trim_mm=trim).loss for trim in (None, 0.7))
    assert (usual.basis, usual.value, given.basis, given.value) == (Basis.USUAL, 1.0, Basis.MEASURED, 0.7)


def test_beryllium_copper_is_not_sawn():
    material = choose_material(find_metal("BeCu"))
    with pytest.raises(OutOfRange, match=r"beryllium copper: its dust .* not sawn, .*; choose cutters"):
        batch(material=material, mandrel_mm=5.0, cut=Saw(measured_kerf_mm=0.3))
    snipped = batch(material=material, mandrel_mm=5.0, cut=Cutters.for_wire(1.0))
    assert any("only cut with cutters and left so" in caution for caution in snipped.cautions)


def test_figures_alone_are_a_metal_in_no_row():
    assert any("safety data sheet" in caution for caution in batch(material=SPRINGY, mandrel_mm=5.0).cautions)
    assert batch(mandrel_mm=5.0).cautions == ()
    assert batch(mandrel_mm=5.0).material.bad_cut is None


# -- where measurements and records go in

RECORDED = LawBand(
    middle=PerfectlyPlastic(yield_strain=2e-3),
    low=PerfectlyPlastic(yield_strain=1.8e-3),
    high=PerfectlyPlastic(yield_strain=2.2e-3),
    basis=Basis.RECORDED,
    words="3 batches",
)


def test_what_was_recorded_goes_before_the_table_and_a_trial_coil_before_that():
    recorded = batch(material=STERLING, mandrel_mm=5.0, recorded=RECORDED)
    assert (recorded.laws, recorded.ledger[1].basis) == (RECORDED, Basis.RECORDED)
    assert recorded.ledger[1].words.startswith("3 batches; mean diameter opens")
    trial = batch(material=STERLING, mandrel_mm=5.0, recorded=RECORDED, trial_inside_mm=5.3)
    assert trial.laws.basis is Basis.MEASURED
    assert pytest.approx(5.3) == trial.coil.inside_mm


def test_a_measured_mandrel_may_have_a_name_that_is_not_a_size():
    made = batch(measured_mm=6.02, mandrel_name="the long punch")
    assert made.acting_mandrel_mm == 6.02
    assert (made.mandrel.words, made.mandrel.basis) == ("the long punch, measured", Basis.MEASURED)
    assert made.name_error is None


def test_a_wire_springs_straight_where_its_index_times_its_yield_strain_is_one() -> None:
    """C Y / E: with 0.099 and wire of 1 mm that is 0.99 off a mandrel of 9 mm (C = 10) and 1.0098 off 9.2 mm."""
    stiff = LawBand(
        middle=NoSpringback(),
        low=NoSpringback(),
        high=PerfectlyPlastic(yield_strain=0.099),
        basis=Basis.RECORDED,
        words="two batches",
    )
    near, over = (Batch(wire=parse_wire("1 mm"), mandrel_mm=mandrel, recorded=stiff) for mandrel in (9.0, 9.2))
    assert (near.may_spring_straight, over.may_spring_straight) == (False, True)
    assert near.coil_high is not None
    assert over.coil_high is None


def test_two_published_pairs_are_ranked_by_the_stress_at_a_tenth_of_strain() -> None:
    # 500 x 0.1^0.1 = 397 MPa, 900 x 0.1^0.5 = 285 MPa: the second is the weaker, for all its K
    metal = find_metal("304")
    soft = metal.tempers["soft"]
    one, other = (replace(soft.hardening_pairs[0], k_mpa=k, n=n) for k, n in ((500.0, 0.1), (900.0, 0.5)))
    temper = replace(soft, hardening=one, second_hardening=other)
    laws = Material(metal=replace(metal, tempers=MappingProxyType({"soft": temper})), temper=temper).laws
    assert isinstance(laws.low, PowerLaw)
    assert isinstance(laws.high, PowerLaw)
    assert (laws.low.k_mpa, laws.high.k_mpa) == (900.0, 500.0)
