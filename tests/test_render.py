"""Files: the same bytes on any day, safe words, previews that say so, and nothing lost or half written."""

from __future__ import annotations

import builtins
import io
import os
import re
import struct
import subprocess
import sys
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pypdf
import pytest
from every_sheet import NASTY, SHEETS, Case, pages, pdf, svgs
from pdf_reader import read_pdf
from test_ink import _text

from layouts.drawing.marks import Circle, Draft, Line, Mark
from layouts.drawing.pens import Role
from layouts.errors import MissingLibrary, OutOfRange, Unprintable
from layouts.pages.page import Content, Page, Placed, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose, repeated
from layouts.render import FORMATS, save
from layouts.render.pdf import arcs_for, write_pdf
from layouts.render.png import PREVIEW_DPI, write_png
from layouts.render.record import record
from layouts.render.svg import write_svg

ROOT = Path(__file__).parent.parent
PLAIN = Case(sheet="frame", variant="discs", paper="a5")
# -------------------------------------------------------------------------------------------------- the same bytes

_MAKER = """
import hashlib, sys, time
if sys.argv[1] != "now":
    then = float(sys.argv[1])
    time.time = lambda: then
    time.time_ns = lambda: int(then * 1e9)
    real = time.localtime, time.gmtime, time.strftime
    time.localtime = lambda at=None: real[0](then if at is None else at)
    time.gmtime = lambda at=None: real[1](then if at is None else at)
    time.strftime = lambda form, at=None: real[2](form, at or real[0](then))
from every_sheet import SHEETS, Case, pages, pdf, svgs
from layouts.render.png import write_png
for sheet in SHEETS:
    case = Case(sheet=sheet, variant="nasty", paper="a4")
    print(sheet, hashlib.sha256(pdf(case) + b"".join(svgs(case))).hexdigest())
print("preview", hashlib.sha256(write_png(pages(Case(sheet="dowel", variant="usual", paper="a5"))[0])).hexdigest())
"""


