"""The sheet `bench-pin`: a template to glue on the wood, with a flap for its front face and a section of the groove.

The plan is drawn with the front of the pin towards the reader, as it lies at the bench; the flap under it folds down
over the front edge. Everything is at true size.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from jigs.guides.catalogue import Field as Asked
from jigs.guides.catalogue import Kind, Made, Sheet
from jigs.making.pin import (
    CLAMP_MM,
    GROOVE_DEPTH_SHARE,
    GROOVE_SETBACK_MM,
    HANDS,
    HOLE_MM,
    KERF_LENGTH_MM,
    LAYOUTS,
    SLIT_PAST_MM,
    USUAL_THICKNESS_MM,
    VEE_DEPTH_MM,
    VEE_MOUTH_MM,
    Groove,
    Pin,
    Point,
)
from jigs.stock.blade import Blade
from layouts.drawing.dimension import across, along
from layouts.drawing.marks import Anchor, Draft, Drawing, union
from layouts.drawing.pens import Role
from layouts.drawing.words import HEADING, WORDS, listing, write
from layouts.pages.page import Content, Field
from layouts.pages.sheet import GAP_MM
from layouts.showing import show_mm, show_number

_FIRST, _STEP = 5.5, 8.0  # from an outline to its first column of dimensions, and on to the next
_ROW = 5.5  # the same for rows
_NARROWEST_COLUMN = 50.0
_WIDEST_COLUMN = 110.0
_MIDDLE: Anchor = "middle"
_BEHIND = 5.0, 2.0  # wood shown behind the slit in the section, and where that is too wide


def bench_pin(pin: Pin) -> Content:
    """A template of the pin at true size with the section of its groove, how to make it and how to use it."""
    return Content(
        title="Bench pin",
        facts=tuple(_facts(pin)),
        draw=lambda field: _drawings(pin, field),
        notes=tuple(_notes(pin)),
        cautions=tuple(_cautions(pin)),
    )


def _facts(pin: Pin) -> Iterator[tuple[str, str]]:
    sizes = " × ".join(show_number(mm) for mm in (pin.length_mm, pin.width_mm, pin.thickness_mm))
    yield "wood", f"{sizes} mm"
    yield "hand", pin.hand
    if pin.groove:
        yield "coil outside", show_mm(pin.coil_outside_mm)
    if pin.groove or pin.kerf_xs:
        yield "blade", f"{pin.blade.name}, kerf {show_mm(pin.blade.kerf_mm)} ({pin.blade.kerf.basis.value})"
    yield "layout", ", ".join(pin.layouts)


def _notes(pin: Pin) -> Iterator[str]:
    yield "Where a figure and a printed line disagree, the figure counts: a line on paper is sure to ±0.1 mm at best."
    if pin.groove or pin.kerf_xs:
        yield "Kerfs are drawn as wide as the blade cuts. Saw one in scrap and measure it: makers' blades differ."
    yield "Sizes are common practice, no source; how the coil sits in the groove follows from the geometry."


def _cautions(pin: Pin) -> Iterator[str]:
    yield (
        "clamp the work and keep fingers off the saw's line; broken blades and cut ends fly: "
        "protect your eyes (EN 166, ANSI Z87.1)."
    )
    if pin.has_hole:
        yield "no gloves, loose sleeves or hair near the drill (EN 510); clamp the board, scrap under the exit."
    yield "wear a dust mask for wood dust; follow your workshop's rules and local codes."
    if pin.thickness_mm < USUAL_THICKNESS_MM:
        yield f"wood of {show_mm(pin.thickness_mm)} is thinner than the usual {USUAL_THICKNESS_MM:g} mm and bends."


def _drawings(pin: Pin, field: Field) -> Sequence[Drawing]:
    """The template, beside it the section over the steps; what is too wide for that is under it or on the next page."""
    template = _template(pin)
    sections = [[_section(pin, pin.groove, behind)] for behind in _BEHIND] if pin.groove else [[]]
    beside = field.width_mm - template.width_mm - GAP_MM
    if beside >= _NARROWEST_COLUMN:
        width = min(beside, _WIDEST_COLUMN)
        for section in sections:
            if all(drawing.width_mm <= width for drawing in section):
                return [template, _column(pin, section, width)]
        return [template, _column(pin, [], width), *sections[0]]
    third = (field.width_mm - 2 * GAP_MM) / 3
    lists = [listing(steps, third, heading, sign="number").drawing() for heading, steps in _lists(pin)]
    return [template, *sections[0], *lists]


# --- the template: the top face and the flap


def _template(pin: Pin) -> Drawing:
    draft = Draft()
    _clamp_zone(draft, pin)
    if pin.groove:
        _groove(draft, pin)
    _outline(draft, pin)
    if pin.has_vee:
        _vee(draft, pin)
    _kerfs(draft, pin)
    _guide(draft, pin)
    _grain(draft, pin)
    _centre_line(draft, pin)
    _flap_words(draft, pin)
    _dimensions(draft, pin)
    left = union(mark.box for mark in draft)[0]
    draft.text(left, pin.length_mm + 4.5, f"Template, {pin.hand}-handed, front towards you", HEADING, bold=True)
    return draft.trimmed("the template of the bench pin")


def _outline(draft: Draft, pin: Pin) -> None:
    """Sides and back to saw; the front edge to fold over; the flap to cut out of the paper."""
    width, length, thick = pin.width_mm, pin.length_mm, pin.thickness_mm
    draft.polyline([(0, 0), (0, length), (width, length), (width, 0)], Role.CUT)
    draft.polyline([(0, 0), (0, -thick), (width, -thick), (width, 0)], Role.CUT)
    draft.line(0, 0, width, 0, Role.FOLD)


def _clamp_zone(draft: Draft, pin: Pin) -> None:
    middle, foot = pin.width_mm / 2, pin.length_mm - CLAMP_MM
    draft.bar(0, foot, pin.width_mm, CLAMP_MM, Role.TINT)
    draft.line(0, foot, pin.width_mm, foot, Role.AID)
    draft.text(middle, foot + 32, "clamp here", HEADING, anchor="middle", bold=True)
    for line, words in enumerate(_identity(pin)):
        draft.text(middle, foot + 27 - line * 3.6, words, WORDS, anchor="middle")


def _identity(pin: Pin) -> Iterator[str]:
    """What a template says of itself once it is cut out of its sheet."""
    yield f"keep these {CLAMP_MM:g} mm whole"
    yield f"{pin.hand} hand"
    if pin.groove:
        yield f"coil Ø {show_mm(pin.coil_outside_mm)}"
        yield f"groove {show_mm(pin.groove.depth_mm)} deep"
    if pin.groove or pin.kerf_xs:
        yield f"blade {pin.blade.name}, kerf {show_mm(pin.blade.kerf_mm)}"


def _vee(draft: Draft, pin: Pin) -> None:
    """Both sides from the front edge to the hole or the apex, and on down the flap; waste between."""
    end_x, end_y = pin.vee_end
    apex_x, apex_y = pin.apex
    lip, far, thick = pin.finger_mm, pin.width_mm - pin.finger_mm, pin.thickness_mm
    draft.polyline([(lip, -thick), (lip, 0), (end_x, end_y)], Role.CUT)
    draft.polyline([(far, -thick), (far, 0), (pin.width_mm - end_x, end_y)], Role.CUT)
    draft.text(apex_x, 6, "waste", WORDS, anchor="middle")
    if pin.has_hole:
        draft.circle(apex_x, apex_y, HOLE_MM / 2, Role.HOLE)
        draft.cross(apex_x, apex_y, HOLE_MM / 2 + 1.5)
        draft.text(apex_x + 2, apex_y + 5.4, f"Ø {HOLE_MM:g} hole", WORDS)


def _slot(draft: Draft, pin: Pin, x: float, length: float) -> None:
    """A saw cut as a closed slot one kerf wide, on the top face and down the flap."""
    kerf, middle = pin.blade.kerf_mm, pin.across(x)
    draft.rectangle(middle - kerf / 2, 0, kerf, length, Role.CUT)
    draft.rectangle(middle - kerf / 2, -pin.thickness_mm, kerf, pin.thickness_mm, Role.CUT)


def _kerfs(draft: Draft, pin: Pin) -> None:
    for x in pin.kerf_xs:
        _slot(draft, pin, x, KERF_LENGTH_MM)
    if pin.kerf_xs:
        middle = pin.across(pin.width_mm - pin.finger_mm / 2)
        foot = pin.groove_far_mm if pin.groove and not pin.has_vee else KERF_LENGTH_MM
        for line, words in enumerate(("starter kerfs", f"{show_number(pin.blade.kerf_mm)} wide")):
            draft.text(middle, foot + 5.2 - line * 3.3, words, WORDS, anchor="middle")


def _groove(draft: Draft, pin: Pin) -> None:
    """The groove's body and lips at the top face, its bottom, and the slit across it."""
    near, far = GROOVE_SETBACK_MM, pin.groove_far_mm
    draft.patch([(pin.across(x), y) for x, y in _groove_corners(pin)], Role.TINT)
    for y in (near, far):
        draft.line(pin.across(0), y, pin.across(_groove_end(pin, y)), y, Role.CUT)
    middle = (near + far) / 2
    draft.line(pin.across(0), middle, pin.across(_groove_end(pin, middle)), middle, Role.FOLD)
    _slot(draft, pin, pin.slit_x, pin.slit_length_mm)
    for line, string in enumerate(("groove 90°", "saw slit")):
        y = pin.slit_length_mm + 4.8 - line * 3.3
        draft.text(pin.across(pin.slit_x), y, string, WORDS, anchor="middle")
    _section_mark(draft, pin)


