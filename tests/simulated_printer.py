"""A printer and a scanner in place of real ones: the PDF through a known distortion, as a picture with known faults.

What is printed: across, along and skew about the middle of the sheet, and ink that grows at every edge of a filled
gauge. What the scanner adds: rotation, shift, its own scale, blur and noise, and a bank card or a steel rule that lies
on the sheet. The PDF is drawn by pdfium under one matrix, so the distortion is exact: centres come back within 0.2
micrometres. Everything is seeded.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Protocol

import numpy as np
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray
from PIL import Image, ImageFilter

from layouts.affine import IDENTITY, Affine
from layouts.drawing.marks import Annulus, Circle, Mark, Polyline
from layouts.drawing.pens import Role
from layouts.pages.page import Page
from layouts.render.pdf import write_pdf

Grey = NDArray[np.float32]
Dots = NDArray[np.uint8]
PAPER, INK = 245.0, 20.0  # shades, 0 to 255
_TILE = 256  # dots: what lies on the glass is drawn tile by tile, where it may be


@dataclass(frozen=True, slots=True, kw_only=True)
class Press:
    """What a printer does to a sheet: factors, lean of the upright lines to the right, growth of every ink edge."""

    across: float = 1.0
    along: float = 1.0
    skew_deg: float = 0.0
    ink_mm: float = 0.0

    @property
    def matrix(self) -> Affine:
        lean = math.radians(self.skew_deg)
        return Affine(a=self.across, c=self.along * math.sin(lean), d=self.along * math.cos(lean))


@dataclass(frozen=True, slots=True, kw_only=True)
class Scanner:
    """What a scanner does: its true dots in an inch are dpi x scale, each way; the sheet lies turned and shifted."""

    dpi: int = 600
    scale: tuple[float, float] = (1.0, 1.0)
    lean_deg: float = 0.0  # of its second way, to the right
    rotation_deg: float = 0.0  # counter-clockwise
    shift_mm: tuple[float, float] = (0.0, 0.0)
    blur_mm: float = 0.0  # standard deviation
    noise: float = 0.0  # standard deviation, shades
    seed: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Card:
    """A bank card on the glass: its size, the middle and the turn of it on the sheet as printed, mm."""

    middle_mm: tuple[float, float]
    width_mm: float = 85.60
    height_mm: float = 53.98
    turn_deg: float = 1.0
    shade: float = 90.0

    @property
    def reach_mm(self) -> float:
        return math.hypot(self.width_mm, self.height_mm) / 2 + 1

    def is_within(self, x: Grey, y: Grey) -> bool:
        """Whether any of it may be at these places."""
        u, v = _turned(x - self.middle_mm[0], y - self.middle_mm[1], self.turn_deg)
        return bool(((np.abs(u) < self.width_mm / 2 + 1) & (np.abs(v) < self.height_mm / 2 + 1)).any())

    def cover(self, x: Grey, y: Grey, soft: float) -> tuple[Grey, Grey]:
        """How far each point is covered, 0 to 1, and its shade: a plain card with a picture and a strip on it."""
        u, v = _turned(x - self.middle_mm[0], y - self.middle_mm[1], self.turn_deg)
        out_u, out_v = np.abs(u) - self.width_mm / 2 + 3.18, np.abs(v) - self.height_mm / 2 + 3.18
        corner = np.hypot(np.maximum(out_u, 0), np.maximum(out_v, 0))
        beyond = corner + np.minimum(np.maximum(out_u, out_v), 0) - 3.18
        shade = self.shade + 25 * np.sin(u / 5) * np.cos(v / 3) + np.where(np.abs(v - 15) < 5, -50, 0)
        return np.clip(0.5 - beyond / soft, 0, 1), np.clip(shade, 0, 255)


@dataclass(frozen=True, slots=True, kw_only=True)
class SteelRule:
    """A rule whose divided edge runs through a point of the sheet as printed; the body lies below it."""

    through_mm: tuple[float, float]
    turn_deg: float = 0.5
    length_mm: float = 160.0
    width_mm: float = 25.0
    step_mm: float = 1.0  # what one division truly is
    upside_down: bool = False

    @property
    def middle_mm(self) -> tuple[float, float]:
        return self.through_mm

    @property
    def reach_mm(self) -> float:
        return self.length_mm / 2 + self.width_mm

    def is_within(self, x: Grey, y: Grey) -> bool:
        """Whether any of it may be at these places."""
        u, v = _turned(x - self.through_mm[0], y - self.through_mm[1], self.turn_deg)
        below = v if self.upside_down else -v
        return bool(((np.abs(u) < self.length_mm / 2 + 1) & (below > -1) & (below < self.width_mm + 1)).any())

    def cover(self, x: Grey, y: Grey, soft: float) -> tuple[Grey, Grey]:
        """Steel with lines 0.12 mm wide, 3 mm long, every fifth 4 and every tenth 5."""
        u, v = _turned(x - self.through_mm[0], y - self.through_mm[1], self.turn_deg)
        v = v if not self.upside_down else -v
        inside = np.minimum(np.minimum(-v, v + self.width_mm), self.length_mm / 2 - np.abs(u))
        number = np.round(u / self.step_mm)
        length = np.where(number % 10 == 0, 5.0, np.where(number % 5 == 0, 4.0, 3.0))
        line = np.clip((0.06 - np.abs(u - number * self.step_mm)) / soft + 0.5, 0, 1)
        line *= np.clip((length + v) / soft + 0.5, 0, 1)
        return np.clip(inside / soft + 0.5, 0, 1), 175 - 130 * line


class Thing(Protocol):
    """What lies on the glass: the middle of it and how far it reaches, and what it hides and how dark it is there."""

    @property
    def middle_mm(self) -> tuple[float, float]: ...

    @property
    def reach_mm(self) -> float: ...

    def is_within(self, x: Grey, y: Grey) -> bool: ...

    def cover(self, x: Grey, y: Grey, soft: float) -> tuple[Grey, Grey]: ...


def _turned(x: Grey, y: Grey, deg: float) -> tuple[Grey, Grey]:
    cos, sin = math.cos(math.radians(deg)), math.sin(math.radians(deg))
    return x * cos + y * sin, y * cos - x * sin


def scanned(page: Page, press: Press, scanner: Scanner, things: Iterable[Thing] = ()) -> Image.Image:
    """The page printed and scanned: greys, one shade a dot, as large as the paper at the scanner's resolution."""
    grown = _grown(page, press.ink_mm / math.sqrt(press.matrix.after(page.correction).determinant))
    picture = _drawn(grown, _seen(page, press, scanner), scanner.dpi)
    if things := tuple(things):
        shades = np.array(picture)
        for thing in things:
            _lay(shades, thing, _pose(page, scanner), scanner.dpi)
        picture = Image.fromarray(shades)
    return _through_the_lens(picture, scanner)


