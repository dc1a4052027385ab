"""The first page is kept for the next start, and is never one that is out of date."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest
from page_server import running

import jigs
from jigs.page.first import FirstPage


def test_the_next_start_gives_the_same_page(tmp_path: Path):
    with running(tmp_path / "bench") as page:
        made = page.ask("/").body
        assert page.ask("/?wire=0.9+mm").body != made
    kept = FirstPage(tmp_path / "bench")
    assert kept.kept(kept.mark()) == made
    kept.keep(kept.mark(), made + b"<!-- kept -->")
    with running(tmp_path / "bench") as page:
        again = page.ask("/")
        assert (again.status, again.body) == (200, made + b"<!-- kept -->")
        assert again.headers["content-type"] == "text/html; charset=utf-8"
        assert "default-src 'none'" in again.headers["content-security-policy"]
        assert page.ask("/?wire=0.9+mm").status == 200

        spools = tmp_path / "bench" / "spools.toml"
        spools.write_text('["red reel"]\nwire = "1.2 mm"\nmetal = "copper"\nlength = "4 m"\n')
        assert "red reel" in page.ask("/").text
        spools.write_text('["red reel"]\nwire = "thick"\n')
        assert page.ask("/").status == 422  # a refusal is not kept
        spools.unlink()
        assert page.ask("/").body == made


def test_what_was_kept_counts_only_whole_and_under_its_mark(tmp_path: Path):
    first = FirstPage(tmp_path)
    assert first.kept("a") is None
    first.keep("a", b"<p>page</p>\n")
    assert first.kept("a") == b"<p>page</p>\n"
    assert first.kept("b") is None
    path = tmp_path / ".page.first"
    for damaged in (path.read_bytes()[:-1], path.read_bytes() + b"x", b"", b"a", b"\n", bytes(range(256))):
        path.write_bytes(damaged)
        assert first.kept("a") is None
    path.unlink()
    path.mkdir()
    assert first.kept("a") is None
    first.keep("a", b"page")  # where it cannot be written, nothing is kept, and nothing is said


@pytest.mark.skipif(os.name != "posix", reason="files have no such modes here")
def test_what_is_kept_is_for_this_person_alone(tmp_path: Path):
    FirstPage(tmp_path).keep("a", b"page")
    assert stat.S_IMODE((tmp_path / ".page.first").stat().st_mode) == 0o600


def test_a_change_of_the_program_or_of_the_bench_is_another_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    program, bench = tmp_path / "jigs", tmp_path / "bench"
    (program / "page").mkdir(parents=True)
    bench.mkdir()
    monkeypatch.setattr(jigs, "__file__", str(program / "__init__.py"))
    first = FirstPage(bench)
    empty = first.mark()
    seen = {empty}
    for path in (program / "page" / "a.html", program / "b.py", program / "c.toml", bench / "drills.toml"):
        for time, words in enumerate(("a", "b", "bc")):
            path.write_text(words)
            os.utime(path, ns=(0, min(time, 1)))  # so the last differs by its size alone
            assert first.mark() not in seen
            seen.add(first.mark())
        path.unlink()
        assert first.mark() == empty
    (bench / ".page.first").write_text("kept")
    assert first.mark() == empty
