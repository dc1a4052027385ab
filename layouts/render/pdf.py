"""Pages to one PDF file (ISO 32000), by reportlab.

Coordinates are written in millimetres under one matrix per page, which is the printer's correction followed by mm to
points; circles take enough Bezier arcs to be true within a fifth of a micrometre.
"""

from __future__ import annotations

import io
import math
import re
from codecs import BOM_UTF16_BE
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache, partial
from hashlib import md5
from itertools import groupby
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc, pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

from layouts.affine import Affine
from layouts.drawing import lettering
from layouts.drawing.marks import Drawing, Point, Text
from layouts.drawing.pens import PENS, Pen, Role
from layouts.errors import OutOfRange
from layouts.pages.page import Page, Placed
from layouts.render.compact import compact
from layouts.render.tags import ARTIFACT, END, Element, PageTags, Tree, cells_of, kind_of
from layouts.units import INCH_MM

POINTS_PER_MM = 72 / INCH_MM
_QUIET = (Role.LABEL, Role.AID)  # rules, leaders and boxes about words
_FONTS = {False: "Coilwright-Regular", True: "Coilwright-Bold"}


def write_pdf(pages: Sequence[Page]) -> bytes:
    """One PDF of all the pages, which must be of one size: viewers choose the tray by it."""
    if len({(page.paper.width_mm, page.paper.height_mm) for page in pages}) != 1:
        raise OutOfRange("a PDF of pages of several sizes, or without a page", "make one file for each paper")
    if _FONTS[False] not in pdfmetrics.getRegisteredFontNames():
        for bold, name in _FONTS.items():
            pdfmetrics.registerFont(TTFont(name, str(lettering.font_path(bold=bold))))
    out = io.BytesIO()
    # A fifth smaller and faster without the ASCII85 filter. The setting is reportlab's, for the whole process.
    before, rl_config.useA85 = rl_config.useA85, 0
    try:
        canvas = _canvas(out, pages[0])
        _Writer(canvas, pages).write()
        canvas.save()
    finally:
        rl_config.useA85 = before
    return compact(out.getvalue())


def _canvas(out: io.BytesIO, page: Page) -> Any:
    size = page.paper.width_mm * POINTS_PER_MM, page.paper.height_mm * POINTS_PER_MM
    first: Any = _FONTS[False]  # the stubs take it for a number
    canvas: Any = Canvas(out, pagesize=size, invariant=1, pdfVersion=(1, 7), initialFontName=first, lang="en")
    canvas._doc.info = _Facts()
    canvas._doc.signature = md5(usedforsecurity=False)  # the one it has was begun with a date of the environment
    canvas.setTitle(page.title)
    canvas.setCreator("Coilwright")
    # Dictionaries as they are written: as objects of reportlab they would be numbered, and take twice the bytes.
    canvas._doc.Catalog.PageLabels = "<</Nums[0<</S/D>>]>>"
    # Presets the print dialog to actual size; it binds neither viewer nor driver (ISO 32000, table 147).
    # The window shows the title instead of the name of the file.
    canvas._doc.Catalog.ViewerPreferences = (
        "<</PrintScaling/None/Enforce[/PrintScaling]/PickTrayByPDFSize true/DisplayDocTitle true>>"
    )
    return canvas


class _Facts(pdfdoc.PDFInfo):
    """What a file says of itself. reportlab's own would name an anonymous author and invent a date."""

    def format(self, document: Any) -> bytes:
        """Title, and what made the file."""
        facts = {"Title": self.title, "Creator": self.creator, "Producer": self.producer}
        entries = pdfdoc.PDFDictionary({name: pdfdoc.PDFString(words) for name, words in facts.items()})
        written: bytes = entries.format(document)
        return written


