"""The groove of a bench pin as it is seen from the front, at true size, with a coil in it."""

from __future__ import annotations

from jigs.making.pin import Groove, Point
from layouts.drawing.dimension import across, along
from layouts.drawing.marks import Draft, Drawing, union
from layouts.drawing.pens import Role
from layouts.drawing.words import HEADING, WORDS, write
from layouts.lengths import are_inches, bare_short, sized_short

_BESIDE = 4.0  # wood shown beside the groove
_FIRST, _ROW = 5.5, 5.5  # from an outline to its dimensions, beside it and under it


def groove_section(groove: Groove, thick: float, finger: float) -> Drawing:
    """The groove in a finger of wood so thick, as it is seen from the front, with its coil; all in mm.

    The bottom of the groove is at x = 0, the top face at y = 0.
    """
    draft, deep = Draft(), groove.depth_mm
    half = deep + min(_BESIDE, (finger - groove.width_mm) / 2)
    face = [(-half, 0.0), (-deep, 0.0), (0.0, -deep), (deep, 0.0), (half, 0.0)]
    draft.patch([(-half, -thick), *_break(-half, thick)[::-1], *face, *_break(half, thick), (half, -thick)], Role.TINT)
    draft.polyline(face, Role.CUT)
    draft.line(-half, -thick, half, -thick, Role.CUT)
    for side in (-half, half):
        draft.polyline([(side, 0.0), *_break(side, thick), (side, -thick)], Role.AID)
    draft.line(0.0, -deep, 0.0, -thick, Role.FOLD)
    r = groove.coil_outside_mm / 2
    draft.circle(0.0, groove.centre_mm, r, Role.TICK)
    draft.cross(0.0, groove.centre_mm, min(1.5, r / 2), Role.AID)
    _section_dimensions(draft, groove, thick, half)
    left, proud = union(mark.box for mark in draft)[0], groove.proud_mm
    draft.text(1.2, -deep - 3.4, "90°", WORDS)
    coil = f"coil Ø {bare_short(groove.coil_outside_mm)}"
    if _is_small(groove):
        draft.text(0.0, proud + 1.0, coil, WORDS, anchor="middle")
    else:
        draft.text(r + 1.2, 1.4, coil, WORDS)
    top = union(mark.box for mark in draft)[3]
    draft.text(left, top + 1.8, "Groove, from the front", HEADING, bold=True)
    share = f"{100 * proud / groove.coil_outside_mm:.0f} %"
    stands, touches = sized_short(proud), sized_short(groove.touch_mm)
    seat: tuple[str, ...] = (
        f"The coil stands {stands} proud, {share} of it,",
        f"and touches the sides {touches} down.",
    )
    if are_inches():  # longer by the other unit
        seat = f"It stands {stands} proud,", f"touches {touches} down."
    write(draft, (left, -thick - _ROW - 4.5), seat)
    return draft.trimmed("the section of the groove")


def _break(x: float, thick: float) -> list[Point]:
    """A zigzag where the wood goes on."""
    middle = -thick / 2
    return [(x, middle + 2), (x + 1, middle + 1), (x - 1, middle - 1), (x, middle - 2)]


def _is_small(groove: Groove) -> bool:
    """Whether figures of its depth and of how far the coil stands proud have no room one above the other."""
    return groove.depth_mm + groove.proud_mm < 2.2 * WORDS  # two figures and the gap between them


def _section_dimensions(draft: Draft, groove: Groove, thick: float, half: float) -> None:
    deep, proud, x = groove.depth_mm, groove.proud_mm, -half - _FIRST
    for y1, y2 in ((-thick, -deep), (-deep, 0.0)):
        along(draft, y1, y2, x, bare_short(y2 - y1), out_from=-half)
    low = _is_small(groove)  # then the figure of how far the coil stands proud moves to the right side
    along(
        draft,
        0.0,
        proud,
        half + _FIRST if low else x,
        bare_short(proud),
        out_from=half if low else -half,
        left=not low,
    )
    draft.line(-half - 0.8, -deep, -half, -deep, Role.AID)
    draft.line(*((1.0, proud, half + 0.8, proud) if low else (-half - 0.8, proud, -1.0, proud)), Role.AID)
    across(draft, -deep, deep, -thick - _ROW, bare_short(2 * deep), out_from=-thick)
