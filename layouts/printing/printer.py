"""A printer as it was measured: its factors, its uncertainty, its age, and the correction that makes sheets true.

The frame of a record is the sheet upright: `across` is the short side, `along` the long one, as the paper goes
through the printer. On a landscape sheet the two change places.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from layouts.affine import Affine
from layouts.dates import age_warnings, parse_date
from layouts.drawing import lettering
from layouts.drawing.marks import Box
from layouts.errors import OutOfRange, QuantityRefused, shown
from layouts.lengths import changed
from layouts.pages.page import Sized
from layouts.pages.paper import Paper
from layouts.printing.budget import COVERAGE, ROOT3, Budget, Term, budget_of_line, find_instrument, reads_percent
from layouts.printing.trust import good_for
from layouts.units import parse_length, positive

if TYPE_CHECKING:
    from datetime import date as Day  # the field `date` of a record would hide it

NONE = "none"  # in place of a printer's name: no correction
LOW, HIGH = 0.95, 1.05  # no printer by itself is off by more
STALE_DAYS = 90
MOST_SKEW_DEG = 2.0
MOST_SPREAD_MM = 0.3

# Half widths of what was not measured or cannot be; common practice, no source.
PAPER_SHARE = 0.0005  # a sheet after a few minutes' rest, of its length
UNKNOWN_SKEW_DEG = 0.1
UNKNOWN_SPREAD_MM = 0.05  # an edge
UNSEEN_BEND_MM, BEND_PER_RESIDUAL, BEND_LENGTH_MM = 0.02, 1.8, 50.0  # simulated, feeds that wander and jump
SPREAD_WANDERS_MM = 0.02  # an edge, from one sheet to the next


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A base line: its true length, what was read off the print, and with what if not with the record's instrument."""

    length_mm: float
    read_mm: float
    instrument: str = ""

    def __post_init__(self) -> None:
        positive(self.length_mm, "a true length")
        positive(self.read_mm, "a reading")

    @property
    def ratio(self) -> float:
        """Read over true."""
        return self.read_mm / self.length_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagonals:
    """The diagonals of a rectangle, read off the print: rising from the lower left, falling from the upper left."""

    across_mm: float
    along_mm: float
    rising_mm: float
    falling_mm: float

    def __post_init__(self) -> None:
        for size in (self.across_mm, self.along_mm, self.rising_mm, self.falling_mm):
            positive(size, "a diagonal or its rectangle")

    @property
    def true_mm(self) -> float:
        """The true length of both."""
        return math.hypot(self.across_mm, self.along_mm)

    def lean(self, across: float, along: float) -> float:
        """The sine of the angle by which `along` leans to the right.

        (rising^2 - falling^2) / (4 W H) with the sides as printed: the law of cosines, both ways.
        """
        sides = self.across_mm * across * self.along_mm * along
        return (self.rising_mm**2 - self.falling_mm**2) / (4 * sides)