def _groove_corners(pin: Pin) -> tuple[Point, ...]:
    near, far = GROOVE_SETBACK_MM, pin.groove_far_mm
    return (0, near), (_groove_end(pin, near), near), (_groove_end(pin, far), far), (0, far)


def _groove_end(pin: Pin, y: float) -> float:
    """Where the groove runs out: into the vee, or through the other side."""
    return pin.vee_side(y) if pin.has_vee else pin.width_mm


def _section_mark(draft: Draft, pin: Pin) -> None:
    """The plane A–A, with the slit beyond it: both hands look to the left, so that the section has its front left."""
    x = pin.across(pin.finger_mm * (5 if pin.hand == "right" else 1) / 6)
    near, far = GROOVE_SETBACK_MM - 1.2, pin.groove_far_mm + 1.2
    draft.line(x, near, x, far, Role.AID)
    for y, letter in ((near, near - 2.6), (far, far + 0.9)):
        draft.line(x, y, x - 1.6, y, Role.AID)
        draft.patch([(x - 2.8, y), (x - 1.5, y + 0.4), (x - 1.5, y - 0.4)], Role.AID)
        draft.text(x, letter, "A", WORDS, anchor="middle", bold=True)


def _guide(draft: Draft, pin: Pin) -> None:
    if pin.guide is None:
        return
    (x1, y1), (x2, y2) = pin.guide
    draft.line(pin.across(x1), y1, pin.across(x2), y2, Role.FOLD)
    draft.text(pin.across(x2 - 3.5), -4.4, "45°", WORDS, anchor="middle")


