"""The examples of an order, as text: commented, to be changed."""

from __future__ import annotations

from pathlib import Path


def example(*, for_class: bool = True) -> str:
    """A TOML text that `reading.order_of` reads: a chain bracelet, made by an evening class or by one maker."""
    name = "example.toml" if for_class else "example_one.toml"
    return Path(__file__).with_name(name).read_text(encoding="utf-8")
