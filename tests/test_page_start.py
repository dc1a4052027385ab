"""Starting the page, finding one that runs, closing it, and the file to double-click."""

from __future__ import annotations

import os
import signal
import socket
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from page_server import running

from jigs.actions.launcher import write_launcher
from jigs.cli.page import command
from layouts.errors import FileRefused, OutOfRange


def test_a_second_start_finds_the_first(tmp_path: Path):
    with running(tmp_path / "bench") as first:
        asked = [sys.executable, "-m", "jigs", "page", "--no-browser", "--bench", str(tmp_path / "bench")]
        done = subprocess.run(asked, capture_output=True, text=True, timeout=30, check=True)
        assert done.stdout == f"The page is open already:\n{first.address}\n"


@pytest.mark.skipif(os.name != "posix", reason="files have no such modes here")
def test_what_the_second_start_reads_is_for_this_person_alone(tmp_path: Path):
    with running(tmp_path / "bench"):
        assert stat.S_IMODE((tmp_path / "bench" / ".page.json").stat().st_mode) == 0o600


def test_a_page_that_died_is_not_found(tmp_path: Path):
    with running(tmp_path / "bench") as first:
        first.process.kill()
        first.process.wait(10)
        assert (tmp_path / "bench" / ".page.json").exists()
    with running(tmp_path / "bench") as second:
        assert second.address != first.address
        assert second.ask("/").status == 200


def test_it_is_closed_from_the_page_and_leaves_nothing_behind(tmp_path: Path):
    with running(tmp_path / "bench") as page:
        assert "Coilwright is closed" in page.ask("/close", method="POST").text
        assert page.process.wait(10) == 0
    assert not (tmp_path / "bench" / ".page.json").exists()


@pytest.mark.skipif(os.name != "posix", reason="Ctrl-C is no signal here")
def test_it_is_closed_with_ctrl_c(tmp_path: Path):
    with running(tmp_path / "bench") as page:
        page.process.send_signal(signal.SIGINT)
        assert page.process.wait(10) == 0
        assert page.process.stderr is not None
        assert page.process.stderr.read() == ""
    assert not (tmp_path / "bench" / ".page.json").exists()


def test_a_port_that_is_taken_is_refused(tmp_path: Path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        result = CliRunner().invoke(command, ["--no-browser", "--port", str(port), "--bench", str(tmp_path)])
        assert isinstance(result.exception, OutOfRange)
        assert f"port {port} cannot be used" in str(result.exception)


@pytest.mark.parametrize(
    ("platform", "name", "holds"),
    [
        ("linux", "Coilwright.desktop", 'Exec="/my folder/py\\\\$thon" "-m" "jigs"\n'),
        ("darwin", "Coilwright.command", "exec '/my folder/py$thon' -m jigs\n"),
        ("win32", "Coilwright.bat", '"/my folder/py$thon" "-m" "jigs"\r\n'),
    ],
)
def test_a_launcher_starts_the_command_on_each_platform(tmp_path: Path, platform: str, name: str, holds: str):
    path = write_launcher(tmp_path, ["/my folder/py$thon", "-m", "jigs"], platform)
    assert path.name == name
    assert holds in path.read_bytes().decode()
    if platform != "win32" and os.name == "posix":
        assert os.access(path, os.X_OK)
    assert write_launcher(tmp_path, ["/my folder/py$thon", "-m", "jigs"], platform) == path  # the same again


def test_a_launcher_does_not_write_over_what_is_there(tmp_path: Path):
    (tmp_path / "Coilwright.command").write_text("mine")
    with pytest.raises(FileRefused, match="is there already"):
        write_launcher(tmp_path, ["python"], "darwin")
    assert (tmp_path / "Coilwright.command").read_text() == "mine"


@pytest.mark.skipif(sys.platform == "win32", reason="there it is a batch file")
def test_what_the_command_writes_is_where_it_says(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.chdir(tmp_path)
    said = CliRunner().invoke(command, ["--launcher"], catch_exceptions=False).output
    (written,) = tmp_path.iterdir()
    assert f"wrote {written.name}" in said
