"""Solids: closed bodies of layers and of shapes, the files of them, and what others read in these files."""

from __future__ import annotations

import math
import struct
import subprocess
import sys
import zipfile
from functools import cache
from io import BytesIO
from pathlib import Path

import pytest
from solids import from_stl, meshes, overhangs, strict_3mf

from layouts.errors import MissingLibrary, OutOfRange
from layouts.files.seal import is_ours, sealed
from layouts.render.stl import write_stl
from layouts.render.three_mf import write_three_mf
from layouts.solids import outlines
from layouts.solids.body import Body, Solid
from layouts.solids.layers import Layer, chamfered, stacked, upright
from layouts.solids.shape import cone, joined, prism

SQUARE = outlines.rectangle(0, 0, 10, 10)
CUBE = Solid(title="A <cube> & more", bodies=(stacked("cube", [upright(0, 10, SQUARE)]),))


def test_a_cube_has_the_volume_and_the_box_of_a_cube() -> None:
    (body,) = CUBE.bodies
    assert body.volume_mm3 == pytest.approx(1000)
    assert body.box == ((0, 0, 0), (10, 10, 10))
    assert CUBE.size_mm == (10, 10, 10)
    assert len(body.triangles) == 12


@pytest.mark.parametrize("radius", [0.5, 2.5, 4.0, 30.0])
def test_a_hole_goes_around_its_circle_and_a_pin_within_it_by_less_than_two_micrometres(radius: float) -> None:
    """C: flats of a hole at r, its corners at r / cos(pi / n); corners of a pin at r, its flats at r cos(pi / n)."""
    hole, pin = outlines.around(radius), outlines.within(radius)
    corners = {round(math.hypot(x, y), 9) for x, y in hole}
    (corner,) = corners
    flat = corner * math.cos(math.pi / len(hole))
    assert flat == pytest.approx(radius)
    assert 0 < corner - radius < 0.002
    assert {round(math.hypot(x, y), 9) for x, y in pin} == {radius}
    assert radius - radius * math.cos(math.pi / len(pin)) < 0.002
    assert len(hole) % 4 == 0


def test_a_tube_has_the_volume_of_its_polygons() -> None:
    """C: the area of a polygon around r with n sides is n r^2 tan(pi / n), of one within n r^2 sin(2 pi / n) / 2."""
    hole, pin = outlines.around(3), outlines.within(5)
    tube = stacked("tube", [upright(0, 7, pin, [hole])])
    n, m = len(hole), len(pin)
    area = m * 25 * math.sin(math.tau / m) / 2 - n * 9 * math.tan(math.pi / n)
    assert tube.volume_mm3 == pytest.approx(7 * area)
    assert prism([pin, hole[::-1]], 0, 7).body("tube").volume_mm3 == pytest.approx(7 * area)


def test_a_layer_that_slants_is_a_frustum() -> None:
    """C: h (A + sqrt(A a) + a) / 3."""
    wide, narrow = outlines.rectangle(0, 0, 6, 6), outlines.rectangle(1, 1, 5, 5)
    body = stacked("frustum", [Layer(low_mm=0, high_mm=3, outlines=(wide,), top=(narrow,))])
    assert body.volume_mm3 == pytest.approx(3 * (36 + 24 + 16) / 3)


def test_steps_letters_and_blind_holes_close() -> None:
    """C: 10 x 10 x 10, less a blind hole of 4 x 4 x 3 and in that an island of 1 x 1, and a step of 2 x 2 x 5 on it."""
    hole, island = outlines.rectangle(2, 2, 6, 6), outlines.rectangle(3, 3, 4, 4)
    layers = [
        upright(0, 7, SQUARE),
        Layer(low_mm=7, high_mm=10, outlines=(SQUARE, hole[::-1], island)),
        upright(10, 15, outlines.rectangle(7, 7, 9, 9)),
    ]
    body = stacked("steps", layers)
    assert body.volume_mm3 == pytest.approx(1000 - (16 - 1) * 3 + 4 * 5)


