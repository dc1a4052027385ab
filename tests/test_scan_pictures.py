"""Pictures that are no use, and files of every kind: read, or refused with the reason."""

from __future__ import annotations

import io
import math
import os
import time
from dataclasses import replace
from functools import cache
from pathlib import Path

import every_sheet
import numpy as np
import picture_mutants
import pytest
from every_sheet import Case
from PIL import Image, ImageFilter
from simulated_printer import Press, Scanner, scanned
from simulated_scans import CLEAN_MM, PRESS, TURNED, command, off_mm, page, read, saved, small, target

from layouts.errors import FileRefused, MissingLibrary, OutOfRange, ScanRefused
from layouts.scanning import scan_of
from layouts.scanning.picture import Resolution, load


def _at_an_angle(image: Image.Image, lean: float) -> Image.Image:
    """As a camera that leans sees it: x' and y' over 1 + lean y."""
    wide, high = image.size
    return image.transform((wide, high), Image.Transform.PERSPECTIVE, (1, 0, 0, 0, 1, 0, 0, lean / high))


def _with_hidden(image: Image.Image, number: int) -> Image.Image:
    x, y = read(image, dpi=300).markers[number].x, read(image, dpi=300).markers[number].y
    hidden = image.copy()
    hidden.paste(245, tuple(round(300 / 25.4 * at) for at in (x - 5, -y - 5, x + 5, -y + 5)))
    return hidden


def _noisy_paper() -> Image.Image:
    shades = np.random.default_rng(3).normal(240, 6, (3508, 2480))
    return Image.fromarray(np.clip(shades, 0, 255).astype(np.uint8))


def _barrel(image: Image.Image) -> Image.Image:
    """A lens that bends straight lines: the picture in strips, each moved by the square of its height."""
    bent = Image.new("L", image.size, 245)
    for top in range(0, image.height, 8):
        away = 2 * top / image.height - 1
        bent.paste(image.crop((0, top, image.width, top + 8)), (round(24 * away * away), top))
    return bent


NO_USE = {
    "blurred": (lambda: small().filter(ImageFilter.GaussianBlur(5)), "blurred: the markers' edges are 0.[4-9]"),
    "very blurred": (lambda: small().filter(ImageFilter.GaussianBlur(16)), "blurred|not the whole"),
    "cropped at the right": (lambda: small().crop((0, 0, 2240, 3508)), "not the whole|cropped"),
    "cropped in the middle of a side": (
        lambda: _with_hidden(small(), 3),
        "hidden or broken: the right, 44% of the way up; uncover",
    ),
    "the ring is hidden": (
        lambda: _with_hidden(small(), 0),
        "not the whole sheet for A4 portrait.*with its ring and 7 discs; scan",
    ),
    "mirrored": (lambda: small().transpose(Image.Transpose.FLIP_LEFT_RIGHT), "the picture is mirrored"),
    "at an angle": (lambda: _at_an_angle(small(), 0.02), "seen at an angle: perspective moves its markers by"),
    "hardly at an angle": (lambda: _at_an_angle(small(), 0.006), "seen at an angle"),
    "through a bad lens": (lambda: _barrel(small()), "mm from where a flat sheet has them|at an angle"),
    "empty": (lambda: Image.new("L", (2480, 3508), 250), "no print is seen in the picture"),
    "noisy and empty": (_noisy_paper, "no print is seen in the picture"),
    "black": (lambda: Image.new("L", (2480, 3508), 3), "no print is seen in the picture"),
    "faint": (lambda: small().point(lambda shade: 240 + shade / 20), "no print is seen in the picture"),
}


@pytest.mark.parametrize(("picture", "reason"), NO_USE.values(), ids=NO_USE)
def test_a_picture_that_is_no_use_is_refused_with_the_reason(picture, reason: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ScanRefused, match=reason) as refused:
        read(picture(), dpi=300)
    assert "\n" not in str(refused.value)
    assert refused.value.remedy


def test_the_sheet_of_another_paper_is_refused() -> None:
    letter = scanned(page("letter"), Press(), replace(TURNED, dpi=300))
    with pytest.raises(
        ScanRefused, match=r"not the whole sheet for A4 portrait.*check the paper|from where a flat sheet has them"
    ):
        read(letter, dpi=300)


def test_another_sheet_is_refused() -> None:
    card = every_sheet.pages(Case(sheet="ring-card", variant="usual", paper="a4"))[0]
    with pytest.raises(ScanRefused, match="not the whole sheet"):
        read(scanned(card, Press(), Scanner(dpi=300)), dpi=300)


@pytest.mark.parametrize(
    ("name", "mode", "how"),
    [
        ("a.png", "L", {}),
        ("a.png", "RGB", {}),
        ("a.png", "RGBA", {}),
        ("a.png", "P", {}),
        ("a.png", "I;16", {}),
        ("a.jpg", "L", {"quality": 90}),
        ("a.jpg", "RGB", {"quality": 85}),
        ("a.tif", "L", {"compression": "tiff_lzw"}),
        ("a.tif", "RGB", {}),
    ],
)
def test_png_jpeg_and_tiff_are_read_in_every_mode(tmp_path: Path, name: str, mode: str, how: dict[str, object]) -> None:
    image = small()
    wide = np.asarray(image).astype(np.uint16) * 257
    other = Image.fromarray(wide) if mode == "I;16" else image.convert(mode)
    scan = scan_of(saved(tmp_path / name, other, dpi=(300, 300), **how), target())
    assert off_mm(scan, PRESS) < CLEAN_MM