@dataclass(frozen=True, slots=True, kw_only=True)
class InkPair:
    """A black bar and a white gap of the same true width, as read; how far a scan's tone curve may move an edge."""

    black_mm: float
    white_mm: float
    edge_mm: float | None = None  # a half width; None: as far as the instrument's does

    def __post_init__(self) -> None:
        if self.edge_mm is not None:
            positive(self.edge_mm, "how far an edge may be off")
        positive(self.black_mm, "a black bar")
        positive(self.white_mm, "a white gap")

    @property
    def spread_mm(self) -> float:
        """What each edge of the ink grew by: (black - white) / 4, whatever the scale."""
        return (self.black_mm - self.white_mm) / 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Printer:
    """What was measured on one printer with one paper or card. Everything else is derived."""

    name: str
    tray: str
    instrument: str
    across: Reading
    along: Reading
    diagonals: Diagonals | None = None
    ink: tuple[InkPair, ...] = ()
    date: str = ""  # of the measurement, such as 2026-11-25
    sheet: str = ""  # what was measured, with its version
    paper: str = ""
    landscape: bool = False  # whether the sheet that was measured was
    residual_mm: float | None = None  # of a scan's markers, root mean square: what a fit leaves; None: not measured

    def __post_init__(self) -> None:
        _check_words(self.name, "a printer's name", 32)
        if self.name.casefold() == NONE:
            raise OutOfRange("a printer called none would be taken for no printer", "give it another name")
        _check_words(self.tray, "what lies in the tray", 48)
        find_instrument(self.instrument)
        if self.date:
            parse_date(self.date)
        if not all(LOW <= reading.ratio <= HIGH for reading in (self.across, self.along)):
            raise factors_refused(self.across.ratio, self.along.ratio, self.paper)
        self._check_skew_and_spread()

    def _check_skew_and_spread(self) -> None:
        if self.residual_mm is not None and not 0 <= self.residual_mm <= MOST_SPREAD_MM:
            raise OutOfRange(f"a residual of {self.residual_mm:g} mm", f"give 0 to {MOST_SPREAD_MM:g} mm")
        if self.diagonals and not abs(self._lean) <= math.sin(math.radians(MOST_SKEW_DEG)):
            raise OutOfRange(
                "the diagonals differ by more than a printer's skew (2 degrees)", "measure them again, cross to cross"
            )
        if abs(self.spread_mm) > MOST_SPREAD_MM:
            raise OutOfRange(
                f"an ink spread of {self.spread_mm:.2f} mm an edge is more than any printer has",
                "measure bars and gaps again",
            )

    # --- what the readings say

    @property
    def across_factor(self) -> float:
        """Printed over true along the short side of the sheet."""
        return (self.along if self.landscape else self.across).ratio

    @property
    def along_factor(self) -> float:
        """Printed over true along the long side of the sheet."""
        return (self.across if self.landscape else self.along).ratio

    @property
    def _lean(self) -> float:
        return self.diagonals.lean(self.across.ratio, self.along.ratio) if self.diagonals else 0.0

    @property
    def skew_deg(self) -> float:
        """By how much the upright lines of the measured sheet lean to the right; 0 when it was not measured."""
        return math.degrees(math.asin(self._lean))

    @property
    def spread_mm(self) -> float:
        """What each edge of the ink grows by, the mean of the pairs; 0 when it was not measured."""
        return sum(pair.spread_mm for pair in self.ink) / len(self.ink) if self.ink else 0.0

    # --- what is done about it

    def distortion(self, *, landscape: bool = False) -> Affine:
        """What the printer does to a page that lies so, about its centre.

        On the sheet that was measured, a step across of 1 becomes (across, 0), a step along of 1 becomes along
        (sin skew, cos skew). Turned by 90 degrees either way it is the same seen from the other side.
        """
        lean, along = self._lean, self.along.ratio
        seen = Affine(a=self.across.ratio, c=along * lean, d=along * math.sqrt(1 - lean**2))
        if landscape == self.landscape:
            return seen
        return Affine(a=seen.d, b=-seen.c, c=-seen.b, d=seen.a)

    def correction(self, paper: Paper) -> Affine:
        """The one matrix for a page on this paper: the distortion undone, about the page's centre."""
        undone = self.distortion(landscape=paper.landscape).inverse()
        return undone.about(paper.width_mm / 2, paper.height_mm / 2)

    def reach(self, paper: Paper) -> Box:
        """The part of the safe area of a paper that the correction leaves in the safe area: left, bottom, right, top.

        Ink there is within the safe edges in the file, and on the paper, where it lies as drawn.
        """
        low_x, low_y, high_x, high_y = paper.safe
        x, y = paper.width_mm / 2, paper.height_mm / 2
        m = self.distortion(landscape=paper.landscape).inverse()
        leans_x = [m.c * (low_y - y), m.c * (high_y - y)]
        leans_y = [m.b * (low_x - x), m.b * (high_x - x)]
        return (
            max(low_x, x + (low_x - x - min(leans_x)) / m.a),
            max(low_y, y + (low_y - y - min(leans_y)) / m.d),
            min(high_x, x + (high_x - x - max(leans_x)) / m.a),
            min(high_y, y + (high_y - y - max(leans_y)) / m.d),
        )

    # --- how far it can be trusted

    def scale_budget(self, reading: Reading) -> Budget:
        """Of a factor, as a share: the instrument, and reading both ends, over the base line."""
        return budget_of_line(reading.length_mm, find_instrument(reading.instrument or self.instrument))

    @property
    def skew_standard(self) -> float:
        """Of the skew, in radians. An instrument is off alike on both diagonals: their ends count, and its own skew."""
        if self.diagonals is None:
            return math.radians(UNKNOWN_SKEW_DEG) / ROOT3
        seen, tool = self.diagonals, find_instrument(self.instrument)
        ends = math.sqrt(2.0) * seen.true_mm * tool.ends_mm / (2 * seen.across_mm * seen.along_mm)
        return math.hypot(ends, math.radians(tool.skew) / ROOT3)

    @property
    def spread_standard_mm(self) -> float:
        """Of the ink spread at an edge. The instrument is off alike on bar and gap: their ends alone count."""
        if not self.ink:
            return UNKNOWN_SPREAD_MM / ROOT3
        tool = find_instrument(self.instrument)
        edge = max(tool.edge if pair.edge_mm is None else pair.edge_mm for pair in self.ink)
        if all(pair.edge_mm is not None for pair in self.ink):  # fitted: the ends are in it
            return edge / ROOT3
        return math.hypot(math.sqrt(2.0) * tool.ends_mm / 4 / math.sqrt(len(self.ink)), edge / ROOT3)

    def budget(self, size_mm: float, edges: int = 2) -> Budget:
        """Of a length on a corrected sheet, in mm: scale, skew, paper, and the ink of 2 edges (0: lines)."""
        positive(size_mm, "a size on a sheet")
        scale = max(self.scale_budget(r).expanded for r in (self.across, self.along)) / COVERAGE
        skew = "skew" if self.diagonals else f"skew, not measured, ±{UNKNOWN_SKEW_DEG:g} degrees"
        ink = "ink spread" if self.ink else f"ink spread, not measured, ±{UNKNOWN_SPREAD_MM:g} mm an edge"
        terms = [
            Term(words="scale", standard=size_mm * scale),
            Term(words=skew, standard=size_mm * self.skew_standard / 2),
            Term(words=f"paper, ±{PAPER_SHARE * 100:g} %", standard=size_mm * PAPER_SHARE / ROOT3),
        ]
        if self.residual_mm is not None:
            # The markers see a part of a bend: its rest is taken from the law of tests/scan_bends.py.
            bend = math.hypot(UNSEEN_BEND_MM, BEND_PER_RESIDUAL * self.residual_mm)
            short = math.sqrt(min(1.0, size_mm / BEND_LENGTH_MM))
            terms.append(Term(words="bends that no correction undoes", standard=bend * short))
        if edges:
            terms.append(Term(words=ink, standard=edges * self.spread_standard_mm))
        if edges and self.ink:
            wanders = f"ink from sheet to sheet, ±{SPREAD_WANDERS_MM:g} mm an edge"
            terms.append(Term(words=wanders, standard=edges * SPREAD_WANDERS_MM / ROOT3))
        return Budget(terms=tuple(terms))

    def good_for_mm(self, size_mm: float, edges: int = 2) -> float:
        """What is stated of a size on a corrected sheet: its uncertainty, k = 2, rounded up to 0.01 mm."""
        hundredths = self.budget(size_mm, edges).expanded * 100
        return math.ceil(hundredths - 1e-6) / 100  # up, but not by a hundredth for the last digit of a float

    @property
    def scale_expanded(self) -> float:
        """The part of a length by which lines may be off, k = 2, from what it is good for over 100 mm."""
        return self.good_for_mm(100.0, 0) / 100.0

    @property
    def skew_expanded_deg(self) -> float:
        """k = 2 uncertainty of the skew, in degrees."""
        return COVERAGE * math.degrees(self.skew_standard)

    @property
    def spread_expanded_mm(self) -> float:
        """k = 2 uncertainty of the ink spread at an edge."""
        return COVERAGE * self.spread_standard_mm

    # --- words

    def warnings(self, today: Day, tray: str = "", paper: Paper | None = None) -> tuple[str, ...]:
        """What to tell who prints with this record now: its age, another paper in the tray, another size."""
        words = [*age_warnings(str(self), self.date, today, stale_days=STALE_DAYS, again="measure again")]
        if tray and not same_words(tray, self.tray):
            words.append(f"{self.name} was measured on {self.tray}, not on {tray}, which may feed differently")
        if paper and self.paper and paper.name != self.paper:
            words.append(f"{self.name} was measured on {self.paper}: feed {paper.name} the same way, short side first")
        return tuple(words)

    def __str__(self) -> str:
        return f"{self.name} on {self.tray}"

    @property
    def short(self) -> str:
        """Name and factors, across and along, for the head of a sheet: 'office, 0.9987 × 1.0012'."""
        return f"{self.name}, {self.across_factor:.4f} × {self.along_factor:.4f}"

    @property
    def long(self) -> str:
        """Everything that a corrected sheet says of it, in one sentence."""
        when = f", measured {self.date}" if self.date else ", measured on an unknown date"
        skew = f", leans {self.skew_deg:+.2f}°" if self.diagonals else ""
        ink = f", ink grows {changed(self.spread_mm, 3)} an edge" if self.ink else ""
        factors = f"across {self.across_factor:.4f}, along {self.along_factor:.4f}"
        return f"Corrected for {self}{when} with {find_instrument(self.instrument).words}: {factors}{skew}{ink}."

    def notes(self, gauges: Sequence[Sized]) -> tuple[str, ...]:
        """What a corrected sheet says: what each of its gauges is good for, and all that is known of the printer."""
        return *good_for(gauges, self), self.long


