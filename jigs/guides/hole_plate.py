"""A plate of holes to sort rings by their outside: a ring drops through the holes that are larger than it is."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import CutFrom, CutJob, SolidJob
from jigs.making.ring import Ring
from jigs.stock.wire import Wire
from layouts.cutting.laying import Blank
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.shapes import rounded
from layouts.drawing.words import HEADING, NAME, WORDS
from layouts.errors import Give, OutOfRange, QuantityRefused
from layouts.lengths import bare, sized, unit_said
from layouts.units import positive

if TYPE_CHECKING:
    from layouts.machines.machine import Machine

SMALLEST_MM, LARGEST_MM = 1.5, 60.0  # a hole that a laser cuts round, and one that is still lifted with one hand
MOST = 60
_WALL_MM = 3.5  # of the plate between holes and at its sides
_CORNER_MM, _HANG_MM = 3.0, 4.0  # radius of its corners, hole to hang it by
_WIDE_MM = 180.0  # rows longer than this are broken
_WORDS_MM = 4.2  # under each hole


def hole_plate(material: CutFrom, outsides_mm: Sequence[float], tolerance_mm: float | None = None) -> CutJob:
    """A plate with a hole for every outside diameter [mm]; with a tolerance two, between which a good ring lies.

    Refuses (`OutOfRange`) no size, too many, a repeated one, and one that no plate has room for.
    """
    sizes = sorted(positive(size, "an outside diameter") for size in outsides_mm)
    if not sizes:
        raise OutOfRange("a plate without a hole", "give one or more outside diameters, such as 7 mm")
    if len(sizes) > MOST:
        raise OutOfRange(f"{len(sizes)} sizes on one plate", f"give at most {MOST}")
    if any(other - one < 0.005 for one, other in pairwise(sizes)):
        raise OutOfRange("an outside diameter that comes twice", "give each once")
    apart = positive(tolerance_mm, "tolerance") if tolerance_mm is not None else 0.0
    rows = [[size + way * apart for size in sizes] for way in ((1, -1) if apart else (1,))]
    holes = [hole for row in rows for hole in row]
    if not (min(holes) >= SMALLEST_MM and max(holes) <= LARGEST_MM):
        wrong = min(holes) if min(holes) < SMALLEST_MM else max(holes)
        raise OutOfRange(f"a hole of {sized(wrong, 2)} in a plate", f"give {SMALLEST_MM:g} mm to {LARGEST_MM:g} mm")
    good = material.said_good_for("hole", holes)
    use = "Lay a ring flat on a hole and look straight down: the smallest that it drops through is next above its size."
    if apart:
        use = "A good ring drops through its hole of the upper row and stays on that of the lower."
    sure = f"The holes are good to {good} (k = 2), the machine as it was measured." if good else _NOT_TRIED
    return CutJob(
        title="Plate of holes",
        blanks=(Blank(drawing=_plate(rows, good)),),
        facts=(("outside", f"{bare(sizes[0], 2)} to {sized(sizes[-1], 2)}"), ("holes", str(len(holes)))),
        notes=(use, sure, "Take off the burr: a ring that catches on it passes for a larger one."),
        warnings=tuple(_doubts(sizes, apart, material.good_for_mm("hole", max(holes)))),
    )


def _doubts(sizes: Sequence[float], apart: float, good_mm: float | None) -> Iterator[str]:
    """What its holes cannot tell apart: sizes whose windows overlap, and what is finer than the machine is good for."""
    step = min((other - one for one, other in pairwise(sizes)), default=0.0)
    if step and apart and 2 * apart > step + 1e-6:
        yield (
            f"its sizes lie {sized(step, 2)} apart, and a tolerance of {sized(apart, 2)} each way makes their windows "
            "overlap: a ring may pass as two of them"
        )
    for finest, what in ((step, "steps"), (apart, "a tolerance")):
        if good_mm and 0 < finest < good_mm:
            yield f"{what} of {sized(finest, 2)}, finer than the {sized(good_mm, 2)} that each hole is good for"


_NOT_TRIED = (
    "What the holes are good for is not known: try each with a drill shank, or measure the machine by a coupon. Until "
    "then sort rings by them, and do not measure any."
)


def _plate(rows: Sequence[Sequence[float]], good: str) -> Drawing:
    """Each row of holes with its sizes below, broken where it would be too long, under one heading."""
    heads = ("drops through", "stays on") if len(rows) > 1 else ("",)
    cells = [  # of each column the widest hole, or its size in figures if that is wider, and the wall beside it
        max(max(size, lettering.width_mm(bare(size, 2), WORDS)) + _WALL_MM for size in column)
        for column in zip(*rows, strict=True)
    ]
    spans = _broken(cells)
    lines = [
        (head if number == 0 else "", row[first:last], cells[first:last])
        for head, row in zip(heads, rows, strict=True)
        for number, (first, last) in enumerate(spans)
    ]
    title = f"outside Ø, {unit_said()}" + (f"  {good} (k = 2)" if good else "")
    width = max(
        max(sum(cells[first:last]) for first, last in spans) + _WALL_MM,
        lettering.width_mm(title, HEADING, bold=True) + 3 * _WALL_MM + _HANG_MM,
    )
    height = 10.0 + sum(max(line) + _WORDS_MM + _WALL_MM + (4.0 if head else 0.0) for head, line, _ in lines)
    draft, y = Draft(), height - 7.0
    rounded(draft, (0.0, 0.0, width, height), _CORNER_MM)
    draft.circle(width - _WALL_MM - _HANG_MM / 2, height - _WALL_MM - _HANG_MM / 2, _HANG_MM / 2, Role.CUT)
    draft.text(_WALL_MM, y, title, HEADING, bold=True)
    y -= 3.0
    for head, line, wide in lines:
        if head:
            y -= 4.0
            draft.text(_WALL_MM, y + 1.6, head, NAME)
        x, tallest = _WALL_MM, max(line)
        for size, cell in zip(line, wide, strict=True):
            middle = x + (cell - _WALL_MM) / 2
            draft.circle(middle, y - tallest / 2, size / 2, Role.CUT)
            draft.text(middle, y - tallest - 3.0, bare(size, 2), WORDS, anchor="middle")
            x += cell
        y -= tallest + _WORDS_MM + _WALL_MM
    return draft.drawing(width, height, "the plate of holes")


def _broken(cells: Sequence[float]) -> list[tuple[int, int]]:
    """From which cell to which each line goes, so that none is too long."""
    starts, room = [0], _WIDE_MM
    for number, cell in enumerate(cells):
        if room < cell and number > starts[-1]:
            starts.append(number)
            room = _WIDE_MM
        room -= cell
    return list(pairwise((*starts, len(cells))))


def _cut(
    material: CutFrom,
    wire: tuple[Wire, ...],
    inside: tuple[float, ...],
    outside: tuple[float, ...],
    tolerance: float | None,
) -> CutJob:
    return hole_plate(material, _outsides(wire, inside, outside), tolerance)


def _solid(
    machine: Machine | None,
    wire: tuple[Wire, ...],
    inside: tuple[float, ...],
    outside: tuple[float, ...],
    tolerance: float | None,
) -> SolidJob:
    from jigs.guides.pieces import plate_of_holes  # for what is cut it is not needed

    sizes = _outsides(wire, inside, outside)
    if tolerance is None:
        return plate_of_holes.hole_plate_job(sizes, machine)
    pairs = [size + way * tolerance for size in sizes for way in (-1, 1)]
    apart = sized(2 * tolerance, 2)
    pair = f"A good ring drops through the larger of its two holes and stays on the smaller, {apart} less."
    return plate_of_holes.hole_plate_job(pairs, machine, (*plate_of_holes.USE[:1], pair, *plate_of_holes.USE[2:]))


def _outsides(wire: tuple[Wire, ...], inside: tuple[float, ...], outside: tuple[float, ...]) -> tuple[float, ...]:
    """The outside of every ring that was given, by itself or by its wire and inside, mm."""
    if inside and not wire:
        raise QuantityRefused(
            "no wire is given: an inside alone has no outside", remedies=(Give(field="wire", example="1.2 mm"),)
        )
    if not (inside or outside):
        raise QuantityRefused("no size is given", remedies=(Give(field="outside", example="5 mm..9 mm by 0.5 mm"),))
    rings = [Ring(wire_mm=one.diameter_mm, inside_mm=size).outside_mm for one in wire for size in inside]
    return (*outside, *rings)


SHEET = Sheet(
    name="hole-plate",
    summary="A plate of holes that sorts rings by their outside.",
    about=(
        "A plate of holes to sort rings by their outside; with a tolerance two holes for each, one that a good ring"
        " drops through and one that it stays on.",
    ),
    fields=(
        Asked(key="outside", kind=AskedKind.LENGTHS, help="Outside diameters.", repeatable=True),
        Asked(
            key="wire",
            kind=AskedKind.WIRE,
            help="Of rings given by their inside.",
            repeatable=True,
        ),
        Asked(key="inside", kind=AskedKind.LENGTHS, help="Inside diameters of rings.", repeatable=True),
        Asked(key="tolerance", kind=AskedKind.LENGTH, help="Of the outside, each way."),
    ),
    cut=_cut,
    solid=_solid,
    solid_examples=(
        {"outside": "6 mm..8 mm by 0.2 mm", "format": "3mf,pdf"},
        {"wire": "1.2 mm", "inside": "5 mm", "tolerance": "0.1 mm"},
    ),
    cut_examples=(
        {"outside": "5 mm..9 mm by 0.5 mm", "material": "acrylic", "kerf": "0.18 mm"},
        {"wire": "1.2 mm", "inside": "5 mm", "tolerance": "0.1 mm"},
    ),
    place=22,
    use="drop rings on it: each passes the holes that are larger",
)
