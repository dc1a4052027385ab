"""The command `bench`: where the folder is and what is in it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import platformdirs
import pytest
from click.testing import CliRunner, Result

from jigs.cli import cli
from layouts.errors import FileRefused


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, ["bench", *words], prog_name="coilwright")


def test_an_empty_bench_says_where_it_would_be_and_makes_nothing(bench: Path) -> None:
    text = run().output
    assert f"Your bench folder: {bench}" in text
    assert "nothing yet; `coilwright printer measure` keeps a printer there" in text
    assert not bench.exists()


def test_it_counts_what_is_in_each_file(bench: Path) -> None:
    bench.mkdir()
    (bench / "many.toml").write_text("[[printer]]\nname = 'a'\n[[printer]]\nname = 'b'\n", encoding="utf-8")
    (bench / "one.toml").write_text("['rod 7']\nmeasured = '6 mm'\n", encoding="utf-8")
    text = run().output
    assert re.search(r"\nmany\.toml +2 entries\n", text)
    assert re.search(r"\none\.toml +1 entry\n", text)


def test_a_damaged_file_is_shown_and_refused_with_its_line(bench: Path) -> None:
    bench.mkdir()
    (bench / "bad.toml").write_text("a = 1\nb = = 3\n", encoding="utf-8")
    (bench / "good.toml").write_text("a = 1\n", encoding="utf-8")
    result = run()
    assert re.search(r"\nbad\.toml +damaged\n", result.output)
    assert re.search(r"\ngood\.toml +1 entry\n", result.output)
    assert isinstance(result.exception, FileRefused)
    assert "bad.toml:2: one equals sign is enough; write b = 3" in str(result.exception)


def test_scripts_get_the_same(bench: Path) -> None:
    bench.mkdir()
    (bench / "one.toml").write_text("['rod 7']\nmeasured = '6 mm'\n", encoding="utf-8")
    assert json.loads(run("--json").output) == {
        "folder": str(bench),
        "files": [{"file": "one.toml", "entries": 1, "damaged": False}],
    }


def test_the_option_names_another_folder(tmp_path: Path) -> None:
    assert f"Your bench folder: {tmp_path / 'class'}" in run("--bench", str(tmp_path / "class")).output


@pytest.mark.parametrize("home", [None, "/home/someone", "/home/some one/", "relative", ""])
@pytest.mark.parametrize("data", [None, "/elsewhere", "relative", ""])
def test_without_option_and_environment_it_is_the_systems_usual_place(
    home: str | None, data: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("COILWRIGHT_BENCH")
    for name, value in (("HOME", home), ("XDG_DATA_HOME", data)):
        if value is None:
            monkeypatch.delenv(name, raising=False)
        else:
            monkeypatch.setenv(name, value)
    usual = platformdirs.user_data_path("coilwright", appauthor=False)
    assert f"Your bench folder: {usual}" in run().output
