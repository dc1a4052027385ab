"""The groove for a coil: its section as it is read back, its volume by hand, what it refuses."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from solids import distances, job, loops_at, made, meshes, thin_walls_mm2, tried_machine
from trimesh import Trimesh

from jigs.guides.coil_groove import EDGE_MM, FLANGE_MM, LAND_MM, LINE_MM, WING_MM, CoilGroove
from jigs.stock.blade import find_blade
from layouts.errors import OutOfRange, QuantityRefused, UnknownName
from layouts.solids import outlines

BLOCK = CoilGroove(coil_outside_mm=8.0, blade=find_blade("2"))


@cache
def read(block: CoilGroove = BLOCK) -> Trimesh:
    (mesh,) = meshes(block.solid()).values()
    return mesh


@pytest.mark.parametrize("outside", [2.0, 8.0, 30.0])
def test_the_coil_touches_both_sides_of_the_groove(outside: float) -> None:
    """C: in a right angle the axis of a circle is r sqrt(2) above the bottom; the groove is 0.65 of 2 r deep."""
    block = CoilGroove(coil_outside_mm=outside, blade=find_blade("2"))
    section = read(block).section(plane_origin=(0, 30.0, 0), plane_normal=(0, 1, 0))
    (loop,) = (loop[:-1][:, (0, 2)] for loop in section.discrete)
    axis = block.half_mm, block.ridge_mm - 0.65 * outside + outside / math.sqrt(2)
    assert distances(loop, axis)[0] == pytest.approx(outside / 2, abs=1e-5)
    assert block.ridge_mm - block.groove.depth_mm >= 5.0 - 1e-9  # of plastic under the groove


def test_the_slit_goes_through_at_the_front_in_the_middle_and_takes_the_blade() -> None:
    def slit_of(block: CoilGroove) -> tuple[float, float]:
        (loop,) = loops_at(read(block), 1.0)
        end = loop[np.abs(loop[:, 1] - 12.0) < 1e-6][:, 0]  # where it ends, 12 mm from the front
        return float(end.mean()), float(np.ptp(end))

    assert slit_of(BLOCK) == pytest.approx((BLOCK.half_mm, 0.8))
    assert find_blade("2").thickness_mm + 0.3 < 0.8
    thick = CoilGroove(coil_outside_mm=8.0, blade=find_blade("8"))
    assert thick.slit_mm == pytest.approx(thick.blade.thickness_mm + 0.4)
    corrected = CoilGroove(coil_outside_mm=8.0, blade=find_blade("2"), machine=tried_machine())
    assert slit_of(corrected)[1] == pytest.approx(0.8 + 0.21)  # slots like holes


def test_it_is_closed_of_the_volume_worked_by_hand() -> None:
    """C: wings, ridge, less the groove, the slit, both lines and the words, 0.6 mm deep."""
    ridge, deep = BLOCK.ridge_half_mm, 5.2
    assert ridge == pytest.approx(deep + LAND_MM)
    section = 2 * WING_MM * FLANGE_MM + 2 * ridge * BLOCK.ridge_mm - deep * deep
    slit = 12.0 * (0.8 * (BLOCK.ridge_mm - deep) + 0.4**2)  # its upper end stands in the groove
    words = sum(outlines.area_mm2(p) for line in ("COIL 8.0", "PIN EDGE") for p in outlines.words(line, 0, 0, 5.2))
    by_hand = section * 60.0 - slit - 0.6 * (words + 2 * (WING_MM - 1.0) * LINE_MM)
    assert read().volume == pytest.approx(by_hand, abs=0.01)
    assert read().bounds[1][1] - read().bounds[0][1] == pytest.approx(60.0)


def test_the_line_for_the_edge_of_the_pin_leaves_the_slit_free() -> None:
    assert EDGE_MM - LINE_MM / 2 > 12.0


@pytest.mark.parametrize("outside", ["2 mm", "7.6 mm", "30 mm"])
def test_walls_are_1_2_mm_or_more(outside: str) -> None:
    (mesh,) = meshes(made("coil-groove", {"coil_outside": outside})).values()
    for height in (1.0, FLANGE_MM - 0.7, FLANGE_MM + 0.1, mesh.bounds[1][2] - 0.1):
        assert thin_walls_mm2(mesh, height) < 0.3


@pytest.mark.parametrize(
    ("words", "refusal"),
    [
        ({"coil_outside": "1.9 mm"}, "a groove for a coil of 1.9 mm is too small"),
        ({"coil_outside": "31 mm"}, "a printed groove for a coil of 31.00 mm; give a coil of at most 30 mm"),
        ({"length": "49 mm"}, "a block 49 mm long; give 50 mm to 150 mm"),
        ({"length": "151 mm"}, "a block 151 mm long"),
        ({"blade": "9"}, "no saw blade is called '9'"),
        ({"coil_outside": "8"}, "unit"),
    ],
)
def test_what_holds_no_coil_is_refused(words: dict[str, str], refusal: str) -> None:
    with pytest.raises((OutOfRange, QuantityRefused, UnknownName), match=refusal):
        job("coil-groove", words)
