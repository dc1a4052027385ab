"""A page to one SVG file: millimetres, one user unit each. The only svgwrite, and the only flip of y.

Words are drawn as outlines, with the words themselves in the label of their group: the page looks the same with any
fonts, or none.
"""

from __future__ import annotations

import io
import math
from typing import Any

import svgwrite

from layouts.affine import IDENTITY, Affine
from layouts.drawing import lettering
from layouts.drawing.marks import Annulus, Arc, Circle, Line, Mark, Polyline, Text
from layouts.drawing.pens import PENS, Role
from layouts.pages.page import Page


def write_svg(page: Page) -> bytes:
    """One SVG 1.1 of the page, `width` and `height` in mm with a viewBox in the same numbers."""
    return _Writer(page).write()


class _Writer:
    def __init__(self, page: Page) -> None:
        self.page = page
        self.height = page.paper.height_mm
        size = f"{page.paper.width_mm:g}mm", f"{self.height:g}mm"
        view = f"0 0 {page.paper.width_mm:g} {self.height:g}"
        # debug=False: marks have checked their numbers and words already.
        self.drawing: Any = svgwrite.Drawing(size=size, viewBox=view, debug=False)
        self.glyphs: set[str] = set()

    def write(self) -> bytes:
        self.drawing.set_desc(title=self.page.title, desc="Made by Coilwright, true scale: 1 user unit is 1 mm")
        self.drawing.defs.add(self.drawing.style(_style(self.page)))
        body = self.drawing.add(self._body())
        for mark in self.page.marks():
            body.add(self._element(mark))
        out = io.StringIO()
        self.drawing.write(out)
        return out.getvalue().encode("utf-8")

    def _body(self) -> Any:
        if self.page.correction == IDENTITY:
            return self.drawing.g()
        flip = Affine(d=-1, f=self.height)
        matrix = flip.after(self.page.correction).after(flip).coefficients
        return self.drawing.g(transform=f"matrix({' '.join(f'{number:.9g}' for number in matrix)})")

    def _element(self, mark: Mark) -> Any:
        if isinstance(mark, Text):
            return self._words(mark)
        filled = isinstance(mark, Annulus) or getattr(mark, "filled", False)
        return self._shape(mark, {"class_": f"{mark.role}-ink" if filled else str(mark.role)})

    def _shape(self, mark: Line | Polyline | Circle | Annulus | Arc, look: dict[str, str]) -> Any:
        draw = self.drawing
        if isinstance(mark, Line):
            return draw.line(self._at(mark.x1, mark.y1), self._at(mark.x2, mark.y2), **look)
        if isinstance(mark, Circle):
            return draw.circle(self._at(mark.x, mark.y), _round(mark.r), **look)
        if isinstance(mark, Polyline):
            points = [self._at(x, y) for x, y in mark.points]
            return (draw.polygon if mark.closed else draw.polyline)(points, **look)
        return draw.path(self._ring(mark) if isinstance(mark, Annulus) else self._arc(mark), **look)

    def _at(self, x: float, y: float) -> tuple[float, float]:
        return _round(x), _round(self.height - y)

    def _ring(self, mark: Annulus) -> str:
        edges = (
            Arc(x=mark.x, y=mark.y, r=r, start_deg=0, sweep_deg=360, role=mark.role)
            for r in (mark.r_outer, mark.r_inner)
        )
        return " ".join(f"{self._arc(edge)}Z" for edge in edges)

    def _arc(self, mark: Arc) -> str:
        # In quarters: an SVG arc is given by its ends, and near half a turn a rounding of 1e-5 mm there moves the
        # centre by 0.01 mm.
        r = _round(mark.r)
        turn = 0 if mark.sweep_deg > 0 else 1  # y down turns the sense over
        count = math.ceil(abs(mark.sweep_deg) / 90)
        (x0, y0), *ends = (self._at(*mark.at(step / count)) for step in range(count + 1))
        return f"M{x0} {y0}" + "".join(f"A{r} {r} 0 0 {turn} {x} {y}" for x, y in ends)

    def _words(self, mark: Text) -> Any:
        x, y = self._at(*mark.start)
        turn = f" rotate({_round(-mark.angle_deg)})" if mark.angle_deg else ""
        scale = mark.size_mm / lettering.UNITS_PER_EM
        group = self.drawing.g(class_=f"{mark.role}-ink", transform=f"translate({x} {y}){turn} scale({scale:.6g})")
        group["aria-label"] = mark.string
        for character, advance in lettering.advances(mark.string, bold=mark.bold):
            if character.strip():
                group.add(self.drawing.use(f"#{self._glyph(character, bold=mark.bold)}", insert=(advance, 0)))
        return group

    def _glyph(self, character: str, *, bold: bool) -> str:
        name = f"{'b' if bold else 'r'}{ord(character):x}"
        if name not in self.glyphs:
            self.glyphs.add(name)
            self.drawing.defs.add(self.drawing.path(lettering.outline(character, bold=bold), id=name))
        return name


def _round(number: float) -> float:
    """To 1e-5 mm, a hundredth of a micrometre: the file's resolution."""
    return round(number, 5)


def _style(page: Page) -> str:
    rules = [f"@page{{size:{page.paper.width_mm:g}mm {page.paper.height_mm:g}mm;margin:0}}"]
    rules += [_rule(role) for role in Role]
    return "\n".join(rules)


def _rule(role: Role) -> str:
    pen = PENS[role]
    level = round(255 * pen.shade)
    shade = f"#{level:02x}{level:02x}{level:02x}"
    dash = f";stroke-dasharray:{' '.join(f'{length:g}' for length in pen.dash_mm)}" if pen.dash_mm else ""
    return (
        f".{role}{{fill:none;stroke:{shade};stroke-width:{pen.width_mm:g};stroke-linecap:butt{dash}}}\n"
        f".{role}-ink{{fill:{shade};fill-rule:evenodd;stroke:none}}"
    )
