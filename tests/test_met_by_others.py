"""Files as other programs meet them: what they say of themselves, what a reader aloud finds, what a checker says."""

from __future__ import annotations

import csv
import io
import re
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import cairosvg
import numpy as np
import pikepdf
import pypdf
import pytest
from every_sheet import NASTY, SHEETS, Case, pages, pdf, svgs
from PIL import Image
from solids import COARSE, EXAMPLES, SLICER, job_of, slicer_says
from usual_sheets import BLACK, SVG, case_of, every_sheet

from jigs.reports.as_csv import as_csv
from jigs.reports.report import (
    CHANGE,
    COUNT,
    INCHES,
    LENGTH,
    LENGTH_FINE,
    MASS,
    MONEY,
    PERCENT_CHANGE,
    RATIO,
    Column,
    Report,
)
from layouts.drawing.marks import Drawing, Line, Mark, Polyline, Text
from layouts.drawing.pens import Role
from layouts.pages.page import Page, Placed
from layouts.pages.paper import find_paper
from layouts.pages.sheet import repeated
from layouts.render.pdf import write_pdf
from layouts.render.stl import write_stl
from layouts.render.svg import style_sheet, write_svg
from layouts.render.three_mf import write_three_mf
from layouts.solids.body import Solid

INKSCAPE, OFFICE, QPDF = (shutil.which(name) for name in ("inkscape", "soffice", "qpdf"))
SLICER_HERE, CAD = shutil.which(SLICER), shutil.which("openscad")


@every_sheet
def test_a_pdf_checker_finds_nothing(sheet: str) -> None:
    assert pikepdf.Pdf.open(io.BytesIO(pdf(case_of(sheet)))).check_pdf_syntax() == []


def test_the_checker_can_find_something() -> None:
    """A stream whose packed content is spoilt."""
    data = bytearray(pdf(case_of(SHEETS[0])))
    at = data.index(b"stream", data.index(b"/FlateDecode")) + 20
    data[at : at + 40] = bytes(40)
    assert pikepdf.Pdf.open(io.BytesIO(bytes(data))).check_pdf_syntax() != []


@every_sheet
def test_a_file_made_small_holds_the_same_objects(sheet: str, monkeypatch: pytest.MonkeyPatch) -> None:
    small = pdf(case_of(sheet))
    monkeypatch.setattr("layouts.render.pdf.compact", lambda data: data)
    plain = write_pdf(pages(case_of(sheet)))
    assert len(small) < 0.97 * len(plain)
    whole, packed = (pikepdf.Pdf.open(io.BytesIO(data)) for data in (plain, small))
    for there in whole.objects:
        here = packed.get_object(there.objgen)
        assert here.unparse(resolved=True) == there.unparse(resolved=True)
        if isinstance(there, pikepdf.Stream):
            assert here.read_raw_bytes() == there.read_raw_bytes()
    assert packed.trailer.Root.objgen == whole.trailer.Root.objgen


