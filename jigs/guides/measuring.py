"""The measuring sheet: strips, wedges and steps that take the place of a caliper, each with what it is good for."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet
from jigs.guides.pieces.chain_strip import LARGEST_MM, SMALLEST_MM, chain_strip, room_mm
from jigs.guides.pieces.ring_wedge import ROW_MM, draw_row
from jigs.guides.pieces.steps import NAMES_MM, stairs
from jigs.guides.pieces.turns_strip import turns_strip
from jigs.guides.pieces.wrap_gauge import reading_example, wrap_gauges
from jigs.making.measured import Measured, Value
from jigs.making.measuring import (
    KnownWire,
    directly,
    inside_by_chain,
    rod_by_strip,
    turns_length_mm,
    wire_by_turns,
)
from jigs.making.other_ways import CHAINS, rings_for
from jigs.stock.instrument import Instrument, find_instrument
from jigs.stock.wire import Wire
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.wedge import Wedge, draw_wedge
from layouts.drawing.words import WORDS, listing, one_under_another
from layouts.errors import OutOfRange
from layouts.lengths import are_inches, sized, sized_short, unit_said
from layouts.pages.page import Content, Field, KnownPrinter
from layouts.pages.tray import thickness_of
from layouts.printing.budget import bars_in_words
from layouts.unit_tables import INCH_MM
from layouts.units import positive

PARTS = ("rod", "wire", "ring", "wedge", "steps")
PAPER_MM = 0.10  # 80 g/m2
MOST_WIRES = 4
THINNEST_WIRE_MM, THICKEST_WIRE_MM = 0.4, 3.0
_WIRES_THAT_FILL_A_PAGE = 3
_GAP_MM = 4.0
_BESIDE_MM = 3.5  # half a numeral at each end of a wedge
_WEDGES = ((20, 90), (90, 250))  # tenths of a millimetre; the narrow ends of rings read finer by themselves
_WEDGES_INCH = ((80, 350), (350, 1000))  # thousandths


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What a measuring sheet is for: its parts, the wires whose rings it reads, its paper [mm], the chain.

    inside_mm: about how large the rings are that are hung in a chain, and rings how many at most; None: rows for all.
    """

    parts: tuple[str, ...] = PARTS
    wires: tuple[Wire, ...] = ()
    paper_mm: float | None = None
    rings: int | None = None
    inside_mm: float | None = None

    def __post_init__(self) -> None:
        if self.paper_mm is not None:
            positive(self.paper_mm, "the paper's thickness")
        if len(self.wires) > MOST_WIRES:
            raise OutOfRange(f"{len(self.wires)} wires on a measuring sheet", f"give {MOST_WIRES} at most")
        for wire in self.wires:
            if not THINNEST_WIRE_MM <= wire.diameter_mm <= THICKEST_WIRE_MM:
                problem = f"this sheet reads no rings of wire of {sized(wire.diameter_mm, 2)}"
                raise OutOfRange(problem, f"give {THINNEST_WIRE_MM:g} mm to {THICKEST_WIRE_MM:g} mm")
        if self.inside_mm is not None and not SMALLEST_MM <= self.inside_mm <= LARGEST_MM:
            problem = f"this sheet reads no ring of {sized(self.inside_mm, 2)} inside"
            raise OutOfRange(problem, f"give {SMALLEST_MM:g} mm to {LARGEST_MM:g} mm")
        if self.rings is not None and not 2 <= self.rings <= CHAINS[0]:
            raise OutOfRange(f"a chain of {self.rings} rings", f"give 2 to {CHAINS[0]}")


def measuring_sheet(wanted: Wanted, tray: str = "", printer: KnownPrinter | None = None) -> Content:
    """A sheet with its parts, each with how to use it and what it is good for (k = 2).

    Corrected for a printer, its own budget counts; else that of a sheet whose check bars read right. Wrap strips are
    for paper as thick as is given, else as that in the tray, where its weight is known.
    """
    known = thickness_of(tray)
    paper = wanted.paper_mm or (known.thickness_mm if known else PAPER_MM)
    made = _Sheet(wanted=wanted, paper_mm=paper, reach=_Reach(printer))
    facts = [("paper", f"{sized_short(paper, 3)} thick")] if "rod" in wanted.parts else []
    if wanted.wires:
        facts.append(("wires" if len(wanted.wires) > 1 else "wire", ", ".join(wire.in_words for wire in wanted.wires)))
    if wanted.inside_mm and "ring" in wanted.parts:
        facts.append(("rings", f"about {sized_short(wanted.inside_mm)} inside"))
    return Content(
        title="Measuring",
        facts=tuple(facts),
        draw=made.draw,
        notes=(_ASSUMED if printer else f"{_ASSUMED} {bars_in_words()}",),
        on=lambda printer: measuring_sheet(wanted, printer.tray, printer),
    )


