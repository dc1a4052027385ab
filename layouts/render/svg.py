"""A page to one SVG file: millimetres, one user unit each. Here y is flipped, once.

Words are drawn as outlines, with the words themselves in the label of their element: the page looks the same with any
fonts, or none. Strokes of one role are gathered into one path, and what lies over what stays as it was drawn.
"""

from __future__ import annotations

import io
import math
from functools import cache
from typing import Any
from urllib.parse import quote
from xml.sax.saxutils import quoteattr

import svgwrite

from layouts.affine import IDENTITY, Affine
from layouts.drawing import lettering
from layouts.drawing.marks import Box, Mark, Text
from layouts.drawing.marks.mark import on_circle
from layouts.drawing.pens import PENS, Role
from layouts.pages.page import Page, Placed

_BODY = "the marks"  # the title of a group that stands for them until they are spliced in


def write_svg(page: Page, *, embedded: bool = False) -> bytes:
    """One SVG 1.1 of the page, `width` and `height` in mm with a viewBox in the same numbers.

    Embedded in a page of the web, it has no style sheet of its own (`style_sheet` gives the rules for all of them),
    and each line of words is one path: larger than letters that are used over and over, and drawn twice as fast.
    """
    return _Writer(page, embedded=embedded).write()


def style_sheet() -> str:
    """The CSS rules of every role, one a line: its class for strokes, and that with `-ink` for what is filled."""
    rules = []
    for role, pen in PENS.items():
        level = round(255 * pen.shade)
        shade = f"#{level:02x}{level:02x}{level:02x}"
        dash = f";stroke-dasharray:{' '.join(f'{length:g}' for length in pen.dash_mm)}" if pen.dash_mm else ""
        rules += [
            f".{role}{{fill:none;stroke:{shade};stroke-width:{pen.width_mm:g};stroke-linecap:butt{dash}}}",
            f".{role}-ink{{fill:{shade};fill-rule:evenodd;stroke:none}}",
        ]
    return "\n".join(rules)


class _Writer:
    def __init__(self, page: Page, *, embedded: bool) -> None:
        self.page, self.embedded = page, embedded
        self.height = page.paper.height_mm
        size = f"{page.paper.width_mm:g}mm", f"{self.height:g}mm"
        view = f"0 0 {page.paper.width_mm:g} {self.height:g}"
        # debug=False: marks have checked their numbers and words already.
        self.drawing: Any = svgwrite.Drawing(size=size, viewBox=view, debug=False)
        self.glyphs: dict[tuple[str, bool], str] = {}
        self.layers = _Layers()

    def write(self) -> bytes:
        names = ", ".join(dict.fromkeys(placed.drawing.name for placed in self.page.placed))
        made = "Made by Coilwright, true scale: 1 user unit is 1 mm"
        self.drawing.set_desc(title=self.page.title, desc=f"{self.page.paper.label}: {names}. {made}")
        # A graphics document is read part by part: each line of words is an image with the words as its name.
        self.drawing.attribs |= {"role": "graphics-document document", "xml:lang": "en"}
        if not self.embedded:
            paper = self.page.paper
            # For a browser that prints it. In a style sheet of its own: Inkscape complains of such a rule in a style.
            rule = f"@page{{size:{paper.width_mm:g}mm {paper.height_mm:g}mm;margin:0}}"
            self.drawing.add_stylesheet(f"data:text/css,{quote(rule, safe=':;')}", "", media="print")
            self.drawing.defs.add(self.drawing.style(style_sheet()))
        for placed in self.page.placed:
            self._draw(placed)
        # The body is spliced in: a tree of an element for each letter would take most of the time of a sheet.
        self.drawing.add(self._body()).set_desc(title=_BODY)
        out = io.StringIO()
        self.drawing.write(out)
        head, _, tail = out.getvalue().rpartition(f"<title>{_BODY}</title>")
        body = "".join(
            item if isinstance(item, str) else f'<path class="{item[0]}" d="{"".join(item[1])}"/>'
            for item in self.layers.items
        )
        return f"{head}{body}{tail}".encode()

    def _body(self) -> Any:
        if self.page.correction == IDENTITY:
            return self.drawing.g()
        flip = Affine(d=-1, f=self.height)
        matrix = flip.after(self.page.correction).after(flip).coefficients
        return self.drawing.g(transform=f"matrix({' '.join(f'{number:.9g}' for number in matrix)})")

    def _draw(self, placed: Placed) -> None:
        path = _Data(placed.x, self.height - placed.y)
        for mark in placed.drawing.marks:
            mark.trace(path)
            if path.steps and mark.filled:
                self.layers.put(mark, placed, (f"{mark.role}-ink", path.steps))
            elif path.steps:
                self.layers.stroke(mark, placed).extend(path.steps)
            for text in path.said:
                self.layers.put(mark, placed, self._words(text, mark.role, path))
            path.steps, path.said = [], []

    def _words(self, text: Text, role: Role, path: _Data) -> str:
        x, y = text.start
        turn = f" rotate({_n(-text.angle_deg)})" if text.angle_deg else ""
        scale = text.size_mm / lettering.UNITS_PER_EM
        place = f"translate({path.x(x)} {path.y(y)}){turn} scale({scale:.6g})"
        look = f'class="{role}-ink" transform="{place}" role="img" aria-label={quoteattr(text.string)}'
        letters = [pair for pair in lettering.advances(text.string, bold=text.bold) if pair[0].strip()]
        if self.embedded:
            outlines = "".join(f"M{at} 0{_relative(letter, bold=text.bold)}" for letter, at in letters)
            return f'<path {look} d="{outlines}"/>'
        uses = "".join(f'<use x="{at}" xlink:href="#{self._glyph(letter, text.bold)}"/>' for letter, at in letters)
        return f"<g {look}>{uses}</g>"

    def _glyph(self, character: str, bold: bool) -> str:
        name = self.glyphs.get((character, bold))
        if name is None:
            name = self.glyphs[character, bold] = f"{'b' if bold else 'r'}{ord(character):x}"
            self.drawing.defs.add(self.drawing.path(lettering.outline(character, bold=bold), id=name))
        return name


