"""A scan as a picture in greys with its resolution. Everything about a file is checked before it is decoded."""

from __future__ import annotations

import math
import os
import struct
import warnings
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO

from PIL import Image, UnidentifiedImageError

from layouts.errors import FileRefused, Give, OutOfRange, ScanRefused
from layouts.units import INCH_MM

LEAST_DPI, MOST_DPI = 150, 1200
MOST_DOTS = 150_000_000  # A4 at 1200 dpi; A3 at 600 dpi is half of it
MOST_BYTES = 470_000_000  # of a picture decoded, with its greys or what its decoder holds beside it
LEAST_SIDE = 300
_STRIP = 1024  # rows at a time from colours to greys
_FOUR_BYTES = ("RGB", "RGBA", "RGBX", "RGBa", "CMYK", "YCbCr", "LAB", "HSV", "LA", "La", "PA", "I", "F")  # a dot
_FORMATS = ("PNG", "JPEG", "TIFF")
_ALIKE = 0.01  # across and along a dot is as wide as it is high within this share

# What Pillow and the decoders under it raise on damaged files.
_DAMAGE = (OSError, SyntaxError, ValueError, EOFError, IndexError, KeyError, TypeError, struct.error, zlib.error)


@dataclass(frozen=True, slots=True, kw_only=True)
class Resolution:
    """Dots in an inch across and along the picture, and who said so: "the file" or "you"."""

    across: float
    along: float
    given: str = "the file"

    def __post_init__(self) -> None:
        for dpi in (self.across, self.along):
            if not LEAST_DPI <= dpi <= MOST_DPI:
                raise ScanRefused(
                    f"a resolution of {dpi:g} dpi is not within {LEAST_DPI} to {MOST_DPI}",
                    "scan at 300 or 600 dpi, or give the true resolution",
                    (Give(field="resolution"),),
                )
        if abs(self.across / self.along - 1) > _ALIKE:
            raise ScanRefused(
                f"the picture has {self.across:g} dpi across and {self.along:g} along",
                "scan with the same resolution both ways",
            )

    @property
    def dot_mm(self) -> tuple[float, float]:
        """Width and height of a dot, if the scanner is true."""
        return INCH_MM / self.across, INCH_MM / self.along


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """One shade a dot, 0 black to 255 white (mode L), and its resolution."""

    image: Image.Image
    resolution: Resolution

    def __post_init__(self) -> None:
        if self.image.mode != "L":
            raise ScanRefused(f"a picture in mode {self.image.mode}", "give one in greys, mode L")


def load(path: Path, dpi: float = 0.0) -> Picture:
    """The first page of a PNG, JPEG or TIFF file. `dpi`, when it is not 0, overrides what the file says.

    Refuses a file that is not a picture, damaged or too large (`FileRefused`), or without a resolution (`ScanRefused`).
    """
    if not math.isfinite(dpi) or dpi < 0:
        raise OutOfRange(f"a resolution of {dpi} dpi", f"give {LEAST_DPI} to {MOST_DPI}")
    try:
        is_other = path.exists() and not path.is_file() and not path.is_dir()
    except (OSError, ValueError):  # a name that no file can have
        is_other = False
    if is_other:  # a pipe would be waited for, and a device read without end
        raise FileRefused(f"{path.name} is not a file but a pipe or a device", "name the scan's file")
    with _opened(path) as image:
        wide, high = image.size
        if wide * high > MOST_DOTS:
            raise _too_large(path)
        if min(wide, high) < LEAST_SIDE:
            problem = f"a picture of {wide} x {high} dots is too small for a scan of a sheet"
            raise ScanRefused(problem, "scan the whole sheet at 300 dpi")
        try:
            pages = getattr(image, "n_frames", 1) if image.format == "TIFF" else 1
        except _DAMAGE as error:  # a TIFF is searched for its pages
            raise _damaged(path) from error
        if pages > 1:
            raise ScanRefused(f"{path.name} holds {pages} pages", "save the printer-check sheet alone")
        resolution = Resolution(across=dpi, along=dpi, given="you") if dpi else _resolution(path, image)
        return Picture(image=_grey(path, image), resolution=resolution)


@contextmanager
def _opened(path: Path) -> Iterator[Image.Image]:
    """The file, its head read and nothing decoded."""
    try:
        with warnings.catch_warnings(), _quiet():
            warnings.simplefilter("ignore")  # sizes have a limit of our own; odd metadata is not read
            image = Image.open(path, formats=_FORMATS)
    except Image.DecompressionBombError:
        raise _too_large(path) from None
    except UnidentifiedImageError:
        raise FileRefused(f"{path.name} is not a PNG, JPEG or TIFF picture", "scan to one of these") from None
    except OSError as error:
        if error.strerror is None:
            raise _damaged(path) from error
        raise FileRefused(f"{path} cannot be read: {error.strerror}", "name the scan's file") from error
    except _DAMAGE as error:
        raise _damaged(path) from error
    with image:
        yield image


def _too_large(path: Path) -> FileRefused:
    limit = f"over {MOST_DOTS // 1_000_000} million dots, or {MOST_BYTES // 5_000_000} million in colours"
    return FileRefused(f"{path.name} is too large: {limit}", "scan at 600 dpi, in greys, which is enough")


def _damaged(path: Path) -> FileRefused:
    return FileRefused(f"{path.name} is damaged or cut short: it cannot be decoded", "scan again, or copy it again")


