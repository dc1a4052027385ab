"""The first page is kept for the next start, and is never one that is out of date."""

from __future__ import annotations

import os
import shutil
import stat
import sys
import time
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from page_server import PACKAGES, running

import jigs
from jigs.page.first import FirstPage

KEPT = b"<!-- kept -->"
SPOOL = '["red reel"]\nwire = "1.2 mm"\nmetal = "copper"\nlength = "4 m"\n'
OF_BENCH, OF_PROGRAM = "a-b", "a"  # marks: of a bench folder with something in it, and of one with nothing


@pytest.fixture
def beside(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where Python keeps what it compiled of the page, a folder of this test alone; not made yet."""
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "cache"))
    return Path(f"{tmp_path / 'cache'}{Path(jigs.__file__).parent / 'page'}")


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    path = tmp_path / "bench"
    path.mkdir()
    return path


def test_the_next_start_gives_the_same_page(bench: Path):
    (bench / "drills.toml").write_text('["1.3 mm"]\ndiameter = "1.30 mm"\n')
    with running(bench) as page:
        made = page.ask("/").body
        assert page.ask("/?wire=0.9+mm").body != made
    kept = FirstPage(bench)
    assert kept.kept(kept.mark()) == made
    kept.keep(kept.mark(), made + KEPT)
    with running(bench) as page:
        again = page.ask("/")
        assert (again.status, again.body) == (200, made + KEPT)
        assert again.headers["content-type"] == "text/html; charset=utf-8"
        assert "default-src 'none'" in again.headers["content-security-policy"]
        assert page.ask("/?wire=0.9+mm").status == 200

        spools = bench / "spools.toml"
        spools.write_text(SPOOL)
        assert "red reel" in page.ask("/").text
        spools.write_text('["red reel"]\nwire = "thick"\n')
        assert page.ask("/").status == 422  # a refusal is not kept
        spools.unlink()
        assert page.ask("/").body == made


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """A copy of the program, that may be changed; with its times, so that what Python compiled of it counts."""
    for name in ("jigs", "layouts"):
        shutil.copytree(PACKAGES / name, tmp_path / "program" / name, ignore=shutil.ignore_patterns("first.page"))
    return tmp_path / "program"


def first_page(bench: Path, program: Path) -> bytes:
    """Of a start of that program in that bench folder."""
    with running(bench, PYTHONPATH=str(program)) as page:
        return page.ask("/").body


def mark_what_is_kept(path: Path) -> None:
    """So that it is seen where a page came from."""
    head, _, page = path.read_bytes().partition(b"\n")
    page += KEPT
    path.write_bytes(b"%s %s\n%s" % (head.partition(b" ")[0], sha256(page).hexdigest().encode(), page))


def test_a_new_folder_has_the_page_of_every_empty_one(tmp_path: Path, program: Path):
    made = first_page(tmp_path / "one", program)
    (path,) = program.rglob("first.page")
    mark_what_is_kept(path)
    assert first_page(tmp_path / "two", program) == made + KEPT
    assert not (tmp_path / "two" / ".page.first").exists()

    spools = tmp_path / "two" / "spools.toml"
    spools.write_text(SPOOL)
    of_spool = first_page(tmp_path / "two", program)
    assert b"red reel" in of_spool
    assert first_page(tmp_path / "two", program) == of_spool
    spools.unlink()
    assert first_page(tmp_path / "two", program) == made + KEPT


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("jigs/page/templates/shell.html", ">Coilwright</p>", ">Coilwrought</p>"),
        ("jigs/tables/metals.toml", '"copper"', '"red copper"'),
        ("jigs/page/views/ring.py", "A ring that I want", "A ring that I wish for"),
    ],
)
def test_no_page_outlives_a_change_of_the_program(tmp_path: Path, program: Path, name: str, old: str, new: str):
    first_page(tmp_path / "one", program)
    (path,) = program.rglob("first.page")
    mark_what_is_kept(path)
    text = (program / name).read_text(encoding="utf-8")
    (program / name).write_text(text.replace(old, new), encoding="utf-8")
    changed = first_page(tmp_path / "two", program)
    assert new.strip('"').encode() in changed
    assert KEPT not in changed


def test_what_was_kept_counts_only_whole_and_under_its_mark(bench: Path, beside: Path):
    beside.mkdir(parents=True)
    first = FirstPage(bench)
    for mark, path in ((OF_BENCH, bench / ".page.first"), (OF_PROGRAM, beside / "first.page")):
        assert first.kept(mark) is None
        first.keep(mark, b"<p>page</p>\n")
        assert first.kept(mark) == b"<p>page</p>\n"
        assert first.kept(f"{mark}c") is None
        for damaged in (path.read_bytes()[:-1], path.read_bytes() + b"x", b"", b"a", b"\n", bytes(range(256))):
            path.write_bytes(damaged)
            assert first.kept(mark) is None
        path.unlink()
        path.mkdir()
        assert first.kept(mark) is None
    first.keep(OF_BENCH, b"page")  # where it cannot be written, nothing is kept, and nothing is said
    assert first.kept(OF_BENCH) is None


def test_where_the_program_s_own_folder_cannot_be_written_to_the_bench_keeps_it(bench: Path, beside: Path):
    first = FirstPage(bench)
    first.keep(OF_PROGRAM, b"page")  # that folder is not there
    assert (bench / ".page.first").exists()
    assert first.kept(OF_PROGRAM) == b"page"


def test_where_python_keeps_nothing_of_the_program_neither_does_the_page(
    bench: Path, beside: Path, monkeypatch: pytest.MonkeyPatch
):
    beside.mkdir(parents=True)
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    FirstPage(bench).keep(OF_PROGRAM, b"page")
    assert list(beside.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="files have no such modes here")
def test_what_is_kept_is_for_this_person_alone(bench: Path):
    FirstPage(bench).keep(OF_BENCH, b"page")
    assert stat.S_IMODE((bench / ".page.first").stat().st_mode) == 0o600


def test_a_change_of_the_program_or_of_the_bench_is_another_mark(
    tmp_path: Path, bench: Path, monkeypatch: pytest.MonkeyPatch
):
    program = tmp_path / "jigs"
    (program / "page").mkdir(parents=True)
    monkeypatch.setattr(jigs, "__file__", str(program / "__init__.py"))
    first = FirstPage(bench)
    empty = first.mark()
    seen = {empty}
    for path in (program / "page" / "a.html", program / "b.py", program / "c.toml", bench / "drills.toml"):
        for time_ns, words in enumerate(("a", "b", "bc")):
            path.write_text(words)
            os.utime(path, ns=(0, min(time_ns, 1)))  # so the last differs by its size alone
            assert first.mark() not in seen
            seen.add(first.mark())
        path.unlink()
        assert first.mark() == empty
    (bench / ".page.first").write_text("kept")
    assert first.mark() == empty


@pytest.mark.skipif(os.name != "posix", reason="the time of any change is not kept here")
def test_a_file_whose_time_was_set_back_is_another_one(bench: Path):
    first, marks = FirstPage(bench), set()
    for words in ("a", "b", "c"):
        (bench / "drills.toml").write_text(words)
        os.utime(bench / "drills.toml", ns=(0, 0))
        marks.add(first.mark())
        time.sleep(0.02)  # the clock of the files goes in steps
    assert len(marks) == 3


def test_what_cannot_be_looked_at_has_no_mark_and_is_not_kept(bench: Path):
    (bench / "drills.toml").symlink_to(bench / "nowhere")
    first = FirstPage(bench)
    assert first.mark() == ""
    first.keep("", b"page")
    assert first.kept("") is None
    assert FirstPage(bench / "not there").mark() == ""


def test_a_page_is_not_kept_that_was_made_while_something_changed(bench: Path, monkeypatch: pytest.MonkeyPatch):
    """A drill comes into the drawer after the mark was taken, and before the page is made."""
    from jigs.page import app
    from jigs.page.asked import Asked

    made = app._made_first

    def made_late(asked: Asked) -> Any:
        drills.write_text('["1.3 mm"]\ndiameter = "1.30 mm"\n')
        return made(asked)

    kept: list[bytes] = []
    drills, first = bench / "drills.toml", FirstPage(bench)
    monkeypatch.setattr(FirstPage, "kept", lambda self, mark: None)
    monkeypatch.setattr(FirstPage, "keep", lambda self, mark, page: kept.append(page))
    monkeypatch.setattr(app, "_made_first", made_late)
    app._first(first, Asked(bench=bench, orders=bench))
    assert kept == []
    monkeypatch.setattr(app, "_made_first", made)
    answered = app._first(first, Asked(bench=bench, orders=bench))
    assert kept == [bytes(answered.body)]
