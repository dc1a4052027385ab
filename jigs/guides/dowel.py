"""The dowel sheet: a strip to wrap round each dowel, its side and end at true size, and the drill to take."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet, Words
from jigs.guides.jobs import CutFrom, CutJob
from jigs.making.drilled_dowel import DRILL_SERIES, PAPER_MM, SECONDS, DrilledDowel, wrap_length_mm
from layouts.drawing import lettering
from layouts.drawing.dimension import across, along
from layouts.drawing.marks import Draft, Drawing, Mark, union
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HEADING, LINE_MM, WORDS, Item, Listing, lines, rule_under, write
from layouts.errors import LeaveOut, OutOfRange, QuantityRefused
from layouts.lengths import are_inches, bare, bare_short, sized, sized_each, unit_said
from layouts.pages.page import Content, Field
from layouts.pages.tray import thickness_of
from layouts.showing import show_mm
from layouts.unit_tables import INCH_MM

_PER_MM, _PER_INCH = "1 mm of diameter is 3.14 mm of strip.", "0.010 in of diameter is 0.031 in of strip."
_GAP_MM = 5.0  # between the parts of a block
_LEAST_WORDS_MM = 40.0  # a narrower column of words is put under the parts instead
_MARGIN_MM = 3.0  # strip beyond the coil and the holes
_TAIL_MM = 8.4  # height of the overlap tail: the longest tick, a figure under it, and room to cut
_FLAG_MM = 3.0  # of the strip's start that stays in sight above the tail
_GLUE_MM = 5.0  # tail beyond its scale, for the tape
_READS_MM = 1.5  # the scale goes so far to both sides of the diameter, less on thin dowels
_ARM_MM = 1.4  # a cross reaches so far beyond its hole, less on thin dowels

_CAUTIONS = (
    "clamp the dowel on a vee, scrap under the exit, never hold it in the hand. No gloves, loose sleeves or hair near "
    "a drill (EN 510). Protect your eyes (EN 166, ANSI Z87.1); dust mask for wood dust.",
    "hard wire wound on a dowel is a spring: it unwinds when released or snipped. Follow your workshop's rules and "
    "local codes.",
)
_STRIP = (
    "Strip: cut out, wrap tight with END flush with the dowel's end and the tail over the start, tape. Prick every "
    "cross, drill from both sides to the middle. End disc: glue on, its arrows at the strip's dashed lines.",
)


def _reading() -> str:
    paper, diameter = sized(0.1), sized(0.03, 2)
    return (
        "The strip's start edge (black arrow) reads the true diameter on the tail and should meet the black mark: if"
        f" not, print again with what it reads. Paper reads ±{paper} at best, ±{diameter} of diameter; a slack wrap"
        " reads thick."
    )


def dowel_sheet(dowels: Sequence[DrilledDowel], tray: str = "") -> Content:
    """A sheet with one block for each dowel: wrap strip, side view, end disc, drill and warnings.

    `tray` is what lies in the printer's tray, in words. Strips whose paper is not given are as thick as that, where
    its weight is known.
    """
    if not dowels:
        raise OutOfRange("a dowel sheet without a dowel", "give one or more")
    given, dowels = tuple(dowels), tuple(in_tray(drilled, tray) for drilled in dowels)
    known = thickness_of(tray)
    taken = f"{sized(PAPER_MM, 2)} (80 g/m²)"
    if known:
        half = (known.thick_mm - known.thin_mm) / 2
        sizes = (known.thickness_mm, half) if half else (known.thickness_mm,)
        taken = f"{sized_each(' ±'.join(['{}'] * len(sizes)), sizes, 2)} ({tray})"
    papers = dict.fromkeys(taken if drilled.paper_mm is None else sized(drilled.paper_mm, 2) for drilled in given)
    facts: tuple[tuple[str, str], ...] = (
        ("drills", ", ".join(sorted({"yours" if drilled.own_drill else drilled.series for drilled in dowels}))),
        ("paper", f"{', '.join(papers)} thick"),
    )
    if len(dowels) == 1:
        facts = ("dowel", f"Ø {sized(dowels[0].dowel.mean_mm, 2)}"), ("wire", dowels[0].wire.in_words), *facts
    else:
        facts = ("dowels", str(len(dowels))), *facts

    def draw(field: Field) -> list[Drawing]:
        width = field.width_mm
        return [drawing for number, drilled in enumerate(dowels, 1) for drawing in _drawings(number, drilled, width)]

    return Content(
        title="Dowels",
        facts=facts,
        draw=draw,
        notes=(*_STRIP, _reading()),
        cautions=_CAUTIONS,
        on=lambda printer: dowel_sheet(given, printer.tray),
    )


def in_tray(drilled: DrilledDowel, tray: str) -> DrilledDowel:
    """The dowel with the thickness of a paper or card in words, where it is known and none was given."""
    paper = thickness_of(tray) if drilled.paper_mm is None else None
    return replace(drilled, paper_mm=paper.thickness_mm) if paper else drilled


# --- a block: heading, parts in rows, words beside or under them ---------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Part:
    """Marks about an origin of their own, with what they cover: left, bottom, right, top in mm."""

    marks: tuple[Mark, ...]
    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom


def _part(draft: Draft, top: float | None = None) -> _Part:
    """What was drafted. `top` lines parts up that belong at one height; without it the ink's own top counts."""
    marks = tuple(draft)
    left, bottom, right, high = union(mark.inked for mark in marks)
    return _Part(marks=marks, left=left, bottom=bottom, right=right, top=high if top is None else top)


