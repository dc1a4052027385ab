"""The command `printer`, and the printer of a sheet."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jigs.cli import cli
from jigs.cli.printer import measure
from jigs.cli.refusals import said
from layouts.errors import Refusal
from layouts.printing.printers import FILE

BASE = ("--across", "149.6 mm", "--along", "200.3 mm")


def run(*words: str, typed: str = "") -> Result:
    return CliRunner().invoke(cli, words, input=typed, prog_name="coilwright")


def good(*words: str, typed: str = "") -> str:
    result = run(*words, typed=typed)
    assert result.exception is None, result.exception
    return result.output


def refused(*words: str, typed: str = "") -> str:
    result = run(*words, typed=typed)
    assert isinstance(result.exception, Refusal), result.output
    return said(result.exception)


def office(*more: str, tray: str = "plain") -> str:
    return good("printer", "measure", "office", "--tray", tray, "--date", "2026-11-20", *BASE, *more)


def kept(bench: Path) -> str:
    return (bench / FILE).read_text(encoding="utf-8")


# --- measure ------------------------------------------------------------------------------------------------


def test_a_measurement_is_shown_and_kept(bench: Path) -> None:
    text = office()
    assert re.search(r"\nway +true, mm +read, mm +factor\n", text)
    assert re.search(r"\nacross +150 +149\.6 +0\.9973\n", text)
    assert re.search(r"\nalong +200 +200\.3 +1\.0015\n", text)
    assert "k = " not in text
    assert "A corrected sheet is good to ±0.12 mm on a 5 mm disc" in text
    in_full = good("printer", "show", "office", "--details")
    assert re.search(r"\nacross +150 +149\.6 +0\.9973 +0\.0047\n", in_full)
    assert "The terms of each (k = 1)" in in_full
    assert f"Saved office on plain in {bench}" in text
    assert 'across = {length = "150 mm", read = "149.6 mm"}' in kept(bench)
    assert "date = 2026-11-20" in kept(bench)
    assert 'sheet = "printer-check 2"' in kept(bench)


def test_skew_and_ink_are_measured_when_they_are_given() -> None:
    text = office("--diagonal-ac", "250.5 mm", "--diagonal-bd", "249.5 mm", "--black", "1.2 mm", "--white", "0.8 mm")
    # Worked by hand: (250.5^2 - 249.5^2) / (4 x 149.6 x 200.3) = 0.0041715, its angle 0.239 degrees.
    assert re.search(r"\nskew +\+0\.239 degrees\n", text)
    assert re.search(r"\nink, an edge +\+0\.100 mm\n", text)


def test_a_bank_card_serves_where_there_is_no_rule() -> None:
    text = good(
        "printer", "measure", "office", "--tray", "card", "--with", "card", "--across", "99.5 %", "--along", "99.8 %"
    )
    assert re.search(r"\nacross .* 0\.9950\n", text)
    assert re.search(r"\nacross +85\.6 ", text)
    assert re.search(r"\nalong +53\.98 ", text)


def test_another_line_than_the_base_line_may_be_read() -> None:
    text = good(
        *("printer", "measure", "office", "--tray", "plain"),
        *("--across", "99.7 mm of 100 mm", "--along", "3 15/16 in of 4 in", "--save-anyway"),
    )
    assert re.search(r"\nacross +100 +99\.7 +0\.9970\n", text)
    assert re.search(r"\nalong +101\.6 +100\.013 ", text)


def test_the_base_lines_are_those_of_the_paper_that_was_measured(bench: Path) -> None:
    good(
        *("printer", "measure", "office", "--tray", "plain", "--paper", "a3", "--landscape"),
        *("--across", "358 mm", "--along", "192 mm"),
    )
    assert 'along = {length = "192 mm", read = "192 mm"}' in kept(bench)
    assert "landscape = true" in kept(bench)
    assert re.search(r"office +plain +1\.0000 +0\.9944 ", good("printer", "list"))


def test_a_second_measurement_replaces_the_first() -> None:
    office()
    assert "Replaced office on plain" in office()


def test_ink_that_cannot_be_read_is_said() -> None:
    text = office("--black", "1.1 mm", "--white", "0.9 mm")
    assert "Note: the ink spread is smaller than what it can be read to" in text


def test_a_reading_that_a_setting_explains_is_not_saved_and_the_setting_is_named(bench: Path) -> None:
    words = ("printer", "measure", "office", "--tray", "plain", "--across", "145.9 mm", "--along", "194.6 mm")
    result = run(*words)
    assert result.output == ""
    assert "not saved: across 0.9727 and along 0.9730 are alike, the sign of a print setting" in str(result.exception)
    assert "choose actual size, not fit" in str(result.exception)
    assert "save it anyway with --save-anyway" in said(result.exception)
    assert "lp -o media=A4 -o print-scaling=none" in said(result.exception)
    assert "media=Letter" in said(run(*words, "--paper", "letter").exception)
    assert not bench.exists()
    assert "Saved office on plain" in good(*words, "--save-anyway")


@pytest.mark.parametrize(("across", "along"), [("154.5 mm", "206 mm"), ("156 mm", "208 mm"), ("152.9 mm", "203.9 mm")])
def test_an_equal_enlargement_is_not_saved_without_a_word(bench: Path, across: str, along: str) -> None:
    words = ("printer", "measure", "office", "--tray", "plain", "--across", across, "--along", along)
    said = refused(*words)
    assert (
        "it may be a zoom over 100 %: set the zoom to 100 %, or borderless, which enlarges the page: print with" in said
    )
    assert "print and measure again: choose actual size or 100 %" in said
    assert not bench.exists()
    assert "Saved office on plain" in good(*words, "--save-anyway")


def test_a_setting_that_only_comes_near_is_said_and_the_printer_saved() -> None:
    text = good("printer", "measure", "office", "--tray", "plain", "--across", "144.9 mm", "--along", "196 mm")
    assert "across and along differ too much for one: " in text
    assert "Saved office" in text


@pytest.mark.parametrize(
    ("words", "refusal"),
    [
        ((), "printer measure lacks --tray, --across, --along; give it; or run it in a terminal, where it asks"),
        (("--tray", "x", "--across", "1 mm"), "printer measure lacks --along"),
        (("--tray", "x", "--across", "149", "--along", "200 mm"), "a length needs a unit"),
        (
            ("--tray", "x", "--across", "140 mm", "--along", "186.7 mm"),
            "0.933, and a printer's factor is 0.95 to 1.05",
        ),
        (
            ("--tray", "x", "--across", "141 mm", "--along", "188 mm"),
            "both ways are alike, the sign of a print setting: across 0.940, along 0.940, and",
        ),
        (
            ("--tray", "x", "--across", "141 mm", "--along", "199.5 mm"),
            "across 0.940, along 0.998, and a printer's factor is 0.95 to 1.05; a setting changes both alike, so",
        ),
        (("--tray", "x", "--across", "187.5 mm", "--along", "250 mm"), "it may be a zoom left at 125 %"),
        (("--tray", "x", *BASE, "--diagonal-ac", "250 mm"), "one diagonal without the other"),
        (("--tray", "x", *BASE, "--black", "1 mm"), "1 black bars and 0 white gaps; give as many"),
        (("--tray", "x", *BASE, "--with", "card"), "with a card, write what the ticks read"),
        (("--tray", "x", *BASE, "--with", "tape"), "no instrument is called 'tape'; known:"),
        (("--tray", "x", *BASE, "--date", "yesterday"), "'yesterday' is not a date"),
        (("--tray", "x", *BASE, "--paper", "a6"), "no paper is called 'a6'"),
        (
            ("--tray", "x", "--with", "card", "--across", "99 %", "--along", "99.5 %", "--black", "1 mm"),
            "1 black bars and 0 white gaps",
        ),
    ],
)
def test_what_is_missing_or_wrong_is_refused_and_nothing_saved(
    bench: Path, words: tuple[str, ...], refusal: str
) -> None:
    assert refusal in refused("printer", "measure", "office", *words)
    assert not bench.exists()


# --- asking -------------------------------------------------------------------------------------------------


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(measure, "in_a_terminal", lambda: True)


@pytest.mark.usefixtures("terminal")
def test_in_a_terminal_it_asks_step_by_step_and_shows_where_to_measure(bench: Path) -> None:
    answers = ["plain 80 g", "", "149.6", "200,3 mm", "250.2", "249.9", "", "1.1", "0.9", "", "2026-11-20"]
    text = good("printer", "measure", "office", typed="\n".join(answers) + "\n")
    assert "D --------------- C      across  A to B: 150.00 mm     diagonal  A to C: 250.00 mm" in text
    assert "Saved office on plain 80 g" in text
    assert 'along = {length = "200 mm", read = "200.3 mm"}' in kept(bench)
    assert 'ink = [\n    {black = "1.1 mm", white = "0.9 mm"},\n]' in kept(bench)


@pytest.mark.usefixtures("terminal")
def test_a_wrong_answer_is_said_and_asked_again() -> None:
    answers = ["plain", "tape", "loupe", "five", "149.6", "200.3", "", "", "", "", "2026-11-20"]
    text = good("printer", "measure", "office", typed="\n".join(answers) + "\n")
    assert "no instrument is called 'tape'" in text
    assert text.count("Across, mm: ") == 2


@pytest.mark.usefixtures("terminal")
def test_a_card_is_asked_for_in_percent_and_for_nothing_more() -> None:
    text = good("printer", "measure", "office", "--tray", "x", typed="card\n99.5\n99.8 %\n2026-11-20\n")
    assert "Push a bank card into the lower left corner" in text
    assert "Diagonal" not in text
    assert re.search(r"\nacross .* 0\.9950\n", text)


# --- list, show, default, forget ----------------------------------------------------------------------------


def test_an_empty_bench_has_no_printers() -> None:
    assert "No printer has been measured yet" in good("printer", "list")
    assert "Sheets are uncorrected" in good("printer", "default")
    assert "none has been measured yet" in refused("printer", "show", "office")


def test_printers_are_listed_with_the_default_one_marked() -> None:
    office()
    office(tray="card")
    good("printer", "default", "office", "--tray", "card")
    listed = good("printer", "list").splitlines()
    assert listed[1].split() == ["office", "plain", "0.9973", "1.0015", "rule", "2026-11-20"]
    assert listed[2].split()[-1] == "usual"


def test_show_gives_the_terms_of_the_uncertainty_with_their_source() -> None:
    office()
    text = good("printer", "show", "office", "--details")
    for words in (
        "taken for EU/UK class II; read by eye: common practice, no source",
        "across  a steel rule without a class, ±0.5 mm  0.192\n",
        "across  both ends read to ±0.25 mm             0.136\n",
        "5 mm disc             ink spread, not measured, ±0.05 mm an edge  0.058\n",
        "paper, ±0.05 %",
        "5 mm disc             0.118\n",
    ):
        assert words in text


def test_show_and_list_give_the_same_to_scripts() -> None:
    office("--diagonal-ac", "250.5 mm", "--diagonal-bd", "249.5 mm")
    shown = json.loads(good("printer", "show", "office", "--json"))
    assert (shown["printer"], shown["tray"], shown["date"]) == ("office", "plain", "2026-11-20")
    across = shown["factors"][0]
    assert (across["true_mm"], across["read_mm"]) == (150.0, 149.6)
    assert across["factor"] == pytest.approx(149.6 / 150)
    assert shown["skew"]["skew_deg"] == pytest.approx(0.239, abs=0.0005)
    assert shown["ink"] is None
    assert shown["good_for"][0]["size_mm"] == 5.0
    assert shown["good_for"][0]["uncertainty_k2_mm"] == pytest.approx(0.118, abs=0.001)
    (row,) = json.loads(good("printer", "list", "--json"))
    assert (row["printer"], row["is_default"], row["across"]) == ("office", False, across["factor"])


def test_without_a_printer_scripts_get_an_empty_list() -> None:
    assert json.loads(good("printer", "list", "--json")) == []


def test_show_says_that_a_record_is_old() -> None:
    good("printer", "measure", "office", "--tray", "plain", "--date", "2020-01-01", *BASE)
    assert "days old, over 90: measure again" in good("printer", "show", "office")


def test_a_default_printer_is_chosen_and_taken_back() -> None:
    office()
    assert good("printer", "default", "office") == "Sheets are made for office on plain.\n"
    assert good("printer", "default") == "Sheets are made for office on plain.\n"
    assert "uncorrected" in good("printer", "default", "none")


def test_a_forgotten_printer_is_gone() -> None:
    office()
    assert good("printer", "forget", "office") == "forgot office on plain\n"
    assert "none has been measured yet" in refused("printer", "forget", "office")


# --- sheets -------------------------------------------------------------------------------------------------

CARD = ("sheet", "ring-card", "--wire", "16 AWG", "--inside", "5 mm", "--date", "2026-11-25", "--format", "svg")


def _sheet(tmp_path: Path, *words: str, name: str = "card.svg") -> tuple[str, str]:
    """What the terminal says, and the file."""
    text = good(*CARD, "--out", str(tmp_path / name), *words)
    return text, (tmp_path / name).read_text(encoding="utf-8")


def test_a_sheet_is_made_true_for_the_printer_that_is_named(tmp_path: Path) -> None:
    office()
    text, svg = _sheet(tmp_path, "--printer", "office")
    assert "Made true for office on plain." in text
    assert "Note" not in text
    assert "printer: office, 0.9973 × 1.0015" in svg
    assert "5.0 mm disc: ±0.12 mm" in svg
    assert "matrix(1.00267" in svg


def test_a_default_printer_serves_until_another_or_none_is_named(tmp_path: Path) -> None:
    office()
    good("printer", "default", "office")
    assert "Made true for office on plain." in _sheet(tmp_path)[0]
    text, svg = _sheet(tmp_path, "--printer", "none")
    assert "Made true" not in text
    assert "printer: uncorrected" in svg


def test_the_printer_check_is_corrected_only_when_the_printer_is_named(tmp_path: Path) -> None:
    office()
    good("printer", "default", "office")
    check = ("sheet", "printer-check", "--format", "svg", "--out", str(tmp_path / "check.svg"))
    assert "Made true" not in good(*check)
    assert "Made true for office" in good(*check, "--printer", "office")


def test_an_old_record_another_stock_and_another_paper_are_said_at_the_terminal_alone(tmp_path: Path) -> None:
    office()
    late = ("--date", "2027-03-01", "--printer", "office", "--tray", "film", "--paper", "a5")
    text, svg = _sheet(tmp_path, *late)
    assert "Note: the record of office on plain is 101 days old, over 90: measure again." in text
    assert "Note: office was measured on plain, not on film, which may feed differently." in text
    assert "Note: office was measured on a4: feed a5 the same way" in text
    assert "days old" not in svg
    assert "film" not in svg


def test_the_stock_chooses_among_the_records_of_the_default_printer(tmp_path: Path) -> None:
    office()
    office(tray="card")
    good("printer", "default", "office", "--tray", "plain")
    assert "Made true for office on card." in _sheet(tmp_path, "--tray", "card")[0]
    assert "Made true for office on plain." in _sheet(tmp_path)[0]


def test_the_same_corrected_sheet_has_the_same_bytes(tmp_path: Path) -> None:
    office()
    first = _sheet(tmp_path, "--printer", "office", name="one.svg")[1]
    assert first == _sheet(tmp_path, "--printer", "office", name="two.svg")[1]


@pytest.mark.parametrize(
    ("words", "refusal"),
    [
        (("--printer", "kitchen"), "no printer is called 'kitchen'; known: office"),
        (
            ("--tray", "card"),
            "a paper in the tray, and no printer; give --printer "
            "or choose a usual one with `coilwright printer default`",
        ),
    ],
)
def test_a_printer_that_is_not_there_is_refused_and_no_sheet_written(
    tmp_path: Path, words: tuple[str, ...], refusal: str
) -> None:
    office()
    assert refusal in refused(*CARD, "--out", str(tmp_path / "card.svg"), *words)
    assert not (tmp_path / "card.svg").exists()


def test_a_damaged_record_stops_a_sheet_with_its_line_but_not_an_uncorrected_one(bench: Path, tmp_path: Path) -> None:
    bench.mkdir()
    (bench / FILE).write_text("[[printer]]\nname = \ndefault = true\n", encoding="utf-8")
    words = "printers.toml:2: there is nothing after the equals sign"
    assert words in refused(*CARD, "--out", str(tmp_path / "card.svg"))
    assert words in refused(*CARD, "--out", str(tmp_path / "card.svg"), "--printer", "office")
    assert _sheet(tmp_path, "--printer", "none")
    assert kept(bench) == "[[printer]]\nname = \ndefault = true\n"


@pytest.mark.parametrize("words", [b"[[printer]]\nname = \n", b"\xff\xfe", b"x" * 300_000, b"a" + b".a" * 90_000])
def test_a_damaged_file_without_a_default_stops_no_sheet_that_names_no_printer(
    bench: Path, tmp_path: Path, words: bytes
) -> None:
    bench.mkdir()
    (bench / FILE).write_bytes(words)
    assert _sheet(tmp_path)
    assert (bench / FILE).read_bytes() == words


def test_the_bench_option_goes_before_the_environment(tmp_path: Path) -> None:
    there = tmp_path / "class"
    office("--bench", str(there))
    assert "No printer" in good("printer", "list")
    assert "office" in good("printer", "list", "--bench", str(there))
    assert "Made true for office" in _sheet(tmp_path, "--printer", "office", "--bench", str(there))[0]
