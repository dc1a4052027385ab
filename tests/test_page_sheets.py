"""Sheets on the page: every one of the catalogue, its files equal to the command's, its pages as one types."""

from __future__ import annotations

import re
import sys
from collections.abc import Mapping
from pathlib import Path

import pytest

from jigs.actions.printer import Readings, measure_printer
from jigs.cli import main
from jigs.cli.refusals import option
from jigs.guides.catalogue import AskedKind, Sheet, find_sheet, sheets
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import sheets as view
from jigs.page.views import views
from layouts.errors import UnknownName
from layouts.render.svg import style_sheet

CASES = [
    (sheet.name, number)
    for sheet in sheets()
    for number, example in enumerate(sheet.examples)
    if not any(field.kind is AskedKind.FILE and field.key in example for field in sheet.fields)
]


def typed(sheet: Sheet, example: Mapping[str, object]) -> dict[str, tuple[str, ...]]:
    """An example as it is typed: several words one a line, or as several ticks."""
    given: dict[str, tuple[str, ...]] = {}
    for key, value in example.items():
        field = next((field for field in sheet.fields if field.key == key), None)
        if key == "format":
            continue
        if isinstance(value, bool):
            given[key] = ("yes",) if value else ()
        elif isinstance(value, str):
            given[key] = (value,)
        else:
            given[key] = tuple(value) if field and field.choices else ("\n".join(value),)
    return given or {"paper": ("a4",)}


def asked_for(bench: Path, name: str, given: dict[str, tuple[str, ...]], file: str = "") -> Asked:
    return Asked(bench=bench, path={"sheet": name, "file": file}, given=given, is_part=True)


def written_by_the_command(
    monkeypatch: pytest.MonkeyPatch,
    folder: Path,
    sheet: Sheet,
    example: Mapping[str, object],
    formats: str,
    command: str = "sheet",
) -> dict[str, bytes]:
    words = ["coilwright", command, sheet.name, "--out", f"{folder}/", "--format", formats]
    for key, value in example.items():
        if value is True:
            words.append(option(key))
        elif not isinstance(value, bool) and key != "format":
            for each in [value] if isinstance(value, str) else value:
                words += [option(key), str(each)]
    monkeypatch.setattr(sys, "argv", words)
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@pytest.mark.parametrize(("name", "number"), CASES)
def test_every_file_is_the_command_s_byte_for_byte(
    name: str, number: int, bench: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    sheet = find_sheet(name)
    example = sheet.examples[number]
    files = written_by_the_command(monkeypatch, tmp_path, sheet, example, "pdf,svg")
    given = typed(sheet, example)
    for file, data in files.items():
        assert view.send(asked_for(bench, name, given, file)).content == data
    shown = view.show(asked_for(bench, name, given)).values
    assert sorted(file for names in shown["files"].values() for file in names) == sorted(files)


def text_of(answer: Answer) -> str:
    return render("sheet_live.html", {"views": views(), "is_part": True, **answer.values})


@pytest.mark.parametrize("name", [sheet.name for sheet in sheets()])
def test_every_sheet_is_a_form_of_its_fields_with_its_pages_drawn(name: str, bench: Path):
    answer = view.show(asked_for(bench, name, {}))
    sheet = find_sheet(name)
    boxes = answer.values["form"].boxes
    assert {field.key for field in sheet.fields if field.kind is not AskedKind.FILE} <= boxes.keys()
    html = render("sheet.html", {"views": views(), "is_part": False, **answer.values})
    assert "<svg" in html
    assert "Print at 100 %, actual size" in html
    for key in boxes:
        assert re.search(rf'name="{key}"', html), key


@pytest.mark.parametrize("name", [sheet.name for sheet in sheets()])
def test_each_line_of_words_is_one_path_and_the_style_is_the_page_s(name: str, bench: Path):
    html = text_of(view.show(asked_for(bench, name, {})))
    assert "<use" not in html
    assert "<style" not in html
    assert " style=" not in html
    words = re.findall(r'<path class="label-ink"[^>]*aria-label="', html)
    assert len(words) > 10
    classes = set(re.findall(r' class="([a-z-]+)" (?:d|transform)=', html))
    assert classes <= set(re.findall(r"^\.([a-z-]+)\{", style_sheet(), re.MULTILINE))


@pytest.mark.parametrize(
    ("name", "key", "typed_words", "says"),
    [
        ("ring-card", "wire", "18", "18 AWG"),
        ("ring-card", "wire", "", "such as 16 AWG"),
        ("ring-card", "inside", "5 mm\nwide", "wide"),
        ("ring-card", "tolerance", "5 kg", "length"),
        ("bench-pin", "width", "-5 mm", "below zero"),
        ("dowel", "turns", "many", "count"),
        ("dowel", "diameter", "no such rod", "no such rod"),
        ("ruler", "length", "5", "mm"),
    ],
)
def test_what_is_refused_stays_typed_and_is_said_at_its_box(
    name: str, key: str, typed_words: str, says: str, bench: Path
):
    given = {**typed(find_sheet(name), find_sheet(name).example()), key: (typed_words,)}
    answer = view.show(asked_for(bench, name, given))
    form = answer.values["form"]
    assert says in form[key].fault or any(says in fault for fault in form.faults)
    assert form[key].value == typed_words
    assert answer.values["pages"] == []
    assert not re.search(r"--[a-z]|coilwright [a-z]", text_of(answer))


def test_what_does_not_fit_names_the_boxes_that_help(bench: Path):
    answer = view.show(asked_for(bench, "ruler", {"length": ("500 mm",)}))
    assert answer.values["form"].faults == []
    assert "Split over several pages" in answer.values["form"]["length"].fault
    split = view.show(asked_for(bench, "ruler", {"length": ("2 m",), "tile": ("yes",)}))
    assert len(split.values["pages"]) > 1


def test_an_unknown_sheet_or_file_is_refused(bench: Path):
    with pytest.raises(UnknownName, match="ring-card"):
        view.show(asked_for(bench, "ringcard", {}))
    for file in ("other.pdf", "ruler-9.svg", "../../etc/passwd.svg"):
        with pytest.raises(UnknownName):
            view.send(asked_for(bench, "ruler", {}, file))


def test_a_measured_printer_is_offered_and_used(bench: Path):
    readings = Readings(name="study", tray="plain", across="149.4 mm", along="199.5 mm", date="2026-11-25")
    measure_printer(readings, bench)
    answer = view.show(asked_for(bench, "ring-card", {"wire": ("1.2 mm",), "inside": ("5 mm",), "printer": ("study",)}))
    assert "Made true for study" in text_of(answer)
    assert dict(answer.values["form"]["printer"].choices)["study"] == "study"


def test_a_damaged_list_of_printers_hides_no_sheet(bench: Path):
    bench.mkdir()
    (bench / "printers.toml").write_text("[[printer]\n")
    answer = view.show(asked_for(bench, "ring-card", {}))
    assert answer.values["pages"]
    assert "printers.toml" in answer.values["form"]["printer"].hint


def test_the_list_shows_every_sheet(bench: Path):
    answer = view.show_all(Asked(bench=bench))
    html = render("sheets.html", {"views": views(), "is_part": False, **answer.values})
    for sheet in sheets():
        assert f'href="/sheets/{sheet.name}"' in html
