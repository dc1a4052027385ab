"""Solids read back from their files by readers that share no code with their writers, and measured there."""

from __future__ import annotations

import io
import math
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import lib3mf
import numpy as np
import trimesh

from jigs.guides.catalogue import Words, find_solid_aid, solid_aids
from jigs.guides.jobs import SolidJob
from layouts.machines.machine import PLASTIC, Machine
from layouts.machines.tried import Tried
from layouts.render.stl import write_stl
from layouts.render.three_mf import write_three_mf
from layouts.solids.body import Solid

LEAST_WALL_MM = 1.2
STEEPEST_DEG = 45.0
SLICER = "prusa-slicer"
COARSE = (
    *("--nozzle-diameter", "0.6", "--layer-height", "0.4", "--first-layer-height", "0.4", "--resolution", "0.05"),
    *("--fill-density", "0%", "--top-solid-layers", "0", "--bottom-solid-layers", "0"),
    *("--seam-position", "random", "--perimeter-generator", "classic"),
)
"""A coarse print: to hide the seams of a fine one takes the slicer ten seconds, and shows no more."""


EXAMPLES = [(aid.name, number) for aid in solid_aids() for number in range(len(aid.solid_examples))]


def example_of(name: str, number: int = 0) -> dict[str, Words]:
    """The fields of an example of an aid, without what is of the file."""
    aid = find_solid_aid(name)
    keys = [field.key for field in aid.fields]
    given = aid.solid_examples[number].items()
    return {key: value for key, value in given if key in keys and not isinstance(value, bool)}


@cache
def job_of(name: str, number: int) -> SolidJob:
    """An example of an aid, made once for all that look at it."""
    return find_solid_aid(name).make_solid(example_of(name, number))


def job(name: str, given: Mapping[str, Words] | None = None, machine: Machine | None = None) -> SolidJob:
    """An aid for a 3D printer: of its first example where nothing is given."""
    return find_solid_aid(name).make_solid(example_of(name) if given is None else given, machine)


def made(name: str, given: Mapping[str, Words] | None = None, machine: Machine | None = None) -> Solid:
    """Its solid."""
    return job(name, given, machine).solid()


def tried_machine() -> Machine:
    """A 3D printer that leaves holes 0.21 mm small and pins 0.06 mm thick (C: invented readings)."""
    return Machine(
        name="school printer",
        kind=PLASTIC,
        material="PLA",
        holes=tuple(Tried(wanted_mm=d, low_mm=d - 0.21, high_mm=d - 0.21, tool="caliper") for d in (4.0, 6.0, 8.0)),
        pins=tuple(Tried(wanted_mm=d, low_mm=d + 0.06, high_mm=d + 0.06, tool="caliper") for d in (4.0, 6.0, 8.0)),
        date="2026-11-20",
    )


def strict_3mf(data: bytes, tmp_path: Path) -> Any:
    """The model as the 3MF Consortium's own library reads it, strictly; it warned of nothing."""
    path = tmp_path / "read.3mf"
    path.write_bytes(data)
    model = lib3mf.get_wrapper().CreateModel()
    reader = model.QueryReader("3mf")
    reader.SetStrictModeActive(True)
    reader.ReadFromFile(str(path))
    assert [reader.GetWarning(number) for number in range(reader.GetWarningCount())] == []
    return model


def meshes(solid: Solid) -> dict[str, trimesh.Trimesh]:
    """Each body by its name, as trimesh reads the 3MF file."""
    scene = trimesh.load(io.BytesIO(write_three_mf(solid)), file_type="3mf")
    return dict(scene.geometry)


def from_stl(solid: Solid) -> trimesh.Trimesh:
    """All bodies as one, as trimesh reads the STL file."""
    return trimesh.load(io.BytesIO(write_stl(solid)), file_type="stl")


def overhangs(mesh: trimesh.Trimesh, steepest_deg: float = STEEPEST_DEG) -> list[float]:
    """The heights of facets that lean out by more than so many degrees from upright; the first layer excepted."""
    lowest = mesh.triangles[:, :, 2].max(axis=1)
    leaning = mesh.face_normals[:, 2] < -math.sin(math.radians(steepest_deg)) - 1e-6
    return lowest[leaning & (lowest > 1e-6)].tolist()


def loops_at(mesh: trimesh.Trimesh, height: float) -> list[np.ndarray]:
    """The closed loops of the section at a height, each as corners in x and y; found once for each height."""
    found = mesh.metadata.setdefault("loops", {})
    if height not in found:
        section = mesh.section(plane_origin=(0, 0, height), plane_normal=(0, 0, 1))
        found[height] = [loop[:-1, :2] for loop in section.discrete]
    return list(found[height])


def distances(loop: np.ndarray, middle: Sequence[float]) -> tuple[float, float]:
    """How far the nearest side and the furthest corner of a loop are from a point."""
    here, there = loop - middle, np.roll(loop, -1, axis=0) - middle
    sides = there - here
    squares = np.einsum("ij,ij->i", sides, sides)
    share = np.clip(-np.einsum("ij,ij->i", here, sides) / np.where(squares > 0, squares, 1), 0, 1)
    off = np.hypot(*(here + share[:, None] * sides).T)
    return float(off.min()), float(np.hypot(*here.T).max())


def around(mesh: trimesh.Trimesh, height: float, middle: Sequence[float]) -> np.ndarray:
    """The smallest loop of the section at a height that goes round a point."""
    found = [loop for loop in loops_at(mesh, height) if _holds(loop, middle)]
    return min(found, key=lambda loop: float(np.ptp(loop[:, 0])))


def _holds(loop: np.ndarray, middle: Sequence[float]) -> bool:
    here = np.arctan2(*(loop - middle).T[::-1])
    turns = (np.roll(here, -1) - here + math.pi) % math.tau - math.pi
    return abs(float(turns.sum())) > math.pi


def thin_walls_mm2(mesh: trimesh.Trimesh, height: float, wall_mm: float = LEAST_WALL_MM) -> float:
    """The area of the section at a height that a disc as wide as the least wall cannot reach, sharp corners aside."""
    from manifold3d import CrossSection, FillRule, JoinType

    section = CrossSection(loops_at(mesh, height), FillRule.EvenOdd).simplify(1e-4)  # a section has points on its sides
    r = wall_mm / 2 - 0.001
    middles = section.offset(-r, JoinType.Round, circular_segments=64).simplify(1e-4)
    reached = middles.offset(r, JoinType.Round, circular_segments=64)
    left = (section - reached).decompose()
    return sum(piece.area() for piece in left if piece.area() > r * r * (1 - math.pi / 4) * 1.2)


def slicer_says(*words: str) -> str:
    """What the slicer on this machine prints."""
    command = [str(shutil.which(SLICER)), *words]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    return f"{done.stdout}{done.stderr}"
