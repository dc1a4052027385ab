"""The drill block: its vees and its guide as they are read back, its volumes by hand, what it refuses."""

from __future__ import annotations

import math
from functools import cache, partial
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from solids import around, distances, job, made, meshes, overhangs, strict_3mf, thin_walls_mm2, tried_machine

from jigs.guides.drill_block import APART_MM, drill_block_solid
from jigs.making.drill_block import (
    CHIPS_MM,
    FLOOR_MM,
    LEFT_GAP_MM,
    MOUTH_MM,
    POST_MM,
    POST_PLAY_MM,
    STOP_MM,
    DrillBlock,
)
from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.stock.drill import jobber_flute_mm
from jigs.stock.wire import parse_wire
from layouts.errors import OutOfRange, QuantityRefused
from layouts.render.three_mf import write_three_mf
from layouts.solids import outlines


def block(diameter: float = 8.0, wire: str = "16 AWG", **more: float | None) -> DrillBlock:
    from_end = more.pop("from_end_mm", 10.0) or 10.0
    drilled = DrilledDowel(dowel=Dowel(diameter_mm=diameter), wire=parse_wire(wire), from_end_mm=from_end)
    return DrillBlock(drilled=drilled, **more)


BLOCK = block()


@cache
def bodies(made_for: DrillBlock = BLOCK, machine: object = None) -> tuple[trimesh.Trimesh, trimesh.Trimesh]:
    read = meshes(drill_block_solid(made_for, machine))  # type: ignore[arg-type]
    return read["base"], read["cap"]


def test_the_dowel_touches_both_vees_and_its_axis_lies_half_way_between_the_faces() -> None:
    """C: in a vee of 120 degrees the axis is r / sin 60 above its bottom: of 8 mm, 4.619."""
    assert BLOCK.apex_mm == pytest.approx(4 / math.sin(math.radians(60)))
    assert BLOCK.gap_mm == pytest.approx(1.2)
    base, cap = bodies()
    x, axis = BLOCK.half_width_mm, BLOCK.base_mm + BLOCK.gap_mm
    for mesh, middle, high, y in (
        (base, x, axis, STOP_MM + 30.0),
        (cap, 3 * x + APART_MM, BLOCK.cap_mm + BLOCK.gap_mm, STOP_MM + 30.0),
    ):
        section = mesh.section(plane_origin=(0, y, 0), plane_normal=(0, 1, 0))
        (loop,) = (loop[:-1][:, (0, 2)] for loop in section.discrete)
        near, _ = distances(loop, (middle, high))
        assert near == pytest.approx(4.0, abs=1e-4)  # the sides of the vee touch a circle of the dowel's radius


def test_the_guide_stands_over_the_axis_as_far_from_the_stop_as_the_hole_is_from_the_end() -> None:
    base, cap = bodies()
    half = BLOCK.half_width_mm
    _, (left, front, _), _ = (0, cap.bounds[0], 0)
    assert (left, front) == pytest.approx((2 * half + APART_MM, STOP_MM))
    middle = (3 * half + APART_MM, STOP_MM + 10.0)  # its front, which goes to the stop, is at y = 6
    near, far = distances(around(cap, 5.0, middle), middle)
    assert 2 * near == pytest.approx(1.4 - 0.3, abs=1e-4)
    assert far - near < 0.002
    under = (half, STOP_MM + 10.0)
    near, _ = distances(around(base, 2.0, under), under)
    assert 2 * near == pytest.approx(1.4 + 0.2, abs=1e-4)
    mouth, _ = distances(around(cap, 1e-4, middle), middle)
    assert mouth == pytest.approx(0.55 + MOUTH_MM, abs=2e-3)


def test_a_measured_machine_has_tube_and_pin_drawn_larger() -> None:
    """C: holes come out 0.21 mm small: a tube of 3 mm is drawn as 3.21."""
    tubed = block(tube_mm=3.0)
    _, cap = bodies(tubed, tried_machine())
    middle = (3 * tubed.half_width_mm + APART_MM, STOP_MM + 10.0)
    near, _ = distances(around(cap, 5.0, middle), middle)
    assert 2 * near == pytest.approx(3.21, abs=1e-4)


