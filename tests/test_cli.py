"""The door: help, refusals and exit codes of the command as a person runs it."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from commands import run
from golden import assert_same_as_golden

from jigs.cli import cli
from jigs.cli.lazy import LazyGroup


def commands(group: LazyGroup = cli, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words of every command and group, such as ("sheet", "dowel")."""
    context = click.Context(group)
    for name in group.list_commands(context):
        found = group.get_command(context, name)
        yield (*path, name)
        if isinstance(found, LazyGroup):
            yield from commands(found, (*path, name))


def command_of(words: tuple[str, ...]) -> click.Command:
    """The command that the words lead to."""
    context = click.Context(cli)
    command: click.Command | None = cli
    for word in words:
        assert isinstance(command, LazyGroup)
        command = command.get_command(context, word)
    assert command is not None
    return command


EVERY_COMMAND = sorted(commands())


def test_the_golden_comparison_can_fail(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("GOLDENS", raising=False)
    with pytest.raises(AssertionError, match="something else"):
        assert_same_as_golden("help/coilwright.txt", "something else")


@pytest.mark.parametrize("words", [(), *EVERY_COMMAND], ids=lambda words: "-".join(("coilwright", *words)))
def test_the_help_of_each_command_is_as_it_was(words: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    # click keeps the help option that a command was first run with, and other tests run commands without their group
    monkeypatch.setattr(command_of(words), "_help_option", None)
    result = CliRunner().invoke(cli, [*words, "--help"], prog_name="coilwright", terminal_width=100)
    assert result.exit_code == 0
    assert_same_as_golden(f"help/{'-'.join(('coilwright', *words))}.txt", result.output)


@pytest.mark.parametrize("words", EVERY_COMMAND, ids="-".join)
def test_each_help_begins_with_what_you_get_and_shows_examples(words: tuple[str, ...]) -> None:
    command = command_of(words)
    assert command.help is not None
    first, *rest = command.help.splitlines()
    assert first.strip().endswith((".", "?"))
    assert sum("coilwright " in line for line in rest) >= (1 if isinstance(command, LazyGroup) else 2)


@pytest.mark.parametrize("words", EVERY_COMMAND, ids="-".join)
def test_each_option_has_help(words: tuple[str, ...]) -> None:
    command = command_of(words)
    missing = [option.name for option in command.params if isinstance(option, click.Option) and not option.help]
    assert missing == []


REFUSALS = [
    (["rign"], "no command is called 'rign'; known: ring"),
    (["ring"], 'no wire is given; give --wire, such as --wire "16 AWG"'),
    (["wire"], "Missing argument 'WIRE'; for example: coilwright wire \"16 AWG\""),
    (["bench", "add", "mandrel", "x"], "'--measured'; for example: coilwright bench add mandrel \"rod 7\" --measured"),
    (["wire", "-1 mm"], "-1 begins with a minus, and a size is above zero; give one such as 1.2 mm"),
    (["order", "new", "/proc/none/a.toml"], "; give another name, in a folder that you can write in"),
    (["ring", "--wire", "18", "--mandrel", "5 mm"], "18 AWG (1.024 mm)"),
    (["ring", "--wire", "18", "--mandrel", "5 mm"], "18 SWG (1.219 mm)"),
    (["ring", "--wire", "1 mm", "--mandrel", "5"], "unit"),
    (["ring", "--wire", "1 mm", "--mandrel", "5 mm", "--metal", "unobtainium"], "no metal is called 'unobtainium'"),
    (["ring", "--wire", "1 mm"], "give one of mandrel, inside diameter, outside diameter or ratio"),
    (["ring", "--wire", "1 mm", "--mandrel", "-5 mm"], "-5 mm"),
    (["ring", "--wire", "1 mm", "--mandrel", "5 mm", "--ratio", "nan"], "ratio"),
    (["ring", "--wire", "1 mm", "--mandrel", "5 mm", "--frob"], "--frob"),
    (["wire", "9**9**9"], "9**9**9"),
    (["wire", "5 mm; 3"], "5 mm; 3"),
    (["tables", "spoons"], "spoons"),
    (["sheet", "posters"], "no command is called 'posters'"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--paper", "a44"], "no paper is called 'a44'"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--format", "dxf"], "no format is called 'dxf'"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "400 mm"], "402.0 mm"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--title", "x" * 81], "81 characters"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--title", "a\x1bb"], "U+001B"),
    (["sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--out", "card.svg"], "does not go with"),
    (["sheet", "dowel", "--diameter", "4 mm", "--wire", "2 mm"], "D/3"),
    (["sheet", "bench-pin", "--width", "40 mm"], "8 mm"),
    (["sheet", "bench-pin", "--length", "300 mm"], "mm"),
]