def _made(day: str, folder: Path, **environment: str) -> str:
    path = os.pathsep.join((str(ROOT), str(ROOT / "tests")))
    done = subprocess.run(
        [sys.executable, "-c", _MAKER, day],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": path, **environment},
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def test_the_same_sheets_have_the_same_bytes_on_any_day_and_machine(tmp_path: Path) -> None:
    now = _made("now", ROOT, PYTHONHASHSEED="1", TZ="UTC")
    later = _made(
        "4102444800",  # the year 2100
        tmp_path,
        PYTHONHASHSEED="77",
        TZ="Pacific/Kiritimati",
        LANG="de_DE.UTF-8",
        LC_ALL="C",
        SOURCE_DATE_EPOCH="86400",
        HOME=str(tmp_path),
        USER="someone",
        HOSTNAME="elsewhere",
    )
    assert now == later
    assert len(now.splitlines()) == len(SHEETS) + 1


def test_the_same_command_twice_writes_the_same_bytes(tmp_path: Path) -> None:
    from click.testing import CliRunner

    from jigs.cli import cli

    words = [
        "sheet",
        "dowel",
        "--diameter",
        "7.9 mm",
        "--wire",
        "16 AWG",
        "--format",
        "pdf,svg,png",
        "--printer",
        "none",
    ]
    for name in ("one", "two"):
        result = CliRunner().invoke(cli, [*words, "--out", f"{tmp_path / name}/", "--bench", str(tmp_path / "bench")])
        assert result.exit_code == 0, result.output
    made = {path.name: path.read_bytes() for path in (tmp_path / "one").iterdir()}
    assert made == {path.name: path.read_bytes() for path in (tmp_path / "two").iterdir()}
    assert {Path(name).suffix for name in made} == {".pdf", ".svg", ".png"}


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_sheet_holds_no_date_but_the_one_it_was_given(sheet: str) -> None:
    case = Case(sheet=sheet, variant="usual", paper="a4")
    facts = pypdf.PdfReader(io.BytesIO(pdf(case))).metadata
    assert facts is not None
    assert not {"/CreationDate", "/ModDate"} & set(facts)
    assert b"<!--" not in svgs(case)[0]


# ----------------------------------------------------------------------------------------------------- safe words


def test_mark_up_in_words_stays_words_in_the_svg() -> None:
    root = ElementTree.fromstring(svgs(PLAIN)[0])
    tags = {element.tag.rpartition("}")[2] for element in root.iter()}
    assert tags <= {
        "svg",
        "title",
        "desc",
        "defs",
        "style",
        "g",
        "line",
        "polyline",
        "polygon",
        "circle",
        "path",
        "use",
    }
    labels = [element.get("aria-label") for element in root.iter() if element.get("aria-label")]
    assert NASTY in labels
    title = root.find("{http://www.w3.org/2000/svg}title")
    assert title is not None
    assert NASTY in (title.text or "")


@pytest.mark.parametrize("words", ["a\0b", "a\x1cb", "a\nb", "\ufffe", "\ud800", "💍"])
@pytest.mark.parametrize("field", ["title", "date"])
def test_words_that_xml_or_the_font_lack_are_refused_before_a_file_is_made(field: str, words: str) -> None:
    with pytest.raises(Unprintable, match="a character that the lettering lacks"):
        Setup(paper=find_paper("a4"), **{field: words})


def test_so_are_those_of_a_sheets_own_title_facts_and_notes() -> None:
    setup = Setup(paper=find_paper("a4"))
    for given in ({"title": "a\0"}, {"facts": (("a\0", "b"),)}, {"facts": (("a", "b\x1c"),)}, {"notes": ("a\0b",)}):
        content = Content(**{"title": "T", "facts": (), "draw": lambda field: [], **given})
        with pytest.raises((Unprintable, KeyError)):
            compose(content, setup)


# ------------------------------------------------------------------------------------------------- pages and forms


def test_a_page_that_repeats_is_written_once() -> None:
    (page,) = pages(PLAIN)
    one, hundred = len(write_pdf([page])), len(write_pdf(repeated([page], 100)))
    assert hundred < one + 100 * 600


def test_a_drawing_that_repeats_is_written_once() -> None:
    (page,) = pages(PLAIN)
    reader = pypdf.PdfReader(io.BytesIO(write_pdf([page])))
    forms = reader.pages[0]["/Resources"]["/XObject"]
    assert len(forms) == len({id(placed.drawing) for placed in page.placed}) - 1
    assert len(page.placed) == 1 + 9 * len(forms)


def test_a_repeated_page_reads_like_the_page() -> None:
    (page,) = pages(PLAIN)
    (alone,) = read_pdf(write_pdf([page]))
    for read in read_pdf(write_pdf(repeated([page], 3))):
        assert [words.string for words in read.words] == [words.string for words in alone.words]
        assert len(read.paths) == len(alone.paths)


def test_a_pdf_of_two_paper_sizes_is_refused() -> None:
    other = Case(sheet="frame", variant="discs", paper="a4")
    with pytest.raises(OutOfRange, match="pages of several sizes, or without a page; make one file for each paper"):
        write_pdf([*pages(PLAIN), *pages(other)])
    with pytest.raises(OutOfRange, match="or without a page"):
        write_pdf([])


@pytest.mark.parametrize("r", [0.05, 1, 10, 25, 100, 400])
def test_a_circle_has_the_arcs_to_be_true(r: float) -> None:
    """Off by 2.73e-4 r (4/n)^6 (measured of reportlab: 2.7 micrometres for 4 arcs at r = 10)."""
    count = arcs_for(r)
    assert count >= 8
    assert 2.73e-4 * r * (4 / count) ** 6 <= 0.0002


# ------------------------------------------------------------------------------------------------------- previews


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """The chunks of a PNG file with their checksums tried (ISO/IEC 15948)."""
    assert data.startswith(b"\x89PNG\r\n\x1a\n")
    at = 8
    while at < len(data):
        (length,) = struct.unpack_from(">I", data, at)
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack_from(">I", data, at + 8 + length)[0] == zlib.crc32(kind + body)
        yield kind, body
        at += 12 + length


@pytest.mark.parametrize("dpi", [PREVIEW_DPI, 96])
def test_a_preview_carries_its_resolution(dpi: int) -> None:
    chunks = dict(_chunks(write_png(pages(PLAIN)[0], dpi)))
    across, along, unit = struct.unpack(">IIB", chunks[b"pHYs"])
    assert unit == 1  # per metre
    assert across == along == pytest.approx(dpi / 0.0254, abs=0.6)
    wide, high = struct.unpack_from(">II", chunks[b"IHDR"])
    assert (wide, high) == pytest.approx((148 * dpi / 25.4, 210 * dpi / 25.4), abs=1)


def test_a_preview_is_the_svg_of_the_page_as_another_program_draws_it() -> None:
    import cairosvg
    import numpy as np
    from PIL import Image

    for page in (pages(PLAIN)[0], pages(Case(sheet="dowel", variant="usual", paper="a5"))[0]):
        drawn = Image.open(io.BytesIO(write_png(page))).convert("L")
        svg = cairosvg.svg2png(bytestring=write_svg(page), output_width=drawn.width, background_color="white")
        svg_drawn = Image.open(io.BytesIO(svg)).convert("L").resize(drawn.size)
        below = round(7 * PREVIEW_DPI / 25.4)  # the line that says that it is a preview
        off = np.abs(np.asarray(drawn, int) - np.asarray(svg_drawn, int))[below:]
        assert off.mean() < 1.5
        assert (off > 128).mean() < 0.0005
        moved = np.abs(np.asarray(drawn, int)[below:, 3:] - np.asarray(svg_drawn, int)[below:, :-3])
        assert moved.mean() > 2 * off.mean()  # half a millimetre aside would show


def test_a_preview_says_that_it_is_one_and_the_sheets_do_not() -> None:
    assert b"preview" not in svgs(PLAIN)[0]
    assert not any("preview" in words.string for words in read_pdf(pdf(PLAIN))[0].words)


def test_the_words_of_a_preview_are_in_its_picture() -> None:
    from PIL import Image

    picture = Image.open(io.BytesIO(write_png(pages(PLAIN)[0]))).convert("L")
    px = PREVIEW_DPI / 25.4
    band = picture.crop((0, round(3 * px), picture.width, round(7 * px)))
    assert band.getextrema()[0] < 100
    assert picture.crop((0, 0, picture.width, round(3 * px))).getextrema() == (255, 255)


def _without_cairo(monkeypatch: pytest.MonkeyPatch) -> None:
    """cairocffi without libcairo: its import raises OSError, not ImportError (measured of the library)."""
    real = builtins.__import__

    def refuse(name: str, *args: Any, **kwargs: Any) -> Any:
        if name.split(".")[0] == "cairocffi":
            raise OSError("no library called 'cairo-2' was found")
        return real(name, *args, **kwargs)

    monkeypatch.delitem(sys.modules, "cairocffi", raising=False)
    monkeypatch.setattr(builtins, "__import__", refuse)


def test_without_libcairo_a_preview_is_refused_with_the_package_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    _without_cairo(monkeypatch)
    with pytest.raises(MissingLibrary, match=r"needs the cairo library.*install libcairo2.*or ask for pdf and svg"):
        write_png(pages(PLAIN)[0])


def test_without_libcairo_pdf_and_svg_still_work(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    _without_cairo(monkeypatch)
    made = save(pages(PLAIN), tmp_path / "sheet", ("pdf", "svg"))
    assert [path.name for path in made] == ["sheet.pdf", "sheet.svg"]


def test_without_libcairo_nothing_is_written_when_a_preview_is_asked_for_too(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    _without_cairo(monkeypatch)
    with pytest.raises(MissingLibrary):
        save(pages(PLAIN), tmp_path / "sheet", FORMATS)
    assert list(tmp_path.iterdir()) == []


# ------------------------------------------------------------------------------------------------------- the record


def test_the_record_has_a_line_for_each_mark_in_millimetres() -> None:
    marks: list[Mark] = [
        Line(x1=0, y1=-0.0001, x2=1.23456, y2=2, role=Role.CUT),
        Circle(x=1, y=2, r=3, role=Role.GAUGE, filled=True),
        _text(1, 2, "it's"),
    ]
    assert record(marks).splitlines() == [
        "line cut x1=0.000 y1=0.000 x2=1.235 y2=2.000",
        "circle gauge x=1.000 y=2.000 r=3.000 filled=yes",
        "text label x=1.000 y=2.000 string=\"it's\" size_mm=3.000 anchor='start' angle_deg=0.000",
    ]


def test_a_micrometre_shows_in_the_record() -> None:
    one, other = (Circle(x=1, y=2, r=r, role=Role.GAUGE) for r in (3, 3.001))
    assert record([one]) != record([other])


# ------------------------------------------------------------------------------------ numbers that are not finite


def test_no_number_that_is_not_finite_is_in_any_file() -> None:
    for sheet in SHEETS:
        case = Case(sheet=sheet, variant="nasty", paper="a4")
        for data in svgs(case):
            assert re.search(rb'["\s,](nan|inf)["\s,]', re.sub(rb'aria-label="[^"]*"', b"", data)) is None
        content = b"".join(page.get_contents().get_data() for page in pypdf.PdfReader(io.BytesIO(pdf(case))).pages)
        assert re.search(rb"(?<![\w/(])(nan|inf)(?![\w)])", content) is None


def test_an_empty_page_is_a_page() -> None:
    draft = Draft()
    draft.line(0, 0, 1, 1)
    page = Page(paper=find_paper("a4"), placed=(Placed(drawing=draft.drawing(1, 1)),), title="")
    assert len(read_pdf(write_pdf([page]))[0].paths) == 1
