"""The table of formats. A new one is a line here, and its file in this folder with its function `write_ENDING`."""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum
from importlib import import_module
from typing import Any, NamedTuple


class Holds(Enum):
    """What one file of a format holds, which is what its writer takes."""

    ALL_PAGES = "a sequence of pages"
    ONE_PAGE = "a page"
    CUT_SHEET = "a sheet of material with what is cut out of it"
    SOLID = "a solid, its bodies as they lie on the bed"


class Format(NamedTuple):
    """A kind of file: its ending, which is its name too, what one holds, and its media type.

    file: what its file here is called, and its function after `write_`, where that is not the ending.
    """

    ending: str
    holds: Holds
    media: str
    file: str = ""

    def count(self, pages: int) -> int:
        """How many files so many pages or sheets are."""
        return 1 if self.holds is Holds.ALL_PAGES else pages

    def writer(self) -> Callable[[Any], bytes]:
        """What makes the bytes of a file. The library behind it is loaded now, and not before."""
        name = self.file or self.ending
        module = import_module(f"layouts.render.{name}")
        write: Callable[[Any], bytes] = getattr(module, f"write_{name}")
        return write


TABLE = {
    form.ending: form
    for form in (
        Format(ending="pdf", holds=Holds.ALL_PAGES, media="application/pdf"),
        Format(ending="svg", holds=Holds.ONE_PAGE, media="image/svg+xml"),
        Format(ending="png", holds=Holds.ONE_PAGE, media="image/png"),
    )
}

CUTTING = {
    form.ending: form
    for form in (
        Format(ending="dxf", holds=Holds.CUT_SHEET, media="image/vnd.dxf"),
        Format(ending="svg", holds=Holds.CUT_SHEET, media="image/svg+xml", file="cut_svg"),
        Format(ending="txt", holds=Holds.CUT_SHEET, media="text/plain; charset=utf-8", file="cut_notes"),
    )
}
"""For a laser or a knife."""

SOLIDS = {
    form.ending: form
    for form in (
        Format(ending="3mf", holds=Holds.SOLID, media="model/3mf", file="three_mf"),
        Format(ending="stl", holds=Holds.SOLID, media="model/stl"),
    )
}
"""For a 3D printer."""
