"""What the maker must be told of each metal: what hurts, a bad cut, what polishes it, and the names that it goes by."""

from __future__ import annotations

import pytest

from jigs.stock.metal import (
    REMARKS,
    TEMPERS,
    Metal,
    find_metal,
    metals,
)

# --- what the maker must be told ---

FILED, SCRAPPED = "trim and file it; it closes smaller", "scrap the ring"
SHOT, WHILE_BARE, NO_SHOT = (
    "tumbler with stainless shot, never rusty",
    "no shot once it is coloured",
    "no shot, bare or coloured",
)
BURNS, NICKEL, LITTLE, HARD = (
    "sawdust burns",
    "gives off nickel",
    "holds nickel but gives off little",
    "jumps when",
)
TOLD = [  # name, what hurts when sawn, when snipped in the temper in which it may, a bad cut, polish
    ("copper", [], [], SCRAPPED, SHOT),
    ("yellow brass", [], [], SCRAPPED, SHOT),
    ("red brass", [], [], SCRAPPED, SHOT),
    ("jeweller's brass", [], [], SCRAPPED, SHOT),
    ("phosphor bronze", [], [], SCRAPPED, SHOT),
    ("nickel silver", [NICKEL], [NICKEL], SCRAPPED, SHOT),
    ("sterling silver", [], [], FILED, SHOT),
    ("fine silver", [], [], FILED, SHOT),
    ("14k yellow gold", [], [], FILED, SHOT),
    ("18k yellow gold", [], [], FILED, SHOT),
    ("gold-filled 14k", [], [], "scrap the ring: filing bares the core", SHOT),
    ("aluminium 1100", [BURNS], [], SCRAPPED, NO_SHOT),
    ("aluminium 5056", [BURNS], [], SCRAPPED, NO_SHOT),
    ("stainless 304", [LITTLE], [LITTLE, HARD], SCRAPPED, SHOT),
    ("stainless 316", [LITTLE], [LITTLE, HARD], SCRAPPED, SHOT),
    ("titanium grade 1", [BURNS], [], SCRAPPED, WHILE_BARE),
    ("titanium grade 2", [BURNS], [], SCRAPPED, WHILE_BARE),
    ("niobium", [], [], SCRAPPED, WHILE_BARE),
    ("nickel white gold", [LITTLE], [LITTLE], FILED, SHOT),
    ("titanium grade 5", [BURNS], [], SCRAPPED, WHILE_BARE),
    ("titanium grade 23", [BURNS], [], SCRAPPED, WHILE_BARE),
    ("magnesium", [BURNS], [], SCRAPPED, "ask who sold it"),
    ("magnesium AZ31", [BURNS], [], SCRAPPED, "ask who sold it"),
    (
        "beryllium copper",
        ["not sawn, filed or ground"],
        ["not sawn, filed or ground", HARD],
        "it is not filed",
        "left as it was cut",
    ),
]


def said(metal: Metal, **how: bool) -> list[str]:
    """What hurts, in its hardest temper."""
    hardest = metal.cutters_tempers[-1] if metal.cutters_tempers else "hard"
    return [remark.words for remark in metal.cautions(temper=hardest, **how)]


def test_every_metal_of_the_table_is_told_of_below() -> None:
    assert [row[0] for row in TOLD] == [metal.name for metal in metals()]


@pytest.mark.parametrize(("name", "sawn", "snipped", "bad_cut", "polish"), TOLD, ids=[row[0] for row in TOLD])
def test_what_hurts_what_a_bad_cut_is_worth_and_what_polishes_are_the_metals_own(
    name: str, sawn: list[str], snipped: list[str], bad_cut: str, polish: str
) -> None:
    metal = find_metal(name)
    for words, found in (
        (sawn, said(metal, sawn=True, snipped=False)),
        (snipped, said(metal, sawn=False, snipped=True)),
    ):
        assert len(found) == len(words)
        assert all(part in remark for part, remark in zip(words, found, strict=True))
    assert bad_cut in metal.bad_cut.words
    assert polish in metal.polish.words
    assert (metal.never_sawn is not None) == (name == "beryllium copper")


@pytest.mark.parametrize("metal", metals(), ids=lambda m: m.name)
def test_every_remark_and_figure_has_its_source(metal: Metal) -> None:
    remarks = [getattr(metal, on) for on in REMARKS]
    assert all(remark.words and remark.source for remark in remarks if remark is not None)
    assert all(figure.words for figure in (metal.density, metal.modulus) if figure is not None)
    assert set(metal.cutters_tempers) <= set(TEMPERS)
    assert bool(metal.cutters_tempers) == (metal.cutters is not None)


def test_only_hard_wire_of_stainless_or_one_of_unknown_temper_spoils_cutters() -> None:
    steel = find_metal("304")
    spoils = [
        temper
        for temper in (*TEMPERS, None)
        if steel.cutters in steel.cautions(temper=temper, sawn=False, snipped=True)
    ]
    assert spoils == ["hard", "spring", None]


@pytest.mark.parametrize("name", ["titanium nitride", "gold plate", "sterling of the old sort", "nickel silver plus"])
def test_a_name_in_no_row_gets_the_cautious_sentence_however_it_begins(name: str) -> None:
    metal = Metal.custom(name=name, density_g_cm3=8.0)
    assert said(metal, sawn=True, snipped=False) == said(metal, sawn=False, snipped=True)
    assert "read its safety data sheet" in said(metal, sawn=True, snipped=False)[0]
    assert (metal.bad_cut.words, metal.polish.words[:15]) == ("scrap the ring", "ask who sold it")


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("german silver", "nickel silver"),
        ("surgical stainless", "stainless 316"),
        ("Ti-6Al-4V", "titanium grade 5"),
        ("BeCu", "beryllium copper"),
        ("beryllium bronze", "beryllium copper"),
        ("AZ31", "magnesium AZ31"),
        ("14k nickel white gold", "nickel white gold"),
    ],
)
def test_a_metal_is_found_by_its_other_names(typed: str, name: str) -> None:
    assert find_metal(typed).name == name


def test_no_two_metals_share_a_name() -> None:
    names = [name.casefold() for metal in metals() for name in (metal.name, *metal.aliases)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("words", "name"),
    [
        ("gold 14k yellow", "14k yellow gold"),
        ("Yellow Gold 14K", "14k yellow gold"),
        ("silver sterling", "sterling silver"),
        ("304 stainless", "stainless 304"),
    ],
)
def test_the_words_of_a_metal_may_stand_in_any_order(words: str, name: str) -> None:
    assert find_metal(words).name == name


def test_no_two_metals_have_the_same_words() -> None:
    homes: dict[str, str] = {}
    for metal in metals():
        for name in (metal.name, *metal.aliases):
            words = " ".join(sorted(name.casefold().replace("-", " ").split()))
            assert homes.setdefault(words, metal.name) == metal.name
