"""Ways to measure a rod, wire, a ring or a coil with what is at hand: from a reading to the size and its errors.

Each way is plane geometry and a list of what may be off. Errors are at k = 2; those of a reader's hand and eye are
assumptions (computed, simulated with assumed reading errors). Lengths in mm, masses in g, densities in g/cm3.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigs.making.bending import bracketed_root
from jigs.making.measured import ErrorKind, ErrorTerm, Measured, Value, apart
from jigs.making.wrapping import rod_of_pricks_mm
from jigs.stock.instrument import Instrument
from layouts.errors import OutOfRange
from layouts.lengths import sized, sized_short
from layouts.units import finite, positive

GAP_MM, GAP_OFF_MM = 0.003, 0.003  # between close turns, and how far off that may be (computed, simulated)
HELIX, HELIX_OFF = 1.002, 0.001  # pitch over wire where the rod is not known: 0.1 to 0.3 % (computed)
STRAIGHTENED_MM = 1.0  # what straightening wire and marking turns on it may come to, of the whole length (computed)
WEIGHS_STEPS = 2 / math.sqrt(3)  # a scale is off by a step at most, all of it alike
DENSITY_OFF = 0.01  # of a density by the table or as given
SOLD_OFF = 0.01  # of a wire that is only known as it is sold
OVAL_OFF = 0.004  # of a rod read across one way alone, where rods are oval by up to 1 %
STRIPS_MM = (2.9, 25.6)  # what wrap strips read, and a little more
THICKEST_PAPER_MM = 0.6  # of card that still wraps a rod of 3 mm
STRIP_STEP_MM = 0.05  # from level to level of a wrap strip
PRICK_MM = 2.0  # how far off the place of a prick from the strip's start is known
PULLED_MM = 0.002  # what a hand's pull of half a newton opens a ring of soft wire

WIRES_MM = (0.1, 10.0)  # what rings are wound of, widely taken

FEWEST_TURNS, FEWEST_UNWOUND = 5, 3
SMALLEST_AR = 2.0  # two neighbours lie in a ring of a chain side by side
SHEET, OVAL = "scale of the sheet", "oval by up to 1 %, read one way"
RIGHT_ANGLES, OTHER_END = "at right angles", "at the other end"


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownWire:
    """A wire's diameter and how far off it may be, k = 2 [mm]; None: as it is sold, within 1 %."""

    diameter_mm: float
    off_mm: float | None = None

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "wire")
        if self.off_mm is not None and not 0 < finite(self.off_mm, "the wire's uncertainty") < self.diameter_mm:
            raise OutOfRange(f"a wire good for {self.off_mm:g} mm", "give more than zero and less than the wire")

    def term(self, times: float) -> ErrorTerm:
        """What it does to a size that moves `times` as much."""
        if self.off_mm is None:
            return ErrorTerm(cause="wire as it is sold, within 1 %", mm=times * SOLD_OFF * self.diameter_mm)
        return ErrorTerm(cause=f"wire, good for {sized_short(self.off_mm, 3)}", mm=times * self.off_mm)


def errors_of(tool: Instrument, read_mm: float, times: float = 1.0) -> tuple[ErrorTerm, ...]:
    """What an instrument does to a size that moves `times` as much as what it reads [mm]."""
    scale = SHEET if tool.printed else f"scale of the {tool.name}"
    terms = (
        ErrorTerm(cause="reading", mm=abs(times) * tool.scatter_mm, kind=ErrorKind.READING),
        ErrorTerm(cause=f"the {tool.name} itself", mm=times * tool.bias_mm),
        ErrorTerm(cause=scale, mm=times * tool.scale * read_mm, kind=ErrorKind.SCALE),
    )
    return tuple(term for term in terms if term.mm)


# --- straight from an instrument