@every_sheet
def test_a_pdf_says_what_is_so_and_nothing_else(sheet: str) -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf(case_of(sheet))), strict=True)
    facts = dict(reader.metadata or {})
    assert set(facts) == {"/Title", "/Creator", "/Producer"}
    assert facts["/Title"] == pages(case_of(sheet))[0].title
    root = reader.trailer["/Root"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert reader.page_labels == [str(number) for number in range(1, len(reader.pages) + 1)]


def test_the_outline_names_every_sheet_where_it_starts() -> None:
    card, dowel = (pages(case_of(sheet)) for sheet in ("ring-card", "dowel"))
    reader = pypdf.PdfReader(io.BytesIO(write_pdf([*repeated(card, 3), *dowel])))
    entries = [(entry.title, reader.get_destination_page_number(entry)) for entry in reader.outline]
    assert entries == [(card[0].title, 0), (dowel[0].title, 3 * len(card))]


@every_sheet
def test_a_screen_reader_finds_the_sheet_and_its_words(sheet: str) -> None:
    for page, data in zip(pages(case_of(sheet)), svgs(case_of(sheet)), strict=True):
        root = ElementTree.fromstring(data)
        assert root.get("role") == "graphics-document document"
        assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en"
        title, description = root[0], root[1]
        assert (title.tag, title.text) == (f"{SVG}title", page.title)
        assert all(placed.drawing.name in (description.text or "") for placed in page.placed)
        said = [element.get("aria-label") for element in root.iter() if element.get("role") == "img"]
        assert said == [mark.string for mark in page.marks() if isinstance(mark, Text)]
        assert len(root.findall(f".//{SVG}title")) == 1


@pytest.mark.skipif(QPDF is None, reason="qpdf is not on this machine")
@every_sheet
def test_qpdf_finds_nothing(sheet: str, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf(case_of(sheet)))
    done = subprocess.run([str(QPDF), "--check", path], capture_output=True, text=True)
    assert (done.returncode, done.stderr) == (0, "")


# ------------------------------------------------------------------------------------------- SVG and spreadsheets


@pytest.mark.skipif(INKSCAPE is None, reason="Inkscape is not on this machine")
@every_sheet
def test_inkscape_says_of_a_sheet_what_it_says_of_any_file(sheet: str) -> None:
    """It may complain of the machine it runs on, so it is asked about one line as well."""
    line = b'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M1 1L9 9"/></svg>'
    assert all(_inkscape_says(data) == _inkscape_says(line) for data in svgs(case_of(sheet)))


@cache
def _inkscape_says(data: bytes) -> list[str]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "one.svg"
        path.write_bytes(data)
        command = [str(INKSCAPE), "--export-type=png", "--export-dpi=20", path]
        done = subprocess.run(command, capture_output=True, text=True, env={"HOME": folder})
        assert done.returncode == 0
        assert path.with_suffix(".png").stat().st_size
        return [words.rpartition("**: ")[2].partition(": ")[2] for words in done.stderr.splitlines()]


@pytest.mark.skipif(OFFICE is None, reason="LibreOffice (soffice) is not on this machine")
@pytest.mark.parametrize("language", [1031, 1036], ids=["German", "French"])
def test_a_spreadsheet_of_another_language_reads_every_number_as_it_is_meant(language: int, tmp_path: Path) -> None:
    kinds = (COUNT, LENGTH, LENGTH_FINE, CHANGE, INCHES, MASS, MONEY, PERCENT_CHANGE, RATIO)
    columns = (Column("name", "name"), *(Column(f"k{number}", "", kind) for number, kind in enumerate(kinds)))
    rows = [
        ("a ring", 1234567, 1234.5, 0.0625, -1.25, 0.5, 1e-7, 1.2, -3.5, 4.125),
        ("1.5 mm", 0, 1e6 + 0.25, 3.12, 10.5, 12.0, 99999.75, 3.4, 1.01, 2.5),
    ]
    given = tmp_path / "plan.csv"
    given.write_text(as_csv(Report(key="t", columns=columns, rows=tuple(rows)), "comma"))
    # Semicolons, double quotes, UTF-8, from the first line on, in the language.
    command = [str(OFFICE), f"-env:UserInstallation={(tmp_path / 'user').as_uri()}", "--headless"]
    command += [f"--infilter=Text - txt - csv (StarCalc):59,34,76,1,,{language},false,true", "--convert-to", "fods"]
    subprocess.run([*command, "--outdir", tmp_path, given], check=True, capture_output=True)
    office = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
    table = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
    root = ElementTree.parse(tmp_path / "plan.fods").getroot()
    read = [
        [(cell.get(f"{office}value-type"), cell.get(f"{office}value")) for cell in row.iter(f"{table}table-cell")]
        for row in root.iter(f"{table}table-row")
    ]
    written = list(csv.reader(given.open(), delimiter=";"))
    for number, row in enumerate(rows, 1):
        (kind, _), *cells = read[number][: 1 + len(kinds)]
        assert kind == "string"
        assert {kind for kind, _ in cells} == {"float"}
        found = [float(value) for _, value in cells]
        assert found == [float(words.replace(",", ".")) for words in written[number][1:]]
        assert found == pytest.approx(row[1:], abs=0.05)


def small(*marks: Mark) -> Page:
    drawing = Drawing(marks=marks, width_mm=100.0, height_mm=100.0)
    return Page(paper=find_paper("a5"), placed=(Placed(drawing=drawing, x=20.0, y=50.0),), title="Order")


def drawn(data: bytes, dpi: int = 300) -> np.ndarray:
    picture = cairosvg.svg2png(bytestring=data, output_width=round(148 / 25.4 * dpi), background_color="white")
    return np.asarray(Image.open(io.BytesIO(picture)).convert("L")).astype(int)


GREY = Polyline(points=((45, 20), (55, 20), (55, 80), (45, 80)), role=Role.AID, closed=True, filled=True)
THIN = Line(x1=50, y1=10, x2=50, y2=90, role=Role.AID)
OTHER = Line(x1=10, y1=60, x2=90, y2=60, role=Role.CUT)


@pytest.mark.parametrize(
    ("marks", "black"),
    [
        ((BLACK, GREY), False),
        ((GREY, BLACK), True),
        ((OTHER, GREY, BLACK), True),
        ((BLACK, GREY, OTHER), False),
        ((BLACK, THIN, GREY), False),
    ],
)
def test_what_is_drawn_later_lies_on_top(marks: tuple[Mark, ...], black: bool) -> None:
    """At (50, 50) of the drawing: 70 mm from the left and 110 mm from the top of A5."""
    picture = drawn(write_svg(small(*marks)))
    px = 300 / 25.4
    shade = picture[round(110 * px) - 1 : round(110 * px) + 2, round(71 * px)].min()
    assert bool(shade < 40) is black


def test_strokes_of_a_role_are_one_path_where_nobody_sees_it() -> None:
    apart = Line(x1=10, y1=70, x2=40, y2=70, role=Role.CUT)
    classes = [path.get("class") for path in _paths(write_svg(small(BLACK, GREY, apart)))]
    assert classes == ["cut", "aid-ink"]
    classes = [path.get("class") for path in _paths(write_svg(small(BLACK, GREY, OTHER)))]
    assert classes == ["cut", "aid-ink", "cut"]


def _paths(data: bytes) -> list[ElementTree.Element]:
    return [path for path in ElementTree.fromstring(data).iter(f"{SVG}path") if path.get("class")]


def test_the_page_of_the_web_shows_the_same() -> None:
    """Words as one path a line, with the rules that the page of the web gives: pixel for pixel but for smoothing."""
    (page,) = pages(Case(sheet="frame", variant="discs", paper="a5"))
    embedded = write_svg(page, embedded=True)
    assert b"<use" not in embedded
    assert b"<style" not in embedded
    assert NASTY in [element.get("aria-label") for element in ElementTree.fromstring(embedded).iter()]
    ruled = embedded.replace(b"<defs", f"<style>{style_sheet()}</style><defs".encode(), 1)
    assert np.abs(drawn(ruled) - drawn(write_svg(page))).max() <= 40
    assert np.abs(drawn(embedded) - drawn(write_svg(page))).max() > 40  # the comparison can fail


# --- solids


@pytest.fixture(scope="module")
def solid_files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Solid, Path]]:
    """Every example of every solid in its 3MF file, by the file's name."""
    folder, found = tmp_path_factory.mktemp("solids"), {}
    for name, number in EXAMPLES:
        solid, path = job_of(name, number).solid(), folder / f"{name}-{number}.3mf"
        path.write_bytes(write_three_mf(solid))
        found[path.name] = solid, path
    return found


