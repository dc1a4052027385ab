"""Days, as a person writes them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from layouts.errors import QuantityRefused, shown

if TYPE_CHECKING:
    from datetime import date


def parse_date(text: str) -> date:
    """A day written as 2026-11-25. Refuses anything else (`QuantityRefused`)."""
    from datetime import date  # few commands meet a day

    try:
        if len(text) != 10 or "W" in text:  # fromisoformat reads 20261125 and 2026-W48-3 too
            raise ValueError
        return date.fromisoformat(text)
    except ValueError as error:
        raise QuantityRefused(
            f"{shown(text)} is not a date", "write year, month and day, such as 2026-11-25"
        ) from error
