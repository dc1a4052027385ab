"""The lettering of every sheet: which characters it has, how wide words are, and the outlines of its letters.

Widths stand in a small table beside the fonts, so that laying a page out opens no font file; a test holds the
table against the fonts.
"""

from __future__ import annotations

import math
import re
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
    # A line a character: the character, its width in regular and in bold. No JSON, whose reader takes longer to load.
    rows = (line.split("\t") for line in (_FONTS / "widths.txt").read_text(encoding="utf-8").split("\n") if line)
    return {row[0]: int(row[2 if bold else 1]) for row in rows}


@lru_cache(maxsize=4096)
def check(string: str) -> None:
    """Refuses a string with a character that the lettering lacks (`Unprintable`)."""
    if not _widths(False).keys() >= set(string):
        missing = next(c for c in string if c not in _widths(False))
        raise Unprintable(
            f"{shown(string)} has a character that the lettering lacks, {shown(missing)} (U+{ord(missing):04X})",
            "use Latin, Greek or Cyrillic letters",
        )


@lru_cache(maxsize=4096)
def width_mm(string: str, size_mm: float, *, bold: bool = False) -> float:
    """Advance width of a string in mm at an em of `size_mm`."""
    return _units(string, bold) * size_mm / UNITS_PER_EM


def _units(string: str, bold: bool) -> int:
    return sum(map(_widths(bold).__getitem__, string))


_WORD = re.compile(r"\[[^\[\]]{1,12}\]\S*|\S+")


def wrap(string: str, size_mm: float, within_mm: float, *, bold: bool = False) -> list[str]:
    """The string broken at spaces into lines no wider than `within_mm`; a longer word stands alone.

    A short figure with its unit in brackets is one word: '[5.00 mm]'.
    """
    lines: list[str] = []
    space, length = _units(" ", bold), 0  # in font units, of the last line
    for word in _WORD.findall(string):
        own = _units(word, bold)
        longer = length + space + own
        if lines and longer * size_mm / UNITS_PER_EM <= within_mm:
            lines[-1], length = f"{lines[-1]} {word}", longer
        else:
            lines.append(word)
            length = own
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


_FIGURES = {"M": 2, "L": 2, "H": 1, "V": 1, "Q": 4}


@cache
def steps(character: str, *, bold: bool) -> tuple[tuple[str, tuple[float, ...]], ...]:
    """The same outline as single steps: the letter of each (M, L, H, V, Q, Z) and its figures."""
    found: list[tuple[str, tuple[float, ...]]] = []
    for step, words in re.findall(r"([MLHVQZ])([^MLHVQZ]*)", outline(character, bold=bold)):
        figures = tuple(map(float, re.findall(r"-?[.\d]+", words)))
        count = _FIGURES.get(step, 1)
        for at in range(0, max(1, len(figures)), count):
            # Further figures after a step repeat it; after a move they are lines.
            found.append(("L" if step == "M" and at else step, figures[at : at + count]))
    return tuple(found)


@cache
def contours(character: str, *, bold: bool, within: float) -> tuple[tuple[tuple[float, float], ...], ...]:
    """A letter's closed outlines in font units, y up; chords lie within `within` units of their curves."""
    found: list[list[complex]] = []
    for letter, figures in steps(character, bold=bold):
        at = found[-1][-1] if found else 0j
        match letter, figures:
            case "M", (x, y):
                found.append([complex(x, -y)])
            case "L", (x, y):
                found[-1].append(complex(x, -y))
            case "H", (x,):
                found[-1].append(complex(x, at.imag))
            case "V", (y,):
                found[-1].append(complex(at.real, -y))
            case "Q", (u, v, x, y):
                handle, end = complex(u, -v), complex(x, -y)
                # In n chords the curve stands out by |start - 2 handle + end| / (4 n^2) at the most.
                count = max(1, math.ceil(math.sqrt(abs(at - 2 * handle + end) / (4 * within))))
                for t in (step / count for step in range(1, count + 1)):
                    found[-1].append((1 - t) ** 2 * at + 2 * t * (1 - t) * handle + t * t * end)
    return tuple(tuple((point.real, point.imag) for point in contour) for contour in found)


def advances(string: str, *, bold: bool) -> Iterator[tuple[str, int]]:
    """Each character with the distance of its origin from the start, in font units."""
    at = 0
    for character in string:
        yield character, at
        at += _widths(bold)[character]