def directly(mm: float, tool: Instrument, *, number: int = 1) -> Value:
    """A size as an instrument reads it."""
    positive(mm, f"a reading by {tool.name}")
    terms = errors_of(tool, mm)
    return Value(way=tool.name, mm=mm, terms=terms, instrument=tool.name, number=number, worked="as read")


def across_rod(mm: float, tool: Instrument, *, place: str = "", end: str = "", number: int = 1) -> Value:
    """A rod read across, at an end of it.

    Across one way alone an oval rod is read at its wide or its narrow; at right angles that error is the other way
    round, so that it is gone from the mean of both.
    """
    found = directly(mm, tool, number=number)
    turned = -1.0 if place == RIGHT_ANGLES else 1.0
    oval = ErrorTerm(cause=OVAL, mm=turned * OVAL_OFF * mm)
    return replace(found, terms=(*found.terms, oval), place=place, end=end)


# --- rods


def rod_by_strip(
    read_mm: float, tool: Instrument, *, counted_mm: float, paper_mm: float, end: str = "", number: int = 1
) -> Value:
    """A rod by the printed wrap strip, printed for paper `counted_mm` thick and cut from some of `paper_mm`.

    The strip reads a girth, so D = what it reads + the paper it counts on - the paper it is.
    """
    if not STRIPS_MM[0] <= finite(read_mm, "a reading of the strip") <= STRIPS_MM[1]:
        low, high = (sized_short(mm) for mm in STRIPS_MM)
        raise OutOfRange(f"a strip that reads {sized(read_mm, 2)}", f"give what it says, from {low} to {high}")
    if finite(paper_mm, "paper") > THICKEST_PAPER_MM:
        problem = f"paper {sized(paper_mm, 2)} thick is no paper for a strip"
        raise OutOfRange(problem, "give the thickness of one sheet: that of a hundred, divided by a hundred")
    mm = read_mm + positive(counted_mm, "paper") - positive(paper_mm, "paper")
    changed = counted_mm != paper_mm
    worked = f"{sized(read_mm, 2)} + {sized(counted_mm, 3)} - {sized(paper_mm, 3)} of paper" if changed else "as read"
    return Value(
        way=tool.name,
        mm=mm,
        terms=errors_of(tool, read_mm),
        instrument=tool.name,
        worked=worked,
        end=end,
        number=number,
        step_mm=STRIP_STEP_MM,
    )


def rod_by_pricks(
    length_mm: float, tool: Instrument, *, paper_mm: float, paper_off_mm: float, from_start_mm: float, number: int = 1
) -> Value:
    """A rod by a plain strip of paper wrapped once, pricked through both layers, and the holes' distance read flat."""
    mm = rod_of_pricks_mm(length_mm, paper_mm, from_start_mm)
    moved = rod_of_pricks_mm(length_mm, paper_mm, from_start_mm + PRICK_MM) - mm
    return Value(
        way=f"pricked strip by {tool.name}",
        mm=mm,
        terms=(
            *errors_of(tool, length_mm, 1 / math.pi),
            ErrorTerm(cause="the paper's thickness", mm=paper_off_mm),
            ErrorTerm(cause="place of the prick", mm=abs(moved)),
        ),
        instrument="pricked strip",
        worked=f"{sized(length_mm, 2)} / pi - {sized(paper_mm, 3)} of paper, less the climb over its start",
        number=number,
    )


def rod_by_unwound(
    length_mm: float,
    turns: float,
    wire: KnownWire,
    tool: Instrument,
    *,
    pitch_mm: float | None = None,
    number: int = 1,
) -> Value:
    """A rod by wire that lay on it in so many turns, straightened: L = N sqrt((pi (D + d))^2 + p^2).

    So D = sqrt((L/N)^2 - p^2) / pi - d; p is d where turns touch.
    """
    _refuse_few(turns, FEWEST_UNWOUND)
    d = wire.diameter_mm
    mm, per_length, per_wire = _inside_of_turns(length_mm, turns, d, pitch_mm)
    return Value(
        way=f"{turns:g} turns unwound, by {tool.name}",
        mm=mm,
        terms=(*_straightened(tool, length_mm, per_length), wire.term(per_wire)),
        instrument="unwound wire",
        worked=f"sqrt(({sized(length_mm, 1)} / {turns:g})^2 - pitch^2) / pi - {sized(d, 3)}",
        number=number,
    )


