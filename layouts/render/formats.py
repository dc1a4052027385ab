"""The table of formats. A new one is a line here, and its file in this folder with its function `write_ENDING`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from importlib import import_module
from typing import Any


class Holds(Enum):
    """What one file of a format holds, which is what its writer takes."""

    ALL_PAGES = "a sequence of pages"
    ONE_PAGE = "a page"
    PARTS = "a sequence of parts to cut out, without a page"


@dataclass(frozen=True, slots=True, kw_only=True)
class Format:
    """A kind of file: its ending, which is its name too, and what one holds."""

    ending: str
    holds: Holds

    def writer(self) -> Callable[[Any], bytes]:
        """What makes the bytes of a file. The library behind it is loaded now, and not before."""
        module = import_module(f"layouts.render.{self.ending}")
        write: Callable[[Any], bytes] = getattr(module, f"write_{self.ending}")
        return write


TABLE = {
    form.ending: form
    for form in (
        Format(ending="pdf", holds=Holds.ALL_PAGES),
        Format(ending="svg", holds=Holds.ONE_PAGE),
        Format(ending="png", holds=Holds.ONE_PAGE),
    )
}
