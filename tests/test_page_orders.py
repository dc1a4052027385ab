"""Orders on the page: made, taken in, changed with comments kept, never over a change made elsewhere; plan, pack."""

from __future__ import annotations

import difflib
import re
import sys
import time
from html import unescape
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs

import pytest

from jigs.actions.order_files import change_order, open_order, order_path, take_in_order
from jigs.cli import main
from jigs.orders.example import example
from jigs.orders.fields import TABLES
from jigs.page.asked import Answer, Asked
from jigs.page.templating import render
from jigs.page.views import order_pack, orders, views
from layouts.errors import FileRefused
from layouts.files.faults import FileFaulty

NAME = "bracelet.toml"


@pytest.fixture
def folder(bench: Path) -> Path:
    """A folder with the example in it."""
    path = bench / "orders"
    path.mkdir(parents=True)
    (path / NAME).write_text(example(), encoding="utf-8")
    return path


def asked(bench: Path, body: bytes = b"", path: dict[str, str] | None = None, **given: str) -> Asked:
    return Asked(
        bench=bench,
        orders=bench / "orders",
        path={"order": NAME} | (path or {}),
        given={key: (value,) for key, value in given.items()},
        body=body,
        is_part=True,
    )


def filled(bench: Path, **changes: str) -> dict[str, str]:
    """What the form sends: every box as it is shown, with some changed."""
    form = orders.show(asked(bench)).values["form"]
    sent = {key: box.value for key, box in form.boxes.items() if box.kind != "tick" or box.value}
    mark = open_order(bench / "orders" / NAME).mark
    return sent | {"mark": mark} | {key.replace("__", "."): value for key, value in changes.items()}


def saved(bench: Path, **changes: str) -> Answer:
    return orders.save(asked(bench, **filled(bench, **changes)))


def changed_lines(folder: Path) -> list[str]:
    after = (folder / NAME).read_text(encoding="utf-8")
    lines = difflib.unified_diff(example().splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in lines if not line.startswith(("---", "+++", "@@"))]


def test_the_fields_are_the_keys_of_the_example():
    """The example shows every key that there is."""
    said = set(re.findall(r"^(?:#\s*)?([a-z_]+) = ", example(), re.MULTILINE))
    known = {field.key for fields in TABLES.values() for field in fields}
    assert said <= known
    assert [key for key in known if not re.search(rf"\b{key}\b", example())] == []


def test_every_field_of_every_table_is_read_by_the_reader_of_orders():
    """No field is one that the reader does not know."""
    from jigs.orders.reading import order_of

    for table, fields in TABLES.items():
        text = example() + (f"\n[[{table}]]\n" if table in ("ring", "supply") else "")
        for field in fields:
            if table in ("making", "print", ""):
                continue
            with pytest.raises(FileFaulty) as refused:
                order_of(f"{text}{field.key} = [[]]\n")
            assert not any("no key is called" in fault.wrong for fault in refused.value.faults), field.key


def test_saving_what_is_shown_changes_nothing(folder: Path, bench: Path):
    assert saved(bench).goto == "/orders/bracelet.toml?saved=yes"
    assert (folder / NAME).read_text(encoding="utf-8") == example()


def test_a_change_is_that_line_alone_and_its_comment_stays(folder: Path, bench: Path):
    saved(bench, seats="9", ring__0__inside="5.1 mm", print__landscape="yes")
    lines = changed_lines(folder)
    assert [line for line in lines if line.startswith("-")] == [
        "-seats = 8                       # how many make it; 1 when left out",
        '-inside = "5.0 mm"               # of the closed ring; or outside = "7.4 mm", or ratio = 4.2 (inside / wire)',
    ]
    assert [line for line in lines if line.startswith("+") and "landscape" not in line] == [
        "+seats = 9                       # how many make it; 1 when left out",
        '+inside = "5.1 mm"               # of the closed ring; or outside = "7.4 mm", or ratio = 4.2 (inside / wire)',
    ]
    assert "+landscape = true" in lines


