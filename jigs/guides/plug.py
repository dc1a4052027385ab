"""A stepped plug, printed as a solid: a ring is let down on it, and the step that it stops on judges its inside."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial
from typing import TYPE_CHECKING

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import SolidJob
from jigs.guides.pieces.solid_leaf import (
    CAUTIONS,
    ENGRAVED_MM,
    LETTERS_MM,
    finer_than_trust,
    good_for,
    in_the_hand,
    leaf_drawings,
    made_for,
    refuse_alike,
    size_table,
    trust_note,
)
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing
from layouts.errors import OutOfRange
from layouts.lengths import bare_short, sized, sized_short, unit_said
from layouts.pages.page import Content, Field
from layouts.units import positive

if TYPE_CHECKING:
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid
    from layouts.solids.outlines import Polygon

STEP_MM = 6.0  # high: more than the wire of any ring that it takes
BASE_MM = 5.0
EDGE_MM = 4.0
CORNER_MM = 3.0
FLAT = 0.8  # from the axis to the flat at the front, in radii: three quarters of the round are left
NOTCH_MM, NOTCH_HALF_MM = 0.6, 0.65  # deep at the most, and half its height: it slants by less than 45 degrees
NOTCH_SHARE = 0.3  # deep at the most, of the radius
ROOF_MM = 0.5  # the edge at the top is broken by so much
LEAST_MM, MOST_MM = 2.0, 40.0
MOST_STEPS = 14
SLENDER = 14.0  # heights over the thinnest step: a thinner plug wobbles as it is printed
_CAPITALS_MM = lettering.CAP_HEIGHT * LETTERS_MM
_LINE_MM = _CAPITALS_MM + 2.6
_FLAT_SHARE = 0.35  # half the width of a notch, in radii; the flat is 0.6 to either side


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """Steps of the given diameters [mm], the thickest at the foot; corrected for a machine if given.

    Refuses (`OutOfRange`) steps too thin or too thick, the same one twice, and a plug too slender to be printed.
    """

    sizes_mm: tuple[float, ...]
    machine: Machine | None = None

    def __post_init__(self) -> None:
        if not 1 <= len(self.sizes_mm) <= MOST_STEPS:
            raise OutOfRange(f"a plug of {len(self.sizes_mm)} steps", f"give 1 to {MOST_STEPS} sizes")
        refuse_alike(self.sizes_mm)
        for size in self.sizes_mm:
            if not LEAST_MM <= positive(size, "a step") <= MOST_MM:
                said = f"a step of {sized_short(size, 3)} on a plug"
                raise OutOfRange(said, f"give {sized_short(LEAST_MM)} to {sized_short(MOST_MM)}")
        thinnest = min(self.sizes_mm)
        if self.rise_mm > SLENDER * thinnest:
            most = math.floor(SLENDER * thinnest / STEP_MM)
            steps = f"{len(self.sizes_mm)} steps on {sized_short(thinnest, 3)}"
            said = f"a plug of {steps}, {sized(self.rise_mm, 0)} high, is too slender"
            raise OutOfRange(said, f"give at most {most} sizes, or begin with a thicker one")

    @property
    def upwards(self) -> tuple[float, ...]:
        """The sizes from the foot to the top."""
        return tuple(sorted(self.sizes_mm, reverse=True))

    @property
    def rise_mm(self) -> float:
        """How high the steps are above the base."""
        return STEP_MM * len(self.sizes_mm)

    @property
    def words(self) -> tuple[str, ...]:
        """What is engraved on the base beside the plug: what it judges, and the sizes as they stand, the top first."""
        worst = good_for(self.machine, "pin", max(self.sizes_mm))
        return (f"INSIDE {unit_said()}", worst, *(bare_short(size, 2, 1) for size in sorted(self.sizes_mm)))

    @property
    def column_mm(self) -> float:
        """How wide those words are."""
        return max(lettering.width_mm(line, LETTERS_MM, bold=True) for line in self.words)

    @property
    def base_mm(self) -> tuple[float, float]:
        """Of the base, across and from front to back."""
        across = max(self.sizes_mm) + self.column_mm + 3 * EDGE_MM
        return across, max(max(self.sizes_mm), _LINE_MM * len(self.words) - 2.6) + 2 * EDGE_MM

    @property
    def axis(self) -> tuple[float, float]:
        """Where the plug stands on the base."""
        return EDGE_MM + max(self.sizes_mm) / 2, self.base_mm[1] / 2

    def drawn_mm(self, size_mm: float) -> float:
        """The step to draw so that it comes out as wanted."""
        return self.machine.drawn_mm("pin", size_mm) if self.machine else size_mm

    def solid(self) -> Solid:
        """The plug as a body that stands on its base."""
        from layouts.solids import need_mesh_library

        need_mesh_library()
        from layouts.solids import outlines
        from layouts.solids.body import Solid
        from layouts.solids.layers import Layer, stacked, upright

        radii = [self.drawn_mm(size) / 2 for size in self.upwards]
        count = outlines.sides_of(radii[0], outlines.CHORD_MM / 2)  # a caliper reads two sides
        edge = outlines.rounded(0.0, 0.0, *self.base_mm, CORNER_MM)
        foot = self._section(radii[0], 0.0, count)
        layers = [
            upright(0.0, BASE_MM - ENGRAVED_MM, edge),
            upright(BASE_MM - ENGRAVED_MM, BASE_MM, edge, self._letters()),
        ]
        below, height = foot, BASE_MM
        for number, radius in enumerate(radii):
            top = BASE_MM + STEP_MM * (number + 1)
            last = number == len(radii) - 1
            until = top - (ROOF_MM if last else NOTCH_HALF_MM)
            layers.append(Layer(low_mm=height, high_mm=until, outlines=(below,)))
            if last:
                roof = self._section(radius - ROOF_MM, 0.0, count)
                layers.append(Layer(low_mm=until, high_mm=top, outlines=(below,), top=(roof,)))
                break
            notched = self._section(radius, min(NOTCH_MM, NOTCH_SHARE * radius), count)
            above = self._section(radii[number + 1], 0.0, count)
            height = top + NOTCH_HALF_MM
            layers.append(Layer(low_mm=until, high_mm=top, outlines=(below,), top=(notched,)))
            layers.append(Layer(low_mm=top, high_mm=height, outlines=(notched,), top=(above,)))
            below = above
        low, high = min(self.sizes_mm), max(self.sizes_mm)
        title = f"Stepped plug, {len(self.sizes_mm)} steps, {sized_short(low)} to {sized_short(high)} inside"
        return Solid(title=title, bodies=(stacked("stepped plug", layers),))

    def _section(self, radius: float, notch: float, count: int) -> Polygon:
        """A round with a flat at the front, and in that a notch. Its corners lie on the circle."""
        x, y = self.axis
        half = math.pi - math.acos(FLAT)  # from the back of the round to either end of the flat
        steps = math.ceil(count * half / math.pi)
        turns = (math.pi / 2 + half * (2 * step / steps - 1) for step in range(steps + 1))
        arc = tuple((x + radius * math.cos(turn), y + radius * math.sin(turn)) for turn in turns)
        # A hair out of the flat even without a notch: three corners on one line make triangles without area.
        front = y - FLAT * radius + notch + 0.02
        return (*arc, (x - _FLAT_SHARE * radius, front), (x + _FLAT_SHARE * radius, front))

    def _letters(self) -> tuple[Polygon, ...]:
        from layouts.solids import outlines

        across, along = self.base_mm
        left, top = across - EDGE_MM - self.column_mm, (along + _LINE_MM * len(self.words) - 2.6) / 2
        return tuple(
            polygon
            for number, line in enumerate(self.words)
            for polygon in outlines.words(line, left, top - _CAPITALS_MM - _LINE_MM * number, LETTERS_MM, anchor=0.0)
        )


USE = (
    "Close the ring, and check that it has no burr inside.",
    "Let it down on the plug, level, without force. The step that it hangs on is too thick for it.",
    "Its inside is the step above that: count the steps from the top by the notches at the front, and find the size in "
    "the list on the base, whose first is the top.",
    "Where it hangs between two, its inside lies between them.",
)


def plug_leaf(plug: Plug, solid: Callable[[], Solid]) -> Content:
    """The leaf of a plug: its sizes and what they are good for, how to print it, how to use it."""

    def draw(field: Field) -> Sequence[Drawing]:
        sizes = partial(size_table, plug.machine, "pin", sorted(plug.sizes_mm), "Steps, from the top")
        return leaf_drawings(field, solid, sizes, USE)

    size = in_the_hand((*plug.base_mm, BASE_MM + plug.rise_mm))
    return Content(
        title="Stepped plug",
        facts=(
            ("judges", "the inside"),
            ("steps", f"{len(plug.sizes_mm)}"),
            ("plug", size),
            ("for", made_for(plug.machine, "pin")),
        ),
        draw=draw,
        notes=(trust_note(plug.machine, "pin"),),
        cautions=CAUTIONS,
    )


def _solid(machine: Machine | None, inside: tuple[float, ...]) -> SolidJob:
    plug = Plug(sizes_mm=inside, machine=machine)
    solid = cache(partial(Plug.solid, plug))
    return SolidJob(
        solid=solid,
        leaf=plug_leaf(plug, solid),
        warnings=finer_than_trust(machine, "pin", plug.sizes_mm),
    )


SHEET = Sheet(
    name="plug",
    summary="A stepped plug: judges the inside of rings.",
    about=(
        "A stepped plug: a ring let down on it hangs on the step that is too thick for it.",
        "It is a gauge only for a machine that was measured in this material: then each step is drawn so that it"
        " comes out right, and how well is engraved beside it.",
    ),
    fields=(
        Asked(
            key="inside",
            kind=AskedKind.LENGTHS,
            help="Sizes of the steps.",
            default="4.6 mm..5.4 mm by 0.2 mm",
            repeatable=True,
        ),
    ),
    solid=_solid,
    solid_examples=({}, {"inside": ("4.9 mm", "5.1 mm"), "format": "3mf,pdf"}),
    place=24,
    use="let a ring down on it",
)
