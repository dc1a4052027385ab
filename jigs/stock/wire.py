"""Round wire by gauge or by diameter."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from layouts.errors import OutOfRange, QuantityRefused, shown
from layouts.lengths import sized
from layouts.units import INCH_MM, parse_length, positive

if TYPE_CHECKING:
    from jigs.stock.gauges import Gauge

THINNEST_MM, THICKEST_MM = 0.02, 20.0  # past both ends of the gauges; nobody winds rings from more or less


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """Round wire: its diameter in mm, the words it was given in ('16 AWG'), and its gauge where it was given by one."""

    diameter_mm: float
    given: str
    gauge: Gauge | None = None

    def __post_init__(self) -> None:
        positive(self.diameter_mm, "wire diameter")
        if not THINNEST_MM <= self.diameter_mm <= THICKEST_MM:
            raise OutOfRange(
                f"a wire of {self.diameter_mm:.6g} mm is too "
                f"{'thin' if self.diameter_mm < THINNEST_MM else 'thick'} to make rings of",
                f"write a diameter from {THINNEST_MM:g} mm to {THICKEST_MM:g} mm",
            )

    @property
    def in_words(self) -> str:
        """The gauge with millimetres beside it, or millimetres alone: '16 AWG (1.291 mm)', '1.200 mm'."""
        mm = sized(self.diameter_mm, 3)
        return f"{self.gauge} ({mm})" if self.gauge else mm

    @property
    def inches(self) -> float:
        """The diameter in inches."""
        return self.diameter_mm / INCH_MM


def mg_per_mm(wire_mm: float, density_g_cm3: float) -> float:
    """Mass of a millimetre of wire [mg], which is that of a metre in g: pi/4 d^2 x density.

    >>> round(mg_per_mm(1.0, 10.36), 6)
    8.136725
    """
    return math.pi / 4 * wire_mm**2 * positive(density_g_cm3, "density")


def parse_wire(text: str) -> Wire:
    """The wire that a person typed: a gauge with its system, or a length.

    A bare gauge is refused, since AWG and SWG differ by up to 26 % in the sizes that rings are made of.

    >>> parse_wire("16awg").given
    '16 AWG'
    >>> parse_wire("1.2mm").diameter_mm
    1.2
    """
    if len(text) > 64:
        raise QuantityRefused(f"{shown(text)} is too long for a wire", "write a size such as 16 AWG or 1.2 mm")
    words = " ".join(word for word in text.split(" ") if word)
    if "WG" in words.upper():  # a gauge has its system beside it: what is a length loads no gauges
        from jigs.stock.gauges import gauge_in

        if gauge := gauge_in(words):
            return Wire(diameter_mm=gauge.diameter_mm, given=str(gauge), gauge=gauge)
    try:
        diameter_mm = parse_length(words)
    except QuantityRefused as refusal:  # of a length alone; here a gauge would be right too
        from jigs.stock.gauges import refuse_half_a_gauge  # what is a length is no gauge, and names no shape
        from jigs.stock.section import refuse_wire_not_round

        refuse_wire_not_round(words)
        refuse_half_a_gauge(words)
        raise QuantityRefused(refusal.problem, f"{refusal.remedy}, or a gauge such as 16 AWG") from None
    return Wire(diameter_mm=diameter_mm, given=re.sub(r"(?<=\d)(?=[A-Za-z])", " ", words))
