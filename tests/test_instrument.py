"""Instruments: what readings are good for, those of the table and those of one's own."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.cli.bench import command
from jigs.guides.measuring import Wanted, measuring_sheet
from jigs.reports.as_text import as_text
from jigs.reports.tables import TABLES
from jigs.stock.figure import Basis
from jigs.stock.instrument import Instrument, find_instrument, instruments
from layouts.errors import OutOfRange, UnknownName
from layouts.files.faults import FileFaulty
from layouts.printing.printer import Printer, Reading


def test_many_readings_shrink_the_scatter_and_leave_bias_and_scale() -> None:
    found = Instrument(name="x", scatter_mm=0.3, bias_mm=0.04, scale=0.003, basis=Basis.USUAL, source="P")
    # C: sqrt(0.3^2 + 0.04^2 + (0.003 x 10)^2), then with 0.3 / 3
    assert found.uncertainty_mm(10.0) == pytest.approx(math.sqrt(0.09 + 0.0016 + 0.0009), rel=1e-12)
    assert found.uncertainty_mm(10.0, readings=9) == pytest.approx(math.sqrt(0.01 + 0.0025), rel=1e-12)
    assert found.uncertainty_mm(10.0, readings=10**9) == pytest.approx(0.05, rel=1e-6)


def test_a_chain_of_twenty_by_the_table_reads_as_published_there() -> None:
    """C, simulated: a chain of 20 rings of ID 5 is good to 0.025 mm a ring at a scale good to 0.3 %."""
    strip = replace(find_instrument("chain strip"), scale=0.003)
    assert pytest.approx(strip.uncertainty_mm(100.0) / 20, abs=0.002) == 0.025


def test_a_strip_by_the_table_reads_a_rod_as_published_there() -> None:
    """C, simulated: one wrap of a strip is good to 0.060 mm where its paper is not measured, at 0.3 %."""
    strip = replace(find_instrument("strip"), scale=0.003)
    assert pytest.approx(strip.uncertainty_mm(5.0), abs=0.002) == 0.060


def test_the_scale_of_what_is_printed_is_what_a_rule_proves_on_the_check_bars() -> None:
    """C, reference: a rule without a class on 100 mm, 2 sqrt((0.3 + 0.2)^2 / 3 + 2 x 0.25^2 / 3) / 100 = 0.70711 %.

    It is the budget of a printer measured by its check bars: no uncorrected sheet is trusted more than a corrected one.
    """
    by_hand = 2 * math.sqrt(0.5**2 / 3 + 2 * 0.25**2 / 3) / 100
    assert by_hand == pytest.approx(0.0070711, abs=1e-7)
    on_bars = Reading(length_mm=100.0, read_mm=100.0)
    printer = Printer(name="study", tray="plain 80 g", instrument="rule", across=on_bars, along=on_bars)
    assert printer.scale_budget(on_bars).expanded == pytest.approx(by_hand)
    scales = {tool.name: tool.scale for tool in instruments()}
    assert {name for name, scale in scales.items() if scale} == {tool.name for tool in instruments() if tool.printed}
    assert {"strip", "wedge", "card", "chain strip", "40 close turns"} <= {n for n, scale in scales.items() if scale}
    assert all(scale in (0.0, pytest.approx(by_hand)) for scale in scales.values())


def test_that_scale_is_said_in_one_sentence_on_the_sheet_and_beside_the_table() -> None:
    said = "Check bars that read right by rule prove a sheet's scale to 0.71 %."
    sheet = measuring_sheet(Wanted())
    assert " ".join(sheet.notes).count(said) == 1
    assert sheet.on is not None
    on_bars = Reading(length_mm=100.0, read_mm=100.0)
    printer = Printer(name="study", tray="plain 80 g", instrument="caliper", across=on_bars, along=on_bars)
    assert said not in " ".join(sheet.on(printer).notes)
    assert said in as_text(TABLES["instruments"](), 400)


@pytest.mark.parametrize("instrument", instruments(), ids=lambda found: found.name)
def test_every_instrument_says_what_it_is_and_where_its_figures_come_from(instrument: Instrument) -> None:
    assert instrument.source
    assert instrument.about
    assert instrument.scatter_sd == instrument.scatter_mm / 2
    assert instrument.bias_sd == instrument.bias_mm / 2
    assert instrument.basis in (Basis.USUAL, Basis.TABLE)


def test_an_unknown_instrument_is_refused_with_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="no instrument is called 'calliper'"):
        Bench().instrument("calliper")


def test_one_of_your_own_counts_before_the_table(tmp_path: Path) -> None:
    add = ["add", "instrument", "caliper", "--bias", "0.01 mm", "--bench", str(tmp_path)]
    assert CliRunner().invoke(command, add).exit_code == 0
    bench = read_bench(tmp_path)
    assert bench.instrument("caliper").bias_mm == 0.01
    assert bench.instrument("caliper").scatter_mm == find_instrument("caliper").scatter_mm  # the table's, not said
    assert bench.instrument("caliper").basis is Basis.MEASURED
    assert bench.instrument("rule") == find_instrument("rule")


def test_one_of_a_new_name_needs_its_scatter(tmp_path: Path) -> None:
    (tmp_path / "instruments.toml").write_text('["old caliper"]\nbias = "0.04 mm"\n')
    with pytest.raises(FileFaulty, match=r"\[old caliper\] has no scatter; add a line such as scatter"):
        read_bench(tmp_path)


def test_mandrels_and_spools_say_what_they_were_read_with(tmp_path: Path) -> None:
    words = ["--measured", "6.02 mm", "--with", "strip", "--readings", "3", "--bench", str(tmp_path)]
    assert CliRunner().invoke(command, ["add", "mandrel", "rod 7", *words]).exit_code == 0
    words = ["--wire", "1.2 mm", "--metal", "copper", "--length", "2 m", "--with", "caliper", "--bench", str(tmp_path)]
    assert CliRunner().invoke(command, ["add", "spool", "reel", *words]).exit_code == 0
    bench = read_bench(tmp_path)
    assert [(mandrel.instrument, mandrel.readings) for mandrel in bench.mandrels] == [("strip", 3)]
    assert [(spool.instrument, spool.readings) for spool in bench.spools] == [("caliper", 1)]


@pytest.mark.parametrize("wrong", [{"scatter_mm": 9.0}, {"bias_mm": -0.1}, {"scale": 0.5}, {"bias_mm": float("nan")}])
def test_what_measures_nothing_is_refused(wrong: dict[str, float]) -> None:
    good = {"scatter_mm": 0.1, "bias_mm": 0.1, "scale": 0.001}
    with pytest.raises(OutOfRange):
        Instrument(name="x", basis=Basis.USUAL, source="P", **(good | wrong))