def _drawings(number: int, drilled: DrilledDowel, width: float) -> Iterator[Drawing]:
    """One dowel as one block; a strip wider than the field stands alone, to be split where that is wanted."""
    strip = _strip(number, drilled)
    name = f"dowel {number} of {sized(drilled.dowel.mean_mm, 2)}"
    if strip.width <= width:
        yield _block(number, drilled, [strip, _side(drilled), _end(drilled)], width, f"{name} with its strip")
        return
    alone = Draft()
    alone.add(strip.marks, -strip.left, -strip.bottom)
    yield alone.drawing(strip.width, strip.height, f"the strip of {name}")
    yield _block(number, drilled, [_side(drilled), _end(drilled)], width, name)


def _block(number: int, drilled: DrilledDowel, parts: Sequence[_Part], width: float, name: str) -> Drawing:
    """The parts of one dowel under its heading, with the words about it, as wide as the field or the widest part."""
    rows: list[list[_Part]] = [[]]
    for part in parts:
        if rows[-1] and sum(p.width + _GAP_MM for p in rows[-1]) + part.width > width:
            rows.append([])
        rows[-1].append(part)
    used = sum(part.width + _GAP_MM for part in rows[-1])
    if width - used >= _LEAST_WORDS_MM:
        rows[-1].append(_words(drilled, width - used))
    else:
        rows.append([_words(drilled, width)])
    # Over all of them number, dowel, wire and drill in bold over a quiet line.
    heading = Draft()
    about = (
        f"{number} · Dowel Ø {sized(drilled.dowel.mean_mm, 2)}, wire {drilled.wire.in_words}, drill {_drill(drilled)}"
    )
    foot = write(heading, (0.0, 0.0), lines(about, width, HEADING, bold=True), HEADING, bold=True)
    foot += lettering.LINE * HEADING - 1.6
    rule_under(heading, width, foot)
    rows.insert(0, [_part(heading)])
    wide = max(width, *(sum(part.width for part in row) + _GAP_MM * (len(row) - 1) for row in rows))
    height = sum(max(part.height for part in row) for row in rows) + _GAP_MM * (len(rows) - 2) + 2.0
    draft, top = Draft(), height
    for index, row in enumerate(rows):
        x = 0.0
        for part in row:  # flush at their tops
            draft.add(part.marks, x - part.left, top - part.top)
            x += part.width + _GAP_MM
        top -= max(part.height for part in row) + (_GAP_MM if index else 2.0)  # less under the heading
    return draft.drawing(wide, height, name)


