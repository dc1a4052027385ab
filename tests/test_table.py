"""Tables: rows that wrap and flow over pages, boxes to tick, sums; and the stack they stand on."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layouts.drawing import lettering
from layouts.drawing.marks import Drawing, Polyline, Text
from layouts.drawing.table import Boxes, Table, TableColumn
from layouts.drawing.words import lines, listing
from layouts.errors import DoesNotFit
from layouts.pages.page import Field
from layouts.pages.sheet import GAP_MM
from layouts.pages.stack import Stack

TWO = (TableColumn("name", 0.5, bold=True), TableColumn("mm", 0.5, right=True))


def table(rows: int, **more: object) -> Table:
    cells = tuple((f"row {number}", f"{number}.5") for number in range(rows))
    return Table(**{"columns": TWO, "rows": cells, "width_mm": 100.0, "heading": "Sizes", **more})  # type: ignore[arg-type]


def words(drawing: Drawing) -> list[str]:
    return [mark.string for mark in drawing.marks if isinstance(mark, Text)]


def boxes(drawing: Drawing) -> int:
    return sum(isinstance(mark, Polyline) for mark in drawing.marks)


def test_a_table_has_heading_titles_and_rows_in_order() -> None:
    assert words(table(2).drawing()) == ["Sizes", "name", "mm", "row 0", "0.5", "row 1", "1.5"]


def test_figures_stand_flush_right() -> None:
    ends = [mark.box[2] for mark in table(3).drawing().marks if isinstance(mark, Text) and "." in mark.string]
    assert ends == pytest.approx([100.0] * 3)


def test_a_table_that_flows_repeats_its_titles_and_not_its_heading() -> None:
    first, second, *_ = table(60).blocks(50.0, 120.0)
    assert words(first)[:3] == ["Sizes", "name", "mm"]
    assert words(second)[:2] == ["name", "mm"]
    assert first.height_mm <= 50.0 + 0.1
    assert second.height_mm <= 120.0 + 0.1


@given(room=st.floats(0, 200), page=st.floats(40, 300), rows=st.integers(0, 80))
@settings(max_examples=60, deadline=None)
def test_no_row_is_lost_or_said_twice(room: float, page: float, rows: int) -> None:
    said = [word for block in table(rows).blocks(min(room, page), page) for word in words(block)]
    assert [word for word in said if word.startswith("row")] == [f"row {number}" for number in range(rows)]


def test_a_row_taller_than_a_page_is_refused() -> None:
    tall = Table(columns=TWO, rows=(("word " * 400, ""),), width_mm=60.0)
    with pytest.raises(DoesNotFit, match="a row of a table"):
        list(tall.blocks(100.0, 100.0))


def test_boxes_are_drawn_one_for_each_and_above_sixty_as_a_number() -> None:
    assert boxes(Table(columns=TWO, rows=((Boxes(60), ""),), width_mm=100.0).drawing()) == 60
    many = Table(columns=TWO, rows=((Boxes(61), ""),), width_mm=100.0).drawing()
    assert boxes(many) == 0
    assert "× 61" in words(many)


def test_the_sum_is_bold() -> None:
    cells = [m for m in table(3, last_is_sum=True).drawing().marks if isinstance(m, Text) and m.string.endswith(".5")]
    assert [cell.bold for cell in cells] == [False, False, True]


@given(text=st.text("abc ", min_size=1, max_size=80), width=st.floats(4, 60))
def test_broken_lines_fit_and_keep_every_letter(text: str, width: float) -> None:
    broken = lines(text, width)
    assert "".join(broken).replace(" ", "") == text.replace(" ", "")
    assert all(lettering.width_mm(line, 2.5) <= width for line in broken)


def test_a_last_word_alone_takes_the_word_before_it_along() -> None:
    assert lines("one two three four", lettering.width_mm("one two three", 2.5)) == ["one two", "three four"]


def test_a_column_is_never_narrower_than_its_longest_word_where_another_can_spare_it() -> None:
    narrow = TableColumn("", 0.1), TableColumn("", 0.9)
    drawn = Table(columns=narrow, rows=(("hippopotamus", "a b c"),), width_mm=60.0).drawing()
    assert words(drawn) == ["hippopotamus", "a b c"]


@given(room=st.floats(0, 120), rows=st.integers(4, 40))
@settings(max_examples=60, deadline=None)
def test_no_row_stands_alone_on_a_page(room: float, rows: int) -> None:
    counts = [sum(word.startswith("row") for word in words(block)) for block in table(rows).blocks(room, 120.0)]
    assert min(counts) >= 2


@given(room=st.floats(0, 60), count=st.integers(4, 30))
@settings(max_examples=60, deadline=None)
def test_no_sentence_of_a_list_stands_alone_on_a_page(room: float, count: int) -> None:
    stack = Stack(space=Field(100.0, 60.0), room_mm=60.0)
    stack.room_mm = room
    stack.put_paragraph(["A sentence."] * count, "Notes")
    assert min(words(drawing).count("A sentence.") for drawing in stack.drawings) >= 2


def test_a_paragraph_to_tick_has_a_box_for_each_sentence() -> None:
    assert boxes(listing(["One.", "Two."], 80.0, sign="box").drawing()) == 2


def test_a_stack_counts_what_is_left_of_the_page() -> None:
    stack = Stack(space=Field(100.0, 50.0))
    stack.put(table(2).drawing())
    assert stack.room_mm == pytest.approx(50.0 - stack.drawings[0].height_mm - GAP_MM)
    stack.put_paragraph(["A sentence."] * 30, "Notes")
    assert sum(words(drawing).count("A sentence.") for drawing in stack.drawings) == 30
    assert all(drawing.height_mm <= 50.0 for drawing in stack.drawings)
