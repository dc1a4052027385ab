"""SVG files read as what is painted, by a reader of the tests' own."""

from __future__ import annotations

import cmath
import math
import re
from functools import partial
from xml.etree import ElementTree

import numpy as np
from readers import STEPS, Matrix, Outline, Path, Points, Sheet, Words, growth, times

_SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_SHAPES = ("line", "polyline", "polygon", "circle", "path", "rect", "ellipse", "text", "image")


def read_svg(data: bytes) -> Sheet:
    """One SVG: its paths and words in paint order. `width` and `height` are what the file says, in mm."""
    root = ElementTree.fromstring(data)
    width, height = (_millimetres(root.attrib[name]) for name in ("width", "height"))
    left, top, wide, high = map(float, root.attrib["viewBox"].split())
    a, d = width / wide, height / high
    reader = _SvgReader(_rules(root))
    reader.walk(root, (a, 0.0, 0.0, -d, -left * a, height + top * d))
    return Sheet(width=width, height=height, paths=tuple(reader.paths), words=tuple(reader.words))


def _millimetres(length: str) -> float:
    match = re.fullmatch(r"([0-9.]+)mm", length)
    if match is None:
        raise ValueError(f"{length!r} is not in mm")
    return float(match[1])


def _rules(root: ElementTree.Element) -> dict[str, dict[str, str]]:
    css = "".join(style.text or "" for style in root.iter(f"{_SVG}style"))
    return {
        name: dict(part.split(":", 1) for part in body.split(";") if part)
        for name, body in re.findall(r"\.([\w-]+)\{([^}]*)\}", css)
    }


