"""Files that are written: whole, under names that every system takes, and only over what may be overwritten."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from io import BytesIO
from pathlib import Path
from xml.etree import ElementTree

import pytest
from every_sheet import Case, pages
from PIL import Image
from pypdf import PdfReader

from layouts.errors import FileRefused
from layouts.files.names import refuse_names
from layouts.files.seal import is_ours, sealed
from layouts.files.whole import write_outputs, write_whole
from layouts.render import FORMATS, save

PLAIN = pages(Case(sheet="frame", variant="every-mark", paper="a5"))


def allow(path: Path) -> bool:
    return True


# --- the seal


@pytest.mark.parametrize("form", FORMATS)
def test_a_sheet_knows_itself_unchanged_and_no_longer_once_a_byte_differs(tmp_path: Path, form: str) -> None:
    (path,) = save(PLAIN, tmp_path / "sheet", (form,))
    data = path.read_bytes()
    assert is_ours(data)
    for at in (20, len(data) // 2, len(data) - 2):
        assert not is_ours(data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :])
    assert not is_ours(data + b"x")


@pytest.mark.parametrize("data", [b"", b"Coilwright", b"%Coilwright sha256:" + b"0" * 64 + b"\n", b"my notes"])
def test_the_name_alone_makes_no_file_ours(data: bytes) -> None:
    assert not is_ours(data)


@pytest.mark.parametrize("form", FORMATS)
def test_a_sealed_file_reads_as_before(tmp_path: Path, form: str) -> None:
    (path,) = save(PLAIN, tmp_path / "sheet", (form,))
    data = path.read_bytes()
    if form == "pdf":
        assert len(PdfReader(BytesIO(data), strict=True).pages) == 1
    elif form == "svg":
        assert ElementTree.fromstring(data).tag.endswith("svg")
    else:
        picture = Image.open(BytesIO(data))
        picture.load()
        assert picture.info["Coilwright"].startswith("sha256:")  # the chunk and its check sum are sound


def test_a_format_without_room_for_a_seal_stays_as_it_is() -> None:
    assert sealed(b"a,b\n", "csv") == b"a,b\n"


# --- over what


def test_a_changed_sheet_is_replaced_only_when_that_is_allowed(tmp_path: Path) -> None:
    (path,) = save(PLAIN, tmp_path / "sheet", ("svg",))
    sheet = path.read_bytes()
    path.write_bytes(sheet.replace(b"</svg>", b"<!-- mine --></svg>"))
    changed = path.read_bytes()
    with pytest.raises(FileRefused, match="did not write it or it has been changed since"):
        save(PLAIN, tmp_path / "sheet", ("svg",))
    assert path.read_bytes() == changed
    save(PLAIN, tmp_path / "sheet", ("svg",), may_overwrite=allow)
    assert path.read_bytes() == sheet


def test_nothing_is_written_when_one_of_several_files_is_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "b.csv").write_text("mine")
    with pytest.raises(FileRefused, match=r"b\.csv is there already"):
        write_outputs([(tmp_path / "a.csv", b"1"), (tmp_path / "b.csv", b"2")])
    assert [path.name for path in tmp_path.iterdir()] == ["b.csv"]


def test_the_same_content_is_written_again_without_asking(tmp_path: Path) -> None:
    for _ in range(2):
        write_outputs([(tmp_path / "a.csv", b"1")])
    assert (tmp_path / "a.csv").read_bytes() == b"1"


def test_a_link_is_followed_and_stays(tmp_path: Path) -> None:
    (tmp_path / "link.pdf").symlink_to(tmp_path / "real.pdf")
    save(PLAIN, tmp_path / "link", ("pdf",))
    assert (tmp_path / "link.pdf").is_symlink()
    assert is_ours((tmp_path / "real.pdf").read_bytes())


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
def test_a_pipe_a_device_and_a_link_to_itself_are_refused_at_once(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.pdf")
    (tmp_path / "zeros.pdf").symlink_to("/dev/zero")
    (tmp_path / "loop.pdf").symlink_to(tmp_path / "loop.pdf")
    for name in ("pipe", "zeros"):
        with pytest.raises(FileRefused, match="is not an ordinary file"):
            save(PLAIN, tmp_path / name, ("pdf",), may_overwrite=allow)
    with pytest.raises(FileRefused, match="cannot be written: Too many levels"):
        save(PLAIN, tmp_path / "loop", ("pdf",), may_overwrite=allow)


def test_the_rights_of_a_file_stay(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_text("a = 1")
    path.chmod(0o600)
    write_whole(path, b"a = 2")
    assert path.stat().st_mode & 0o777 == 0o600


# --- names


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("con.pdf", "Windows reserves the name con.pdf"),
        ("NUL", "Windows reserves the name NUL"),
        ("com1.tar.pdf", "Windows reserves the name"),
        ("LPT¹.pdf", "Windows reserves the name"),
        ("a:b.pdf", "Windows does not allow : in a name"),
        ("a?.pdf", "Windows does not allow ?"),
        ("a\\b.pdf", "Windows does not allow"),
        ("card.pdf.", "does not allow a dot or space at the end"),
        ("card ", "does not allow a dot or space at the end"),
        ("a\u202eb.pdf", "has a character that cannot be seen"),
        ("a\x1b[31m.pdf", "has a character that cannot be seen"),
        ("é" * 128, "a name of 256 bytes is longer than the 255 that a disk takes"),
    ],
)
def test_a_name_that_not_every_system_takes_is_refused_on_all(tmp_path: Path, name: str, words: str) -> None:
    for path in (tmp_path / name, tmp_path / name / "card.pdf"):
        with pytest.raises(FileRefused) as refusal:
            write_whole(path, b"1")
        assert words in str(refusal.value)
        assert str(refusal.value).isprintable()
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["context.pdf", "com10.pdf", "a.con", ".hidden", "née.pdf", "a b.pdf", "x" * 255])
def test_other_names_are_taken(tmp_path: Path, name: str) -> None:
    write_whole(tmp_path / name, b"1")
    assert (tmp_path / name).read_bytes() == b"1"


def test_a_folder_that_is_there_may_be_called_anything(tmp_path: Path) -> None:
    (tmp_path / "a:b").mkdir()
    refuse_names(tmp_path / "a:b" / "card.pdf")


def test_a_null_in_a_name_is_refused() -> None:
    with pytest.raises(FileRefused, match="cannot be seen"):
        write_whole(Path("a\0b.pdf"), b"1")


# --- what a killed run leaves


KILLED = """
import os, sys
from pathlib import Path
from layouts.files.whole import write_whole
os.replace = lambda *paths: os.{how}
write_whole(Path(sys.argv[1]), b"1")
"""


def test_the_next_run_clears_away_what_a_killed_one_left_and_nothing_else(tmp_path: Path) -> None:
    mine = tmp_path / ".coilwright-mine"
    mine.write_text("mine")
    code = KILLED.format(how="_exit(9)")
    assert subprocess.run([sys.executable, "-c", code, str(tmp_path / "a")], check=False).returncode == 9
    assert len(list(tmp_path.glob(".coilwright-*.part"))) == 1
    write_whole(tmp_path / "b", b"2")
    assert sorted(path.name for path in tmp_path.iterdir()) == [".coilwright-mine", "b"]


@pytest.mark.skipif(os.name == "nt", reason="there an open file cannot be taken away")
def test_a_file_that_another_run_is_writing_is_left_alone(tmp_path: Path) -> None:
    code = KILLED.format(how="read(0, 1)") + "\nos.write(1, b'done')"
    running = subprocess.Popen([sys.executable, "-c", code, str(tmp_path / "a")], stdin=subprocess.PIPE)
    deadline = time.monotonic() + 20
    while not list(tmp_path.glob(".coilwright-*.part")) and time.monotonic() < deadline:
        time.sleep(0.02)
    time.sleep(0.2)  # it is locked right after it is made
    write_whole(tmp_path / "b", b"2")
    assert len(list(tmp_path.glob(".coilwright-*.part"))) == 1
    assert running.stdin is not None
    running.stdin.close()
    assert running.wait(20) == 0
