"""The commands `order` and `plan`: what they write, show and refuse."""

from __future__ import annotations

import csv
import io
import json
import re
import sys
from importlib.resources import files
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from jigs.cli import cli, main
from jigs.cli.order import command as order
from jigs.cli.plan import command as plan
from layouts.pages.paper import papers


@pytest.fixture
def job(tmp_path: Path) -> str:
    path = tmp_path / "bracelet.toml"
    CliRunner().invoke(order, ["new", str(path)], catch_exceptions=False)
    return str(path)


def run(job: str, *words: str) -> Result:
    result = CliRunner().invoke(plan, [job, "--bench", f"{job}.none", *words], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result


def refused(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    monkeypatch.setattr(sys, "argv", ["coilwright", *words])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 2
    return capsys.readouterr().err


def test_a_new_order_is_the_commented_example_and_lists_every_paper(job: str) -> None:
    head, tail = files("jigs.orders").joinpath("example.toml").read_text(encoding="utf-8").split("{papers}")
    text = Path(job).read_bytes().decode()
    assert text.startswith(head)
    assert text.endswith(tail)
    assert set(re.split(", | or ", text[len(head) : -len(tail)])) == {"a3", "a4", "a5", "letter", "legal"} | set(
        papers()
    )


def test_a_new_order_never_writes_over_a_file(
    job: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    Path(job).write_text("mine")
    assert (
        refused(monkeypatch, capsys, "order", "new", job) == f"coilwright: {job} is there already; give another name\n"
    )
    assert Path(job).read_text() == "mine"
    said = refused(monkeypatch, capsys, "order", "new", "job.txt")
    assert said == "coilwright: an order is a TOML file, and job.txt is not named as one; name it job.toml\n"


def test_the_plan_for_people_goes_from_the_ledger_to_the_cost(job: str) -> None:
    text = run(job).stdout
    marks = (
        "Chain bracelet, evening class: 8 seats, 408 rings wanted",
        "closed ID ",
        "mandrel, best first",
        "core ",
        "blade ",
        "cross-hole  none ",
        "weave       chain ",
        "Each seat: 50 and 8 spare, 1 winding, ",
        "windings  wire for each",
        "seats      rings",
        "Wire: 1.2 mm phosphor bronze",
        "buy ",
        "left ",
        "g   ",
        "EUR ",
        "In all ",
        "Cost net ",
        "The seats pay ",
        "Note: no mandrel",
    )
    places = [text.index(f"\n{mark}") for mark in marks[1:]]
    assert places == sorted(places)
    assert max(len(line) for line in text.split("\n")) <= 120


def test_the_plan_for_scripts_has_the_documented_keys(job: str) -> None:
    from jigs.reports import plan as report

    shown = json.loads(run(job, "--json").stdout)
    documented = report.__doc__ or ""
    keys: set[str] = set()

    def walk(value: object) -> None:
        if isinstance(value, dict):
            keys.update(value)
            for inner in value.values():
                walk(inner)
        elif isinstance(value, list):
            for inner in value:
                walk(inner)

    walk(shown)
    assert keys
    assert [key for key in sorted(keys) if key not in documented] == []


def test_the_plan_for_a_spreadsheet_has_a_row_a_share_and_the_sum(job: str) -> None:
    rows = list(csv.DictReader(io.StringIO(run(job, "--csv").stdout)))
    assert [row["ring"] for row in rows] == ["chain ring", "toggle ring", "toggle ring", "all"]
    assert [row["made_rings"] for row in rows] == ["464", "2", "14", "480"]
    assert [row["windings"] for row in rows] == ["8", "1", "0", "9"]  # one seat winds the toggle rings for all
    assert sum(int(row["cut_mm"]) for row in rows[:-1]) == int(rows[-1]["cut_mm"])


def test_a_spreadsheet_with_a_decimal_comma_gets_the_same_numbers(job: str) -> None:
    point = list(csv.reader(io.StringIO(run(job, "--csv").stdout)))
    *comma, said = csv.reader(io.StringIO(run(job, "--csv", "--decimal", "comma").stdout), delimiter=";")
    assert [[field.replace(",", ".") for field in row] for row in comma] == [
        [field.replace(",", ".") for field in row] for row in point
    ]
    assert comma[1][3] == "4,9807"
    assert said == ["the numbers here have a decimal comma, and semicolons stand between the fields"]


def test_a_name_that_looks_like_a_formula_is_text_in_a_spreadsheet(job: str) -> None:
    path = Path(job)
    path.write_text(path.read_text().replace('"chain ring"', '"=1+1"'))
    assert "\n'=1+1," in run(job, "--csv").stdout


def test_what_a_length_of_wire_makes_is_said_ring_by_ring(job: str) -> None:
    text = run(job, "--from-wire", "3 m").stdout
    assert "3000 mm of 1.2 mm phosphor bronze, soft makes " in text
    assert "good rings: toggle ring" in text
    [answer] = json.loads(run(job, "--from-wire", "3 m", "--ring", "chain ring", "--json").stdout)
    assert answer["rings"] == sum(lot["count"] * lot["rings"] for lot in answer["windings"])
    assert answer["cut_mm"] + answer["left_mm"] == 3000
    assert "is too short for one good chain ring" in run(job, "--from-wire", "5 cm").stdout


def test_the_same_weave_in_another_wire_keeps_the_ratio(job: str) -> None:
    before, after = (json.loads(run(job, *words, "--json").stdout) for words in ((), ("--in-wire", "2 mm")))
    for one, other in zip(before["rings"], after["rings"], strict=True):
        assert other["wanted_ratio"] == pytest.approx(one["wanted_ratio"], rel=1e-12)
        assert other["wire_mm"] == 2.0


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("--json", "--csv"), "--json and --csv are two answers; give one of the two"),
        (("--csv", "--from-wire", "3 m"), "--from-wire has no --csv; give --json, or neither"),
        (("--decimal", "comma"), "--decimal goes with --csv; give that too, or leave it out"),
        (("--ring", "chain ring"), "--ring goes with --from-wire or --in-wire; give one of them too, or leave it out"),
        (("--from-wire", "3 m", "--ring", "chian"), "no ring is called 'chian'; known: chain ring, toggle ring"),
        (("--in-wire", "18"), "--in-wire: '18' could be 18 AWG"),
    ],
)
def test_contradictions_are_refused(
    words: tuple[str, ...], message: str, job: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert f"coilwright: {message}" in refused(monkeypatch, capsys, "plan", job, "--bench", f"{job}.none", *words)


def test_every_fault_of_an_order_has_a_line_of_its_own(
    job: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = Path(job)
    path.write_text(path.read_text().replace('wire = "1.2 mm"', 'wire = "1.2"').replace("seats = 8", "seats = 0"))
    *lines, last = refused(monkeypatch, capsys, "plan", job).splitlines()
    assert len(lines) == 3
    assert lines[0].startswith(f"{job}:5: seats: 0 is out of range")
    assert all(line.startswith(f"{job}:") for line in lines)
    assert last == f"coilwright: 3 faults in {job}; nothing was made"


def test_the_only_fault_of_an_order_is_the_refusal(
    job: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    path = Path(job)
    path.write_text(path.read_text().replace("seats = 8", "seats = 0"))
    assert refused(monkeypatch, capsys, "plan", job).startswith(f"coilwright: {job}:5: seats: 0 is out of range")


def test_what_is_owned_is_used(job: str, tmp_path: Path) -> None:
    bench = tmp_path / "bench"
    bench.mkdir()
    (bench / "mandrels.toml").write_text('["rod 7"]\nmeasured = "4.91 mm"\nkind = "steel"\n')
    (bench / "weaves.toml").write_text("[chain]\nlow = 4.5\nhigh = 6\n")
    result = CliRunner().invoke(plan, [job, "--bench", str(bench)], catch_exceptions=False)
    assert "rod 7, measured" in result.output
    assert "weave chain tight: AR 4.16, range 4.5 to 6 (" in " ".join(result.output.split())
    assert "is tight for chain" in result.output


def test_cautions_go_to_the_error_stream_beside_figures_for_scripts(job: str, tmp_path: Path) -> None:
    path = Path(job)
    path.write_text(path.read_text().replace('weave = "chain"', 'weave = "full persian 6-in-1"'))
    result = run(job, "--json")
    assert "CAUTION" not in result.stdout
    assert "CAUTION: chain ring: an AR of 4.15 is tight for full persian 6-in-1" in result.stderr


def test_a_plan_loads_no_drawing(job: str) -> None:
    import subprocess

    heavy = ("reportlab", "svgwrite", "cairocffi", "tomlkit", "filelock")
    code = (
        "import sys; from jigs.cli import main; sys.argv = ['coilwright', 'plan', sys.argv[1]]\n"
        "try: main()\nexcept SystemExit: pass\n"
        f"print([m for m in {heavy} if m in sys.modules], file=sys.stderr)"
    )
    done = subprocess.run([sys.executable, "-c", code, job], capture_output=True, text=True, check=True)
    assert done.stderr.strip().endswith("[]")


@pytest.mark.parametrize("words", [("order", "new"), ("bench", "add"), ("bench", "add", "spool")], ids=" ".join)
def test_the_help_of_a_command_inside_another_says_what_you_get(words: tuple[str, ...]) -> None:
    text = CliRunner().invoke(cli, [*words, "--help"], prog_name="coilwright").output
    assert text.startswith(f"Usage: coilwright {' '.join(words)} ")
    assert text.count("    coilwright ") >= 3