def test_a_hole_wider_at_the_bed_slants_out_to_it() -> None:
    hole = outlines.around(2, 5, 5)
    foot = outlines.grown(hole, (5, 5), 0.5)
    n = len(hole)
    body = stacked("foot", [chamfered(SQUARE, SQUARE, [(foot, hole)], 0, 0.5), upright(0.5, 4, SQUARE, [hole])])
    cut = n * math.tan(math.pi / n) * (0.5 * (2.5**2 + 2.5 * 2 + 2**2) / 3 + 3.5 * 2**2)
    assert body.volume_mm3 == pytest.approx(400 - cut)


@pytest.mark.parametrize("string", ["DRAWN", "RAMA", "VA kerf 7.6", "COUPON mm, AS DRAWN"])
def test_letters_that_run_into_one_another_are_cut_out_as_one(string: str) -> None:
    """C: what is cut out of a plate is the area that the letters cover together; the mesh library's own by prisms."""
    plate, letters = outlines.rectangle(-5, -5, 95, 10), outlines.words(string, 0, 0, 5.2, anchor=0.0)
    body = stacked("plate", [upright(0, 1, plate), upright(1, 2, plate, letters)])
    cut = prism(plate, 0, 2) - prism(letters, 1, 3)
    assert body.volume_mm3 == pytest.approx(cut.body("cut").volume_mm3, rel=1e-9)
    solid = Solid(title="plate", bodies=(body,))
    assert meshes(solid)["plate"].is_watertight
    assert overhangs(meshes(solid)["plate"]) == []


def test_shapes_are_joined_and_cut() -> None:
    """C: two cubes of 1000 that share 500; a hole of 4 x 4 through both."""
    both = joined([prism(SQUARE, 0, 10), prism(SQUARE, 0, 10).moved(5, 0, 0)])
    assert both.body("both").volume_mm3 == pytest.approx(1500)
    assert (both - prism(outlines.rectangle(3, 3, 7, 7), -1, 11)).body("cut").volume_mm3 == pytest.approx(1340)
    turned = prism(outlines.rectangle(0, 0, 2, 3), 0, 5).turned(about_x_deg=90)
    assert sum(turned.body("turned").box, ()) == pytest.approx((0, -5, 0, 2, 0, 3))


def test_a_cone_grows_by_as_much_as_is_said() -> None:
    body = cone(outlines.within(2.0), 0, 1, 0.5).body("cone")
    assert body.volume_mm3 == pytest.approx(math.pi * (4 + 5 + 6.25) / 3, rel=2e-3)


def test_what_is_not_closed_is_refused() -> None:
    points = CUBE.bodies[0].points
    with pytest.raises(OutOfRange, match="lid is not closed, or is inside out"):
        Body(name="lid", points=points, triangles=CUBE.bodies[0].triangles[:-1])
    with pytest.raises(OutOfRange, match="inside out"):
        Body(name="lid", points=points, triangles=tuple((a, c, b) for a, b, c in CUBE.bodies[0].triangles))
    with pytest.raises(OutOfRange, match="not finite"):
        Body(name="lid", points=((math.nan, 0, 0), *points[1:]), triangles=CUBE.bodies[0].triangles)


def test_layers_that_do_not_rest_on_one_another_are_refused() -> None:
    wider = outlines.rectangle(-1, -1, 11, 11)
    with pytest.raises(OutOfRange, match="reaches out over the one below; let it slant out"):
        stacked("mushroom", [upright(0, 1, SQUARE), upright(1, 2, wider)])
    with pytest.raises(OutOfRange, match="with nothing under it"):
        stacked("two", [upright(0, 1, SQUARE), upright(2, 3, SQUARE)])
    with pytest.raises(OutOfRange, match="give it a thickness"):
        upright(1, 1, SQUARE)
    with pytest.raises(OutOfRange, match="give both as many"):
        Layer(low_mm=0, high_mm=1, outlines=(SQUARE,), top=(outlines.around(2),))
    with pytest.raises(OutOfRange, match="nothing is left"):
        (prism(SQUARE, 0, 1) - prism(wider, -1, 2)).body("gone")
    with pytest.raises(OutOfRange, match="without a body"):
        Solid(title="none", bodies=())


