"""How the saw runs along a coil: one wall only. A picture that is not at true size, and the steps."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.making.pin import SAW_DEG, coil_in_front_mm
from layouts.drawing.dimension import across
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import HEADING, WORDS
from layouts.lengths import bare_short

SAW_HEADING = "how the saw runs"
# of the coil in the picture, mm: few turns of thick wire, so that it can be made out
_WIRE, _INSIDE, _TURNS = 1.7, 6.0, 16


def saw_picture(inside_mm: float | None = None) -> Drawing:
    """The coil on its core from the side, front to the left, the blade at its limit; some 40 by 32 mm.

    The picture is one for all coils; with `inside_mm` the figure at its dimension is that coil's.
    """
    draft, wire, inside = Draft(), _WIRE, _INSIDE
    upper, length = wire + inside, _WIRE * _TURNS
    # The pin under the coil, its front edge at x = 0, and the core within, both cut along the middle.
    foot, groove, end = -8.0, -1.7, length + 5.0
    draft.bar(0.0, foot, end, groove - foot, Role.TINT)
    draft.polyline([(end, foot), (0.0, foot), (0.0, groove), (end, groove)], Role.LABEL)
    draft.bar(0.0, wire, end, inside, Role.TINT)
    draft.polyline([(end, wire), (0.0, wire), (0.0, upper), (end, upper)], Role.LABEL)
    # The blade through the lower edge of the open end, which is as deep as it may go; teeth forward and down.
    low, high, thick, slope = -7.5, 13.0, 0.9, math.tan(math.radians(SAW_DEG))
    draft.patch([(x, wire + slope * x + shift) for x, shift in ((low, 0), (high, 0), (high, thick), (low, thick))])
    for x in range(-7, 13):
        y = wire + slope * x
        draft.patch([(x, y), (x + 0.55, y + 0.55 * slope), (x + 0.5, y - 0.25)])
    tip = -9.0, wire + slope * -9.0 + thick / 2
    draft.patch([tip, (tip[0] + 1.9, tip[1] + 0.9), (tip[0] + 0.9, tip[1] + 1.9)])
    for turn in range(_TURNS):
        middle = wire * (turn + 0.5)
        draft.circle(middle, wire / 2, wire / 2, Role.TICK)
        draft.circle(middle, upper + wire / 2, wire / 2, Role.TICK)
    reach = f"≤ {bare_short(coil_in_front_mm(inside_mm), 1)}" if inside_mm else "≤ ID"
    top = upper + wire + 6.0
    across(draft, 0.0, inside / slope, top, reach, out_from=upper + wire)
    draft.arc(0.0, wire, 3.2, 0.0, SAW_DEG, Role.AID)
    draft.text(4.2, wire + 1.0, f"{SAW_DEG:g}°", WORDS)
    draft.text(12.2, wire + 14.4, "blade", WORDS)
    draft.text(-5.2, -7.6, "pull", WORDS)
    hold, coil = length - 1.0, upper + wire
    draft.line(hold, coil + 4.6, hold, coil + 1.4, Role.TICK)
    draft.patch([(hold, coil + 0.5), (hold + 0.7, coil + 2.2), (hold - 0.7, coil + 2.2)], Role.LABEL)
    draft.text(hold, coil + 5.4, "hold down", WORDS, anchor="middle")
    draft.text(length / 2 + 2.0, -5.8, "bench pin", WORDS, anchor="middle")
    draft.text(-9.0, -11.6, "Not at true size. ID: inside of the coil.", WORDS)
    draft.text(-9.0, top + 4.6, SAW_HEADING.capitalize(), HEADING, bold=True)
    return draft.trimmed(SAW_HEADING)


def saw_steps() -> Iterator[str]:
    """What lies still and what moves, who holds what; common practice, no source, but for the figure."""
    yield (
        "Wood inside the coil, never metal; tape a loose coil. Snip the tail. Slide the coil to the end of the core"
        " that has no cross-hole, ends flush."
    )
    yield "Core and coil lie still, front to back, the open end at the front edge; the holding hand presses them down."
    yield (
        f"Only the saw moves, its blade at about {SAW_DEG:g}° to the axis and never across it: in at the upper edge of"
        " the open end, back through the upper wall, out of the open end. The lower wall stays whole."
    )
    yield (
        f"Keep no more coil in front of the blade than its inside / tan {SAW_DEG:g}° (as long as it is wide), cut"
        " rings still on it included; or the lower wall is cut too."
    )
    yield "Rings gather on the blade. Slide the coil forward by what has fallen, and go on."