class _Writer:
    """Writes pages; a page or a drawing that comes more than once is written once, as a form."""

    def __init__(self, canvas: Any, pages: Sequence[Page]) -> None:
        self.canvas, self.pages = canvas, pages
        self.tree = Tree()
        distinct = {id(page): page for page in pages}.values()
        self.drawing_uses = Counter(id(placed.drawing) for page in distinct for placed in page.placed)
        self.forms: dict[int, str] = {}

    def write(self) -> None:
        title = None
        first: dict[int, int] = {}
        for number, page in enumerate(self.pages, 1):
            if page.title != title:
                title = page.title
                self._outline(title, f"page{number}", page.paper.height_mm * POINTS_PER_MM)
            tags = self.tree.page()
            # What is tagged may stand on one page only, so the form of a page serves those after the first.
            if first.setdefault(id(page), number) == number:
                self._body(page, tags)
            else:
                self.canvas.addLiteral(tags.figure(f"The same as page {first[id(page)]}"))
                self._form(page, page.paper.width_mm, page.paper.height_mm, partial(self._body, page, None))
                self.canvas.addLiteral(END)
            self.canvas.showPage()
            written = self.canvas._doc.Pages.pages[-1]
            written.__NoDefault__ = [*written.__NoDefault__, "StructParents"]  # the entries that it writes
            written.StructParents = number - 1
        self.canvas._doc.Catalog.StructTreeRoot = _Objects(self.tree, self.canvas._doc).tree
        self.canvas._doc.Catalog.MarkInfo = "<</Marked true>>"

    def _outline(self, title: str, key: str, top: float) -> None:
        """The outline names each sheet once, where it starts; a viewer keeps its zoom on the way there."""
        self.canvas.bookmarkPage(key, fit="XYZ", left=0, top=top, zoom=0)
        self.canvas.addOutlineEntry(title, key)

    def _body(self, page: Page, tags: PageTags | None) -> None:
        to_points = Affine(a=POINTS_PER_MM, d=POINTS_PER_MM).after(page.correction)
        matrix = " ".join(f"{number:.9f}" for number in to_points.coefficients)  # PDF has no exponents
        self.canvas.addLiteral(f"q {matrix} cm 2 J 0 j")
        for placed in page.placed:
            self._placed(placed, tags)
        self.canvas.addLiteral("Q")

    def _placed(self, placed: Placed, tags: PageTags | None) -> None:
        drawing = placed.drawing
        self.canvas.addLiteral(f"q 1 0 0 1 {placed.x:.4f} {placed.y:.4f} cm")
        if self.drawing_uses[id(drawing)] == 1:
            _draw(self.canvas, drawing, tags)
        else:
            self._shared(drawing, tags)
        self.canvas.addLiteral("Q")

    def _shared(self, drawing: Drawing, tags: PageTags | None) -> None:
        """A drawing as a form, which is heard as one figure: the title of a page stands outside of it."""
        titles = tuple(mark for mark in drawing.marks if isinstance(mark, Text) and kind_of(mark) == "H1")
        rest = replace(drawing, marks=tuple(mark for mark in drawing.marks if mark not in titles))
        if titles:
            _draw(self.canvas, replace(drawing, marks=titles), tags)
        if tags:
            words = [] if id(drawing) in self.forms else [mark.string for mark in rest.marks if isinstance(mark, Text)]
            self.canvas.addLiteral(tags.figure(", ".join([drawing.name, *words])))
        self._form(drawing, drawing.width_mm, drawing.height_mm, partial(_draw, self.canvas, rest, None))
        if tags:
            self.canvas.addLiteral(END)

    def _form(self, key: object, width: float, height: float, body: Callable[[], None]) -> None:
        name = self.forms.get(id(key))
        if name is None:
            name = self.forms[id(key)] = f"body{len(self.forms) + 1}"
            scale = POINTS_PER_MM if isinstance(key, Page) else 1.0
            self.canvas.beginForm(name, -1, -1, width * scale + 1, height * scale + 1)
            body()
            self.canvas.endForm()
        self.canvas.doForm(name)


class _Object(pdfdoc.PDFObject):
    """The tree, or an element of it, as an object of reportlab."""

    __RefOnly__ = 1  # it has a number of its own

    def __init__(self, content: Tree | Element, objects: _Objects) -> None:
        self.content, self.objects = content, objects

    def format(self, _: Any) -> bytes:
        """What stands in the file, once reportlab numbers its objects."""
        return self.content.written(self.objects)


class _Objects:
    """The objects of a file that the tree refers to."""

    def __init__(self, tree: Tree, document: Any) -> None:
        self.tree, self.document = _Object(tree, self), document
        self.elements: dict[int, _Object] = {}

    def element(self, element: Element) -> bytes:
        return self._reference(self.elements.setdefault(id(element), _Object(element, self)))

    def page(self, number: int) -> bytes:
        return self._reference(self.document.Pages.pages[number])

    def root(self) -> bytes:
        return self._reference(self.tree)

    def string(self, words: str) -> bytes:
        """Bytes as they are, where reportlab would write most of them as octal numbers."""
        try:
            data = words.encode("pdfdoc")
        except UnicodeEncodeError:
            data = BOM_UTF16_BE + words.encode("utf-16-be")
        return b"(%b)" % re.sub(rb"([\\()])", rb"\\\1", data).replace(b"\r", b"\\r")

    def _reference(self, thing: Any) -> bytes:
        written: bytes = self.document.Reference(thing).format(self.document)
        return written


def _draw(canvas: Any, drawing: Drawing, tags: PageTags | None) -> None:
    """Writes the marks as operators: reportlab's own calls for each would take longer than the drawing.

    Lines and shapes come first, in order, then the words: so each of them is one piece for who hears the page read.
    """
    ink, path = _Ink(), _Operators()
    code: list[str] = []
    said: list[tuple[int, Role, Text]] = []
    for at, mark in enumerate(drawing.marks):
        mark.trace(path)
        if path.steps:
            code += (*(ink.fill if mark.filled else ink.stroke)(mark.role), *path.steps, "f*" if mark.filled else "S")
        said += ((at, mark.role, text) for text in path.said)
        path.steps, path.said = [], []
    words = _words(canvas, drawing, said, tags)
    if code and tags:
        quiet = all(mark.role in _QUIET for mark in drawing.marks)
        code = [ARTIFACT if quiet else tags.figure(drawing.name), *code, END]
    canvas.addLiteral("\n".join(code + words))


