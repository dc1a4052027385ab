"""What a laser or a knife is given: read back by others, kerf undone, inner cuts first, no line twice."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections import Counter
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner, Result
from cut_files import Read, dxf_document, read_dxf, read_svg
from PIL import Image

from jigs.cli import cli
from jigs.cli.refusals import said
from layouts.cutting.board import Board, CutSheet, Layer
from layouts.cutting.gains import Gains
from layouts.cutting.laying import Blank, laid_out
from layouts.drawing.marks import Draft
from layouts.drawing.pens import Role
from layouts.errors import DoesNotFit, OutOfRange, Refusal
from layouts.machines import coupon
from layouts.render.cut_svg import write_cut_svg
from layouts.render.dxf import write_dxf

HERE = Path(__file__).parent.parent
BOARD = Board(width_mm=200, height_mm=120)


def plate() -> Draft:
    """40 x 30 with a hole of 6, a slot of 12 x 4, a line to engrave and a word."""
    draft = Draft()
    draft.rectangle(0, 0, 40, 30, Role.CUT)
    draft.circle(10, 10, 3, Role.CUT)
    draft.line(24, 8, 32, 8, Role.CUT)
    draft.arc(32, 10, 2, -90, 180, Role.CUT)
    draft.line(32, 12, 24, 12, Role.CUT)
    draft.arc(24, 10, 2, 90, 180, Role.CUT)
    draft.line(5, 20, 35, 20, Role.TICK)
    draft.text(5, 24, "keep", 2.5)
    return draft


def cut(gains: Gains, count: int = 1) -> CutSheet:
    blank = Blank(drawing=plate().drawing(40, 30, "plate"), count=count)
    return laid_out([blank], BOARD, gains, title="Plate", said=["Caution: sharp – hot"])[0]


def run(*args: str) -> Result:
    return CliRunner().invoke(cli, args, standalone_mode=False)


def circles_in(path: Path) -> list[float]:
    """The diameter of every circle of a file, in order of size."""
    read = read_dxf if path.suffix == ".dxf" else read_svg
    return sorted(2 * one.figures[2] for one in read(path.read_bytes()) if one.kind == "circle")


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
    outer = [figures for figures in lines if _length(figures) > 20]
    assert sorted(round(_length(figures), 5) for figures in outer) == [30.2, 30.2, 40.2, 40.2]
    left = min(min(figures[0], figures[2]) for figures in outer)
    assert hole.figures[0] - left == pytest.approx(10.1, abs=1e-6)


@READERS
def test_a_line_to_engrave_stays_where_it_is(write: object, read: object) -> None:
    for gains in (Gains(), Gains.of_kerf(0.3)):
        found = list(read(write(cut(gains))))  # type: ignore[operator]
        (hole,) = [one for one in found if one.kind == "circle"]
        (line,) = [one.figures for one in found if one.layer == "ENGRAVE"]
        assert _length(line) == pytest.approx(30, abs=1e-6)
        assert line[1] - hole.figures[1] == pytest.approx(10, abs=1e-6)


def _length(figures: tuple[float, ...]) -> float:
    x0, y0, x1, y1 = figures[:4]
    return float(np.hypot(x1 - x0, y1 - y0))


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
    return "outline" if one.kind == "line" and _length(one.figures) > 20 else "slot"


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
    outer = [one.figures for one in found if one.kind == "line" and one.layer == "CUT" and _length(one.figures) > 20]
    assert sorted({round(_length(figures), 4) for figures in outer}) == [30.303, 39.604]
    (line,) = [one.figures for one in found if one.layer == "ENGRAVE"]
    assert _length(line) == pytest.approx(30 / 1.01, abs=1e-5)
    assert line[1] - hole.figures[1] == pytest.approx(10 / 0.99, abs=1e-5)


def test_parts_keep_their_gap_and_margin_with_the_kerf_beside() -> None:
    board = Board(width_mm=100, height_mm=50, margin_mm=4, gap_mm=3)
    blank = Blank(drawing=plate().drawing(40, 30, "plate"), count=2, may_turn=False)
    (sheet,) = laid_out([blank], board, Gains.of_kerf(0.4))
    lines = [one.figures for one in read_dxf(write_dxf(sheet)) if one.layer == "CUT" and one.kind == "line"]
    xs = sorted({round(x, 4) for figures in lines if _length(figures) > 20 for x in (figures[0], figures[2])})
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


# --- at the door


def test_a_drawing_program_prints_the_dxf_at_its_size(tmp_path: Path) -> None:
    """LibreCAD, on a page as large as the board: all that is cut reaches as far as ezdxf says, its pen aside."""
    librecad = shutil.which("librecad")
    if not librecad:
        pytest.skip("no librecad on this machine: apt-get install --no-install-recommends librecad")
    data = write_dxf(cut(Gains.of_kerf(0.2), count=3))
    (tmp_path / "plate.dxf").write_bytes(data)
    surroundings = os.environ | {"QT_QPA_PLATFORM": "offscreen", "HOME": str(tmp_path)}
    command = [librecad, "dxf2pdf", "-p", "200x120", "-s", "1", tmp_path / "plate.dxf"]
    subprocess.run(command, cwd=tmp_path, env=surroundings, capture_output=True, timeout=120, check=True)
    page = pypdfium2.PdfDocument(tmp_path / "plate.pdf")[0]
    ink = np.asarray(page.render(scale=600 / 72).to_pil().convert("L")) < 200
    spans = [np.flatnonzero(ink.any(axis))[[0, -1]] * 25.4 / 600 for axis in (0, 1)]
    lines = [read.figures for read in read_dxf(data) if read.kind == "line"]
    for (low, high), places in zip(spans, (slice(0, None, 2), slice(1, None, 2)), strict=True):
        wanted = np.array([figures[places] for figures in lines])
        assert high - low == pytest.approx(wanted.max() - wanted.min(), abs=0.3)


def test_the_same_twice_and_nothing_of_a_page_in_it(tmp_path: Path) -> None:
    args = ["cut", "hole-plate", "--outside", "5 mm..9 mm by 0.5 mm", "--kerf", "0.18 mm", "--format", "dxf,svg"]
    once, twice = run(*args, "--out", f"{tmp_path / 'a'}/"), run(*args, "--out", f"{tmp_path / 'b'}/")
    assert (once.exit_code, twice.exit_code) == (0, 0)
    names = sorted(path.name for path in (tmp_path / "a").iterdir())
    assert names == ["hole-plate-mm.dxf", "hole-plate-mm.svg", "hole-plate-mm.txt"]
    for name in names:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()
    again = run(*args, "--out", f"{tmp_path / 'a'}/")  # over its own files, unchanged
    assert again.exception is None


@pytest.mark.parametrize("form", ["dxf", "svg"])
def test_every_hole_of_the_plate_comes_out_as_wanted(tmp_path: Path, form: str) -> None:
    """Drawn and widened by the kerf, as a laser does: within 0.002 mm of the size that is asked for."""
    sizes = ["--outside", "5 mm..9 mm by 0.5 mm", "--tolerance", "0.1 mm"]
    run("cut", "hole-plate", *sizes, "--kerf", "0.18 mm", "--format", form, "--out", f"{tmp_path}/")
    holes = [size + 0.18 for size in circles_in(tmp_path / f"hole-plate-mm.{form}")]
    wanted = sorted([4.0, *(size + way for size in np.arange(5, 9.01, 0.5) for way in (-0.1, 0.1))])
    assert holes == pytest.approx(wanted, abs=0.002)


def test_rings_by_their_wire_and_inside_have_holes_of_their_outside(tmp_path: Path) -> None:
    run("cut", "hole-plate", "--wire", "1.2 mm", "--inside", "5 mm", "--out", f"{tmp_path}/")
    assert circles_in(tmp_path / "hole-plate-mm.dxf") == pytest.approx([4.0, 7.4])


def test_the_coupon_is_never_corrected(tmp_path: Path) -> None:
    run("cut", "coupon", "--kerf", "0.2 mm", "--out", f"{tmp_path}/")
    data = (tmp_path / "coupon-mm.dxf").read_bytes()
    circles = sorted(2 * one.figures[2] for one in read_dxf(data) if one.kind == "circle")
    assert circles == pytest.approx(sorted((*coupon.HOLES_MM, *coupon.DISCS_MM)))
    tall = [one.figures for one in read_dxf(data) if one.kind == "line" and one.layer == "CUT"]
    assert sum(round(_length(figures), 3) == coupon.BLOCK_MM for figures in tall) == 2 * coupon.BLOCKS
    assert sum(round(_length(figures), 3) == coupon.WINDOW_MM for figures in tall) == 2
    across = [one.figures for one in read_dxf(data) if one.layer == "ENGRAVE"]
    middles = {(round((f[0] + f[2]) / 2, 3), round((f[1] + f[3]) / 2, 3)) for f in across}
    (left, foot), (right, _), (_, top) = sorted(middles)[0], max(middles), max(middles, key=lambda at: at[1])
    assert (right - left, top - foot) == pytest.approx((coupon.ACROSS_MM, coupon.ALONG_MM))


def test_from_coupon_to_a_hole_that_is_right(tmp_path: Path) -> None:
    """A simulated laser of 0.15 mm kerf: its coupon read with shanks of 0.1 mm steps, then a hole made on it."""
    bench = str(tmp_path / "bench")
    material = ["--material", "birch plywood", "--material-thickness", "3 mm"]
    readings = []
    for size in coupon.HOLES_MM:
        low = int((size + 0.15) * 10 + 1e-9) / 10
        readings += ["--hole", f"{low:.1f} mm..{low + 0.1:.1f} mm of {size} mm"]
    readings += ["--gap", "1.6 mm..1.7 mm", "--date", "2026-11-25", "--bench", bench]
    measured = run("machine", "measure", "school laser", *material, *readings)
    assert measured.exit_code == 0
    assert "kerf" in measured.output
    made = ["--machine", "school laser", "--bench", bench, "--out", f"{tmp_path}/"]
    run("cut", "hole-plate", "--outside", "7.4 mm", *made)
    circles = circles_in(tmp_path / "hole-plate-mm.dxf")
    assert [size + 0.15 for size in circles] == pytest.approx([4.0, 7.4], abs=0.02)
    notes = (tmp_path / "hole-plate-mm.txt").read_text(encoding="utf-8")
    assert "Corrected for school laser in birch plywood, 3 mm" in notes
    assert "(k = 2)" in notes


def test_a_poorer_coupon_replaces_a_record_only_when_that_is_asked_for(tmp_path: Path) -> None:
    bench = ["--bench", str(tmp_path / "bench")]
    call = ["machine", "measure", "school laser", "--material", "acrylic", *bench]
    assert run(*call, "--gap", "1.6 mm..1.7 mm").exit_code == 0
    before = (tmp_path / "bench" / "machines.toml").read_bytes()
    refused = run(*call, "--hole", "5.1 mm..5.4 mm of 5 mm").exception
    assert isinstance(refused, Refusal)
    assert "save it anyway with --save-anyway" in said(refused)
    assert (tmp_path / "bench" / "machines.toml").read_bytes() == before
    assert run(*call, "--hole", "5.1 mm..5.4 mm of 5 mm", "--save-anyway").exit_code == 0


@pytest.mark.parametrize(
    "material",
    ["PVC", "clear vinyl", "ABS sheet", "polycarbonate", "PC 2 mm", "gold foil", "faux leather", "fibreglass"],
)
def test_what_no_laser_may_cut_is_refused_and_nothing_is_written(tmp_path: Path, material: str) -> None:
    refused = run("cut", "coupon", "--material", material, "--out", f"{tmp_path}/")
    assert f"a laser must never cut {material}" in str(refused.exception)
    assert list(tmp_path.iterdir()) == []
    refused = run("machine", "measure", "x", "--material", material, "--gap", "1.6 mm", "--bench", str(tmp_path))
    assert f"a laser must never cut {material}" in str(refused.exception)
    assert list(tmp_path.iterdir()) == []
    assert run("cut", "coupon", "--material", material, "--tool", "knife", "--out", f"{tmp_path}/").exit_code == 0


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ([], "never left running alone"),
        ([], "Wear eye protection made for its wavelength"),
        ([], "never PVC, vinyl, ABS, polycarbonate or foil"),
        (["--material", "clear acrylic"], "burns with hardly a flame to see"),
        (["--material", "birch plywood"], "Only with the fumes drawn off"),
        ([], "local codes come first"),
        (["--tool", "knife"], "keep fingers clear"),
    ],
)
def test_cautions_stand_at_the_terminal_in_the_drawing_and_in_its_notes(
    tmp_path: Path, args: list[str], words: str
) -> None:
    done = run("cut", "coupon", *args, "--format", "dxf,svg", "--out", f"{tmp_path}/")
    assert words in done.stderr
    for name in ("coupon-mm.dxf", "coupon-mm.svg", "coupon-mm.txt"):
        said = " ".join((tmp_path / name).read_text(encoding="utf-8").replace("\n999\n", " ").split())
        assert words in said, name


@pytest.mark.parametrize(
    ("args", "words"),
    [
        (["hole-plat"], "no command is called 'hole-plat'; known: hole-plate"),
        (["hole-plate"], "no size is given; give --outside"),
        (["hole-plate", "--inside", "5 mm"], "no wire is given"),
        (["hole-plate", "--outside", "5 mm", "--outside", "5 mm"], "comes twice"),
        (["hole-plate", "--outside", "0.9 mm"], "a hole of 0.90 mm"),
        (["hole-plate", "--outside", "5 mm", "--tolerance", "0 mm"], "must be more than zero"),
        (["hole-plate", "--outside", "5 mm", "--kerf", "9 mm"], "a kerf of 9 mm"),
        (["hole-plate", "--outside", "5 mm", "--kerf", "0.2"], "--kerf"),
        (["coupon", "--sheet", "0 mm x 100 mm"], "--sheet: '0 mm x 100 mm' is not the size of a sheet"),
        (["coupon", "--material-thickness", "0 mm"], "--material-thickness: a length must be more than zero"),
        (["coupon", "--material", "birch\n0\nEOF"], "--material: a material of 11 characters, or on several lines"),
        (["coupon", "--material", "a" * 61], "give at most 60 on one line"),
        (["coupon", "--margin", "-1 mm"], "--margin: '-1 mm' is not a length"),
        (["coupon", "--sheet", "300"], "--sheet: '300' is not the size of a sheet"),
        (["coupon", "--sheet", "100 mm x 50 mm"], "is 90.0 x 40.0 mm; give a larger --sheet"),
        (["coupon", "--tool", "knife", "--kerf", "0.1 mm"], "takes nothing away; leave out --kerf"),
        (["coupon", "--format", "pdf"], "no format is called 'pdf'; known: dxf"),
        (["coupon", "--tool", "saw"], "no tool that cuts is called 'saw'"),
        (["coupon", "--machine", "school laser"], "no machine is called 'school laser'"),
        (["coupon", "--machine", "a", "--kerf", "0.1 mm"], "give one of them"),
        (["coupon", "--margin", "200 mm"], "margins of 200 mm leave nothing"),
    ],
)
def test_what_cannot_be_cut_is_refused_in_a_line(tmp_path: Path, args: list[str], words: str) -> None:
    refused = run("cut", *args, "--out", f"{tmp_path}/out/", "--bench", str(tmp_path / "bench")).exception
    assert isinstance(refused, Refusal)
    assert words in said(refused)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("more", "is_said"), [([], True), (["--kerf", "0.1 mm"], False), (["--tool", "knife"], False)], ids=str
)
def test_a_kerf_that_nobody_knows_is_said_at_the_terminal(tmp_path: Path, more: list[str], is_said: bool) -> None:
    done = run("cut", "hole-plate", "--outside", "7 mm", *more, "--out", f"{tmp_path}/", "--bench", str(tmp_path / "b"))
    assert ("no kerf is undone: holes come out larger" in done.stderr) is is_said
    assert ("No kerf is undone: holes" in (tmp_path / "hole-plate-mm.txt").read_text(encoding="utf-8")) is is_said


@pytest.mark.parametrize("ending", ["dxf", "svg", "txt"])
def test_a_file_that_is_there_stops_all_of_them(tmp_path: Path, ending: str) -> None:
    mine = tmp_path / f"coupon-mm.{ending}"
    mine.write_text("mine", encoding="utf-8")
    refused = run("cut", "coupon", "--format", "dxf,svg", "--out", f"{tmp_path}/").exception
    assert f"coupon-mm.{ending} is there already" in str(refused)
    assert list(tmp_path.iterdir()) == [mine]
    assert mine.read_text(encoding="utf-8") == "mine"


def test_sheets_of_an_earlier_cut_are_named(tmp_path: Path) -> None:
    out = ["--out", f"{tmp_path}/"]
    assert "was there before" not in run("cut", "coupon", "--sheet", "130 mm x 100 mm", *out).stderr
    done = run("cut", "coupon", *out)
    assert "Note: coupon-mm-2.dxf was there before, and does not belong to this cut." in done.stderr
    assert "coupon-mm-2.txt was there before" in done.stderr


def test_a_reading_without_its_unit_is_named_by_its_option(tmp_path: Path) -> None:
    call = ["machine", "measure", "x", "--material", "acrylic", "--bench", str(tmp_path), "--gap", "1.6..1.7"]
    refused = run(*call).exception
    assert isinstance(refused, Refusal)
    assert said(refused).startswith("--gap: a length needs a unit")


def test_the_help_of_what_cuts_says_what_to_heed() -> None:
    words = " ".join(run("cut", "--help").output.split())
    for caution in (
        "never left running alone",
        "hardly a flame to see",
        "Never PVC, vinyl, ABS, polycarbonate or foil",
        "resin-bonded board only with the fumes drawn off",
        "made for the laser's wavelength",
        "local codes come first",
    ):
        assert caution in words


def test_the_pieces_of_an_order_are_cut_by_a_knife_as_they_are(tmp_path: Path) -> None:
    """Labels are 88 mm wide, for each seat its own; none shares a cut with another."""
    order = tmp_path / "order.toml"
    assert run("order", "new", str(order), "--for", "one").exit_code == 0
    made = ["--tool", "knife", "--sheet", "a4", "--bench", str(tmp_path / "bench"), "--out", f"{tmp_path / 'out'}/"]
    done = run("cut", "pieces", str(order), *made)
    assert done.exit_code == 0
    assert "keep fingers clear of a blade" in done.stderr
    files = sorted((tmp_path / "out").glob("*.dxf"))
    found = [one for path in files for one in read_dxf(path.read_bytes())]
    lines = [one.figures for one in found if one.layer == "CUT"]
    assert len(lines) % 4 == 0
    assert sum(round(_length(figures), 6) == 88 for figures in lines) == len(lines) // 2
    assert {round(2 * one.figures[2], 3) for one in found if one.kind == "circle"} >= {5.0, 7.4}
    assert "A knife takes nothing away" in files[0].with_suffix(".txt").read_text(encoding="utf-8")


def test_an_order_for_too_many_seats_is_refused(tmp_path: Path) -> None:
    order = tmp_path / "order.toml"
    run("order", "new", str(order))
    words = order.read_text(encoding="utf-8")
    order.write_text(re.sub(r"(?m)^seats = \d+", "seats = 120", words), encoding="utf-8")
    refused = run("cut", "pieces", str(order), "--out", f"{tmp_path / 'out'}/", "--bench", str(tmp_path / "bench"))
    assert "pieces to cut; cut at most 300" in str(refused.exception)


def test_layers_stand_in_the_order_in_which_they_are_done() -> None:
    assert [layer.value for layer in Layer] == ["MARK", "ENGRAVE", "CUT"]


def test_a_paper_sheet_loads_nothing_of_what_cuts(tmp_path: Path) -> None:
    code = (
        "import sys\nfrom jigs.cli import cli\n"
        f"cli.main(['sheet', 'ruler', '--out', {str(tmp_path / 'r.pdf')!r}], standalone_mode=False)\n"
        "print('LOADED', *(name for name in sys.modules if 'cutting' in name or 'machines' in name or 'dxf' in name))"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=HERE, capture_output=True, text=True, check=True)
    assert done.stdout.rpartition("LOADED")[2].split() == []
