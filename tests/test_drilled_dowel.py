"""A cross-hole in a dowel: the drill, the place, the strip; and dowels from words. Sources beside each check."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.making.drilled_dowel import Dowel, DrilledDowel, least_from_end_mm, least_hole_mm, wrap_length_mm
from jigs.orders.dowel_list import dowel_from_words, dowels_from_columns, grouped, read_dowels
from jigs.stock.wire import Wire, parse_wire
from layouts.errors import FileRefused, OutOfRange, QuantityRefused, Refusal, UnknownName


def drilled(
    diameter_mm: float = 8.0, wire: str = "16 AWG", second_mm: float | None = None, **rest: Any
) -> DrilledDowel:
    dowel = Dowel(diameter_mm=diameter_mm, second_diameter_mm=second_mm)
    return DrilledDowel(dowel=dowel, wire=parse_wire(wire), **rest)


# --- the strip ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "once_round"), [(0.10, 16.0221), (0.25, 16.4934)])
def test_a_strip_round_5_mm_is_pi_times_diameter_and_paper(paper: float, once_round: float) -> None:
    # C, computed: D 5, t 0.10 and 0.25
    assert round(wrap_length_mm(5.0, paper), 4) == once_round


@given(st.floats(1, 150), st.floats(0.01, 1), st.floats(0.1, 100))
def test_scaling_dowel_and_paper_scales_the_strip(diameter: float, paper: float, k: float) -> None:
    assert wrap_length_mm(k * diameter, k * paper) == pytest.approx(k * wrap_length_mm(diameter, paper), rel=1e-12)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf])
def test_a_strip_round_nothing_is_refused(bad: float) -> None:
    with pytest.raises(OutOfRange, match="dowel diameter"):
        wrap_length_mm(bad, 0.1)


# --- the dowel ----------------------------------------------------------------------------------------------


def test_two_diameters_give_their_mean_and_how_far_out_of_round() -> None:
    dowel = Dowel(diameter_mm=7.9, second_diameter_mm=8.1)
    assert dowel.mean_mm == pytest.approx(8.0)
    assert dowel.out_of_round_mm == pytest.approx(0.2)
    assert dowel.out_of_round == pytest.approx(0.025)
    assert dowel.thinnest_mm == 7.9


def test_the_mean_is_within_a_fourth_of_a_percent_of_the_way_round_the_worst_oval() -> None:
    # Ramanujan's first approximation to an ellipse's perimeter (from memory), good to 1e-9 here
    a, b = 8.8 / 2, 7.2 / 2
    perimeter = math.pi * (3 * (a + b) - math.sqrt((3 * a + b) * (a + 3 * b)))
    assert perimeter / (math.pi * Dowel(diameter_mm=8.8, second_diameter_mm=7.2).mean_mm) == pytest.approx(
        1.0025, abs=1e-5
    )


def test_two_diameters_of_no_one_dowel_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"8\.00 mm and 12\.00 mm do not belong to one round dowel; measure"):
        Dowel(diameter_mm=8.0, second_diameter_mm=12.0)


@pytest.mark.parametrize("size", [0.5, 151.0])
def test_a_dowel_no_ring_is_wound_on_is_refused(size: float) -> None:
    with pytest.raises(OutOfRange, match="from 1 mm to 150 mm"):
        Dowel(diameter_mm=size)


# --- the drill ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("wire", "number", "metric"),
    [
        ("12 AWG", "#44", "2.20 mm"),
        ("14 AWG", "#50", "1.75 mm"),
        ("16 AWG", "#54", "1.40 mm"),
        ("18 AWG", "#57", "1.10 mm"),
        ("20 AWG", "#65", "0.88 mm"),
    ],
)
def test_the_snug_drill_is_the_next_from_1_05_wires(wire: str, number: str, metric: str) -> None:
    # C, computed with 1.05
    assert drilled(20, wire, series="number").snug_drill.name == number
    assert drilled(20, wire, series="metric").snug_drill.name == metric


@pytest.mark.parametrize(
    ("wire", "number", "metric"),
    [("16 AWG", "#54", "1.40 mm"), ("18 AWG", "#56", "1.15 mm"), ("20 AWG", "#64", "0.92 mm")],
)
def test_the_drill_to_use_clears_the_wire_by_a_tenth_too(wire: str, number: str, metric: str) -> None:
    # common practice, no source: at least 1.05 d and d + 0.1; 18 AWG 1.0237 + 0.1 = 1.1237, #56 is 1.1811
    assert drilled(20, wire, series="number").drill.name == number
    assert drilled(20, wire, series="metric").drill.name == metric


@given(st.floats(0.1, 8), st.sampled_from(["metric", "number", "inch"]))
def test_the_drill_is_never_under_either_bound(wire_mm: float, series: str) -> None:
    if series == "number" and wire_mm > 5:
        return
    made = DrilledDowel(
        dowel=Dowel(diameter_mm=100), wire=Wire(diameter_mm=wire_mm, given=""), series=series, from_end_mm=50
    )
    assert made.hole_mm >= 1.05 * wire_mm - 1e-9
    assert made.clearance_mm >= 0.1 - 1e-9


def test_the_least_hole_of_thick_wire_is_1_05_wires_and_of_thin_wire_a_tenth_more() -> None:
    assert least_hole_mm(4.0) == pytest.approx(4.2)
    assert least_hole_mm(1.0) == pytest.approx(1.1)


def test_a_hole_over_a_third_of_the_dowel_is_refused() -> None:
    with pytest.raises(
        OutOfRange, match=r"1\.40 mm is over a third of the dowel \(D/3 is 1\.33 mm\); take a dowel of 5\.6 mm"
    ):
        drilled(4.0)


def test_a_hole_of_a_third_of_the_dowel_is_allowed_and_warned_about() -> None:
    assert any("over a quarter of the dowel (D/4 is 1.05 mm)" in line for line in drilled(4.2).warnings)


def test_a_hole_of_just_a_quarter_is_not_warned_about() -> None:
    assert drilled(5.6).warnings == ()  # 1.40 = 5.6 / 4


def test_strength_is_judged_by_the_thinner_of_two_diameters() -> None:
    assert drilled(5.7, second_mm=5.65).warnings == ()
    assert "quarter" in drilled(5.65, second_mm=5.55).warnings[0]


def test_a_slot_says_its_length_and_how_to_make_it() -> None:
    """Drills go by 0.1 mm: a wire of 1.6 mm takes 1.7, and a slot is three of them."""
    made = drilled(9.5, "1.6 mm", second="slot")
    assert "Slot 5.1 mm long, end to end: drill a row of holes, file out between them." in made.advice
    assert not any("Slot" in line for line in drilled(9.5, "1.6 mm", second="hole").advice)


def test_a_nominal_dowel_has_one_diameter() -> None:
    assert Dowel(diameter_mm=9.5, measured=False).mean_mm == 9.5
    with pytest.raises(OutOfRange, match="a dowel of two diameters is not nominal; give one, or say that it is measu"):
        Dowel(diameter_mm=9.5, second_diameter_mm=9.4, measured=False)


def test_wood_below_5_mm_snaps() -> None:
    assert any(
        line.startswith("wood 4.90 mm thick snaps: under 5 mm wind on a metal rod")
        for line in drilled(4.9, "1 mm").warnings
    )
    assert drilled(5.0, "1 mm").warnings == ()


def test_a_dowel_out_of_round_by_over_2_percent_is_warned_about() -> None:
    assert drilled(8.2, second_mm=7.9).warnings == (
        "out of round by 0.30 mm (3.7 %): the rings will differ; take a rounder dowel",
    )
    assert drilled(8.0, second_mm=7.9).warnings == ()


def test_a_hole_over_2_mm_wants_a_pilot_in_hardwood() -> None:
    assert drilled(12, "12 AWG").advice[0] == "In hardwood drill 1.10 mm first: a hole over 2 mm wants a pilot."
    assert drilled(12, "1.9 mm").pilot is None  # drill 2.00


# --- the places ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("hole", "least"), [(1.4, 6.0), (3.0, 6.0), (4.0, 8.0)])
def test_the_hole_keeps_6_mm_and_one_and_a_half_holes_of_wood(hole: float, least: float) -> None:
    assert least_from_end_mm(hole) == least


def test_a_hole_too_near_the_end_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"5\.90 mm from the end would split out; give 6\.00 mm or more"):
        drilled(from_end_mm=5.9)


def test_a_close_wound_coil_takes_a_wire_for_each_turn_and_one_more() -> None:
    made = drilled(8.0, "1 mm", turns=12)
    assert made.coil_length_mm == pytest.approx(13.0)
    assert made.coil_zone_mm == pytest.approx((9.5, 22.5))


def test_the_second_hole_is_where_the_last_turn_ends() -> None:
    assert drilled(8.0, "1 mm", turns=12, pitch_mm=1.5, second="hole").second_centres_mm == pytest.approx((28.0,))


def test_a_slot_is_pricked_at_both_ends_of_its_row() -> None:
    # drill 1.10: three of it are 3.30, so its end centres are 2.20 apart
    assert drilled(8.0, "1 mm", turns=12, second="slot").second_centres_mm == pytest.approx((20.9, 23.1))


def test_a_second_hole_under_the_coil_is_warned_about() -> None:
    made = drilled(8.0, "1 mm", turns=12, second="hole", second_from_end_mm=15)
    assert made.warnings == ("the second hole at 15.0 mm lies under the coil, which ends at 22.0 mm",)


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (
            {"second": "hole", "second_from_end_mm": 11.0},
            "under 1.65 mm of wood beside the first hole; keep the centres 2.75 mm",
        ),
        ({"second": "slot", "second_from_end_mm": 10.0}, "of wood beside the first hole"),
        (
            {"second": "hole", "second_from_end_mm": 5.0},
            "the second hole would split out of the dowel's end; keep it 6.00 mm",
        ),
        ({"second_from_end_mm": 20.0}, "a second place and nothing to put there; say hole or slot"),
        ({"second": "hole", "slot_mm": 3.0}, "a slot length and no slot"),
        ({"second": "slot", "slot_mm": 1.0}, "a slot 1.00 mm long is shorter than its drill; give 1.10 mm"),
        ({"turns": 0}, "a coil of 0 turns; give 1 to 500 whole turns"),
        ({"turns": 501}, "a coil of 501 turns"),
        ({"pitch_mm": 0.9}, "less than the wire"),
        ({"paper_mm": 1.2}, "paper 1.2 mm thick will not wrap a dowel"),
        ({"paper_mm": math.nan}, "paper thickness is nan"),
        ({"from_end_mm": math.inf}, "distance from the end is inf"),
        ({"turns": 2, "second": "hole"}, "of wood beside the first hole"),
    ],
)
def test_what_cannot_be_drilled_or_wound_is_refused(wrong: dict[str, Any], message: str) -> None:
    with pytest.raises(OutOfRange) as refusal:
        drilled(8.0, "1 mm", **wrong)
    assert message in str(refusal.value)


@pytest.mark.parametrize(("key", "value"), [("series", "letter"), ("second", "notch")])
def test_an_unknown_set_of_drills_or_second_is_refused_with_the_known_ones(key: str, value: str) -> None:
    with pytest.raises(UnknownName, match=r"known: .*(metric|slot)"):
        drilled(**{key: value})


# --- from words ---------------------------------------------------------------------------------------------


def test_a_dowel_is_read_from_words() -> None:
    words = {"diameter": "7.9 mm", "second_diameter": "8.1 mm", "wire": "1 mm", "turns": "12", "drills": "inch"}
    assert dowel_from_words(words) == drilled(7.9, "1 mm", second_mm=8.1, turns=12, series="inch")


def test_one_word_goes_for_all_dowels_and_as_many_words_go_one_each() -> None:
    made = grouped({"diameter": ["6 mm", "8 mm"], "wire": ["1 mm"], "turns": ["5", "7"], "pitch": []})
    assert made == [
        {"diameter": "6 mm", "wire": "1 mm", "turns": "5"},
        {"diameter": "8 mm", "wire": "1 mm", "turns": "7"},
    ]


@pytest.mark.parametrize(
    ("columns", "message"),
    [
        ({"diameter": []}, "no dowel is given; give a measured diameter, or a list of dowels"),
        (
            {"diameter": ["6 mm"] * 3, "from_end": ["9 mm"] * 2},
            "from end: it is given 2 times for 3 dowels; give it once",
        ),
        ({"diameter": ["6 mm"], "wire": ["1 mm"] * 2}, "wire: it is given 2 times for 1 dowel;"),
        (
            {"diameter": ["6 mm"] * 2, "second_diameter": ["6 mm"]},
            "measured on one dowel: give it for each or not at all",
        ),
        ({"diameter": ["6 mm"]}, "no wire is given; a dowel needs its wire"),
        ({"diameter": ["6 mm", "8 mm"], "wire": ["1 mm", "18"]}, "wire: dowel 2: '18' could be"),
        ({"diameter": ["6 mm"], "wire": ["1 mm"], "from_end": ["10"]}, "from end: a length needs a unit"),
        (
            {"diameter": ["6 mm"], "wire": ["1 mm"], "turns": ["ten"]},
            "turns: 'ten' is not a count; write a whole number",
        ),
        ({"diameter": ["6 mm", "3 mm"], "wire": ["1 mm"]}, "dowel 2: a hole of 1.10 mm is over a third"),
    ],
)
def test_words_that_make_no_dowel_are_refused(columns: dict[str, list[str]], message: str) -> None:
    with pytest.raises(Refusal) as refusal:
        dowels_from_columns(columns)
    assert message in str(refusal.value)


def listed(folder: Path, text: str) -> Path:
    path = folder / "dowels.toml"
    path.write_text(text, encoding="utf-8")
    return path


GOOD = '[[dowel]]\ndiameter = "7.9 mm"\nwire = "1 mm"\nturns = 12\n'


def test_a_list_gives_its_dowels_in_order(tmp_path: Path) -> None:
    text = GOOD + '[[dowel]]\ndiameter = "5/16 in"\nwire = "16 AWG"\ndrills = "number"\npaper_thickness = "0.2 mm"\n'
    first, second = read_dowels(listed(tmp_path, text))
    assert first == drilled(7.9, "1 mm", turns=12)
    assert second == drilled(7.9375, "16 AWG", series="number", paper_mm=0.2)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (GOOD + 'from-end = "9 mm"', "dowels.toml:5: no key is called 'from-end' in this [[dowel]]; known: from_end, "),
        (GOOD + GOOD + 'from_end = "9"', "dowels.toml:9: from_end: a length needs a unit"),
        (GOOD + 'from_end = "5 mm"', "dowels.toml:1: a hole of 1.10 mm with its centre 5.00 mm from the end"),
        (GOOD + "from_end = 9", 'dowels.toml:5: from_end: a length needs a unit; write "9 mm"'),
        (GOOD.replace("12", "true"), "dowels.toml:4: turns: true is not a whole number"),
        (GOOD.replace("12", "-3"), "dowels.toml:4: turns: -3 is out of range"),
        (GOOD.replace('wire = "1 mm"', ""), "dowels.toml:1: a dowel needs its wire; add a line such as wire ="),
        ("[[rod]]", "dowels.toml:1: no key is called 'rod' in the file; known: dowel"),
        ("dowel = 3", "dowels.toml:1: dowel is not a list of tables; begin each with a line [[dowel]]"),
        ("dowel = [3]", "dowels.toml:1: dowel is not a list of tables"),
        ("", "dowels.toml:1: the file lists no dowel; begin each with a line [[dowel]]"),
        ("[[dowel", "dowels.toml:1: the brackets of this header do not match; write [[dowel]]"),
    ],
)
def test_a_list_with_a_fault_is_refused_and_says_where(tmp_path: Path, text: str, message: str) -> None:
    with pytest.raises(Refusal) as refusal:
        read_dowels(listed(tmp_path, text))
    assert message in str(refusal.value)


def test_a_list_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match=r"none\.toml cannot be read"):
        read_dowels(tmp_path / "none.toml")


def test_a_list_that_is_too_long_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="is longer than 256 KiB"):
        read_dowels(listed(tmp_path, "#\n" * 200_001))


@given(st.dictionaries(st.sampled_from(["diameter", "wire", "turns", "second", "x"]), st.text(max_size=80)))
def test_any_words_make_a_dowel_or_a_refusal_of_one_line(words: dict[str, str]) -> None:
    try:
        said = str(dowel_from_words(words).warnings)
    except Refusal as refusal:
        said = str(refusal)
    assert len(said.splitlines()) == 1


def test_a_bare_gauge_names_both_readings() -> None:
    with pytest.raises(QuantityRefused, match=r"18 AWG .* or 18 SWG"):
        dowel_from_words({"diameter": "8 mm", "wire": "18"})