def _words(canvas: Any, drawing: Drawing, said: list[tuple[int, Role, Text]], tags: PageTags | None) -> list[str]:
    """The words of a drawing as text objects, one for each part of it that has an element of its own."""
    ink, letters, cells = _Ink(), _Letters(canvas), cells_of(drawing)
    code: list[str] = []
    for part, found in groupby(said, lambda each: cells.get(each[0]) or kind_of(each[2])):
        shown = [operator for _, role, text in found for operator in (*ink.fill(role), letters.show(text))]
        code += [tags.words(drawing, part), "BT", *shown, "ET", END] if tags else ["BT", *shown, "ET"]
    return code


class _Operators:
    """Takes the path of a mark as operators. Words are kept apart: they may not stand within a path."""

    def __init__(self) -> None:
        self.steps: list[str] = []
        self.said: list[Text] = []

    def move(self, x: float, y: float) -> None:
        self.steps.append(f"{x:.4f} {y:.4f} m")

    def line(self, x: float, y: float) -> None:
        self.steps.append(f"{x:.4f} {y:.4f} l")

    def arc(self, x: float, y: float, r: float, start_deg: float, sweep_deg: float) -> None:
        count = max(1, math.ceil(arcs_for(r) * abs(sweep_deg) / 360))
        numbers = [f"{x + u * r:.4f} {y + v * r:.4f}" for u, v in _unit_arc(start_deg, sweep_deg, count)]
        self.steps += (" ".join((*numbers[i : i + 3], "c")) for i in range(1, len(numbers), 3))

    def close(self) -> None:
        self.steps.append("h")

    def words(self, text: Text) -> None:
        self.said.append(text)


class _Letters:
    """Shows words as `reportlab.pdfbase.ttfonts` does for a font that is embedded in part. Knows which is set."""

    def __init__(self, canvas: Any) -> None:
        self.canvas = canvas
        self.font = ""

    def show(self, text: Text) -> str:
        font: Any = pdfmetrics.getFont(_FONTS[text.bold])
        document = self.canvas._doc
        x, y = text.start
        shown = [f"{_turned(text.angle_deg)} {x:.4f} {y:.4f} Tm"]
        for subset, chunk in font.splitString(text.string, document):
            wanted = f"{font.getSubsetInternalName(subset, document)} {text.size_mm:g} Tf"
            if wanted != self.font:
                self.font = wanted
                shown.append(wanted)
            shown.append(f"({self.canvas._escape(chunk)}) Tj")
        return " ".join(shown)


@cache
def _turned(angle_deg: float) -> str:
    """The first four numbers of the matrix of a turn."""
    cos, sin = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    return " ".join(f"{number + 0.0:.7f}".rstrip("0").rstrip(".") for number in (cos, sin, -sin, cos))


class _Ink:
    """Knows the pen and the fill that are set, and gives the operators that change them."""

    def __init__(self) -> None:
        self.pen: Pen | None = None
        self.shade: float | None = None

    def stroke(self, role: Role) -> list[str]:
        pen = PENS[role]
        if pen is self.pen:
            return []
        self.pen = pen
        dash = " ".join(f"{length:g}" for length in pen.dash_mm)
        return [f"{pen.width_mm:g} w {pen.shade:g} G [{dash}] 0 d"]

    def fill(self, role: Role) -> list[str]:
        shade = PENS[role].shade
        if shade == self.shade:
            return []
        self.shade = shade
        return [f"{shade:g} g"]


def arcs_for(r_mm: float) -> int:
    """Bezier arcs for a circle of radius r that is true within 0.2 micrometres, at least eight.

    With tangent handles of 4/3 tan(a/4), n arcs stand out by 2.73e-4 r (4/n)^6 at the most (computed).
    """
    return max(8, math.ceil(4 * math.pow(2.73e-4 * r_mm / 0.0002, 1 / 6)))


@cache
def _unit_arc(start_deg: float, sweep_deg: float, count: int) -> tuple[Point, ...]:
    step = math.radians(sweep_deg) / count
    handle = 4 / 3 * math.tan(step / 4)
    points = [(math.cos(math.radians(start_deg)), math.sin(math.radians(start_deg)))]
    for i in range(count):
        (c0, s0), (c1, s1) = (
            (math.cos(angle), math.sin(angle)) for angle in (math.radians(start_deg) + step * j for j in (i, i + 1))
        )
        points += [(c0 - handle * s0, s0 + handle * c0), (c1 + handle * s1, s1 - handle * c1), (c1, s1)]
    return tuple(points)
