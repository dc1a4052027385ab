"""A bench pin for a laser: a template to lay on the wood, drill and scribe through; or the pin, in layers to glue.

Frame as in `making/pin`: x from the left as it lies for its hand, y from the front edge to the back. Vee and hole are
one opening, whose edges are the lines and the arc that the pin has; the drill is led by the arc.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from jigs.guides.jobs import CutFrom, CutJob
from jigs.making.pin import CLAMP_MM, HOLE_MM, KERF_LENGTH_MM, SLIT_LENGTH_MM, Pin
from layouts.cutting.laying import Blank
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.shapes import slot_upright
from layouts.drawing.words import HEADING, WORDS, write
from layouts.errors import OutOfRange
from layouts.lengths import bare_short, sized, sized_each, sized_short

MAKES = ("template", "layers")
MOST_LAYERS = 40
_SCRIBE_MM = 1.2  # width of a slot, and of a hole, that a scriber or a fine pencil goes through
_EDGE_MM = 2.0  # that a slot keeps from the front edge
_DOWEL_MM = 3.0  # holes that bring layers over one another, for drill shanks or pins of 3 mm
_CLAMP_FIRST = (
    "clamp the template and the wood before you drill, scrap under the exit, no gloves, loose sleeves or hair near the "
    "drill (EN 510); protect your eyes (EN 166, ANSI Z87.1)."
)


def pin_board(material: CutFrom, pin: Pin, make: str = "template") -> CutJob:
    """What is cut for a bench pin: "template" or "layers". Refuses layers without the thickness of the material."""
    sizes = sized_each(" × ".join(["{}"] * 3), (pin.length_mm, pin.width_mm, pin.thickness_mm))
    facts = [("wood", sizes), ("hand", pin.hand)]
    if pin.groove:
        facts.append(("coil outside", sized_short(pin.coil_outside_mm)))
    if make == "layers":
        return _in_layers(material, pin, facts)
    blanks = [Blank(drawing=_template(pin)), Blank(drawing=_front(pin))]
    if pin.guide_mm:
        blanks.append(Blank(drawing=_lean(pin)))
    return CutJob(
        title="Bench pin, template",
        blanks=tuple(blanks),
        facts=tuple(facts),
        notes=tuple(_use(pin)),
        cautions=(_CLAMP_FIRST,),
    )


def _use(pin: Pin) -> Iterator[str]:
    yield (
        "Lay the template on the wood, front edges flush, grain front to back, and clamp it at its back. Two strips of "
        "double-sided tape hold it while the clamp is moved."
    )
    if pin.has_hole:
        yield f"Drill the {sized(HOLE_MM)} hole first, with the drill in the arc at the end of the vee."
    if pin.has_vee:
        yield "Scribe along both sides of the vee, then saw it on the waste side of the lines."
    if pin.groove:
        deep = sized_short(pin.groove.depth_mm)
        yield (
            "Prick through the four small holes and join the pricks: these are the lips of the groove. Hold the front "
            f"piece against the front face and scribe its notch, {deep} deep; file until the groove meets all of it."
        )
        slit = sized_short(SLIT_LENGTH_MM)
        yield f"The slot between the lips is the slit: scribe its middle, saw {slit} in, with blade {pin.blade.name}."
    if pin.kerf_xs:
        yield (
            f"The other slots are the starter kerfs: scribe them and saw {sized_short(KERF_LENGTH_MM)} in, with blade "
            f"{pin.blade.name}. A kerf is one blade wide, and no laser cuts that: the saw does."
        )
    if pin.guide_mm:
        yield "Lay the triangle against the blade to lean the saw by 45°, or scribe its long side on the side face."


def _in_layers(material: CutFrom, pin: Pin, facts: list[tuple[str, str]]) -> CutJob:
    thick = material.needs_thickness("it says how many layers there are")
    count = max(1, math.ceil(pin.thickness_mm / thick - 1e-6))
    if count > MOST_LAYERS:
        raise OutOfRange(f"{count} layers of {sized(thick)}", f"take thicker sheet: {MOST_LAYERS} layers at most")
    made = count * thick
    warnings = []
    if made > pin.thickness_mm + 0.05:
        warnings.append(
            f"{count} layers of {sized(thick)} make {sized_short(made)}, not {sized_short(pin.thickness_mm)}"
        )
    drawings = [_layer(pin, number, count) for number in range(1, count + 1)]
    return CutJob(
        title="Bench pin, in layers",
        blanks=tuple(Blank(drawing=drawing, may_turn=False) for drawing in drawings),
        facts=(*facts, ("layers", f"{count} of {sized(thick)}")),
        notes=(
            "Glue the layers in the order of their numbers, 1 on top, grain front to back in each; two pins or drill "
            f"shanks of {sized(_DOWEL_MM)} in their holes bring them over one another. Clamp flat until it is hard.",
            "File the groove and saw slit and starter kerfs along the engraved lines when the block is glued: the saw "
            "makes them one blade wide, as no laser does.",
        ),
        cautions=(
            "the dust of glued board is bad for lungs: wear a dust mask when you saw and file it, and protect your "
            "eyes (EN 166, ANSI Z87.1).",
        ),
        warnings=tuple(warnings),
    )


# --- the pieces


def _outline(draft: Draft, pin: Pin) -> None:
    """The plan of the pin with its opening: vee, and the hole at its end."""
    width, length = pin.width_mm, pin.length_mm
    if not pin.has_vee:
        draft.rectangle(0.0, 0.0, width, length, Role.CUT)
        return
    (end_x, end_y), (apex_x, apex_y) = pin.vee_end, pin.apex
    around = (width - end_x, end_y), (width - pin.finger_mm, 0.0), (width, 0.0), (width, length)
    back = (0.0, length), (0.0, 0.0), (pin.finger_mm, 0.0), (end_x, end_y)
    if not pin.has_hole:
        draft.polyline((*around, *back[:-1]), Role.CUT, closed=True)
        return
    draft.polyline((*around, *back), Role.CUT)
    start = math.degrees(math.atan2(end_y - apex_y, end_x - apex_x)) % 360  # lower left, and over the top to the right
    draft.arc(apex_x, apex_y, HOLE_MM / 2, start, 180.0 - 2 * start, Role.CUT)


def _template(pin: Pin) -> Drawing:
    draft, foot = Draft(), pin.length_mm - CLAMP_MM
    _outline(draft, pin)
    if pin.groove:
        for x in (pin.groove_x - pin.groove.depth_mm, pin.groove_x + pin.groove.depth_mm):
            at = pin.across(x)
            draft.line(at, _EDGE_MM + 2 * _SCRIBE_MM, at, foot - 4 * _SCRIBE_MM, Role.TICK)
            for y in (_EDGE_MM + _SCRIBE_MM / 2, foot - 2 * _SCRIBE_MM):
                draft.circle(at, y, _SCRIBE_MM / 2, Role.CUT)
        slot_upright(draft, pin.across(pin.groove_x), _EDGE_MM, SLIT_LENGTH_MM, _SCRIBE_MM)
    for x in pin.kerf_xs:
        slot_upright(draft, pin.across(x), _EDGE_MM, KERF_LENGTH_MM, _SCRIBE_MM)
    _clamp(draft, pin, ["front edge to the front", *_said(pin)])
    return draft.drawing(pin.width_mm, pin.length_mm, "the template of the bench pin")


def _layer(pin: Pin, number: int, count: int) -> Drawing:
    draft, foot = Draft(), pin.length_mm - CLAMP_MM
    _outline(draft, pin)
    for x in (pin.width_mm / 5, pin.width_mm * 4 / 5):
        draft.circle(x, pin.length_mm - CLAMP_MM / 5, _DOWEL_MM / 2, Role.CUT)
    said = [f"layer {number} of {count}"]
    if number == 1:
        said += ["on top", *_said(pin)]
        if pin.groove:
            for x in (pin.groove_x - pin.groove.depth_mm, pin.groove_x, pin.groove_x + pin.groove.depth_mm):
                draft.line(pin.across(x), 0.0, pin.across(x), foot, Role.TICK)
            at = pin.across(pin.groove_x)
            draft.line(at - 2.0, SLIT_LENGTH_MM, at + 2.0, SLIT_LENGTH_MM, Role.TICK)
        for x in pin.kerf_xs:
            draft.line(pin.across(x), 0.0, pin.across(x), KERF_LENGTH_MM, Role.TICK)
    _clamp(draft, pin, said)
    return draft.drawing(pin.width_mm, pin.length_mm, f"layer {number} of the bench pin")


def _said(pin: Pin) -> list[str]:
    said = [f"{pin.hand} hand"]
    if pin.groove:
        said.append(f"coil Ø {bare_short(pin.coil_outside_mm)}, groove {sized_short(pin.groove.depth_mm)} deep")
    if pin.groove or pin.kerf_xs:
        said.append(f"blade {pin.blade.name}, kerf {sized_short(pin.blade.kerf_mm)}")
    return said


def _clamp(draft: Draft, pin: Pin, said: list[str]) -> None:
    """The line behind which the clamp goes, and what the piece says of itself."""
    foot, middle = pin.length_mm - CLAMP_MM, pin.width_mm / 2
    draft.line(3.0, foot, pin.width_mm - 3.0, foot, Role.TICK)
    draft.text(middle, foot + 31.0, "clamp here", HEADING, anchor="middle", bold=True)
    write(draft, (middle, foot + 26.0), said, WORDS, anchor="middle")


def _front(pin: Pin) -> Drawing:
    """The front face: where the saw cuts run down, and the groove as a notch to scribe and to try the file by."""
    draft, width, high = Draft(), pin.width_mm, pin.thickness_mm
    corners = [(0.0, high), (0.0, 0.0), (width, 0.0), (width, high)]
    if pin.groove:
        x, deep = pin.across(pin.groove_x), pin.groove.depth_mm
        corners += [(x + deep, high), (x, high - deep), (x - deep, high)]
    draft.polyline(corners, Role.CUT, closed=True)
    cuts = [*pin.kerf_xs, *((pin.finger_mm, width - pin.finger_mm) if pin.has_vee else ())]
    cuts = [pin.across(x) for x in cuts]
    for x in cuts:
        draft.line(x, 2.0, x, high, Role.TICK)
    if pin.groove:
        at = pin.across(pin.groove_x)
        draft.line(at, 2.0, at, high - pin.groove.depth_mm - 0.5, Role.TICK)
        cuts.append(at)
    edges = sorted([0.0, *cuts, width])
    left, right = max(pairwise(edges), key=lambda gap: gap[1] - gap[0])  # where no line runs through the words
    said = ["front face", "notch up"] if pin.groove else ["front face"]
    write(draft, ((left + right) / 2, high / 2 + 0.9), said, WORDS, anchor="middle")
    return draft.drawing(width, high, "the front face of the bench pin")


def _lean(pin: Pin) -> Drawing:
    """A triangle of 45 degrees to lean the blade by, as tall as the wood is thick."""
    draft, side = Draft(), max(pin.guide_mm, 30.0)
    draft.polyline([(0.0, 0.0), (side, 0.0), (0.0, side)], Role.CUT, closed=True)
    draft.text(side * 0.28, side * 0.26, "45°", HEADING, anchor="middle", bold=True)
    return draft.drawing(side, side, "the triangle of 45 degrees")
