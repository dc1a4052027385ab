"""The sheet `bench-pin`: a template to glue on the wood, with flaps for its faces, and how the saw runs.

The plan is drawn with the front of the pin towards the reader, as it lies at the bench; the flaps fold down over its
edges. Saw cuts are lines whose middle counts. All is at true size but the picture of the saw, which says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet
from jigs.guides.jobs import CutFrom, CutJob
from jigs.guides.pieces.groove_section import groove_section
from jigs.guides.pieces.saw_run import SAW_HEADING, saw_picture, saw_steps
from jigs.making.pin import (
    CLAMP_MM,
    HANDS,
    HOLE_MM,
    KERF_LENGTH_MM,
    LAYOUTS,
    SLIT_LENGTH_MM,
    USUAL_THICKNESS_MM,
    VEE_DEPTH_MM,
    VEE_MOUTH_MM,
    Groove,
    Pin,
)
from jigs.stock.blade import Blade
from layouts.drawing import lettering
from layouts.drawing.dimension import across, along
from layouts.drawing.marks import Anchor, Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.drawing.words import HEADING, WORDS, Listing, listing, one_under_another, side_by_side, write
from layouts.lengths import are_inches, bare, bare_short, sized, sized_each, sized_short
from layouts.pages.page import Content, Field
from layouts.pages.sheet import GAP_MM
from layouts.pages.stack import Stack

_FIRST, _STEP = 5.5, 8.0  # from an outline to its first column of dimensions, and on to the next
_ROW = 5.5  # the same for rows
# a column beside the template: the picture of the saw just fits; longer lines tire the eye
_NARROWEST, _WIDEST = 43.0, 120.0
# annotated, or the branch that changes it would not pass the type checker
_MIDDLE: Anchor = "middle"
_LIP_WITH_WORDS = 2.8  # wood beside the groove that words go on

Steps = tuple[str, tuple[str, ...]]  # a heading, and what to do


def bench_pin(pin: Pin) -> Content:
    """A template of the pin at true size with the section of its groove, how to make it and how to use it."""
    sizes, is_sawn = (pin.length_mm, pin.width_mm, pin.thickness_mm), bool(pin.groove or pin.kerf_xs)
    facts = [("wood", sized_each(" × ".join(["{}"] * len(sizes)), sizes)), ("hand", pin.hand)]
    if pin.groove:
        facts.append(("coil outside", sized_short(pin.coil_outside_mm)))
    if is_sawn:
        basis = "" if are_inches() else f" ({pin.blade.kerf.basis.value})"
        blade = f"{pin.blade.name}, kerf {sized_short(pin.blade.kerf_mm)}{basis}"
        facts.append(("blade", blade))
    kerfs = (
        " A kerf is drawn as a line: saw along its middle; the width of the cut stands beside it." if is_sawn else ""
    )
    drill = " no gloves, loose sleeves or hair near the drill (EN 510), scrap under the exit;" if pin.has_hole else ""
    cautions = [
        "clamp the work and keep fingers off the saw's line; broken blades and cut ends fly: protect your eyes (EN 166,"
        f" ANSI Z87.1);{drill} wear a dust mask for wood dust; follow your workshop's rules and local codes."
    ]
    if pin.thickness_mm < USUAL_THICKNESS_MM:
        thick = sized_short(pin.thickness_mm)
        cautions.append(f"wood of {thick} is thinner than the usual {sized(USUAL_THICKNESS_MM)} and bends.")
    if not are_inches() or pin.layouts != ("full",):  # beside both units it would take a line of its own
        facts.append(("layout", ", ".join(pin.layouts)))
    return Content(
        title="Bench pin",
        facts=tuple(facts),
        draw=lambda field: _drawings(pin, field),
        notes=(
            f"Where a figure and a printed line disagree, trust the figure: a line is good to ±{sized(0.1)} at best."
            f"{kerfs}"
            " Sizes are common practice, no source; how the coil sits in the groove follows from the geometry.",
        ),
        cautions=tuple(cautions),
    )


def _drawings(pin: Pin, field: Field) -> Sequence[Drawing]:
    """The template, turned where only that fits; beside it what there is room for, the rest under it."""
    template = _template(pin)
    if template.height_mm > field.height_mm:
        turned = quarter_turned(template)
        template = turned if turned.width_mm <= field.width_mm and turned.height_mm <= field.height_mm else template
    views = [groove_section(pin.groove, pin.thickness_mm, pin.finger_mm), saw_picture()] if pin.groove else []
    use = f"To use it: {SAW_HEADING}" if pin.groove else "To use it"
    lists: list[Steps] = [("To make it", tuple(_making(pin))), (use, tuple(_using(pin)))]
    beside = min(field.width_mm - template.width_mm - GAP_MM, _WIDEST)
    if beside >= _NARROWEST:
        # The first that fits: all in the column, or the use of the pin under it, then a view, then both.
        for count, number in ((len(views), len(lists)), (len(views), 1), (1, 1), (0, 1)):
            pictures = views[:count]
            spare = beside - sum(view.width_mm for view in pictures)
            if len(pictures) > 1 and spare >= GAP_MM:
                pictures = [side_by_side(pictures, beside, min(spare, 3 * GAP_MM), "the views of the bench pin")]
            words = [_numbered(steps, beside).drawing() for steps in lists[:number]]
            parts = [*pictures, *words]
            widest = max(part.width_mm for part in parts)
            column = one_under_another(parts, widest, GAP_MM, "how to make and use the bench pin")
            if column.width_mm <= beside and column.height_mm <= field.height_mm:
                room = field.height_mm - max(template.height_mm, column.height_mm) - GAP_MM
                return [template, column, *_under(views[count:], lists[number:], field, room)]
    return [template, *_under(views, lists, field, field.height_mm - template.height_mm - GAP_MM)]


def _numbered(steps: Steps, width: float) -> Listing:
    heading, what = steps
    return listing(what, width, heading, sign="number")


def _under(views: Sequence[Drawing], lists: Sequence[Steps], field: Field, room: float) -> list[Drawing]:
    """Views and lists in full width, the last view beside the last list where both have room; never tiled."""
    # what has no room under the template begins a page of its own
    stack = Stack(space=field, room_mm=max(0.0, room))
    last = views[-1] if views else None
    for view in views[:-1]:
        stack.put(view)
    for steps in lists:
        width = field.width_mm - (last.width_mm + 2 * GAP_MM if last else 0.0)
        if last and width >= _NARROWEST and steps == lists[-1]:
            words = _numbered(steps, width).drawing()
            stack.put(side_by_side([last, words], field.width_mm, 2 * GAP_MM, "how to use the bench pin"))
            return stack.drawings
        stack.put_list(_numbered(steps, field.width_mm))
    if last:
        stack.put(last)
    return stack.drawings


# --- the template: the top face and the flaps


def _template(pin: Pin) -> Drawing:
    draft, thick = Draft(), pin.thickness_mm
    middle, width, length = pin.width_mm / 2, pin.width_mm, pin.length_mm
    clamp = length - CLAMP_MM
    _clamp_zone(draft, pin)
    if pin.groove:
        _groove(draft, pin, pin.groove)
    draft.polyline([(0, 0), (0, length), (width, length), (width, 0)], Role.CUT)
    draft.polyline([(0, 0), (0, -thick), (width, -thick), (width, 0)], Role.CUT)  # the flap of the front face
    draft.line(0, 0, width, 0, Role.FOLD)
    if pin.has_vee:
        _vee(draft, pin)
    for x in pin.kerf_xs:
        _saw_line(draft, pin, x, KERF_LENGTH_MM)
    if pin.kerf_xs:
        words = "starter kerfs", f"{bare_short(pin.blade.kerf_mm)} wide"
        write(draft, (pin.across(width - pin.finger_mm / 2), KERF_LENGTH_MM + 5.2), words, anchor="middle")
    if pin.guide_mm:
        _guide(draft, pin, pin.guide_mm)
    _grain(draft, pin)
    # The centre line is broken where words stand on it.
    start = VEE_DEPTH_MM + HOLE_MM / 2 + 3 if pin.has_hole else 10.0 if pin.has_vee else 0.0
    draft.line(middle, start, middle, clamp + 10, Role.FOLD)
    draft.line(middle, clamp + 36, middle, length, Role.FOLD)
    if pin.has_hole:
        draft.line(middle, 10, middle, VEE_DEPTH_MM - HOLE_MM / 2 - 3, Role.FOLD)
    # The flap's words are in the mouth of the vee; without a vee beside the flap, on the coil's side.
    x, y, anchor = middle, -thick / 2, _MIDDLE
    if not pin.has_vee:
        edge, way, left = _side(pin, 0.0)
        x, anchor = edge + way * 2.0, "end" if left else "start"
    draft.text(x, y + 0.6, "front face:", WORDS, anchor=anchor)
    draft.text(x, y - 2.7, "fold down", WORDS, anchor=anchor)
    _dimensions(draft, pin)
    return draft.trimmed("the template of the bench pin")


def _clamp_zone(draft: Draft, pin: Pin) -> None:
    middle, foot = pin.width_mm / 2, pin.length_mm - CLAMP_MM
    draft.bar(0, foot, pin.width_mm, CLAMP_MM, Role.TINT)
    draft.line(0, foot, pin.width_mm, foot, Role.AID)
    draft.text(middle, foot + 32, "clamp here", HEADING, anchor="middle", bold=True)
    # What a template says of itself once it is cut out of its sheet.
    said = [f"keep these {sized(CLAMP_MM)} whole", f"{pin.hand} hand, front to you"]
    if pin.groove:
        said += [f"coil Ø {sized_short(pin.coil_outside_mm)}", f"groove {sized_short(pin.groove.depth_mm)} deep"]
    if pin.groove or pin.kerf_xs:
        said.append(f"blade {pin.blade.name}, kerf {sized_short(pin.blade.kerf_mm)}")
    for line, words in enumerate(said):
        draft.text(middle, foot + 27 - line * 3.6, words, WORDS, anchor="middle")


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
        draft.text(apex_x + 2, apex_y + 5.4, f"Ø {bare(HOLE_MM)} hole", WORDS)


def _saw_line(draft: Draft, pin: Pin, x: float, length: float, below: float = 0.0) -> None:
    """A saw cut as a line, its middle: on the top face, and down the flap from so far `below` the edge."""
    middle = pin.across(x)
    draft.line(middle, 0.0, middle, length, Role.CUT)
    draft.line(middle, -below, middle, -pin.thickness_mm, Role.CUT)


def _groove(draft: Draft, pin: Pin, groove: Groove) -> None:
    """From the front edge to the clamp: lips and bottom on the top face, its shape on the flap, and its slit."""
    x, far, deep = pin.groove_x, pin.groove_length_mm, groove.depth_mm
    outer, inner, middle = pin.across(x - deep), pin.across(x + deep), pin.across(x)
    draft.bar(min(outer, inner), 0.0, groove.width_mm, far, Role.TINT)
    draft.patch([(outer, 0.0), (inner, 0.0), (middle, -deep)], Role.TINT)
    for lip in (outer, inner):
        draft.line(lip, 0.0, lip, far, Role.CUT)
        draft.line(lip, 0.0, middle, -deep, Role.CUT)
    draft.line(middle, SLIT_LENGTH_MM, middle, far, Role.FOLD)
    _saw_line(draft, pin, x, SLIT_LENGTH_MM, below=deep)
    lip = (pin.finger_mm - groove.width_mm) / 2
    slit = f"slit {bare(SLIT_LENGTH_MM)} long, {bare_short(pin.blade.kerf_mm)} wide"
    words = (-1.0, 3.0, f"groove 90°, {bare_short(deep)} deep"), (1.0, 15.0, slit)
    for way, start, string in words:
        # Without room here, they stand in the clamp zone alone. 0.68 is half an x-height: it brings the middle of the
        # letters to the middle of the lip.
        if lip >= _LIP_WITH_WORDS and start + lettering.width_mm(string, WORDS) <= far - 1.0:
            draft.text(pin.across(x + way * (deep + min(1.7, lip / 2))) + 0.68, start, string, WORDS, angle_deg=90)


def _guide(draft: Draft, pin: Pin, run: float) -> None:
    """The flap of the side face at the holding hand, with the blade's slant on it."""
    edge, way, _ = _side(pin, 0.0)
    out = edge + way * run
    draft.polyline([(edge, 0.0), (out, 0.0), (out, run), (edge, run)], Role.CUT)
    draft.line(edge, 0.0, edge, run, Role.FOLD)
    draft.line(edge, run, out, 0.0, Role.FOLD)
    draft.text(edge + way * 4.2, 2.0, "45°", WORDS, anchor="middle")
    write(draft, (edge + way * (run / 2), run + 4.9), ("side face:", "fold down"), anchor="middle")