def test_an_emptied_box_takes_its_line_out(folder: Path, bench: Path):
    saved(bench, ring__0__weave="")
    assert [line[:12] for line in changed_lines(folder)] == ['-weave = "ch']


def test_a_ring_is_added_and_taken_out(folder: Path, bench: Path):
    new = {"name": "small ring", "wire": "1.2 mm", "metal": "phosphor bronze", "inside": "3 mm", "count": "10"}
    assert saved(bench, **{f"ring__2__{key}": value for key, value in new.items()}).goto
    assert open_order(folder / NAME).values[("ring", 2, "name")] == "small ring"
    assert all(line.startswith("+") for line in changed_lines(folder))
    assert saved(bench, drop__ring__2="yes").goto
    assert [line for line in changed_lines(folder) if line.strip("+-")] == []


def test_taking_a_ring_out_keeps_the_comments_of_the_others(folder: Path, bench: Path):
    saved(bench, drop__ring__1="yes", drop__supply__1="yes")
    opened = open_order(folder / NAME)
    assert (opened.rings, opened.supplies) == (1, 1)
    text = (folder / NAME).read_text(encoding="utf-8")
    for comment in ("# Instead of a number, a length.", "# left out, the coarsest", "# how a wire is bought"):
        assert comment in text


def test_a_list_is_typed_one_a_line(folder: Path, bench: Path):
    saved(bench, supply__0__lengths="10 m\r\n5 m\r\n")
    assert open_order(folder / NAME).values[("supply", 0, "lengths")] == ("10 m", "5 m")


@pytest.mark.parametrize(
    ("box", "typed", "says"),
    [
        ("ring__0__wire", "18", "18 AWG"),
        ("ring__0__wire", "", "Give the wire"),
        ("seats", "many", "whole number"),
        ("making__spares", "15", "percent"),
        ("ring__0__metal", "unobtainium", "metal"),
        ("supply__0__price", "cheap", "price"),
        ("ring__1__inside", "9.8", "mm"),
        ("print__paper", "a9", "paper"),
    ],
)
def test_what_is_refused_is_said_at_its_box_and_nothing_is_written(
    folder: Path, bench: Path, box: str, typed: str, says: str
):
    before = (folder / NAME).read_bytes()
    for answer in (saved(bench, **{box: typed}), orders.check(asked(bench, **filled(bench, **{box: typed})))):
        form = answer.values["form"]
        found = form[box.replace("__", ".")]
        assert says.casefold() in found.fault.casefold()
        assert found.value == typed
        assert answer.goto == ""
    assert (folder / NAME).read_bytes() == before


def test_a_fault_of_a_whole_table_stands_at_its_first_box_and_one_of_the_order_over_the_form(folder: Path, bench: Path):
    form = saved(bench, ring__1__name="chain ring").values["form"]
    assert "two rings are called chain ring" in form["ring.1.name"].fault.casefold()
    none = saved(bench, drop__ring__0="yes", drop__ring__1="yes", drop__supply__0="yes", drop__supply__1="yes")
    assert "no ring" in none.values["form"].faults[0]


def test_a_change_made_elsewhere_is_never_overwritten(folder: Path, bench: Path):
    sent = filled(bench, seats="9")
    other = example().replace("Chain bracelet", "Another")
    (folder / NAME).write_text(other, encoding="utf-8")
    answer = orders.save(asked(bench, **sent))
    assert "has been changed since it was opened" in answer.values["form"].faults[0]
    assert answer.values["form"]["seats"].value == "9"
    assert (folder / NAME).read_text(encoding="utf-8") == other
    assert "has been changed" in orders.check(asked(bench, **sent)).values["form"].faults[0]
    again = orders.save(asked(bench, **sent))  # and not by pressing Save again
    assert again.goto == ""


