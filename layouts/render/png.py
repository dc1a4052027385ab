"""A page to a PNG preview, for looking at and not for measuring. Loads cairo when one is asked for."""

from __future__ import annotations

import io
import math
from functools import cache
from typing import TYPE_CHECKING, Any

from layouts.affine import Affine
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Mark, Text
from layouts.drawing.pens import PENS
from layouts.drawing.words import WORDS
from layouts.errors import MissingLibrary
from layouts.pages.page import Page, Placed
from layouts.units import INCH_MM

if TYPE_CHECKING:
    from PIL import Image

PREVIEW_DPI = 150
_GREYS = 16
_PREVIEW = "preview: for looking at, not for measuring. Print the PDF."


def write_png(page: Page, dpi: int = PREVIEW_DPI) -> bytes:
    """A picture of the page that says that it is a preview and carries its resolution (pHYs).

    Refuses (`MissingLibrary`) where the machine has no cairo library.
    """
    try:
        import cairocffi
    except OSError as error:  # it finds no libcairo
        raise MissingLibrary(
            "a PNG preview needs the cairo library, and this machine has none",
            "install libcairo2 (Debian, Ubuntu) or cairo (Fedora, Homebrew), or ask for pdf and svg, which do without",
        ) from error
    from PIL import Image

    paper, draft = page.paper, Draft()
    draft.text(paper.width_mm / 2, paper.height_mm - 6, _PREVIEW, WORDS, anchor="middle")
    words = Placed(drawing=draft.drawing(paper.width_mm, paper.height_mm, "preview"))
    wide, high = (round(size * dpi / INCH_MM) for size in (paper.width_mm, paper.height_mm))
    surface = cairocffi.ImageSurface(cairocffi.FORMAT_RGB24, wide, high)
    context = cairocffi.Context(surface)
    context.set_source_rgb(1, 1, 1)
    context.paint()
    context.set_fill_rule(cairocffi.FILL_RULE_EVEN_ODD)
    to_dots = Affine(a=wide / paper.width_mm, d=-high / paper.height_mm, f=float(high)).after(page.correction)
    context.transform(cairocffi.Matrix(*to_dots.coefficients))
    for placed in page._replace(placed=(*page.placed, words)).placed:
        context.save()
        context.translate(placed.x, placed.y)
        painter = _Painter(context)
        for mark in placed.drawing.marks:
            painter.paint(mark)
        context.restore()
    surface.flush()
    dots = bytes(surface.get_data())
    return _packed(Image.frombuffer("RGB", (wide, high), dots, "raw", "BGRX", surface.get_stride(), 1), dpi)


def _packed(picture: Image.Image, dpi: int) -> bytes:
    from PIL import PngImagePlugin

    facts = PngImagePlugin.PngInfo()
    facts.add_text("Software", "Coilwright")
    # Sixteen greys, evenly spaced, halve the file.
    top = _GREYS - 1
    greys = picture.convert("L").point([(top * shade + 127) // 255 for shade in range(256)])
    greys.putpalette([level * 255 // top for level in range(_GREYS) for _ in "RGB"])
    out = io.BytesIO()
    greys.save(out, "PNG", bits=4, compress_level=6, dpi=(dpi, dpi), pnginfo=facts)
    return out.getvalue()


class _Painter:
    """Takes the path of a mark on to a cairo context whose unit is the millimetre, y up."""

    def __init__(self, context: Any) -> None:
        self.context = context
        self.move, self.line, self.close = context.move_to, context.line_to, context.close_path

    def paint(self, mark: Mark) -> None:
        """The mark as its role has it."""
        pen = PENS[mark.role]
        self.context.set_source_rgb(pen.shade, pen.shade, pen.shade)
        mark.trace(self)
        if mark.filled:
            self.context.fill()
        else:
            self.context.set_line_width(pen.width_mm)
            self.context.set_dash(pen.dash_mm)
            self.context.stroke()

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        """On along a circle, whichever way round."""
        turn = self.context.arc if sweep_deg > 0 else self.context.arc_negative
        turn(x, y, r, math.radians(start_deg), math.radians(start_deg + sweep_deg))

    def words(self, text: Text) -> None:
        """The outlines of the letters, in units of the font."""
        context = self.context
        context.save()
        context.translate(*text.start)
        context.rotate(math.radians(text.angle_deg))
        scale = text.size_mm / lettering.UNITS_PER_EM
        context.scale(scale, -scale)  # letters have y down
        for letter, at in lettering.advances(text.string, bold=text.bold):
            for step, figures in _curves(letter, bold=text.bold):
                if step == "M":
                    context.move_to(figures[0] + at, figures[1])
                elif step == "L":
                    context.line_to(figures[0] + at, figures[1])
                elif step == "C":
                    (a, b, c, d, e, f) = figures
                    context.curve_to(a + at, b, c + at, d, e + at, f)
                else:
                    context.close_path()
        context.restore()


@cache
def _curves(letter: str, *, bold: bool) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """A letter's outline as moves, lines and cubic curves, which are all that cairo takes."""
    found: list[tuple[str, tuple[float, ...]]] = []
    x = y = 0.0
    for step, figures in lettering.steps(letter, bold=bold):
        match step:
            case "H":
                step, figures = "L", (figures[0], y)
            case "V":
                step, figures = "L", (x, figures[0])
            case "Q":
                u, v, end_x, end_y = figures
                handles = (
                    x + 2 / 3 * (u - x),
                    y + 2 / 3 * (v - y),
                    end_x + 2 / 3 * (u - end_x),
                    end_y + 2 / 3 * (v - end_y),
                )
                step, figures = "C", (*handles, end_x, end_y)
        if figures:
            x, y = figures[-2:]
        found.append((step, figures))
    return tuple(found)