def _grain(draft: Draft, pin: Pin) -> None:
    """An arrow along the grain, front to back, behind the starter kerfs."""
    x = pin.across(pin.width_mm - min(pin.finger_mm, 30.0) / 3)
    foot = (pin.groove_far_mm if pin.groove and not pin.has_vee else KERF_LENGTH_MM) + 10
    top = pin.length_mm - CLAMP_MM - 3
    if top - foot < 14:
        return
    draft.line(x, foot, x, top, Role.TICK)
    for tip, way in ((foot, 1.0), (top, -1.0)):
        draft.patch([(x, tip), (x + 0.7, tip + way * 2.4), (x - 0.7, tip + way * 2.4)], Role.LABEL)
    inward = -1.2 if pin.hand == "right" else 3.0
    draft.text(x + inward, (foot + top) / 2, "grain", WORDS, angle_deg=90, anchor="middle")


def _centre_line(draft: Draft, pin: Pin) -> None:
    """Along the middle of the top face, broken where words stand on it."""
    middle, foot = pin.width_mm / 2, pin.length_mm - CLAMP_MM
    start = VEE_DEPTH_MM + HOLE_MM / 2 + 3 if pin.has_hole else 10.0 if pin.has_vee else 0.0
    draft.line(middle, start, middle, foot + 10, Role.FOLD)
    draft.line(middle, foot + 36, middle, pin.length_mm, Role.FOLD)
    if pin.has_hole:
        draft.line(middle, 10, middle, VEE_DEPTH_MM - HOLE_MM / 2 - 3, Role.FOLD)


