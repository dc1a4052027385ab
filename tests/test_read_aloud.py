"""A PDF as a program hears it that reads it aloud, or walks its structure."""

from __future__ import annotations

import ctypes
import io
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import pikepdf
import pypdfium2
import pytest
from every_sheet import NASTY, pages, pdf
from pypdfium2 import raw
from usual_sheets import BLACK, case_of, every_sheet

from layouts.drawing.marks import Drawing, Text
from layouts.drawing.pens import Role
from layouts.drawing.table import Boxes, Table, TableColumn
from layouts.pages.page import Page, Placed
from layouts.pages.paper import find_paper
from layouts.pages.sheet import repeated
from layouts.render.pdf import write_pdf

# --------------------------------------------------------------------------------------------- a PDF read aloud


@dataclass
class Heard:
    """An element of a PDF as another library finds it: its kind, its own words, and what is below it."""

    kind: str
    alt: str
    words: list[str]
    below: list[Heard] = field(default_factory=list)

    def walk(self) -> Iterator[Heard]:
        yield self
        for element in self.below:
            yield from element.walk()


def heard(data: bytes) -> list[Heard]:
    """The tree of each page, by pdfium."""
    return [_heard_page(page) for page in pypdfium2.PdfDocument(data)]


def _heard_page(page: Any) -> Heard:
    text, words = page.get_textpage(), {}
    for at in range(raw.FPDFPage_CountObjects(page.raw)):
        thing = raw.FPDFPage_GetObject(page.raw, at)
        if raw.FPDFPageObj_GetType(thing) == raw.FPDF_PAGEOBJ_TEXT:
            said = (ctypes.c_ushort * raw.FPDFTextObj_GetText(thing, text.raw, None, 0))()
            raw.FPDFTextObj_GetText(thing, text.raw, said, len(said) * 2)
            found = " ".join(bytes(said).decode("utf-16-le").rstrip("\0").split())
            words.setdefault(raw.FPDFPageObj_GetMarkedContentID(thing), []).append(found)
    assert -1 not in words  # words that nobody would hear
    tree = raw.FPDF_StructTree_GetForPage(page.raw)
    assert raw.FPDF_StructTree_CountChildren(tree) == 1
    return _heard(raw.FPDF_StructTree_GetChildAtIndex(tree, 0), words)


def _heard(element: Any, words: dict[int, list[str]]) -> Heard:
    count = raw.FPDF_StructElement_CountChildren(element)
    children = [raw.FPDF_StructElement_GetChildAtIndex(element, at) for at in range(count)]
    numbers = [raw.FPDF_StructElement_GetMarkedContentIdAtIndex(element, at) for at in range(count)]
    return Heard(
        kind=_named(raw.FPDF_StructElement_GetType, element),
        alt=_named(raw.FPDF_StructElement_GetAltText, element),
        words=[said for number in numbers for said in words.get(number, [])],
        below=[_heard(child, words) for child in children if child],
    )


def _named(ask: Any, element: Any) -> str:
    room = ctypes.create_string_buffer(ask(element, None, 0))
    ask(element, room, len(room))
    return room.raw.decode("utf-16-le").rstrip("\0")


@every_sheet
def test_read_aloud_a_page_has_its_title_first_then_all_of_its_words(sheet: str) -> None:
    data = pdf(case_of(sheet))
    for page, top in zip(pages(case_of(sheet)), heard(data), strict=True):
        assert top.kind == "Document"
        assert [element.kind for element in top.walk()].count("H1") == 1
        assert page.title.startswith(" ".join(top.below[0].words))
        assert top.below[0].kind == "H1"
        said = [words for element in top.walk() for words in element.words]
        alts = " ".join(element.alt for element in top.walk() if element.kind == "Figure")
        for mark in page.marks():
            if isinstance(mark, Text):
                assert " ".join(mark.string.split()) in said or mark.string in alts


@every_sheet
def test_every_figure_is_named_and_every_drawing_heard_of(sheet: str) -> None:
    for page, top in zip(pages(case_of(sheet)), heard(pdf(case_of(sheet))), strict=True):
        named = [element.alt for element in top.walk() if element.kind == "Figure"]
        assert all(named)
        shown = {
            placed.drawing.name
            for placed in page.placed
            if any(mark.role not in (Role.LABEL, Role.AID) for mark in placed.drawing.marks)
        }
        assert shown <= {name.split(",")[0] for name in named} | set(named)


_PAINTS = {"S", "s", "f", "f*", "B", "B*", "b", "b*", "Tj", "TJ", "Do"}


