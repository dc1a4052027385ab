"""Damaged pictures through the reader: `python tests/picture_mutants.py [SEED] [COUNT]`. Prints counts.

PNG, JPEG and TIFF files of several kinds, each damaged in a few places: bytes changed, taken out, put in, cut off. Each
must be read, or be refused in one line, and within a second.
"""

from __future__ import annotations

import io
import random
import sys
import tempfile
import time
from collections import Counter
from functools import cache
from pathlib import Path

import numpy as np
from PIL import Image

from layouts.errors import Refusal
from layouts.scanning.picture import load

KINDS: tuple[tuple[str, str, dict[str, object]], ...] = (
    *(("PNG", mode, {}) for mode in ("L", "RGB", "P", "LA")),
    *(("JPEG", mode, {}) for mode in ("L", "RGB", "CMYK")),
    ("TIFF", "L", {}),
    ("TIFF", "L", {"compression": "tiff_adobe_deflate"}),
    ("TIFF", "L", {"compression": "packbits"}),
    ("TIFF", "RGB", {"compression": "tiff_lzw"}),
    ("TIFF", "RGB", {"compression": "jpeg"}),
    ("TIFF", "1", {"compression": "group4"}),
    ("TIFF", "L", {"save_all": True, "pages": 3}),
)


@cache
def originals() -> tuple[bytes, ...]:
    """The files before they are damaged."""
    shades = np.random.default_rng(1).integers(0, 255, (320, 310)).astype(np.uint8)
    files = []
    for kind, mode, how in KINDS:
        image, out, given = Image.fromarray(shades).convert(mode), io.BytesIO(), dict(how)
        more = [image] * (int(str(given.pop("pages", 1))) - 1)
        image.save(out, kind, dpi=(300, 300), **({**given, "append_images": more} if more else given))  # type: ignore[arg-type]
        files.append(out.getvalue())
    return tuple(files)


def mutant(rng: random.Random) -> bytes:
    """A file with up to 16 damages; the head and the end, where a TIFF keeps its directory, have more of them."""
    data = bytearray(rng.choice(originals()))
    for _ in range(rng.choice((1, 1, 2, 4, 16))):
        near = rng.randrange(min(len(data), rng.choice((64, 400, len(data)))))
        at = len(data) - 1 - near if rng.random() < 0.4 else near
        how = rng.random()
        if how < 0.6:
            data[at] = rng.choice((0, 1, 255, rng.randrange(256)))
        elif how < 0.8:
            del data[at : at + rng.randrange(1, 8)]
        elif how < 0.9:
            data[at:at] = rng.randbytes(rng.randrange(1, 8))
        else:
            del data[at:]
        if not data:
            return b"x"
    return bytes(data)


def tried(folder: Path, *, seed: int, count: int) -> Counter[str]:
    """How many were read, refused, refused in more than a line, slow; and any other error by its name and its words."""
    rng, path, counts = random.Random(seed), folder / "mutant", Counter[str]()
    for _ in range(count):
        path.write_bytes(mutant(rng))
        start = time.process_time()
        try:
            load(path)
            result = "read"
        except Refusal as refused:
            result = "refused" if "\n" not in str(refused) else "refused in several lines"
        except Exception as error:  # noqa: BLE001 - any other one is what is looked for
            result = f"{type(error).__name__}: {error}"
        counts[result if time.process_time() - start < 1 else "slow"] += 1
    return counts


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as scratch:
        numbers = [int(word) for word in sys.argv[1:]]
        print(dict(tried(Path(scratch), seed=(numbers or [1])[0], count=(numbers[1:] or [10_000])[0])))
