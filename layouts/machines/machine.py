"""A machine as it was measured with one material: what holes, pins and lengths come out as, and how far that is sure.

A laser or a knife takes away a kerf: a hole comes out larger by it and a disc smaller. A 3D printer leaves
holes small. Both are the same figure here: by how much a size comes out larger than it was drawn, in mm, for each of
the four kinds of edge. So one correction serves them all: draw a size smaller by what it will gain.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from layouts.dates import age_warnings, parse_date
from layouts.drawing import lettering
from layouts.errors import OutOfRange, UnknownName
from layouts.lengths import sized
from layouts.machines.tried import Tried, find_tool, refuse_tool
from layouts.printing.budget import COVERAGE, Budget, Term
from layouts.printing.printer import STALE_DAYS, same_words
from layouts.units import positive

if TYPE_CHECKING:
    from datetime import date as Day  # the field `date` of a record would hide it

LASER, KNIFE, PLASTIC = "laser", "knife", "3d-printer"
KINDS = (LASER, KNIFE, PLASTIC)
EDGES = {"hole": "inside", "slot": "inside", "pin": "outside", "tab": "outside"}
"""Each kind of size, and whether it is read inside or outside."""
ROW_CUTS = 11
"""Cuts that a gap at the end of a row of ten blocks adds up: nine between them, and half of each end twice."""

MOST_GAIN_MM = 1.0  # no machine that is of use here is further off on a size
LOW, HIGH = 0.97, 1.03  # or on a length, as a ratio

# Half widths of what was not measured or cannot be; common practice, no source.
REPEATS_MM = {LASER: 0.03, KNIFE: 0.1, PLASTIC: 0.08}  # a size from one piece to the next
UNKNOWN_SCALE = {LASER: 0.001, KNIFE: 0.002, PLASTIC: 0.004}  # a share of a length
ROUND_MM = 0.03  # a round cut against a straight one
OTHER_KIND_MM = 0.08  # a round hole against a slot, a disc against a tab

_SIBLINGS = {"hole": "slot", "slot": "hole", "pin": "tab", "tab": "pin"}
_ROOT3 = math.sqrt(3.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Gain:
    """By how much sizes of a kind come out larger than drawn [mm], the terms of that, and what it is based on in words.

    is_borrowed: no size of this kind was tried, and it is taken from another kind.
    """

    mm: float
    terms: tuple[Term, ...]
    basis: str
    count: int = 0
    is_borrowed: bool = False

    @property
    def uncertainty_mm(self) -> float:
        """k = 2."""
        return Budget(terms=self.terms).expanded


@dataclass(frozen=True, slots=True, kw_only=True)
class Machine:
    """What was tried on the coupon of one machine in one material. Everything else is derived. Lengths in mm.

    thickness_mm: of the sheet; None for a machine that builds, or for paper. gap: what a row of ten blocks, cut apart
    in a window and pushed together, leaves free. across, along: a long line, as drawn and as read.
    """

    name: str
    kind: str
    material: str
    thickness_mm: float | None = None
    holes: tuple[Tried, ...] = ()
    pins: tuple[Tried, ...] = ()
    slots: tuple[Tried, ...] = ()
    tabs: tuple[Tried, ...] = ()
    gap: Tried | None = None
    across: Tried | None = None
    along: Tried | None = None
    date: str = ""  # of the trial, such as 2026-11-25

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise UnknownName("kind of machine", self.kind, KINDS)
        _check_words(self.name, "a machine's name", 32)
        _check_words(self.material, "a material", 32)
        if self.thickness_mm is not None and not 0.02 <= positive(self.thickness_mm, "a thickness") <= 50:
            raise OutOfRange(f"a sheet of {self.thickness_mm:g} mm", "give 0.02 mm to 50 mm")
        if self.date:
            parse_date(self.date)
        if not any((self.holes, self.pins, self.slots, self.tabs, self.gap, self.across, self.along)):
            raise OutOfRange("nothing was tried", "give a hole, a pin, a slot, a tab, the gap or a length")
        for kind, way in EDGES.items():
            for tried in self.tried(kind):
                refuse_tool(tried.tool, way, f"a {kind}")
                if not abs(tried.read_mm - tried.wanted_mm) <= MOST_GAIN_MM:
                    said = f"a {kind} drawn as {tried.wanted_mm:g} mm that came out as {tried.read_mm:g} mm"
                    right = f"check which {kind} it is: none here is off by more than {MOST_GAIN_MM:g} mm"
                    raise OutOfRange(said, right)
        self._check_gap_and_lengths()

    def _check_gap_and_lengths(self) -> None:
        if self.gap:
            refuse_tool(self.gap.tool, "inside", "the gap")
            if self.kind == PLASTIC:
                raise OutOfRange("a gap of a row that a 3D printer built", "leave it out: nothing was cut")
            if self.gap.read_mm > ROW_CUTS * MOST_GAIN_MM:
                raise OutOfRange(f"a gap of {self.gap.read_mm:g} mm", f"give at most {ROW_CUTS * MOST_GAIN_MM:g} mm")
        for way, tried in (("across", self.across), ("along", self.along)):
            if tried:
                refuse_tool(tried.tool, "length", "a length")
                if not LOW <= tried.read_mm / tried.wanted_mm <= HIGH:
                    said = f"{tried.wanted_mm:g} mm {way} that came out as {tried.read_mm:g} mm"
                    raise OutOfRange(said, "check which line it is, and the units and the scale of the machine")

    # --- what the coupon says

    def tried(self, kind: str) -> tuple[Tried, ...]:
        """What was tried of a kind ("hole", "pin", "slot", "tab"). Refuses another (`UnknownName`)."""
        if kind not in EDGES:
            raise UnknownName("kind of size", kind, EDGES)
        return {"hole": self.holes, "pin": self.pins, "slot": self.slots, "tab": self.tabs}[kind]

    @property
    def across_factor(self) -> float:
        """Made over drawn across the machine; 1 where no length was read that tells more than is usual."""
        return self._scale(self.across)[0]

    @property
    def along_factor(self) -> float:
        """Made over drawn along the machine, likewise."""
        return self._scale(self.along)[0]

    @property
    def factor(self) -> float:
        """The mean of both, for a size that has no way, such as a hole."""
        return (self.across_factor + self.along_factor) / 2

    @property
    def scale_standard(self) -> float:
        """Standard uncertainty of a factor, as a share: the worse of the two ways."""
        return max(self._scale(self.across)[1], self._scale(self.along)[1])

    def _scale(self, tried: Tried | None) -> tuple[float, float]:
        """A factor and its standard uncertainty. Machines run true to a share of a length that is usual for the kind.

        A reading that is less sure than that, and agrees with it, tells nothing: a rule would only spoil it.
        """
        usual = UNKNOWN_SCALE[self.kind] / _ROOT3
        if tried is None:
            return 1.0, usual
        tool = find_tool(tried.tool)
        read = math.hypot(tool.shared_standard_mm("length"), tried.each_standard_mm) / tried.wanted_mm
        ratio = tried.read_mm / tried.wanted_mm
        agrees = abs(ratio - 1) <= COVERAGE * math.hypot(read, usual)
        return (1.0, usual) if read > usual and agrees else (ratio, read)

    def gain(self, kind: str) -> Gain:
        """By how much a size of a kind comes out larger than drawn: the surest of what the coupon says of it.

        That is what was tried of this kind, and the row of blocks where the machine cuts. Without either it is taken
        from the nearest kind that was tried, less surely; without that it is what is usual.
        """
        way = EDGES[kind]
        found = list[Gain]()
        for own in _by_tool(self.tried(kind)):
            found.append(self._tried_gain(own, way, f"{len(own)} {kind}{'s' if len(own) > 1 else ''} tried"))
        if self.gap:
            found.append(self._by_gap(self.gap, kind))
        if found:
            return min(found, key=lambda gain: gain.uncertainty_mm)
        # what is cut away widens holes by what it takes off discs; what is built knows nothing of the kind
        others = [other for other in EDGES if EDGES[other] != way] if self.kind != PLASTIC else []
        for other in (_SIBLINGS[kind], *others):
            for near in _by_tool(self.tried(other)):
                sign = 1.0 if EDGES[other] == way else -1.0
                return self._borrowed(self._tried_gain(near, EDGES[other], ""), other, sign)
        usual, half = _USUAL[self.kind][way]
        term = Term(words=f"{kind}s not tried, ±{half:g} mm", standard=half / _ROOT3)
        return Gain(mm=usual, terms=(term,), basis="not tried: common practice, no source")

    def _by_gap(self, gap: Tried, kind: str) -> Gain:
        tool, sign = find_tool(gap.tool), 1.0 if EDGES[kind] == "inside" else -1.0
        standard = math.hypot(tool.shared_standard_mm("inside"), gap.each_standard_mm) / ROW_CUTS
        terms = [Term(words=f"the gap of the row, over its {ROW_CUTS} cuts", standard=standard)]
        if kind in ("hole", "pin"):
            round_words = f"a round cut against a straight one, ±{ROUND_MM:g} mm"
            terms.append(Term(words=round_words, standard=ROUND_MM / _ROOT3))
        return Gain(mm=sign * gap.read_mm / ROW_CUTS, terms=tuple(terms), basis="the row of blocks", count=1)

    @property
    def kerf(self) -> Gain | None:
        """The width of a cut [mm]: what holes gain and pins lose, the surest of them. None for a 3D printer."""
        if self.kind == PLASTIC:
            return None
        gains = [(self.gain(kind), 1.0 if way == "inside" else -1.0) for kind, way in EDGES.items()]
        gain, sign = min(gains, key=lambda found: found[0].uncertainty_mm)
        return replace(gain, mm=sign * gain.mm)

    def _tried_gain(self, tried: tuple[Tried, ...], way: str, basis: str) -> Gain:
        """What sizes gain that were all tried with one tool, in one manner."""
        tool, scale = find_tool(tried[0].tool), self.factor
        mm, each = _between(tried, scale) if tried[0].is_between else _averaged(tried, scale)
        widest = max(one.wanted_mm for one in tried)
        terms = (
            Term(words=f"{tool.words}, off alike", standard=tool.shared_standard_mm(way)),
            each,
            Term(words="their scale", standard=widest * self.scale_standard),
        )
        return Gain(mm=mm, terms=terms, basis=basis, count=len(tried))

    @staticmethod
    def _borrowed(gain: Gain, other: str, sign: float) -> Gain:
        term = Term(words=f"taken from {other}s, ±{OTHER_KIND_MM:g} mm", standard=OTHER_KIND_MM / _ROOT3)
        basis = f"taken from {other}s"
        return replace(gain, mm=sign * gain.mm, terms=(*gain.terms, term), basis=basis, is_borrowed=True)

    # --- what is done about it

    def drawn_mm(self, kind: str, wanted_mm: float) -> float:
        """What to draw so that a size of a kind comes out as wanted: (wanted - gain) / factor.

        Refuses (`OutOfRange`) a size that the machine cannot make.
        """
        drawn = (positive(wanted_mm, f"a {kind}") - self.gain(kind).mm) / self.factor
        if drawn <= 0:
            raise OutOfRange(f"a {kind} of {wanted_mm:g} mm is within what {self.name} cuts away", "make it larger")
        return drawn

    # --- how far it can be trusted

    def budget(self, kind: str, size_mm: float) -> Budget:
        """Of a size of a kind that was corrected, mm: its gain, its scale, and how the machine repeats."""
        positive(size_mm, "a size")
        repeats = REPEATS_MM[self.kind]
        return Budget(
            terms=(
                *self.gain(kind).terms,
                Term(words="scale", standard=size_mm * self.scale_standard),
                Term(words=f"from piece to piece, ±{repeats:g} mm", standard=repeats / _ROOT3),
            )
        )

    def good_for_mm(self, kind: str, size_mm: float) -> float:
        """What is stated of a corrected size: its uncertainty, k = 2, rounded up to 0.01 mm."""
        hundredths = self.budget(kind, size_mm).expanded * 100
        return math.ceil(hundredths - 1e-6) / 100  # up, but not by a hundredth for the last digit of a float

    # --- words

    def warnings(self, today: Day) -> tuple[str, ...]:
        """What to tell who uses this record now: its age, and what is doubtful in it."""
        again = "try another coupon"
        return (*age_warnings(str(self), self.date, today, stale_days=STALE_DAYS, again=again), *self.doubts())

    def doubts(self) -> Iterator[str]:
        """What is doubtful about the record itself, in sentences without a full stop."""
        if self.kind != PLASTIC:
            inside, outside = self.gain("hole" if self.holes else "slot"), self.gain("pin" if self.pins else "tab")
            apart = abs(inside.mm + outside.mm)
            if inside.count and outside.count and apart > math.hypot(inside.uncertainty_mm, outside.uncertainty_mm):
                yield (
                    f"holes gain {inside.mm:.2f} mm and pins lose {-outside.mm:.2f} mm, which should be alike: "
                    "each is undone by its own figure, but look whether the cut is square and the sheet lies flat"
                )
        if (kerf := self.kerf) and kerf.count and kerf.mm < -kerf.uncertainty_mm:
            yield (
                f"a kerf of {kerf.mm:.2f} mm, though a cut takes away: look which sizes were read, and whether the "
                "machine's own program undoes a kerf too"
            )
        for way, tried in (("across", self.across), ("along", self.along)):
            if tried and self._scale(tried)[0] == 1.0 != tried.read_mm / tried.wanted_mm:
                yield f"the length {way} is read less surely than such machines are true, and is not used"
        for kind in EDGES:
            if self.tried(kind) and abs(self.gain(kind).mm) < self.gain(kind).uncertainty_mm:
                yield f"what {kind}s gain is smaller than what it can be read to"

    def __str__(self) -> str:
        return f"{self.name} in {self.works_in}"

    @property
    def works_in(self) -> str:
        """The material, and the thickness where it has one: 'birch plywood, 3 mm'."""
        return f"{self.material}, {self.thickness_mm:g} mm" if self.thickness_mm else self.material

    @property
    def long(self) -> str:
        """Everything that a file made for it says of it, in one sentence."""
        when = f", tried {self.date}" if self.date else ", tried on an unknown date"
        parts = []
        for kind in EDGES:
            gain = self.gain(kind)
            size = f"{sized(abs(gain.mm), 2)} {'larger' if gain.mm > 0 else 'smaller'}"
            if not gain.count:
                parts.append(f"{kind}s were not tried, and are taken for {size}")
            elif not gain.is_borrowed:
                parts.append(f"{kind}s come out {size} (±{sized(gain.uncertainty_mm, 2)}, {gain.basis})")
        parts.append(f"scale {self.across_factor:.4f} × {self.along_factor:.4f} (±{self._scale_percent:.2f} %)")
        return f"Corrected for {self}{when}: {'; '.join(parts)}; k = 2."

    @property
    def _scale_percent(self) -> float:
        return 100 * COVERAGE * self.scale_standard


# What sizes gain that were not tried, and a half width, mm; common practice, no source.
_USUAL = {
    LASER: {"inside": (0.15, 0.15), "outside": (-0.15, 0.15)},
    KNIFE: {"inside": (0.0, 0.15), "outside": (0.0, 0.15)},
    PLASTIC: {"inside": (-0.25, 0.2), "outside": (0.0, 0.2)},
}


def _by_tool(tried: tuple[Tried, ...]) -> list[tuple[Tried, ...]]:
    """What was tried, apart by the tool and by whether it was read or lies between two sizes."""
    groups: dict[tuple[str, bool], list[Tried]] = {}
    for one in tried:
        groups.setdefault((one.tool, one.is_between), []).append(one)
    return [tuple(group) for group in groups.values()]


def _averaged(tried: tuple[Tried, ...], scale: float) -> tuple[float, Term]:
    """The mean gain of readings [mm], and its own uncertainty: as they are read, or as they differ if that is more."""
    gains, count = [one.read_mm - scale * one.wanted_mm for one in tried], len(tried)
    mean = math.fsum(gains) / count
    each = tried[0].each_standard_mm / math.sqrt(count)
    seen = math.sqrt(math.fsum((gain - mean) ** 2 for gain in gains) / (count - 1) / count) if count > 2 else 0.0
    words = "readings that differ among themselves" if seen > each else f"{count} readings, each for itself"
    return mean, Term(words=words, standard=max(each, seen))


def _between(tried: tuple[Tried, ...], scale: float) -> tuple[float, Term]:
    """The gain that lies in all the steps of a set of shanks, and half of what they leave.

    Steps do not average: holes of whole millimetres all fall on the same place of a step of 0.1 mm. Holes that are
    not share only a part of it, as on a vernier. Steps that share nothing leave what they are apart, and a step.
    """
    low = max(one.low_mm - scale * one.wanted_mm for one in tried)
    high = min(one.high_mm - scale * one.wanted_mm for one in tried)
    half = (high - low) / 2 if high > low else (low - high) / 2 + max(one.high_mm - one.low_mm for one in tried) / 2
    words = f"between two sizes, ±{half:.3f} mm"
    return (low + high) / 2, Term(words=words, standard=math.hypot(half / _ROOT3, tried[0].tool_each_standard_mm))


def same_record(one: Machine, other: Machine) -> bool:
    """Whether two records are of the same machine in the same material and thickness."""
    return same_words(one.name, other.name) and fits(one, other.material, other.thickness_mm)


def fits(machine: Machine, material: str, thickness_mm: float | None) -> bool:
    """Whether a record is of a material, and of a thickness to 0.01 mm."""
    if not same_words(machine.material, material):
        return False
    one, other = machine.thickness_mm, thickness_mm
    return one == other if one is None or other is None else abs(one - other) < 0.01


def _check_words(words: str, what: str, most: int) -> None:
    if not 0 < len(words) <= most or words != " ".join(words.split()):
        raise OutOfRange(f"{what} of {len(words)} characters, or with stray spaces", f"give 1 to {most} on one line")
    lettering.check(words)
