"""The coupon as a solid: what is on it as it is read back, and how its readings make what is printed later right."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path
from random import Random

import numpy as np
import pytest
from click.testing import CliRunner
from solids import around, distances, loops_at, made, meshes, thin_walls_mm2, tried_machine
from trimesh import Trimesh

from jigs.actions.machine import CouponReadings, find_machine
from jigs.cli import cli
from jigs.guides.catalogue import find_solid_aid
from jigs.guides.pieces.plate_of_holes import HolePlate
from jigs.guides.pieces.printed_coupon import (
    CORNER_MM,
    CROSS,
    HEIGHT_MM,
    HIGH_MM,
    HOLES_AT,
    LONG_MM,
    LOW_MM,
    PINS_AT,
    PINS_MM,
    SLOTS_AT,
    SLOTS_MM,
    STANDS_MM,
    TABS_AT,
    TABS_MM,
    THICK_MM,
    WIDTH_MM,
)
from jigs.guides.pieces.solid_leaf import FIRST_SPREADS_MM as FOOT_MM
from layouts.errors import OutOfRange
from layouts.machines.coupon import ACROSS_MM, ALONG_MM, HOLES_MM
from layouts.machines.machine import PLASTIC, REPEATS_MM
from layouts.solids import outlines


@cache
def read() -> Trimesh:
    (mesh,) = meshes(made("coupon")).values()
    return mesh


def test_holes_and_slots_read_back_are_as_drawn_within_two_micrometres() -> None:
    mesh = read()
    for size, x in zip(HOLES_MM, HOLES_AT, strict=True):
        near, far = distances(around(mesh, THICK_MM / 2, (x, HIGH_MM)), (x, HIGH_MM))
        assert 2 * near == pytest.approx(size, abs=1e-4)
        assert 0 < far - near < 0.002
    for size, x in zip(SLOTS_MM, SLOTS_AT, strict=True):
        slot = around(mesh, THICK_MM / 2, (x, LOW_MM))
        assert np.ptp(slot, axis=0) == pytest.approx((size, LONG_MM), abs=1e-5)


def test_pins_and_tabs_stand_up_as_drawn_within_two_micrometres() -> None:
    mesh = read()
    height = THICK_MM + STANDS_MM / 2
    assert len(loops_at(mesh, height)) == len(PINS_MM) + len(TABS_MM)
    for size, x in zip(PINS_MM, PINS_AT, strict=True):
        near, far = distances(around(mesh, height, (x, LOW_MM)), (x, LOW_MM))
        assert 2 * far == pytest.approx(size, abs=1e-4)
        assert 2 * (far - near) < 0.002  # over both sides, as a caliper reads it
    for size, x in zip(TABS_MM, TABS_AT, strict=True):
        assert np.ptp(around(mesh, height, (x, HIGH_MM)), axis=0) == pytest.approx((size, LONG_MM), abs=1e-5)


def test_crosses_lie_a_true_length_apart() -> None:
    mesh = read()
    loops = [loop for loop in loops_at(mesh, THICK_MM - 0.3) if np.ptp(loop, axis=0) == pytest.approx((8, 8), abs=1e-5)]
    middles = sorted(tuple(np.round((loop.min(axis=0) + loop.max(axis=0)) / 2, 4)) for loop in loops)
    x, y = CROSS
    crosses = [(x, y), (x, y + ALONG_MM), (x + ACROSS_MM, y)]
    assert [place for place in middles if place in crosses] == crosses


def test_holes_and_slots_lie_on_other_places_of_a_step_of_shanks() -> None:
    for sizes in (HOLES_MM, SLOTS_MM):
        assert len({round(size % 0.1, 3) for size in sizes}) == len(sizes)


def test_its_volume_is_as_worked_by_hand() -> None:
    """C: a plate, less holes and slots that are 0.5 wider at the bed, less what is engraved; and what stands on it."""
    mesh = read()
    by_hand = THICK_MM * outlines.area_mm2(outlines.rounded(0, 0, WIDTH_MM, HEIGHT_MM, CORNER_MM))
    for size in HOLES_MM:
        r, n = size / 2, outlines.sides_of(size / 2)
        foot = FOOT_MM * ((r + FOOT_MM) ** 2 + (r + FOOT_MM) * r + r * r) / 3
        by_hand -= n * math.tan(math.pi / n) * (r * r * (THICK_MM - FOOT_MM) + foot)
    for size in SLOTS_MM:
        by_hand -= size * LONG_MM * THICK_MM + FOOT_MM**2 * (size + LONG_MM) + 4 * FOOT_MM**3 / 3
    words = [*("HOLES", "SLOTS", "PINS", "TABS"), "COUPON mm, AS DRAWN", f"{ACROSS_MM:g}", f"{ALONG_MM:g}"]
    words += [f"{size:g}" for size in (*HOLES_MM, *SLOTS_MM, *PINS_MM, *TABS_MM)]
    crosses = 3 * (2 * 8.0 * 0.6 - 0.6**2)
    letters = sum(outlines.area_mm2(p) for line in words for p in outlines.words(line, 0, 0, 5.2))
    by_hand -= 0.6 * (crosses + letters)
    for size in PINS_MM:
        n = outlines.sides_of(size / 2, outlines.CHORD_MM / 2)
        by_hand += STANDS_MM * n * (size / 2) ** 2 * math.sin(math.tau / n) / 2
    by_hand += STANDS_MM * LONG_MM * sum(TABS_MM)
    assert mesh.volume == pytest.approx(by_hand, rel=1e-6)


def test_walls_are_1_2_mm_or_more() -> None:
    for height in (FOOT_MM + 0.1, THICK_MM + STANDS_MM / 2):
        assert thin_walls_mm2(read(), height) == 0


def test_it_is_never_corrected() -> None:
    with pytest.raises(OutOfRange, match="would show nothing to correct; leave out machine"):
        find_solid_aid("coupon").make_solid({}, tried_machine())


# --- from the coupon to a corrected gauge


def printed(gain: float, size: float) -> str:
    """Between which two shanks in steps of 0.1 mm a hole lies that came out larger by a gain."""
    step = math.floor((size + gain) * 10 + 1e-9)
    return f"{step / 10:.1f} mm..{(step + 1) / 10:.1f} mm of {size:g} mm"


def readings(hole: float, pin: float) -> CouponReadings:
    """What the coupon of a printer reads whose holes and pins come out larger by so much."""
    return CouponReadings(
        name="school printer",
        kind=PLASTIC,
        material="PLA",
        hole=tuple(printed(hole, size) for size in HOLES_MM),
        slot=tuple(printed(hole, size) for size in SLOTS_MM),
        pin=tuple(f"{size + pin:.2f} mm of {size:g} mm" for size in PINS_MM),
        tab=tuple(f"{size + pin:.2f} mm of {size:g} mm" for size in TABS_MM),
        date="2026-11-25",
    )


@pytest.mark.parametrize("hole", [-0.31, -0.2375, -0.18, -0.05])
@pytest.mark.parametrize("pin", [-0.07, 0.0, 0.11])
def test_what_a_printer_did_is_read_from_its_coupon_within_what_is_stated(hole: float, pin: float) -> None:
    """C: four holes on four places of a step tell a gain to a quarter of it, 0.0125 mm each way."""
    machine = readings(hole, pin).record()
    for kind, gain in (("hole", hole), ("slot", hole), ("pin", pin), ("tab", pin)):
        found = machine.gain(kind)
        assert found.mm == pytest.approx(gain, abs=0.0126 if kind == "hole" else 0.026)
        assert abs(found.mm - gain) < found.uncertainty_mm
        assert found.count > 0
    # What is then drawn comes out as wanted, to the same.
    assert machine.drawn_mm("hole", 7.4) + hole == pytest.approx(7.4, abs=0.0126)
    assert machine.drawn_mm("pin", 5.0) + pin == pytest.approx(5.0, abs=0.0126)


def test_gauge_is_only_said_of_what_was_tried_and_with_its_uncertainty(tmp_path: Path) -> None:
    """Through the commands, from the coupon's readings to a leaf and to what is engraved."""

    def run(*words: str) -> str:
        done = CliRunner().invoke(cli, [*words, "--bench", str(tmp_path)], catch_exceptions=False)
        return done.output

    given = readings(-0.21, 0.06)
    words = ["machine", "measure", given.name, "--kind", PLASTIC, "--material", "PLA", "--date", given.date]
    run(*words, *(word for hole in given.hole for word in ("--hole", hole)))
    machine = find_machine(tmp_path, "school printer")
    plate, plug = (find_solid_aid(name) for name in ("hole-plate", "plug"))
    holes = plate.make_solid({"outside": "7.4 mm"}, machine)
    assert holes.leaf.notes[0].startswith("A gauge as far as it was tried, k = 2.")
    assert f"±{machine.good_for_mm('hole', 7.4):.2f}" in HolePlate(sizes_mm=(7.4,), machine=machine).heading
    steps = plug.make_solid({"inside": "5 mm"}, machine)
    assert "no pin was tried on it, so this is not a gauge" in steps.leaf.notes[0]
    run(*words, *(word for hole in given.hole for word in ("--hole", hole)), *("--pin", given.pin[0]))
    machine = find_machine(tmp_path, "school printer")
    steps = plug.make_solid({"inside": "5 mm"}, machine)
    assert steps.leaf.notes[0].startswith("A gauge as far as it was tried, k = 2.")
    (mesh,) = meshes(plate.make_solid({"outside": "7.4 mm"}, machine).solid()).values()
    hole = min(loops_at(mesh, 2.0), key=lambda loop: float(np.ptp(loop[:, 0])))
    assert np.ptp(hole[:, 0]) - 0.21 == pytest.approx(7.4, abs=0.0126 + 0.002)


def test_what_is_stated_holds_for_many_printers() -> None:
    """C: 300 simulated printers: tools off alike and each for itself, every size printed a little otherwise."""
    random = Random(2026)

    def off(half: float) -> float:
        return random.uniform(-half, half)

    repeats, held = REPEATS_MM[PLASTIC], {"hole": 0, "pin": 0}
    for _ in range(300):
        gains = {"hole": random.uniform(-0.45, 0.05), "pin": random.uniform(-0.15, 0.2)}
        shanks, caliper = off(0.025), off(0.03)
        holes = [printed(gains["hole"] + off(repeats) - shanks + off(0.01), size) for size in HOLES_MM]
        pins = [f"{size + gains['pin'] + off(repeats) + caliper + off(0.03):.2f} mm of {size:g} mm" for size in PINS_MM]
        machine = CouponReadings(name="p", kind=PLASTIC, material="PLA", hole=tuple(holes), pin=tuple(pins)).record()
        for kind, size in (("hole", 7.4), ("pin", 5.0)):
            made_mm = machine.drawn_mm(kind, size) + gains[kind] + off(repeats)
            held[kind] += abs(made_mm - size) <= machine.good_for_mm(kind, size)
    assert min(held.values()) >= 285
