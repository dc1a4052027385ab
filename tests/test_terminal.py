"""What reaches a terminal: whole programs under other encodings, full and closed outputs, and a narrow window."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import commands
import pytest
from page_server import PACKAGES

from jigs.terminal import harmless, within

WIRE = ("wire", "16 AWG")


def run(*words: str | bytes, encoding: str = "utf-8", **more: object) -> subprocess.CompletedProcess[bytes]:
    env = {**os.environ, "PYTHONIOENCODING": encoding, "PYTHONPATH": str(PACKAGES)}
    command = [sys.executable, "-m", "jigs", *words]
    given = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, "stdin": subprocess.DEVNULL, "timeout": 60}
    return subprocess.run(command, env=env, check=False, **{**given, **more})  # type: ignore[call-overload, no-any-return]


@pytest.mark.parametrize("encoding", ["cp437", "latin-1", "cp1252", "ascii", "utf-8:strict"])
@pytest.mark.parametrize("words", [WIRE, ("tables", "metals"), ("ring", "--wire", "1 mm", "--mandrel", "5 mm")])
def test_any_encoding_takes_any_table(encoding: str, words: tuple[str, ...]) -> None:
    done = run(*words, encoding=encoding)
    assert b"Traceback" not in done.stderr
    assert done.returncode in (0, 2)
    assert done.stdout.decode(encoding.partition(":")[0]) or done.stderr


@pytest.mark.skipif(os.name == "nt", reason="names are characters there")
def test_an_undecodable_name_is_refused_in_one_line() -> None:
    done = run("plan", b"caf\xe9\x1b[31m\xe2\x80\xae.toml", encoding="utf-8:strict")
    assert done.returncode == 2
    text = done.stderr.decode("utf-8")
    assert text.count("\n") == 1
    assert text.rstrip("\n").isprintable()


@pytest.mark.parametrize("word", ["\x1b[31mred", "a\u202eb", "\x07", "x\u2066y", "\x9b31m"])
@pytest.mark.parametrize("before", [(), ("wire",), ("sheet",), ("wire", "16 AWG", "--bogus"), ("plan",)])
def test_nothing_typed_reaches_the_terminal_raw(word: str, before: tuple[str, ...]) -> None:
    done = commands.run(*before, word)
    said = done.stdout + done.stderr
    assert done.returncode == 2
    assert "Traceback" not in said
    assert said.replace("\n", "").isprintable()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full device")
@pytest.mark.parametrize("words", [WIRE, ("--help",), ("--version",), ("tables", "metals")])
def test_a_full_output_is_one_line_and_exit_code_2(words: tuple[str, ...]) -> None:
    with Path("/dev/full").open("wb") as full:
        done = run(*words, stdout=full)
    assert done.returncode == 2
    assert done.stderr.startswith(b"coilwright: the output cannot be written: No space left on device")
    assert done.stderr.count(b"\n") == 1


@pytest.mark.skipif(os.name == "nt", reason="a shell closes streams otherwise there")
@pytest.mark.parametrize("closing", [">&-", "2>&-", ">&- 2>&-", "<&- >&-"])
def test_closed_streams_end_without_a_traceback(closing: str) -> None:
    env = {**os.environ, "PYTHONPATH": str(PACKAGES)}
    command = f'exec "{sys.executable}" -m jigs wire "16 AWG" {closing}'
    done = subprocess.run(["sh", "-c", command], env=env, capture_output=True, check=False, timeout=60)
    assert b"Traceback" not in done.stderr
    assert done.returncode == (2 if ">&-" in closing.replace("2>&-", "") else 0)


@pytest.mark.skipif(os.name == "nt", reason="pipes end otherwise there")
def test_a_reader_that_has_had_enough_is_no_fault() -> None:
    env = {**os.environ, "PYTHONPATH": str(PACKAGES)}
    command = f'"{sys.executable}" -m jigs tables metals | head -1; exit 0'
    done = subprocess.run(["sh", "-c", command], env=env, capture_output=True, check=False, timeout=60)
    assert done.stderr == b""
    assert done.stdout.count(b"\n") == 1


@pytest.mark.skipif(os.name == "nt", reason="there are no such terminals there")
@pytest.mark.parametrize(
    "words", [WIRE, ("-h",), ("sheet", "ring-card", "--help"), ("tables", "metals"), ("ring", "--wire", "x" * 90)]
)
def test_nothing_is_wider_than_a_terminal_of_forty_columns(words: tuple[str, ...]) -> None:
    import fcntl
    import pty
    import struct
    import termios

    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 40, 0, 0))
    env = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "LINES")}
    env |= {"PYTHONPATH": str(PACKAGES), "TERM": "dumb"}
    running = subprocess.Popen([sys.executable, "-m", "jigs", *words], stdout=slave, stderr=slave, stdin=slave, env=env)
    os.close(slave)
    seen = b""
    while True:
        try:
            part = os.read(master, 65536)
        except OSError:
            break
        if not part:
            break
        seen += part
    os.close(master)
    assert running.wait(30) in (0, 2)
    lines = seen.decode("utf-8").replace("\r\n", "\n").split("\n")
    assert len(lines) > 2
    assert [line for line in lines if len(line) > 40] == []


def test_what_cannot_be_seen_is_marked_and_the_rest_stays() -> None:
    assert harmless("5 × 3 mm\n\t±0.1") == "5 × 3 mm\n\t±0.1"
    assert harmless("a\x1b[2J\u202eb\udc80\u2028") == "a\ufffd[2J\ufffdb\ufffd\ufffd"


def test_a_long_line_is_broken_at_spaces_and_set_in() -> None:
    assert within("  one two three four", 12) == "  one two\n    three\n    four"
    assert within("x" * 25, 12) == "x" * 12 + "\n  " + "x" * 10 + "\n  " + "x" * 3
