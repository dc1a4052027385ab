"""The winding strip: laid beside a coil, it counts the turns by their length at the coil's pitch.

n turns that touch are n x pitch + d long, outside to outside; so the mark of turn n stands there, from the edge at
which the coil begins.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigs.making.coil import Coil
from jigs.making.winding import CoilPlan
from jigs.planning.shares import Lot
from jigs.reports.words import plural
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, NAME, WORDS, lines
from layouts.errors import OutOfRange
from layouts.lengths import sized_short
from layouts.pages.nested import PIECE_MM, piece_height_mm

WIDTH_MM = PIECE_MM  # as wide as a label: one cut serves both
_INSET_MM = 3.0  # from the strip's left side to where the coil begins
_TICKS = {10: 4.2, 5: 3.2, 1: 2.0}  # length of a mark that every so many turns have
_APART_MM = 0.6  # marks closer than this run together on paper (common practice, no source)
_FIGURES_Y = 6.4  # from the edge down to the figures' baseline
_ZERO_Y = 8.4  # and to that of the 0
_FLAGS_Y = 7.2, 9.2  # down to the tips and the feet of the arrows
_WORDS_Y = 12.8  # down to the first line of words
_LINE_MM = 3.1


def winding_strip(name: str, wire: str, coil: Coil, windings: Sequence[Lot | CoilPlan]) -> Drawing:
    """A strip to cut out for the coil of one ring: a mark for every turn, longer at 5 and 10, arrows where to stop.

    `name` and `wire` are words that tell it from others. Refuses a strip with nothing to wind (`OutOfRange`).
    """
    if not windings:
        raise OutOfRange(f"a winding strip for {name} with nothing to wind", "give one coil or more")
    room = WIDTH_MM - _INSET_MM - 2.0
    said = [(line, True) for line in lines(f"{name} · {wire}", room, NAME, bold=True)]
    how, most = f"Turns must touch: pitch {sized_short(coil.pitch_mm)}.", turns_on_strip(coil)
    if _step(coil) > 1:
        how += f" Each mark is {_step(coil)} turns."
    if max(lot.turns for lot in windings) > most:
        tens = most // 10 * 10
        how += f" For a longer coil, tie a thread round at {tens}, start again there from 0 and add {tens}."
    coils = []  # '4 × 16 turns (15.6 once released), 13 good rings each'
    for lot in windings:
        sections = f", {lot.sections} sections" if lot.sections > 1 else ""
        rings = f"{plural(lot.rings, 'good ring')}{'' if lot.coils == 1 else ' each'}"
        coils.append(f"{lot.coils} × {lot.turns} turns ({lot.free_turns:.1f} once released){sections}, {rings}")
    words = f"{'; '.join(coils)}. {how}"
    said += [(line, False) for line in lines(words, room)]
    height = piece_height_mm(_WORDS_Y + _LINE_MM * (len(said) - 1) + 1.7)
    draft = Draft()
    draft.rectangle(0.0, 0.0, WIDTH_MM, height, Role.CUT)
    draft.line(_INSET_MM, height, _INSET_MM, height - _TICKS[10] - 1.4, Role.TICK)  # where the coil begins
    draft.text(_INSET_MM, height - _ZERO_Y, "0", FIGURE, anchor="middle", bold=True)
    _scale(draft, coil, windings, height)
    y = height - _WORDS_Y
    for line, bold in said:
        draft.text(_INSET_MM, y, line, NAME if bold else WORDS, bold=bold)
        y -= _LINE_MM
    return draft.drawing(WIDTH_MM, height, f"the winding strip of {name}")


def turns_on_strip(coil: Coil) -> int:
    """The most turns whose mark is on the strip."""
    return max(0, math.floor((WIDTH_MM - _INSET_MM - 2.0 - coil.wire_mm) / coil.pitch_mm))


def mark_mm(coil: Coil, turns: float) -> float:
    """Where a coil of so many turns ends, from the edge of the strip: n x pitch + d."""
    return _INSET_MM + coil.length_mm(turns)


def _scale(draft: Draft, coil: Coil, windings: Sequence[Lot | CoilPlan], height: float) -> None:
    """A mark for every turn, or every fifth where they would run together; figures where there is room; arrows."""
    last, step = turns_on_strip(coil), _step(coil)
    for turn in range(step, last + 1, step):
        x = mark_mm(coil, turn)
        long = next(length for every, length in _TICKS.items() if turn % every == 0)
        draft.line(x, height, x, height - long, Role.TICK)
    widest = lettering.width_mm(str(last), FIGURE) + 1.2
    every = next(tens for tens in (5, 10, 20, 50, 100, 500) if tens * coil.pitch_mm >= widest)
    for turn in range(every, last + 1, every):
        x = mark_mm(coil, turn)
        # the last figure stays on the strip
        draft.text(min(x, WIDTH_MM - 2.6), height - _FIGURES_Y, str(turn), FIGURE, anchor="middle")
    for lot in windings:
        if lot.turns <= last:
            x, (tip, foot) = mark_mm(coil, lot.turns), _FLAGS_Y
            draft.patch([(x, height - tip), (x + 0.9, height - foot), (x - 0.9, height - foot)])


def _step(coil: Coil) -> int:
    """How many turns a mark stands for."""
    return 1 if coil.pitch_mm >= _APART_MM else 5