def _flap_words(draft: Draft, pin: Pin) -> None:
    """In the mouth of the vee; beside the flap, on the coil's side, where there is none."""
    x, y, anchor = pin.width_mm / 2, -pin.thickness_mm / 2, _MIDDLE
    if not pin.has_vee:
        edge, way, left = _side(pin, 0.0)
        x, anchor = edge + way * 2.0, "end" if left else "start"
    draft.text(x, y + 0.6, "front face:", WORDS, anchor=anchor)
    draft.text(x, y - 2.7, "fold down", WORDS, anchor=anchor)


# --- its dimensions


def _dimensions(draft: Draft, pin: Pin) -> None:
    _rows(draft, pin)
    _saw_side(draft, pin)
    _coil_side(draft, pin)


def _rows(draft: Draft, pin: Pin) -> None:
    """Under the flap: the middles of the cuts, then the fingers and the vee, then the whole width."""
    foot = -pin.thickness_mm
    y = foot - _ROW
    rows = [_cuts(pin), _fingers(pin), [0.0, pin.width_mm]]
    for stations in rows:
        if len(stations) > 1:
            spots = sorted(pin.across(x) for x in stations)
            for x1, x2 in pairwise(spots):
                across(draft, x1, x2, y, show_number(x2 - x1), out_from=foot)
            y -= _ROW


def _cuts(pin: Pin) -> list[float]:
    """Where the saw enters at the front, sides and corners between them included."""
    inner = [pin.slit_x] if pin.groove else []
    inner += pin.kerf_xs
    return [0.0, *inner, *_corners(pin), pin.width_mm] if inner else []


def _fingers(pin: Pin) -> list[float]:
    return [0.0, *_corners(pin), pin.width_mm] if pin.has_vee else []


def _corners(pin: Pin) -> list[float]:
    return [pin.finger_mm, pin.width_mm - pin.finger_mm] if pin.has_vee else []


def _saw_side(draft: Draft, pin: Pin) -> None:
    """Beside the saw hand: thickness, kerf, clamp; farther out, the vee."""
    edge, way, left = _side(pin, pin.width_mm)
    near, far = edge + way * _FIRST, edge + way * (_FIRST + _STEP)
    spans = [(-pin.thickness_mm, 0.0, near), (pin.length_mm - CLAMP_MM, pin.length_mm, near)]
    spans += [(0.0, KERF_LENGTH_MM, near)] if pin.kerf_xs else []
    spans += [(0.0, VEE_DEPTH_MM, far)] if pin.has_vee else []
    for y1, y2, x in spans:
        along(draft, y1, y2, x, show_number(y2 - y1), out_from=edge, left=left)


def _coil_side(draft: Draft, pin: Pin) -> None:
    """Beside the hand that holds the coil: setback and width of the groove; farther out, the whole length."""
    edge, way, left = _side(pin, 0.0)
    near, far = edge + way * _FIRST, edge + way * (_FIRST + _STEP)
    if pin.groove:
        along(draft, 0, GROOVE_SETBACK_MM, near, show_number(GROOVE_SETBACK_MM), out_from=edge, left=left)
        words = show_number(pin.groove.width_mm)
        along(draft, GROOVE_SETBACK_MM, pin.groove_far_mm, near, words, out_from=edge, left=left)
    along(draft, 0, pin.length_mm, far if pin.groove else near, show_number(pin.length_mm), out_from=edge, left=left)


def _side(pin: Pin, x: float) -> tuple[float, float, bool]:
    """The edge at x of the right-handed frame, which way is out from it, and whether that is to the left."""
    edge = pin.across(x)
    left = edge < pin.width_mm / 2
    return edge, -1.0 if left else 1.0, left


