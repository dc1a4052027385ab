"""Prices of wire and scrap: per mass or per length, in any currency; exact, no floats."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from layouts.errors import OutOfRange, QuantityRefused, Refusal, TwoReadings, shown
from layouts.units import is_imperial, parse_length, parse_quantity

_NUMBER = r"(?P<{0}>[0-9]{{1,9}}(?:[.,][0-9]{{1,4}})?)"
_MONEY = r"(?P<{0}>[^\W\d_]{{1,12}}|[$£€¥₹])"
_PRICE = re.compile(
    rf"(?:{_NUMBER.format('n1')} ?{_MONEY.format('c1')}|{_MONEY.format('c2')} ?{_NUMBER.format('n2')})"
    r" ?(?:/| per ) ?(?P<unit>[A-Za-z][A-Za-z. ]{0,12})"
)
_UNITS_ARE = "a unit of mass or length, such as g, kg, ozt, m or ft"


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """An amount of a currency for one gram, or for one millimetre; and the words it was given in."""

    per_unit: Fraction
    is_by_mass: bool
    currency: str
    given: str
    is_by_the_foot: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.per_unit <= 10**9:
            raise OutOfRange(
                f"a price of {self.given}", "give zero or more, and at most 1 000 000 000 for a gram or a millimetre"
            )

    def cents(self, *, mass_mg: int, length_mm: float | Fraction) -> int:
        """The cost of so much wire, in hundredths of the currency, rounded half up."""
        units = Fraction(mass_mg, 1000) if self.is_by_mass else Fraction(str(length_mm))
        return int(self.per_unit * units * 100 + Fraction(1, 2))

    def per_gram(self, mm_per_gram: float) -> float:
        """The price of a gram of wire that is so long."""
        return float(self.per_unit) * (1.0 if self.is_by_mass else mm_per_gram)


def amount(cents: int) -> float:
    """Hundredths of a currency, as the ledger counts them, in the currency itself: 1250 is 12.5."""
    return cents / 100


def show_amount(cents: int) -> str:
    """Hundredths of a currency as a sum is written: '12.50'."""
    return f"{amount(cents):.2f}"


def show_each(value: float) -> str:
    """What one ring or one gram costs, in the currency to a hundredth of a cent: '0.1234'."""
    return f"{value:.4f}"


def parse_price(text: str) -> Price:
    """The price that a person typed: an amount, a currency in words of their own, "per" or "/", and a unit.

    >>> parse_price("2.40 EUR per m").per_unit
    Fraction(3, 1250)
    """
    match = _PRICE.fullmatch(" ".join(text.split())) if len(text) <= 64 else None
    if match is None:
        raise QuantityRefused(f"{shown(text)} is not a price", 'write one such as "2.40 EUR per m" or "8 EUR per g"')
    number, currency = match["n1"] or match["n2"], match["c1"] or match["c2"]
    if re.fullmatch(r"[0-9]{1,3},[0-9]{3}", number):
        raise QuantityRefused(f"{shown(number)} could be thousands or decimals", "write a point for decimals")
    amount = Fraction(number.replace(",", "."))
    word, is_by_mass = match["unit"].strip(), False
    try:
        unit = Fraction(str(parse_length(f"1 {word}")))
    except Refusal:
        try:
            unit, is_by_mass = Fraction(str(parse_quantity(f"1 {word}", "mass"))), True
        except TwoReadings:
            raise
        except Refusal:
            raise QuantityRefused(f"{shown(word)} is not a unit that wire is sold by", f"write {_UNITS_ARE}") from None
    return Price(
        per_unit=amount / unit,
        is_by_mass=is_by_mass,
        currency=currency,
        given=text.strip(),
        is_by_the_foot=not is_by_mass and is_imperial(f"1 {word}"),
    )
