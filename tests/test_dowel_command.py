"""The command for the dowel sheet, and the paper that its strips are printed on."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from dowels import A4, Strip, block, command, drilled, words_of
from printing import Press, measured

from jigs.cli.refusals import said
from jigs.guides.dowel import dowel_sheet
from layouts.drawing.marks import Text
from layouts.errors import QuantityRefused, Refusal
from layouts.pages.page import Content, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose

# --- the command --------------------------------------------------------------------------------------------


def run(*arguments: str) -> Any:
    return CliRunner().invoke(command, arguments)


def test_the_command_writes_the_sheet_and_says_the_warnings(tmp_path: Path) -> None:
    result = run(
        "--diameter", "8 mm", "--diameter", "4.4 mm", "--wire", "1 mm", "--out", f"{tmp_path}/", "--format", "svg"
    )
    assert result.exit_code == 0, result.output
    assert (tmp_path / "dowel.svg").exists()
    assert "quarter" not in result.output  # 1.10 is just a quarter of 4.40
    assert "warning: dowel 2: wood 4.40 mm thick snaps" in result.output
    assert "dowel 1" not in result.output


def test_the_command_reads_a_list(tmp_path: Path) -> None:
    path = tmp_path / "d.toml"
    path.write_text('[[dowel]]\ndiameter = "8 mm"\nwire = "1 mm"\n', encoding="utf-8")
    result = run("--list", str(path), "--out", f"{tmp_path}/", "--format", "svg")
    assert result.exit_code == 0, result.output
    assert "Ø 8.00 mm" in words_of(block(drilled(8.0)))[0]


def test_a_list_and_options_together_are_refused() -> None:
    result = run("--list", "d.toml", "--from-end", "9 mm")
    assert isinstance(result.exception, QuantityRefused)
    assert said(result.exception) == "a list of dowels brings its own numbers; leave out --from-end"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((), "no dowel is given"),
        (("--diameter", "8 mm"), "no wire is given"),
        (("--diameter", "8", "--wire", "1 mm"), "diameter: "),
        (("--diameter", "8 mm", "--wire", "18 ga"), "18 AWG"),
        (("--diameter", "3 mm", "--wire", "1 mm"), "over a third of the dowel"),
        (("--diameter", "8 mm", "--wire", "1 mm", "--drills", "letter"), "no drill series is called 'letter'"),
        (("--diameter", "8 mm", "--wire", "1 mm", "--second", "both"), "no second hole is called 'both'"),
    ],
)
def test_the_command_refuses_what_makes_no_dowel(arguments: tuple[str, ...], message: str) -> None:
    result = run(*arguments)
    assert isinstance(result.exception, Refusal)
    assert message in str(result.exception)


def test_a_refusal_of_the_command_is_one_of_the_family() -> None:
    assert isinstance(run("--diameter", "nan mm", "--wire", "1 mm").exception, QuantityRefused)


def test_the_help_shows_the_options_and_an_example() -> None:
    text = run("--help").output
    for words in (
        "--second-diameter",
        "--from-end",
        "--paper-thickness",
        "metric|number|inch",
        "[[dowel]]",
        "coilwright sheet dowel",
    ):
        assert words in text


# --- the paper that a strip is printed on


def once_round(content: Content) -> float:
    return Strip(next(iter(content.draw(A4)))).once_round


def test_a_strip_is_as_thick_as_what_lies_in_the_printers_tray() -> None:
    """Card of 160 g/m2 is 0.17 to 0.21 mm: pi x (8 + 0.19) = 25.7296; paper of 80 g/m2, pi x 8.1 = 25.4469."""
    sheet = dowel_sheet([drilled(8.0)])
    assert sheet.on is not None
    card = sheet.on(replace(measured(Press()), tray="Card 160 g"))
    assert once_round(card) == pytest.approx(25.7296, abs=5e-5)
    assert dict(card.facts)["paper"] == "0.19 ±0.02 mm (Card 160 g) thick"
    assert once_round(sheet) == pytest.approx(25.4469, abs=5e-5)
    assert dict(sheet.facts)["paper"] == "0.10 mm (80 g/m²) thick"


def test_a_thickness_that_is_given_stands_whatever_the_tray_holds() -> None:
    card = dowel_sheet([drilled(8.0, paper_mm=0.1)], "card 160 g")
    assert once_round(card) == pytest.approx(25.4469, abs=5e-5)
    assert dict(card.facts)["paper"] == "0.10 mm thick"


def test_a_paper_of_unknown_weight_is_taken_for_80_g_and_the_sheet_says_so() -> None:
    assert dict(dowel_sheet([drilled(8.0)], "lilac").facts)["paper"] == "0.10 mm (80 g/m²) thick"


def test_a_sheet_made_for_a_printer_has_the_strip_of_its_paper() -> None:
    printer = replace(measured(Press()), tray="card 160 g")
    (page,) = compose(dowel_sheet([drilled(8.0)]), Setup(paper=find_paper("a4"), printer=printer))
    strings = [mark.string for mark in page.marks() if isinstance(mark, Text)]
    assert "25.73 round" in strings
    assert "0.19 ±0.02 mm (card 160 g) thick" in strings
