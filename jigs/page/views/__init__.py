"""The views of the page, in the order of the work. Each is a module of this folder with an entry `VIEW`."""

from __future__ import annotations

from functools import cache
from importlib import import_module

from jigs.page.asked import View

NAMES = ("ring", "sheets", "orders", "drawer", "printers", "records", "screen")


@cache
def views() -> tuple[View, ...]:
    """Every view."""
    return tuple(import_module(f"jigs.page.views.{name}").VIEW for name in NAMES)