def _drill(drilled: DrilledDowel) -> str:
    """The drill's name, and its millimetres where the name is not in them."""
    drill = drilled.drill
    is_said = drill.name == show_mm(drill.diameter_mm, 2, 2) and not are_inches()
    return drill.name if is_said else f"{drill.name} ({sized(drill.diameter_mm, 3)})"


def _words(drilled: DrilledDowel, width: float) -> _Part:
    """The drill, the strip and the measurements in words; warnings in bold first."""
    snug, share = drilled.snug_drill.name, drilled.dowel.thinnest_mm / drilled.hole_mm
    tight = "" if snug == drilled.drill.name else f" A snug fit: {snug}."
    over = f"{sized(drilled.clearance_mm, 2)} over the wire, the hole is D/{share:.1f}"
    diameter, paper = bare(drilled.dowel.mean_mm, 2), bare(drilled.strip_mm, 2)
    once = f"Strip π × ({diameter} + {paper}) = {sized(drilled.wrap_mm, 2)} round"
    half = f"the crosses are half that apart, {sized(drilled.wrap_mm / 2, 2)}"
    turns = "1 turn" if drilled.turns == 1 else f"{drilled.turns} turns"
    dowel, measured = drilled.dowel, "Measured once: measure at right angles too; dowels are seldom round."
    if not dowel.measured:
        nominal = f"Ø {sized(dowel.mean_mm, 2)} is nominal"
        measured = f"For a wooden dowel. {nominal}: measure it, then print again with what you read."
    elif dowel.second_diameter_mm is not None:
        apart = f"out of round by {sized(dowel.out_of_round_mm, 2)} ({100 * dowel.out_of_round:.1f} %)"
        both = sized_each("{} and {}", (dowel.diameter_mm, dowel.second_diameter_mm), 2)
        measured = f"Measured {both}, {apart}: the mean is used."
    told = (
        f"Drill {_drill(drilled)}: {over}.{tight}",
        *drilled.advice,
        measured,
        f"{once}; {half}. {_PER_INCH if are_inches() else _PER_MM}",
        f"Coil of {turns} at {sized(drilled.coil.pitch_mm, 2)}: {sized(drilled.coil_length_mm, 2)} long.",
    )
    items = [*(Item(f"Warning: {warning}.", bold=True) for warning in drilled.warnings), *map(Item, told)]
    draft = Draft()
    draft.add(Listing(items=tuple(items), width_mm=width).drawing().marks)
    return _part(draft)


# --- the strip -----------------------------------------------------------------------------------------------


def wrap_strip(number: int, drilled: DrilledDowel) -> Drawing:
    """The strip of one dowel by itself, to cut out: what `dowel_sheet` draws first of its block."""
    draft = Draft()
    draft.add(_strip(number, drilled).marks)
    return draft.trimmed(f"the strip of dowel {number} of {sized(drilled.dowel.mean_mm, 2)}")


def _body_top(drilled: DrilledDowel) -> float:
    """Height above the dowel's end that the coil and the holes need."""
    holes = (drilled.from_end_mm, *drilled.second_centres_mm)
    return max(drilled.coil_zone_mm[1], max(holes) + drilled.hole_mm / 2 + _ARM_MM) + _MARGIN_MM


def _strip(number: int, drilled: DrilledDowel) -> _Part:
    """The wrap strip: x round the dowel from the start edge, y up from the dowel's end."""
    draft, wrap, body, pitch = Draft(), drilled.wrap_mm, _body_top(drilled), drilled.coil.pitch_mm
    low, high = drilled.coil_zone_mm
    draft.bar(0.0, low, wrap, high - low, Role.TINT)
    # The wire's middle, unrolled: a straight line from hole to last turn, cut at the strip's edges. The hole is a
    # quarter of the way round, so at the start edge the line is a quarter of a pitch lower.
    for turn in range(drilled.turns + 1):
        start = 0.25 if turn == 0 else 0.0
        stop = 0.25 if turn == drilled.turns else 1.0
        rise = drilled.from_end_mm + (turn - 0.25) * pitch
        draft.line(start * wrap, rise + start * pitch, stop * wrap, rise + stop * pitch, Role.AID)
    for x in (wrap / 4, 3 * wrap / 4):  # half round from each other, both clear of the overlap
        draft.line(x, 0.0, x, body, Role.FOLD)
        _holes(draft, drilled, x)
    end = "END ↓"
    if lettering.width_mm(end, FIGURE, bold=True) < wrap / 2 - 1:
        draft.text(wrap / 2, 1.2, end, FIGURE, anchor="middle", bold=True)
    _tail(draft, number, drilled, body)
    across(draft, 0.0, wrap, -5.0, f"{bare(wrap, 2)} round", out_from=0.0)
    return _part(draft, top=body + _TAIL_MM + _FLAG_MM)