@pytest.mark.skipif(SLICER_HERE is None, reason=f"{SLICER} is not on this machine")
def test_a_slicer_reads_every_solid_as_closed_and_of_its_size(solid_files: dict[str, tuple[Solid, Path]]) -> None:
    said = slicer_says("--info", *(str(path) for _, path in solid_files.values()))
    read = dict[str, list[dict[str, str]]]()
    for name, facts in re.findall(r"^\[(.+?\.3mf)\]\n((?:\w+ = .*\n)+)", said, re.MULTILINE):
        pairs = re.findall(r"(\w+) = +(.*)", facts)
        read.setdefault(Path(name).name, []).append({key: value.strip() for key, value in pairs})
    assert read.keys() == solid_files.keys()
    for name, (solid, _) in solid_files.items():
        assert len(read[name]) == len(solid.bodies)
        for body, facts in zip(solid.bodies, read[name], strict=True):
            assert (facts["manifold"], facts["number_of_parts"]) == ("yes", "1")
            assert int(facts["number_of_facets"]) == len(body.triangles)
            assert float(facts["volume"]) == pytest.approx(body.volume_mm3, rel=1e-5)
            (x0, y0, z0), (x1, y1, z1) = body.box
            size = tuple(float(facts[f"size_{way}"]) for way in "xyz")
            assert size == pytest.approx((x1 - x0, y1 - y0, z1 - z0), abs=2e-5)


@pytest.mark.skipif(SLICER_HERE is None, reason=f"{SLICER} is not on this machine")
@pytest.mark.parametrize("name", ["plug-1.3mf", "hole-plate-1.3mf", "coil-groove-0.3mf"])
def test_a_slicer_makes_a_path_of_it_as_it_lies(
    name: str, solid_files: dict[str, tuple[Solid, Path]], tmp_path: Path
) -> None:
    """Coarsely, to be quick; all of them were sliced by hand in layers of 0.2 mm (FIGURES.md)."""
    solid, path = solid_files[name]
    out = tmp_path / "out.gcode"
    said = slicer_says("--export-gcode", *COARSE, "--output", str(out), str(path))
    assert "warning" not in said.casefold()
    assert "error" not in said.casefold()
    path_made = out.read_text()
    heights = [float(z) for z in re.findall(r"^;Z:([\d.]+)", path_made, re.MULTILINE)]
    assert max(heights) == pytest.approx(solid.size_mm[2], abs=0.4)
    assert path_made.count("G1 X") > 50


@pytest.mark.skipif(CAD is None, reason="OpenSCAD is not on this machine")
def test_a_cad_program_joins_it_exactly_with_a_body_of_its_own(tmp_path: Path) -> None:
    """It works in exact numbers, and refuses a skin that is open or runs through itself."""
    (tmp_path / "a.stl").write_bytes(write_stl(job_of("coil-groove", 0).solid()))
    (tmp_path / "a.scad").write_text('union(){import("a.stl"); translate([-50, -50, 0]) cube(1);}')
    command = [str(CAD), "-o", str(tmp_path / "a.off"), str(tmp_path / "a.scad")]
    said = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True).stderr
    assert "WARNING" not in said
    assert re.search(r"Simple: +yes", said)
    assert re.search(r"Volumes: +3\b", said)  # both bodies, and the space around them
