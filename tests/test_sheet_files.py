"""Sheets saved: whole or not at all, nothing of others overwritten, refusals that name what is in the way."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest
from every_sheet import Case, pages, pdf

from layouts.errors import FileRefused, UnknownName
from layouts.files.seal import sealed
from layouts.pages.sheet import repeated
from layouts.render import FORMATS, formats_in, save

PLAIN = Case(sheet="frame", variant="discs", paper="a5")


# ---------------------------------------------------------------------------------------------------------- saving


def test_pages_are_numbered_from_the_second(tmp_path: Path) -> None:
    made = save(repeated(pages(PLAIN), 3), tmp_path / "a.b", ("svg", "pdf"))
    assert [path.name for path in made] == ["a.b.svg", "a.b-2.svg", "a.b-3.svg", "a.b.pdf"]
    assert all(path.is_file() for path in made)


def test_folders_are_made_on_the_way(tmp_path: Path) -> None:
    (made,) = save(pages(PLAIN), tmp_path / "new" / "deeper" / "sheet", ("pdf",))
    assert made.read_bytes() == sealed(pdf(PLAIN), "pdf")


@pytest.mark.parametrize("form", FORMATS)
def test_an_older_sheet_is_replaced(tmp_path: Path, form: str) -> None:
    (path,) = save(pages(PLAIN), tmp_path / "sheet", (form,))
    first = path.read_bytes()
    save(pages(Case(sheet="frame", variant="every-mark", paper="a5")), tmp_path / "sheet", (form,))
    assert path.read_bytes() != first


@pytest.mark.parametrize("content", [b"my notes", b"", b"%PDF-1.7 of another maker"])
def test_a_file_that_is_no_sheet_of_ours_is_not_overwritten(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(content)
    with pytest.raises(
        FileRefused,
        match=r"sheet\.pdf is there already, and Coilwright did not write it or it has been changed",
    ):
        save(pages(PLAIN), tmp_path / "sheet", ("svg", "pdf"))
    assert path.read_bytes() == content
    assert [entry.name for entry in tmp_path.iterdir()] == ["sheet.pdf"]


def test_a_folder_in_the_way_is_refused(tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").mkdir()
    with pytest.raises(FileRefused, match=r"sheet\.pdf is a folder; write it somewhere else"):
        save(pages(PLAIN), tmp_path / "sheet", ("pdf",))


def test_a_file_where_a_folder_should_be_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("mine")
    with pytest.raises(FileRefused, match=r"cannot be (read|written): .*; write it somewhere else"):
        save(pages(PLAIN), tmp_path / "file" / "sheet", ("pdf",))


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_that_may_not_be_written_is_refused(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(FileRefused, match=r"cannot be written: Permission denied; write it somewhere else"):
            save(pages(PLAIN), tmp_path / "sheet", ("pdf",))
    finally:
        tmp_path.chmod(0o700)


def test_a_folder_that_refuses_is_named(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def refuse(**_: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("layouts.files.whole.tempfile.mkstemp", refuse)
    with pytest.raises(FileRefused, match=r"sheet\.pdf cannot be written: Permission denied; write it somewhere else"):
        save(pages(PLAIN), tmp_path / "sheet", ("pdf",))


@pytest.mark.parametrize("call", ["fsync", "replace", "chmod"])
@pytest.mark.parametrize("older", [False, True])
def test_a_disk_that_fails_leaves_what_was_there(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, call: str, older: bool
) -> None:
    if older:
        save(pages(PLAIN), tmp_path / "sheet", ("pdf",))
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}

    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(f"layouts.files.whole.os.{call}", fail)
    with pytest.raises(
        FileRefused, match=r"sheet\.pdf cannot be written: No space left on device; write it somewhere else"
    ):
        save(pages(Case(sheet="frame", variant="every-mark", paper="a5")), tmp_path / "sheet", ("pdf",))
    monkeypatch.undo()
    assert before == {path.name: path.read_bytes() for path in tmp_path.iterdir()}


def test_a_stop_by_the_user_leaves_no_half_written_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("layouts.files.whole.os.fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        save(pages(PLAIN), tmp_path / "sheet", ("pdf",))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.name != "posix", reason="modes are of POSIX")
def test_a_file_gets_the_mode_that_the_user_gives_new_files(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        (path,) = save(pages(PLAIN), tmp_path / "sheet", ("pdf",))
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_formats_are_read_once_each_in_the_order_given() -> None:
    assert formats_in("svg, PDF,svg") == ("svg", "pdf")


@pytest.mark.parametrize("words", ["", "pdf,", "ps", "pdf svg"])
def test_an_unknown_format_is_refused_with_the_known_ones(words: str) -> None:
    with pytest.raises(UnknownName, match=r"no format is called .*; known: .*pdf"):
        formats_in(words)
