"""Cutting at the door: coupons, cautions, what is refused, the pieces of an order."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from cut_files import read_dxf
from plates import HERE, circles_in, cut, length_of, run

from jigs.cli.refusals import said
from jigs.packing import cut_pieces
from layouts.cutting.board import Layer
from layouts.cutting.gains import Gains
from layouts.errors import Refusal
from layouts.machines import coupon
from layouts.render.dxf import write_dxf

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
    assert sum(round(length_of(figures), 3) == coupon.BLOCK_MM for figures in tall) == 2 * coupon.BLOCKS
    assert sum(round(length_of(figures), 3) == coupon.WINDOW_MM for figures in tall) == 2
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
    assert sum(round(length_of(figures), 6) == 88 for figures in lines) == len(lines) // 2
    assert {round(2 * one.figures[2], 3) for one in found if one.kind == "circle"} >= {5.0, 7.4}
    assert "A knife takes nothing away" in files[0].with_suffix(".txt").read_text(encoding="utf-8")


def test_just_as_many_pieces_as_may_be_are_cut(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    order, away = tmp_path / "order.toml", f"{tmp_path / 'out'}/"
    run("order", "new", str(order), "--for", "one")
    cut = ("cut", "pieces", str(order), "--bench", str(tmp_path / "bench"), "--out", away)
    monkeypatch.setattr(cut_pieces, "MOST_PIECES", 1)
    few = int(re.search(r"(\d+) pieces to cut", str(run(*cut).exception)).group(1))  # type: ignore[union-attr]
    monkeypatch.setattr(cut_pieces, "MOST_PIECES", few - 1)
    assert run(*cut).exit_code != 0
    monkeypatch.setattr(cut_pieces, "MOST_PIECES", few)
    assert run(*cut).exit_code == 0


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