def printed_at(page: Page, press: Press) -> Callable[[float, float], tuple[float, float]]:
    """Where a point of the page lands on the paper, mm; its correction included."""
    paper = page.paper
    return press.matrix.about(paper.width_mm / 2, paper.height_mm / 2).after(page.correction).apply


def _pose(page: Page, scanner: Scanner) -> Affine:
    """From the paper to the glass, mm: rotation about the middle, shift, and the scanner's own scale."""
    turn, paper = math.radians(scanner.rotation_deg), page.paper
    cos, sin = math.cos(turn), math.sin(turn)
    middle = paper.width_mm / 2, paper.height_mm / 2
    laid = Affine(e=scanner.shift_mm[0], f=scanner.shift_mm[1]).after(Affine(a=cos, b=sin, c=-sin, d=cos))
    return lens_of(scanner).after(laid).about(*middle)


def lens_of(scanner: Scanner) -> Affine:
    """What the scanner makes of a millimetre on its glass, each way."""
    lean = math.radians(scanner.lean_deg)
    across, along = scanner.scale
    return Affine(a=across, c=along * math.sin(lean), d=along * math.cos(lean))


def _seen(page: Page, press: Press, scanner: Scanner) -> Affine:
    paper = page.paper
    return _pose(page, scanner).after(press.matrix.about(paper.width_mm / 2, paper.height_mm / 2))


