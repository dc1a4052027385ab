"""What a picture may take in memory, whatever its format, and what its decoder says for itself."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from layouts.errors import FileRefused
from layouts.scanning import picture
from layouts.scanning.picture import load


@pytest.mark.parametrize(
    ("name", "how", "dots_held"),
    [
        ("a.jpg", {}, 1),  # greys alone are decoded of a JPEG in one scan
        ("b.jpg", {"progressive": True}, 7),  # and of one in several, all samples are held, two bytes each
        ("c.tif", {}, 5),
        ("d.tif", {"compression": "tiff_lzw", "strip_size": 1 << 30}, 8),  # the strip is held as it comes out
        ("e.png", {}, 5),
    ],
)
def test_what_a_decoder_holds_counts_towards_the_largest_picture(
    name: str, how: dict[str, Any], dots_held: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    Image.effect_noise((400, 500), 60).convert("RGB").save(tmp_path / name, dpi=(300, 300), **how)
    dots, packed = 400 * 500, (tmp_path / name).stat().st_size if name == "d.tif" else 0
    monkeypatch.setattr(picture, "MOST_BYTES", dots * dots_held + packed)
    assert load(tmp_path / name).image.size == (400, 500)
    monkeypatch.setattr(picture, "MOST_BYTES", dots * dots_held - 1)
    with pytest.raises(FileRefused, match="is too large"):
        load(tmp_path / name)


def test_what_a_decoder_says_of_a_damaged_picture_stays_off_the_error_stream(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    Image.effect_noise((400, 500), 60).save(tmp_path / "a.tif", dpi=(300, 300), compression="tiff_lzw")
    data = bytearray((tmp_path / "a.tif").read_bytes())
    data[200:9000:50] = b"\xff" * len(data[200:9000:50])
    (tmp_path / "a.tif").write_bytes(data)
    with pytest.raises(FileRefused, match="damaged"):
        load(tmp_path / "a.tif")
    assert capfd.readouterr().err == ""
