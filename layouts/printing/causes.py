"""Settings or printer? What may be behind a ratio of measured to true size: candidates, never a verdict."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import OutOfRange
from layouts.showing import show_number
from layouts.units import positive

NEAR = 0.004  # a ratio within 0.4 % of a cause's may be its work
ALIKE = 0.003  # a setting changes both ways alike: across and along within 0.3 %


@dataclass(frozen=True, slots=True, kw_only=True)
class Cause:
    """A setting (or the printer) that may be behind a ratio from `low` to `high`, and what to change there."""

    low: float
    high: float
    words: str
    change: str
    source: str
    on_sheet: bool = True  # whether the printer-check sheet lists it

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


def settings_behind(across: float, along: float) -> tuple[Cause, ...]:
    """The print settings that fit both ratios, the nearest first; the printer itself is not among them."""
    fitting = (cause for cause in causes() if cause.change and cause.fits(across) and cause.fits(along))
    middle = (across + along) / 2
    return tuple(sorted(fitting, key=lambda cause: max(cause.low - middle, middle - cause.high, 0)))


def alike(across: float, along: float) -> bool:
    """Whether across and along agree within 0.3 %, as a setting would have it."""
    return abs(across - along) <= ALIKE * min(across, along)
