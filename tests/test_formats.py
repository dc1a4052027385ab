"""The table of formats: a new one is its file and a line, and what it is given is what it says it holds."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from types import ModuleType

import pytest
from click.testing import CliRunner

from layouts.cutting.board import Board, CutSheet
from layouts.cutting.laying import Blank, laid_out
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.errors import UnknownName
from layouts.files.seal import PLACE, is_ours
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render import formats_in, rendered, save
from layouts.render.formats import CUTTING, SOLIDS, TABLE, Format, Holds
from layouts.solids.body import Solid
from layouts.solids.layers import stacked, upright
from layouts.solids.outlines import rectangle


def sheet(role: Role) -> tuple[Page, ...]:
    def draw(field: Field) -> list[Drawing]:
        draft = Draft()
        draft.rectangle(0, 0, 20, 10, role)
        drawing = draft.drawing(20, 10, "plate")
        return [drawing, drawing]

    return compose(Content(title="Plates", facts=(), draw=draw), Setup(paper=find_paper("a5")))


BOARD = Board(width_mm=100, height_mm=60)


def cut(role: Role = Role.CUT) -> CutSheet:
    (drawing, *_) = [placed.drawing for placed in sheet(role)[0].placed if placed.drawing.name == "plate"]
    return laid_out([Blank(drawing=drawing)], BOARD, title="Plates")[0]


@pytest.fixture
def corners(monkeypatch: pytest.MonkeyPatch) -> None:
    """A format of sheets to cut, as one would be added."""

    def write_corners(sheet: CutSheet) -> bytes:
        return PLACE + repr([[piece.start for piece in stroke.shape] for stroke in sheet.strokes]).encode()  # type: ignore[union-attr]

    module = ModuleType("layouts.render.corners")
    module.write_corners = write_corners  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "layouts.render.corners", module)
    monkeypatch.setitem(CUTTING, "corners", Format(ending="corners", holds=Holds.CUT_SHEET, media="text/plain"))


@pytest.mark.usefixtures("corners")
def test_a_format_to_cut_is_given_each_sheet(tmp_path: Path) -> None:
    assert formats_in("corners,dxf", CUTTING) == ("corners", "dxf")
    made = rendered([cut(), cut()], tmp_path / "plates", ("corners", "svg"), table=CUTTING)
    assert [path.name for path, _ in made] == ["plates.corners", "plates-2.corners", "plates.svg", "plates-2.svg"]
    assert is_ours(made[0][1])  # its writer left a place for the seal
    assert not is_ours(made[0][1] + b" ")
    assert made[0][1][len(PLACE) :] == b"[[(5.001, 5.001), (25.001, 5.001), (25.001, 15.001), (5.001, 15.001)]]"


@pytest.mark.usefixtures("corners")
def test_a_format_that_the_table_lacks_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    with pytest.raises(UnknownName, match="no format is called 'pdf'; known: dxf"):
        rendered([cut()], tmp_path / "plates", ("svg", "pdf"), table=CUTTING)
    with pytest.raises(UnknownName, match="no format is called 'dxf'"):
        save(sheet(Role.CUT), tmp_path / "plates", ("svg", "dxf"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "form", [*TABLE.values(), *CUTTING.values(), *SOLIDS.values()], ids=lambda form: form.file or form.ending
)
def test_every_format_has_its_writer(form: Format) -> None:
    page = sheet(Role.CUT)[0]
    cube = Solid(title="cube", bodies=(stacked("cube", [upright(0, 10, rectangle(0, 0, 10, 10))]),))
    given = {Holds.ALL_PAGES: [page], Holds.ONE_PAGE: page, Holds.CUT_SHEET: cut(), Holds.SOLID: cube}[form.holds]
    assert b"Coilwright" in form.writer()(given) or form.ending == "txt"
    assert form in (TABLE.get(form.ending), CUTTING.get(form.ending), SOLIDS.get(form.ending))


def test_the_help_lists_every_format_and_every_paper() -> None:
    from jigs.cli import cli
    from layouts.pages.paper import papers

    words = CliRunner().invoke(cli, ["sheet", "ruler", "--help"]).output
    assert all(name in words for name in (*TABLE, *papers()))


def test_a_list_of_formats_loads_no_page() -> None:
    code = "import sys, layouts.render; print(*(name for name in sys.modules if name.startswith('layouts.')))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not [name for name in loaded if name.startswith(("layouts.pages", "layouts.drawing"))]
