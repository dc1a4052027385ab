"""Whether a scan ever lies: `python tests/scan_faults.py [faulty|fair|both] [FIRST] [COUNT]`. Prints counts.

Each picture is a simulated print of the sheet on A4, seen by a simulated scanner with something on the glass. The law
of the faults and of the fair pictures stands in the two functions below, fixed before they were first run; the number
of a picture is its seed, so that a run in parts (0 100, 100 100, ...) is the same as one run. A faulty picture must be
refused, or read within twice the stated uncertainty, k = 2, and nearly always within it; a fair one must be read.

To reach: of 1,000 faulty ones at most 60 outside the stated uncertainty and none outside twice it; of 1,000 fair ones
at most 20 refused.
"""

from __future__ import annotations

import math
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from simulated_printer import Card, Grey, Press, Scanner, SteelRule, Thing, printed_at, scanned
from simulated_scans import page, read, target

from layouts.errors import ScanRefused
from layouts.pages.paper import find_paper
from layouts.printing.printer import Printer
from layouts.printing.scanned import record_of

SEEDS = {"faulty": 500_000, "fair": 700_000}
KINDS = ("shadow", "another card", "unequal", "pattern", "leaning")
LOOK_ALIKES_MM = ((84.5, 53.5), (86.7, 54.7), (85.0, 55.0), (84.0, 52.0), (88.0, 55.0), (86.7, 53.98))


# --- the law


def faulty(rng: np.random.Generator) -> tuple[str, Press, Scanner, tuple[Thing, ...], str]:
    """The kind of a fault; the print and the scanner; what lies there; what the user says of it."""
    kind = str(rng.choice(KINDS))
    press, scanner = _press(rng), _scanner(rng)
    lying: tuple[Thing, ...]
    if kind == "shadow":  # along one side of the card: 0.4 to 0.8 mm wide, 20 to 35 % dark
        card = _card(rng, press, shade=rng.uniform(30, 235))
        shadow = Shadow(
            card=card,
            side=int(rng.integers(4)),
            wide_mm=rng.uniform(0.4, 0.8),
            dark=rng.uniform(0.20, 0.35),
            shape=str(rng.choice(("ramp", "bell", "band"))),
        )
        lying, says = (shadow, card), str(rng.choice(("", "card")))
    elif kind == "another card":
        if rng.random() < 0.5:
            width, height = LOOK_ALIKES_MM[int(rng.integers(len(LOOK_ALIKES_MM)))]
        else:
            off = rng.choice((-1, 1)) * rng.uniform(0.012, 0.03)
            width, height = 85.60 * (1 + off), 53.98 * (1 + off + rng.normal(0, 0.003))
        lying = (replace(_card(rng, press, shade=rng.uniform(30, 200)), width_mm=width, height_mm=height),)
        says = str(rng.choice(("", "card")))
    elif kind == "unequal":  # the scanner's two ways differ by 0.3 to 1 %
        by = rng.choice((-1, 1)) * rng.uniform(0.003, 0.01) / 2
        scanner = replace(scanner, scale=(1 + by, 1 - by))
        lying, says = _fair_thing(rng, press)
    elif kind == "pattern":
        lying, says = (_grating(rng, press),), str(rng.choice(("", "rule")))
    else:  # the scanner leans by 0.1 to 0.5 degrees
        scanner = replace(scanner, lean_deg=rng.choice((-1, 1)) * rng.uniform(0.1, 0.5))
        lying, says = _fair_thing(rng, press)
    return kind, press, scanner, lying, says


def fair(rng: np.random.Generator) -> tuple[str, Press, Scanner, tuple[Thing, ...], str]:
    """A usual print and a usual scanner; a bank card, a steel rule or nothing lies there."""
    press, scanner = _press(rng), _scanner(rng)
    lying, says = _fair_thing(rng, press)
    return "card" if "Card" in str(lying) else "rule" if lying else "nothing", press, scanner, lying, says


def _press(rng: np.random.Generator) -> Press:
    return Press(
        across=1 + rng.uniform(-0.03, 0.03), along=1 + rng.uniform(-0.03, 0.03), skew_deg=rng.uniform(-0.4, 0.4)
    )


