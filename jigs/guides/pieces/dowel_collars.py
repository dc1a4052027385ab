"""Collars for dowels, cut from sheet: they stop the dowel's end and show where its hole is pricked. And end discs.

A collar is a stack of square rings on a blind cap, glued: the dowel is pushed in until its end meets the cap, and the
rim then stands as far from the end as the rings are thick together. Lines on the top ring, opposite each other, meet
the dowel where the hole goes through. All mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from jigs.guides.jobs import CutFrom, CutJob
from jigs.making.drilled_dowel import DrilledDowel, least_from_end_mm
from layouts.cutting.laying import Blank
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, LINE_MM
from layouts.errors import OutOfRange
from layouts.lengths import are_inches, bare, sized, sized_short

SLIDES_MM = 0.15  # over the thickest that was measured: a dowel slides in and does not wobble
_WALL_MM = 6.0  # beside the dowel; the words go there
_PRICK_MM = 1.0  # hole in the middle of an end disc
_LEAST_DISC_MM = 5.0  # a smaller one has no room for it
MOST_RINGS = 12


def dowel_collars(material: CutFrom, dowels: Sequence[DrilledDowel]) -> CutJob:
    """For each dowel a collar and an end disc. Refuses material so thick that no stack of it is near the hole."""
    thick = material.needs_thickness("a collar is as deep as its layers are thick")
    blanks, facts, warnings = list[Blank](), list[tuple[str, str]](), list[str]()
    for number, drilled in enumerate(dowels, 1):
        count = _rings(drilled, thick)
        deep = count * thick
        facts.append((f"dowel {number}", f"Ø {sized(drilled.dowel.mean_mm, 2)}, drill {drilled.drill.name}"))
        facts.append((f"collar {number}", f"{count} rings, {sized_short(deep)} deep"))
        if abs(deep - drilled.from_end_mm) > 0.05:
            warnings.append(
                f"dowel {number}: {count} rings of {sized(thick)} set the hole {sized_short(deep)} from the end, not "
                f"{sized_short(drilled.from_end_mm)}"
            )
        warnings += (f"dowel {number}: {words}" for words in drilled.warnings)
        blanks += (Blank(drawing=drawing) for drawing in _collar(number, drilled, count, deep))
        blanks.append(Blank(drawing=_end_disc(drilled)))
    return CutJob(
        title="Collars for dowels",
        blanks=tuple(blanks),
        facts=tuple(facts),
        notes=(
            "Glue the rings of a number on their cap, squares flush, the ring with the lines on top. No glue inside.",
            "Push the dowel in until its end meets the cap. Prick it at the rim where each of the two lines meets it: "
            "the hole goes through there, as far from the end as the rings are deep.",
            f"The hole of a ring is {sized(SLIDES_MM)} wider than the dowel at its thickest: try it, and ease it with "
            "fine paper if it is tight.",
            "End disc: prick the middle of the dowel's end through it, or glue it on, its line along the hole.",
        ),
        cautions=(
            "clamp the dowel on a vee to drill it, scrap under the exit, never hold it in the hand; no gloves, loose "
            "sleeves or hair near the drill (EN 510); protect your eyes (EN 166, ANSI Z87.1).",
        ),
        warnings=tuple(warnings),
    )


def _rings(drilled: DrilledDowel, thick: float) -> int:
    """As many rings as come nearest to the hole's distance from the end, and leave enough wood beside it."""
    least = math.ceil(least_from_end_mm(drilled.hole_mm) / thick - 1e-6)
    count = max(least, round(drilled.from_end_mm / thick), 1)
    if count > MOST_RINGS:
        raise OutOfRange(
            f"a collar of {count} rings of {sized(thick)}", f"take thicker sheet: {MOST_RINGS} rings at most"
        )
    return count


def _collar(number: int, drilled: DrilledDowel, count: int, deep: float) -> Iterator[Drawing]:
    """The cap and the rings of a collar, the top one with the lines."""
    bore = max(drilled.dowel.measured_mm) + SLIDES_MM
    side = math.ceil(bore + 2 * _WALL_MM)
    middle = side / 2
    for place in range(count + 1):
        draft = Draft()
        draft.rectangle(0.0, 0.0, side, side, Role.CUT)
        if place:
            draft.circle(middle, middle, bore / 2, Role.CUT)
        if place in (0, count):
            for low, high in ((0.0, (side - bore) / 2), ((side + bore) / 2, float(side))):
                draft.line(middle, low + 0.5, middle, high - (0.3 if low == 0.0 else 0.5), Role.TICK)
        words = f"{number}: {place}/{count}" if place else f"{number}: cap"
        draft.text(1.2, 1.4, words, FIGURE)
        if place == count:  # beside the line, in two rows: on a small collar one would run over it
            for row, said in enumerate((f"{bare(deep, 1)} {'in' if are_inches() else 'mm'}", "deep")):
                top = side - 1.4 - lettering.ASCENT * FIGURE - row * LINE_MM
                draft.text(side - 1.2, top, said, FIGURE, anchor="end")
        yield draft.drawing(side, side, f"{'ring' if place else 'cap'} of the collar of dowel {number}")


def _end_disc(drilled: DrilledDowel) -> Drawing:
    """A disc of the dowel's size with the line of the hole, square to it a shorter one, and a hole to prick through."""
    draft, size = Draft(), drilled.dowel.mean_mm
    r = size / 2
    draft.circle(r, r, r, Role.CUT)
    gap = _PRICK_MM / 2 + 0.4 if size >= _LEAST_DISC_MM else 0.0
    if gap:
        draft.circle(r, r, _PRICK_MM / 2, Role.CUT)
        for way in (-1, 1):
            draft.line(r, r + way * gap, r, r + way * (r - 0.4), Role.TICK)
            draft.line(r + way * gap, r, r + way * (gap + r) / 2, r, Role.TICK)
    else:
        draft.line(r, 0.3, r, size - 0.3, Role.TICK)
    return draft.drawing(size, size, f"the end disc of a dowel of {sized(size, 2)}")