def _drawn(page: Page, matrix: Affine, dpi: int) -> Image.Image:
    """The PDF of the page drawn by pdfium, shades from ink to paper; matrix in mm, y up."""
    wide, high = round(page.paper.width_mm * dpi / 25.4), round(page.paper.height_mm * dpi / 25.4)
    bitmap = pypdfium2.PdfBitmap.new_native(wide, high, pdfium.FPDFBitmap_Gray)
    pdfium.FPDFBitmap_FillRect(bitmap, 0, 0, wide, high, 0xFFFFFFFF)
    document = pypdfium2.PdfDocument(_pdf(page))
    flip = Affine(d=-1, f=page.paper.height_mm)
    mm, dots = Affine(a=25.4 / 72, d=25.4 / 72), Affine(a=dpi / 25.4, d=dpi / 25.4)
    whole = dots.after(flip).after(matrix).after(flip).after(mm)  # flip is its own inverse
    clip = pdfium.FS_RECTF(0, 0, wide, high)
    pdfium.FPDF_RenderPageBitmapWithMatrix(
        bitmap, document[0], pdfium.FS_MATRIX(*whole.coefficients), clip, pdfium.FPDF_GRAYSCALE
    )
    levels = np.round(INK + np.arange(256) * (PAPER - INK) / 255).astype(int).tolist()
    return Image.frombuffer("L", (wide, high), bitmap.buffer, "raw", "L", bitmap.stride, 1).point(levels)


@lru_cache(maxsize=4)
def _pdf(page: Page) -> bytes:
    return write_pdf([page])


def _grown(page: Page, by: float) -> Page:
    """The page with every filled shape grown as ink grows, with code of its own."""
    if not by:
        return page
    placed = tuple(
        each._replace(drawing=replace(each.drawing, marks=tuple(_fatter(mark, by) for mark in each.drawing.marks)))
        for each in page.placed
    )
    return page._replace(placed=placed)


def _fatter(mark: Mark, by: float) -> Mark:
    if isinstance(mark, Annulus):
        return replace(mark, r_outer=mark.r_outer + by, r_inner=mark.r_inner - by)
    if mark.role is Role.TINT or not getattr(mark, "filled", False):
        return mark
    if isinstance(mark, Circle):
        return replace(mark, r=mark.r + by)
    if isinstance(mark, Polyline):
        left, bottom, right, top = mark.box
        low_x, low_y, high_x, high_y = left - by, bottom - by, right + by, top + by
        return replace(mark, points=((low_x, low_y), (high_x, low_y), (high_x, high_y), (low_x, high_y)))
    return mark


def _lay(shades: Dots, thing: Thing, pose: Affine, dpi: int) -> None:
    """Covers the part of the picture that the thing lies on; its edges a dot soft, as a scanner's are."""
    high, wide = shades.shape
    dot = 25.4 / dpi
    back, (x0, y0) = pose.inverse(), pose.apply(*thing.middle_mm)
    left, right = (min(max(int((x0 + by) / dot), 0), wide) for by in (-thing.reach_mm, thing.reach_mm))
    top, bottom = (min(max(int(high - (y0 - by) / dot), 0), high) for by in (-thing.reach_mm, thing.reach_mm))
    for first, start in itertools.product(range(top, bottom, _TILE), range(left, right, _TILE)):
        tile = shades[first : min(first + _TILE, bottom), start : min(start + _TILE, right)]
        columns, rows = (np.arange(size, dtype=np.float32) for size in tile.shape[::-1])
        x = np.float32(dot) * (columns + np.float32(start + 0.5))[None, :]
        y = np.float32(dot) * (np.float32(high - first - 0.5) - rows)[:, None]
        u, v = back.a * x + back.c * y + back.e, back.b * x + back.d * y + back.f
        if not thing.is_within(u, v):
            continue
        covered, shade = thing.cover(u.astype(np.float32), v.astype(np.float32), dot)
        tile[:] = _whole(tile + covered * (shade - tile))


def _whole(shades: Grey) -> Dots:
    return np.clip(shades + np.float32(0.5), 0, 255, out=shades).astype(np.uint8)


def _through_the_lens(picture: Image.Image, scanner: Scanner) -> Image.Image:
    if scanner.blur_mm:
        picture = picture.filter(ImageFilter.GaussianBlur(scanner.blur_mm * scanner.dpi / 25.4))
    if scanner.noise:
        rng = np.random.default_rng(scanner.seed)
        tile = rng.normal(0, scanner.noise, (512, 509)).astype(np.float32)  # two primes' worth before it repeats
        shades = np.array(picture)
        high, wide = shades.shape
        across = np.tile(tile, (1, wide // 509 + 1))[:, :wide]
        for top in range(0, high, 512):  # a band at a time: a whole sheet in floats is 140 MB
            rows = shades[top : top + 512]
            rows[:] = _whole(rows + across[: len(rows)])
        picture = Image.fromarray(shades)
    return picture


__all__ = ["IDENTITY", "Card", "Press", "Scanner", "SteelRule", "Thing", "lens_of", "printed_at", "scanned"]