# --- the section


def _section(pin: Pin, groove: Groove, behind: float) -> Drawing:
    """The cut A–A through the groove to `behind` the slit, front to the left, top face at y = 0."""
    draft = Draft()
    near, far, thick = GROOVE_SETBACK_MM, pin.groove_far_mm, pin.thickness_mm
    bottom, end = ((near + far) / 2, -groove.depth_mm), pin.slit_length_mm + behind
    top = [(0.0, 0.0), (near, 0.0), bottom, (far, 0.0), (end, 0.0)]
    draft.patch([(0, -thick), *top, *_break(end, thick), (end, -thick)], Role.TINT)
    draft.polyline([(end, -thick), (0, -thick), *top], Role.CUT)
    draft.polyline([(end, 0), *_break(end, thick), (end, -thick)], Role.AID)
    draft.line(pin.slit_length_mm, 0, pin.slit_length_mm, -thick, Role.FOLD)
    _coil(draft, groove, bottom[0])
    _section_dimensions(draft, groove, pin, end)
    _section_words(draft, groove, pin)
    return draft.trimmed("the section of the groove")


def _break(x: float, thick: float) -> list[Point]:
    """A zigzag where the wood goes on."""
    middle = -thick / 2
    return [(x, middle + 2), (x + 1, middle + 1), (x - 1, middle - 1), (x, middle - 2)]


def _coil(draft: Draft, groove: Groove, x: float) -> None:
    r = groove.coil_outside_mm / 2
    draft.circle(x, groove.centre_mm, r, Role.TICK)
    draft.cross(x, groove.centre_mm, min(1.5, r / 2), Role.AID)


def _section_dimensions(draft: Draft, groove: Groove, pin: Pin, end: float) -> None:
    thick, depth, far = pin.thickness_mm, groove.depth_mm, pin.groove_far_mm
    middle = GROOVE_SETBACK_MM + depth
    for y1, y2 in ((-thick, -depth), (-depth, 0.0)):
        along(draft, y1, y2, -_FIRST, show_number(y2 - y1), out_from=0)
    draft.line(-0.8, -depth, 0, -depth, Role.AID)
    along(draft, -thick, 0, end + _FIRST, show_number(thick), out_from=end, left=False)
    along(draft, 0, groove.proud_mm, end + _FIRST, show_number(groove.proud_mm), out_from=end, left=False)
    draft.line(middle + 1, groove.proud_mm, end, groove.proud_mm, Role.AID)
    for x1, x2 in ((0.0, GROOVE_SETBACK_MM), (GROOVE_SETBACK_MM, far)):
        across(draft, x1, x2, -thick - _ROW, show_number(x2 - x1), out_from=-thick)
    across(draft, 0, pin.slit_length_mm, -thick - 2 * _ROW, f"slit {show_number(pin.slit_length_mm)}", out_from=-thick)


def _section_words(draft: Draft, groove: Groove, pin: Pin) -> None:
    middle, top = GROOVE_SETBACK_MM + groove.depth_mm, groove.proud_mm
    left = union(mark.box for mark in draft)[0]
    draft.text(middle, -groove.depth_mm - 3.4, "90°", WORDS, anchor="middle")
    draft.text(middle - 3.2, top + 1.2, f"coil Ø {show_number(groove.coil_outside_mm)}", WORDS, anchor="end")
    draft.text(left, max(top + 6, 9.5), "Groove, section A–A", HEADING, bold=True)
    write(draft, (left, -pin.thickness_mm - 2 * _ROW - 4.5), _seat(groove))


def _seat(groove: Groove) -> tuple[str, ...]:
    """How the coil sits, as two short lines."""
    share = f"{100 * groove.proud_mm / groove.coil_outside_mm:.0f} %"
    return (
        f"The coil stands {show_mm(groove.proud_mm)} proud, {share} of it,",
        f"and touches the sides {show_mm(groove.touch_mm)} down.",
    )


# --- the words beside it