def test_both_halves_are_closed_of_the_volume_worked_by_hand(tmp_path: Path) -> None:
    """C: sections x length; a hole through a vee ends on average 4 r / (3 pi tan 60) above its bottom."""
    solid = drill_block_solid(BLOCK, None)
    strict_3mf(write_three_mf(solid), tmp_path)
    base, cap = bodies()
    wide, vee = 2 * BLOCK.half_width_mm, BLOCK.vee_mm * BLOCK.vee_half_mm
    long, post = BLOCK.long_mm, POST_MM[0] * POST_MM[1]

    def hole(r: float, upright: float) -> float:
        n = outlines.sides_of(r)
        return n * r * r * math.tan(math.pi / n) * (upright + 4 * r / (3 * math.pi) / math.tan(math.radians(60)))

    def words(*lines: str) -> float:
        return 0.6 * sum(outlines.area_mm2(p) for line in lines for p in outlines.words(line, 0, 0, 5.2))

    stop = wide * STOP_MM * (BLOCK.base_mm + BLOCK.stop_rise_mm)
    by_hand = (wide * BLOCK.base_mm - vee) * long + stop + 2 * post * BLOCK.post_rise_mm
    by_hand -= hole(0.8, FLOOR_MM) + words("DOWEL 8.0", "END 10.0")
    assert base.is_watertight
    assert base.volume == pytest.approx(by_hand, abs=0.5)
    pocket = (POST_MM[0] + 2 * POST_PLAY_MM) * (POST_MM[1] + 2 * POST_PLAY_MM) * BLOCK.pocket_mm
    r = 0.55
    mouth = math.pi * (((r + 1) ** 2 + (r + 1) * r + r * r) / 3 - r * r)
    by_hand = (wide * BLOCK.cap_mm - vee) * long - 2 * pocket
    by_hand -= hole(r, BLOCK.guide_mm) + mouth + words("STOP", "DRILL 1.4")
    assert cap.is_watertight
    assert cap.volume == pytest.approx(by_hand, abs=0.5)


SIZES = [
    {"diameter": "3 mm", "wire": "0.5 mm", "tube": "1.2 mm", "flute": "9 mm"},
    {"diameter": "7.95 mm", "wire": "16 AWG"},
    {"diameter": "30 mm", "wire": "4 mm"},
    {"diameter": "6 mm", "wire": "1 mm", "tube": "3 mm", "from_end": "40 mm"},
    {"diameter": "1/4 in", "wire": "18 AWG", "drills": "number"},
]


def level(mesh: trimesh.Trimesh, height: float) -> float:
    """How much of a mesh faces up at a height, in mm2."""
    flat = (mesh.face_normals[:, 2] > 0.999) & (np.abs(mesh.triangles_center[:, 2] - height) < 1e-6)
    return float(mesh.area_faces[flat].sum())


@pytest.mark.parametrize("words", SIZES, ids=lambda words: f"{words['diameter']}, {words['wire']}")
def test_nothing_leans_out_and_walls_are_1_2_mm_or_more(words: dict[str, str]) -> None:
    for mesh in meshes(made("drill-block", words)).values():
        assert mesh.is_watertight
        assert overhangs(mesh) == []
        face, top = max(np.unique(mesh.vertices[:, 2]), key=partial(level, mesh)), mesh.bounds[1][2]
        for height in (0.1 * face, 0.5 * face, face - 0.7, 0.9 * top):  # under what is engraved, and in the posts
            assert thin_walls_mm2(mesh, height - (0.7 if face - 0.7 < height < face else 0)) < 0.3


