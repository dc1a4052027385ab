"""Prices as people write them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from orders import refusal_of

from jigs.orders.price import parse_price
from layouts.errors import QuantityRefused


@pytest.mark.parametrize(
    ("text", "per_unit", "is_by_mass", "currency"),
    [
        ("2.40 EUR per m", Fraction(24, 10_000), False, "EUR"),
        ("2,40 EUR / m", Fraction(24, 10_000), False, "EUR"),
        ("£3 per ft", Fraction(3) / Fraction("304.8"), False, "£"),
        ("8 francs/g", Fraction(8), True, "francs"),
        ("31 USD per ozt", Fraction(31) / Fraction("31.1034768"), True, "USD"),
        ("4 EUR per kg", Fraction(4, 1000), True, "EUR"),
        ("0 EUR per g", Fraction(0), True, "EUR"),
    ],
)  # fmt: skip
def test_a_price_is_read_exactly(text: str, per_unit: Fraction, is_by_mass: bool, currency: str) -> None:
    price = parse_price(text)
    assert (price.per_unit, price.is_by_mass, price.currency) == (per_unit, is_by_mass, currency)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("2.40 EUR", "'2.40 EUR' is not a price; write one such as"),
        ("2.40 per m", "'2.40 per m' is not a price"),
        ("-2 EUR per m", "is not a price"),
        ("1,234 EUR per m", "'1,234' could be thousands or decimals; write a point for decimals"),
        ("2 EUR per furlong", "'furlong' is not a unit that wire is sold by; write a unit of mass or length"),
        ("2 EUR per oz", "a troy ounce, 31.103 g"),
        ("2 EUR per " + "m" * 80, "is not a price"),
        ("nan EUR per m", "is not a price"),
    ],
)
def test_what_is_no_price_is_refused(text: str, message: str) -> None:
    with pytest.raises(QuantityRefused, match=message):
        parse_price(text)


def test_a_cost_is_rounded_half_up_to_the_hundredth() -> None:
    assert parse_price("1.25 EUR per g").cents(mass_mg=1004, length_mm=0) == 126  # 1.255 EUR: half up
    assert parse_price("2.40 EUR per m").cents(mass_mg=0, length_mm=1250) == 300


@given(st.text(max_size=70))
def test_any_text_is_a_price_or_a_refusal(text: str) -> None:
    assert "\n" not in refusal_of(lambda: parse_price(text))