def _check_structure(data: bytes) -> int:
    """What ISO 32000, 14.7.4, asks of a tagged file; the number of the pieces of content that are tagged."""
    file = pikepdf.Pdf.open(io.BytesIO(data))
    root = file.Root.StructTreeRoot
    assert file.Root.MarkInfo.Marked
    lists = list(root.ParentTree.Nums)
    parents = dict(zip(map(int, lists[::2]), lists[1::2], strict=True))
    below = list(_elements(root.K, root))
    reached = {element.objgen for element in below}
    assert len(reached) == len(below)
    pieces = 0
    for page in file.pages:
        found = list(_tagged(page))
        listed = parents[int(page.obj.StructParents)]
        assert sorted(found) == list(range(len(listed)))
        for number, element in enumerate(listed):
            kids = element.K if isinstance(element.K, pikepdf.Array) else [element.K]
            assert element.objgen in reached
            assert element.Pg.objgen == page.obj.objgen
            assert number in [int(kid) for kid in kids]
        pieces += len(found)
        for form in page.resources.get("/XObject", {}).values():
            assert b"BDC" not in form.read_bytes()  # what is drawn more than once holds no numbers of its own
    return pieces


def _elements(element: Any, parent: Any) -> Iterator[Any]:
    assert element.P.objgen == parent.objgen
    yield element
    kids = element.get("/K", [])
    for kid in kids if isinstance(kids, pikepdf.Array) else [kids]:
        if isinstance(kid, pikepdf.Dictionary):
            yield from _elements(kid, element)


def _tagged(page: Any) -> Iterator[int]:
    """The numbers of the content of a page. Refuses what is painted outside, and tags within one another."""
    inside = False
    for operands, operator in pikepdf.parse_content_stream(page):
        match str(operator):
            case "BDC" | "BMC":
                assert not inside
                inside = True
                if str(operator) == "BDC":
                    yield int(operands[1].MCID)
                else:
                    assert str(operands[0]) == "/Artifact"
            case "EMC":
                assert inside
                inside = False
            case paint if paint in _PAINTS:
                assert inside, paint
    assert not inside


@every_sheet
def test_all_that_is_painted_is_tagged_and_found_from_both_ends(sheet: str) -> None:
    assert _check_structure(pdf(case_of(sheet))) >= len(pages(case_of(sheet)))


def test_a_page_that_comes_again_is_heard_once_and_then_named() -> None:
    card, dowel = (pages(case_of(sheet)) for sheet in ("ring-card", "dowel"))
    data = write_pdf([*dowel, *repeated(card[:1], 3)])
    _check_structure(data)
    (again,) = heard(data)[-1].below
    assert (again.kind, again.alt) == ("Figure", f"The same as page {len(dowel) + 1}")


def test_a_frame_that_several_pages_share_leaves_each_its_title() -> None:
    (page,) = pages(case_of("ruler"))
    other = page._replace(placed=page.placed[:1])
    data = write_pdf([page, other])
    _check_structure(data)
    for top in heard(data):
        assert (top.below[0].kind, top.below[0].words) == ("H1", [page.title.split(":")[0]])
    first, second = ([each.alt for each in top.below if each.kind == "Figure"] for top in heard(data))
    assert "Print at 100 %" in first[0]
    assert second == ["the check bars"]


@pytest.mark.parametrize("name", ["(a \\ half)", NASTY, "½ → Ø ≤ 5 mm", "\u0d0d\u0a0a\u285c"])
def test_the_name_of_a_drawing_is_heard_as_it_is(name: str) -> None:
    drawing = Drawing(marks=(BLACK,), width_mm=100.0, height_mm=100.0, name=name)
    data = write_pdf([Page(paper=find_paper("a5"), placed=(Placed(drawing=drawing),), title="Order")])
    (top,) = heard(data)
    assert [each.alt for each in top.below] == [name]


def test_tables_are_heard_by_their_rows() -> None:
    table = Table(
        columns=(TableColumn("ring", 2), TableColumn("a title of two lines", 0.4, right=True), TableColumn("done", 1)),
        rows=(("chain ring", "400", Boxes(3)), ("a toggle ring whose name takes more than one line", "2", "")),
        width_mm=60.0,
        heading="Wind",
    )
    other = Table(columns=(TableColumn("wire", 1),), rows=(("copper",),), width_mm=60.0)
    placed = [Placed(drawing=each.drawing(), x=20.0, y=y) for each, y in ((table, 90.0), (other, 20.0))]
    data = write_pdf([Page(paper=find_paper("a5"), placed=tuple(placed), title="Order")])
    _check_structure(data)
    (top,) = heard(data)
    heading, *tables = top.below
    assert (heading.kind, heading.words) == ("H2", ["Wind"])
    assert [(found.kind, {row.kind for row in found.below}) for found in tables] == [("Table", {"TR"})] * 2
    cells = [[[(cell.kind, " ".join(cell.words)) for cell in row.below] for row in found.below] for found in tables]
    assert cells[0] == [
        [("TH", "ring"), ("TH", "a title of two lines"), ("TH", "done")],
        [("TD", "chain ring"), ("TD", "400")],  # pdfium passes over a cell without words
        [("TD", "a toggle ring whose name takes more than one line"), ("TD", "2")],
    ]
    assert cells[1] == [[("TH", "wire")], [("TD", "copper")]]
    file = pikepdf.Pdf.open(io.BytesIO(data))
    rows = list(file.Root.StructTreeRoot.K.K[1].K)
    assert [[str(cell.S) for cell in row.K] for row in rows] == [["/TH"] * 3, ["/TD"] * 3, ["/TD"] * 3]
