"""A new mark is one file: it goes through all that draws, measures or changes marks, and nothing else is told."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import pytest
from compare import fitted_circle
from pdf_reader import read_pdf
from svg_reader import read_svg

from layouts.affine import Affine
from layouts.drawing.clipping import clipped
from layouts.drawing.ink import compensated
from layouts.drawing.marks import Circle, Drawing, Line, Mark, Path, Text
from layouts.drawing.marks.outlines import outlines
from layouts.drawing.part import parts
from layouts.drawing.pens import Role
from layouts.drawing.turning import quarter_turned
from layouts.pages.page import Field, Page, Placed
from layouts.pages.paper import find_paper
from layouts.pages.tiles import tiled
from layouts.render.pdf import write_pdf
from layouts.render.png import write_png
from layouts.render.record import record
from layouts.render.svg import write_svg


@dataclass(frozen=True, slots=True, kw_only=True)
class Slot(Mark):
    """A level slot with round ends: its middle, the distance of the centres of its ends, and their radius; mm."""

    x: float
    y: float
    length: float
    r: float
    role: Role
    filled: bool = False

    def trace(self, path: Path) -> None:
        """Counter-clockwise from the lower left."""
        left, right = self.x - self.length / 2, self.x + self.length / 2
        path.move(left, self.y - self.r)
        path.line(right, self.y - self.r)
        path.arc(right, self.y, self.r, -90.0, 180.0)
        path.line(left, self.y + self.r)
        path.arc(left, self.y, self.r, 90.0, 180.0)
        path.close()

    def under(self, transform: Affine) -> Mark:
        """Moves alone; what is turned is a polygon."""
        if transform.coefficients[:4] == (1.0, 0.0, 0.0, 1.0):
            return replace(self, x=self.x + transform.e, y=self.y + transform.f)
        from layouts.drawing.marks import Polyline

        (points,) = outlines(self)
        return Polyline(points=points, role=self.role, closed=True, filled=self.filled).under(transform)

    def inset(self, by_mm: float) -> Slot:
        """A narrower slot about the same centres."""
        return replace(self, r=self.r - by_mm) if self.filled else self


SLOT = Slot(x=30.0, y=20.0, length=20.0, r=5.0, role=Role.CUT)
INK = Slot(x=30.0, y=20.0, length=20.0, r=5.0, role=Role.GAUGE, filled=True)


def page(*marks: Mark) -> Page:
    drawing = Drawing(marks=marks, width_mm=60.0, height_mm=40.0)
    return Page(paper=find_paper("a5"), placed=(Placed(drawing=drawing, x=20.0, y=30.0),), title="Slots")


def area(points: tuple[tuple[float, float], ...]) -> float:
    ends = (*points[1:], points[0])
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, ends, strict=True)) / 2


def test_its_box_is_that_of_its_path() -> None:
    assert SLOT.box == (15.0, 15.0, 45.0, 25.0)
    assert INK.inked == INK.box
    assert SLOT.inked == (14.875, 14.875, 45.125, 25.125)  # half a cut line of 0.25 mm


def test_its_outline_is_true_to_the_tolerance() -> None:
    (points,) = outlines(SLOT, 0.01)
    assert area(points) == pytest.approx(20 * 10 + math.pi * 25, abs=2 * math.pi * 5 * 0.01)
    assert max(abs(math.dist(p, (40.0, 20.0)) - 5) for p in points if p[0] > 40.001) < 1e-9


def test_it_is_moved_and_turned() -> None:
    assert SLOT.moved(1.0, 2.0) == replace(SLOT, x=31.0, y=22.0)
    (turned,) = quarter_turned(Drawing(marks=(SLOT,), width_mm=60, height_mm=40)).marks
    assert turned.box == pytest.approx((15.0, 15.0, 25.0, 45.0), abs=0.001)


def test_a_stroke_is_cut_into_lines_and_arcs() -> None:
    kept = clipped(SLOT, (30.0, -math.inf, math.inf, math.inf))
    assert [type(part).__name__ for part in kept] == ["Line", "Arc", "Line"]
    assert clipped(INK, (30.0, -math.inf, math.inf, math.inf))[0].box == pytest.approx((30, 15, 45, 25), abs=0.001)
    assert clipped(SLOT, (50.0, 0.0, 60.0, 60.0)) == ()


def test_its_ink_is_drawn_in() -> None:
    drawing = Drawing(marks=(SLOT, INK), width_mm=60, height_mm=40)
    assert compensated(drawing, 0.1).marks == (SLOT, replace(INK, r=4.9))


@pytest.mark.parametrize("mark", [SLOT, INK], ids=["stroke", "ink"])
def test_each_file_draws_it_where_it_is(mark: Slot) -> None:
    reads = read_pdf(write_pdf([page(mark)]))[0], read_svg(write_svg(page(mark)))
    for read in reads:
        (path,) = read.paths
        assert path.filled is mark.filled
        points = path.subpaths[0].points
        assert (points.real.min(), points.real.max()) == pytest.approx((35.0, 65.0), abs=0.0002)
        assert (points.imag.min(), points.imag.max()) == pytest.approx((45.0, 55.0), abs=0.0002)
        middle, r = fitted_circle(points[points.real > 60.001])
        assert (middle.real, middle.imag, r) == pytest.approx((60.0, 50.0, 5.0), abs=0.0002)
    assert write_png(page(mark)) != write_png(page())


def test_a_golden_shows_it() -> None:
    words = "slot cut x=30.000 y=20.000 length=20.000 r=5.000\n"
    assert record([SLOT]) == words


def test_it_is_split_over_tiles() -> None:
    long = Slot(x=150.0, y=20.0, length=250.0, r=5.0, role=Role.CUT)
    drawing = Drawing(marks=(long,), width_mm=300.0, height_mm=40.0)
    assert len(tiled(drawing, Field(180.0, 200.0))) == 2


def test_it_is_cut_out_as_a_part() -> None:
    (part,) = parts(Drawing(marks=(SLOT, Circle(x=30, y=20, r=2, role=Role.HOLE)), width_mm=60, height_mm=40))
    assert part.outline.area_mm2 == pytest.approx(20 * 10 + math.pi * 25)
    assert len(part.holes) == 1


@pytest.mark.parametrize("forgotten", ["filled", "trace", "under", "inset"])
def test_a_mark_that_forgets_something_cannot_be_made(forgotten: str) -> None:
    body = {name: getattr(Slot, name) for name in ("filled", "trace", "under", "inset") if name != forgotten} | {
        "__slots__": ()
    }
    with pytest.raises(TypeError, match=rf"abstract method '?{forgotten}"):
        type("Half", (Mark,), body)()


def test_words_cannot_be_mirrored_or_slanted() -> None:
    from layouts.errors import OutOfRange

    words = Text(x=1.0, y=2.0, string="abc", size_mm=3.0)
    assert words.under(Affine(a=0.0, b=2.0, c=-2.0, d=0.0)) == replace(
        words, x=-4.0, y=2.0, size_mm=6.0, angle_deg=90.0
    )
    for transform in (Affine(a=-1.0), Affine(c=0.2)):
        with pytest.raises(OutOfRange, match="mirrored or slanted"):
            words.under(transform)


def test_what_is_mirrored_or_sheared_stays_true() -> None:
    """Worked by hand: under x' = 2x a circle of radius 1 covers 2 pi; an arc mirrored runs the other way."""
    from layouts.drawing.marks import Annulus, Arc

    (ellipse,) = outlines(Circle(x=3.0, y=4.0, r=1.0, role=Role.CUT).under(Affine(a=2.0)))
    assert area(ellipse) == pytest.approx(2 * math.pi, abs=0.01)
    ring = Annulus(x=0.0, y=0.0, r_outer=2.0, r_inner=1.0, role=Role.GAUGE)
    (edge,) = outlines(ring.under(Affine(a=2.0)))
    assert area(edge) == pytest.approx(2 * math.pi * 3, abs=0.02)
    arc = Arc(x=1.0, y=0.0, r=2.0, start_deg=10.0, sweep_deg=60.0, role=Role.CUT)
    mirrored = arc.under(Affine(a=-1.0))
    assert isinstance(mirrored, Arc)
    for share in (0.0, 0.4, 1.0):
        x, y = arc.at(share)
        assert mirrored.at(share) == pytest.approx((-x, y))
    sheared = arc.under(Affine(c=0.5))
    assert sheared.box[3] == pytest.approx(arc.box[3], abs=0.001)
    assert Line(x1=0, y1=0, x2=1, y2=1, role=Role.CUT).under(Affine(c=0.5)).box == (0.0, 0.0, 1.5, 1.0)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("letter", "xIoW4<Ø½gж")
