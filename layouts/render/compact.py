"""A PDF made small: all objects but streams packed into one (ISO 32000, 7.5.7 and 7.5.8).

A tree of tags is hundreds of small objects, each with a line of its own in a table: together they pack to a tenth.
"""

from __future__ import annotations

import re
import zlib
from itertools import pairwise


def compact(data: bytes) -> bytes:
    """The same file, as reportlab writes it: one table of objects numbered from 1, none of them ever changed."""
    table = int(data[data.rindex(b"startxref") :].split()[1])
    trailer = data[data.index(b"trailer", table) :]
    facts = int(re.findall(rb"/Info (\d+) 0 R", trailer)[0])  # stay in the clear: what made the file, for any search
    offsets = [int(offset) for offset in re.findall(rb"(\d{10}) 00000 n", data[table:])]
    ends = dict(pairwise([*sorted(offsets), table]))
    out = bytearray(data[: min(offsets)])
    holder = len(offsets) + 1
    rows: list[tuple[int, int, int]] = [(0, 0, 65535)]
    heads: list[bytes] = []
    bodies: list[bytes] = []
    size = 0
    for number, offset in enumerate(offsets, 1):
        whole = data[offset : ends[offset]]
        body = whole.partition(b"obj")[2].rpartition(b"endobj")[0].strip(b"\n")
        if body.endswith(b"endstream") or number == facts:
            rows.append((1, len(out), 0))
            out += whole
            continue
        rows.append((2, holder, len(bodies)))
        heads.append(b"%d %d" % (number, size))
        bodies.append(body)
        size += len(body) + 1
    head = b" ".join(heads) + b"\n"
    rows.append((1, len(out), 0))
    kind = b"/Type/ObjStm/N %d/First %d" % (len(bodies), len(head))
    out += _stream(holder, kind, head + b"\n".join(bodies))
    start = len(out)
    rows.append((1, start, 0))
    kept = b"".join(re.findall(rb"/Info \d+ 0 R|/Root \d+ 0 R", trailer))
    identity = re.findall(rb"<[0-9a-f]+>", trailer)
    kind = b"/Type/XRef/Size %d/W[1 4 4]%b/ID[%b]" % (len(rows), kept, b"".join(identity))
    packed = b"".join(b"%c%b%b" % (sort, at.to_bytes(4, "big"), index.to_bytes(4, "big")) for sort, at, index in rows)
    out += _stream(holder + 1, kind, packed)
    return bytes(out + b"startxref\n%d\n%%%%EOF\n" % start)


def _stream(number: int, entries: bytes, content: bytes) -> bytes:
    packed = zlib.compress(content)
    head = b"%d 0 obj\n<<%b/Filter/FlateDecode/Length %d>>\nstream\n" % (number, entries, len(packed))
    return head + packed + b"\nendstream\nendobj\n"
