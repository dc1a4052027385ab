"""A measured printer: factors, correction, uncertainty, age; and what a corrected sheet measures on paper."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from printers_read import PAPERS, presses, printer, reading
from printing import Press, measured

from layouts.dates import parse_date
from layouts.errors import OutOfRange, QuantityRefused, UnknownName, Unprintable
from layouts.pages.paper import Paper, find_paper
from layouts.printing.budget import find_instrument, instruments
from layouts.printing.printer import Diagonals, InkPair, parse_reading

# --- factors ------------------------------------------------------------------------------------------------


def test_a_factor_is_read_over_true() -> None:
    assert printer(0.99, 1.01).across_factor == pytest.approx(0.99)
    assert printer(0.99, 1.01).along_factor == pytest.approx(1.01)


def test_on_a_landscape_sheet_the_short_side_is_the_one_along() -> None:
    turned = replace(printer(0.99, 1.01), landscape=True)
    assert (turned.across_factor, turned.along_factor) == (pytest.approx(1.01), pytest.approx(0.99))


def test_skew_follows_from_the_diagonals_as_the_law_of_cosines_has_it() -> None:
    # Worked by hand: a 300 x 400 rectangle leaning by 1 degree; its diagonals by the law of cosines for 91 and 89.
    lean = math.radians(1)
    rising, falling = (math.sqrt(300**2 + 400**2 + side * 2 * 300 * 400 * math.sin(lean)) for side in (1, -1))
    seen = Diagonals(across_mm=300, along_mm=400, rising_mm=rising, falling_mm=falling)
    leaning = replace(printer(), diagonals=seen)
    assert leaning.skew_deg == pytest.approx(1.0, abs=1e-12)


@settings(max_examples=60)
@given(presses)
def test_exact_readings_give_the_printer_back(press: Press) -> None:
    record = measured(press)
    assert record.across_factor == pytest.approx(press.across, rel=1e-12)
    assert record.along_factor == pytest.approx(press.along, rel=1e-12)
    assert record.skew_deg == pytest.approx(press.skew_deg, abs=1e-9)
    assert record.spread_mm == pytest.approx(press.spread_mm, abs=1e-12)


def test_ink_spread_is_a_quarter_of_black_less_white_whatever_the_scale() -> None:
    # A bar and a gap of 2 mm at 98 %, ink grown by 0.06 at each edge: 1.96 + 0.12 and 1.96 - 0.12.
    assert InkPair(black_mm=2.08, white_mm=1.84).spread_mm == pytest.approx(0.06)


def test_ink_by_the_bars_of_a_scan_is_stated_as_far_as_the_fit_leaves_it_open() -> None:
    """C: a half width of 0.015 mm, 2 x 0.015 / sqrt(3)."""
    by_bars = InkPair(black_mm=1.06, white_mm=0.94, edge_mm=0.015)
    assert replace(printer(instrument="scan-card"), ink=(by_bars,)).spread_expanded_mm == pytest.approx(
        0.01732, abs=1e-5
    )


# --- correction ---------------------------------------------------------------------------------------------


@settings(max_examples=60)
@given(presses, st.sampled_from(PAPERS), st.floats(0, 400), st.floats(0, 400), st.booleans())
def test_distortion_undoes_the_correction(press: Press, paper: Paper, x: float, y: float, turned: bool) -> None:
    record = measured(press, landscape=turned)
    centre = paper.width_mm / 2, paper.height_mm / 2
    both = record.distortion(landscape=paper.landscape).about(*centre).after(record.correction(paper))
    assert both.apply(x, y) == pytest.approx((x, y), abs=1e-9)


@given(presses, st.sampled_from(PAPERS))
def test_the_centre_of_the_page_stays(press: Press, paper: Paper) -> None:
    centre = paper.width_mm / 2, paper.height_mm / 2
    assert measured(press).correction(paper).apply(*centre) == pytest.approx(centre, abs=1e-9)


@settings(max_examples=60)
@given(presses, st.booleans(), st.booleans(), st.floats(0, 2 * math.pi))
def test_a_corrected_line_has_its_length_on_paper_whichever_way_either_sheet_lay(
    press: Press, measured_landscape: bool, printed_landscape: bool, angle: float
) -> None:
    record = measured(press, landscape=measured_landscape)
    correction = record.correction(find_paper("a4", landscape=printed_landscape))
    ends = [complex(*correction.apply(100 * t * math.cos(angle), 100 * t * math.sin(angle))) for t in (0, 1)]
    assert press.length(*ends, landscape=printed_landscape) == pytest.approx(100, abs=1e-9)


def test_a_page_lies_within_the_safe_edges_before_and_after_its_correction() -> None:
    for paper in PAPERS:
        for press in (Press(across=0.96, along=1.03, skew_deg=0.5), Press(across=1.04, along=0.97, skew_deg=-0.5)):
            record = measured(press)
            left, bottom, right, top = record.reach(paper)
            low_x, low_y, high_x, high_y = paper.safe
            assert low_x <= left < right <= high_x
            assert low_y <= bottom < top <= high_y
            for x, y in ((left, bottom), (left, top), (right, bottom), (right, top)):
                u, v = record.correction(paper).apply(x, y)
                assert low_x - 1e-9 <= u <= high_x + 1e-9
                assert low_y - 1e-9 <= v <= high_y + 1e-9


def test_a_true_printer_leaves_the_whole_safe_area() -> None:
    paper = find_paper("a4")
    assert printer().reach(paper) == pytest.approx(paper.safe)


# --- uncertainty --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("instrument", "length", "percent"),
    [
        ("rule-jis-1", 100, 0.44),
        ("rule", 100, 0.71),
        ("rule-jis-1", 150, 0.30),
        ("rule", 150, 0.47),
        ("caliper", 100, 0.17),
    ],
)
def test_the_budget_of_a_base_line_is_that_of_the_reference(instrument: str, length: float, percent: float) -> None:
    # k = 2 (computed): a 100 mm bar with a rule 0.44-0.71 %; 150 mm 0.30-0.47 %; caliper 0.17 %.
    record = printer(instrument=instrument, length=length)
    assert round(100 * record.scale_budget(record.across).expanded, 2) == percent


def test_a_card_and_a_loupe_have_budgets_worked_by_hand() -> None:
    # Loupe: class I 0.1 + 0.1 mm, ends 0.1: 2 sqrt(0.04/3 + 2 0.01/3) = 0.2828. Card: 2 sqrt(0.125^2/3 + 2 0.0625/3).
    for instrument, expanded in (("loupe", 0.282843), ("card", 0.433013)):
        record = printer(instrument=instrument)
        assert 100 * record.scale_budget(record.across).expanded == pytest.approx(expanded, abs=1e-6)


def test_a_disc_has_a_budget_worked_by_hand() -> None:
    # Caliper, 3 pairs, 100 mm lines, diagonals of 300 x 400: in 5 mm the scale is 5 x 0.0866e-2, the skew
    # 5/2 x sqrt(2) 500 0.0816/(2 120000), the paper 5 x 0.0005/sqrt(3), the ink 2 x sqrt(2) 0.0816/4/sqrt(3), and
    # 2 x 0.02/sqrt(3) from sheet to sheet.
    pairs = (InkPair(black_mm=1, white_mm=1),) * 3
    seen = Diagonals(across_mm=300, along_mm=400, rising_mm=500, falling_mm=500)
    record = replace(printer(instrument="caliper"), ink=pairs, diagonals=seen)
    ends = math.sqrt(2) * 0.1 / math.sqrt(3)
    scale = 5 / 100 * math.hypot(0.05 / math.sqrt(3), ends)
    skew, paper = 2.5 * math.sqrt(2) * 500 * ends / 240000, 0.0025 / math.sqrt(3)
    terms = scale, skew, paper, 2 * math.sqrt(2) * ends / 4 / math.sqrt(3), 0.04 / math.sqrt(3)
    assert [term.standard for term in record.budget(5.0).terms] == pytest.approx(terms)
    assert record.budget(5.0).expanded == pytest.approx(2 * math.sqrt(sum(term**2 for term in terms)))


def test_what_was_not_measured_is_said_in_the_budget() -> None:
    words = [term.words for term in printer().budget(5.0).terms]
    assert words == [
        "scale",
        "skew, not measured, ±0.1 degrees",
        "paper, ±0.05 %",
        "ink spread, not measured, ±0.05 mm an edge",
    ]
    assert not any("ink" in term.words for term in printer().budget(5.0, edges=0).terms)


def test_a_longer_base_line_is_never_less_certain() -> None:
    for instrument in instruments():
        shares = [
            printer(instrument=instrument, length=length).budget(10.0).expanded for length in (60, 100, 150, 240, 320)
        ]
        assert shares == sorted(shares, reverse=True)


TRIALS = 1000


@pytest.mark.parametrize("instrument", ["rule", "rule-class-1", "rule-jis-1", "loupe", "caliper"])
@pytest.mark.parametrize("size", [5.0, 100.0])
def test_the_stated_uncertainty_covers_the_true_error_and_is_not_too_wide(instrument: str, size: float) -> None:
    errors, stated = zip(*(_one_trial(seed, instrument, size) for seed in range(TRIALS)), strict=True)
    covered = sum(abs(error) <= bound for error, bound in zip(errors, stated, strict=True))
    assert covered >= 0.95 * TRIALS
    needed = sorted(map(abs, errors))[int(0.95 * TRIALS)]  # what covers 95 of 100
    assert max(stated) <= 3 * needed


def _one_trial(seed: int, instrument: str, size: float) -> tuple[float, float]:
    """Error in mm of a printed size, upright disc or line across, after one measurement; and what was stated.

    The rule is off by a share of its class, alike in all readings; each end is read with an error of its own; the
    paper lies a little dry or damp; the ink spreads a little more or less than on the sheet that was measured.
    """
    chance = random.Random(seed)
    tool = find_instrument(instrument)
    press = Press(
        across=chance.uniform(0.96, 1.04),
        along=chance.uniform(0.96, 1.04),
        skew_deg=chance.uniform(-0.5, 0.5),
        spread_mm=chance.uniform(-0.02, 0.08),
    )
    off = chance.uniform(-1, 1)

    def read(length: float) -> float:
        ends = chance.uniform(-tool.end, tool.end) + chance.uniform(-tool.end, tool.end)
        instrument_off = off * tool.error_mm(length) if length > 10 else 0.0
        return max(length + instrument_off + ends, 0.01)

    try:
        record = measured(press, read=read, instrument=instrument, ink_mm=(2.0, 2.0, 2.0))
    except OutOfRange:  # read as a factor or a spread that no printer has: refused, so no sheet comes of it
        return 0.0, 1e-9
    correction = record.correction(find_paper("a4"))
    ends = [complex(*correction.apply(100 + along, 150)) for along in (-size / 2, size / 2)]
    edges = 2 if size < 50 else 0
    ink = edges * (press.spread_mm + chance.uniform(-0.02, 0.02) - record.spread_mm)
    damp = 1 + chance.uniform(-0.0005, 0.0005)
    return press.length(*ends) * damp + ink - size, record.good_for_mm(size, edges)


# --- words, age, refusals -----------------------------------------------------------------------------------


def test_a_record_over_90_days_old_or_of_another_stock_or_paper_is_said() -> None:
    record = measured(Press())
    assert record.warnings(date(2027, 2, 23), "Plain  80 G", find_paper("a4")) == ()
    (old,) = record.warnings(date(2027, 2, 24))
    assert "91 days old, over 90: measure again" in old
    (stock,) = record.warnings(date(2026, 11, 25), "card 160 g")
    assert stock == "office was measured on plain 80 g, not on card 160 g, which may feed differently"
    (paper,) = record.warnings(date(2026, 11, 25), paper=find_paper("a5"))
    assert "measured on a4: feed a5 the same way" in paper
    (to_come,) = record.warnings(date(2026, 11, 24))
    assert "still to come" in to_come
    (undated,) = replace(record, date="").warnings(date(2026, 11, 24))
    assert "no date" in undated


@pytest.mark.parametrize(
    ("across", "refusal"), [(0.94, "across 0.940, along 1.000, and a printer's factor is 0.95 to 1.05"), (1.06, "1.06")]
)
def test_a_factor_that_is_no_printers_is_refused(across: float, refusal: str) -> None:
    with pytest.raises(OutOfRange, match=refusal):
        printer(across)


def test_a_refused_factor_names_the_settings_that_may_be_behind_it() -> None:
    with pytest.raises(OutOfRange, match="it may be 72 taken for 96 dots an inch"):
        printer(0.75, 0.75)
    with pytest.raises(OutOfRange, match="print at 100 %, actual size, and measure again"):
        printer(1.3, 1.3)


@pytest.mark.parametrize("factor", [0.95, 1.05])
def test_a_factor_at_the_edge_is_taken(factor: float) -> None:
    assert printer(factor).across_factor == pytest.approx(factor)


@pytest.mark.parametrize(
    ("change", "refusal"),
    [
        ({"name": ""}, "a printer's name of 0 characters"),
        ({"name": "x" * 33}, "give 1 to 32 on one line"),
        ({"name": "two\nlines"}, "stray spaces"),
        ({"name": "None"}, "give it another name"),
        ({"tray": " plain"}, "what lies in the tray of 6 characters, or with stray spaces"),
        ({"diagonals": Diagonals(across_mm=100, along_mm=100, rising_mm=150, falling_mm=130)}, "more than a printer's"),
        ({"ink": (InkPair(black_mm=4, white_mm=1),)}, "an ink spread of 0.75 mm an edge"),
    ],
)
def test_what_no_record_can_be_is_refused(change: dict[str, object], refusal: str) -> None:
    with pytest.raises(OutOfRange, match=refusal):
        replace(printer(), **change)  # type: ignore[arg-type]


def test_a_name_that_the_lettering_lacks_is_refused() -> None:
    with pytest.raises(Unprintable):
        replace(printer(), name="\N{SNOWMAN}")


def test_an_unknown_instrument_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownName, match=r"known: .*caliper"):
        replace(printer(), instrument="calliper")


@pytest.mark.parametrize("words", ["2026-13-01", "25.11.2026", "2026-W48-3", "20261125", "", "today"])
def test_what_is_no_date_is_refused(words: str) -> None:
    with pytest.raises(QuantityRefused, match="write year, month and day, such as 2026-11-25"):
        parse_date(words)


def test_a_reading_is_of_the_base_line_or_of_the_line_that_is_named() -> None:
    assert parse_reading("149.6 mm", 150, "rule") == reading(150, 149.6)
    assert parse_reading("99.7 mm of 100 mm", 150, "rule") == reading(100, 99.7)
    assert parse_reading("5 7/8 in of 6 in", 150, "rule").ratio == pytest.approx(47 / 48)


def test_a_card_reads_the_size_of_the_print() -> None:
    assert parse_reading("99,5 %", 85.6, "card").read_mm == pytest.approx(85.172)
    for wrong in ("85.2 mm", "99.5", "%", "-3 %", "1e2 %", "nan %"):
        with pytest.raises(QuantityRefused, match=r"write what the ticks read, such as 99\.5 %"):
            parse_reading(wrong, 85.6, "card")


@pytest.mark.parametrize("wrong", [0.0, -1.0, math.nan, math.inf])
def test_a_reading_that_is_no_length_is_refused(wrong: float) -> None:
    with pytest.raises(OutOfRange):
        reading(100, wrong)
    with pytest.raises(OutOfRange):
        InkPair(black_mm=wrong, white_mm=1)
    with pytest.raises(OutOfRange):
        Diagonals(across_mm=1, along_mm=1, rising_mm=wrong, falling_mm=1)


def test_every_instrument_has_words_and_a_source() -> None:
    assert set(instruments()) == {"rule", "rule-class-1", "rule-jis-1", "loupe", "caliper", "card"} | {
        "scan",
        "scan-card",
        "scan-pale-card",
        "scan-rule",
        "scan-other-way",
        "scan-turned",
        "scan-turned-card",
        "scan-turned-rule",
    }
    assert all(tool.words and tool.source and tool.end > 0 for tool in instruments().values())