def _grain(draft: Draft, pin: Pin) -> None:
    """An arrow along the grain, front to back, behind the starter kerfs."""
    # near the edge, so that the kerfs have the middle of the finger
    x = pin.across(pin.width_mm - min(pin.finger_mm, 30.0) / 3)
    foot, top = KERF_LENGTH_MM + 10, pin.length_mm - CLAMP_MM - 3
    if top - foot < 14:  # too short for two heads and the word
        return
    draft.line(x, foot, x, top, Role.TICK)
    for tip, way in ((foot, 1.0), (top, -1.0)):
        draft.patch([(x, tip), (x + 0.7, tip + way * 2.4), (x - 0.7, tip + way * 2.4)], Role.LABEL)
    # on the inner side of the arrow; turned upright, letters rise to the left of their baseline
    inward = -1.2 if pin.hand == "right" else 3.0
    draft.text(x + inward, (foot + top) / 2, "grain", WORDS, angle_deg=90, anchor="middle")


def _dimensions(draft: Draft, pin: Pin) -> None:
    """Under the flap, beside the saw hand, and beside the hand that holds the coil."""
    # The middles of the cuts and the corners of the vee; under them the width.
    corners = [pin.finger_mm, pin.width_mm - pin.finger_mm] if pin.has_vee else []
    inner = [*([pin.groove_x] if pin.groove else []), *pin.kerf_xs, *corners]
    for row, stations in enumerate(([inner] if inner else []) + [[]], 1):
        foot = -pin.thickness_mm
        for x1, x2 in pairwise(sorted(pin.across(x) for x in (0.0, *stations, pin.width_mm))):
            across(draft, x1, x2, foot - _ROW * row, bare_short(x2 - x1), out_from=foot)
    # Thickness, kerf, clamp; farther out, the vee.
    edge, way, left = _side(pin, pin.width_mm)
    near, far = edge + way * _FIRST, edge + way * (_FIRST + _STEP)
    spans = [(-pin.thickness_mm, 0.0, near), (pin.length_mm - CLAMP_MM, pin.length_mm, near)]
    spans += [(0.0, KERF_LENGTH_MM, near)] if pin.kerf_xs else []
    spans += [(0.0, VEE_DEPTH_MM, far)] if pin.has_vee else []
    for y1, y2, x in spans:
        along(draft, y1, y2, x, bare_short(y2 - y1), out_from=edge, left=left)
    # The whole length, clear of the flap of the side face.
    edge, way, left = _side(pin, 0.0)
    out = edge + way * pin.guide_mm
    if pin.guide_mm:
        draft.line(edge + way * 0.8, pin.length_mm, out, pin.length_mm, Role.AID)
    along(draft, 0, pin.length_mm, out + way * _FIRST, bare_short(pin.length_mm), out_from=out, left=left)


