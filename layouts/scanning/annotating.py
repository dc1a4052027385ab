"""A picture of what was found in a scan, to look at: markers and their residuals, the card or the rule, the figures."""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont

from layouts.affine import Affine
from layouts.scanning.reading import Scan

_LONGEST = 1600  # dots
_RED, _BLUE = (200, 30, 30), (20, 70, 200)
_TIMES = 500  # residuals are drawn so much longer than they are
_FONT = Path(__file__).parent.parent / "fonts" / "Coilwright-Regular.ttf"


def annotated(scan: Scan, lines: Iterable[str]) -> bytes:
    """A PNG of the scan, smaller, with everything found drawn over it and the lines of words in a corner."""
    image = scan.picture.image
    shrink = max(1, -(-max(image.size) // _LONGEST))
    paper = image.reduce(shrink).convert("RGB")
    draw = ImageDraw.Draw(paper)
    across, along = (dot * shrink for dot in scan.picture.resolution.dot_mm)
    dots = Affine(a=1 / across, d=-1 / along)
    _markers(draw, scan, dots)
    _yardstick(draw, scan, dots)
    _words(draw, lines, paper.width)
    out = io.BytesIO()
    paper.save(out, "PNG")
    return out.getvalue()


def _markers(draw: ImageDraw.ImageDraw, scan: Scan, dots: Affine) -> None:
    for number, (blob, (u, v)) in enumerate(zip(scan.markers, scan.seen.residuals_mm, strict=True), 1):
        x, y = dots.apply(blob.x, blob.y)
        for radius in filter(None, (blob.radius, blob.hole)):
            r = radius * dots.a
            draw.ellipse((x - r, y - r, x + r, y + r), outline=_RED, width=2)
        end = dots.apply(blob.x + _TIMES * u, blob.y + _TIMES * v)
        draw.line(((x, y), end), fill=_BLUE, width=3)
        draw.text((x + 1.3 * r, y - 1.3 * r), f"{number}", fill=_RED, font=_font(20), anchor="lb")


def _yardstick(draw: ImageDraw.ImageDraw, scan: Scan, dots: Affine) -> None:
    if scan.yardstick:
        places = [dots.apply(*scan.seen.matrix.apply(*corner)) for corner in scan.yardstick.corners]
        draw.line([*places, places[0]], fill=_RED, width=2)


def _words(draw: ImageDraw.ImageDraw, lines: Iterable[str], width: int) -> None:
    words = "\n".join((*lines, f"blue: residuals, {_TIMES} times as long"))
    at, font = (12, 12), _font(max(14, width // 70))
    box = draw.multiline_textbbox(at, words, font=font)
    draw.rectangle((box[0] - 6, box[1] - 6, box[2] + 6, box[3] + 6), fill=(255, 255, 255), outline=_RED)
    draw.multiline_text(at, words, fill=_RED, font=font)


def _font(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(_FONT, size)
