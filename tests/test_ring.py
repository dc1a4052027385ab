"""The closed ring: what a cut leaves of a turn, its sizes and its mass."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.making.coil import Coil, coil_for_ring, ring_of_coil
from jigs.making.ring import Ring
from layouts.errors import OutOfRange

wires = st.floats(0.3, 4.0)
indices = st.floats(2.5, 15.0)
losses = st.floats(0.0, 0.9)

# inside, wire, pitch, kerf, density -> closed ID, mass. Source: C, computed from theory
CHECKS = [
    (5.0, 1.0, 1.0, 0.26, 10.36, 4.92568, 0.15147),
    (4.0, 0.8, 0.85, 0.22, 8.96, 3.93759, 0.06703),
    (10.0, 2.0, 2.0, 0.30, 8.53, 9.92138, 1.00363),
]


@pytest.mark.parametrize(("inside", "wire", "pitch", "kerf", "density", "closed", "mass"), CHECKS)
def test_a_sawn_turn_closes_to_the_check_ring(inside, wire, pitch, kerf, density, closed, mass):
    ring = ring_of_coil(Coil(wire_mm=wire, inside_mm=inside, pitch_mm=pitch), kerf)
    assert closed == pytest.approx(ring.inside_mm, abs=5e-6)
    assert mass == pytest.approx(ring.mass_g(density), abs=5e-6)


def test_the_kept_wire_of_the_first_check_is_its_circumference():
    # turn 18.87606 less kerf 0.26 keeps 18.61606. Source: C, computed from theory
    ring = ring_of_coil(Coil(wire_mm=1, inside_mm=5, pitch_mm=1), 0.26)
    assert pytest.approx(18.61606, abs=5e-6) == ring.circumference_mm


def test_a_ring_weighs_what_pappus_says():
    # torus of mean diameter 6, wire 1, rho 10.36: pi^2/4 d^2 D rho. Source: C, computed from theory, which
    # prints 0.153375; its own formula gives 0.1533737, so the printed figure is good to 2e-6 only
    mass = Ring(wire_mm=1, inside_mm=5).mass_g(10.36)
    assert pytest.approx(math.pi**2 / 4 * 6 * 10.36 / 1000, rel=1e-14) == mass
    assert pytest.approx(0.153375, abs=2e-6) == mass


@pytest.mark.parametrize(("loss", "less"), [(0.26, 0.083), (1.0, 0.318)])
def test_a_cut_takes_its_loss_over_pi_off_the_inside(loss, less):
    # a blade of 0.26 takes 0.083 off the ID, a trim of 1.0 takes 0.318. Source: C, computed from theory
    coil = Coil(wire_mm=1, inside_mm=5, pitch_mm=1)
    assert less == pytest.approx(ring_of_coil(coil, 0).inside_mm - ring_of_coil(coil, loss).inside_mm, abs=5e-4)


def test_a_ring_knows_its_sizes():
    ring = Ring(wire_mm=1.25, inside_mm=5.0)
    assert (ring.outside_mm, ring.mean_diameter_mm, ring.aspect_ratio) == (7.5, 6.25, 4.0)
    assert pytest.approx(6.25 * math.pi) == ring.circumference_mm


def test_a_ratio_makes_the_ring():
    assert Ring.of_ratio(wire_mm=1.25, ratio=4.0) == Ring(wire_mm=1.25, inside_mm=5.0)


@given(wires, indices, st.floats(0, 1), losses)
def test_ring_to_coil_to_ring_comes_back(wire, index, gap, loss):
    ring = Ring(wire_mm=wire, inside_mm=wire * index)
    coil = coil_for_ring(ring, loss_mm=loss * wire, pitch_mm=wire + gap * wire)
    assert ring.inside_mm == pytest.approx(ring_of_coil(coil, loss * wire).inside_mm, abs=1e-9)


@given(wires, indices, losses, st.floats(0.1, 10))
def test_scaling_every_length_scales_the_ring_and_its_mass(wire, index, loss, k):
    def ring(scale: float) -> Ring:
        size = scale * wire
        return ring_of_coil(Coil(wire_mm=size, inside_mm=size * index, pitch_mm=size), loss * size)

    assert k * ring(1).inside_mm == pytest.approx(ring(k).inside_mm, rel=1e-9)
    assert ring(1).aspect_ratio == pytest.approx(ring(k).aspect_ratio, rel=1e-9)
    assert k**3 * ring(1).mass_g(8.9) == pytest.approx(ring(k).mass_g(8.9), rel=1e-9)


@given(wires, indices, losses, st.floats(1.001, 1.5))
def test_a_ring_grows_with_its_coil_and_shrinks_with_the_cut(wire, index, loss, more):
    coil, bigger = (Coil(wire_mm=wire, inside_mm=wire * index * by, pitch_mm=wire) for by in (1, more))
    assert ring_of_coil(coil, loss).inside_mm < ring_of_coil(bigger, loss).inside_mm
    assert ring_of_coil(coil, loss * 1.1 + 0.01).inside_mm < ring_of_coil(coil, loss).inside_mm


def test_a_cut_that_takes_the_whole_turn_is_refused():
    with pytest.raises(OutOfRange, match=r"the cut takes 20\.000 mm and a turn is 18\.876 mm; cut away less"):
        ring_of_coil(Coil(wire_mm=1, inside_mm=5, pitch_mm=1), 20)


def test_a_cut_that_leaves_no_hole_is_refused():
    with pytest.raises(OutOfRange, match=r"closes with no hole left; keep more than 3\.142 mm"):
        ring_of_coil(Coil(wire_mm=1, inside_mm=5, pitch_mm=1), 16)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -0.1])
def test_a_loss_that_is_none_is_refused(bad):
    coil = Coil(wire_mm=1, inside_mm=5, pitch_mm=1)
    with pytest.raises(OutOfRange, match="cut loss"):
        ring_of_coil(coil, bad)


@pytest.mark.parametrize("bad", [math.nan, math.inf, 0.0, -1.0])
def test_ring_sizes_that_are_no_sizes_are_refused(bad):
    with pytest.raises(OutOfRange, match="ring inside diameter"):
        Ring(wire_mm=1, inside_mm=bad)
    with pytest.raises(OutOfRange, match="aspect ratio"):
        Ring.of_ratio(wire_mm=1, ratio=bad)
    with pytest.raises(OutOfRange, match="density"):
        Ring(wire_mm=1, inside_mm=5).mass_g(bad)


def test_a_ring_is_known_by_its_outside_too() -> None:
    # by hand: 7.40 outside less two wires of 1.2
    assert Ring.of_outside(wire_mm=1.2, outside_mm=7.4).inside_mm == pytest.approx(5.0)


def test_an_outside_no_larger_than_two_wires_is_refused() -> None:
    with pytest.raises(
        OutOfRange, match=r"a ring of 2\.000 mm outside has no hole in wire of 1\.000 mm; give more than 2"
    ):
        Ring.of_outside(wire_mm=1.0, outside_mm=2.0)
