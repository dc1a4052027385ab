"""A binary STL file of a solid: triangles and nothing else. It has no unit (these are mm), and all bodies are one."""

from __future__ import annotations

import math
import struct

from layouts.files.seal import PLACE
from layouts.solids.body import Point3, Solid

_HEAD = 80


def write_stl(solid: Solid) -> bytes:
    """The file's bytes: a head that says millimetres, the count of triangles, and each with its normal."""
    head = (PLACE + b"mm").ljust(_HEAD)
    facets = []
    for body in solid.bodies:
        for corners in body.triangles:
            a, b, c = (body.points[corner] for corner in corners)
            facets.append(struct.pack("<12fH", *_normal(a, b, c), *a, *b, *c, 0))
    return b"".join([head, struct.pack("<I", len(facets)), *facets])


def _normal(a: Point3, b: Point3, c: Point3) -> Point3:
    ux, uy, uz = b[0] - a[0], b[1] - a[1], b[2] - a[2]
    vx, vy, vz = c[0] - a[0], c[1] - a[1], c[2] - a[2]
    x, y, z = uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx
    length = math.sqrt(x * x + y * y + z * z) or 1.0
    return x / length, y / length, z / length
