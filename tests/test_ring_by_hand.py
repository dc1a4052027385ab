"""The report of a ring worked by hand: what a person reads, figure by figure. Formulas: C, computed from theory."""

from __future__ import annotations

from jigs.making.batch import Batch
from jigs.making.cutting import Cutters, Saw
from jigs.making.material import choose_material
from jigs.reports.as_text import as_text
from jigs.reports.ring import ring_report
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire


def lines(text: str) -> list[str]:
    """The lines with single spaces between words: how wide a column is, is for other tests."""
    return [" ".join(line.split()) for line in text.splitlines() if line.strip()]


def test_the_numbers_of_a_ring_off_a_trial_coil() -> None:
    """The ring of BY_HAND. In inches: / 25.4. 13/64 in is 5.159375 mm, 9/32 in 7.14375 mm.

    Helix: atan(1 / 6.3 pi) = 0.050482 = 2.892 degrees. 47 turns are under the 69 of a groove of 70 mm: no snip;
    47 x 1.05 = 49.4 -> 50 turns; 50 / 1.05 = 47.62; 50 x 18.8736 + 60 = 1003.68 mm, / 45 = 22.304.
    """
    batch = Batch(
        wire=parse_wire("1 mm"),
        material=choose_material(find_metal("sterling")),
        mandrel_mm=5.0,
        trial_inside_mm=5.3,
        cut=Saw(measured_kerf_mm=0.3),
        rings=45,
        tails_mm=60.0,
    )
    assert (
        as_text(ring_report(batch), 90)
        == """\
wire   1 mm: 1.000 mm (0.0394 in, 3/64 in - 0.191 mm)
metal  sterling silver, soft

From the mandrel to the closed ring
                mm     inch  nearest 1/64         band  basis
mandrel      5.000   0.1969  13/64 in - 0.159 mm        as named: measure the rod
springback  +0.300  +0.0118                             trial coil measured: 5.300 mm
                                                        inside off a 5.000 mm mandrel;
                                                        mean diameter opens 5.0 %
coil ID      5.300   0.2087  13/64 in + 0.141 mm        (mandrel + wire) x springback -
                                                        wire
cut         -0.087  -0.0034                             saw: kerf 0.300 mm as given
closed ID    5.213   0.2052  13/64 in + 0.053 mm        (turn - cut) / pi - wire
OD           7.213   0.2840  9/32 in + 0.069 mm         closed ID + 2 wires
AR           5.213                                      closed ID / wire

One turn, one ring
pitch                      1.000 mm
helix angle                2.89 deg
wire in one turn           19.817 mm
mass of one ring           0.1588 g
wire per ring, with waste  22.304 mm

Weighed at 10.36 g/cm3 (alloy data).

Wind
windings  turns to wind  turns released  length released, mm  sections  good rings
       1             50            47.6                 48.6         1          45

In all 1004 mm of wire for 45 rings; 2 rejects and 60 mm of tails per winding.

a bad cut  trim and file it; it closes smaller
finish     about an hour in a tumbler with stainless shot, never rusty steel"""
    )


def test_the_numbers_of_a_wanted_ring_and_what_a_metre_makes() -> None:
    """b = C Y / E = 0.0066133 C; kept = 1 - (2 / pi) (8/3 b - 4/3 b^3), to the sixth place.

    Coil: turn 6 pi + 1 = 19.84956, sqrt(turn^2 - 1) / pi - 1 = 5.31029. C = 5.8931 keeps 0.933888 of 1 / D: D =
    6.31029, so the mandrel is 4.8931; it opens by 1 / 0.933888 = 1.07079. Helix: atan(1 / 6.31029 pi) = 2.888 degrees.
    Ring: 6 pi x 8.136725 mg = 153.37 mg. A metre: a wound turn is 18.5373; 935 / 18.5373 = 50 turns, free 46.69, less
    2 rejects 44 rings; 991.86 mm, 8.1 left, 22.542 a ring.
    Rods: C 5.9, 5.9149, 6 and 5.7625 keep 0.933810, 0.933644, 0.932690 and 0.935351: D 6.31820, 6.33529, 6.43300 and
    6.16079; turns 19.87438, 19.92801, 20.23460 and 19.38052; closed, less 1 mm: 5.0079, 5.0250, 5.1226 and 4.8507.
    """
    batch = Batch(
        wire=parse_wire("1 mm"),
        material=choose_material(find_metal("sterling"), "hard"),
        inside_mm=5.0,
        cut=Cutters.for_wire(1.0),
        wire_length_mm=1000.0,
    )
    assert (
        as_text(ring_report(batch), 160)
        == """\
wire    1 mm: 1.000 mm (0.0394 in, 3/64 in - 0.191 mm)
metal   sterling silver, hard
wanted  ID 5.000 mm, OD 7.000 mm, AR 5.000

From the mandrel to the closed ring
                mm     inch  nearest 1/64         band  basis
mandrel      4.893   0.1926  3/16 in + 0.131 mm         worked back from the wanted inside of 5.000 mm
springback  +0.417  +0.0164                             sterling silver, hard: one figure, no band: \
tensile 496 MPa (alloy data), E 75 GPa (from memory); mean
                                                        diameter opens 7.1 %
coil ID      5.310   0.2091  13/64 in + 0.151 mm        (mandrel + wire) x springback - wire
cut         -0.310  -0.0122                             cutters: trim 1.000 mm = 1 wire, common practice: measure yours
closed ID    5.000   0.1969  13/64 in - 0.159 mm        (turn - cut) / pi - wire
OD           7.000   0.2756  9/32 in - 0.144 mm         closed ID + 2 wires
AR           5.000                                      closed ID / wire

One turn, one ring
pitch                      1.000 mm
helix angle                2.89 deg
wire in one turn           19.850 mm
mass of one ring           0.1534 g
wire per ring, with waste  22.542 mm

Weighed at 10.36 g/cm3 (alloy data).

Wind
windings  turns to wind  turns released  length released, mm  sections  good rings
       1             50            46.7                 47.7         1          44

In all 992 mm of wire for 44 rings, 8 mm left over; 2 rejects and 65 mm of tails per winding.

a bad cut  trim and file it; it closes smaller
finish     about an hour in a tumbler with stainless shot, never rusty steel

The nearest rods, and the ring off each
rod                             diameter, mm  closed ID, mm  off, mm  OD, mm     AR
ground rod 4.9 mm  ground rod          4.900          5.008   +0.008   7.008  5.008
drill #10          drill shank         4.915          5.025   +0.025   7.025  5.025
5.0 mm             metric              5.000          5.123   +0.123   7.123  5.123
3/16 in            inch                4.762          4.851   -0.149   6.851  4.851"""
    )


def test_one_ring_is_one_ring() -> None:
    from click.testing import CliRunner

    from jigs.cli import cli

    said = CliRunner().invoke(cli, ["ring", "--wire", "1 mm", "--inside", "6 mm", "--rings", "1"]).output
    assert " of wire for 1 ring; 2 rejects" in said