_ASSUMED = (
    "What each is good for: 95 of 100 careful readings lie within it (k = 2; computed, simulated with assumed reading"
    " errors). Read everything three times, each time anew."
)


class _Reach:
    """What each aid is good for on a sheet: of a printer's own budget where it is corrected for one."""

    def __init__(self, printer: KnownPrinter | None) -> None:
        self.printer = printer

    @property
    def where(self) -> str:
        """On what that holds."""
        return "on this printer" if self.printer else "once both check bars read right"

    def tool(self, name: str) -> Instrument:
        """A printed instrument with the scale of the printer."""
        return find_instrument(name).off_by(self.printer.scale_expanded if self.printer else None)

    def rod(self, diameter_mm: float, name: str) -> float:
        """The wrap strip, read three times."""
        tool, paper = self.tool(name), PAPER_MM
        return _three(lambda n: rod_by_strip(diameter_mm, tool, counted_mm=paper, paper_mm=paper, number=n))

    def wire(self, diameter_mm: float, turns: int) -> float:
        """Close turns, read once."""
        length = turns_length_mm(diameter_mm, turns)
        return wire_by_turns(length, turns, self.tool("wire strip")).uncertainty_mm

    def chain(self, inside_mm: float, rings: int) -> float:
        """A chain, read once, of a wire that is known."""
        wire = KnownWire(diameter_mm=inside_mm / 5, off_mm=0.01)
        length = rings * inside_mm + 2 * wire.diameter_mm
        return inside_by_chain(length, rings, wire, self.tool("chain strip")).uncertainty_mm

    def edge(self, size_mm: float, name: str) -> float:
        """A wedge or a step, read three times: two edges of ink."""
        tool = find_instrument(name)
        if self.printer:
            tool = replace(tool, bias_mm=self.printer.good_for_mm(size_mm, 2), scale=0.0)  # that is in it
        return _three(lambda n: directly(size_mm, tool, number=n))


def _three(read: Callable[[int], Value]) -> float:
    """What three readings leave, k = 2."""
    return Measured(what="size", values=tuple(map(read, (1, 2, 3)))).uncertainty_mm