class _SvgReader:
    def __init__(self, rules: dict[str, dict[str, str]]) -> None:
        self.rules = rules
        self.paths: list[Path] = []
        self.words: list[Words] = []

    def walk(self, parent: ElementTree.Element, matrix: Matrix) -> None:
        for element in parent:
            tag = element.tag.removeprefix(_SVG)
            if tag in ("defs", "title", "desc", "style"):
                continue
            inner = times(matrix, _transform(element.attrib.get("transform", "")))
            if tag == "g" and "aria-label" in element.attrib:
                self._say(element, inner)
            elif tag == "g":
                self.walk(element, inner)
            elif tag in _SHAPES:
                self._paint(element, tag, inner)
            else:
                raise ValueError(f"an SVG element that is not known: {tag}")

    def _say(self, group: ElementTree.Element, matrix: Matrix) -> None:
        string = group.attrib["aria-label"]
        uses = [use.attrib[_HREF] for use in group]
        if len(uses) != sum(not c.isspace() for c in string):
            raise ValueError(f"{len(uses)} letters are drawn for {string!r}")
        along = complex(matrix[0], matrix[1])
        self.words.append(
            Words(
                string=string,
                start=complex(matrix[4], matrix[5]),
                size=abs(along) * 2000,  # the embedded font has 2000 units to the em
                angle_deg=math.degrees(cmath.phase(along)),
                shade=_shade(self.rules[group.attrib["class"]]["fill"]),
                font="bold" if any(use[1] == "b" for use in uses) else "regular",
            )
        )

    def _paint(self, element: ElementTree.Element, tag: str, matrix: Matrix) -> None:
        rule = self.rules[element.attrib["class"]]
        outline = Outline()
        getattr(self, f"_{tag}")(element.attrib, outline)
        filled = rule["fill"] != "none"
        grown = growth(matrix)
        subpaths = outline.taken(matrix)
        dash = tuple(float(length) * grown for length in rule.get("stroke-dasharray", "").split())
        path = partial(
            Path,
            kind=element.attrib["class"],
            filled=filled,
            even_odd=rule.get("fill-rule") == "evenodd",
            shade=_shade(rule["fill" if filled else "stroke"]),
            width=0.0 if filled else float(rule["stroke-width"]) * grown,
            dash=() if filled else dash,
        )
        # Strokes of a role are gathered: each of them is a path here.
        self.paths += [path(subpaths=part) for part in ([subpaths] if filled else [(sub,) for sub in subpaths])]

    def _line(self, given: dict[str, str], outline: Outline) -> None:
        x1, y1, x2, y2 = (float(given[name]) for name in ("x1", "y1", "x2", "y2"))
        outline.move(complex(x1, y1))
        outline.line(complex(x2, y2))

    def _polyline(self, given: dict[str, str], outline: Outline) -> None:
        numbers = [float(number) for number in re.split(r"[\s,]+", given["points"].strip())]
        first, *rest = (complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True))
        outline.move(first)
        for point in rest:
            outline.line(point)

    def _polygon(self, given: dict[str, str], outline: Outline) -> None:
        self._polyline(given, outline)
        outline.end(closed=True)

    def _circle(self, given: dict[str, str], outline: Outline) -> None:
        centre, r = complex(float(given["cx"]), float(given["cy"])), float(given["r"])
        turn = np.exp(2j * np.pi * np.arange(8 * STEPS + 1) / (8 * STEPS))
        outline.move(centre + r)
        outline.curve(centre + r * turn[1:])
        outline.end(closed=True)

    def _path(self, given: dict[str, str], outline: Outline) -> None:
        for letter, body in re.findall(r"([A-Za-z])([^A-Za-z]*)", given["d"]):
            numbers = [float(number) for number in re.findall(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?", body)]
            if letter == "M":
                outline.move(complex(*numbers))
            elif letter == "L":
                outline.line(complex(*numbers))
            elif letter == "A":
                outline.curve(_svg_arc(outline.at, numbers))
            elif letter == "Z":
                outline.end(closed=True)
            else:
                raise ValueError(f"a path command that is not known: {letter}")


def _svg_arc(start: complex, numbers: list[float]) -> Points:
    """Points on an arc given by its ends, as SVG 1.1 appendix F.6 finds its centre."""
    r, ry, _, large, turn, x, y = numbers
    if r != ry:
        raise ValueError("an elliptical arc")
    end = complex(x, y)
    half = (end - start) / 2
    if not half:  # F.6.2: an arc between equal ends is left out
        return np.array([end])
    r = max(r, abs(half))  # F.6.6: a radius too small is scaled up
    off = math.sqrt(max(0.0, r * r - abs(half) ** 2))
    side = 1 if (large != turn) else -1
    centre = (start + end) / 2 + side * off * (half / abs(half)) * 1j
    sweep = cmath.phase((end - centre) / (start - centre))
    if turn and sweep < 0:
        sweep += 2 * math.pi
    elif not turn and sweep > 0:
        sweep -= 2 * math.pi
    count = 2 * STEPS  # the same for every arc: the middle point of several is their middle
    return np.asarray(centre + (start - centre) * np.exp(1j * sweep * np.arange(1, count + 1) / count))


def _transform(words: str) -> Matrix:
    matrix: Matrix = (1, 0, 0, 1, 0, 0)
    for name, body in re.findall(r"(\w+)\(([^)]*)\)", words):
        matrix = times(matrix, _one_transform(name, [float(number) for number in re.split(r"[\s,]+", body.strip())]))
    return matrix


def _one_transform(name: str, n: list[float]) -> Matrix:
    if name == "matrix":
        return n[0], n[1], n[2], n[3], n[4], n[5]
    if name == "translate":
        return 1, 0, 0, 1, n[0], n[1] if len(n) > 1 else 0
    if name == "scale":
        return n[0], 0, 0, n[-1], 0, 0
    if name == "rotate" and len(n) == 1:
        turn = cmath.exp(1j * math.radians(n[0]))
        return turn.real, turn.imag, -turn.imag, turn.real, 0, 0
    raise ValueError(f"a transform that is not known: {name}")


def _shade(colour: str) -> float:
    levels = {int(colour[i : i + 2], 16) for i in (1, 3, 5)}
    if len(levels) != 1:
        raise ValueError(f"a colour in a sheet of greys: {colour}")
    return levels.pop() / 255
