"""A page to a PNG preview, for looking at and not for measuring. The only cairosvg, loaded when one is asked for."""

from __future__ import annotations

import struct
import zlib
from dataclasses import replace

from layouts.errors import MissingLibrary
from layouts.marks import Draft
from layouts.render.svg import write_svg
from layouts.sheet import Page, Placed
from layouts.units import INCH_MM

PREVIEW_DPI = 150
_WORDS = "preview: for looking at, not for measuring. Print the PDF."


def write_png(page: Page, dpi: int = PREVIEW_DPI) -> bytes:
    """A picture of the page that says that it is a preview and carries its resolution (pHYs).

    Refuses (`MissingLibrary`) where the machine has no cairo library.
    """
    try:
        import cairosvg
    except OSError as error:  # cairosvg finds no libcairo
        raise MissingLibrary(
            "a PNG preview needs the cairo library, and this machine has none",
            "install libcairo2 (Debian, Ubuntu) or cairo (Fedora, Homebrew), or ask for pdf and svg, which need none",
        ) from error
    width = round(page.paper.width_mm * dpi / INCH_MM)
    picture = cairosvg.svg2png(bytestring=write_svg(_marked(page)), output_width=width, background_color="white")
    return _with_facts(picture, dpi)


def _marked(page: Page) -> Page:
    draft = Draft()
    draft.text(page.paper.width_mm / 2, page.paper.height_mm - 6, _WORDS, 2.5, anchor="middle")
    words = Placed(drawing=draft.drawing(page.paper.width_mm, page.paper.height_mm, "preview"))
    return replace(page, placed=(*page.placed, words))


def _with_facts(picture: bytes, dpi: int) -> bytes:
    """Puts the resolution (pHYs, pixels per metre) and the maker (tEXt) after the header, which ends at byte 33.

    Chunks as in ISO/IEC 15948, section 11.3.
    """
    per_metre = round(dpi * 1000 / INCH_MM)
    resolution = _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))
    return picture[:33] + resolution + _chunk(b"tEXt", b"Software\0Coilwright") + picture[33:]


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