def test_two_changes_at_once_lose_nothing(folder: Path, bench: Path):
    from concurrent.futures import ThreadPoolExecutor

    mark = open_order(folder / NAME).mark

    def change(number: int) -> bool:
        try:
            change_order(folder / NAME, mark, {("seats",): str(number)}, bench)
        except FileRefused:
            return False
        return True

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(change, range(10, 18))) == 1


def test_a_damaged_order_is_shown_as_text_with_what_is_wrong(folder: Path, bench: Path):
    (folder / NAME).write_text("[[ring", encoding="utf-8")
    answer = orders.show(asked(bench))
    assert answer.template == "order_text.html"
    assert answer.values["faults"] == ("Line 1: the brackets of this header do not match; write [[ring]].",)


def test_a_damaged_file_of_the_bench_is_not_taken_for_the_order(folder: Path, bench: Path):
    (bench / "spools.toml").write_text("\n[broken\n", encoding="utf-8")
    where = f"Line 2 of {bench / 'spools.toml'}: "
    assert orders.show(asked(bench)).values["form"].faults[0].startswith(where)
    assert orders.show_plan(asked(bench)).values["faults"][0].startswith(where)
    assert finished(bench)["faults"][0].startswith(where)


def test_what_a_pack_was_to_be_stays_filled_in(folder: Path, bench: Path):
    goto = order_pack.start(asked(bench, hand="left", date="3 March")).goto
    again = {key: values[-1] for key, values in parse_qs(goto.partition("?")[2]).items()}
    shown = order_pack.follow(asked(bench, path={"job": goto.partition("?")[0].rpartition("/")[2]}, **again))
    assert (shown.values["form"]["hand"].value, shown.values["form"]["date"].value) == ("left", "3 March")


def test_a_new_order_is_ready_to_plan(bench: Path):
    for name, whom in (("mine", "one"), ("ours.toml", "class")):
        answer = orders.make(asked(bench, name=name, whom=whom))
        made = answer.goto.removeprefix("/orders/")
        assert orders.show_plan(asked(bench, path={"order": made})).values["faults"] == ()
    assert "is there already" in orders.make(asked(bench, name="mine")).values["form"]["name"].fault


@pytest.mark.parametrize("name", ["../mine", "a/b", "a\\b", ".hidden", "", "con", "a\0b", "x" * 200])
def test_no_name_leads_out_of_the_folder(bench: Path, name: str):
    answer = orders.make(asked(bench, name=name))
    assert answer.values["form"]["name"].fault
    assert not bench.exists() or [path for path in bench.rglob("*") if path.is_file() and path.name[0] != "."] == []
    with pytest.raises(FileRefused):
        order_path(bench / "orders", f"{name}.toml" if name != "con" else "con.toml")


def test_an_order_is_taken_in_through_the_same_guards(folder: Path, bench: Path):
    answer = orders.take_in(asked(bench, example().encode(), name="other.toml"))
    assert answer.goto == "/orders/other.toml"
    assert (folder / "other.toml").read_text(encoding="utf-8") == example()
    refused = {
        "other.toml": example().encode(),
        "big.toml": b"#" * 300_000,
        "latin.toml": b"title = '\xe9'",
        "broken.toml": b"[[ring",
        "deep.toml": b"a = " + b"[" * 5000,
        "page.html": b"<script>",
    }
    for name, data in refused.items():
        assert orders.take_in(asked(bench, data, name=name)).values["form"]["file"].fault, name
    assert sorted(path.name for path in folder.glob("*.*") if path.name[0] != ".") == [NAME, "other.toml"]
    assert take_in_order(folder, "third.toml", b"title = 'x'\n").exists()


def test_a_file_that_is_no_form_opens_as_text_and_is_mended_there(folder: Path, bench: Path):
    (folder / NAME).write_text("title = broken\n", encoding="utf-8")
    answer = orders.show(asked(bench))
    assert answer.template == "order_text.html"
    mark = answer.values["mark"]
    refused = orders.save_text(asked(bench, mark=mark, text="title = still broken"))
    assert refused.values["faults"][0].startswith("Line 1:")
    assert refused.values["text"] == "title = still broken"
    assert orders.save_text(asked(bench, mark=mark, text=example())).goto.endswith("text?saved=yes")
    assert (folder / NAME).read_text(encoding="utf-8") == example()