def _inside_of_turns(
    length_mm: float, turns: float, wire_mm: float, pitch_mm: float | None
) -> tuple[float, float, float]:
    """The inside of turns that took a length of wire, and how it moves with that length and with the wire."""
    positive(length_mm, "a length of wire")
    pitch = positive(pitch_mm or wire_mm, "pitch")
    if pitch < wire_mm:
        raise OutOfRange(f"a pitch of {pitch:g} mm is less than the wire", "give the wire's diameter or more")
    turn = length_mm / turns
    if turn <= math.hypot(2 * math.pi * wire_mm, pitch):  # as thin as its wire: such a rod winds no rings
        least = turns * math.hypot(2 * math.pi * wire_mm, pitch)
        problem = f"{length_mm:.1f} mm of wire in {turns:g} turns is too little to have gone round anything"
        raise OutOfRange(problem, f"check both; {least:.0f} mm would be a rod as thin as its wire")
    around = math.sqrt((turn - pitch) * (turn + pitch))
    per_wire = -1.0 - (0.0 if pitch_mm else pitch / (math.pi * around))
    return around / math.pi - wire_mm, turn / (turns * math.pi * around), per_wire


def _straightened(tool: Instrument, length_mm: float, per_length: float) -> tuple[ErrorTerm, ...]:
    """The errors of a length of wire that was straightened; straightening differs from one time to the next."""
    by_hand = ErrorTerm(cause="straightening and marks", mm=per_length * STRAIGHTENED_MM, kind=ErrorKind.READING)
    return (*errors_of(tool, length_mm, per_length), by_hand)


# --- wire


def turns_length_mm(wire_mm: float, wires: int, rod_mm: float | None = None) -> float:
    """Close turns end to end: so many wires counted along one line are one pitch fewer and a wire, (n - 1) p + d.

    Touching turns lean by the helix, so their pitch is d / cos a + gap with tan a = p / (pi (rod + d)). Where the rod
    is not known the helix is taken as 0.2 %.
    """
    _refuse_few(wires, FEWEST_TURNS)
    return (wires - 1) * (_leaning(wire_mm, rod_mm) + GAP_MM) + positive(wire_mm, "wire")


def _leaning(wire_mm: float, rod_mm: float | None) -> float:
    """The pitch of turns that touch: p = d / cos a and tan a = p / (pi D) give p = d / sqrt(1 - (d / pi D)^2)."""
    if rod_mm is None:
        return HELIX * wire_mm
    part = wire_mm / (math.pi * (positive(rod_mm, "rod") + wire_mm))
    return wire_mm / math.sqrt(1 - part**2)


def wire_by_turns(
    length_mm: float, wires: int, tool: Instrument, *, rod_mm: float | None = None, number: int = 1
) -> Value:
    """A wire by close turns on a rod, wires counted along one line and their length read outside to outside."""
    positive(length_mm, "the length of close turns")
    shortest = turns_length_mm(1e-6, wires, rod_mm)
    if length_mm <= shortest:
        problem = f"{wires} wires of a length of {length_mm:g} mm in all are thinner than any wire"
        raise OutOfRange(problem, "check the length and how many wires you counted")
    mm = bracketed_root(lambda d: length_mm - turns_length_mm(d, wires, rod_mm), 1e-6, 2 * length_mm / wires)
    _refuse_no_wire(mm, f"{wires} wires in {sized(length_mm, 2)}")
    per_length = mm / (length_mm - (wires - 1) * GAP_MM)
    helix = () if rod_mm else (ErrorTerm(cause="helix, the rod not known", mm=HELIX_OFF * mm),)
    return Value(
        way=f"{wires} close turns by {tool.name}",
        mm=mm,
        terms=(
            *errors_of(tool, length_mm, per_length),
            ErrorTerm(cause="gaps between turns", mm=(wires - 1) * GAP_OFF_MM * per_length),
            *helix,
        ),
        instrument=kept_turns(wires),
        worked=f"{sized(length_mm, 2)} in {wires} wires, less gaps and helix",
        number=number,
    )