def _column(pin: Pin, section: Sequence[Drawing], width: float) -> Drawing:
    """The section over the steps, in a column of the given width."""
    draft, top = Draft(), 0.0
    for part in (
        *section,
        *(listing(steps, width, heading, sign="number").drawing() for heading, steps in _lists(pin)),
    ):
        draft.add(part.marks, 0, top - part.height_mm)
        top -= part.height_mm + GAP_MM
    return draft.trimmed("how to make and use the bench pin")


def _lists(pin: Pin) -> tuple[tuple[str, Iterator[str]], ...]:
    return ("To make it", _making(pin)), ("To use it", _using(pin))


def _making(pin: Pin) -> Iterator[str]:
    yield "Take hardwood, grain front to back. Cut the template out, flap and all."
    yield "Glue it on with a glue stick, or lay packing tape under it and spray glue over: it peels off clean."
    yield "Fold the flap down over the front edge along the dashed line."
    if pin.has_hole:
        yield f"Drill the {HOLE_MM:g} mm hole first, square through."
    if pin.has_vee:
        yield f"Saw the vee: {VEE_MOUTH_MM:g} mm at the mouth, {VEE_DEPTH_MM:g} mm deep, down the middle of each line."
    if pin.groove:
        share = f"{GROOVE_DEPTH_SHARE:g} of the coil"
        yield f"File the groove with the corner of a square file until it meets both lips: {share} deep."
        yield f"Saw the slit across it, square, to {SLIT_PAST_MM:g} mm behind the groove, with blade {pin.blade.name}."
    if pin.kerf_xs:
        yield f"Saw the starter kerfs with blade {pin.blade.name}, {KERF_LENGTH_MM:g} mm in from the front."
    if pin.guide:
        yield "Rule the 45° line into the wood with a knife before the paper comes off."


def _using(pin: Pin) -> Iterator[str]:
    yield "Clamp it at the tinted end, no farther forward."
    yield "String the blade taut, its teeth away from the frame and towards the handle; wax its back and sides."
    if pin.groove:
        yield "Wood inside the coil, never metal. Masking tape keeps a loose coil together."
        end = "at the vee" if pin.has_vee else "at the saw hand's side"
        yield f"Lay the coil in the groove with its end {end}; a strip of card in the slit stops it from creeping."
    if pin.guide:
        yield "Start with the blade leaning along the 45° line; light, even strokes."
    if pin.kerf_xs:
        yield "For a coil held on the front edge, set the blade in a starter kerf."


def _made(blade: Blade, kerf: float | None, hand: str, layout: tuple[str, ...], **sizes: float) -> Made:
    pin = Pin(
        **{f"{key}_mm": size for key, size in sizes.items()},
        blade=blade if kerf is None else blade.with_kerf(kerf),
        hand=hand,
        layouts=layout,
    )
    return Made(content=bench_pin(pin))


SHEET = Sheet(
    name="bench-pin",
    summary="A bench pin to saw: vee, starter kerfs, coil groove and guide.",
    about=("A template for a bench pin: vee and hole, starter kerfs, coil groove with slit, 45 degree guide.",),
    fields=(
        Asked(key="length", kind=Kind.LENGTH, help="Front to back.", default="120 mm"),
        Asked(key="width", kind=Kind.LENGTH, help="Side to side.", default="75 mm"),
        Asked(key="thickness", kind=Kind.LENGTH, help="Of the wood.", default="19 mm"),
        Asked(key="coil_outside", kind=Kind.LENGTH, help="Of the coil to hold.", default="8 mm"),
        Asked(key="blade", kind=Kind.BLADE, help="The piercing-saw blade.", default="2"),
        Asked(key="kerf", kind=Kind.LENGTH, help="As measured in a trial cut, instead of the table's."),
        Asked(key="hand", kind=Kind.CHOICE, help="The hand that holds the saw.", default="right", choices=HANDS),
        Asked(
            key="layout",
            kind=Kind.CHOICE,
            help="What to cut. Repeatable.",
            default="full",
            repeatable=True,
            choices=LAYOUTS,
        ),
    ),
    build=_made,
    examples=(
        {},
        {"hand": "left", "coil_outside": "9.5 mm", "blade": "2/0"},
        {"layout": ("vee", "kerfs"), "width": "2 1/2 in"},
    ),
    place=40,
)