def _side(pin: Pin, x: float) -> tuple[float, float, bool]:
    """The edge at x of the right-handed frame, which way is out from it, and whether that is to the left."""
    edge = pin.across(x)
    left = edge < pin.width_mm / 2
    return edge, -1.0 if left else 1.0, left


# --- the words beside it


def _making(pin: Pin) -> Iterator[str]:
    flaps = "flaps and all" if pin.guide_mm else "flap and all"
    yield f"Take hardwood, grain front to back. Cut the template out, {flaps}."
    yield "Glue it on with a glue stick, or with spray glue over packing tape on the wood: it peels off clean."
    yield f"Fold the {'flaps' if pin.guide_mm else 'flap'} down along the dashed lines."
    if pin.has_hole:
        yield f"Drill the {sized(HOLE_MM)} hole first, square through."
    if pin.has_vee:
        mouth, deep = sized_short(VEE_MOUTH_MM, 1), sized_short(VEE_DEPTH_MM, 1)
        yield f"Saw the vee: {mouth} at the mouth, {deep} deep, along the middle of each line."
    if pin.groove:
        yield "File the groove from the front to the clamp with the corner of a square file, until it meets both lips."
        slit = sized_short(SLIT_LENGTH_MM, 1)
        yield f"Saw the slit {slit} in, down the groove's middle line, with blade {pin.blade.name}."
    if pin.kerf_xs:
        yield f"Saw the starter kerfs {sized_short(KERF_LENGTH_MM, 1)} in, with blade {pin.blade.name}."
    if pin.guide_mm:
        yield "Score the 45° line into the side: it shows how far to lean the blade."