class _Layers:
    """What is painted, in order; a stroke joins the path of its role where nobody sees that it is painted earlier."""

    def __init__(self) -> None:
        self.items: list[str | tuple[str, list[str]]] = []  # an element, or the class and the steps of a path
        self.open: dict[Role, tuple[int, list[str]]] = {}  # where in `items` the path of a role stands, and its steps
        self.last: dict[float, int] = {}  # where in `items` each shade was painted last
        self.pale: list[tuple[int, Box]] = []  # where in `items` what is not black is, and what it covers

    def put(self, mark: Mark, placed: Placed, item: str | tuple[str, list[str]]) -> None:
        """Over all that is there."""
        self.items.append(item)
        self._painted(mark, placed, len(self.items) - 1)

    def stroke(self, mark: Mark, placed: Placed) -> list[str]:
        """The steps that those of this stroke are added to."""
        at, steps = self.open.get(mark.role, (-1, []))
        if at < 0 or self._would_be_seen(mark, placed, at):
            at, steps = self.open[mark.role] = len(self.items), []
            self.items.append((str(mark.role), steps))
        self._painted(mark, placed, at)
        return steps

    def _painted(self, mark: Mark, placed: Placed, at: int) -> None:
        shade = PENS[mark.role].shade
        self.last[shade] = max(at, self.last.get(shade, at))
        if shade:
            self.pale.append((at, _box(mark, placed)))

    def _would_be_seen(self, mark: Mark, placed: Placed, at: int) -> bool:
        """Whether another shade was painted since: for black, where it crosses it; for a paler one, anywhere."""
        shade = PENS[mark.role].shade
        if shade:
            return any(last > at for other, last in self.last.items() if other != shade)
        since = [box for number, box in self.pale if number > at]
        if not since:
            return False
        left, bottom, right, top = _box(mark, placed)
        return any(left <= box[2] and box[0] <= right and bottom <= box[3] and box[1] <= top for box in since)


def _box(mark: Mark, placed: Placed) -> Box:
    left, bottom, right, top = mark.inked
    return left + placed.x, bottom + placed.y, right + placed.x, top + placed.y


class _Data:
    """Takes the path of a mark as path data, moved to its place on the page, with y down."""

    def __init__(self, left: float, foot: float) -> None:
        self.left, self.foot = left, foot
        self.steps: list[str] = []
        self.said: list[Text] = []

    def x(self, x: float) -> str:
        return _n(x + self.left)

    def y(self, y: float) -> str:
        return _n(self.foot - y)

    def move(self, x: float, y: float) -> None:
        self.steps.append(f"M{self.x(x)} {self.y(y)}")

    def line(self, x: float, y: float) -> None:
        self.steps.append(f"L{self.x(x)} {self.y(y)}")

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        # In quarters: an SVG arc is given by its ends, and near half a turn a rounding of 1e-5 mm there moves the
        # centre by 0.01 mm.
        size, turn = _n(r), 0 if sweep_deg > 0 else 1  # y down turns the sense over
        count = math.ceil(abs(sweep_deg) / 90)
        for step in range(1, count + 1):
            u, v = on_circle(x, y, r, start_deg + sweep_deg * step / count)
            self.steps.append(f"A{size} {size} 0 0 {turn} {self.x(u)} {self.y(v)}")

    def close(self) -> None:
        self.steps.append("Z")

    def words(self, text: Text) -> None:
        self.said.append(text)


def _n(number: float) -> str:
    """To 1e-5 mm, a hundredth of a micrometre: the file's resolution."""
    return f"{number:.5f}".rstrip("0").rstrip(".")


@cache
def _relative(character: str, *, bold: bool) -> str:
    """A letter's outline in relative steps from its origin, so that it may follow a move to anywhere."""
    done = []
    x = y = start_x = start_y = 0.0
    for step, figures in lettering.steps(character, bold=bold):
        match step:
            case "H":
                away, (x,) = [figures[0] - x], figures
            case "V":
                away, (y,) = [figures[0] - y], figures
            case "Z":
                away, x, y = [], start_x, start_y
            case _:
                away = [figure - (y if place % 2 else x) for place, figure in enumerate(figures)]
                x, y = figures[-2:]
        if step == "M":
            start_x, start_y = x, y
        done.append(step.lower() + " ".join(f"{figure:g}" for figure in away))
    return "".join(done)
