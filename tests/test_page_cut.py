"""What is cut and what is printed as a solid, on the page: the command's files, a picture, and what is refused."""

from __future__ import annotations

import re
import sys
from dataclasses import replace
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from test_page_sheets import typed, written_by_the_command

from jigs.actions.machine import CouponReadings, list_machines, measure_machine
from jigs.cli import main
from jigs.guides.catalogue import AskedKind, cut_aids, find_cut_aid, find_solid_aid, solid_aids
from jigs.orders.example import example
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import cut, machines, order_cut, solids, views
from layouts.errors import UnknownName


def asked(bench: Path, aid: str, given: dict[str, tuple[str, ...]] | None = None, file: str = "") -> Asked:
    return Asked(bench=bench, path={"aid": aid, "file": file}, given=given or {}, is_part=True)


def text_of(answer: Answer) -> str:
    return render(answer.part, {"views": views(), "is_part": True, **answer.values})


def page_of(answer: Answer) -> str:
    return render(answer.template, {"views": views(), "is_part": False, **answer.values})


@pytest.mark.parametrize("name", [aid.name for aid in cut_aids()])
def test_every_file_to_cut_is_the_command_s(name: str, bench: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    aid = find_cut_aid(name)
    example = {key: words for key, words in aid.cut_examples[0].items() if key != "format"}
    files = written_by_the_command(monkeypatch, tmp_path, aid, example, "dxf,svg", "cut")
    given = typed(aid, example)
    for file, data in files.items():
        assert cut.send(asked(bench, name, given, file)).content == data
    shown = cut.show(asked(bench, name, given)).values
    assert sorted(file for file, _ in shown["files"]) == sorted(files)


@pytest.mark.parametrize("name", [aid.name for aid in cut_aids()])
def test_what_is_cut_is_a_form_with_its_parts_drawn(name: str, bench: Path):
    answer = cut.show(asked(bench, name))
    html = page_of(answer)
    fields = {field.key for field in find_cut_aid(name).fields_to_cut if field.kind is not AskedKind.FILE}
    for key in fields | {"material", "kerf", "machine", "sheet"}:
        assert f'name="{key}"' in html, key
    drawn = html[html.index('id="pages"') :]
    assert 'class="cut-lines"' in drawn
    assert " style=" not in drawn
    assert " id=" not in drawn[len('id="pages"') :].split("</form>")[0]
    assert "never left running alone" in html
    assert "check one size" in html


@pytest.mark.parametrize(
    ("name", "key", "words", "says"),
    [
        ("hole-plate", "outside", "wide", "wide"),
        ("hole-plate", "kerf", "0.18", "mm"),
        ("hole-plate", "sheet", "large", "300 mm x 200 mm"),
        ("hole-plate", "material", "PVC", "chlor"),
        ("step-strip", "machine", "no such one", "measure a machine first"),
        ("step-strip", "material_thickness", "", "such as 3 mm"),
    ],
)
def test_what_is_refused_is_said_and_stays_typed(name: str, key: str, words: str, says: str, bench: Path):
    aid = find_cut_aid(name)
    given = {**typed(aid, aid.cut_examples[0]), key: (words,)}
    if key == "machine":  # which knows its own
        del given["kerf"]
    answer = cut.show(asked(bench, name, given))
    form = answer.values["form"]
    assert says in form[key].fault or any(says in fault for fault in form.faults)
    assert form[key].value == words
    assert answer.values["sheets"] == []
    assert not re.search(r"--[a-z]|coilwright [a-z]", text_of(answer))


def test_a_measured_laser_is_offered_and_used(bench: Path):
    given = {"outside": ("7.4 mm",), "material": ("birch plywood",), "material_thickness": ("3 mm",)}
    plain = cut.send(asked(bench, "hole-plate", given, "hole-plate-mm.dxf")).content
    coupon = {"material": "birch plywood", "material_thickness": "3 mm", "gap": "1.6 mm..1.7 mm"}
    measure_machine(CouponReadings(name="school laser", **coupon), bench)  # type: ignore[arg-type]
    answer = cut.show(asked(bench, "hole-plate", given | {"machine": ("school laser",)}))
    assert "Made true for school laser" in text_of(answer)
    assert "school laser" in dict(answer.values["form"]["machine"].choices)
    true = cut.send(asked(bench, "hole-plate", given | {"machine": ("school laser",)}, "hole-plate-mm.dxf")).content
    assert true != plain


def test_a_machine_that_is_damaged_hides_nothing(bench: Path):
    bench.mkdir()
    (bench / "machines.toml").write_text("[[machine]\n")
    for view, name in ((cut, "hole-plate"), (solids, "coil-groove")):
        answer = view.show(asked(bench, name))
        assert "machines.toml" in answer.values["form"]["machine"].hint
        assert answer.values["files"]


def test_other_names_are_refused(bench: Path):
    for view, aid, file in ((cut, "hole-plate", "x.dxf"), (solids, "coil-groove", "../x.stl"), (cut, "ring-card", "")):
        with pytest.raises(UnknownName):
            view.send(asked(bench, aid, None, file)) if file else view.show(asked(bench, aid))


@pytest.mark.parametrize(("name", "formats"), [("coil-groove", "3mf,pdf"), ("drill-block", "stl")])
def test_every_file_of_a_solid_is_the_command_s(
    name: str, formats: str, bench: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    aid = find_solid_aid(name)
    example = {key: words for key, words in aid.solid_examples[0].items() if key != "format"}
    files = written_by_the_command(monkeypatch, tmp_path, aid, example, formats, "solid")
    assert len(files) == len(formats.split(","))
    for file, data in files.items():
        assert solids.send(asked(bench, name, typed(aid, example), file)).content == data


def test_a_solid_is_a_form_with_its_picture(bench: Path):
    answer = solids.show(asked(bench, "coil-groove"))
    html = page_of(answer)
    for key in {field.key for field in find_solid_aid("coil-groove").fields} | {"machine", "material", "paper"}:
        assert f'name="{key}"' in html, key
    assert "as it lies on the bed" in html
    assert "at 100 %, as it lies" in html
    refused = solids.show(asked(bench, "coil-groove", {"coil_outside": ("wide",)}))
    assert "wide" in refused.values["form"]["coil_outside"].fault
    assert refused.values["pages"] == []


def test_the_lists_show_every_aid(bench: Path):
    html = page_of(cut.show_all(Asked(bench=bench)))
    assert all(f'href="/cut/{aid.name}"' in html for aid in cut_aids())
    html = page_of(solids.show_all(Asked(bench=bench)))
    assert all(f'href="/solids/{aid.name}"' in html for aid in solid_aids())


LASER = {"name": "school laser", "material": "birch plywood", "material_thickness": "3", "gap": "1.6 mm..1.7 mm"}


def filled(bench: Path, **given: str) -> Asked:
    return Asked(bench=bench, given={key: (words,) for key, words in given.items()}, is_part=True)


def test_a_machine_is_measured_seen_kept_and_forgotten(bench: Path):
    assert "kerf" in text_of(machines.show_new(filled(bench, **LASER)))
    assert list_machines(bench) == ()  # looking keeps nothing
    goto = machines.keep(filled(bench, **LASER)).goto
    (kept,) = list_machines(bench)
    assert (kept.name, kept.kind, kept.thickness_mm) == ("school laser", "laser", 3.0)
    which = {key: words for key, (words,) in parse_qs(urlsplit(goto).query).items()}
    assert "kerf" in page_of(machines.show_one(filled(bench, **which)))
    assert "school laser" in page_of(machines.show_all(filled(bench)))
    machines.forget(filled(bench, **which))
    assert list_machines(bench) == ()


@pytest.mark.parametrize(
    ("key", "words", "says"),
    [
        ("name", "", "Give the name"),
        ("material", "", "what was cut or printed"),
        ("gap", "wide", "wide"),
        ("hole", "4.1 mm", "of 5 mm"),
        ("material_thickness", "three", "three"),
    ],
)
def test_a_machine_that_is_refused_is_not_kept(key: str, words: str, says: str, bench: Path):
    answer = machines.keep(filled(bench, **LASER | {key: words}))
    form = answer.values["form"]
    assert answer.status == 422
    assert says in form[key].fault or any(says in fault for fault in form.faults)
    assert form[key].value == words
    assert list_machines(bench) == ()


def test_a_worse_coupon_takes_a_tick(bench: Path):
    machines.keep(filled(bench, **LASER))
    worse = LASER | {"gap": "", "hole": "4.1 mm..4.6 mm of 4 mm"}
    refused = machines.keep(filled(bench, **worse))
    assert "Save it anyway" in refused.values["form"]["save_anyway"].fault
    assert machines.keep(filled(bench, **worse, save_anyway="yes")).goto


@pytest.fixture
def orders(tmp_path: Path) -> Path:
    folder = tmp_path / "orders"
    folder.mkdir()
    (folder / "mine.toml").write_text(example(for_class=False), encoding="utf-8")
    return folder


def test_the_pieces_of_an_order_are_the_command_s(
    orders: Path, bench: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    given = {"tool": "knife", "sheet": "a4", "material": "card"}
    words = [f"--{key}={value}" for key, value in given.items()]
    order, out = str(orders / "mine.toml"), tmp_path / "out"
    words = ["coilwright", "cut", "pieces", order, *words, f"--out={out}/", f"--bench={bench}", "--format=dxf,svg"]
    monkeypatch.setattr(sys, "argv", words)
    out.mkdir()
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0
    here = Asked(bench=bench, orders=orders, path={"order": "mine.toml"})
    shown = order_cut.show(here)
    assert sorted(name for name, _ in shown.values["files"]) == sorted(path.name for path in out.iterdir())
    assert "card" in page_of(shown)
    for path in list(out.iterdir())[:3]:
        sent = order_cut.send(replace(here, path={"order": "mine.toml", "file": path.name}))
        assert sent.content == path.read_bytes()


def test_an_order_that_cannot_be_planned_has_no_pieces_and_says_why(orders: Path, bench: Path):
    (orders / "mine.toml").write_text("[[ring", encoding="utf-8")
    answer = order_cut.show(Asked(bench=bench, orders=orders, path={"order": "mine.toml"}))
    assert any(fault.startswith("Line 1") for fault in answer.values["form"].faults)
    assert answer.values["sheets"] == []


def test_of_several_mistakes_each_is_said_at_its_own_box(bench: Path):
    answer = cut.show(asked(bench, "step-strip", {"inside": ("5 mm",), "material": ("PVC",)}))  # and no thickness
    assert "never cut PVC" in answer.values["form"]["material"].fault
    assert answer.values["form"].faults == []
    lacking = cut.show(asked(bench, "step-strip", {"inside": ("5 mm",), "material": ("birch plywood",)}))
    assert "fill in “Its thickness”" in lacking.values["form"]["material_thickness"].fault