def factors_refused(across: float, along: float, paper: str = "") -> OutOfRange:
    """The refusal of factors that no printer has: alike they come from a setting, else a reading is wrong."""
    from layouts.printing.causes import alike, likely

    ratios, limits = f"across {across:.3f}, along {along:.3f}", f"and a printer's factor is {LOW:g} to {HIGH:g}"
    if not alike(across, along):
        return OutOfRange(
            f"the two ways disagree: {ratios}, {limits}",
            "a setting changes both alike, so measure both again, cross to cross",
        )
    problem = f"both ways are alike, the sign of a print setting: {ratios}, {limits}"
    return OutOfRange(problem, likely(across, along, paper) or "print at 100 %, actual size, and measure again")


def same_words(one: str, other: str) -> bool:
    """Whether two names or papers are the same, capitals and spaces aside."""
    return one.casefold().split() == other.casefold().split()


def _check_words(words: str, what: str, most: int) -> None:
    if not 0 < len(words) <= most or words != " ".join(words.split()):
        raise OutOfRange(f"{what} of {len(words)} characters, or with stray spaces", f"give 1 to {most} on one line")
    lettering.check(words)


def parse_reading(words: str, length_mm: float, instrument: str) -> Reading:
    """What was read off a line of `length_mm`: "149.6 mm", or "99.7 mm of 100 mm" for another line.

    A card reads the size of the print, "99.5 %".
    """
    if reads_percent(instrument):
        figure = words.strip().removesuffix("%").strip().replace(",", ".")
        whole, _, part = figure.partition(".")
        if not words.strip().endswith("%") or not f"{whole}{part}".isdecimal() or len(figure) > 8 or not whole:
            remedy = "with a card, write what the ticks read, such as 99.5 %"
            raise QuantityRefused(f"{shown(words)} is not a size of print", remedy)
        return Reading(length_mm=length_mm, read_mm=length_mm * float(figure) / 100)
    read, other, length = words.partition(" of ")
    return Reading(length_mm=parse_length(length) if other else length_mm, read_mm=parse_length(read))