def test_the_outline_of_a_letter_has_the_box_and_the_area_of_the_font(letter: str, bold: bool) -> None:
    """Against fontTools' own pens, in mm at an em of 10 mm."""
    from fontTools.pens.areaPen import AreaPen
    from fontTools.pens.boundsPen import BoundsPen
    from ink import font

    glyphs = font(bold).getGlyphSet()
    glyph = glyphs[font(bold).getBestCmap()[ord(letter)]]
    bounds, areas = BoundsPen(glyphs), AreaPen(glyphs)
    glyph.draw(bounds)
    glyph.draw(areas)
    edges = outlines(Text(x=0.0, y=0.0, string=letter, size_mm=10.0, bold=bold), 0.0005)
    xs, ys = zip(*(point for edge in edges for point in edge), strict=True)
    assert (min(xs), min(ys), max(xs), max(ys)) == pytest.approx([side / 200 for side in bounds.bounds], abs=0.001)
    assert sum(map(area, edges)) == pytest.approx(areas.value / 200**2, abs=0.02)


def test_the_outline_of_words_is_that_of_their_letters() -> None:
    """An o has two edges; the capital I of this lettering is a bar."""
    o, bar = (Text(x=10.0, y=20.0, string=letter, size_mm=10.0) for letter in ("o", "I"))
    assert len(outlines(o)) == 2
    (edge,) = outlines(bar)
    xs, ys = zip(*edge, strict=True)
    assert min(ys) == pytest.approx(20.0, abs=0.01)
    assert max(ys) == pytest.approx(27.2, abs=0.1)  # capitals are 0.72 em high
    assert 10.0 < min(xs) < max(xs) < 10.0 + bar.width_mm