def _using(pin: Pin) -> Iterator[str]:
    yield (
        "Clamp it at the tinted end, no farther forward. String the blade taut, teeth away from the frame and towards"
        " the handle; wax its back and sides."
    )
    if pin.groove:
        yield from saw_steps()
    elif pin.guide_mm:
        yield "Lean the blade along the 45° line; light, even strokes."
    if pin.kerf_xs:
        yield "For a coil held on the front edge, set the blade in a starter kerf, in line with the coil."


def _pin(blade: Blade, layout: tuple[str, ...], hand: str, kerf: float | None = None, **sizes: float) -> Pin:
    """The pin of what was given."""
    return Pin(
        **{f"{key}_mm": size for key, size in sizes.items()},
        blade=blade if kerf is None else blade.with_kerf(kerf),
        hand=hand,
        layouts=layout,
    )


def _cut(material: CutFrom, make: str, **given: Any) -> CutJob:
    from jigs.guides.pieces.pin_board import pin_board  # a sheet of paper needs nothing that cuts

    return pin_board(material, _pin(**given), make)


_FIELDS = (
    Asked(key="length", kind=AskedKind.LENGTH, help="Front to back.", default="120 mm"),
    Asked(key="width", kind=AskedKind.LENGTH, help="Side to side.", default="75 mm"),
    Asked(key="thickness", kind=AskedKind.LENGTH, help="Of the wood.", default="19 mm"),
    Asked(key="coil_outside", kind=AskedKind.LENGTH, help="Of the coil to hold.", default="8 mm"),
    Asked(key="blade", kind=AskedKind.BLADE, help="The piercing-saw blade.", default="2"),
    Asked(key="kerf", kind=AskedKind.LENGTH, help="As measured in a trial cut, instead of the table's."),
    Asked(key="hand", kind=AskedKind.CHOICE, help="The hand that holds the saw.", default="right", choices=HANDS),
    Asked(
        key="layout",
        kind=AskedKind.CHOICE,
        help="What to cut.",
        default="full",
        repeatable=True,
        choices=LAYOUTS,
    ),
)

