"""Tiles: they overlap, keep off words and holes, can be joined by their marks, and are the whole again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import cache
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from pdf_reader import read_pdf
from printing import Press, measured
from readers import through

from jigs.guides.ruler import ruler_sheet
from layouts.affine import IDENTITY, Affine
from layouts.drawing.marks import Annulus, Arc, Circle, Draft, Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.pages.tiles import BAR_MM, HOW_TO_JOIN, OVERLAP_MM, Tile, tiled, tiles
from layouts.render.pdf import write_pdf

A4 = Field(176.0, 225.0)
SKEWED = Affine(a=1.031, b=0.004, c=-0.006, d=0.968)
Numbers = NDArray[np.complex128]


def blank(width: float, height: float, *, holes: Sequence[tuple[float, float]] = ()) -> Drawing:
    draft = Draft()
    draft.rectangle(0.0, 0.0, width, height, Role.CUT)
    for x, y in holes:
        draft.circle(x, y, 1.0, Role.HOLE)
        draft.cross(x, y, 2.0)
    return draft.drawing(width, height, "a blank")


def poster() -> Drawing:
    """One of each mark, crossing tiles everywhere."""
    draft = Draft()
    draft.rectangle(0.0, 0.0, 320.0, 400.0, Role.CUT)
    draft.line(0.0, 0.0, 320.0, 400.0, Role.AID)
    draft.polyline(((10, 390), (300, 350), (20, 330)), Role.FOLD)
    for column in range(7):
        for row in range(9):
            x, y = 25 + 45.0 * column, 25 + 43.7 * row
            shape = (column + row) % 5
            if shape == 0:
                draft.disc(x, y, 18)
            elif shape == 1:
                draft.annulus(x, y, 19, 11)
            elif shape == 2:
                draft.circle(x, y, 17, Role.FOLD)
            elif shape == 3:
                draft.arc(x, y, 18, 30 * row, 270, Role.TICK)
            else:
                draft.patch(((x - 18, y), (x, y - 17), (x + 19, y + 3), (x + 1, y + 18)), Role.TINT)
    draft.text(100, 375, "whole words", 4)
    return draft.drawing(320, 400, "a poster")


def cells(parts: Sequence[Tile]) -> tuple[list[float], list[float]]:
    """Where the joins are across and along: the middles of what windows share."""
    lefts, rights = ({tile.window[side] for tile in parts} for side in (0, 2))
    bottoms, tops = ({tile.window[side] for tile in parts} for side in (1, 3))
    across = [(a + b) / 2 for a, b in zip(sorted(lefts)[1:], sorted(rights), strict=False)]
    along = [(a + b) / 2 for a, b in zip(sorted(bottoms)[1:], sorted(tops), strict=False)]
    return across, along


# --------------------------------------------------------------------------------------------------- how they lie


def test_what_fits_the_field_is_left_as_it_is() -> None:
    drawing = blank(*A4)
    assert tiled(drawing, A4) == (drawing,)


def test_a_ruler_of_half_a_metre_is_four_tiles_in_a_row() -> None:
    """176 mm a tile and 15 mm shared: three show 498 of its 512 mm, four are needed."""
    (drawing,) = ruler_sheet(500.0).draw(A4)
    assert [tile.name for tile in tiles(drawing, A4)] == ["A1", "A2", "A3", "A4"]


def test_a_poster_is_named_in_rows_from_the_top() -> None:
    parts = tiles(poster(), A4)
    assert [tile.name for tile in parts] == ["A1", "A2", "A3", "B1", "B2", "B3", "C1", "C2", "C3"]
    assert parts[0].window[:3:2] == (0, parts[3].window[2])
    assert parts[0].window[3] == 400
    assert parts[8].window[1] == 0
    assert parts[8].window[2] == 320


def test_the_tiles_after_z_are_aa() -> None:
    assert tiles(blank(20, 8000), Field(176, 300))[26].name == "AA1"


sizes = st.tuples(st.floats(8, 900), st.floats(8, 900))
fields = st.sampled_from([A4, Field(114, 130), Field(181.9, 207), Field(263, 330)])


# A join may stand in one place only, at the edge of what a hole bars, as reckoned from either side.
@example((688.2770306016059, 183.0), Field(width_mm=181.9, height_mm=207), [(0.78125, 0.0), (0.59765625, 0.0)])
@settings(max_examples=60, deadline=None)
@given(sizes, fields, st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1)), max_size=3))
def test_tiles_fit_the_field_overlap_by_15_mm_and_keep_15_mm_from_holes(
    size: tuple[float, float], field: Field, shares: list[tuple[float, float]]
) -> None:
    width, height = size
    drawing = blank(width, height, holes=[(3 + u * (width - 6), 3 + v * (height - 6)) for u, v in shares])
    if len(tiled(drawing, field)) == 1:
        return
    parts = tiles(drawing, field)
    for tile in parts:
        assert tile.drawing.width_mm <= field.width_mm + 1e-6
        assert tile.drawing.height_mm <= field.height_mm + 1e-6
        left, bottom, right, top = tile.drawing.extent
        assert min(left, bottom, tile.drawing.width_mm - right, tile.drawing.height_mm - top) >= -0.13
    for side, length in ((0, width), (1, height)):
        spans = sorted({(tile.window[side], tile.window[side + 2]) for tile in parts})
        assert (spans[0][0], spans[-1][1]) == (0, length)
        assert all(before[1] - after[0] >= OVERLAP_MM - 1e-9 for before, after in pairwise(spans))
    for joins, axis in zip(cells(parts), (0, 1), strict=True):
        holes = [mark.box for mark in drawing.marks if mark.role is Role.HOLE]
        for join in joins:
            assert all(join <= box[axis] - 15 + 1e-6 or join >= box[axis + 2] + 15 - 1e-6 for box in holes)


def test_the_tiles_of_a_blank_are_even() -> None:
    """400 mm in three windows: 7.5 mm, two equal steps and the rest of three equal steps, 7.5 mm."""
    across, _ = cells(tiles(blank(400, 50), A4))
    assert across == pytest.approx([7.5 + 385 / 3, 7.5 + 2 * 385 / 3])


def test_every_word_is_whole_on_the_side_of_the_joins_where_it_stays() -> None:
    (drawing,) = ruler_sheet(777.0).draw(A4)
    parts = tiles(drawing, A4)
    edges = [-1.0, *cells(parts)[0], 1000.0]
    for mark in drawing.marks:
        if isinstance(mark, Text):
            left, _, right, _ = mark.box
            (number,) = (n for n, (low, high) in enumerate(pairwise(edges)) if low <= left < high)
            assert right <= edges[number + 1]
            dx, dy = parts[number].origin
            assert mark.moved(dx, dy) in parts[number].drawing.marks


def test_a_join_does_not_run_along_a_tick() -> None:
    (drawing,) = ruler_sheet(500.0).draw(A4)
    ticks = [mark.x1 for mark in drawing.marks if isinstance(mark, Line) and mark.x1 == mark.x2]
    for join in cells(tiles(drawing, A4))[0]:
        assert min(abs(join - tick) for tick in ticks) >= 0.3 - 1e-9


def test_holes_everywhere_leave_no_place_for_a_join() -> None:
    drawing = blank(300, 50, holes=[(20.0 * n, 25) for n in range(1, 15)])
    with pytest.raises(
        OutOfRange, match=r"a blank has no place for a join .* words and 15 mm from holes; use a larger"
    ):
        tiles(drawing, A4)


def test_words_from_end_to_end_leave_no_place_for_a_join() -> None:
    draft = Draft()
    draft.text(0, 5, "w" * 150, 3)
    with pytest.raises(OutOfRange, match="that is clear of words"):
        tiles(draft.drawing(400, 12, "a line"), A4)


def test_a_gauge_is_not_cut_where_there_is_another_way() -> None:
    draft = Draft()
    draft.disc(150, 20, 15)
    across, _ = cells(tiles(draft.drawing(300, 40), A4))
    assert abs(across[0] - 150) >= 15


def test_a_field_too_small_for_tiles_is_refused() -> None:
    with pytest.raises(DoesNotFit, match="a tile with its marks needs 80"):
        tiles(blank(300, 300), Field(70, 70))


# ------------------------------------------------------------------------------------------------------ how to join


def upright_arms(tile: Tile) -> list[tuple[float, float]]:
    """The middles of the crosses for joins across, in the whole's coordinates."""
    dx, dy = tile.origin
    arms = [mark for mark in tile.drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
    return [
        (round(m.x1 - dx, 6), round((m.y1 + m.y2) / 2 - dy, 6))
        for m in arms
        if m.x1 == m.x2 and abs(m.y2 - m.y1) == pytest.approx(4.4)
    ]


def test_both_tiles_have_the_same_crosses_at_both_ends_of_their_join() -> None:
    one, other, *_ = tiles(blank(300, 50), A4)
    (join,) = cells((one, other))[0]
    assert sorted(upright_arms(one)) == sorted(upright_arms(other))
    assert [x for x, _ in upright_arms(one)] == pytest.approx([join, join])
    low, high = sorted(y for _, y in upright_arms(one))
    assert low < 0
    assert high > 50


def test_the_check_bar_is_40_mm_from_the_end_on_one_tile_to_the_end_on_the_other() -> None:
    one, other = tiles(blank(300, 50), A4)

    def ticks(tile: Tile) -> list[float]:
        found = [mark for mark in tile.drawing.marks if isinstance(mark, Line) and mark.role is Role.TICK]
        return sorted(m.x1 - tile.origin[0] for m in found if m.x1 == m.x2 and abs(m.y2 - m.y1) == pytest.approx(2.4))

    assert ticks(other)[-1] - ticks(one)[0] == pytest.approx(BAR_MM)
    assert any(mark.string == "40 mm" for mark in one.drawing.marks if isinstance(mark, Text))


def test_each_tile_says_its_name_its_number_and_its_neighbours() -> None:
    words = [{mark.string for mark in tile.drawing.marks if isinstance(mark, Text)} for tile in tiles(poster(), A4)]
    assert {"A1", "tile 1 of 9 · a poster", "A2 →", "← B1"} <= words[0]
    assert {"B2", "tile 5 of 9 · a poster", "← B1", "B3 →", "A2 →"} <= words[4]


def test_the_key_map_fills_the_place_of_its_tile() -> None:
    for tile in tiles(poster(), A4):
        (here,) = [m.box for m in tile.drawing.marks if isinstance(m, Polyline) and m.filled and m.role is Role.AID]
        grid = [m.box for m in tile.drawing.marks if isinstance(m, Polyline) and m.role is Role.LABEL]
        assert len(grid) == 9
        columns, rows = sorted({box[0] for box in grid}), sorted({box[1] for box in grid}, reverse=True)
        assert tile.name == f"{'ABC'[rows.index(here[1])]}{columns.index(here[0]) + 1}"


def test_only_the_tile_that_is_laid_on_top_has_cut_marks() -> None:
    one, other = tiles(_words_alone(), A4)
    cuts = [[m for m in tile.drawing.marks if m.role is Role.CUT] for tile in (one, other)]
    assert (len(cuts[0]), len(cuts[1])) == (0, 3)
    assert {round(m.box[0] - other.origin[0], 6) for m in cuts[1]} == {round(cells((one, other))[0][0], 6)}


def _words_alone() -> Drawing:
    draft = Draft()
    draft.text(10, 5, "words", 3)
    return draft.drawing(300, 12, "a line")


# ------------------------------------------------------------------------------------------------------- the sheet


def sheet(drawing: Drawing, correction: Affine = IDENTITY, *, tile: bool = True) -> tuple[Page, ...]:
    content = Content(title="Large", facts=(), draw=lambda field: [drawing])
    return compose(content, Setup(paper=find_paper("a4"), correction=correction, tile=tile))


def test_without_tiles_what_is_too_large_is_refused_and_the_way_named() -> None:
    with pytest.raises(DoesNotFit, match="or split it over several pages"):
        sheet(blank(300, 50), tile=False)


def test_a_sheet_of_tiles_says_how_to_join_them_and_another_does_not() -> None:
    def words(pages: Sequence[Page]) -> str:
        return " ".join(mark.string for mark in pages[0].marks() if isinstance(mark, Text))

    assert HOW_TO_JOIN in words(sheet(blank(300, 50)))
    assert "Tiles" not in words(sheet(blank(100, 50)))


def test_ink_spread_is_undone_before_the_split_so_that_no_cut_moves() -> None:
    draft = Draft()
    draft.annulus(150, 60, 50, 20)
    draft.patch(((0, 0), (300, 0), (300, 5), (0, 5)))
    drawing = draft.drawing(300, 120, "a large ring")
    printer = measured(Press(across=0.99, along=1.01, spread_mm=0.06))
    content = Content(title="Large", facts=(), draw=lambda field: [drawing])
    pages = compose(content, Setup(paper=find_paper("a4"), printer=printer, tile=True))
    parts = [placed.drawing for page in pages for placed in page.placed[1:]]
    plain = [tile.drawing for tile in tiles(drawing, Field(166.0, 210.0))]
    assert len(parts) == len(plain) == 2
    ring, bar = (mark.box for mark in parts[0].marks[:2])
    assert (bar[0], bar[1], bar[3]) == pytest.approx((0.06, 7.06, 11.94))  # 7 mm of margin below
    assert ring[3] == pytest.approx(7 + 60 + 50 - 0.06, abs=0.001)
    assert ring[2] == pytest.approx(bar[2])  # both end at the tile's edge


def outlines(mark: Mark) -> list[Numbers]:
    """The middles or edges of a mark as points close together."""
    if isinstance(mark, Line):
        corners = [complex(mark.x1, mark.y1), complex(mark.x2, mark.y2)]
    elif isinstance(mark, Polyline):
        corners = [complex(x, y) for x, y in (*mark.points, *(mark.points[:1] if mark.closed else ()))]
    elif isinstance(mark, Arc):
        turns = np.radians(mark.start_deg + np.linspace(0, 1, 400) * mark.sweep_deg)
        return [complex(mark.x, mark.y) + mark.r * np.exp(1j * turns)]
    elif isinstance(mark, Circle | Annulus):
        radii = (mark.r,) if isinstance(mark, Circle) else (mark.r_outer, mark.r_inner)
        around = np.exp(1j * np.linspace(0, 2 * math.pi, 400))
        return [complex(mark.x, mark.y) + r * around for r in radii]
    else:
        return []
    ends = pairwise(corners)
    return [a + (b - a) * np.linspace(0, 1, max(2, math.ceil(abs(b - a) / 0.5))) for a, b in ends]


def farthest(points: Numbers, lines: Sequence[Numbers]) -> float:
    """The farthest that any of the points is from the nearest of the lines."""
    starts = np.concatenate([line[:-1] for line in lines])
    steps = np.concatenate([np.diff(line) for line in lines])
    keep = np.abs(steps) > 0
    starts, steps = starts[keep], steps[keep]
    (x, y), (dx, dy), squares = _parts(starts), _parts(steps), np.abs(steps) ** 2
    worst = 0.0  # squared: roots of millions of distances are slow
    for some in np.array_split(points, math.ceil(len(points) / 200)):
        across, along = _parts(some[:, None])
        across, along = across - x, along - y
        share = np.clip((across * dx + along * dy) / squares, 0, 1)
        across -= share * dx
        along -= share * dy
        worst = max(worst, float(np.max(np.min(across * across + along * along, axis=1))))
    return math.sqrt(worst)


def _parts(points: Numbers) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    return np.ascontiguousarray(points.real), np.ascontiguousarray(points.imag)


def inside(points: Numbers, window: tuple[float, float, float, float], by: float) -> NDArray[np.bool_]:
    left, bottom, right, top = window
    x, y = np.real(points), np.imag(points)
    return (x > left + by) & (x < right - by) & (y > bottom + by) & (y < top - by)


@cache
def read_back(correction: Affine) -> tuple[tuple[Tile, tuple[Numbers, ...]], ...]:
    """Each tile with what the PDF draws where it lies, the correction undone, in the whole's coordinates."""
    whole, found = poster(), []
    pages = sheet(whole, correction)
    frame_field = _field(pages)
    parts = iter(tiles(whole, frame_field))
    undo = correction_of(pages).inverse().coefficients
    for page, read in zip(pages, read_pdf(write_pdf(pages)), strict=True):
        lines = [through(undo, _closed(sub)) for path in read.paths for sub in path.subpaths]
        for placed in page.placed[1:]:
            tile = next(parts)
            assert tile.drawing.name == placed.drawing.name
            shift = complex(placed.x + tile.origin[0], placed.y + tile.origin[1])
            found.append((tile, tuple(line - shift for line in lines)))
    assert next(parts, None) is None
    return tuple(found)


def _closed(sub: object) -> Numbers:
    points = sub.points  # type: ignore[attr-defined]
    return np.append(points, points[0]) if sub.closed else points  # type: ignore[attr-defined]


def correction_of(pages: Sequence[Page]) -> Affine:
    return pages[0].correction


def _field(pages: Sequence[Page]) -> Field:
    told: list[Field] = []

    def draw(field: Field) -> list[Drawing]:
        told.append(field)
        return [poster()]

    compose(Content(title="Large", facts=(), draw=draw), Setup(paper=pages[0].paper, tile=True))
    return told[-1]


@pytest.mark.parametrize("correction", [IDENTITY, SKEWED], ids=["uncorrected", "corrected"])
def test_the_tiles_put_together_are_the_whole_within_a_hundredth(correction: Affine) -> None:
    """Read from the PDF: every stroke and edge of the whole is on each tile that shows its place."""
    whole = np.concatenate([line for mark in poster().marks for line in outlines(mark)])
    seen = np.zeros(len(whole), dtype=bool)
    for tile, lines in read_back(correction):
        here = inside(whole, tile.window, 0.001)
        seen |= here
        assert farthest(whole[here], lines) < 0.01
    assert np.all(seen | ~inside(whole, (0, 0, 320, 400), 0.01))


@pytest.mark.parametrize("correction", [IDENTITY, SKEWED], ids=["uncorrected", "corrected"])
def test_a_tile_shows_nothing_that_the_whole_does_not(correction: Affine) -> None:
    whole = [line for mark in poster().marks for line in outlines(mark)]
    for tile, lines in read_back(correction):
        drawn = np.concatenate(lines)
        drawn = np.unique(np.round(drawn[inside(drawn, tile.window, 0.001)], 3))
        near = [line for line in whole if np.any(inside(line, tile.window, -25))]
        assert farthest(drawn, near) < 0.01


def test_the_comparison_with_the_whole_can_fail() -> None:
    tile, lines = read_back(IDENTITY)[0]
    whole = np.concatenate([line for mark in poster().marks for line in outlines(mark)])
    here = whole[inside(whole, tile.window, 0.001)]
    assert farthest(here, [line + 0.02 for line in lines]) > 0.01
    assert farthest(here, lines[-10:]) > 0.01
