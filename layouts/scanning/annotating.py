"""A picture of what was found in a scan, to look at: markers and their residuals, the card or the rule, the figures."""

from __future__ import annotations

import io
from collections.abc import Iterable

from PIL import Image, ImageDraw, ImageFont

from layouts.affine import Affine
from layouts.drawing import lettering
from layouts.scanning.reading import Scan

_LONGEST = 1600  # dots
_RED, _BLUE = (200, 30, 30), (20, 70, 200)
_TIMES = 500  # residuals are drawn so much longer than they are
_FONT = lettering.font_path(bold=False)


def annotated(scan: Scan, lines: Iterable[str]) -> bytes:
    """A PNG of the scan, smaller, with everything found drawn over it and the lines of words below it."""
    image = scan.picture.image
    shrink = max(1, -(-max(image.size) // _LONGEST))
    small = image.reduce(shrink)
    words, font = "\n".join((*lines, f"blue: residuals, {_TIMES} times as long")), _font(max(14, small.width // 70))
    _, _, _, below = ImageDraw.Draw(small).multiline_textbbox((12, 12), words, font=font)
    paper = Image.new("RGB", (small.width, small.height + round(below) + 12), "white")
    paper.paste(small, (0, 0))
    draw = ImageDraw.Draw(paper)
    across, along = (dot * shrink for dot in scan.picture.resolution.dot_mm)
    dots = Affine(a=1 / across, d=-1 / along)
    for number, (blob, (u, v)) in enumerate(zip(scan.markers, scan.seen.residuals_mm, strict=True), 1):
        x, y = dots.apply(blob.x, blob.y)
        for r in (blob.hole * dots.a, blob.radius * dots.a):
            draw.ellipse((x - r, y - r, x + r, y + r), outline=_RED, width=2)
        end = dots.apply(blob.x + _TIMES * u, blob.y + _TIMES * v)
        draw.line(((x, y), end), fill=_BLUE, width=3)
        draw.text((x + 1.3 * r, y - 1.3 * r), f"{number}", fill=_RED, font=_font(20), anchor="lb")
    if scan.yardstick:
        places = [dots.apply(*scan.seen.matrix.apply(*corner)) for corner in scan.yardstick.corners]
        draw.line([*places, places[0]], fill=_RED, width=2)
    draw.line((0, small.height, small.width, small.height), fill=_RED)
    draw.multiline_text((12, small.height + 12), words, fill=_RED, font=font)
    out = io.BytesIO()
    paper.save(out, "PNG")
    return out.getvalue()


def _font(size: int) -> ImageFont.FreeTypeFont:
    return ImageFont.truetype(_FONT, size)
