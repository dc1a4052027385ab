"""Printers on the page: measured by hand and from a scan, kept where nothing speaks against it, chosen, forgotten."""

from __future__ import annotations

import io
import re
import tempfile
import time
from functools import cache
from html import unescape
from pathlib import Path
from typing import Any

import pytest
from simulated_printer import Card, Press, Scanner, printed_at, scanned

from jigs.actions.printer import list_printers, usual_printer
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import printers, sheets, views
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.check_sheet import printer_check, target_on

HAND = {"called": "study", "in_tray": "plain 80 g", "paper": "a4", "tool": "rule", "day": "2026-11-25"}
READ = HAND | {"across": "149.4", "along": "199.5 mm"}
PRESS = Press(across=0.996, along=0.9975, skew_deg=0.1)


def asked(bench: Path, body: bytes = b"", path: dict[str, str] | None = None, **given: str) -> Asked:
    return Asked(bench=bench, path=path or {}, given={key: (value,) for key, value in given.items()}, body=body)


def html_of(answer: Answer) -> str:
    html = render(answer.template, {"views": views(), "is_part": False, "here": "", **answer.values})
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", html)))


def test_readings_are_shown_before_they_are_kept(bench: Path):
    answer = printers.show_new(asked(bench, **READ))
    assert "0.9960" in html_of(answer)  # C: 149.4 / 150
    assert "0.9975" in html_of(answer)  # C: 199.5 / 200
    assert list_printers(bench) == ((), None)


def test_a_printer_measured_by_hand_is_kept_and_becomes_the_usual_one(bench: Path):
    answer = printers.keep(asked(bench, **READ, usual="yes"))
    assert answer.goto.startswith("/printers?said=study")
    ((printer,), usual) = list_printers(bench)
    assert usual == printer
    assert (printer.across.ratio, printer.along.ratio) == pytest.approx((0.996, 0.9975))
    assert "study" in html_of(printers.show_all(asked(bench)))
    card = sheets.show(Asked(bench=bench, path={"sheet": "ring-card"}))
    assert card.values["drawn"].printer == printer


def test_not_ticked_it_is_not_the_usual_one(bench: Path):
    printers.keep(asked(bench, **READ))
    assert usual_printer(bench) is None


def test_what_looks_like_a_setting_is_named_and_kept_only_when_that_is_ticked(bench: Path):
    setting = READ | {"across": "145.5", "along": "194"}  # C: both 0.970
    wrong, *right = printers.show_new(asked(bench, **setting)).values["objection"]
    assert "sign of a print setting" in wrong
    assert right[-1] == "if you are sure of it, tick Save it anyway"
    refused = printers.keep(asked(bench, **setting))
    assert "tick Save it anyway" in refused.values["form"]["save_anyway"].fault
    assert list_printers(bench)[0] == ()
    assert printers.keep(asked(bench, **setting, save_anyway="yes")).goto
    assert len(list_printers(bench)[0]) == 1


def test_a_bank_card_reads_in_per_cent(bench: Path):
    answer = printers.keep(asked(bench, **(HAND | {"tool": "card", "across": "99.5", "along": "99.7 %"})))
    assert answer.goto
    ((printer,), _) = list_printers(bench)
    assert printer.across.ratio == pytest.approx(0.995)


def test_diagonals_and_ink_are_taken_in_pairs(bench: Path):
    more = {"diagonal_ac": "249.2", "diagonal_bd": "249.4", "black_0": "0.55", "white_0": "0.45"}
    assert printers.keep(asked(bench, **READ, **more)).goto
    ((printer,), _) = list_printers(bench)
    assert printer.diagonals is not None
    assert printer.spread_mm == pytest.approx(0.025)
    half = printers.keep(asked(bench, **READ, diagonal_ac="249.2"))
    assert "one diagonal without the other" in half.values["form"]["diagonal_ac"].fault.casefold()


@pytest.mark.parametrize(
    ("key", "typed", "says"),
    [
        ("called", "", "Give its name"),
        ("in_tray", "", "Give the paper"),
        ("across", "", "Give what you read"),
        ("along", "wide", "number"),
        ("day", "yesterday", "date"),
        ("diagonal_ac", "5 kg", "length"),
    ],
)
def test_what_is_refused_is_said_at_its_box_and_nothing_is_kept(bench: Path, key: str, typed: str, says: str):
    answer = printers.keep(asked(bench, **(READ | {key: typed})))
    assert says in answer.values["form"][key].fault
    assert answer.values["form"][key].value == typed
    assert not (bench / "printers.toml").exists()


