"""The structure of a PDF, for whoever has it read aloud (ISO 32000, 14.7 and 14.8): headings, words, tables, figures.

Content stands between two operators, with a number; the tree says which numbers of which page an element holds, and
for each page a list says which element each number belongs to.
"""

from __future__ import annotations

from typing import Protocol

from layouts.drawing.marks import Drawing, Text
from layouts.drawing.words import HEADING, TITLE

ARTIFACT, END = "/Artifact BMC", "EMC"
Part = tuple[int, int] | str  # row and column of a table, or a kind of element


class Objects(Protocol):
    """What of a file the tree refers to, as the file writes it."""

    def element(self, element: Element) -> bytes:
        """A reference to the object that holds the element."""

    def page(self, number: int) -> bytes:
        """A reference to a page, counted from 0."""

    def root(self) -> bytes:
        """A reference to the root of the tree."""

    def string(self, words: str) -> bytes:
        """Words as a string of the file."""


class Element:
    """A node of the tree: its kind, what holds it, what it holds, and the words for what cannot be read."""

    def __init__(self, kind: str, parent: Element | None, alt: str = "", more: str = "") -> None:
        self.kind, self.parent, self.alt, self.more = kind, parent, alt, more
        self.page: int | None = None  # that its own content is on
        self.kids: list[Element | int] = []
        if parent:
            parent.kids.append(self)

    def written(self, objects: Objects) -> bytes:
        """As short as the format allows: a table has one for each cell."""
        parent = objects.element(self.parent) if self.parent else objects.root()
        found = [f"/S/{self.kind}{self.more}/P ".encode(), parent]
        if self.page is not None:
            found += [b"/Pg ", objects.page(self.page)]
        if self.alt:
            found += [b"/Alt", objects.string(self.alt)]
        if self.kids:
            kids = [b"%d" % kid if isinstance(kid, int) else objects.element(kid) for kid in self.kids]
            found.append(b"/K %b" % kids[0] if len(kids) == 1 else b"/K[%b]" % b" ".join(kids))
        return b"<<%b>>" % b"".join(found)


class Tree:
    """The whole tree, of one element: the document. Pages are added to it in order."""

    def __init__(self) -> None:
        self.document = Element("Document", None)
        self.pages: list[PageTags] = []

    def page(self) -> PageTags:
        """The tags of the next page."""
        self.pages.append(PageTags(self.document, len(self.pages)))
        return self.pages[-1]

    def written(self, objects: Objects) -> bytes:
        """Its root, with the list of each page under the number of the page."""
        lists = b"".join(
            b"%d[%b]" % (number, b" ".join(map(objects.element, page.elements)))
            for number, page in enumerate(self.pages)
        )
        top = objects.element(self.document)
        return b"<</Type/StructTreeRoot/K %b/ParentTree<</Nums[%b]>>>>" % (top, lists)


class PageTags:
    """Gives the operators that open the content of a page, and keeps the elements that it belongs to."""

    def __init__(self, document: Element, number: int) -> None:
        self.document, self.number = document, number
        self.elements: list[Element] = []  # by the number of their content
        self.has_title = False
        self.tables: dict[int, list[list[Element]]] = {}  # the cells of each drawing that is a table

    def opened(self, element: Element) -> str:
        """The operator before what belongs to the element."""
        element.page = self.number
        element.kids.append(len(self.elements))
        self.elements.append(element)
        return f"/{element.kind}<</MCID {len(self.elements) - 1}>>BDC"

    def figure(self, alt: str) -> str:
        """The operator before a drawing that these words stand for."""
        return self.opened(Element("Figure", self.document, alt))

    def words(self, drawing: Drawing, part: Part) -> str:
        """The operator before the words of a part of a drawing, a cell or a kind of element."""
        if isinstance(part, str):
            if part == "H1" and self.has_title:
                part = "H2"
            self.has_title |= part == "H1"
            return self.opened(Element(part, self.document))
        if id(drawing) not in self.tables:
            self.tables[id(drawing)] = self._table(drawing)
        row, column = part
        return self.opened(self.tables[id(drawing)][row][column])

    def _table(self, drawing: Drawing) -> list[list[Element]]:
        table = Element("Table", self.document)
        cells = []
        for number, row in enumerate(drawing.rows):
            line = Element("TR", table)
            kind, more = ("TD", "") if number else ("TH", "/A<</O/Table/Scope/Column>>")
            cells.append([Element(kind, line, more=more) for _ in row])
        return cells


def cells_of(drawing: Drawing) -> dict[int, tuple[int, int]]:
    """The cell that each mark of a table belongs to."""
    return {
        at: (number, column)
        for number, row in enumerate(drawing.rows)
        for column, cell in enumerate(row)
        for at in cell
    }


def kind_of(text: Text) -> str:
    """A heading or plain words, by the scale of lettering; what is set about a middle is a name in a picture."""
    if not text.bold or text.anchor != "start":
        return "P"
    return "H1" if text.size_mm >= TITLE else "H2" if text.size_mm >= HEADING else "P"