def test_letters_are_as_wide_as_the_lettering_says_and_their_insides_are_left() -> None:
    o, *rest = outlines.words("0", 0, 0, 5.0)
    assert len(rest) == 1
    assert outlines.area_mm2(o) > 0 > outlines.area_mm2(rest[0])
    xs = [x for polygon in outlines.words("10.5", 3, 0, 5.0) for x, _ in polygon]
    assert max(xs) - min(xs) == pytest.approx(outlines.words_mm("10.5", 5.0), abs=0.8)
    assert (max(xs) + min(xs)) / 2 == pytest.approx(3, abs=0.3)


# --- the files


def test_a_3mf_has_its_unit_and_its_title_and_strict_readers_warn_of_nothing(tmp_path: Path) -> None:
    model = strict_3mf(sealed(write_three_mf(CUBE), "3mf"), tmp_path)
    assert model.GetUnit().name == "MilliMeter"
    group = model.GetMetaDataGroup()
    facts = {group.GetMetaData(n).GetName(): group.GetMetaData(n).GetValue() for n in range(group.GetMetaDataCount())}
    assert facts == {"Title": "A <cube> & more", "Application": "Coilwright"}


def test_both_files_hold_the_same_body() -> None:
    """C: a cube of 10 mm has 1000 mm3."""
    (mesh,) = meshes(CUBE).values()
    other = from_stl(CUBE)
    for read in (mesh, other):
        assert read.is_watertight
        assert read.is_winding_consistent
        assert read.volume == pytest.approx(1000)


def test_an_stl_says_millimetres_and_is_as_long_as_its_triangles() -> None:
    data = sealed(write_stl(CUBE), "stl")
    assert len(data) == 80 + 4 + 12 * 50
    assert data[:80].rstrip().endswith(b"mm")
    assert not data.startswith(b"solid")  # which begins an STL of text
    assert struct.unpack("<I", data[80:84]) == (12,)


@pytest.mark.parametrize(("form", "write"), [("3mf", write_three_mf), ("stl", write_stl)])
def test_a_file_is_known_as_ours_until_it_is_changed(form: str, write: object) -> None:
    assert callable(write)
    data = sealed(write(CUBE), form)
    assert data == sealed(write(CUBE), form)
    assert is_ours(data)
    assert not is_ours(write(CUBE))
    for place in (5, len(data) // 2, 90):
        changed = data[:place] + bytes([data[place] ^ 1]) + data[place + 1 :]
        assert not is_ours(changed)


def test_a_3mf_is_a_whole_zip_of_fixed_dates() -> None:
    with zipfile.ZipFile(BytesIO(sealed(write_three_mf(CUBE), "3mf"))) as package:
        assert package.testzip() is None
        assert {entry.date_time for entry in package.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert package.comment.startswith(b"Coilwright sha256:")


# --- the door


def test_without_the_mesh_library_a_solid_is_refused_and_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    import importlib.util

    from jigs.cli.refusals import said
    from layouts.solids import need_mesh_library

    need_mesh_library()
    found = importlib.util.find_spec
    monkeypatch.setattr(importlib.util, "find_spec", lambda name: None if name == "manifold3d" else found(name))
    with pytest.raises(MissingLibrary) as refused:
        need_mesh_library()
    assert said(refused.value) == ("making a solid needs manifold3d, which this machine lacks; pip install manifold3d")


OF_PAPER = ("ring-card", "dowel", "bench-pin", "ruler", "printer-check")


@cache
def _loaded_by_sheets() -> dict[str, list[str]]:
    """What of solids is loaded after each sheet, all made in one process that has made nothing else."""
    code = f"""
import sys
from jigs.guides.catalogue import find_sheet
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render.svg import write_svg
for name in {OF_PAPER}:
    sheet = find_sheet(name)
    pages = compose(sheet.make(sheet.example()).content, Setup(paper=find_paper("a3"), tile=True))
    write_svg(pages[0])
    ours = ("layouts.solids", "layouts.machines", "manifold3d", "numpy")
    print(name, *(module for module in sys.modules if module.startswith(ours)))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return {name: loaded for name, *loaded in map(str.split, done.stdout.splitlines())}


@pytest.mark.parametrize("sheet", OF_PAPER)
def test_a_sheet_of_paper_loads_nothing_of_solids(sheet: str) -> None:
    assert _loaded_by_sheets()[sheet] == []