def _holes(draft: Draft, drilled: DrilledDowel, x: float) -> None:
    """The holes on one line along the dowel: outline at the drill's size, and a cross to prick."""
    r = drilled.hole_mm / 2
    arm = r + min(_ARM_MM, drilled.wrap_mm / 10)
    draft.circle(x, drilled.from_end_mm, r, Role.HOLE)
    draft.cross(x, drilled.from_end_mm, arm)
    centres = drilled.second_centres_mm
    if len(centres) == 1:
        draft.circle(x, centres[0], r, Role.HOLE)
    elif centres:
        draft.arc(x, centres[1], r, 0.0, 180.0, Role.HOLE)
        draft.arc(x, centres[0], r, 180.0, 180.0, Role.HOLE)
        for side in (x - r, x + r):
            draft.line(side, centres[0], side, centres[1], Role.HOLE)
    for centre in centres:
        draft.cross(x, centre, arm)


def _tail(draft: Draft, number: int, drilled: DrilledDowel, body: float) -> None:
    """The outline of the strip, with its tail and the scale on it, read at the start edge above the tail."""
    wrap, middle = drilled.wrap_mm, drilled.dowel.mean_mm
    # The scale goes so far to both sides of the diameter: 1.5 mm, or a quarter of a thin dowel.
    read = min(_READS_MM, max(0.5, middle / 4))
    # a millimetre of paper left of the first tick
    step, end = wrap - math.pi * read - 1.0, wrap + math.pi * read + _GLUE_MM
    tail = body + _TAIL_MM
    top = tail + _FLAG_MM
    # Ticks every 0.1 mm of diameter: a dowel of diameter D brings pi x (D + t) to the start edge. 1e-9, so that a
    # diameter of whole tenths keeps its outermost ticks whatever its float is.
    every = 2 if middle + read >= 99 else 1  # figures of three digits stand apart
    per_mm = 200 / INCH_MM if are_inches() else 10  # in inches every 0.005 in
    for tenth in range(math.ceil(per_mm * (middle - read) - 1e-9), math.floor(per_mm * (middle + read) + 1e-9) + 1):
        x = wrap_length_mm(tenth / per_mm, drilled.strip_mm)
        draft.line(x, tail, x, tail - (2.8 if tenth % 10 == 0 else 2.1 if tenth % 5 == 0 else 1.4))
        if tenth % (10 * every) == 0:
            # '8', or '.30' for inches, where figures stand closer
            reads = f"{tenth / 200:.2f}".lstrip("0") if are_inches() else f"{tenth // 10}"
            draft.text(x, tail - 6.6, reads, FIGURE, anchor="middle")
    arrow = (0.2, top - _FLAG_MM / 2), (2.0, top - _FLAG_MM / 2 + 0.7), (2.0, top - _FLAG_MM / 2 - 0.7)
    draft.patch(arrow)
    draft.patch(((wrap, tail - 3.1), (wrap - 0.6, tail - 4.4), (wrap + 0.6, tail - 4.4)))
    # Which strip this is, once it is cut out: as much as there is room for, left of the scale.
    size = f"Ø {bare(drilled.dowel.mean_mm, 2)}"
    for words in (f"{number}  {size} {unit_said()}", f"{number}  {size}", f"{number}"):
        if lettering.width_mm(words, FIGURE, bold=True) <= step - 2.7:
            draft.text(step - 1.5, body + _TAIL_MM / 2 - 0.8, words, FIGURE, anchor="end", bold=True)
            break
    outline = (0.0, 0.0), (wrap, 0.0), (wrap, body), (end, body), (end, tail), (step, tail), (step, top), (0.0, top)
    draft.polyline(outline, Role.CUT, closed=True)


