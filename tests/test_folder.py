"""The bench folder's files: read, changed without loss, and left alone when damaged."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from layouts.errors import FileRefused, OutOfRange
from layouts.files import folder as module
from layouts.files.entries import Entries
from layouts.files.folder import Folder

NAME = "things.toml"
WRITTEN = """# my own words
b = 2   # the second
a = 1

# about the rod
["rod 7"]
size = "7 mm"
"""


def never_refuse(top: Entries) -> None:
    """No check."""


def setting(key: str, value: Any) -> Callable[[Any], None]:
    def change(document: Any) -> None:
        document[key] = value

    return change


@pytest.fixture
def folder(tmp_path: Path) -> Folder:
    (tmp_path / NAME).write_text(WRITTEN, encoding="utf-8")
    return Folder(path=tmp_path)


def text(folder: Folder) -> str:
    return (folder.path / NAME).read_text(encoding="utf-8")


def others(folder: Folder) -> list[str]:
    return sorted(path.name for path in folder.path.iterdir() if path.name not in (NAME, module.LOCK))


def test_a_file_that_is_not_there_reads_as_empty(tmp_path: Path) -> None:
    assert Folder(path=tmp_path / "none").read(NAME).data == {}
    assert not (tmp_path / "none").exists()


def test_files_are_listed_by_name_and_hidden_ones_left_out(folder: Folder) -> None:
    for name in ("b.toml", "a.toml", ".c.toml", "d.txt"):
        (folder.path / name).touch()
    assert [path.name for path in folder.files()] == ["a.toml", "b.toml", NAME]


def test_a_change_keeps_comments_and_order(folder: Folder) -> None:
    folder.edit(NAME, setting("a", 5), never_refuse)
    assert text(folder) == WRITTEN.replace("a = 1", "a = 5")


def test_a_new_file_begins_with_its_head_and_its_folder_is_made(tmp_path: Path) -> None:
    new = Folder(path=tmp_path / "deep" / "bench")
    new.edit(NAME, setting("a", 1), never_refuse, "# what it is\n")
    assert text(new) == "# what it is\na = 1\n"


def test_line_endings_of_another_system_survive(folder: Folder) -> None:
    path = folder.path / NAME
    path.write_bytes(WRITTEN.replace("\n", "\r\n").encode())
    folder.edit(NAME, setting("a", 5), never_refuse)
    assert path.read_bytes() == WRITTEN.replace("a = 1", "a = 5").replace("\n", "\r\n").encode()


def test_a_link_to_the_file_stays_a_link(folder: Folder, tmp_path: Path) -> None:
    link = folder.path / "link.toml"
    link.symlink_to(folder.path / NAME)
    folder.edit("link.toml", setting("a", 5), never_refuse)
    assert link.is_symlink()
    assert "a = 5" in text(folder)


@pytest.mark.parametrize(
    ("damaged", "refusal"),
    [
        (b"a = 1\nb = = 2\n", "toml:2: one equals sign is enough; write b = 2"),
        (b"a = 1\nb =", "toml:2: there is nothing after the equals sign"),
        (b"a = 1\na = 2\n", "toml:2: this key or table is here for a second time"),
        (b'a = 1\n\nb = "\xff"\n', "toml:3: there is a byte here that is not UTF-8 text; save the file as UTF-8"),
    ],
)
def test_a_damaged_file_is_refused_with_line_and_reason_and_left_alone(
    folder: Folder, damaged: bytes, refusal: str
) -> None:
    path = folder.path / NAME
    path.write_bytes(damaged)
    with pytest.raises(FileRefused, match=refusal):
        folder.read(NAME)
    with pytest.raises(FileRefused, match=refusal):
        folder.edit(NAME, setting("a", 3), never_refuse)
    assert path.read_bytes() == damaged


def test_a_change_that_its_check_refuses_is_not_written(folder: Folder) -> None:
    def check(top: Entries) -> None:
        if top.data["a"] == 5:
            top.fault("a is five", "make it six", "a")
        top.book.finish()

    with pytest.raises(FileRefused, match=r"things\.toml:3: a is five; make it six"):
        folder.edit(NAME, setting("a", 5), check)
    assert text(folder) == WRITTEN


def test_a_change_that_fails_writes_nothing_and_frees_the_lock(folder: Folder) -> None:
    def fail(document: Any) -> None:
        document["a"] = 9
        raise OutOfRange("no", "yes")

    with pytest.raises(OutOfRange):
        folder.edit(NAME, fail, never_refuse)
    assert text(folder) == WRITTEN
    folder.edit(NAME, setting("a", 5), never_refuse)


def test_a_full_disk_loses_nothing_and_leaves_nothing_behind(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(descriptor: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileRefused, match="No space left on device; make the folder writable, or name another"):
        folder.edit(NAME, setting("a", 5), never_refuse)
    assert text(folder) == WRITTEN
    assert others(folder) == []


def test_a_write_killed_at_its_last_step_leaves_the_old_file_whole(folder: Folder) -> None:
    code = f"""
