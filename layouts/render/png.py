"""A page to a PNG preview, for looking at and not for measuring. Loads cairosvg when one is asked for."""

from __future__ import annotations

import io
from dataclasses import replace

from layouts.drawing.marks import Draft
from layouts.drawing.words import WORDS
from layouts.errors import MissingLibrary
from layouts.pages.page import Page, Placed
from layouts.render.svg import write_svg
from layouts.units import INCH_MM

PREVIEW_DPI = 150
_GREYS = 16
_PREVIEW = "preview: for looking at, not for measuring. Print the PDF."


def write_png(page: Page, dpi: int = PREVIEW_DPI) -> bytes:
    """A picture of the page that says that it is a preview and carries its resolution (pHYs).

    Refuses (`MissingLibrary`) where the machine has no cairo library.
    """
    try:
        import cairosvg
    except OSError as error:  # cairosvg finds no libcairo
        raise MissingLibrary(
            "a PNG preview needs the cairo library, and this machine has none",
            "install libcairo2 (Debian, Ubuntu) or cairo (Fedora, Homebrew), or ask for pdf and svg, which do without",
        ) from error
    from PIL import Image, PngImagePlugin

    paper, draft = page.paper, Draft()
    draft.text(paper.width_mm / 2, paper.height_mm - 6, _PREVIEW, WORDS, anchor="middle")
    words = Placed(drawing=draft.drawing(paper.width_mm, paper.height_mm, "preview"))
    marked = write_svg(replace(page, placed=(*page.placed, words)))
    width = round(paper.width_mm * dpi / INCH_MM)
    picture = cairosvg.svg2png(bytestring=marked, output_width=width, background_color="white")
    facts = PngImagePlugin.PngInfo()
    facts.add_text("Software", "Coilwright")
    # Sixteen greys halve the file.
    greys = Image.open(io.BytesIO(picture)).convert("L").quantize(_GREYS, dither=Image.Dither.NONE)
    out = io.BytesIO()
    greys.save(out, "PNG", optimize=True, dpi=(dpi, dpi), pnginfo=facts)
    return out.getvalue()
