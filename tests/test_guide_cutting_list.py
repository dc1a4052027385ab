"""The teacher's sheet and the cover: their figures are the plan's and add up."""

from __future__ import annotations

from decimal import Decimal

import pytest
from golden import assert_same_as_golden
from hypothesis import given, settings
from orders import orders, refusal_of
from packs import CLASS, order_of, plan

from jigs.guides.cover import cover
from jigs.guides.cutting_list import cutting_list
from jigs.planning.plan import Plan, make_plan
from jigs.reports.contents import ContentsEntry
from layouts.drawing.marks import Drawing, Text
from layouts.errors import OutOfRange
from layouts.pages.page import Content, Field

A4 = Field(176, 220)


def drawings(content: Content, field: Field = A4) -> list[Drawing]:
    return list(content.draw(field))


def lines(drawing: Drawing) -> list[list[str]]:
    """The words of a table, row by row."""
    rows: dict[float, list[str]] = {}
    for mark in drawing.marks:
        if isinstance(mark, Text):
            rows.setdefault(round(mark.y, 2), []).append(mark.string)
    return list(rows.values())


def words(content: Content) -> str:
    return "\n".join(" | ".join(row) for drawing in drawings(content) for row in lines(drawing)) + "\n"


def table(made: Plan, name: str) -> list[list[str]]:
    return [row for d in drawings(cutting_list(made), Field(176, 5000)) if d.name == name for row in lines(d)]


def test_a_class_has_a_teachers_sheet_and_a_maker_alone_a_list_of_wire_and_cost() -> None:
    assert cutting_list(plan("class")).title == "Teacher's sheet"
    assert cutting_list(plan("alone")).title == "Wire and cost"
    assert "pays" not in words(cutting_list(plan("alone")))


@settings(max_examples=30, deadline=None)
@given(text=orders())
def test_the_rings_table_adds_up_to_the_last_digit(text: str) -> None:
    def check() -> None:
        rows = [row for row in table(make_plan(order_of(text)), "Rings")[2:] if len(row) > 1]  # one is a name going on
        *parts, sums = [[Decimal(cell) for cell in row[-5:]] for row in rows]
        assert [sum(column) for column in zip(*parts, strict=True)] == sums

    refusal_of(check)


def test_the_cost_adds_up() -> None:
    *parts, sums = [[Decimal(cell) for cell in row[-5:]] for row in table(plan("class"), "Cost, EUR")[2:]]
    assert [sum(column) for column in zip(*parts, strict=True)] == sums
    for paid, drawn, left, scrap, net in (*parts, sums):
        assert paid + drawn - left - scrap == net


def test_a_wire_without_a_price_says_so() -> None:
    text = CLASS.rpartition("[[supply]]")[0]
    said = words(cutting_list(make_plan(order_of(text))))
    assert "no price" in said
    assert "The cost is not complete: not every wire has a price." in said


def test_seats_with_unequal_work_are_told_apart() -> None:
    rows = table(plan("uneven"), "To each seat")[2:]
    assert [row[1] for row in rows] == ["1", "2 to 7", "1", "2 to 7"]  # 400 = 58 + 6 x 57; 14 by the first seat


def test_the_sheet_is_as_it_was() -> None:
    assert_same_as_golden("cutting_list.txt", words(cutting_list(plan("class"))))


# --- the cover

ENTRIES = (
    ContentsEntry(what="Job card", use="work down it", on="paper", first=2, last=2),
    ContentsEntry(what="Dowels", use="wrap", on="paper", first=3, last=5),
    ContentsEntry(what="Ring card", use="lay rings on it", on="card", first=6, last=6),
)


def test_the_cover_says_which_pages_go_on_paper_and_which_on_card() -> None:
    said = words(cover((), ENTRIES))
    assert "Print on paper: pages 2–5." in said
    assert "print pages 6." in said


def test_every_entry_has_its_row() -> None:
    rows = lines(drawings(cover((), ENTRIES))[1])[2:]
    assert rows == [
        ["2", "Job card", "work down it", "paper"],
        ["3–5", "Dowels", "wrap", "paper"],
        ["6", "Ring card", "lay rings on it", "card"],
    ]


def test_what_is_left_out_is_said_with_its_reason() -> None:
    assert "Left out\nring: no pin. Too large." in words(cover((), ENTRIES, ["ring: no pin. Too large."]))


@pytest.mark.parametrize(("first", "last"), [(0, 1), (3, 2)])
def test_pages_are_counted_from_one_upwards(first: int, last: int) -> None:
    with pytest.raises(OutOfRange, match=f"pages {first} to {last}; count pages from 1, upwards"):
        ContentsEntry(what="x", use="", on="paper", first=first, last=last)
