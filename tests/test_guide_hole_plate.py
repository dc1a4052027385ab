"""The plate of holes: its holes as they are read back, its volume by hand, what it says of its own truth."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner
from solids import around, distances, job, made, meshes, overhangs, strict_3mf, thin_walls_mm2, tried_machine
from trimesh import Trimesh

from jigs.cli import cli
from jigs.guides.catalogue import find_solid_aid
from jigs.guides.pieces.plate_of_holes import THICK_MM, HolePlate
from jigs.guides.pieces.solid_leaf import FIRST_SPREADS_MM as FOOT_MM
from layouts.errors import OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.files.folder import Folder
from layouts.lengths import said_in
from layouts.machines.machines import Machines
from layouts.render.three_mf import write_three_mf
from layouts.solids import outlines

SIX_TO_EIGHT = ("--outside", "6 mm..8 mm by 0.2 mm")
SIZES = tuple(6 + n / 5 for n in range(11))
PLATE = HolePlate(sizes_mm=SIZES)


@cache
def read_back(plate: HolePlate) -> Trimesh:
    """Its one body, read once for all tests."""
    (mesh,) = meshes(plate.solid()).values()
    return mesh


@pytest.mark.parametrize("machine", [None, tried_machine()], ids=["as drawn", "corrected"])
def test_every_hole_read_back_is_as_wide_as_wanted_within_two_micrometres(machine: object) -> None:
    """C: what the machine leaves small is drawn large: 6 mm are drawn as 6.21."""
    plate = HolePlate(sizes_mm=SIZES, machine=machine)  # type: ignore[arg-type]
    mesh = read_back(plate)
    small = 0.21 if machine else 0.0
    for size, middle, _ in plate.places:
        for height in (FOOT_MM + 0.2, THICK_MM - 0.1):
            near, far = distances(around(mesh, height, middle), middle)
            assert 2 * near == pytest.approx(size + small, abs=1e-4)
            assert 0 < 2 * (far - near) < 0.004
        near, _ = distances(around(mesh, 1e-4, middle), middle)
        assert near == pytest.approx((size + small) / 2 + FOOT_MM, abs=1e-3)


def test_it_is_closed_of_the_volume_worked_by_hand_and_nothing_leans_out(tmp_path: Path) -> None:
    """C: a rounded plate, less prisms n r^2 tan(pi / n) and frustums at the bed, less what is engraved."""
    solid = PLATE.solid()
    strict_3mf(write_three_mf(solid), tmp_path)
    mesh = read_back(PLATE)
    assert mesh.is_watertight
    assert overhangs(mesh) == []
    edge = outlines.rounded(0, 0, PLATE.width_mm, PLATE.height_mm, 3.0)
    cut = 0.0
    for size in SIZES:
        r, n = size / 2, outlines.sides_of(size / 2)
        wide = r + FOOT_MM
        cut += n * math.tan(math.pi / n) * (r * r * (THICK_MM - FOOT_MM) + FOOT_MM * (r * r + r * wide + wide**2) / 3)
    words = [outlines.words(words, 0, 0, 5.2) for words in ("OUTSIDE mm  untried", *(f"{size:.1f}" for size in SIZES))]
    engraved = sum(outlines.area_mm2(polygon) for line in words for polygon in line)
    assert mesh.volume == pytest.approx(outlines.area_mm2(edge) * 4 - cut - engraved * 0.6, rel=1e-6)
    corners = (PLATE.width_mm * PLATE.height_mm - (4 - math.pi) * 9) * 4
    assert outlines.area_mm2(edge) * 4 == pytest.approx(corners, abs=1)


@pytest.mark.parametrize("sizes", [SIZES, (1.5, 1.6), (60.0,), tuple(3 + n / 10 for n in range(40))])
def test_walls_are_1_2_mm_or_more_and_words_clear_of_holes(sizes: tuple[float, ...]) -> None:
    mesh = read_back(HolePlate(sizes_mm=sizes))
    for height in (0.05, 2.0):
        assert thin_walls_mm2(mesh, height) == 0
    plate = HolePlate(sizes_mm=sizes)
    for size, (x, y), (at, baseline) in plate.places:
        assert at == x
        assert y - size / 2 - baseline > 3.7 + 1.2  # capitals, and a wall above them
        assert baseline > 2


def test_the_search_for_thin_walls_can_fail() -> None:
    from layouts.solids.body import Solid
    from layouts.solids.layers import stacked, upright

    square = outlines.rectangle(0, 0, 20, 10)
    for gap, found in ((1.1, True), (1.3, False)):
        holes = (outlines.rectangle(2, 2, 6, 8), outlines.rectangle(6 + gap, 2, 15, 8))
        (mesh,) = meshes(Solid(title="x", bodies=(stacked("x", [upright(0, 2, square, holes)]),))).values()
        assert (thin_walls_mm2(mesh, 1.0) > 0) is found


def test_only_a_machine_that_was_tried_makes_it_a_gauge() -> None:
    """C: the uncertainty is the machine's own, k = 2, of the largest hole."""
    plain = job("hole-plate").leaf
    assert ("for", "a machine not yet tried: not a gauge") in plain.facts
    assert "it is not a gauge" in plain.notes[0]
    assert "0.1 to 0.4 mm" in plain.notes[0]
    machine = tried_machine()
    tried = job("hole-plate", machine=machine).leaf
    assert ("for", "school printer in PLA") in tried.facts
    assert tried.notes[0].startswith("A gauge as far as it was tried, k = 2.")
    good = machine.good_for_mm("hole", 8)
    assert HolePlate(sizes_mm=SIZES, machine=machine).heading == f"OUTSIDE mm  ±{good:.2f}"
    assert HolePlate(sizes_mm=SIZES).heading == "OUTSIDE mm  untried"
    fine = job("hole-plate", {"outside": "6 mm..6.2 mm by 0.05 mm"}, machine)
    assert fine.warnings == (
        f"its steps of 0.05 mm are finer than the {machine.good_for_mm('hole', 6.2):.2f} mm that each hole is good for",
    )
    assert job("hole-plate", {"outside": "6 mm..7 mm by 0.5 mm"}, machine).warnings == ()