def kept_turns(wires: int) -> str:
    """The instrument that a wire by so many close turns is kept by: never a better one than it was."""
    return "40 close turns" if wires >= 40 else "20 close turns" if wires >= 20 else "10 close turns"


def wire_by_mass(
    mass_g: float, length_mm: float, density_g_cm3: float, *, step_g: float, tool: Instrument, number: int = 1
) -> Value:
    """A wire by the mass of a length of it: d = sqrt(4 m / (pi rho L))."""
    positive(mass_g, "mass")
    positive(length_mm, "a length of wire")
    if positive(step_g, "the scale's step") > mass_g / 10:
        problem = f"{mass_g:g} g is too little for a scale that shows {step_g:g} g"
        raise OutOfRange(problem, "weigh a longer piece, or on a finer scale")
    mm = math.sqrt(4000 * mass_g / (math.pi * positive(density_g_cm3, "density") * length_mm))
    _refuse_no_wire(mm, f"{mass_g:g} g in {sized(length_mm, 1)}")
    return Value(
        way=f"weighed to {step_g:g} g",
        mm=mm,
        terms=(
            ErrorTerm(cause="weighing", mm=mm / 2 * WEIGHS_STEPS * step_g / mass_g, kind=ErrorKind.READING),
            ErrorTerm(cause="density, good for 1 %", mm=mm / 2 * DENSITY_OFF),
            *errors_of(tool, length_mm, mm / 2 / length_mm),
        ),
        instrument="weighed wire",
        worked=f"sqrt(4 x {mass_g:g} g / (pi x {density_g_cm3:g} g/cm3 x {sized(length_mm, 1)}))",
        number=number,
    )


# --- rings and coils


def inside_by_chain(length_mm: float, rings: int, wire: KnownWire, tool: Instrument, *, number: int = 1) -> Value:
    """The inside of closed rings by a chain of them pulled just straight: L = N x ID + 2 d.

    Exact while neighbours cross at 60 degrees or more, for rings through which two neighbours pass. It reads the
    largest inside of an oval ring.
    """
    _refuse_no_chain(rings)
    d, mm = wire.diameter_mm, (positive(length_mm, "a chain's length") - 2 * wire.diameter_mm) / rings
    if mm < SMALLEST_AR * d * (1 - 1e-9):
        raise OutOfRange(
            f"{rings} rings in {length_mm:.2f} mm would be {max(mm, 0.0):.2f} mm inside, and two wires of {d:g} mm do"
            " not pass through that",
            f"check how many rings and which wire: from {rings * SMALLEST_AR * d + 2 * d:.1f} mm on it can be a chain",
        )
    return Value(
        is_of_chain=True,
        way=f"chain of {rings} by {tool.name}",
        mm=mm,
        terms=(
            *errors_of(tool, length_mm, 1 / rings),
            wire.term(-2 / rings),
            ErrorTerm(cause="pull on the chain", mm=PULLED_MM),
        ),
        instrument=tool.name,
        worked=f"({sized(length_mm, 2)} - 2 x {sized(d, 3)}) / {rings}",
        number=number,
    )


