"""The table of formats: a new one is its file and a line, and what it is given is what it says it holds."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from types import ModuleType

import pytest
from click.testing import CliRunner

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.part import Part
from layouts.drawing.pens import Role
from layouts.errors import OutOfRange
from layouts.pages.page import Content, Field, Page, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.render import formats_in, save
from layouts.render.formats import TABLE, Format, Holds


def sheet(role: Role) -> tuple[Page, ...]:
    def draw(field: Field) -> list[Drawing]:
        draft = Draft()
        draft.rectangle(0, 0, 20, 10, role)
        drawing = draft.drawing(20, 10, "plate")
        return [drawing, drawing]

    return compose(Content(title="Plates", facts=(), draw=draw), Setup(paper=find_paper("a5")))


@pytest.fixture
def outlines(monkeypatch: pytest.MonkeyPatch) -> None:
    """A format of parts, as one would be added."""

    def write_corners(parts: Sequence[Part]) -> bytes:
        return b"Coilwright" + repr([part.outline for part in parts]).encode()

    module = ModuleType("layouts.render.corners")
    module.write_corners = write_corners  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "layouts.render.corners", module)
    monkeypatch.setitem(TABLE, "corners", Format(ending="corners", holds=Holds.PARTS))


@pytest.mark.usefixtures("outlines")
def test_a_format_of_parts_is_given_what_is_cut_out_each_drawing_once(tmp_path: Path) -> None:
    assert formats_in("corners,pdf") == ("corners", "pdf")
    made = save(sheet(Role.CUT), tmp_path / "plates", ("corners", "svg"))
    assert [path.name for path in made] == ["plates.corners", "plates.svg"]
    assert made[0].read_bytes() == b"Coilwright[((0, 0), (20, 0), (20, 10), (0, 10))]"


@pytest.mark.usefixtures("outlines")
def test_a_sheet_with_nothing_to_cut_out_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    with pytest.raises(OutOfRange, match="a sheet with nothing on it to cut out"):
        save(sheet(Role.LABEL), tmp_path / "plates", ("svg", "corners"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("form", TABLE.values(), ids=lambda form: form.ending)
def test_every_format_has_its_writer(form: Format) -> None:
    page = sheet(Role.CUT)[0]
    given = {Holds.ALL_PAGES: [page], Holds.ONE_PAGE: page, Holds.PARTS: []}[form.holds]
    assert b"Coilwright" in form.writer()(given)
    assert TABLE[form.ending] is form


def test_the_help_lists_every_format_and_every_paper() -> None:
    from jigs.cli import cli
    from layouts.pages.paper import papers

    words = CliRunner().invoke(cli, ["sheet", "ruler", "--help"]).output
    assert all(name in words for name in (*TABLE, *papers()))


def test_a_list_of_formats_loads_no_page() -> None:
    code = "import sys, layouts.render; print(*(name for name in sys.modules if name.startswith('layouts.')))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not [name for name in loaded if name.startswith(("layouts.pages", "layouts.drawing"))]
