"""The record of a printer from a scan, worked by hand from the values that were found; and its limits on both sides."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace as Told
from typing import Any

import pytest
from orders import refusal_of

from layouts.files.entries import entries_of
from layouts.pages.paper import find_paper
from layouts.printing.budget import Instrument, find_instrument
from layouts.printing.keeping import doubts, objection
from layouts.printing.printer import Diagonals, InkPair, Printer, Reading
from layouts.printing.records import read_rows
from layouts.printing.scanned import record_of
from layouts.scanning.ink import Ink
from layouts.scanning.yardstick import Side, Yardstick

A4 = find_paper("a4")


def card(wide: float = 85.6, high: float = 53.98, *, sure: bool = True) -> Yardstick:
    sides = Side(seen=(wide, 0.0), true_mm=85.6), Side(seen=(0.0, high), true_mm=53.98)
    return Yardstick(name="card", sides=sides, corners=(), is_sure=sure)


RULE = Yardstick(name="rule", sides=(Side(seen=(120.0, 0.0), true_mm=120.0),), corners=())


def scan(yardstick: Yardstick | None = None, rms_mm: float = 0.01234) -> Told:
    return Told(target=Told(span_mm=(150.0, 200.00004)), yardstick=yardstick, seen=Told(rms_mm=rms_mm))


def record(*pictures: Told, ink: Ink | None = None) -> Printer:
    found: Any = Told(pictures=pictures, fit=Told(across=0.99, along=1.01), diagonals_mm=(250.71112, 250.70004))
    return record_of(found, name="office", tray="plain", date="2026-11-25", sheet="check 2", paper=A4, ink=ink)


@pytest.mark.parametrize(
    ("pictures", "instrument", "across", "along"),
    [
        # what sets the size of each way: its length, and 0.99 and 1.01 of it as read
        ([scan()], "scan", (150.0, 148.5, ""), (200.0, 202.0, "")),
        ([scan(card())], "scan-card", (85.6, 84.744, ""), (53.98, 54.5198, "")),
        ([scan(card(sure=False))], "scan-pale-card", (85.6, 84.744, ""), (53.98, 54.5198, "")),
        ([scan(RULE)], "scan-rule", (120.0, 118.8, ""), (200.0, 202.0, "scan-other-way")),
        ([scan(), scan()], "scan-turned", (150.0, 148.5, ""), (200.0, 202.0, "")),
        # after reversal as one side, sqrt(85.6^2 + 53.98^2) = 101.1988 mm
        ([scan(), scan(card())], "scan-turned-card", (101.1988, 100.1868, ""), (101.1988, 102.2108, "")),
        ([scan(RULE), scan(card())], "scan-turned-card", (101.1988, 100.1868, ""), (101.1988, 102.2108, "")),
        ([scan(RULE), scan()], "scan-turned-rule", (120.0, 118.8, ""), (120.0, 121.2, "")),
    ],
)
def test_what_sets_the_size_of_a_record(
    pictures: list[Told], instrument: str, across: tuple[float, float, str], along: tuple[float, float, str]
) -> None:
    made = record(*pictures)
    assert made.instrument == instrument
    assert (made.across.length_mm, made.across.read_mm, made.across.instrument) == across
    assert (made.along.length_mm, made.along.read_mm, made.along.instrument) == along
    assert made.diagonals == Diagonals(across_mm=150.0, along_mm=200.0, rising_mm=250.7111, falling_mm=250.7)
    assert (made.name, made.tray, made.date, made.sheet) == ("office", "plain", "2026-11-25", "check 2")
    assert (made.paper, made.landscape) == ("a4", False)


@pytest.mark.parametrize(
    ("rms", "residual"),
    [((0.01234,), 0.0123), ((0.01, 0.02), 0.015), ((0.00004,), 0.0001), ((0.00016,), 0.0002)],
)
def test_what_the_fit_leaves_is_recorded_to_a_ten_thousandth_and_never_as_nothing(
    rms: tuple[float, ...], residual: float
) -> None:
    assert record(*(scan(rms_mm=each) for each in rms)).residual_mm == residual


def test_the_ink_of_a_scan_is_recorded_as_a_bar_and_a_gap_of_a_millimetre() -> None:
    # each edge grows by 0.01236: the bar by two edges, 1.0247 mm; the gap 0.9753; the edge rounded up to a thousandth
    made = record(scan(), ink=Ink(spread_mm=0.01236, edge_mm=0.0131, curve=None))
    assert made.ink == (InkPair(black_mm=1.0247, white_mm=0.9753, edge_mm=0.014),)
    assert record(scan()).ink == ()


# --- limits


def by(tool: str = "loupe", across: float = 0.99, along: float = 1.004, **more: Any) -> Printer:
    return Printer(
        name="office",
        tray="plain",
        instrument=tool,
        across=Reading(length_mm=150.0, read_mm=150.0 * across),
        along=Reading(length_mm=200.0, read_mm=200.0 * along),
        paper="a4",
        **more,
    )


def leaning(degrees: float) -> Diagonals:
    """Diagonals of a square of 100 mm, printed true, whose upright lines lean so: 2 x 100^2 (1 +- sin lean)."""
    lean = math.sin(math.radians(degrees))
    rising, falling = (math.sqrt(20_000 * (1 + sign * lean)) for sign in (1, -1))
    return Diagonals(across_mm=100.0, along_mm=100.0, rising_mm=rising, falling_mm=falling)


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"residual_mm": 0.0}, ""),
        ({"residual_mm": 0.3}, ""),
        ({"residual_mm": 0.3001}, "a residual of 0.3001 mm; give 0 to 0.3 mm"),
        ({"residual_mm": -0.0001}, "a residual of -0.0001 mm; give 0 to 0.3 mm"),
        ({"diagonals": leaning(1.99)}, ""),
        ({"diagonals": leaning(-1.99)}, ""),
        ({"diagonals": leaning(2.01)}, "the diagonals differ by more than a printer's skew (2 degrees); measure"),
        ({"diagonals": leaning(-2.01)}, "the diagonals differ by more than a printer's skew (2 degrees); measure"),
        ({"ink": (InkPair(black_mm=1.59, white_mm=0.4),)}, ""),
        ({"ink": (InkPair(black_mm=1.625, white_mm=0.4),)}, "an ink spread of 0.31 mm an edge is more than any"),
        ({"ink": (InkPair(black_mm=0.4, white_mm=1.625),)}, "an ink spread of -0.31 mm an edge is more than any"),
        ({"tray": "x" * 48}, ""),
        ({"tray": "x" * 49}, "what lies in the tray of 49 characters"),
    ],
)
def test_what_a_record_may_be_and_what_not(more: dict[str, Any], said: str) -> None:
    refusal = refusal_of(lambda: replace(by("rule", 1.0, 1.0), **more))
    assert refusal.startswith(said)
    assert bool(refusal) == bool(said)


@pytest.mark.parametrize(
    ("length", "error"),
    [
        # fixed + per metre x (metres, rounded up) + share x length
        (999.0, 0.3 + 0.2 + 0.01 * 999),
        (1000.0, 0.3 + 0.2 + 10),
        (1001.0, 0.3 + 0.4 + 10.01),
        (1.0, 0.3 + 0.2 + 0.01),
    ],
)
def test_how_far_an_instrument_may_be_off_by_its_length(length: float, error: float) -> None:
    tool = Instrument(name="t", words="t", fixed=0.3, per_metre=0.2, end=0.25, source="a test", share=0.01)
    assert tool.error_mm(length) == pytest.approx(error)
    assert find_instrument("rule").error_mm(300.0) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("size", "bend"),
    [
        # hypot(0.02, 1.8 x 0.01) = 0.0269072; of a piece of less than 50 mm the root of its share
        (25.0, 0.0269072 * math.sqrt(0.5)),
        (49.0, 0.0269072 * math.sqrt(0.98)),
        (50.0, 0.0269072),
        (51.0, 0.0269072),
        (100.0, 0.0269072),
    ],
)
def test_the_bend_that_a_scan_does_not_see_by_hand(size: float, bend: float) -> None:
    terms = {term.words: term.standard for term in by("scan-card", 1.0, 1.0, residual_mm=0.01).budget(size).terms}
    assert terms["bends that no correction undoes"] == pytest.approx(bend, abs=1e-7)
    assert "bends that no correction undoes" not in {term.words for term in by().budget(size).terms}


# --- what speaks against keeping one


def sure_of(printer: Printer) -> float:
    return max(printer.scale_budget(read).expanded for read in (printer.across, printer.along))


@pytest.mark.parametrize(("times", "refused"), [(1.5, False), (1.95, False), (2.05, True), (2.5, True)])
def test_a_true_sheet_is_doubted_where_the_record_is_off_by_twice_what_is_sure(times: float, refused: bool) -> None:
    true = by("loupe", 1.0, 1.0)
    older = by("loupe", 1 - times * sure_of(true), 1.0)
    assert ("a corrected sheet reads so" in str(objection(true, older))) == refused


@pytest.mark.parametrize(("times", "refused"), [(0.95, True), (1.05, False)])
def test_readings_are_of_a_true_sheet_as_far_as_they_are_sure(times: float, refused: bool) -> None:
    # across and along apart by more than a setting would have them, so that nothing else speaks against them
    off = times * sure_of(by("loupe", 1.0, 1.0))
    new = by("loupe", 1 - off, 1 + off)
    assert ("a corrected sheet reads so" in str(objection(new, by("loupe", 0.985, 1.004)))) == refused


@pytest.mark.parametrize(
    ("day", "refused"),
    [("2026-11-25", True), ("2026-12-31", True), ("2027-02-23", True), ("2027-02-24", False)],
)
def test_a_record_of_ninety_days_is_still_better(day: str, refused: bool) -> None:
    good, poor = by("loupe", date="2026-11-25"), by("card", date=day)
    assert ("is better" in str(objection(poor, good))) == refused


@pytest.mark.parametrize(("worse", "refused"), [(1.04, False), (1.06, True)])
def test_a_record_less_sure_by_more_than_a_twentieth_is_of_lower_trust(worse: float, refused: bool) -> None:
    # the same errors over a line that is shorter: less sure by that factor
    old = by("loupe")
    new = replace(
        old,
        across=Reading(length_mm=150 / worse, read_mm=150 / worse * 0.99),
        along=Reading(length_mm=200 / worse, read_mm=200 / worse * 1.004),
    )
    assert ("is better" in str(objection(new, old))) == refused


def test_each_thing_a_record_no_longer_knows_is_named() -> None:
    skew, ink = leaning(0.5), (InkPair(black_mm=1.1, white_mm=0.9),)
    poor = objection(by(), by(diagonals=skew))
    assert "the record knows its skew, and these" in str(poor)
    assert "the record knows its ink spread, and these" in str(objection(by(), by(ink=ink)))
    assert objection(by(diagonals=skew, ink=ink), by(diagonals=skew)) is None


@pytest.mark.parametrize(
    ("more", "said"),
    [
        ({"diagonals": leaning(0.02)}, "the skew is smaller than what it can be read to"),
        ({"diagonals": leaning(1.5)}, ""),
        ({"ink": (InkPair(black_mm=1.01, white_mm=0.99),)}, "the ink spread is smaller than what it can be read to: a"),
        ({"ink": (InkPair(black_mm=1.9, white_mm=0.9),)}, ""),
    ],
)
def test_what_is_doubtful_about_skew_and_ink(more: dict[str, Any], said: str) -> None:
    found = [words for words in doubts(by("loupe", 0.985, 1.01, **more)) if "smaller" in words]
    assert [words[: len(said)] for words in found] == ([said] if said else [])


# --- the file


ROW = '[[printer]]\nname = "{}"\ntray = "plain"\nwith = "rule"\nacross = {{ length = "150 mm", read = "149.6 mm" }}\n'
ROW += 'along = {{ length = "200 mm", read = "200.3 mm" }}\n'


@pytest.mark.parametrize(("pairs", "faults"), [(20, 0), (21, 1)])
def test_twenty_pairs_of_ink_are_read_and_one_more_is_refused(pairs: int, faults: int) -> None:
    ink = ",\n".join(['{ black = "1.1 mm", white = "0.9 mm" }'] * pairs)
    [row] = read_rows(entries_of(f"{ROW.format('office')}ink = [{ink}]\n", "printers.toml"))
    assert len(row.faults) == faults
    assert (row.printer is not None and len(row.printer.ink) == pairs) == (not faults)


def test_a_thousand_printers_are_read_and_one_more_is_refused() -> None:
    def rows(count: int) -> str:
        text = "".join(f"[[printer]]\nname = {number}\n" for number in range(count))
        return refusal_of(lambda: read_rows(entries_of(text, "printers.toml")))

    assert rows(1000) == ""
    assert "1000" in rows(1001)
