"""What a laser or a knife is given: read back by others, kerf undone, inner cuts first, no line twice."""

from __future__ import annotations

import shutil
import subprocess
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from cut_files import Read, dxf_document, read_dxf, read_svg
from PIL import Image
from plates import BOARD, cut, length_of, plate

from layouts.cutting.board import Board
from layouts.cutting.gains import Gains
from layouts.cutting.laying import Blank, laid_out
from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange
from layouts.render.cut_svg import write_cut_svg
from layouts.render.dxf import write_dxf

READERS = pytest.mark.parametrize(
    ("write", "read"), [(write_dxf, read_dxf), (write_cut_svg, read_svg)], ids=["dxf", "svg"]
)


# --- true in the file


@READERS
def test_half_a_kerf_is_undone_at_every_edge(write: object, read: object) -> None:
    """Kerf 0.2: a hole of 6 is drawn 5.8, a slot of 12 x 4 11.8 x 3.8, an outline of 40 x 30 40.2 x 30.2 (C)."""
    found = list(read(write(cut(Gains.of_kerf(0.2)))))  # type: ignore[operator]
    (hole,) = [one for one in found if one.kind == "circle"]
    assert hole.figures[2] == pytest.approx(2.9, abs=1e-6)
    arcs = [one for one in found if one.kind == "arc"]
    assert {round(one.figures[2], 6) for one in arcs} == {1.9}
    middles = {(round(one.figures[0] - hole.figures[0], 4), round(one.figures[1] - hole.figures[1], 4)) for one in arcs}
    assert middles == {(14, 0), (22, 0)}
    lines = [one.figures for one in found if one.kind == "line" and one.layer == "CUT"]
    outer = [figures for figures in lines if length_of(figures) > 20]
    assert sorted(round(length_of(figures), 5) for figures in outer) == [30.2, 30.2, 40.2, 40.2]
    left = min(min(figures[0], figures[2]) for figures in outer)
    assert hole.figures[0] - left == pytest.approx(10.1, abs=1e-6)


@READERS
def test_a_line_to_engrave_stays_where_it_is(write: object, read: object) -> None:
    for gains in (Gains(), Gains.of_kerf(0.3)):
        found = list(read(write(cut(gains))))  # type: ignore[operator]
        (hole,) = [one for one in found if one.kind == "circle"]
        (line,) = [one.figures for one in found if one.layer == "ENGRAVE"]
        assert length_of(line) == pytest.approx(30, abs=1e-6)
        assert line[1] - hole.figures[1] == pytest.approx(10, abs=1e-6)


@READERS
def test_marks_are_done_first_then_lines_then_holes_then_the_outline(write: object, read: object) -> None:
    found = list(read(write(cut(Gains.of_kerf(0.2), count=2))))  # type: ignore[operator]
    layers = [one.layer for one in found]
    assert list(dict.fromkeys(layers)) == ["MARK", "ENGRAVE", "CUT"]
    assert layers == sorted(layers, key=["MARK", "ENGRAVE", "CUT"].index)
    cuts = [_what(one) for one in found if one.layer == "CUT"]
    order = [what for what, before in zip(cuts, [None, *cuts], strict=False) if what != before]
    assert order == ["hole", "slot", "outline", "hole", "slot", "outline"]


def _what(one: Read) -> str:
    if one.kind == "circle":
        return "hole"
    return "outline" if one.kind == "line" and length_of(one.figures) > 20 else "slot"


@READERS
def test_no_line_is_there_twice(write: object, read: object) -> None:
    found = read(write(cut(Gains.of_kerf(0.2), count=6)))  # type: ignore[operator]
    lines = Counter(
        frozenset(((round(f[0], 4), round(f[1], 4)), (round(f[2], 4), round(f[3], 4))))
        for one in found
        if one.kind == "line"
        for f in [one.figures]
    )
    assert max(lines.values()) == 1


def test_a_part_within_a_hole_is_cut_before_the_hole() -> None:
    draft = Draft()
    draft.circle(20, 20, 20, Role.CUT)
    draft.circle(20, 20, 15, Role.CUT)
    draft.circle(20, 20, 10, Role.CUT)
    draft.circle(20, 20, 5, Role.CUT)
    (sheet,) = laid_out([Blank(drawing=draft.drawing(40, 40, "rings"))], BOARD, Gains.of_kerf(0.2))
    assert [one.figures[2] for one in read_dxf(write_dxf(sheet))] == pytest.approx([4.9, 10.1, 14.9, 20.1])


