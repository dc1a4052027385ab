"""The pieces of a plan that are cut out of card, for a knife or a laser: a set for each seat, labels of spools."""

from __future__ import annotations

from jigs.guides.jobs import CutJob
from jigs.packing.sheets import Sheets
from jigs.planning.plan import Plan
from layouts.cutting.laying import Blank
from layouts.errors import OutOfRange

MOST_PIECES = 300  # some hours of a plotter


def pieces_to_cut(plan: Plan) -> CutJob:
    """Ring cards where a ring has room on one, labels and winding strips. Refuses (`OutOfRange`) too many to lay out.

    A drawing that several seats have is one blank, as often as there are seats.
    """
    sheets = Sheets(plan, "right", "")
    blanks = [
        Blank(drawing=drawing, count=group.seats)
        for group in plan.groups
        for job in sheets.jobs(group)
        for drawing in sheets.pieces(job)
    ]
    blanks += [Blank(drawing=drawing) for drawing in sheets.spools()]
    count = sum(blank.count for blank in blanks)
    if count > MOST_PIECES:
        raise OutOfRange(f"{count} pieces to cut", f"cut at most {MOST_PIECES}: take an order for fewer seats")
    return CutJob(
        title="Labels, ring cards, winding strips",
        blanks=tuple(blanks),
        facts=(("pieces", str(count)), ("seats", str(plan.order.seats))),
        notes=(
            "Ring card: rings and discs are outlines here, whose middle counts: lay the ring on its ring and look "
            "straight down. Measure the bars of a card before you trust it.",
            "Winding strip: lay its edge beside the coil, 0 where it begins; wind until a turn ends at an arrow.",
        ),
        cautions=("a wound coil is a spring and cut ends fly: protect your eyes (EN 166, ANSI Z87.1).",),
    )
