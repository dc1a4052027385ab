"""Mistakes in every box of every form: said at a box, in words for a page, and what was typed stays as it was typed."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from jigs.guides.catalogue import cut_aids, sheets, solid_aids
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import find_route, views

MISTAKES = ("abc", "0", "-5 mm", "9999999 mm", "1e9", "5 mm\x00", "<b>5</b>", "x" * 500)
OF_A_FILE_OR_COMMAND = re.compile(r"--\w|\[\[|quotes|`|\w+ = [\"\d]|\b[a-z]+_[a-z]+\b|add a line|coilwright ")
ORDER = "/orders/mine.toml"
SHORT = """title = "A chain"
[[ring]]
name = "ring"
wire = "1.2 mm"
metal = "copper"
inside = "5 mm"
count = 40
[[supply]]
wire = "1.2 mm"
metal = "copper"
price = "2 EUR per m"
"""
LASER = {"name": "laser", "kind": "laser", "material": "plywood", "material_thickness": "3 mm", "gap": "1.6 mm..1.7 mm"}
STUDY = {"called": "study", "in_tray": "plain", "across": "149.4", "along": "199.5", "tool": "rule", "paper": "a4"}
FORMS: dict[str, tuple[str, Mapping[str, str]]] = {  # the address that answers, and what is right in the form
    "/?way=ring": ("GET /", {}),
    "/?way=rod": ("GET /", {"way": "rod", "mandrel": "5 mm"}),
    **{f"/sheets/{sheet.name}": (f"GET /sheets/{sheet.name}", {}) for sheet in sheets()},
    **{f"/cut/{aid.name}": (f"GET /cut/{aid.name}", {}) for aid in cut_aids()},
    **{f"/solids/{aid.name}": (f"GET /solids/{aid.name}", {}) for aid in solid_aids()},
    "/measuring/rod": ("GET /measuring/rod", {"strip": "7.9"}),
    "/measuring/wire": ("GET /measuring/wire", {"strip": "1.2"}),
    "/measuring/ring": ("GET /measuring/ring", {"chain": "102.5", "wire": "1.2 mm"}),
    "/measuring/coil": ("GET /measuring/coil", {"inside": "5.1"}),
    "/printers/new": ("POST /printers/look", STUDY),
    "/cut/machines/new": ("POST /cut/machines/look", LASER),
    "/drawer/mandrel": ("POST /drawer/mandrel", {"name": "rod 7", "measured": "7.02 mm"}),
    "/drawer/drill": ("POST /drawer/drill", {"name": "fine one", "diameter": "1.25 mm"}),
    "/drawer/blade": ("POST /drawer/blade", {"name": "2/0", "kerf": "0.28 mm"}),
    "/drawer/spool": ("POST /drawer/spool", {"name": "red reel", "wire": "1.2 mm", "metal": "copper", "length": "4 m"}),
    "/drawer/instrument": ("POST /drawer/instrument", {"name": "old caliper", "scatter": "0.05 mm"}),
    "/records/new": (
        "POST /records/new",
        {"wire": "1.2 mm", "metal": "copper", "mandrel": "5 mm", "blade": "2/0", "ring_inside": "5.2"},
    ),
    ORDER: (f"POST {ORDER}/check", {}),
}
# two readings that do not go together are both to blame
BOTH_TO_BLAME = {"/printers/new": "The two ways disagree"}


def answer_of(bench: Path, where: str, given: Mapping[str, str]) -> Answer:
    """What a view answers, called as the application calls it."""
    method, path = where.split(" ")
    found = find_route(method, path)
    assert found, where
    route, parts = found
    filled = {key: (value,) for key, value in given.items()}
    return route.answer(Asked(bench=bench, orders=bench / "orders", path=parts, given=filled, is_part=True))


def files(bench: Path) -> dict[Path, bytes]:
    return {path: path.read_bytes() for path in bench.rglob("*.toml")}


@pytest.fixture
def filled_bench(tmp_path: Path) -> Path:
    orders = tmp_path / "orders"
    orders.mkdir()
    (orders / "mine.toml").write_text(SHORT, encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize("form", FORMS)
def test_every_mistake_is_said_at_a_box_in_words_for_a_page(filled_bench: Path, form: str):
    where, right = FORMS[form]
    boxes = answer_of(filled_bench, f"GET {form.partition('?')[0]}", {}).values
    sent = {key: box.value for key, box in boxes["form"].boxes.items() if box.kind != "tick" or box.value}
    sent |= {"mark": boxes.get("mark", "")} | right
    before, wrong = files(filled_bench), list[Any]()
    for key, box in boxes["form"].boxes.items():
        for typed in MISTAKES if box.kind in ("text", "lines") else ():
            answer = answer_of(filled_bench, where, sent | {key: typed})
            if answer.goto:  # it may be right in this box: a name of a mandrel
                for path in files(filled_bench).keys() - before.keys():
                    path.unlink()
                continue
            after = answer.values["form"]
            said = [*after.faults, *(each.fault for each in after.boxes.values() if each.fault)]
            over = [words for words in after.faults if not words.startswith(BOTH_TO_BLAME.get(form, "\n"))]
            if over or any(map(OF_A_FILE_OR_COMMAND.search, said)) or after[key].value != typed:
                wrong.append((key, typed[:12], said))
            if typed.startswith("<"):
                assert typed not in render(
                    answer.part or answer.template, {"views": views(), "is_part": True, **answer.values}
                )
    assert wrong == []
    assert files(filled_bench) == before


def test_the_look_out_for_words_of_a_file_can_fail():
    for words in ("give --wire", "this [[ring]] has no size", "write it without quotes", 'cut = "saw"', "each_seat"):
        assert OF_A_FILE_OR_COMMAND.search(words)