# --- the views -----------------------------------------------------------------------------------------------


def _side(drilled: DrilledDowel) -> _Part:
    """The dowel from the side that is drilled, end down, level with the strip; the hole is seen straight on."""
    draft, size, wire = Draft(), drilled.dowel.mean_mm, drilled.wire.diameter_mm
    top = _body_top(drilled) + _TAIL_MM + _FLAG_MM
    draft.bar(0.0, 0.0, size, top, Role.TINT)
    # The coil: the wire's section at both flanks, and its middle where it crosses the front. From the hole, in the
    # middle of the front, it is a quarter turn to the right flank and three quarters to the left.
    pitch, middle = drilled.coil.pitch_mm, size / 2
    for turn in range(drilled.turns + 1):
        y = drilled.from_end_mm + turn * pitch
        start, stop = (middle if turn == 0 else 0.0), (middle if turn == drilled.turns else size)
        draft.line(start, y + (start / size - 0.5) * pitch / 2, stop, y + (stop / size - 0.5) * pitch / 2, Role.AID)
        if turn < drilled.turns:
            draft.circle(size + wire / 2, y + pitch / 4, wire / 2, Role.AID)
            draft.circle(-wire / 2, y + 3 * pitch / 4, wire / 2, Role.AID)
    draft.polyline(((0.0, top), (0.0, 0.0), (size, 0.0), (size, top)), Role.LABEL)
    draft.line(size / 2, -1.5, size / 2, top, Role.AID)
    _holes(draft, drilled, size / 2)
    low, high = drilled.coil_zone_mm
    along(draft, low, high, size + wire + 4.0, f"{bare_short(high - low)} coil", out_from=size + wire, left=False)
    # From the dowel's end to the holes, left of the view, the nearest hole innermost.
    second = () if drilled.second_at_mm is None else (drilled.second_at_mm,)
    x = -wire - 4.0
    for distance in sorted((drilled.from_end_mm, *second)):
        words = f"{bare_short(distance)}{' slot' if drilled.second == 'slot' and distance in second else ''}"
        along(draft, 0.0, distance, x, words, out_from=-wire)
        x -= lettering.width_mm(words, WORDS) + 4.0
    return _part(draft, top=top)


def _end(drilled: DrilledDowel) -> _Part:
    """The dowel's end: a disc to cut out, its centre cross, the drill's direction and lines at 45 degrees."""
    draft, r = Draft(), drilled.dowel.mean_mm / 2
    slant = r * math.sqrt(0.5)
    for rise in (slant, -slant):
        draft.line(-slant, -rise, slant, rise, Role.AID)
    draft.cross(0.0, 0.0, r)
    draft.circle(0.0, 0.0, r, Role.CUT)
    for way in (1.0, -1.0):
        tip = way * (r + 0.9)
        draft.patch(((0.0, tip), (0.7, tip + way * 1.9), (-0.7, tip + way * 1.9)))
    draft.text(1.6, r + 0.9, "drill", WORDS)
    foot = -r - 2.8
    for row, words in enumerate(("end disc", f"Ø {bare(drilled.dowel.mean_mm, 2)}"), 1):
        draft.text(0.0, foot - row * LINE_MM + 0.4, words, WORDS, anchor="middle")
    return _part(draft)


def _dowels(list: str, **columns: Words) -> Sequence[DrilledDowel]:
    from jigs.orders.dowel_list import dowels_from_columns, read_dowels  # not for a list of sheets, nor for help

    several = {key: [words] if isinstance(words, str) else words for key, words in columns.items()}
    given = tuple(key for key, words in several.items() if any(words))
    if list and given:
        raise QuantityRefused("a list of dowels brings its own numbers", remedies=(LeaveOut(fields=given),))
    return read_dowels(Path(list)) if list else dowels_from_columns(several)


