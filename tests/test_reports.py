"""Reports: one value, and every printer of it carries the same numbers."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.orders.reading import order_of
from jigs.planning.plan import make_plan
from jigs.reports.as_csv import as_csv
from jigs.reports.as_json import as_json, plain
from jigs.reports.as_table import as_table
from jigs.reports.as_text import as_text, wrapped
from jigs.reports.cells import show_cell, show_figure
from jigs.reports.plan import plan_report
from jigs.reports.report import (
    BOXES,
    CHANGE,
    COUNT,
    COUNTED,
    FORMULA,
    INCHES,
    LENGTH,
    LENGTH_FINE,
    MASS,
    MONEY,
    PERCENT_CHANGE,
    RATIO,
    WORDS,
    Band,
    CellKind,
    Column,
    Counted,
    Form,
    OfKind,
    Report,
    group,
    record,
)
from layouts.drawing.table import Boxes
from layouts.errors import OutOfRange, UnknownName

NUMBERS = st.floats(min_value=-1e5, max_value=1e5)
KINDS = st.sampled_from([COUNT, LENGTH, LENGTH_FINE, CHANGE, INCHES, MASS, MONEY, PERCENT_CHANGE, RATIO])
NUMBER = re.compile(r"[+-]?[0-9]+(?:[.][0-9]+)?")


@st.composite
def tables(draw: st.DrawFn) -> Report:
    """Tables of one column of words and up to five of numbers, some cells empty."""
    kinds = draw(st.lists(KINDS, min_size=1, max_size=5))
    columns = (Column("name", "name"), *(Column(f"k{i}", f"of {i}", kind) for i, kind in enumerate(kinds)))
    row = st.tuples(
        st.sampled_from(["chain", "chain ring", "a"]),
        *((st.integers(0, 10**6) if kind is COUNT else NUMBERS) | st.none() for kind in kinds),
    )
    return Report(key="t", columns=columns, rows=tuple(draw(st.lists(row, min_size=1, max_size=5))))


def near(kind: Any) -> Any:
    """Half of the last place that a kind shows, and a little for the float."""
    return pytest.approx(0.0, abs=0.5 * 10**-kind.places + 1e-9)


@given(tables())
def test_the_terminal_shows_every_number_to_the_places_of_its_kind(report: Report) -> None:
    kinds = [column.kind for column in report.columns[1:]]
    lines = as_text(report, 400).splitlines()[1:]
    for row, line in zip(report.rows, lines, strict=True):
        told = [(value, kind) for value, kind in zip(row[1:], kinds, strict=True) if value is not None]
        found = [float(word) for word in NUMBER.findall(line)]
        assert len(found) == len(told)
        for (value, kind), number in zip(told, found, strict=True):
            assert number - value == near(kind)


@given(tables())
def test_json_carries_the_numbers_themselves(report: Report) -> None:
    rows = json.loads(as_json(report))
    assert [tuple(row.values()) for row in rows] == list(report.rows)


@given(tables(), st.sampled_from(["point", "comma"]))
def test_a_spreadsheet_reads_the_same_numbers_with_either_decimal(report: Report, decimal: str) -> None:
    split = ";" if decimal == "comma" else ","
    _, *rows = csv.reader(io.StringIO(as_csv(report, decimal)), delimiter=split)
    if decimal == "comma":
        said = rows.pop()
        assert said == ["the numbers here have a decimal comma, and semicolons stand between the fields"]
    for row, fields in zip(report.rows, rows, strict=True):
        for value, kind, field in zip(row[1:], [c.kind for c in report.columns[1:]], fields[1:], strict=True):
            assert ("." if decimal == "comma" else ",") not in field
            number = None if field == "" else float(field.replace(",", "."))
            assert number is None if value is None else number - value == near(kind)  # type: ignore[operator]


@given(tables())
def test_a_sheet_shows_what_the_terminal_shows(report: Report) -> None:
    table = as_table(report, 180.0, [1.0] * len(report.columns))
    for row, cells in zip(report.rows, table.rows, strict=True):
        for value, column, cell in zip(row, report.columns, cells, strict=True):
            words = show_cell(value, column.kind)
            assert cell == (words if isinstance(value, str) else words.replace("-", "−"))


@given(tables(), st.integers(20, 130))
def test_no_line_is_wider_than_the_terminal_and_no_word_is_lost(report: Report, width: int) -> None:
    text = as_text(report, width)
    assert max(map(len, text.splitlines())) <= width
    for row in report.rows:
        for cell, column in zip(row, report.columns, strict=True):
            assert all(word in text for word in show_cell(cell, column.kind).split())


@given(st.text(max_size=200), st.integers(20, 60))
def test_words_wrap_within_their_width_without_losing_a_sign(words: str, width: int) -> None:
    lines = wrapped(words, width, "  ")
    assert "".join("".join(lines).split()) == "".join(words.split())


def test_a_figure_stays_on_one_line_with_its_unit() -> None:
    assert wrapped("0.1587 mm thinner (-10.9 %)", 20) == ["0.1587 mm thinner", "(-10.9 %)"]
    assert wrapped("at most 340 mm", 12) == ["at most", "340 mm"]


def test_wide_characters_count_as_two_places() -> None:
    assert wrapped("銀の輪の指輪の銀の輪", 8) == ["銀の輪の", "指輪の銀", "の輪"]


def rows() -> Iterator[tuple[str, Any, Any]]:
    """What is shown, of which value and kind; worked by hand."""
    yield "5.000", 5.0, LENGTH
    yield "+0.126", 0.1259, CHANGE
    yield "-0.126", -0.1259, CHANGE
    yield "+0.000", -0.0001, CHANGE
    yield "0.000", -0.0001, LENGTH
    yield "4.17", OfKind(4.166, RATIO), LENGTH
    yield "5.100 to 5.200", Band(5.1, 5.2, LENGTH), LENGTH
    yield "5.100 to straight", Band(5.1, None, LENGTH, "straight"), LENGTH
    yield "4 x 373 + 1 x 238", Counted(((373, 4), (238, 1))), COUNTED
    yield "", None, MASS
    yield "yes", True, WORDS
    yield "12.30", 12.3, MONEY
    yield "4", 4, BOXES


@pytest.mark.parametrize(("shown", "cell", "kind"), list(rows()))
def test_a_cell_in_words(shown: str, cell: Any, kind: Any) -> None:
    assert show_cell(cell, kind) == shown


def test_a_record_is_an_object_with_its_parts_and_a_missing_one_is_null() -> None:
    blade = record("blade", (Column("name", "blade"),), None)
    lots = Report(key="lots", columns=(Column("cut_mm", "wire", COUNT),), rows=((373,), (238,)))
    ring = record("ring", (Column("name", ""), Column("wire_mm", "wire", LENGTH)), ("a", 1.2), parts=(blade, lots))
    both = group("rings", (ring, ring))
    one = {"name": "a", "wire_mm": 1.2, "blade": None, "lots": [{"cut_mm": 373}, {"cut_mm": 238}]}
    assert plain(both) == [one, one]


def test_what_is_for_people_alone_stays_out_of_json_and_the_other_way_round() -> None:
    columns = (Column("a", "A", scripts=False), Column("b_mm", "B", LENGTH, people=False), Column("c", "C"))
    report = Report(key="t", columns=columns, rows=(("one", 2.0, "three"),))
    assert plain(report) == [{"b_mm": 2.0, "c": "three"}]
    assert as_text(report) == "A    C\none  three"


def test_columns_picked_are_in_the_order_asked_for() -> None:
    columns = (Column("a", "A"), Column("b_mm", "B", LENGTH, people=False))
    report = Report(key="t", columns=columns, rows=(("one", 2.0),)).pick("b_mm", "a")
    assert as_text(report) == "B, mm  A\n2.000  one"


def test_a_terminal_has_figures_flush_right_and_words_wrapped_in_their_column() -> None:
    columns = (Column("name", "name"), Column("mm", "", LENGTH), Column("source", "from"))
    report = Report(key="t", columns=columns, rows=(("a", 1.5, "common practice, no source"), ("longer", 10.5, "b")))
    assert as_text(report) == ("name        mm  from\na        1.500  common practice, no source\nlonger  10.500  b")
    assert as_text(report, 35) == (
        "name        mm  from\na        1.500  common practice, no\n                source\nlonger  10.500  b"
    )


def test_a_terminal_too_narrow_for_columns_gets_a_line_for_each_cell() -> None:
    columns = tuple(Column(f"k{n}", f"column{n}", LENGTH) for n in range(4))
    report = Report(key="t", columns=columns, rows=((1.0, 2.0, 3.0, None), (1.5, 2.5, 3.5, 4.5)))
    assert as_text(report, 30).splitlines()[:5] == [
        "column0, mm: 1.000",
        "column1, mm: 2.000",
        "column2, mm: 3.000",
        "",
        "column0, mm: 1.500",
    ]


def test_a_record_is_a_line_for_each_figure_with_its_unit() -> None:
    ring = record("r", (Column("a_mm", "pitch", LENGTH), Column("n", "rings", COUNT)), (1.2, 58), heading="one ring")
    assert as_text(ring) == "one ring\npitch  1.200 mm\nrings  58"


def test_a_sheet_has_boxes_to_tick_and_signs_of_print() -> None:
    columns = (Column("coils", "", BOXES), Column("cut", "into", COUNTED), Column("basis", "by", FORMULA))
    report = Report(key="t", columns=columns, rows=((3, Counted(((373, 4),)), "(turn - cut) / pi x 2"),))
    assert as_table(report, 100.0, [1, 1, 1]).rows == ((Boxes(3), "4 × 373", "(turn − cut) / π × 2"),)
    assert as_text(report).splitlines()[1].split() == ["3", "4", "x", "373", "(turn", "-", "cut)", "/", "pi", "x", "2"]


def test_a_name_that_looks_like_a_formula_is_text_in_a_spreadsheet() -> None:
    report = Report(key="t", columns=(Column("name", ""),), rows=(("=1+1",), ("@a",), ("a=1",)))
    assert as_csv(report).splitlines() == ["name", "'=1+1", "'@a", "a=1"]


def test_a_report_refuses_what_does_not_hang_together() -> None:
    column = Column("a", "A", LENGTH)
    with pytest.raises(OutOfRange, match="a row of 2 cells under 1 columns of t"):
        Report(key="t", columns=(column,), rows=((1.0, 2.0),))
    with pytest.raises(OutOfRange, match="two columns of one key"):
        Report(key="t", columns=(column, column))
    with pytest.raises(OutOfRange, match="a in t is inf"):
        Report(key="t", columns=(column,), rows=((float("inf"),),))
    with pytest.raises(OutOfRange, match="2 rows in the record t"):
        Report(key="t", columns=(column,), rows=((1.0,), (2.0,)), form=Form.RECORD)
    with pytest.raises(OutOfRange, match="2 shares of the width for 1 columns"):
        as_table(Report(key="t", columns=(column,)), 100.0, [1.0, 2.0])
    with pytest.raises(UnknownName, match="no decimal is called 'dot'; known: "):
        as_csv(Report(key="t", columns=(column,)), "dot")


@pytest.mark.parametrize(("rows", "more"), [(4, ""), (5, ""), (6, "and 1 more"), (9, "and 4 more")])
def test_a_long_table_is_cut_and_its_sum_still_shown(rows: int, more: str) -> None:
    cells = tuple((f"seat {n}", n) for n in range(1, rows))
    report = Report(
        key="seats",
        columns=(Column("seat", "seat"), Column("rings", "rings", COUNT)),
        rows=(*cells, ("all", 99)),
        last_is_sum=True,
        at_most=4,
    )
    said = [line.split()[0] for line in as_text(report, 80).splitlines()[1 : min(rows, 5)]]
    assert said == [*["seat"] * min(rows - 1, 4), "all"][: len(said)]
    assert "all   " in as_text(report, 80)
    assert f"{more}, which are not shown here" in as_text(report, 80) if more else "more" not in as_text(report, 80)


def test_numbers_without_places_are_written_out_from_a_million_on() -> None:
    bare = CellKind(name="bare", places=None)
    assert [show_figure(value, bare) for value in (999_999.0, 1e6, 1_234_567.0, 1e7)] == [
        "999999",
        "1000000",
        "1234567",
        "10000000",
    ]


def test_a_class_of_fourteen_each_with_other_work_is_cut_at_a_dozen_groups() -> None:
    rings = "".join(
        f'[[ring]]\nname = "r{n}"\nwire = "1 mm"\nmetal = "copper"\ninside = "5 mm"\ncount = {n}\n'
        for n in range(1, 15)
    )
    text = as_text(plan_report(make_plan(order_of(f'seats = 14\n[making]\nspares = "0 %"\n{rings}'))), 100)
    table = text.partition("One seat")[2].split("\n\n")[0]
    assert sum(line[:1].isdigit() for line in table.splitlines()) == 12
    assert "and 2 more, which are not shown here" in table
    assert "all seats" in table