@pytest.mark.parametrize("dpi", [150, 200, 240, 300, 400, 600, 1200])
@pytest.mark.parametrize("ending", ["png", "jpg", "tif"])
def test_the_resolution_is_read_exactly(tmp_path: Path, dpi: int, ending: str) -> None:
    """PNG counts dots in a metre: 150 dpi is 5906 for 5905.51, 82 ppm off."""
    path = saved(tmp_path / f"a.{ending}", Image.new("L", (400, 500), 255), dpi=(dpi, dpi))
    resolution = load(path).resolution
    assert (dpi, dpi) == (resolution.across, resolution.along)


def test_a_given_resolution_goes_before_that_of_the_file(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.png", Image.new("L", (400, 500), 255), dpi=(72, 72))
    assert load(path, 299.5).resolution == Resolution(across=299.5, along=299.5, given="you")


def _bomb() -> bytes:
    """The head of a PNG of 30,000 x 30,000 dots, and nothing behind it that would have to be that large."""
    import struct
    import zlib

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 0, 0, 0, 0)
    body = zlib.compress(bytes(30_001) * 300)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", body) + chunk(b"IEND", b"")


def _encoded(image: Image.Image, kind: str, **how: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **how)  # type: ignore[arg-type]
    return out.getvalue()


def _two_pages() -> bytes:
    one = Image.new("L", (400, 500), 255)
    return _encoded(one, "TIFF", save_all=True, append_images=[one], dpi=(300, 300))


@cache
def _jpeg() -> bytes:
    return _encoded(small(), "JPEG", dpi=(300, 300))


BAD_FILES = {
    "1 x 1": (
        lambda: _encoded(Image.new("L", (1, 1)), "PNG"),
        "a picture of 1 x 1 dots is too small for a scan of a sheet",
    ),
    "a bomb": (_bomb, "is too large: over 150 million dots, or 94 million in colours; scan at 600 dpi"),
    "a truncated JPEG": (lambda: _jpeg()[: len(_jpeg()) // 2], "is damaged or cut short"),
    "a JPEG of which the head alone is left": (lambda: _jpeg()[:300], "is not a PNG, JPEG or TIFF|damaged"),
    "a truncated PNG": (lambda: _encoded(small(), "PNG", dpi=(300, 300))[:40_000], "is damaged or cut short"),
    "a truncated TIFF": (lambda: _encoded(small(), "TIFF", dpi=(300, 300))[:40_000], "damaged|no PNG"),
    "words": (lambda: b"not a picture", "is not a PNG, JPEG or TIFF picture; scan to one of these"),
    "nothing": (lambda: b"", "is not a PNG, JPEG or TIFF picture"),
    "a GIF": (lambda: _encoded(Image.new("L", (400, 500)), "GIF"), "is not a PNG, JPEG or TIFF picture"),
    "two pages": (_two_pages, "holds 2 pages; save the printer-check sheet alone"),
    "no resolution": (
        lambda: _encoded(small(), "PNG"),
        "does not say its resolution; if A4 just fills the picture, it is about 300 dpi; give the resolution",
    ),
    "a screen's resolution": (lambda: _encoded(small(), "PNG", dpi=(72, 72)), "72 dpi is not within 150 to 1200"),
    "unlike both ways": (lambda: _encoded(small(), "PNG", dpi=(300, 600)), "300 dpi across and 600 along"),
}


@pytest.mark.parametrize(("data", "reason"), BAD_FILES.values(), ids=BAD_FILES)
def test_a_bad_file_is_refused_by_the_command_and_nothing_is_saved(tmp_path: Path, data, reason: str) -> None:  # type: ignore[no-untyped-def]
    (tmp_path / "scan").write_bytes(data())
    with pytest.raises((FileRefused, ScanRefused), match=reason):
        command(tmp_path, "scan")
    assert [tmp_path / "scan"] == list(tmp_path.iterdir())


def test_a_bomb_is_refused_at_once(tmp_path: Path) -> None:
    (tmp_path / "scan").write_bytes(_bomb())
    start = time.process_time()
    with pytest.raises(FileRefused):
        load(tmp_path / "scan")
    assert time.process_time() - start < 0.1


def test_a_file_that_is_not_there_or_a_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(FileRefused, match="cannot be read: No such file"):
        load(tmp_path / "none.png")
    with pytest.raises(FileRefused, match="cannot be read: Is a directory"):
        load(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="a system without pipes that have names")
def test_a_pipe_or_a_device_is_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    (tmp_path / "link.png").symlink_to("/dev/zero")
    for name in ("pipe.png", "link.png"):
        with pytest.raises(FileRefused, match=f"{name} is not a file but a pipe or a device; name the scan's file"):
            load(tmp_path / name)


def test_damaged_pictures_are_read_or_refused_in_one_line(tmp_path: Path) -> None:
    counts = picture_mutants.tried(tmp_path, seed=7, count=250)
    assert set(counts) == {"read", "refused"}


@pytest.mark.parametrize("dpi", [-1.0, math.nan, math.inf])
def test_a_senseless_resolution_is_refused(tmp_path: Path, dpi: float) -> None:
    with pytest.raises(OutOfRange, match="give 150 to 1200"):
        load(tmp_path / "any.png", dpi)


def test_missing_libraries_are_named_with_the_extra(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    with pytest.raises(MissingLibrary, match=r"needs numpy and pillow.*; install them"):
        scan_of(tmp_path / "any.png", target())