@pytest.mark.parametrize(
    ("outside", "words"),
    [
        ("1 mm", "a hole of 1 mm in a plate; give 1.5 mm to 60 mm"),
        ("61 mm", "a hole of 61 mm in a plate"),
        (("6 mm", "6.0 mm"), "two sizes that would be engraved alike"),
        (("6 mm", "6.004 mm"), "two sizes that would be engraved alike"),
        ("3 mm..8 mm by 0.1 mm", "a plate of 51 holes; give 1 to 40 sizes"),
        ("40 mm..60 mm by 1 mm", "give fewer sizes, or two plates"),
    ],
)
def test_what_is_no_plate_is_refused(outside: str | tuple[str, ...], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        job("hole-plate", {"outside": outside})


def test_it_is_engraved_in_inches_where_these_are_said() -> None:
    with said_in("inch"):
        assert PLATE.heading == "OUTSIDE in  untried"
        assert made("hole-plate").title == "Plate of 11 holes, 0.236 in [6 mm] to 0.315 in [8 mm] outside"


def test_the_command_writes_files_that_it_knows_again(tmp_path: Path) -> None:
    def run(*words: str) -> str:
        result = CliRunner().invoke(cli, ["solid", "hole-plate", *SIX_TO_EIGHT, *words, "--out", f"{tmp_path}/"])
        if result.exception:
            raise result.exception
        return result.output

    words = run("--format", "3mf,stl,svg")
    assert [path.name for path in sorted(tmp_path.iterdir())] == ["hole-plate.3mf", "hole-plate.stl", "hole-plate.svg"]
    assert "Millimetres, at 100 %, without supports" in words
    assert "Caution: PLA softens in a warm car" in words
    first = (tmp_path / "hole-plate.3mf").read_bytes()
    run()  # over a file of ours without a question
    assert (tmp_path / "hole-plate.3mf").read_bytes() == first
    (tmp_path / "hole-plate.3mf").write_bytes(first[:-1] + (b"1" if first.endswith(b"0") else b"0"))
    with pytest.raises(Refusal, match="it has been changed since"):
        run()


def test_the_command_corrects_for_a_machine_of_the_bench(tmp_path: Path) -> None:
    Machines(folder=Folder(path=tmp_path / "bench")).put(tried_machine())

    def run(*words: str) -> str:
        given = [
            "solid",
            "hole-plate",
            "--outside",
            "6 mm..8 mm by 0.2 mm",
            "--bench",
            f"{tmp_path}/bench",
            "--out",
            f"{tmp_path}/",
            *words,
        ]
        result = CliRunner().invoke(cli, given)
        if result.exception:
            raise result.exception
        return result.output

    assert "Corrected for school printer in PLA." in run("--machine", "school printer")
    plain = (tmp_path / "hole-plate.3mf").read_bytes()
    run("--machine", "school printer", "--material", "PLA", "--overwrite")
    assert (tmp_path / "hole-plate.3mf").read_bytes() == plain
    run("--overwrite")
    assert (tmp_path / "hole-plate.3mf").read_bytes() != plain
    with pytest.raises(UnknownName, match="no machine is called 'other'"):
        run("--machine", "other")
    with pytest.raises(OutOfRange, match="a material, and no machine; give the machine"):
        run("--material", "PLA")


def test_with_a_tolerance_each_size_has_two_holes() -> None:
    """C: 5 mm inside of 1.2 mm wire is 7.4 mm outside: holes of 7.3 and 7.5 mm."""
    found = job("hole-plate", {"wire": "1.2 mm", "inside": "5 mm", "tolerance": "0.1 mm"})
    assert found.solid().title == "Plate of 2 holes, 7.3 mm to 7.5 mm outside"
    with pytest.raises(QuantityRefused, match="no size is given; give the outside"):
        job("hole-plate", {})


def test_a_laser_prints_no_solid(tmp_path: Path) -> None:
    laser = replace(tried_machine(), name="school laser", kind="laser")
    Machines(folder=Folder(path=tmp_path)).put(laser)
    words = ["solid", "plug", "--bench", str(tmp_path), "--out", f"{tmp_path}/", "--machine", "school laser"]
    with pytest.raises(OutOfRange, match="school laser is a laser and prints no solid"):
        CliRunner().invoke(cli, words, catch_exceptions=False)
    with pytest.raises(UnknownName, match="no solid is called 'ruler'; known: "):
        find_solid_aid("ruler")