def _off(mm: float) -> str:
    """What something is good for, rounded up: to a hundredth of a millimetre, small figures to a thousandth."""
    places = 3 if mm < 0.03 else 2
    return f"±{sized(math.ceil(10**places * mm - 1e-6) / 10**places, places)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """The parts of a sheet as drawings."""

    wanted: Wanted
    paper_mm: float
    reach: _Reach

    def draw(self, field: Field) -> Sequence[Drawing]:
        """The parts that are wanted, in reading order."""
        parts = {"rod": self._rod, "wire": self._wire, "ring": self._ring, "wedge": self._wedge, "steps": self._steps}
        return [drawing for part in PARTS if part in self.wanted.parts for drawing in parts[part](field.width_mm)]

    def _rod(self, width: float) -> Iterator[Drawing]:
        gauges = wrap_gauges(self.paper_mm)
        step = sized_short(gauges[0].step_mm, 3)
        main, thin, thick = sized_short(gauges[0].main_mm), gauges[0].low_mm, gauges[-1].high_mm
        figures = "its figures are hundredths of an inch, " if are_inches() else ""
        once, measured = self.reach.rod(8.0, "strip"), self.reach.rod(8.0, "strip, paper measured")
        words = (
            "Cut one out, exactly at END. Wrap it round the rod, printed side out, START first: tight, its edges flush,"
            f" END over the scale. One slanted line runs under END: take the diameter at its foot ({figures}a line is"
            f" {main}) and add what END says at the level where the line disappears (a level is {step}).",
            f"Good for {_off(once)} at {sized_short(8.0)}, {self.reach.where}, read three times; {_off(measured)} once"
            " the paper is measured: a hundred sheets by rule, a hundredth of it. It counts on"
            f" {sized_short(self.paper_mm, 3)}. It reads the girth, which is the right mean of an oval rod; a slack"
            " wrap reads thick.",
        )
        heading = f"Rods from {sized_short(thin)} to {sized_short(thick)}: wrap strips"
        strips = [gauge.drawing() for gauge in gauges]
        example = reading_example()
        # where it takes no row of its own
        with_example = _flowed([*strips[:4], example, *strips[4:]], width)
        plain = _flowed(strips, width)
        panel = with_example if with_example.height_mm <= plain.height_mm else plain
        yield _under(words, heading, width, panel, "the wrap strips")

    def _wire(self, width: float) -> Iterator[Drawing]:
        ten, forty = self.reach.wire(1.0, 10), self.reach.wire(1.0, 40)
        words = (
            "Wind the wire close on a rod and lay it with the first turn's outer side at 0. Count wires along one line:"
            " 40, 20 or 10. Where the last one ends, outside, read the wire in that row; the gauges hang under 40.",
            f"Good for {_off(forty)} with 40 turns and {_off(ten)} with 10, {self.reach.where}. Two gauges on one mark"
            " differ by less than 1 %: no bench can tell them apart.",
        )
        yield _under(words, "Wire: close turns", width, turns_strip(width), "the strip for wire")

    def _ring(self, width: float) -> Iterator[Drawing]:
        counts = self.counts(width)
        inside = self.wanted.inside_mm or 5.0
        rings = rings_for(inside, 0.0, room_mm(width)) if self.wanted.inside_mm is None else counts[0]
        most = self.wanted.rings or CHAINS[0]
        fewer = ""
        if self.wanted.inside_mm is not None and counts[0] < most:
            long_mm = sized_short(most * inside, 0)
            fewer = f" {most} rings of {sized_short(inside)} are {long_mm} long, more than the strip: hang {counts[0]}."
        words = (
            "Hang closed rings in a chain, each through the next, and pull it just straight with two fingers. Lay its"
            " left end at the mark of its wire; the other end reads the inside (ID) in the row of so many rings.",
            f"Good for {_off(self.reach.chain(inside, rings))} with {rings} rings of {sized_short(inside)},"
            f" {self.reach.where}; it reads the largest inside of rings that are not round. A chain too long for its"
            f" row: hang fewer rings. Soft rings open under a pull.{fewer}",
        )
        yield _under(words, "Rings: a chain of them", width, chain_strip(width, counts), "the strip for a chain")

    def counts(self, width: float) -> tuple[int, ...]:
        """The rows of the chain strip: as asked, fewer where that chain is longer than the strip; else all."""
        if self.wanted.inside_mm is None:
            if self.wanted.rings is not None:
                return (self.wanted.rings,)
            room = room_mm(width)
            least = min(CHAINS[-1], math.floor(room / LARGEST_MM))  # takes the largest ring
            worth = (count for count in CHAINS if count > least and count * SMALLEST_MM <= 0.6 * room)
            return (*worth, least)
        room, most = room_mm(width), self.wanted.rings or CHAINS[0]
        if most * self.wanted.inside_mm <= room:
            return (most,)
        return (rings_for(self.wanted.inside_mm, 0.0, room),)

    def _wedge(self, width: float) -> Iterator[Drawing]:
        words = (
            "Slide a ring, flat, towards the narrow end until its outside just touches both black edges: no white"
            " between, no black hidden. Read OD where it touches"
            f"{'; below it ID for each wire' if self.wanted.wires else ''}. Stand a rod on its end.",
            f"Good for {_off(self.reach.edge(7.0, 'wedge'))}, {self.reach.where}.",
        )
        wedges = [self._one_wedge(width, low, high) for low, high in (_WEDGES_INCH if are_inches() else _WEDGES)]
        heading = "Outside of rings: wedges"
        yield _under(words, heading, width, wedges[0], "the wedge for small rings")
        yield wedges[1]

    def _one_wedge(self, width: float, low: int, high: int) -> Drawing:
        per_mm, per_numeral = (1000 / INCH_MM, 1000) if are_inches() else (10, 10)
        length = width - NAMES_MM - 2 * _BESIDE_MM
        wedge = Wedge(low_tenths=low, high_tenths=high, length_mm=length, per_mm=per_mm, per_numeral=per_numeral)
        height = wedge.above_mm + wedge.below_mm + (ROW_MM * len(self.wanted.wires) + 1.5 if self.wanted.wires else 0.0)
        draft, x, axis = Draft(), NAMES_MM + _BESIDE_MM, height - wedge.above_mm
        draft.text(0, axis - 0.9, f"OD {unit_said()}", WORDS, bold=True)
        draw_wedge(draft, wedge, x, axis)
        unit = INCH_MM / 50 if are_inches() else 0.5
        for number, wire in enumerate(self.wanted.wires):
            least = max(1.5 * wire.diameter_mm, low / per_mm - 2 * wire.diameter_mm)  # no smaller ring is made
            first = math.ceil(least / unit - 1e-9)
            last = math.floor((high / per_mm - 2 * wire.diameter_mm) / unit + 1e-9)
            insides = [unit * n for n in range(first, last + 1)]
            draw_row(draft, wedge, (x, axis - wedge.below_mm - 1.5 - number * ROW_MM), (wire, insides))
        return draft.drawing(
            width, height, f"the wedge from {sized_short(low / per_mm)} to {sized_short(high / per_mm)}"
        )

    def _steps(self, width: float) -> Iterator[Drawing]:
        small, middle, large = (stair.drawing(self.wanted.wires) for stair in stairs(width))
        words = (
            "Lay a ring over a step, the lower edge of the black foot just at the inside of its wire, and look straight"
            " down. White above the black top: the ring is larger than the step. Black under its wire: smaller. Both"
            f" just touching: read ID{', and below it OD for each wire' if self.wanted.wires else ''}.",
            f"Good for {_off(self.reach.edge(5.0, 'card'))}, {self.reach.where}.",
        )
        yield _under(words, "Inside of rings: steps", width, small, "the steps for small rings")
        yield middle
        # rows for several wires move it to another page, where it must say what it is
        again = len(self.wanted.wires) >= _WIRES_THAT_FILL_A_PAGE
        yield _under((), "Inside of rings: steps for large ones", width, large, large.name) if again else large


def _under(words: Sequence[str], heading: str, width: float, panel: Drawing, name: str) -> Drawing:
    """A panel under its heading and the words about it."""
    return one_under_another((listing(words, width, heading).drawing(), panel), width, 1.5, name)


def _flowed(drawings: Sequence[Drawing], width: float) -> Drawing:
    """Drawings side by side in rows no wider than a width."""
    rows: list[list[Drawing]] = [[]]
    for drawing in drawings:
        if rows[-1] and sum(one.width_mm + _GAP_MM for one in rows[-1]) + drawing.width_mm > width:
            rows.append([])
        rows[-1].append(drawing)
    draft, height = Draft(), sum(row[0].height_mm for row in rows) + _GAP_MM * (len(rows) - 1)
    top = height
    for row in rows:
        x = 0.0
        for drawing in row:
            draft.add(drawing.marks, x, top - drawing.height_mm)
            x += drawing.width_mm + _GAP_MM
        top -= row[0].height_mm + _GAP_MM
    return draft.drawing(width, height, "strips")


def _made(
    parts: tuple[str, ...],
    wire: tuple[Wire, ...],
    paper_thickness: float | None,
    inside: float | None,
    rings: int | None,
) -> Made:
    chosen = tuple(part for part in PARTS if part in parts or "all" in parts)
    wanted = Wanted(parts=chosen, wires=wire, paper_mm=paper_thickness, inside_mm=inside, rings=rings)
    return Made(content=measuring_sheet(wanted))


SHEET = Sheet(
    name="measuring",
    summary="Strips, wedges and steps that measure rods, wire and rings without a caliper.",
    about=(
        "A sheet to measure with, in place of a caliper: wrap strips for rods, scales for wire by close turns and for"
        " rings by a chain of them, wedges for outsides, steps for insides.",
        "Each says how to use it and what it is good for. Correct your printer first: every aid is as true as it is.",
    ),
    fields=(
        Asked(
            key="parts",
            kind=AskedKind.CHOICE,
            help="What to print; again for each.",
            default="all",
            repeatable=True,
            choices=("all", *PARTS),
        ),
        Asked(
            key="wire",
            kind=AskedKind.WIRE,
            help="A wire whose rings are read: wedges then give ID too, steps OD; again for each, four at most.",
            repeatable=True,
        ),
        Asked(
            key="paper_thickness",
            kind=AskedKind.LENGTH,
            help="Of the paper that is printed on.",
            otherwise="that of the printer's paper, or 0.10 mm",
        ),
        Asked(key="inside", kind=AskedKind.LENGTH, help="About how large the rings of a chain are.", otherwise="any"),
        Asked(key="rings", kind=AskedKind.COUNT, help="How many rings it may have.", otherwise="40, 20, 10 and 5"),
    ),
    build=_made,
    examples=(
        {"wire": ("16 AWG", "1.2 mm")},
        {"parts": ("rod", "wire"), "paper_thickness": "0.19 mm", "paper": "letter"},
        {"parts": "ring", "inside": "8 mm"},
    ),
    place=15,
    use="no caliper: wrap, lay on and read",
    demo={"wire": ("1.2 mm", "1.6 mm")},
)