@pytest.mark.parametrize(("words", "says"), REFUSALS, ids=lambda value: value if isinstance(value, str) else "")
def test_a_mistake_is_one_line_and_exit_code_2_and_leaves_no_file(words: list[str], says: str, tmp_path: Path) -> None:
    done = run(*words, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith("coilwright: ")
    assert done.stderr.count("\n") == 1
    assert says in done.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("measure wire --strip 1.02mm --turns 4.5", "--turns: '4.5' is not a whole number; write one such as 40"),
        ("measure ring --chain 100mm --rings few", "--rings: 'few' is not a whole number; write one such as 40"),
        ("measure rod --unwound 566mm --turns many", "--turns: 'many' is not a number; write one such as 4.2"),
        ("ring --wire 1mm --ratio x", "--ratio: 'x' is not a number; write one such as 4.2"),
        ("bench add mandrel peg --measured 5mm --readings 2.5", "--readings: '2.5' is not a whole number"),
        ("record add --mandrel 5mm --good 1e3", "--good: '1e3' is not a whole number; write one such as 40"),
        ("page --port x", "--port: 'x' is not a whole number; write one such as 40"),
        ("page --port 99999", "port 99999 cannot be used: ports go up to 65535; give another, from 1024 to 65535"),
        ("ring --wire 1mm --mandrel 5mm --rings 3 --rejects -1", "-1 rejects per coil is negative; give 0 or more"),
    ],
)
def test_a_number_that_is_none_is_refused_in_the_words_of_the_house(words: str, says: str, tmp_path: Path) -> None:
    done = run(*words.split(), cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith(f"coilwright: {says}")
    assert done.stderr.count("\n") == 1


@pytest.mark.parametrize("words", EVERY_COMMAND, ids=" ".join)
def test_no_option_leaves_its_numbers_to_the_library(words: tuple[str, ...]) -> None:
    """What it says of them names no remedy: `is not a valid integer`."""
    own = click.types.IntParamType, click.types.FloatParamType
    assert [option.name for option in command_of(words).params if isinstance(option.type, own)] == []


def test_a_ratio_may_be_written_with_a_comma() -> None:
    words = ["ring", "--wire", "1 mm", "--json", "--ratio"]
    comma, point = (CliRunner().invoke(cli, [*words, ratio]).stdout for ratio in ("4,2", "4.2"))
    assert '"aspect_ratio": 4.2' in comma
    assert comma == point


def test_the_version_is_the_one_of_the_project() -> None:
    project = tomllib.loads((Path(__file__).parent.parent / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert run("--version").stdout in (
        f"coilwright {project['version']}\n",
        "coilwright, not installed: run from its source\n",
    )


def test_a_short_option_shows_the_help_of_every_command() -> None:
    assert run("-h").stdout == run("--help").stdout
    assert run("sheet", "ruler", "-h").stdout == run("sheet", "ruler", "--help").stdout != ""


def test_help_loads_nothing_heavy() -> None:
    code = (
        "import sys; from jigs.cli import cli; cli(['--help'], standalone_mode=False);"
        "print(sorted({'pint', 'reportlab', 'svgwrite', 'cairosvg', 'numpy', 'PIL', 'fontTools'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_a_pdf_loads_neither_pint_nor_the_other_formats(tmp_path: Path) -> None:
    code = (
        "import sys; from jigs.cli import cli;"
        "cli(['sheet', 'ring-card', '--wire', '16 AWG', '--inside', '5 mm'], standalone_mode=False);"
        "print(sorted({'pint', 'svgwrite', 'cairosvg', 'numpy', 'fontTools'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=tmp_path)
    assert done.stdout.splitlines()[-1] == "[]"


def test_one_command_writes_several_formats(tmp_path: Path) -> None:
    done = run("sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--format", "pdf,svg", cwd=tmp_path)
    assert done.returncode == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["ring-card.pdf", "ring-card.svg"]


def test_out_names_a_file_or_a_folder(tmp_path: Path) -> None:
    card = ("sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm")
    assert run(*card, "--out", "mine.pdf", cwd=tmp_path).returncode == 0
    assert run(*card, "--out", "folder/", cwd=tmp_path).returncode == 0
    assert (tmp_path / "mine.pdf").is_file()
    assert (tmp_path / "folder" / "ring-card.pdf").is_file()


def test_a_sheet_replaces_an_older_sheet_but_no_other_file(tmp_path: Path) -> None:
    card = ("sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--out", "card.pdf")
    assert run(*card, cwd=tmp_path).returncode == 0
    assert run(*card, cwd=tmp_path).returncode == 0
    (tmp_path / "card.pdf").write_text("my notes")
    done = run(*card, cwd=tmp_path)
    assert done.returncode == 2
    assert "Coilwright did not write it or it has been changed since" in done.stderr
    assert "give --overwrite" in " ".join(done.stderr.split())
    assert (tmp_path / "card.pdf").read_text() == "my notes"
    assert run(*card, "--overwrite", cwd=tmp_path).returncode == 0
    assert (tmp_path / "card.pdf").read_bytes().startswith(b"%PDF")
