"""Measuring on the page: what the command says of the same readings, kept in the drawer as the command keeps it."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

import pytest

from jigs.actions.printer import Readings, choose_printer, measure_printer
from jigs.bench.reading import read_bench
from jigs.cli import main
from jigs.page.asked import Answer, Asked
from jigs.page.measuring_boxes import READERS, WIRE, ways_for
from jigs.page.templating import render
from jigs.page.views import measuring, views
from jigs.reports.as_json import as_json
from layouts.errors import UnknownName

STRIP = {"strip": "7.95\n7.9\n7.95"}


def asked(bench: Path, thing: str, **given: str) -> Asked:
    return Asked(bench=bench, path={"thing": thing}, given={key: (words,) for key, words in given.items()})


def html_of(answer: Answer) -> str:
    return render(answer.template, {"views": views(), "is_part": False, **answer.values})


def command_s(monkeypatch: pytest.MonkeyPatch, capsys: Any, bench: Path, *words: str) -> Any:
    monkeypatch.setattr(sys, "argv", ["coilwright", "measure", *words, "--json", "--bench", str(bench)])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0
    return json.loads(capsys.readouterr().out)


@pytest.mark.parametrize(
    ("thing", "given", "words"),
    [
        ("rod", STRIP, ("--strip", "7.95 mm", "--strip", "7.9 mm", "--strip", "7.95 mm")),
        (
            "rod",
            {"strip": "7.95", "strip_other_end": "7.90", "paper": "0.103", "sheet_paper": "0.10"},
            ("--strip", "7.95 mm", "--strip-other-end", "7.90 mm", "--paper", "0.103 mm", "--sheet-paper", "0.1 mm"),
        ),
        (
            "rod",
            {"across": "8.02", "right_angles": "7.91", "other_end": "7.98", "with": "micrometer"},
            ("--across", "8.02 mm", "--right-angles", "7.91 mm", "--other-end", "7.98 mm", "--with", "micrometer"),
        ),
        ("rod", {"pricks": "25.5", "prick_at": "3"}, ("--pricks", "25.5 mm")),
        (
            "rod",
            {"unwound": "565.2", "turns": "20", "pitch": "1.1", "wire": "1.02 mm"},
            ("--unwound", "565.2 mm", "--turns", "20", "--pitch", "1.1 mm", "--wire", "1.02 mm"),
        ),
        (
            "wire",
            {"strip": "1.02", "turns": "40", "rod": "8 mm"},
            ("--strip", "1.02 mm", "--turns", "40", "--rod", "8 mm"),
        ),
        (
            "wire",
            {"turns_length": "41.3", "turns": "40", "length_with": "loupe"},
            ("--turns-length", "41.3 mm", "--turns", "40", "--length-with", "loupe"),
        ),
        (
            "wire",
            {"weighed": "7.3", "piece": "1 m", "scale_step": "0.1", "metal": "copper"},
            ("--weighed", "7.3 g", "--piece", "1 m", "--scale-step", "0.1 g", "--metal", "copper"),
        ),
        (
            "wire",
            {"weighed": "7.3", "piece": "1000", "scale_step": "0.1 g", "density": "8.9"},
            ("--weighed", "7.3 g", "--piece", "1 m", "--scale-step", "0.1 g", "--density", "8.9 g/cm3"),
        ),
        (
            "wire",
            {"across": "1.02\n1.03", "with": "micrometer"},
            ("--across", "1.02 mm", "--across", "1.03 mm", "--with", "micrometer"),
        ),
        (
            "ring",
            {"chain": "102.5", "rings": "20", "wire": "1.2 mm"},
            ("--chain", "102.5 mm", "--rings", "20", "--wire", "1.2 mm"),
        ),
        (
            "ring",
            {"inside": "5.02\n4.98", "wire": "16 AWG"},
            ("--inside", "5.02 mm", "--inside", "4.98 mm", "--wire", "16 AWG"),
        ),
        (
            "ring",
            {"outside": "7.4", "with": "wedge", "wire": "1.2 mm"},
            ("--outside", "7.4 mm", "--with", "wedge", "--wire", "1.2 mm"),
        ),
        ("coil", {"outside": "7.66", "wire": "1.2 mm"}, ("--outside", "7.66 mm", "--wire", "1.2 mm")),
        (
            "coil",
            {"straightened": "402.6", "turns": "20", "wire": "1.2 mm", "inside": "5.24"},
            ("--straightened", "402.6 mm", "--turns", "20", "--wire", "1.2 mm", "--inside", "5.24 mm"),
        ),
    ],
)
def test_it_says_what_the_command_says(
    thing: str,
    given: dict[str, str],
    words: tuple[str, ...],
    bench: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
):
    shown = measuring.show(asked(bench, thing, **given)).values["report"]
    assert json.loads(as_json(shown)) == command_s(monkeypatch, capsys, bench, thing, *words)


@pytest.mark.parametrize("thing", ["rod", "wire", "ring", "coil"])
def test_every_box_is_read(thing: str, bench: Path):
    boxes = {box.key for way in ways_for(thing, bench) for box in way.boxes}
    assert boxes <= {*READERS, *WIRE, "spool", "with", "length_with", "printer", "tray"}
    html = html_of(measuring.show(asked(bench, thing)))
    for key in boxes:
        assert f'name="{key}"' in html
    assert "Fill in what you read" in html
    assert 'href="/sheets/measuring"' in html


@pytest.mark.parametrize(
    ("thing", "given", "key", "says"),
    [
        ("rod", {"strip": "7.95\nwide"}, "strip", "wide"),
        ("rod", {"strip": "-7.95"}, "strip", "zero"),
        ("rod", {"right_angles": "7.95"}, "across", "fill in “Across”"),
        ("rod", {"unwound": "565"}, "turns", "such as 20"),
        ("rod", {"unwound": "565", "turns": "20"}, "wire", "1.2 mm"),
        ("rod", {"unwound": "565", "turns": "many", "wire": "18"}, "turns", "not a number"),
        ("wire", {"strip": "1.02", "turns": ""}, "turns", "such as 40"),
        ("wire", {"strip": "1.02", "turns": "3.5"}, "turns", "3.5"),
        ("wire", {"weighed": "7.3"}, "piece", "such as 1 m"),
        ("wire", {"weighed": "7.3", "piece": "1 m"}, "scale_step", "such as 0.1 g"),
        ("wire", {"weighed": "7.3", "piece": "1 m", "scale_step": "0.1"}, "metal", "density"),
        ("ring", {"chain": "102.5", "rings": "20"}, "wire", "such as 1.2 mm"),
        ("ring", {"chain": "102.5", "rings": "20", "wire": "18"}, "wire", "18 AWG"),
        ("coil", {"straightened": "402", "wire": "1.2 mm"}, "turns", "such as 20"),
    ],
)
def test_what_is_refused_is_said_at_its_box_and_nothing_typed_is_lost(
    thing: str, given: dict[str, str], key: str, says: str, bench: Path
):
    answer = measuring.show(asked(bench, thing, **given))
    form = answer.values["form"]
    assert says in form[key].fault
    assert {box: form[box].value for box in given} == given
    assert answer.values["report"] is None
    assert "--" not in form[key].fault


def test_a_rod_is_kept_with_what_it_was_read_by(bench: Path):
    kept = measuring.keep(asked(bench, "rod", **STRIP, keep="marker pen", kind="household"))
    assert kept.goto.startswith("/drawer?said=marker+pen+is+kept+as+7.933+mm")
    (mandrel,) = read_bench(bench).mandrels
    assert (mandrel.name, mandrel.kind, mandrel.measured_mm) == ("marker pen", "household", pytest.approx(7.933))
    assert (mandrel.instrument, mandrel.readings) == ("strip", 3)


def test_a_mandrel_that_is_there_is_written_over_only_when_that_is_ticked(bench: Path):
    measuring.keep(asked(bench, "rod", **STRIP, keep="marker pen"))
    before = (bench / "mandrels.toml").read_bytes()
    refused = measuring.keep(asked(bench, "rod", strip="8.1", keep="marker pen"))
    assert refused.status == 422
    assert "Tick “Write over" in refused.values["form"]["keep"].fault
    assert (bench / "mandrels.toml").read_bytes() == before
    measuring.keep(asked(bench, "rod", strip="8.1", keep="marker pen", replace="yes"))
    (mandrel,) = read_bench(bench).mandrels
    assert mandrel.measured_mm == pytest.approx(8.1)


def test_a_wire_is_kept_on_its_spool(bench: Path):
    bench.mkdir()
    (bench / "spools.toml").write_text(
        '["red reel"]  # from the fair\nwire = "1.0 mm"\nmetal = "copper"\nlength = "4 m"\n'
    )
    given = {"strip": "1.02", "turns": "40"}
    assert measuring.keep(asked(bench, "wire", **given)).values["form"]["keep"].fault
    assert measuring.keep(asked(bench, "wire", **given, keep="red reel")).status == 422
    assert measuring.keep(asked(bench, "wire", **given, keep="red reel", replace="yes")).goto
    (spool,) = read_bench(bench).spools
    assert spool.instrument == "40 close turns"
    assert "# from the fair" in (bench / "spools.toml").read_text()


def test_a_wire_is_kept_on_a_spool_that_is_new(bench: Path):
    given = {"strip": "1.02", "turns": "40", "keep": "brown reel"}
    lacking = measuring.keep(asked(bench, "wire", **given)).values["form"]
    assert "fill in “Its metal”" in lacking["keep_metal"].fault
    lacking = measuring.keep(asked(bench, "wire", **given, keep_metal="copper")).values["form"]
    assert "fill in “How much is on it”" in lacking["keep_length"].fault
    bare = measuring.keep(asked(bench, "wire", **given, keep_metal="copper", keep_length="4")).values["form"]
    assert "needs a unit" in bare["keep_length"].fault
    assert measuring.keep(asked(bench, "wire", **given, keep_metal="copper", keep_length="4 m")).goto
    (spool,) = read_bench(bench).spools
    assert (spool.name, spool.metal.name, spool.length_mm, spool.temper) == ("brown reel", "copper", 4000, "soft")


def test_a_strip_counts_on_the_paper_of_its_printer_where_its_head_is_not_read(bench: Path):
    plain = measuring.show(asked(bench, "rod", **STRIP, paper="0.2 mm")).values["report"]
    read = Readings(name="study", tray="card 160 g", across="149.4 mm", along="199.5 mm", date="2026-11-25")
    measure_printer(read, bench)
    choose_printer(bench, "study", "")
    given = STRIP | {"paper": "0.2 mm", "printer": "study", "tray": "card 160 g"}
    on_card = measuring.show(asked(bench, "rod", **STRIP, paper="0.2 mm")).values["report"]
    assert on_card.parts == measuring.show(asked(bench, "rod", **given)).values["report"].parts
    assert on_card.parts != plain.parts


def test_nothing_is_kept_without_readings_or_of_readings_that_contradict(bench: Path):
    refused = measuring.keep(asked(bench, "rod", keep="marker pen"))
    assert refused.values["form"].faults == ["Nothing is read yet: fill in one of the ways."]
    given = {"strip": "7.95", "across": "8.6", "with": "caliper"}
    assert measuring.show(asked(bench, "rod", **given)).values["cautions"]
    refused = measuring.keep(asked(bench, "rod", **given, keep="marker pen"))
    assert "contradict" in refused.values["form"]["keep"].fault
    assert not (bench / "mandrels.toml").exists()


def test_while_something_is_wrong_what_was_found_before_is_left_as_it_is(bench: Path):
    """The live part leaves out what it has nothing new for, so that the page keeps it."""
    answer = measuring.show(asked(bench, "rod", strip="7.95\nwide"))
    part = render(answer.part, {"views": views(), "is_part": True, **answer.values})
    assert 'id="found"' not in part
    assert "wide" in part
    refused = measuring.keep(asked(bench, "rod", **STRIP))
    part = render(refused.part, {"views": views(), "is_part": True, **refused.values})
    assert "Rod: 7.933 mm" in part
    assert "Give its name." in part


def test_rings_go_on_into_a_record(bench: Path):
    answer = measuring.show(asked(bench, "ring", chain="102.5", rings="20", wire="1.2 mm"))
    assert answer.values["record"] == "/records/new?ring_inside=5.005+mm&with=chain+strip"
    assert answer.values["record"].replace("&", "&amp;") in html_of(answer)


def test_nothing_else_is_measured(bench: Path):
    with pytest.raises(UnknownName):
        measuring.show(asked(bench, "hammer"))
