"""The lettering of every sheet: which characters it has, how wide words are, and the outlines of its letters.

Widths stand in a small table beside the fonts, so that laying a page out opens no font file; a test holds the
table against the fonts.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache, lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.errors import Unprintable, shown

if TYPE_CHECKING:
    from fontTools.ttLib import TTFont

_FONTS = Path(__file__).parent / "fonts"

UNITS_PER_EM = 2000
ASCENT = 0.74  # above the baseline, of the em: capitals, digits and accents of small letters
DESCENT = 0.2
CAP_HEIGHT = 0.72
LINE = 1.3  # from baseline to baseline, of the em


def font_path(*, bold: bool) -> Path:
    """The font file that is embedded in a PDF and outlined in an SVG."""
    name = f"Coilwright-{'Bold' if bold else 'Regular'}.ttf"
    return _FONTS / name


@cache
def _widths(bold: bool) -> dict[str, int]:
    table = json.loads((_FONTS / "widths.json").read_text(encoding="utf-8"))
    widths: dict[str, int] = table["bold" if bold else "regular"]
    return widths


def check(string: str) -> None:
    """Refuses a string with a character that the lettering lacks (`Unprintable`)."""
    missing = [c for c in string if c not in _widths(False)]
    if missing:
        raise Unprintable(
            f"{shown(string)} has a character that the lettering lacks, {shown(missing[0])} (U+{ord(missing[0]):04X})",
            "use Latin, Greek or Cyrillic letters",
        )


@lru_cache(maxsize=4096)
def width_mm(string: str, size_mm: float, *, bold: bool = False) -> float:
    """Advance width of a string in mm at an em of `size_mm`."""
    widths = _widths(bold)
    return sum(widths[c] for c in string) * size_mm / UNITS_PER_EM


def wrap(string: str, size_mm: float, within_mm: float, *, bold: bool = False) -> list[str]:
    """The string broken at spaces into lines no wider than `within_mm`; a longer word stands alone."""
    lines: list[str] = []
    for word in string.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and width_mm(longer, size_mm, bold=bold) <= within_mm:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


@cache
def _font(bold: bool) -> TTFont:
    from fontTools.ttLib import TTFont  # only SVG and PNG need the outlines

    return TTFont(font_path(bold=bold), lazy=True)


@cache
def outline(character: str, *, bold: bool) -> str:
    """A letter's outline as SVG path data in font units (2000 to the em), y down."""
    from fontTools.pens.svgPathPen import SVGPathPen
    from fontTools.pens.transformPen import TransformPen

    font = _font(bold)
    glyphs: Any = font.getGlyphSet()
    pen = SVGPathPen(glyphs)
    glyphs[font.getBestCmap()[ord(character)]].draw(TransformPen(pen, (1, 0, 0, -1, 0, 0)))
    return str(pen.getCommands())


def advances(string: str, *, bold: bool) -> Iterator[tuple[str, int]]:
    """Each character with the distance of its origin from the start, in font units."""
    at = 0
    for character in string:
        yield character, at
        at += _widths(bold)[character]
