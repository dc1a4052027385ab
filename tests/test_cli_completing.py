"""What the shell completes."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.shell_completion import ShellComplete

from jigs.cli import cli


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COILWRIGHT_BENCH", str(tmp_path))
    (tmp_path / "mandrels.toml").write_text('["rod 7"]\nmeasured = "4.91 mm"\nkind = "steel"\n')
    return tmp_path


def offered(*words: str) -> list[str]:
    """What is offered for the last of the words."""
    *before, last = words
    found = ShellComplete(cli, {}, "coilwright", "_COILWRIGHT_COMPLETE").get_completions(before, last)
    return [item.value for item in found]


@pytest.mark.parametrize(
    ("words", "values"),
    [
        (("pl",), ["plan"]),
        (("tables", "m"), ["metals"]),
        (("pack", "a.toml", "--paper", "le"), ["legal", "letter"]),
        (("sheet", "ring-card", "--paper", "A"), ["a3", "a4", "a5"]),
        (("demo", "--paper", "x"), []),
        (("ring", "--metal", "st"), ["sterling silver", "stainless 304", "stainless 316"]),
        (("ring", "--temper", "h"), ["half-hard", "hard"]),
        (("ring", "--mandrel", "r"), ["rod 7"]),
        (("ring", "--measured", "4"), ["4.91 mm"]),
        (("bench", "forget", "mandrel", ""), ["rod 7"]),
        (("bench", "forget", "spool", ""), []),
        (("printer", "show", ""), []),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else None,
)
def test_values_are_completed(words: tuple[str, ...], values: list[str]) -> None:
    assert sorted(offered(*words)) == sorted(values)


def test_a_printer_that_was_measured_is_completed_wherever_one_is_named(bench: Path) -> None:
    from datetime import date

    from click.testing import CliRunner

    words = ["--across", "149.8 mm", "--along", "199.5 mm", "--tray", "plain", "--date", str(date(2026, 11, 20))]
    made = CliRunner().invoke(cli, ["printer", "measure", "study", *words], catch_exceptions=False)
    assert made.exit_code == 0
    assert offered("printer", "show", "s") == ["study"]
    assert offered("pack", "a.toml", "--printer", "") == ["study"]
    assert offered("sheet", "ruler", "--printer", "S") == ["study"]


def test_bash_gets_a_name_with_its_spaces_escaped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("_COILWRIGHT_COMPLETE", "bash_complete")
    assert offered("ring", "--metal", "ster") == ["sterling\\ silver"]


def test_a_bench_that_cannot_be_read_completes_nothing_and_says_nothing(bench: Path) -> None:
    (bench / "mandrels.toml").write_text("[[[")
    assert offered("ring", "--mandrel", "") == []
