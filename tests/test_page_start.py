"""Starting the page, finding one that runs, closing it, and the file to double-click."""

from __future__ import annotations

import os
import re
import shutil
import signal
import socket
import stat
import subprocess
import sys
import time
from pathlib import Path

import pytest
from click.testing import CliRunner
from page_server import PACKAGES, running

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


def test_it_listens_at_the_port_that_is_given(tmp_path: Path):
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    with running(tmp_path / "bench", "--port", str(port)) as page:
        assert page.port == port
        assert page.ask("/alive").status == 204


@pytest.mark.skipif(os.name != "posix", reason="the browser of this test is a shell script")
def test_the_browser_is_opened_at_the_address_unless_it_is_said_not_to(tmp_path: Path):
    browser = tmp_path / "browser"
    browser.write_text(f'#!/bin/sh\nprintf "%s\\n" "$1" >> "{tmp_path}/opened"\n')
    browser.chmod(0o755)
    start = [sys.executable, "-m", "jigs", "page", "--bench", str(tmp_path / "bench")]
    with running(tmp_path / "bench", command=start, BROWSER=f"{browser} %s") as page:
        subprocess.run([*start, "--no-browser"], capture_output=True, timeout=30, check=True, env=_with(browser))
        assert (tmp_path / "opened").read_text() == f"{page.address}\n"
        subprocess.run(start, capture_output=True, timeout=30, check=True, env=_with(browser))
        assert (tmp_path / "opened").read_text() == 2 * f"{page.address}\n"


def _with(browser: Path) -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(PACKAGES), "BROWSER": f"{browser} %s"}


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


def of_exec_key(path: Path) -> list[str]:
    """The words of a desktop file's Exec key (Desktop Entry Specification 1.5, "Value types" and "The Exec key", S)."""
    (line,) = (line for line in path.read_text(encoding="utf-8").splitlines() if line.startswith("Exec="))
    value = re.sub(r"\\(.)", lambda found: {"s": " ", "n": "\n", "t": "\t"}.get(found[1], found[1]), line[5:])
    words = re.findall(r'"((?:[^"\\]|\\.)*)"(?: |$)', value)
    return [re.sub(r'\\(["`$\\])', r"\1", word).replace("%%", "%") for word in words]


@pytest.mark.parametrize(
    "platform",
    [
        pytest.param("linux", marks=pytest.mark.skipif(os.name != "posix", reason="no shell script runs here")),
        pytest.param("darwin", marks=pytest.mark.skipif(os.name != "posix", reason="no shell script runs here")),
        pytest.param("win32", marks=pytest.mark.skipif(sys.platform != "win32", reason="no batch file runs here")),
    ],
)
def test_what_is_double_clicked_starts_the_page(tmp_path: Path, platform: str):
    python = sys.executable
    if platform != "win32":  # in a folder whose name every shell would trip over
        odd = tmp_path / 'it\'s "my" $HOME `x` \\n'
        odd.mkdir()
        python = str(odd / "python 3")
        Path(python).write_text(f'#!/bin/sh\nexec "{sys.executable}" "$@"\n')
        Path(python).chmod(0o755)
    bench = tmp_path / "100% b & c"
    path = write_launcher(tmp_path, [python, "-m", "jigs", "page", "--no-browser", "--bench", str(bench)], platform)
    how = {
        "linux": of_exec_key,
        "darwin": lambda file: ["sh", str(file)],
        "win32": lambda file: ["cmd", "/c", str(file)],
    }
    with running(bench, command=how[platform](path)) as page:
        assert page.ask("/alive").status == 204


@pytest.mark.skipif(shutil.which("gio") is None, reason="gio, which starts desktop files as a desktop does, is missing")
def test_a_desktop_reads_the_launcher_as_it_is_meant(tmp_path: Path):
    odd = tmp_path / "it's $HOME"
    odd.mkdir()
    program = odd / "python 3"
    program.write_text(
        f'#!/bin/sh\nprintf "%s\\n" "$@" > "{tmp_path}/given.part"\nmv "{tmp_path}/given.part" "{tmp_path}/given"\n'
    )
    program.chmod(0o755)
    words = ["-m", "jigs", "page", "--bench", '/a b/c\\d/100%/`x`/$y/"z"']
    path = write_launcher(tmp_path, [str(program), *words], "linux")
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("Terminal=true", "Terminal=false"), encoding="utf-8")  # here is none to open
    subprocess.run(["gio", "launch", str(path)], check=True, timeout=30)
    for _ in range(200):
        if (tmp_path / "given").exists():
            break
        time.sleep(0.02)
    assert (tmp_path / "given").read_text().splitlines() == words