def _made(list: str, **columns: Words) -> Made:
    dowels = _dowels(list, **columns)
    warnings = (f"dowel {number}: {words}" for number, drilled in enumerate(dowels, 1) for words in drilled.warnings)
    return Made(content=dowel_sheet(dowels), warnings=tuple(warnings))


def _cut(material: CutFrom, list: str, **columns: Words) -> CutJob:
    from jigs.guides.pieces.dowel_collars import dowel_collars  # a sheet of paper needs nothing that cuts

    return dowel_collars(material, _dowels(list, **columns))


def _each(key: str, kind: AskedKind, help: str, otherwise: str = "", choices: tuple[str, ...] = ()) -> Asked:
    """A field that is given once for each dowel, or once for all."""
    return Asked(
        key=key, kind=kind, help=help, otherwise=otherwise, choices=choices, repeatable=True, each_of="diameter"
    )


_FIELDS = (
    _each("diameter", AskedKind.ROD, "Measured diameter of the dowel, or its name at your bench; once for each."),
    _each("second_diameter", AskedKind.LENGTH, "Measured again at right angles; the mean is used."),
    _each("wire", AskedKind.WIRE, 'The wire whose tail the hole takes, such as "16 AWG".'),
    _each("from_end", AskedKind.LENGTH, "From the dowel's end to the middle of the hole.", "10 mm"),
    _each("turns", AskedKind.COUNT, "Turns of the coil.", "10"),
    _each("pitch", AskedKind.LENGTH, "From turn to turn.", "one wire, close-wound"),
    _each("paper_thickness", AskedKind.LENGTH, "Thickness of the paper.", "that of the printer's paper, or 0.10 mm"),
    _each("drills", AskedKind.CHOICE, "The set that the drill is chosen from.", "metric", DRILL_SERIES),
    _each("second", AskedKind.CHOICE, "A second hole, or a slot along the dowel, for the other tail.", "", SECONDS),
    _each("second_from_end", AskedKind.LENGTH, "Where its middle is.", "where the last turn ends"),
    _each("slot_length", AskedKind.LENGTH, "Length of the slot, end to end.", "three holes"),
    Asked(key="list", kind=AskedKind.FILE, help="A TOML list of dowels instead of the above."),
)
COLLAR_FIELDS = ("diameter", "second_diameter", "wire", "from_end", "drills", "list")

SHEET = Sheet(
    name="dowel",
    summary="A strip to wrap round a dowel: where to drill for the wire's tail, and with what.",
    about=(
        "Strips to wrap round dowels: where to drill for the wire's tail, and with what.",
        "Measure each dowel. For several, give the diameter again for each; everything else once for all, or as often.",
        """A list has a table for each dowel:
  [[dowel]]
  diameter = "7.9 mm"
  second_diameter = "8.0 mm"
  wire = "16 AWG"
  turns = 12""",
    ),
    fields=_FIELDS,
    build=_made,
    cut=_cut,
    cut_fields=tuple(field for field in _FIELDS if field.key in COLLAR_FIELDS),
    cut_summary="Collars that set where a dowel's hole is pricked, and end discs.",
    cut_examples=(
        {"diameter": "7.9 mm", "second_diameter": "8.0 mm", "wire": "16 AWG", "material_thickness": "3 mm"},
        {"diameter": ("6 mm", "8 mm"), "wire": "1 mm", "material": "birch plywood", "material_thickness": "4 mm"},
    ),
    examples=(
        {"diameter": "7.9 mm", "second_diameter": "8.0 mm", "wire": "16 AWG"},
        {"diameter": ("6 mm", "8 mm"), "wire": "1 mm", "drills": "number"},
        {"list": "dowels.toml", "paper": "letter"},
    ),
    from_words=True,
    place=30,
    use="wrap it round the dowel, prick the crosses, drill",
    demo={
        "diameter": ("9.4 mm", "7.9 mm", "6.3 mm"),
        "second_diameter": ("9.5 mm", "8.0 mm", ""),
        "wire": ("1.6 mm", "1.2 mm", "1.2 mm"),
        "turns": ("8", "14", "12"),
        "drills": ("metric", "metric", "number"),
        "second": ("", "slot", ""),
    },
)
