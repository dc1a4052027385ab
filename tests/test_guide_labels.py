"""Labels: the ring at true size, the words, the frame."""

from __future__ import annotations

from dataclasses import replace

import pytest
from golden import assert_drawn_as_golden

from jigs.guides.labels import WIDTH_MM, Bag, bag_label, spool_label
from jigs.making.ring import Ring
from jigs.stock.wire import parse_wire
from layouts.drawing.marks import Annulus, Drawing, Polyline, Text
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange

BAG = Bag(
    name="chain ring",
    wire=parse_wire("1.2 mm"),
    metal="phosphor bronze, soft",
    ring=Ring(wire_mm=1.2, inside_mm=5.0),
    mandrel="drill 4.90 mm",
    count="50 and 8 spare",
    cut="saw, blade 3/0",
    wires="4 × 373, 1 × 238 mm",
)


def rings(drawing: Drawing) -> list[Annulus]:
    return [mark for mark in drawing.marks if isinstance(mark, Annulus)]


def words(drawing: Drawing) -> list[str]:
    return [mark.string for mark in drawing.marks if isinstance(mark, Text)]


def test_the_ring_is_black_from_its_inside_to_its_outside() -> None:
    (ring,) = rings(bag_label(BAG))
    assert (2 * ring.r_inner, 2 * ring.r_outer) == pytest.approx((5.0, 7.4))  # OD = ID + 2 d


def test_a_bag_says_metal_temper_wire_mandrel_sizes_and_count() -> None:
    assert words(bag_label(BAG))[:11] == [
        "chain ring",
        "wire",
        "1.200 mm phosphor bronze, soft",
        "ring",
        "ID 5.00, OD 7.40 mm, AR 4.17",
        "mandrel",
        "drill 4.90 mm; saw, blade 3/0",
        "lengths",
        "4 × 373, 1 × 238 mm",
        "rings",
        "50 and 8 spare",
    ]


def test_a_gauge_has_its_millimetres_beside_it() -> None:
    assert "16 AWG (1.291 mm) phosphor bronze, soft" in words(bag_label(replace(BAG, wire=parse_wire("16 AWG"))))


def test_in_a_class_the_seat_is_written_in_and_else_the_date() -> None:
    assert "seat" in words(bag_label(BAG, each_seat=True))
    assert "date" in words(bag_label(BAG))


@pytest.mark.parametrize("inside_mm", [0.3, 40.0])
def test_a_ring_too_small_or_too_large_to_print_is_not_drawn(inside_mm: float) -> None:
    assert rings(bag_label(replace(BAG, ring=Ring(wire_mm=1.2, inside_mm=inside_mm)))) == []


@pytest.mark.parametrize("inside_mm", [0.6, 5.0, 21.0, 33.0])
def test_a_label_is_framed_by_its_cut_line_and_whole_modules_tall(inside_mm: float) -> None:
    label = bag_label(replace(BAG, ring=Ring(wire_mm=1.2, inside_mm=inside_mm)))
    frame = next(mark for mark in label.marks if isinstance(mark, Polyline) and mark.role is Role.CUT)
    assert frame.points[2] == (WIDTH_MM, label.height_mm)
    assert label.height_mm % 11 == 0
    for ring in rings(label):
        assert ring.y - ring.r_outer > 0.5
        assert ring.y + ring.r_outer < label.height_mm - 0.5


def test_a_spool_says_its_wire_and_what_it_is_for() -> None:
    label = spool_label(parse_wire("1.2 mm"), "copper, soft", [("length", "2 m"), ("for", "chain ring")])
    assert words(label) == ["1.200 mm copper, soft", "length", "2 m", "for", "chain ring", "opened"]


def test_a_label_without_a_name_is_refused() -> None:
    with pytest.raises(OutOfRange, match="a label without a name; say what it is for"):
        bag_label(replace(BAG, name=" "))


def test_the_label_is_as_it_was() -> None:
    assert_drawn_as_golden("label.txt", [bag_label(BAG, each_seat=True)])