def inside_by_outside(outside_mm: float, wire: KnownWire, tool: Instrument, *, number: int = 1) -> Value:
    """The inside of a ring or a coil by its outside and its wire: OD - 2 d."""
    d = wire.diameter_mm
    mm = positive(outside_mm, "outside") - 2 * d
    if mm <= 0:
        problem = f"an outside of {outside_mm:g} mm leaves no inside within two wires of {d:g} mm"
        raise OutOfRange(problem, "check both")
    return Value(
        way=f"outside by {tool.name}",
        mm=mm,
        terms=(*errors_of(tool, outside_mm), wire.term(-2.0)),
        instrument=tool.name,
        worked=f"{sized(outside_mm, 2)} - 2 x {sized(d, 3)}",
        number=number,
    )


def wire_of_rings(outside: Measured, other: Measured, rings: int | None = None) -> KnownWire:
    """The wire of rings that are read outside, and inside or in a chain of so many: `other` is that.

    d = (OD - ID) / 2. With a chain, ID = (L - 2 d) / N, so d = (N x OD - L) / (2 N - 2): two readings, two unknowns.
    """
    if rings is None:
        two_wires, off = apart(outside, other)
    else:
        _refuse_no_chain(rings)
        two_wires = (rings * outside.mm - other.mm) / (rings - 1)
        off = math.hypot(rings * outside.uncertainty_mm, other.uncertainty_mm) / (rings - 1)
    if two_wires <= off:
        what = "inside" if rings is None else f"chain of {rings}"
        problem = f"an outside of {sized(outside.mm, 2)} and {'an' if rings is None else 'a'} {what} of"
        raise OutOfRange(f"{problem} {sized(other.mm, 2)} leave no wire between them", "read both again")
    return KnownWire(diameter_mm=two_wires / 2, off_mm=off / 2)


def inside_by_straightened(
    length_mm: float,
    turns: float,
    wire: KnownWire,
    tool: Instrument,
    *,
    pitch_mm: float | None = None,
    number: int = 1,
) -> Value:
    """The inside of a coil by turns of it, straightened; of cut rings by so many of them, the kerf put back by eye.

    L = N sqrt((pi (ID + d))^2 + p^2), read backwards as for a rod.
    """
    _refuse_few(turns, FEWEST_UNWOUND)
    mm, per_length, per_wire = _inside_of_turns(length_mm, turns, wire.diameter_mm, pitch_mm)
    return Value(
        way=f"{turns:g} turns straightened, by {tool.name}",
        mm=mm,
        terms=(*_straightened(tool, length_mm, per_length), wire.term(per_wire)),
        instrument=tool.name,
        worked=f"sqrt(({sized(length_mm, 1)} / {turns:g})^2 - pitch^2) / pi - {sized(wire.diameter_mm, 3)}",
        number=number,
    )


def refuse_ring_by_mass(mass_g: float, wire: KnownWire, density_g_cm3: float) -> OutOfRange:
    """Why a ring is not measured by weighing it: m = pi^2/4 d^2 D rho, so D takes twice the wire's error and rho's."""
    d = wire.diameter_mm
    mean = 4000 * positive(mass_g, "mass") / (math.pi**2 * d**2 * positive(density_g_cm3, "density"))
    off = mean * math.hypot(2 * wire.term(1.0).mm / d, DENSITY_OFF)
    return OutOfRange(
        f"a ring's weight tells its size only to {sized(max(off, 0.01), 2)}: wire counts twice in it, density once",
        "hang twenty rings in a chain and read its length, or read the outside of one in a wedge",
    )


def _refuse_no_wire(mm: float, worked: str) -> None:
    low, high = WIRES_MM
    if not low <= mm <= high:
        problem = f"{worked} would be wire of {sized_short(mm, 2)}"
        raise OutOfRange(problem, f"check what was read; wire of {sized_short(low)} to {sized_short(high)} winds rings")


def _refuse_no_chain(rings: int) -> None:
    if rings < 2:
        raise OutOfRange(f"a chain of {rings} rings", "take two or more; twenty are better")


def _refuse_few(turns: float, fewest: int) -> None:
    if not finite(turns, "turns") >= fewest:
        raise OutOfRange(f"{turns:g} turns are too few to measure by", f"wind {fewest} or more; twenty are better")