@settings(max_examples=40, deadline=None)
@given(st.floats(3.0, 30.0), st.sampled_from(["0.8 mm", "1 mm", "1.2 mm", "16 AWG", "2 mm"]))
def test_guide_and_half_the_dowel_are_shorter_than_the_flute(diameter: float, wire: str) -> None:
    try:
        made_for = block(diameter, wire)
    except OutOfRange as found:
        refusal = str(found)
    else:
        refusal = ""
    if refusal:
        assert "flute" in refusal or "third of the dowel" in refusal
        return
    flute = jobber_flute_mm(made_for.drill.diameter_mm)
    assert flute is not None
    assert made_for.guide_mm + diameter / 2 < flute
    assert made_for.reach_mm <= flute - CHIPS_MM + 1e-9
    assert made_for.guide_mm >= max(5.0, 2 * made_for.drill.diameter_mm) - 1e-9
    # Posts enter their pockets, never to the floor, from the thickest dowel to the thinnest that it holds.
    for size in (diameter, made_for.thinnest_mm):
        between = 2 * (made_for.gap_mm - (diameter - size) / 2 / math.sin(math.radians(60)))
        assert between >= 2 * LEFT_GAP_MM - 1e-9
        assert 1.5 < made_for.post_rise_mm - between < made_for.pocket_mm
    assert made_for.cap_mm - made_for.pocket_mm >= 2.4 - 1e-9


def test_a_tube_gives_its_size_and_the_leaf_says_how_far_the_drill_goes() -> None:
    """C: of 8 mm, a flute of 18 less 2 for chips is 16 to the middle."""
    assert BLOCK.reach_mm == pytest.approx(16.0)
    from layouts.pages.page import Setup
    from layouts.pages.paper import find_paper
    from layouts.pages.sheet import compose

    found = job("drill-block", {"diameter": "8 mm", "wire": "16 AWG", "tube": "3 mm"})
    (page,) = compose(found.leaf, Setup(paper=find_paper("a4")))
    words = " ".join(getattr(mark, "string", "") for mark in page.marks())
    assert "Press a metal tube of 3.00 mm outside, 11.4 mm long" in words
    assert "Mark the drill with tape 16.0 mm from its point" in words
    assert "clamp it before you drill" in words
    assert "no gloves" in words
    assert "local codes" in words


@pytest.mark.parametrize(
    ("words", "refusal"),
    [
        ({"wire": "1 mm"}, "no diameter is given; give the diameter, such as 8 mm"),
        ({"diameter": "8 mm"}, "no wire is given"),
        ({"diameter": "2.9 mm", "wire": "0.5 mm"}, "a block for a dowel of 2.90 mm; give a dowel of 3 mm to 30 mm"),
        ({"diameter": "31 mm", "wire": "1 mm"}, "a block for a dowel of 31.00 mm"),
        (
            {"diameter": "20 mm", "wire": "0.9 mm"},
            "a flute of 12.0 mm is too short for a guide and half a dowel of 20.00 mm",
        ),
        ({"diameter": "6 mm", "wire": "0.7 mm"}, "closes up as it is printed; press a metal tube into the guide"),
        ({"diameter": "8 mm", "wire": "1.2 mm", "tube": "1.5 mm"}, "has no wall around a drill of 1.30 mm"),
        ({"diameter": "8 mm", "wire": "1.2 mm", "tube": "5 mm"}, "a tube of 5.00 mm is wider than the vee"),
        ({"diameter": "8 mm", "wire": "1.2 mm", "from_end": "2 mm"}, "would split out"),
    ],
)
def test_what_cannot_be_drilled_is_refused(words: dict[str, str], refusal: str) -> None:
    with pytest.raises((OutOfRange, QuantityRefused), match=refusal):
        job("drill-block", words)


def test_a_longer_flute_of_ones_own_is_taken() -> None:
    assert block(20.0, "0.9 mm", flute_mm=25.0).reach_mm == pytest.approx(23.0)


def test_the_flutes_of_jobber_drills_by_the_table() -> None:
    """M: ISO 235: 1.0 has 12, 1.4 18, 3.0 33, 8.0 75 mm."""
    assert [jobber_flute_mm(d) for d in (1.0, 1.4, 3.0, 8.0, 10.7)] == [12, 18, 33, 75, None]


def test_both_halves_lie_apart_on_the_bed() -> None:
    base, cap = bodies()
    assert cap.bounds[0][0] - base.bounds[1][0] == pytest.approx(APART_MM)
    assert np.allclose([base.bounds[0][2], cap.bounds[0][2]], 0)
