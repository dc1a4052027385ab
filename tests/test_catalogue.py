"""The catalogue of sheets: a sheet is one file, and everything that lists sheets finds it there."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

import jigs.guides
from jigs.cli import cli
from jigs.cli.refusals import said
from jigs.cli.sheet import sheet_command
from jigs.guides.catalogue import Asked, AskedKind, Sheet, find_sheet, sheets
from jigs.orders.dowel_list import grouped
from layouts.errors import QuantityRefused, Refusal, UnknownName

NEW = """
from jigs.guides.catalogue import Asked, AskedKind, Made, Sheet
from layouts.drawing.marks import Draft
from layouts.pages.page import Content


def disc(diameter):
    draft = Draft()
    draft.disc(diameter / 2, diameter / 2, diameter / 2)
    drawing = draft.drawing(diameter, diameter, "a disc")
    content = Content(title="One disc", facts=(), draw=lambda field: [drawing])
    return Made(content=content, warnings=("small",) if diameter < 1 else ())


SHEET = Sheet(
    name="one-disc",
    summary="A disc, for a test.",
    about=("A disc at true size.",),
    fields=(Asked(key="diameter", kind=AskedKind.LENGTH, help="Across.", default="5 mm"),),
    build=disc,
    examples=({}, {"diameter": "7 mm", "paper": "a5"}),
)
"""


@pytest.fixture
def with_a_new_sheet(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder of guides that has one more file."""
    (tmp_path / "one_disc.py").write_text(NEW)
    monkeypatch.setattr(jigs.guides, "__path__", [*jigs.guides.__path__, str(tmp_path)])
    monkeypatch.delitem(sys.modules, "jigs.guides.one_disc", raising=False)


def run(*words: str) -> str:
    result = CliRunner().invoke(cli, words, prog_name="coilwright")
    if result.exception:
        raise result.exception
    return result.output


@pytest.mark.usefixtures("with_a_new_sheet")
def test_a_file_is_all_that_a_new_sheet_needs(tmp_path: Path) -> None:
    assert "one-disc" in [sheet.name for sheet in sheets()]
    assert "A disc, for a test." in run("sheet", "--help")
    words = run("sheet", "one-disc", "--help")
    assert 'coilwright sheet one-disc --diameter "7 mm" --paper a5' in words
    assert "--diameter LENGTH  Across.  [default: 5 mm]" in words
    assert "warning: small" in run("sheet", "one-disc", "--diameter", "0.9 mm", "--out", str(tmp_path / "disc.pdf"))
    assert (tmp_path / "disc.pdf").read_bytes().startswith(b"%PDF")


def test_without_the_file_it_is_unknown() -> None:
    with pytest.raises(UnknownName, match="no sheet is called 'one-disc'; known: "):
        find_sheet("one-disc")
    with pytest.raises(UnknownName, match="no sheet is called 'cover'"):
        find_sheet("cover")
    with pytest.raises(UnknownName, match="no sheet is called 'ring_card'; known: ring-card"):
        find_sheet("ring_card")


def test_the_sheets_stand_in_the_order_of_the_work() -> None:
    order = ["printer-check", "measuring", "ring-card", "dowel", "bench-pin", "ruler"]
    assert [sheet.name for sheet in sheets() if sheet.name in order] == order
    places = [sheet.place for sheet in sheets()]
    assert places == sorted(places)


def test_a_sheet_loads_no_other() -> None:
    code = "import sys; from jigs.guides.catalogue import find_sheet; find_sheet('ring-card'); print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert "jigs.guides.ring_card" in loaded
    assert {"jigs.guides.bench_pin", "jigs.guides.dowel", "jigs.guides.cover"} & {*loaded} == set()


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.name)
def test_every_field_has_help_and_every_default_and_choice_can_be_read(sheet: Sheet) -> None:
    for field in sheet.fields:
        assert field.help.endswith(".")
        assert field.key.isidentifier()
        for words in (field.default, field.example, *field.choices):
            assert not words or field.read(words) is not None


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.name)
def test_the_first_example_makes_a_sheet_and_every_field_is_an_option(sheet: Sheet) -> None:
    assert sheet.make(sheet.example()).content.title
    options = {name for option in sheet_command(sheet).params for name in option.opts}
    assert {f"--{field.key.replace('_', '-')}" for field in sheet.fields} <= options


@pytest.mark.parametrize("sheet", [sheet for sheet in sheets() if sheet.demo is not None], ids=lambda sheet: sheet.name)
def test_what_the_demo_makes_says_what_it_is_for(sheet: Sheet) -> None:
    assert sheet.use
    assert sheet.make(sheet.demo or {}).content.title


def test_empty_words_of_one_dowel_are_as_if_it_had_none() -> None:
    first, other = grouped({"diameter": ("8 mm", "9 mm"), "wire": ("1 mm",), "second": ("", "slot")})
    assert first == {"diameter": "8 mm", "wire": "1 mm"}
    assert other == {"diameter": "9 mm", "wire": "1 mm", "second": "slot"}


@pytest.mark.parametrize("sheet", sheets(), ids=lambda sheet: sheet.name)
def test_an_entry_names_no_option(sheet: Sheet) -> None:
    words = [sheet.summary, *sheet.about, *(field.help + field.otherwise for field in sheet.fields)]
    assert [text for text in words if "--" in text] == []


def test_a_field_that_is_needed_is_refused_by_its_name_and_with_an_example() -> None:
    with pytest.raises(QuantityRefused, match="no inside or outside diameter is given; give the inside, such as 5 mm"):
        find_sheet("ring-card").make({"wire": "1 mm"})


def test_words_without_a_unit_are_refused_by_their_field() -> None:
    with pytest.raises(QuantityRefused, match=r'^length: a length needs a unit; write "500 mm"') as refused:
        find_sheet("ruler").make({"length": "500"})
    assert said(refused.value).startswith('--length: a length needs a unit; write "500 mm"')


def test_a_field_that_a_sheet_does_not_take_is_refused() -> None:
    with pytest.raises(UnknownName, match="no field of ruler is called 'lenght'; known: length"):
        find_sheet("ruler").make({"lenght": "1 m"})


WIRE = Asked(key="wire", kind=AskedKind.WIRE, help="A wire.", repeatable=True)
LENGTHS = Asked(key="inside", kind=AskedKind.LENGTHS, help="Lengths.", repeatable=True)
COUNT = Asked(key="turns", kind=AskedKind.COUNT, help="Turns.", default="10")
HAND = Asked(key="hand", kind=AskedKind.CHOICE, help="A hand.", choices=("left", "right"))


def test_words_become_values() -> None:
    assert LENGTHS.value(("5 mm", "6 mm..7 mm by 0.5 mm")) == (5.0, 6.0, 6.5, 7.0)
    assert [wire.diameter_mm for wire in WIRE.value("1.2 mm")] == [1.2]
    assert WIRE.value("") == ()
    assert COUNT.value("") == 10
    assert HAND.value("") is None
    assert HAND.value("left") == "left"


@pytest.mark.parametrize(("field", "words"), [(COUNT, "1.5"), (COUNT, "-1"), (COUNT, "²"), (HAND, "both"), (WIRE, "5")])
def test_words_that_are_no_value_are_refused(field: Asked, words: str) -> None:
    with pytest.raises(Refusal):
        field.value(words)
