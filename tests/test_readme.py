"""README and DEVELOPERS say what is so: commands run, pictures are what the demo makes, files are where they say."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from page_server import PACKAGES, running
from PIL import Image, ImageChops, ImageStat

from jigs.cli import cli

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
SHELL = [line for block in re.findall(r"```sh\n(.*?)```", README, re.DOTALL) for line in block.splitlines()]
STAYS = "coilwright page"  # until it is closed
COMMANDS = [line for line in SHELL if line.startswith("coilwright ") and line != STAYS]
PICTURES = sorted(re.findall(r"\]\((out/[^)]+\.png)\)", README))
PREVIEWS = [name for name in PICTURES if name != "out/page.png"]  # that one is what a browser shows


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """A command of README, with its data in the folder too."""
    words = shlex.split(command)[1:]
    code = "from jigs.cli import main; main()"
    surroundings = {**os.environ, "COILWRIGHT_BENCH": str(folder / "bench"), "PYTHONPATH": str(PACKAGES)}
    return subprocess.run(
        [sys.executable, "-c", code, *words], capture_output=True, text=True, cwd=folder, env=surroundings, check=False
    )


def test_the_first_paragraph_is_the_job() -> None:
    title, job, *_ = README.split("\n\n")
    assert title == "# Coilwright"
    assert "jump rings" in job


def test_two_lines_set_up_and_the_second_is_what_ci_runs() -> None:
    make, test = (line for line in SHELL if line.startswith("python3 -m venv"))
    assert make.endswith(".venv/bin/coilwright demo")
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert [part for part in test.split(" && ") if part not in ci] == []


def test_readme_s_commands_run_in_the_order_of_reading(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """One after the other in one folder; in this process, since each start of Python takes longer than its work."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COILWRIGHT_BENCH", str(tmp_path / "bench"))
    failed = []
    for command in COMMANDS:
        done = CliRunner().invoke(cli, shlex.split(command)[1:])
        if done.exit_code:
            failed.append((command, done.output, done.exception))
    assert failed == []
    assert len(COMMANDS) >= 6


def test_readme_s_page_opens(tmp_path: Path) -> None:
    assert STAYS in SHELL
    with running(tmp_path / "bench") as page:
        assert page.ask("/").status == 200


def cairo_is_missing() -> bool:
    """Whether this machine has no cairo library, which previews are drawn with."""
    try:
        import cairocffi  # noqa: F401 - only whether it loads
    except OSError:
        return True
    return False


needs_cairo = pytest.mark.skipif(cairo_is_missing(), reason="previews need the cairo library; PDF and SVG do not")


def furthest(one: Path, other: Path) -> float:
    """Mean difference of two pictures in shades of 255; 255 for two of different size."""
    with Image.open(one) as a, Image.open(other) as b:
        if a.size != b.size:
            return 255.0
        return ImageStat.Stat(ImageChops.difference(a.convert("L"), b.convert("L"))).mean[0]


@needs_cairo
def test_readme_s_pictures_are_what_the_demo_makes(tmp_path: Path) -> None:
    assert run("coilwright demo --out made", tmp_path).returncode == 0
    apart = {name: furthest(ROOT / name, tmp_path / "made" / Path(name).name) for name in PREVIEWS}
    assert {name for name, shade in apart.items() if shade > 0.5} == set()
    assert len(PREVIEWS) >= 4


@needs_cairo
def test_the_comparison_of_pictures_can_fail(tmp_path: Path) -> None:
    with Image.open(ROOT / PREVIEWS[0]) as picture:
        picture.convert("L").transform(picture.size, Image.Transform.AFFINE, (1, 0, 2, 0, 1, 2), fillcolor=255).save(
            tmp_path / "moved.png"
        )
    assert furthest(ROOT / PREVIEWS[0], tmp_path / "moved.png") > 0.5


def test_out_holds_only_what_readme_shows() -> None:
    kept = subprocess.run(["git", "ls-files", "out"], capture_output=True, text=True, cwd=ROOT, check=False)
    if kept.returncode == 0 and kept.stdout:  # not in an unpacked archive
        assert sorted(kept.stdout.split()) == sorted(["out/.gitignore", *PICTURES])


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "tests/FIGURES.md"])
def test_every_link_leads_somewhere(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    links = [link for link in re.findall(r"\]\(([^)#]+)\)", text) if "://" not in link]
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_the_map_in_developers_has_a_line_for_every_room() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    mapped = re.findall(r"^- `((?:layouts|jigs)/[a-z_/]*)`: ", text, re.MULTILINE)
    files = [path for package in ("layouts", "jigs") for path in (ROOT / package).rglob("*.py")]
    rooms = {"/".join(path.relative_to(ROOT).parts[:-1][:2]) + "/" for path in files}
    assert set(mapped) == (rooms | {"jigs/tables/", "jigs/reports/", "jigs/actions/"}) - {"jigs/"}
    assert len(mapped) == len(set(mapped))


def test_developers_is_a_page() -> None:
    assert len((ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").splitlines()) <= 100