def _scanner(rng: np.random.Generator) -> Scanner:
    both = 1 + rng.uniform(-0.0045, 0.0045)
    return Scanner(
        dpi=int(rng.choice((200, 300))),
        scale=(both + rng.uniform(-0.001, 0.001), both + rng.uniform(-0.001, 0.001)),
        lean_deg=rng.uniform(-0.05, 0.05),
        rotation_deg=rng.uniform(-1, 1),
        shift_mm=(rng.uniform(-3, 3), rng.uniform(-3, 3)),
        blur_mm=rng.uniform(0.03, 0.09),
        noise=rng.uniform(1, 6),
        seed=int(rng.integers(1 << 30)),
    )


def _fair_thing(rng: np.random.Generator, press: Press) -> tuple[tuple[Thing, ...], str]:
    which = str(rng.choice(("card", "rule", "none"), p=(0.5, 0.3, 0.2)))
    says = which if rng.random() < 0.5 else ""
    if which == "card":
        return (_card(rng, press, shade=rng.uniform(30, 200)),), says
    return ((_rule(rng, press),), says) if which == "rule" else ((), says)


def _card(rng: np.random.Generator, press: Press, shade: float) -> Card:
    """Within its limits (ISO/IEC 7810 ID-1, from memory), 2.5 to 4.5 mm off its outline and a little turned."""
    box = target().card
    assert box
    x, y = printed_at(page(), press)((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    away = [rng.choice((-1, 1)) * rng.uniform(2.5, 4.5) for _ in range(2)]
    return Card(
        middle_mm=(x + away[0], y + away[1]),
        width_mm=rng.uniform(85.47, 85.72),
        height_mm=rng.uniform(53.92, 54.03),
        turn_deg=rng.choice((-1, 1)) * rng.uniform(0.2, 3),
        shade=shade,
    )


def _on_the_dashes(rng: np.random.Generator, press: Press) -> tuple[float, float]:
    line = target().rule
    assert line
    x, y = printed_at(page(), press)((line.x1 + line.x2) / 2, line.y1)
    return x + rng.uniform(-2, 2), y + rng.uniform(-1, 1)


def _rule(rng: np.random.Generator, press: Press) -> SteelRule:
    return SteelRule(
        through_mm=_on_the_dashes(rng, press), turn_deg=rng.uniform(-2, 2), upside_down=bool(rng.random() < 0.3)
    )


def _grating(rng: np.random.Generator, press: Press) -> Grating:
    kind = str(rng.choice(("comb", "graph paper", "grating")))
    return Grating(
        middle_mm=_on_the_dashes(rng, press),
        turn_deg=rng.uniform(-2, 2),
        pitch_mm=1 + rng.uniform(-0.06, 0.06),
        below_mm=12.0 if kind != "comb" else 4.0,
        above_mm=12.0 if kind == "graph paper" else 0.0,
        fives=kind == "graph paper",
    )


# --- what is not in every scan


@dataclass(frozen=True, slots=True, kw_only=True)
class Shadow:
    """A soft shadow on the paper along one side of a card; side 0 is its right one, and on counter-clockwise."""

    card: Card
    side: int
    wide_mm: float
    dark: float  # at the card's edge
    shape: str  # ramp, bell or band

    @property
    def middle_mm(self) -> tuple[float, float]:
        """That of the card."""
        return self.card.middle_mm

    @property
    def reach_mm(self) -> float:
        """A little more than the card's."""
        return self.card.reach_mm + 3

    def is_within(self, x: Grey, y: Grey) -> bool:
        """Whether any of it may be there."""
        return bool((np.abs(y - self.middle_mm[1]) < self.reach_mm).any())

    def cover(self, x: Grey, y: Grey, soft: float) -> tuple[Grey, Grey]:
        """Black, as far as the shadow is dark."""
        turn = math.radians(self.card.turn_deg)
        dx, dy = x - self.middle_mm[0], y - self.middle_mm[1]
        u, v = dx * math.cos(turn) + dy * math.sin(turn), dy * math.cos(turn) - dx * math.sin(turn)
        half_u, half_v = self.card.width_mm / 2, self.card.height_mm / 2
        out, aside = ((u - half_u, np.abs(v) - half_v), (v - half_v, np.abs(u) - half_u))[self.side % 2]
        if self.side >= 2:
            out = (-u - half_u) if self.side == 2 else (-v - half_v)
        if self.shape == "ramp":
            share = np.clip(1 - out / self.wide_mm, 0, 1)
        elif self.shape == "bell":
            share = np.exp(-((np.maximum(out, 0) / (self.wide_mm / 2)) ** 2) / 2)
        else:  # even, with a soft end of 0.15 to 0.3 mm
            share = np.clip((self.wide_mm - out) / (0.35 * self.wide_mm) + 0.5, 0, 1)
        return (self.dark * share * (aside < 0) * (out > -1)).astype(np.float32), np.zeros_like(out)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grating:
    """Even lines along the dashes: a comb, a grating, or graph paper, whose every fifth line is thicker."""

    middle_mm: tuple[float, float]
    turn_deg: float
    pitch_mm: float
    below_mm: float
    above_mm: float
    fives: bool

    @property
    def reach_mm(self) -> float:
        """Half of its length, and some."""
        return 70.0

    def is_within(self, x: Grey, y: Grey) -> bool:
        """Whether any of it may be there."""
        return bool((np.abs(y - self.middle_mm[1]) < self.below_mm + self.above_mm + 5).any())

    def cover(self, x: Grey, y: Grey, soft: float) -> tuple[Grey, Grey]:
        """A pale body with dark lines."""
        turn = math.radians(self.turn_deg)
        dx, dy = x - self.middle_mm[0], y - self.middle_mm[1]
        u, v = dx * math.cos(turn) + dy * math.sin(turn), dy * math.cos(turn) - dx * math.sin(turn)
        inside = np.minimum(np.minimum(self.above_mm - v, v + self.below_mm), 60 - np.abs(u))
        number = np.round(u / self.pitch_mm)
        half = np.where(number % 5 == 0, 0.12, 0.06) if self.fives else 0.1
        line = np.clip((half - np.abs(u - number * self.pitch_mm)) / soft + 0.5, 0, 1)
        return np.clip(inside / soft + 0.5, 0, 1), (215 - 140 * line).astype(np.float32)


# --- counting


def outcome(law: str, number: int) -> tuple[str, float, str]:
    """The kind of a picture; its largest error over the stated uncertainty (-1: refused); and words."""
    draw = faulty if law == "faulty" else fair
    kind, press, scanner, lying, says = draw(np.random.default_rng(SEEDS[law] + number))
    image = scanned(page(), press, scanner, lying)
    try:
        scan = read(image, scanner.dpi, says)
    except ScanRefused as refused:
        return kind, -1.0, refused.problem
    printer = record_of(scan, name="a", tray="b", date="", sheet="", paper=find_paper("a4"))
    shares = over_stated(printer, press)
    by = scan.yardstick.name if scan.yardstick else "nothing"
    return kind, max(shares), f"by {by}, said {says or '-'}: " + " ".join(f"{share:.2f}" for share in shares)


def over_stated(printer: Printer, press: Press) -> tuple[float, float, float]:
    """The error over the stated uncertainty, k = 2, of across, along and skew."""
    return (
        abs(printer.across_factor - press.across) / printer.scale_budget(printer.across).expanded,
        abs(printer.along_factor - press.along) / printer.scale_budget(printer.along).expanded,
        abs(printer.skew_deg - press.skew_deg) / printer.skew_expanded_deg,
    )


def outcomes(law: str, first: int, count: int) -> Iterator[tuple[str, float, str]]:
    """Of each picture of a part."""
    return (outcome(law, number) for number in range(first, first + count))


def main() -> None:
    """The counts, and a line for each picture that is not as it should be."""
    words = sys.argv[1:]
    law = words[0] if words else "both"
    first, count = (int(words[1]) if len(words) > 1 else 0), (int(words[2]) if len(words) > 2 else 1000)
    for each in SEEDS if law == "both" else (law,):
        tally: Counter[str] = Counter()
        for number, (kind, share, why) in enumerate(outcomes(each, first, count), first):
            result = "refused" if share < 0 else "inside" if share <= 1 else "outside" if share <= 2 else "far outside"
            tally[f"{kind}: {result}"] += 1
            tally[result] += 1
            if result in ("outside", "far outside") or (each == "fair" and result == "refused"):
                print(f"{each} {number} {kind}: {result}, {why}", flush=True)
        print(f"{each}, {first} to {first + count - 1}: {dict(sorted(tally.items()))}", flush=True)


if __name__ == "__main__":
    main()