def test_a_printer_is_opened_chosen_and_forgotten(bench: Path):
    printers.keep(asked(bench, **READ))
    one = {"name": "study", "in_tray": "plain 80 g"}
    assert "Printed over true" in html_of(printers.show_one(asked(bench, **one)))
    printers.choose(asked(bench, **one))
    assert usual_printer(bench) is not None
    printers.choose_none(asked(bench))
    assert usual_printer(bench) is None
    printers.forget(asked(bench, **one))
    assert list_printers(bench)[0] == ()


def test_the_sheet_to_measure_is_the_uncorrected_one_of_that_paper(bench: Path):
    printers.keep(asked(bench, **READ, usual="yes"))
    given = {key: (value,) for key, value in (READ | {"paper": "letter"}).items()}
    path = {"sheet": "printer-check", "file": "printer-check.pdf"}
    data = sheets.send(Asked(bench=bench, path=path, given=given)).content
    plain = {"paper": ("letter",), "printer": ("none",)}
    assert data == sheets.send(Asked(bench=bench, path=path, given=plain)).content


@cache
def scan(rotation_deg: float = 0.5) -> bytes:
    """The check sheet of a known printer with a bank card on it, as a scanner at 300 dots in an inch sees it."""
    (sheet,) = compose(printer_check(), Setup(paper=find_paper("a4")))
    left, bottom, right, top = target_on(find_paper("a4")).card or (0.0, 0.0, 0.0, 0.0)
    x, y = printed_at(sheet, PRESS)((left + right) / 2, (bottom + top) / 2)
    card = Card(middle_mm=(x + 3, y + 2), turn_deg=-1.5)
    image = scanned(sheet, PRESS, Scanner(dpi=300, rotation_deg=rotation_deg), (card,))
    out = io.BytesIO()
    image.save(out, "PNG", dpi=(300, 300))
    return out.getvalue()


def dropped(bench: Path, *pictures: tuple[str, bytes], **more: str) -> Answer:
    body = b"".join(data for _, data in pictures)
    sizes = ",".join(str(len(data)) for _, data in pictures)
    names = "/".join(name for name, _ in pictures)
    return printers.take_scan(asked(bench, body, names=names, sizes=sizes, **(HAND | more)))


def finished(bench: Path, answer: Answer) -> tuple[dict[str, str], dict[str, Any]]:
    path = {"job": answer.goto.partition("?")[0].rpartition("/")[2]}
    for _ in range(1200):
        values = dict(printers.follow(asked(bench, path=path)).values)
        if values["job"].is_over:
            return path, values
        time.sleep(0.05)
    raise AssertionError("it takes too long")


def test_a_scan_that_is_dropped_shows_the_printer_and_is_kept(bench: Path):
    path, values = finished(bench, dropped(bench, ("scan.png", scan())))
    printer = values["looked"].printer
    assert (printer.across.ratio, printer.along.ratio) == pytest.approx((0.996, 0.9975), abs=0.0004)
    assert "markers found" in html_of(printers.follow(asked(bench, path=path)))
    picture = printers.send_picture(asked(bench, path=path))
    assert picture.content.startswith(b"\x89PNG")
    assert list_printers(bench)[0] == ()
    assert printers.keep_scan(asked(bench, path=path, usual="yes")).goto
    assert usual_printer(bench) == printer


@pytest.mark.parametrize(
    ("name", "data"), [("scan.png", b"not a picture"), ("..\\..\\x.png", b"\x89PNG\r\n\x1a\nbroken"), ("a.toml", b"")]
)
def test_a_picture_that_cannot_be_read_is_refused_without_a_path_of_the_machine(bench: Path, name: str, data: bytes):
    _, values = finished(bench, dropped(bench, (name, data)))
    assert values["refused"]
    assert tempfile.gettempdir() not in values["refused"]
    assert "coilwright-" not in values["refused"]


def test_what_was_sent_must_be_whole(bench: Path):
    given = HAND | {"names": "a.png", "sizes": "9"}
    answer = printers.take_scan(asked(bench, b"short", **given))
    assert answer.values["form"]["scan"].fault
    lacking = printers.take_scan(asked(bench, b"", names="", sizes="", called="", in_tray=""))
    assert lacking.values["form"]["called"].fault == "Give its name."
