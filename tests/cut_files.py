"""Files to cut, read back by readers of others: ezdxf, and a parser of SVG of the tests' own. All mm, y up."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from xml.etree import ElementTree

import ezdxf

SVG = "{http://www.w3.org/2000/svg}"
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Read:
    """One line that was read: its layer, its kind ("circle", "line", "arc"), and its figures."""

    layer: str
    kind: str
    figures: tuple[float, ...]  # circle: x y r; line: x0 y0 x1 y1; arc: x y r x0 y0 x1 y1


def dxf_document(data: bytes) -> ezdxf.document.Drawing:
    """The document, and no finding of its audit."""
    document = ezdxf.read(io.StringIO(data.decode("ascii")))
    audit = document.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    return document


def read_dxf(data: bytes) -> Iterator[Read]:
    """Every entity in the order of the file."""
    for entity in dxf_document(data).modelspace():
        layer, kind = entity.dxf.layer, entity.dxftype()
        if kind == "CIRCLE":
            yield Read(layer, "circle", (*entity.dxf.center.vec2, entity.dxf.radius))
        elif kind == "LINE":
            yield Read(layer, "line", (*entity.dxf.start.vec2, *entity.dxf.end.vec2))
        elif kind == "ARC":
            ends = (*entity.start_point.vec2, *entity.end_point.vec2)
            yield Read(layer, "arc", (*entity.dxf.center.vec2, entity.dxf.radius, *ends))
        else:
            assert kind == "POLYLINE"
            points = [tuple(vertex.dxf.location.vec2) for vertex in entity.vertices]
            pairs = zip(points, (*points[1:], points[0]) if entity.is_closed else points[1:], strict=False)
            for one, other in pairs:
                yield Read(layer, "line", (*one, *other))


def without_words(dxf: bytes) -> bytes:
    """The file less its letters, which are most of it: for what has been read with them elsewhere."""
    return re.sub(rb"0\nPOLYLINE\n8\nMARK\n.*?0\nSEQEND\n8\nMARK\n", b"", dxf, flags=re.DOTALL)


def read_svg(data: bytes) -> Iterator[Read]:
    """Every line of every group in order."""
    root = ElementTree.fromstring(data)
    top = float(root.attrib["viewBox"].split()[3])
    for group in root.iter(f"{SVG}g"):
        for element in group:
            if element.tag == f"{SVG}circle":
                x, y, r = (float(element.attrib[key]) for key in ("cx", "cy", "r"))
                yield Read(group.attrib["id"], "circle", (x, top - y, r))
            else:
                yield from _path(group.attrib["id"], element.attrib["d"], top)


def _path(layer: str, data: str, top: float) -> Iterator[Read]:
    here = first = (0.0, 0.0)
    for step, words in re.findall(r"([MLAZ])([^MLAZ]*)", data):
        figures = [float(word) for word in words.split()]
        if step == "M":
            here = first = (figures[0], top - figures[1])
        elif step == "Z":
            if math.dist(here, first) > 1e-9:
                yield Read(layer, "line", (*here, *first))
        else:
            there = (figures[-2], top - figures[-1])
            if step == "L":
                yield Read(layer, "line", (*here, *there))
            else:
                yield Read(layer, "arc", (*_middle(here, there, figures[0], figures[4]), figures[0], *here, *there))
            here = there


def _middle(one: Point, other: Point, r: float, turn: float) -> Point:
    """The centre of a short arc of radius r: to the left of its way where it turns left. In SVG y runs down."""
    half = math.dist(one, other) / 2
    out = math.sqrt(max(r**2 - half**2, 0.0)) * (1 if turn == 0 else -1)
    ux, uy = (other[0] - one[0]) / 2 / half, (other[1] - one[1]) / 2 / half
    return (one[0] + other[0]) / 2 - uy * out, (one[1] + other[1]) / 2 + ux * out
