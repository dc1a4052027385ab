"""A digest of its own content in each file that is written here, so that a later run knows it unchanged.

The seal stands where a format has room for words that nobody sees: a comment before the last part of a PDF, before the
end of a DXF or after an SVG, a text chunk before the end of a PNG; of a text it is the last line. The writer of any
other format leaves `PLACE` for it, as those of 3MF and STL do; a file without one is never overwritten unasked.
"""

from __future__ import annotations

import re
import zlib
from hashlib import sha256

_WORD = b"Coilwright sha256:"
_HEX = rb"([0-9a-f]{64})"
_SHORT = 60  # digits of a digest where more would not fit: the head of an STL has 80 bytes for all
PLACE = _WORD + b"-" * _SHORT
"""What a writer puts where the seal goes, in a format of which nothing is said below."""
_SEALS = {
    "pdf": b"%" + _WORD + _HEX + b"\\n",
    "svg": b"<!--" + _WORD + _HEX + b"-->\\n",
    "dxf": b"999\n" + _WORD + _HEX + b"\n",
    "txt": b"\n" + _WORD + _HEX + b"\n",
    "png": rb"\x00\x00\x00\x52tEXt" + _WORD.replace(b" ", b"\\x00") + _HEX + b"(?s:.{4})",
}
_IN_PLACE = _WORD + rb"([0-9a-f]{%d})(?![0-9a-f])" % _SHORT
_AROUND = {"pdf": (b"%", b""), "svg": (b"<!--", b"-->"), "dxf": (b"999\n", b""), "txt": (b"\n", b"")}


def sealed(data: bytes, form: str) -> bytes:
    """The content of a file with its seal; as it is in a format that has no place for one."""
    if form not in _SEALS:
        before, place, after = data.rpartition(PLACE)
        return before + _WORD + sha256(before + after).hexdigest().encode()[:_SHORT] + after if place else data
    ends = {"pdf": data.rfind(b"startxref"), "png": data.rfind(b"IEND") - 4, "dxf": data.rfind(b"0\nEOF\n")}
    at = ends.get(form, len(data))
    if at < 0:
        return data
    digest = sha256(data).hexdigest().encode()
    if form == "png":
        chunk = b"tEXt" + _WORD.replace(b" ", b"\x00") + digest
        seal = (len(chunk) - 4).to_bytes(4, "big") + chunk + zlib.crc32(chunk).to_bytes(4, "big")
    else:
        before, after = _AROUND[form]
        seal = before + _WORD + digest + after + b"\n"
    return data[:at] + seal + data[at:]


def is_ours(data: bytes) -> bool:
    """Whether a file bears a seal and is, but for it, what the seal was made from."""
    for pattern in (*_SEALS.values(), _IN_PLACE):
        *_, last = (None, *re.finditer(pattern, data))
        if last and sha256(data[: last.start()] + data[last.end() :]).hexdigest().encode().startswith(last[1]):
            return True
    return False