import os, sys
from pathlib import Path
from layouts.files.folder import Folder
os.replace = lambda *paths: os._exit(9)
def change(document):
    document["a"] = 5
Folder(path=Path({str(folder.path)!r})).edit({NAME!r}, change, lambda document: None)
"""
    killed = subprocess.run([sys.executable, "-c", code], check=False)
    assert killed.returncode == 9
    assert text(folder) == WRITTEN
    folder.edit(NAME, setting("a", 6), never_refuse)  # the dead program's lock holds nobody up
    assert "a = 6" in text(folder)


def test_a_folder_that_cannot_be_written_is_refused(folder: Folder) -> None:
    below_a_file = Folder(path=folder.path / NAME / "bench")
    with pytest.raises(FileRefused, match=r"cannot be written to: .*; make the folder writable, or name another"):
        below_a_file.edit(NAME, setting("a", 5), never_refuse)


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="nothing is read-only to root")
def test_a_read_only_folder_is_read_and_not_written(folder: Folder) -> None:
    folder.path.chmod(0o555)
    try:
        assert folder.read(NAME).data["a"] == 1
        with pytest.raises(FileRefused, match="make the folder writable"):
            folder.edit(NAME, setting("a", 5), never_refuse)
    finally:
        folder.path.chmod(0o755)
    assert text(folder) == WRITTEN


def test_a_read_only_disk_is_read_and_not_written(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> int:
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    monkeypatch.setattr(tempfile, "mkstemp", refuse)
    assert folder.read(NAME).data["a"] == 1
    with pytest.raises(FileRefused, match="Read-only file system"):
        folder.edit(NAME, setting("a", 5), never_refuse)
    assert text(folder) == WRITTEN


def test_a_change_waits_for_another_and_gives_up_in_the_end(folder: Folder, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "PATIENCE_S", 0.05)

    def change(document: Any) -> None:
        with pytest.raises(FileRefused, match=r"another program is writing to .*; try again in a moment"):
            folder.edit(NAME, setting("b", 3), never_refuse)
        document["a"] = 5

    folder.edit(NAME, change, never_refuse)
    assert text(folder) == WRITTEN.replace("a = 1", "a = 5")


def test_many_programs_at_once_lose_nothing(folder: Folder) -> None:
    code = f"""
import sys
import tempfile
from pathlib import Path
from layouts.files.folder import Folder
folder = Folder(path=Path({str(folder.path)!r}))
for number in range(15):
    def change(document):
        document[f"k{{sys.argv[1]}}-{{number}}"] = number
        document["count"] = document.get("count", 0) + 1
    folder.edit("shared.toml", change, lambda document: None)
"""
    programs = [subprocess.Popen([sys.executable, "-c", code, str(n)]) for n in range(4)]
    assert [program.wait() for program in programs] == [0, 0, 0, 0]
    data = folder.read("shared.toml").data
    assert data["count"] == 60
    assert len(data) == 61