def test_scale_is_undone_each_way_and_a_circle_stays_one() -> None:
    gains = Gains(across=1.01, along=0.99)
    found = list(read_dxf(write_dxf(cut(gains))))
    (hole,) = [one for one in found if one.kind == "circle"]
    assert hole.figures[2] == pytest.approx(3 * (1 / 1.01 + 1 / 0.99) / 2, abs=1e-6)
    outer = [one.figures for one in found if one.kind == "line" and one.layer == "CUT" and length_of(one.figures) > 20]
    assert sorted({round(length_of(figures), 4) for figures in outer}) == [30.303, 39.604]
    (line,) = [one.figures for one in found if one.layer == "ENGRAVE"]
    assert length_of(line) == pytest.approx(30 / 1.01, abs=1e-5)
    assert line[1] - hole.figures[1] == pytest.approx(10 / 0.99, abs=1e-5)


def test_parts_keep_their_gap_and_margin_with_the_kerf_beside() -> None:
    board = Board(width_mm=100, height_mm=50, margin_mm=4, gap_mm=3)
    blank = Blank(drawing=plate().drawing(40, 30, "plate"), count=2, may_turn=False)
    (sheet,) = laid_out([blank], board, Gains.of_kerf(0.4))
    lines = [one.figures for one in read_dxf(write_dxf(sheet)) if one.layer == "CUT" and one.kind == "line"]
    xs = sorted({round(x, 4) for figures in lines if length_of(figures) > 20 for x in (figures[0], figures[2])})
    assert xs[0] >= 4 - 1e-9  # the beam's middle stays on the sheet's good part
    assert xs[2] - xs[1] >= 3 - 1e-9
    assert len(xs) == 4


def test_what_does_not_fit_goes_on_more_sheets_and_what_never_fits_is_refused() -> None:
    blank = Blank(drawing=plate().drawing(40, 30, "plate"), count=9)
    assert len(laid_out([blank], Board(width_mm=100, height_mm=50))) > 1
    with pytest.raises(DoesNotFit, match="plate needs"):
        laid_out([blank], Board(width_mm=45, height_mm=30))


def test_a_slot_that_the_kerf_would_eat_is_refused() -> None:
    draft = plate()
    draft.rectangle(2, 2, 0.2, 10, Role.CUT)
    with pytest.raises(OutOfRange, match="within the kerf"):
        laid_out([Blank(drawing=draft.drawing(40, 30, "plate"))], BOARD, Gains.of_kerf(0.25))


@pytest.mark.parametrize("sheet", [(0.0, 100.0), (8.0, 100.0), (5000.0, 100.0)])
def test_sheets_that_are_none_are_refused(sheet: tuple[float, float]) -> None:
    with pytest.raises(OutOfRange):
        Board(width_mm=sheet[0], height_mm=sheet[1])


# --- the files


def test_the_dxf_says_millimetres_and_other_letters_by_their_code() -> None:
    data = write_dxf(cut(Gains()))
    assert b"999\nMade by Coilwright. All sizes are in millimetres: one drawing unit is 1 mm.\n" in data
    assert b"sharp \\U+2013 hot" in data
    document = dxf_document(data)
    assert (document.dxfversion, document.header["$INSUNITS"]) == ("AC1009", 4)
    assert {layer.dxf.name for layer in document.layers} >= {"MARK", "ENGRAVE", "CUT"}


def test_a_long_sentence_is_broken_into_lines_that_readers_take() -> None:
    sheet = laid_out([Blank(drawing=plate().drawing(40, 30, "plate"))], BOARD, said=["word " * 300])[0]
    assert max(len(line) for line in write_dxf(sheet).split(b"\n")) < 255


def test_chromium_draws_what_the_svg_says(tmp_path: Path) -> None:
    """The sheet in pixels, 10 to the millimetre: where the circle's line is drawn, and the sides of the plate."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if not chromium:
        pytest.skip("no chromium here")
    sheet = cut(Gains())
    (circle,) = [one.figures for one in read_svg(write_cut_svg(sheet)) if one.kind == "circle"]
    (tmp_path / "sheet.svg").write_bytes(write_cut_svg(sheet))
    page = '<body style="margin:0"><img src="sheet.svg" style="width:2000px;display:block"></body>'
    (tmp_path / "page.html").write_text(page, encoding="utf-8")
    picture = tmp_path / "picture.png"
    call = [chromium, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", "--window-size=2000,1200"]
    call += [f"--user-data-dir={tmp_path / 'profile'}", f"--screenshot={picture}", (tmp_path / "page.html").as_uri()]
    subprocess.run(call, capture_output=True, timeout=120, check=True)
    red = np.asarray(Image.open(picture).convert("RGB")).astype(int)
    is_cut = (red[:, :, 0] > 150) & (red[:, :, 1] < 140)
    x, y, r = circle
    row = is_cut[round((120 - y) * 10) - 1]
    crossed = np.flatnonzero(row) / 10
    assert np.min(abs(crossed - (x - r))) < 0.15
    assert np.min(abs(crossed - (x + r))) < 0.15
    assert crossed.max() - crossed.min() == pytest.approx(40, abs=0.2)
