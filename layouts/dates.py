"""Days, as a person writes them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from layouts.errors import QuantityRefused, shown

if TYPE_CHECKING:
    from datetime import date


def age_warnings(record: str, dated: str, today: date, *, stale_days: int, again: str) -> tuple[str, ...]:
    """What to tell who uses a record now, if anything: that it has no date, is old, or is of a day still to come.

    stale_days: the age from which it is to be made anew; `again` says how.
    """
    if not dated:
        return (f"the record of {record} has no date: its age is not known",)
    age = (today - parse_date(dated)).days
    if age > stale_days:
        return (f"the record of {record} is {age} days old, over {stale_days}: {again}",)
    return (f"the record of {record} is dated {dated}, which is still to come",) if age < 0 else ()


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
