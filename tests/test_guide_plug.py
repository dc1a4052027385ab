"""The stepped plug: its steps as they are read back, its volume by hand, how it is printed."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest
from solids import job, loops_at, made, meshes, overhangs, strict_3mf, thin_walls_mm2, tried_machine

from jigs.guides.plug import BASE_MM, FLAT, NOTCH_HALF_MM, ROOF_MM, STEP_MM, Plug
from layouts.errors import OutOfRange
from layouts.lengths import said_in
from layouts.render.three_mf import write_three_mf
from layouts.solids import outlines

PLUG = Plug(sizes_mm=(4.6, 4.8, 5.0, 5.2, 5.4))


@pytest.mark.parametrize("machine", [None, tried_machine()], ids=["as drawn", "corrected"])
def test_every_step_read_back_is_as_thick_as_wanted_within_two_micrometres(machine: object) -> None:
    """C: what the machine makes thick is drawn thin: 5 mm are drawn as 4.94."""
    plug = Plug(sizes_mm=PLUG.sizes_mm, machine=machine)  # type: ignore[arg-type]
    (mesh,) = meshes(plug.solid()).values()
    for number, size in enumerate(plug.upwards):
        drawn = size - (0.06 if machine else 0.0)
        for height in (0.1, STEP_MM / 2, STEP_MM - NOTCH_HALF_MM - 0.05):
            above = NOTCH_HALF_MM if number else 0.0
            z = BASE_MM + STEP_MM * number + max(height, above + 0.05)
            (loop,) = loops_at(mesh, z)
            away = np.hypot(*(loop - plug.axis).T)
            round_part = away[loop[:, 1] > plug.axis[1] - FLAT * size / 2 + 0.05]
            assert 2 * round_part.max() == pytest.approx(drawn, abs=1e-4)
            assert 2 * round_part.min() == pytest.approx(drawn, abs=0.002)
            assert np.ptp(loop[:, 0]) == pytest.approx(drawn, abs=0.002)  # a caliper across


def test_the_flat_leaves_more_than_three_quarters_of_the_round() -> None:
    """C: a flat at 0.8 r takes 2 acos(0.8) of the circle, 73.7 degrees."""
    assert 2 * math.degrees(math.acos(FLAT)) == pytest.approx(73.74, abs=0.01)


def test_it_is_closed_of_the_volume_worked_by_hand_and_nothing_leans_out(tmp_path: Path) -> None:
    """C: a base less its words, and rounds of area r^2 (pi - acos k + k sqrt(1 - k^2)) with a flat at k r."""
    solid = PLUG.solid()
    strict_3mf(write_three_mf(solid), tmp_path)
    (mesh,) = meshes(solid).values()
    assert mesh.is_watertight
    assert overhangs(mesh) == []
    edge = outlines.area_mm2(outlines.rounded(0, 0, *PLUG.base_mm, 3.0))
    words = sum(outlines.area_mm2(polygon) for line in PLUG.words for polygon in outlines.words(line, 0, 0, 5.2))
    share = math.pi - math.acos(FLAT) + FLAT * math.sqrt(1 - FLAT * FLAT)
    rounds = sum(share * (size / 2) ** 2 * STEP_MM for size in PLUG.sizes_mm)
    # Four notches of 0.6 deep and 1.3 high take little, and the edge at the top half of a round of 0.5 by 0.5.
    little = 4 * 0.6 * NOTCH_HALF_MM * 1.0 * 4.9 / 2 + math.pi * 4.6 * ROOF_MM**2 / 2
    assert mesh.volume == pytest.approx(edge * BASE_MM - words * 0.6 + rounds - little, abs=6)


@pytest.mark.parametrize("sizes", [PLUG.sizes_mm, (2.0, 2.1), (40.0,), (3.0, 9.0, 30.0)])
def test_walls_are_1_2_mm_or_more_at_every_step_and_notch(sizes: tuple[float, ...]) -> None:
    plug = Plug(sizes_mm=sizes)
    (mesh,) = meshes(plug.solid()).values()
    assert overhangs(mesh) == []
    for number in range(len(sizes)):
        assert thin_walls_mm2(mesh, BASE_MM + STEP_MM * (number + 0.5)) == 0
        if number == len(sizes) - 1:
            continue  # no notch at the top
        (loop,) = loops_at(mesh, BASE_MM + STEP_MM * (number + 0.999))  # in a notch: from its bottom to the back
        middle = loop[np.abs(loop[:, 0] - plug.axis[0]) < 0.37 * plug.upwards[number] / 2]
        assert np.ptp(middle[:, 1]) > 1.2


def test_the_words_name_the_steps_from_the_top_and_how_good_they_are() -> None:
    assert PLUG.words == ("INSIDE mm", "untried", "4.6", "4.8", "5.0", "5.2", "5.4")
    machine = tried_machine()
    tried = Plug(sizes_mm=PLUG.sizes_mm, machine=machine)
    assert tried.words[1] == f"±{machine.good_for_mm('pin', 5.4):.2f}"
    with said_in("inch"):
        assert PLUG.words[:3] == ("INSIDE in", "untried", "0.181")


def test_only_a_machine_whose_pins_were_tried_makes_it_a_gauge() -> None:
    assert ("for", "a machine not yet tried: not a gauge") in job("plug").leaf.facts
    assert ("for", "school printer in PLA") in job("plug", machine=tried_machine()).leaf.facts


@pytest.mark.parametrize(
    ("inside", "words"),
    [
        ("1.9 mm", "a step of 1.9 mm on a plug; give 2 mm to 40 mm"),
        ("41 mm", "a step of 41 mm"),
        (("5 mm", "5.0 mm"), "two sizes that would be engraved alike"),
        ("5 mm..8 mm by 0.2 mm", "a plug of 16 steps; give 1 to 14 sizes"),
        ("2 mm..2.4 mm by 0.1 mm", "5 steps on 2 mm, 30 mm high, is too slender; give at most 4 sizes"),
    ],
)
def test_what_is_no_plug_is_refused(inside: str | tuple[str, ...], words: str) -> None:
    with pytest.raises(OutOfRange, match=words):
        job("plug", {"inside": inside})


def test_it_stands_on_its_base_with_the_thickest_step_at_the_foot() -> None:
    solid = made("plug")
    assert solid.size_mm[2] == BASE_MM + 5 * STEP_MM
    assert PLUG.upwards == (5.4, 5.2, 5.0, 4.8, 4.6)
    assert solid.title == "Stepped plug, 5 steps, 4.6 mm to 5.4 mm inside"
