"""Settings or printer? What may be behind a ratio of measured to true size: candidates, never a verdict."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import OutOfRange
from layouts.pages.paper import papers
from layouts.showing import show_number
from layouts.units import positive

NEAR = 0.004  # a ratio within 0.4 % of a cause's may be its work
ALIKE = 0.003  # a setting changes both ways alike: across and along within 0.3 %
OFF = 0.005  # a printer by itself is off by less (from memory: 0.1-0.5 %); both ways off by more is a setting
MARGINS_MM = (3.0, 13.0)  # what printers leave free at an edge; 3 to 12.7 mm were seen on driverless queues
TRAYS = ("a4", "letter")  # what lies in most trays


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """A setting (or the printer) that may be behind a ratio from `low` to `high`, and what to change there."""

    low: float
    high: float
    words: str
    change: str
    source: str
    on_sheet: bool = True  # whether the printer-check sheet lists it
    is_fit: bool = False  # whether a row of its kind is computed from the paper that was printed

    def __post_init__(self) -> None:
        if not 0 < positive(self.low, "a ratio") <= positive(self.high, "a ratio"):
            raise OutOfRange(f"ratios from {self.low:g} to {self.high:g}", "give the lower one first")

    @property
    def ratio(self) -> str:
        """The ratio in words: '0.973', or '0.934 to 0.961'."""
        low, high = (show_number(ratio, 4, 3) for ratio in (self.low, self.high))
        return low if low == high else f"{low} to {high}"

    def fits(self, ratio: float) -> bool:
        """Whether a ratio lies within 0.4 % of this one's."""
        return self.low * (1 - NEAR) <= ratio <= self.high * (1 + NEAR)


@cache
def causes() -> tuple[Cause, ...]:
    """Every cause of the table."""
    import tomllib

    rows = tomllib.loads(Path(__file__).with_name("causes.toml").read_text(encoding="utf-8"))
    return tuple(Cause(**row) for row in rows["cause"])


def settings_behind(across: float, along: float, paper: str = "") -> tuple[Cause, ...]:
    """The print settings that fit both ratios, the nearest first; the printer itself is not among them.

    None within 0.5 % of 1 either way, where a printer is by itself.

    paper: the name of the paper that the sheet was made for; without it, any of those in most trays.
    """
    if not all(abs(ratio - 1) > OFF for ratio in (across, along)):
        return ()
    made_for = (paper,) if paper in papers() else TRAYS
    known = [cause for cause in causes() if not cause.is_fit] + [fit for name in made_for for fit in fits(name)]
    fitting = (cause for cause in known if cause.change and cause.fits(across) and cause.fits(along))
    middle = (across + along) / 2
    return tuple(sorted(fitting, key=lambda cause: max(cause.low - middle, middle - cause.high, 0)))


def likely(across: float, along: float, paper: str = "") -> str:
    """The three likeliest settings behind both ratios in words, and what to change; empty where none is known."""
    by_change: dict[str, list[str]] = {}
    for cause in settings_behind(across, along, paper)[:3]:
        by_change.setdefault(cause.change, []).append(cause.words)
    said = ", or ".join(f"{' or '.join(words)}: {change}" for change, words in by_change.items())
    return f"it may be {said}" if said else ""


@cache
def fits(name: str) -> tuple[Cause, ...]:
    """What fitting does to a page made for a paper: to its own printable area, and to the paper of most trays.

    The page is made as large as the printable area of the tray's paper takes, for margins of 3 to 13 mm all round; or
    as large as it must be to fill that area.
    """
    page = papers()[name]
    found = []
    for tray in dict.fromkeys((name, *TRAYS)):
        into = papers()[tray]
        ratios = [
            ((into.width_mm - 2 * margin) / page.width_mm, (into.height_mm - 2 * margin) / page.height_mm)
            for margin in reversed(MARGINS_MM)
        ]
        own = tray == name
        called = f"{'an' if page.in_words[0] in 'AEIO' else 'a'} {page.in_words} page fitted on {into.in_words}"
        change = "choose actual size, not fit, shrink or printable area"
        if not own:
            other = f"put {page.in_words} paper in the tray, or make the sheet for {into.in_words}"
            change = f"{other}, and choose actual size"
        for choose, filled in ((min, False), (max, True)):
            low, high = (choose(both) for both in ratios)
            words = "a page fitted to the printable area" if own else called
            if filled:
                words = "a page made to fill the printable area" if own else f"{called}, filling it"
            found.append(Cause(low=low, high=high, words=words, change=change, source="computed", is_fit=True))
    return tuple(found)


def alike(across: float, along: float, uncertainty: float = 0.0) -> bool:
    """Whether across and along agree, as a setting would have it: within 0.3 %, or what their ratio is good for."""
    return abs(across - along) <= max(ALIKE, uncertainty) * min(across, along)


def is_setting(across: float, along: float, uncertainty: float = 0.0) -> bool:
    """Whether two ratios bear the sign of a print setting, whether a cause is known for it or not.

    uncertainty: of across over along, as a share (k = 2). Both are alike within it, and off by more than 0.5 %.
    """
    if not alike(across, along, uncertainty):
        return False
    return all(abs(ratio - 1) > OFF for ratio in (across, along))