def _grey(path: Path, image: Image.Image) -> Image.Image:
    """The picture in greys, decoded; what is clear counts as white."""
    try:
        beside = _beside(path, image)
        if image.format == "JPEG":
            image.draft("L", None)  # a JPEG holds its greys apart: the colours need not be decoded
        (wide, high), is_plain = image.size, image.mode == "L" and "transparency" not in image.info
        decoding = wide * high * _bytes_of(image.mode) + beside
        if max(decoding, wide * high * (_bytes_of(image.mode) + 1 - is_plain)) > MOST_BYTES:
            if not beside:
                raise _too_large(path)
            problem = f"{path.name} is too large for its kind (a progressive JPEG, or a TIFF packed in one strip)"
            raise FileRefused(problem, "save it as PNG, or scan at 600 dpi, in greys, which is enough")
        with warnings.catch_warnings(), _quiet():
            warnings.simplefilter("ignore")
            image.load()
        if is_plain:
            return image
        greys = Image.new("L", image.size)
        for top in range(0, high, _STRIP):
            greys.paste(_shades(image, (0, top, wide, min(top + _STRIP, high))), (0, top))
        return greys
    except FileRefused:
        raise
    except MemoryError:
        raise _too_large(path) from None
    except _DAMAGE as error:
        raise _damaged(path) from error


def _beside(path: Path, image: Image.Image) -> int:
    """The bytes that a decoder holds beside the dots.

    A JPEG in more scans than one (progressive, or colour after colour) is held whole, two bytes a sample; of a TIFF,
    the longest strip or tile, compressed, and once more as it comes out.
    """
    wide, high = image.size
    if image.format == "JPEG":
        bands = len(image.getbands())
        with path.open("rb") as file:
            at_once = _bands_of_first_scan(file)
        return 0 if at_once == bands and not image.info.get("progressive") else 2 * bands * wide * high
    if any(tile[0] == "libtiff" for tile in image.tile):  # type: ignore[attr-defined]
        tags: Any = image.tag_v2  # type: ignore[attr-defined]
        kept = [tags.get(tag, ()) for tag in (279, 325)]  # bytes of each strip, of each tile
        packed = max((max(counts, default=0) for counts in kept if counts), default=0)
        across, along = tags.get(322, wide), tags.get(323, min(tags.get(278, high), high))
        return int(packed + min(across, 2 * wide) * min(along, 2 * high) * _bytes_of(image.mode))
    return 0


def _bytes_of(mode: str) -> int:
    """The bytes of a dot of a picture in memory."""
    return 4 if mode in _FOUR_BYTES else 2 if mode.startswith("I;16") else 1


def _bands_of_first_scan(file: BinaryIO) -> int:
    """How many bands the first scan of a JPEG holds, by its markers (ITU-T T.81); 0 where none is found."""
    at = 2
    while True:
        file.seek(at)
        head = file.read(5)
        if len(head) < 5 or head[0] != 0xFF:
            return 0
        if head[1] == 0xDA:
            return head[4]
        # fill bytes, and markers without a length
        at += 1 if head[1] == 0xFF else 2 if head[1] == 1 or 0xD0 <= head[1] <= 0xD8 else 2 + (head[2] << 8 | head[3])


@contextmanager
def _quiet() -> Iterator[None]:
    """What decoders in C say of damaged files on the error stream, for nobody: the refusal says it."""
    try:
        kept, nowhere = os.dup(2), os.open(os.devnull, os.O_WRONLY)
    except OSError:  # no error stream
        yield
        return
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def _shades(image: Image.Image, box: tuple[int, int, int, int]) -> Image.Image:
    """A part of a picture in greys."""
    part = image.crop(box)
    if part.mode.startswith("I;16"):
        import numpy as np

        return Image.fromarray((np.asarray(part) >> 8).astype(np.uint8))
    if part.mode not in ("LA", "PA", "RGBA") and "transparency" not in image.info:
        return part.convert("L")
    if "transparency" in image.info:
        part.info["transparency"] = image.info["transparency"]
    clear = part.convert("RGBA")
    white = Image.new("L", part.size, 255)
    white.paste(clear.convert("L"), mask=clear.getchannel("A"))
    return white


def _resolution(path: Path, image: Image.Image) -> Resolution:
    """The resolution in the file's metadata. Refuses (`ScanRefused`) when it is missing, or senseless.

    PNG counts whole dots in a metre: what is a whole number of dots in an inch but for that is taken for it.
    """
    try:
        across, along = (float(value) for value in image.info.get("dpi", ()))
    except (ValueError, TypeError, ZeroDivisionError):
        raise _no_resolution(path, image.size) from None
    # Programs that do not know it write 0 or 1.
    if not (math.isfinite(across) and math.isfinite(along) and min(across, along) > 1.5):
        raise _no_resolution(path, image.size)
    half_a_dot_in_a_metre = INCH_MM / 1000 / 2 + 1e-6
    whole = [round(dpi) if abs(dpi - round(dpi)) <= half_a_dot_in_a_metre else dpi for dpi in (across, along)]
    return Resolution(across=whole[0], along=whole[1])


def _no_resolution(path: Path, size: tuple[int, int]) -> ScanRefused:
    inches = 210 / INCH_MM
    return ScanRefused(
        f"{path.name} does not say its resolution",
        f"if A4 just fills the picture, it is about {min(size) / inches:.0f} dpi",
        (Give(field="resolution"),),
    )
