"""The stand for mandrels: its holes as they are read back, its volume by hand, what the bench gives it."""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from solids import around, distances, job, loops_at, made, meshes, strict_3mf, thin_walls_mm2, tried_machine
from trimesh import Trimesh

from jigs.cli import cli
from jigs.guides.mandrel_stand import EDGE_MM, FLOOR_MM, HIGH_MM, INSET_MM, LEDGE_MM, MOUTH_MM, PLAY_MM, rows_of
from layouts.errors import QuantityRefused, Refusal
from layouts.solids import outlines

MANDRELS = (("rod 6", 6.01), ("rod 5", 5.02), ("pen", 8.1))


def mesh_foot(mesh: Trimesh) -> np.ndarray:
    """The outline of the foot, where nothing else is."""
    (loop,) = loops_at(mesh, FLOOR_MM / 2)
    return loop


@pytest.mark.parametrize("machine", [None, tried_machine()], ids=["as drawn", "corrected"])
def test_every_hole_read_back_is_wider_than_its_mandrel_by_its_play(machine: object) -> None:
    """C: holes that come out 0.21 mm small are drawn as much larger; chords within two micrometres."""
    (row,) = rows_of(MANDRELS, machine)  # type: ignore[arg-type]
    (mesh,) = meshes(
        job("mandrel-stand", {"mandrel": [f"{n} = {d} mm" for n, d in MANDRELS]}, machine).solid()
    ).values()  # type: ignore[arg-type]
    assert [name for (name, _), _ in row.places] == ["rod 5", "rod 6", "pen"]  # the thinnest first
    for (_, size), middle in row.places:
        near, far = distances(around(mesh, HIGH_MM / 2, middle), middle)
        assert 2 * near == pytest.approx(size + PLAY_MM + (0.21 if machine else 0.0), abs=1e-4)
        assert 0 < far - near < 0.002
        at_top, _ = distances(around(mesh, HIGH_MM - 1e-4, middle), middle)
        assert at_top - near == pytest.approx(MOUTH_MM, abs=1e-3)
        assert around(mesh, FLOOR_MM / 2, middle).shape == mesh_foot(mesh).shape  # a floor under it


def test_it_is_closed_of_the_volume_worked_by_hand() -> None:
    """C: foot and back, less the holes with their mouths, and the words, 0.6 mm deep."""
    (row,) = rows_of(MANDRELS)
    (mesh,) = meshes(job("mandrel-stand", {"mandrel": [f"{n} = {d} mm" for n, d in MANDRELS]}).solid()).values()
    front, rear = row.back_mm
    by_hand = LEDGE_MM * outlines.area_mm2(outlines.rounded(0, 0, row.width_mm, row.depth_mm, 3.0))
    back = outlines.rounded(INSET_MM, front, row.width_mm - INSET_MM, rear, 3.0)
    by_hand += (HIGH_MM - LEDGE_MM) * outlines.area_mm2(back)
    for name, size in MANDRELS:
        r = (size + PLAY_MM) / 2
        n = outlines.sides_of(r)
        mouth = MOUTH_MM * ((r + MOUTH_MM) ** 2 + (r + MOUTH_MM) * r + r * r) / 3
        by_hand -= n * math.tan(math.pi / n) * (r * r * (HIGH_MM - MOUTH_MM - FLOOR_MM) + mouth)
        words = (name, f"{size:.2f}")
        by_hand -= 0.6 * sum(outlines.area_mm2(p) for line in words for p in outlines.words(line, 0, 0, 5.2))
    assert mesh.volume == pytest.approx(by_hand, rel=1e-6)


def test_walls_are_1_2_mm_or_more_and_many_mandrels_stand_in_rows(tmp_path: Path) -> None:
    solid = made("mandrel-stand", {"mandrel": [f"{size / 2} mm" for size in range(4, 24)]})
    assert [body.name for body in solid.bodies] == ["stand 1", "stand 2"]
    assert solid.title == "Stand for 20 mandrels"
    assert max(solid.size_mm) <= 200.0
    assert thin_walls_mm2(meshes(solid)["stand 2"], HIGH_MM - 0.01) == 0
    fronts = [body.box for body in solid.bodies]
    assert all(one[1][1] + EDGE_MM < other[0][1] for one, other in pairwise(fronts))


def test_it_takes_all_mandrels_of_the_bench_or_those_that_are_named(tmp_path: Path) -> None:
    def run(*words: str) -> None:
        given = [*words, "--bench", str(tmp_path / "bench")]
        CliRunner().invoke(cli, given, catch_exceptions=False)

    for name, size in (("rod 7", "6.98 mm"), ("needle", "3.97 mm")):
        run("bench", "add", "mandrel", name, "--measured", size, "--kind", "steel")
    out = tmp_path / "stand.3mf"
    run("solid", "mandrel-stand", "--out", str(out))
    whole = out.read_bytes()
    model = strict_3mf(whole, tmp_path)
    assert model.GetMetaDataGroup().GetMetaData(0).GetValue() == "Stand for 2 mandrels"
    both = ("--mandrel", "needle", "--mandrel", "rod 7 = 6.98 mm")
    run("solid", "mandrel-stand", "--out", str(out), *both)
    assert out.read_bytes() == whole
    run("solid", "mandrel-stand", "--out", str(out), "--mandrel", "rod 7", "--overwrite")
    assert out.read_bytes() != whole
    with pytest.raises(QuantityRefused, match="'rod 8' is neither a mandrel of your bench nor a size"):
        run("solid", "mandrel-stand", "--mandrel", "rod 8")
    drilled = ("--diameter", "rod 7", "--wire", "1 mm", "--out", str(tmp_path / "block.3mf"))
    run("solid", "drill-block", *drilled)  # a dowel by its name, as on paper
    model = strict_3mf((tmp_path / "block.3mf").read_bytes(), tmp_path)
    assert model.GetMetaDataGroup().GetMetaData(0).GetValue() == "Drill block for a dowel of 6.98 mm"


@pytest.mark.parametrize(
    ("mandrels", "refusal"),
    [
        ((), "no mandrel is given, and none is kept at the bench; give the mandrel, such as 6.02 mm"),
        (("0.9 mm",), "a mandrel of 0.9 mm in a stand; name the others: those of 1 mm to 40 mm"),
        (("broom = 41 mm",), "a mandrel of 'broom', 41 mm, in a stand"),
        (("5 mm", "5 mm"), "a mandrel that comes twice; name each once"),
        (("the old knitting needle of my aunt = 4 mm",), 'give it a shorter one here, such as "rod 7 = 4 mm"'),
        (tuple(f"{size / 4} mm" for size in range(40, 150)), "a stand for 110 mandrels; name fewer of them"),
        (("☃ = 5 mm",), "☃"),
        (("rod 7 = 6",), "unit"),
        (("rod 7 = 6 mm square",), "square"),
    ],
)
def test_what_does_not_stand_is_refused(mandrels: tuple[str, ...], refusal: str) -> None:
    with pytest.raises(Refusal, match=refusal):
        job("mandrel-stand", {"mandrel": mandrels})