def said_by_the_command(monkeypatch: pytest.MonkeyPatch, capsys: Any, *words: str) -> str:
    monkeypatch.setattr(sys, "argv", ["coilwright", *words])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0
    return str(capsys.readouterr().out)


def test_the_plan_says_what_the_command_says_and_its_files_are_the_same(
    folder: Path, bench: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    order = str(folder / NAME)
    values = orders.show_plan(asked(bench)).values
    html = render("order_plan.html", {"views": views(), "is_part": False, **values})
    shown = re.sub(r"[−–-]", "-", unescape(re.sub(r"<[^>]+>", " ", html))).split()
    said = re.sub(r"[-–]{2,}", "", said_by_the_command(monkeypatch, capsys, "plan", order)).replace("CAUTION:", "")
    assert {word for word in said.replace("×", "x").split() if word not in shown} - {"x", "-", "/", "pi"} <= {
        word
        for word in said.split()
        if word[:1].islower()  # a caution begins with a capital on the page
    }
    for kind, words in (("json", ["--json"]), ("csv", ["--csv"])):
        answer = orders.send_plan(asked(bench, path={"kind": kind}))
        assert answer.content.decode() == said_by_the_command(monkeypatch, capsys, "plan", order, *words)
        assert answer.file_name == f"bracelet.{kind}"
    comma = orders.send_plan(asked(bench, path={"kind": "csv"}, decimal="comma"))
    assert comma.content.decode() == said_by_the_command(
        monkeypatch, capsys, "plan", order, "--csv", "--decimal", "comma"
    )


def test_a_faulty_order_has_no_plan_and_says_why(folder: Path, bench: Path):
    (folder / NAME).write_text(example().replace('inside = "5.0 mm"', 'inside = "5.0"'), encoding="utf-8")
    answer = orders.show_plan(asked(bench))
    assert answer.status == 422
    assert answer.values["faults"][0].startswith("Line ")
    assert str(folder) not in answer.values["faults"][0]


def finished(bench: Path, **given: str) -> dict[str, Any]:
    """A pack that was asked for, once it is over."""
    goto = order_pack.start(asked(bench, **given)).goto
    for _ in range(600):
        values = dict(order_pack.follow(asked(bench, path={"job": goto.partition("?")[0].rpartition("/")[2]})).values)
        if values["job"].is_over:
            return values
        time.sleep(0.05)
    raise AssertionError("it takes too long")


def test_a_pack_is_the_command_s_byte_for_byte(folder: Path, bench: Path, monkeypatch: Any, capsys: Any):
    small = example(for_class=False)
    (folder / NAME).write_text(small, encoding="utf-8")
    values = finished(bench, paper="letter", hand="left", sets="once")
    made = values["job"].made
    out = folder / "pack.pdf"
    words = ("--paper", "letter", "--hand", "left", "--sets", "once", "--out", str(out))
    said_by_the_command(monkeypatch, capsys, "pack", str(folder / NAME), *words)
    path = {"job": values["job"].name, "file": "bracelet-pack.pdf"}
    assert order_pack.send(asked(bench, path=path)).content == out.read_bytes()
    html = render("order_pack_live.html", {"views": views(), "is_part": True, **values})
    assert f"{len(made.packed.pack.pages)} pages" in html
    assert "What is where" in html or "ring card" in html


def test_a_pack_that_cannot_be_made_says_why(folder: Path, bench: Path):
    assert "printer" in finished(bench, card="card 160 g")["faults"][0]
    (folder / NAME).write_text("seats = 0\n", encoding="utf-8")
    assert finished(bench)["faults"][0].startswith("Line 1")