SHEET = Sheet(
    name="bench-pin",
    summary="A bench pin to saw: vee, starter kerfs, coil groove and guide.",
    about=("A template for a bench pin: vee and hole, starter kerfs, coil groove with slit, 45 degree guide.",),
    fields=_FIELDS,
    build=lambda **given: Made(content=bench_pin(_pin(**given))),
    cut=_cut,
    cut_summary="A template for a bench pin, to drill and scribe through; or the pin in layers to glue.",
    cut_fields=(
        *(field for field in _FIELDS if field.key != "kerf"),  # a kerf is the laser's there
        Asked(
            key="make",
            kind=AskedKind.CHOICE,
            help="To lay on the wood; or the pin itself, in layers to glue.",
            default="template",
            choices=("template", "layers"),
        ),
    ),
    examples=(
        {},
        {"hand": "left", "coil_outside": "9.5 mm", "blade": "2/0"},
        {"layout": ("vee", "kerfs"), "width": "2 1/2 in"},
    ),
    cut_examples=(
        {"coil_outside": "7.4 mm", "material": "birch plywood", "material_thickness": "3 mm", "kerf": "0.2 mm"},
        {"make": "layers", "material": "birch plywood", "material_thickness": "4 mm", "sheet": "600 mm x 300 mm"},
    ),
    place=40,
    use="glue it on the wood, saw and drill",
    demo={"coil_outside": "7.4 mm", "blade": "2/0"},
)
