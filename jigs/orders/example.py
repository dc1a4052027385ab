"""The example of an order, as text: commented, to be changed."""

from __future__ import annotations

from pathlib import Path


def example() -> str:
    """A TOML text that `reading.order_of` reads: an evening class makes a chain bracelet."""
    return Path(__file__).with_name("example.toml").read_text(encoding="utf-8")
