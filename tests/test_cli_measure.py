"""The commands `measure ...`: sizes out of readings, refusals, asking, and what is kept in the bench folder."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from jigs.actions.bench import add_to_bench
from jigs.actions.printer import choose_printer
from jigs.actions.record import record_batch
from jigs.actions.ring import ring_numbers
from jigs.bench.knowledge import knowledge_of
from jigs.bench.reading import read_bench
from jigs.cli import cli
from jigs.cli.refusals import said
from jigs.stock.instrument import find_instrument
from layouts.errors import Refusal

SPOOLS = '# my reels\n["red reel"] # the good one\nwire = "18 AWG" # as sold\nmetal = "copper"\nlength = "4 m"\n'


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    (tmp_path / "spools.toml").write_text(SPOOLS)
    return tmp_path


def measure(bench: Path, *words: str, **more: Any) -> Result:
    return CliRunner().invoke(cli, ["measure", *words, "--bench", str(bench)], **more)


def found(bench: Path, *words: str) -> dict[str, Any]:
    result = measure(bench, *words, "--json")
    assert result.exit_code == 0, result.output
    figures: dict[str, Any] = json.loads(result.stdout)
    return figures


@pytest.mark.parametrize(
    ("words", "option"),
    [
        (("ring", "--chain", "100", "--rings", "20"), "chain"),
        (("rod", "--strip", "7.95 mm", "--paper", "5"), "paper"),
        (("wire", "--strip", "1.02 mm", "--turns", "40", "--piece", "5"), "piece"),
    ],
)
def test_of_several_lengths_the_one_at_fault_is_named(bench: Path, words: tuple[str, ...], option: str) -> None:
    refused = measure(bench, *words).exception
    assert isinstance(refused, Refusal)
    assert said(refused).startswith(f"--{option}: a length needs a unit")


# --- sizes out


def test_a_rod_by_strip_three_times_says_its_size_and_how_good_it_is(bench: Path) -> None:
    figures = found(bench, "rod", *["--strip", "7.95 mm"] * 2, "--strip", "7.90 mm")
    assert figures["size_mm"] == pytest.approx(7.93333, abs=1e-4)
    # C: sqrt(0.03^2 / 3 + 0.05^2 + (0.0070711 x 7.933)^2), what a rule proves of a bar of 100 mm
    assert figures["uncertainty_mm"] == pytest.approx(0.0771, abs=2e-4)
    assert (figures["instrument"], figures["times_read"]) == ("strip", 3)
    text = measure(bench, "rod", *["--strip", "7.95 mm"] * 3).output
    assert "Rod: 7.950 mm, good for ±0.077 mm (k = 2)" in text
    assert "20 turns of a known wire, unwound and straightened" in text


def test_measured_paper_takes_the_place_of_the_usual(bench: Path) -> None:
    figures = found(bench, "rod", "--strip", "7.95 mm", "--paper", "0.12 mm")
    assert figures["size_mm"] == pytest.approx(7.93)
    assert figures["instrument"] == "strip, paper measured"
    printed = found(bench, "rod", "--strip", "7.95 mm", "--paper", "0.12 mm", "--sheet-paper", "0.12 mm")
    assert printed["size_mm"] == pytest.approx(7.95)


def test_a_strip_of_card_counts_on_that_card_as_its_sheet_does(bench: Path) -> None:
    """A sheet for a printer with card of 250 g in it counts on 0.28 mm: with card of 0.29 a rod is 0.01 thinner."""
    words = ["--across", "149.4 mm", "--along", "199.5 mm", "--bench", str(bench)]
    kept = CliRunner().invoke(cli, ["printer", "measure", "study", "--tray", "card 250 g", *words])
    assert kept.exit_code == 0, kept.output
    rod = ("rod", "--strip", "7.95 mm", "--printer", "study")
    assert found(bench, *rod)["size_mm"] == pytest.approx(7.95)
    assert found(bench, *rod, "--paper", "0.29 mm")["size_mm"] == pytest.approx(7.94)
    assert found(bench, *rod, "--paper", "0.29 mm", "--sheet-paper", "0.3 mm")["size_mm"] == pytest.approx(7.96)


def test_a_rod_by_pins_through_plain_paper(bench: Path) -> None:
    """By hand: R 4, t 0.1: 8.1 pi + 0.0147 + (3 / 4.05) x 0.1 = 25.5357 mm from hole to hole."""
    assert found(bench, "rod", "--pricks", "25.5357 mm")["size_mm"] == pytest.approx(8.0, abs=1e-4)


def test_a_rod_by_unwound_wire_of_a_spool(bench: Path) -> None:
    wire = ("--wire", "1.0 mm", "--wire-good-for", "0.01 mm")
    assert found(bench, "rod", "--unwound", "565.84 mm", "--turns", "20", *wire)["size_mm"] == pytest.approx(
        8, abs=1e-3
    )
    assert found(bench, "rod", "--unwound", "565.84 mm", "--turns", "20", "--spool", "red reel")["size_mm"] < 8.0


def test_an_oval_rod_and_a_tapered_one_are_named(bench: Path) -> None:
    text = measure(bench, "rod", "--across", "8.02 mm", "--right-angles", "7.86 mm", "--other-end", "7.7 mm").output
    assert "It is oval by 0.16 mm (2 %)" in text
    assert "Its other end is thinner by 0.24 mm" in text
    once = measure(bench, "rod", "--across", "8.02 mm").output
    assert "Read across one way: read it at right angles too" in once
    round_one = measure(bench, "rod", "--across", "8.02 mm", "--right-angles", "8.01 mm").output
    assert "read one way" not in round_one  # an error that the two readings cancel is none
    assert "Round, as far as it was read: 0.01 mm ±0.04 mm." in round_one


def test_a_wire_by_forty_turns_is_told_with_its_gauge(bench: Path) -> None:
    result = measure(bench, "wire", "--strip", "1.02 mm", "--turns", "40", "--rod", "8 mm")
    assert "Wire: 1.021 mm, good for ±0.013 mm (k = 2)" in result.output
    assert "The wire is 18 AWG = 19 SWG: 96.7 % likely among the sizes that are sold." in result.output
    unsure = measure(bench, "wire", "--turns-length", "10.1 mm", "--turns", "10").output
    assert "or" in unsure
    assert "what was read does not tell them apart" in unsure


def test_a_wire_by_weight_uses_the_metal_s_density(bench: Path) -> None:
    words = ("wire", "--weighed", "7.3 g", "--piece", "1 m", "--scale-step", "0.1 g")
    # by hand: sqrt(4 x 7300 / (pi x 8.94 x 1000)) = 1.01965
    assert found(bench, *words, "--metal", "copper")["size_mm"] == pytest.approx(1.01965, abs=1e-5)
    assert found(bench, *words, "--density", "8.94 g/cm3")["size_mm"] == pytest.approx(1.01965, abs=1e-5)


def test_a_ring_by_a_chain_says_its_outside_and_its_ratio(bench: Path) -> None:
    figures = found(bench, "ring", "--chain", "102.4 mm", "--rings", "20", "--wire", "1.2 mm")
    assert figures["size_mm"] == pytest.approx(5.0)
    assert (figures["outside_mm"], figures["aspect_ratio"]) == (pytest.approx(7.4), pytest.approx(5 / 1.2))
    by_wedge = found(bench, "ring", "--outside", "7.4 mm", "--with", "wedge", "--wire", "1.2 mm")
    assert by_wedge["uncertainty_mm"] > figures["uncertainty_mm"]


def test_a_coil_by_turns_straightened(bench: Path) -> None:
    """By hand: 20 turns of ID 5 in 1.2: 20 x sqrt((6.2 pi)^2 + 1.2^2) = 390.295."""
    words = ("coil", "--straightened", "390.295 mm", "--turns", "20", "--wire", "1.2 mm")
    assert found(bench, *words)["size_mm"] == pytest.approx(5.0, abs=1e-3)


def test_lengths_are_said_in_inches_with_millimetres_beside(bench: Path) -> None:
    text = measure(bench, "rod", "--across", "0.3125 in", "--units", "inch").output
    assert "Rod: 0.3125 in [7.938 mm]" in text


def test_readings_that_contradict_are_named_loudly_and_not_kept(bench: Path) -> None:
    words = ("rod", "--strip", "7.95 mm", "--across", "8.4 mm", "--right-angles", "8.4 mm")
    result = measure(bench, *words)
    assert "CAUTION: strip and caliper contradict one another: 0.45 mm apart" in result.output
    kept = measure(bench, *words, "--keep", "rod 8")
    assert isinstance(kept.exception, Refusal)
    assert not (bench / "mandrels.toml").exists()


def test_the_odd_one_of_three_is_named(bench: Path) -> None:
    readings = ["--across", "8.00 mm", "--across", "8.01 mm", "--across", "8.30 mm"]
    assert "CAUTION: caliper, reading 3 contradicts the others" in measure(bench, "rod", *readings).output


def test_a_sheet_made_true_for_a_printer_has_its_scale(bench: Path) -> None:
    words = ["--across", "149.4 mm", "--along", "199.5 mm", "--with", "caliper", "--bench", str(bench)]
    kept = CliRunner().invoke(cli, ["printer", "measure", "study", "--tray", "plain 80 g", *words])
    assert kept.exit_code == 0, kept.output
    usual = found(bench, "ring", "--chain", "102.4 mm", "--rings", "20", "--wire", "1.2 mm")
    better = found(bench, "ring", "--chain", "102.4 mm", "--rings", "20", "--wire", "1.2 mm", "--printer", "study")
    assert 0 < better["scale_mm"] < usual["scale_mm"]


def test_rings_of_unknown_wire_tell_it_by_a_chain_and_an_outside(bench: Path) -> None:
    """By hand: 20 rings of ID 5 in 1.2: 102.4 end to end, OD 7.4. (20 x 7.4 - 102.4) / 38 = 1.2."""
    words = ["ring", "--chain", "102.4 mm", "--rings", "20", *["--outside", "7.4 mm"] * 3, "--with", "wedge"]
    figures = found(bench, *words)
    assert (figures["size_mm"], figures["wire_mm"]) == (pytest.approx(5.0), pytest.approx(1.2))
    # C: half of 20/19 of the wedge's sqrt(0.1^2 / 3 + 0.05^2 + (s x 7.4)^2), and a 38th of the chain's 0.41, 0.05 and s
    # of its length, where s is 0.70711 %, what a rule proves of a bar of 100 mm
    outside = (0.1**2 / 3 + 0.05**2 + (0.0070711 * 7.4) ** 2) ** 0.5
    chain = (0.41**2 + 0.05**2 + (0.0070711 * 102.4) ** 2) ** 0.5
    by_hand = ((20 * outside) ** 2 + chain**2) ** 0.5 / 38
    assert figures["wire_uncertainty_mm"] == pytest.approx(by_hand, rel=1e-5)
    known = found(bench, *words[:5], "--wire", "1.2 mm", "--wire-good-for", f"{by_hand} mm")
    assert figures["uncertainty_mm"] == pytest.approx(known["uncertainty_mm"])
    text = measure(bench, *words).output
    assert "The wire is 1.2 mm, 18 SWG or 17 AWG: what was read does not tell them apart." in text


def test_rings_of_unknown_wire_tell_it_by_inside_and_outside(bench: Path) -> None:
    figures = found(bench, "ring", "--inside", "5.0 mm", "--outside", "7.4 mm")
    assert (figures["size_mm"], figures["wire_mm"]) == (pytest.approx(5.0), pytest.approx(1.2))
    # C: the caliper's bias is in both and cancels
    assert figures["wire_uncertainty_mm"] == pytest.approx(0.03 * 2**0.5 / 2)


# --- refusals


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("rod",), "no reading of the rod is given"),
        (("rod", "--right-angles", "8 mm"), "a rod read at right angles or at its other end only"),
        (("rod", "--unwound", "565 mm", "--wire", "1 mm"), "the readings need the turns"),
        (("rod", "--unwound", "565 mm", "--turns", "20"), "the readings need the wire"),
        (
            ("rod", "--across", "8 mm", "--with", "chain strip"),
            "no instrument that reads a rod is called 'chain strip'",
        ),
        (("rod", "--across", "8 mm", "--with", "calliper"), "no instrument is called 'calliper'"),
        (("rod", "--strip", "795 mm"), "a strip that reads 795.00 mm; give what it says, from 2.9 mm to 25.6 mm"),
        (("rod", "--strip", "7.95 mm", "--paper", "10 mm"), "paper 10.00 mm thick is no paper for a strip"),
        (("wire", "--strip", "1 mm"), "the readings need the turns"),
        (("wire", "--strip", "40 mm", "--turns", "40"), "would be wire of 40 mm"),
        (("wire", "--turns-length", "1.02 mm", "--turns", "40"), "40 wires in 1.02 mm would be wire of 0.02 mm"),
        (
            ("wire", "--weighed", "730 g", "--piece", "0.1 m", "--scale-step", "0.1 g", "--metal", "copper"),
            "would be wire of 32.24 mm",
        ),
        (("wire", "--weighed", "7 g", "--piece", "1 m", "--scale-step", "0.1 g"), "weighing needs a density"),
        (("wire", "--weighed", "7 g", "--scale-step", "0.1 g", "--metal", "copper"), "the readings need the piece"),
        (("ring", "--chain", "100 mm", "--wire", "1 mm"), "the readings need the rings"),
        (("ring", "--chain", "100 mm", "--rings", "20"), "a chain needs its wire, or the outside of one"),
        (("ring", "--chain", "100 mm", "--rings", "1", "--outside", "7 mm"), "a chain of 1 rings"),
        (("ring", "--chain", "100 mm", "--rings", "20", "--outside", "5 mm"), "leave no wire between them"),
        (("ring", "--inside", "5 mm", "--outside", "7 mm", "--with", "wedge"), "no instrument that reads an inside"),
        (("ring", "--outside", "7 mm"), "the readings need the wire"),
        (
            ("ring", "--weighed", "0.19 g", "--wire", "1.2 mm", "--metal", "copper"),
            "a ring's weight tells its size only",
        ),
        (("ring", "--chain", "100 mm", "--rings", "60", "--wire", "1.2 mm"), "do not pass through that"),
        (("coil", "--straightened", "40 mm", "--turns", "20", "--wire", "1.2 mm"), "too little to have gone round"),
        (("rod", "--across", "8 mm", "--printer", "attic"), "attic"),
        (("rod", "--across", "8 mm", "--wire-good-for", "0.1 mm"), "how good the wire is, and no wire"),
    ],
)
def test_what_cannot_be_measured_is_refused_in_one_line(bench: Path, words: tuple[str, ...], said: str) -> None:
    result = measure(bench, *words)
    assert isinstance(result.exception, Refusal)
    assert said in str(result.exception)
    assert "\n" not in str(result.exception)


# --- keeping


def test_a_rod_is_kept_by_name_with_what_read_it(bench: Path) -> None:
    readings = ["--strip", "7.95 mm"] * 3
    result = measure(bench, "rod", *readings, "--keep", "blue pen", "--kind", "household")
    assert "mandrel blue pen is in" in result.output
    [mandrel] = read_bench(bench).mandrels
    assert (mandrel.name, mandrel.measured_mm, mandrel.kind) == ("blue pen", 7.95, "household")
    assert (mandrel.instrument, mandrel.readings) == ("strip", 3)


def test_a_rod_that_was_read_at_right_angles_too_is_kept_as_that_and_its_rings_are_surer(bench: Path) -> None:
    keep = ["--keep", "pin", "--replace"]

    def width() -> float:
        found = ring_numbers(bench=bench, spool="reel", mandrel="pin", cut="none").batch
        coil = next(figure for figure in found.ledger if figure.name == "coil ID")
        return coil.high - coil.low

    reel = {"wire": "1.2 mm", "metal": "copper", "temper": "soft", "length": "9 m", "with": "caliper"}
    add_to_bench(bench, "spool", "reel", reel)
    add_to_bench(bench, "mandrel", "rod 9", {"measured": "9 mm"})
    record_batch(bench, {"spool": "reel", "mandrel": "rod 9", "coil_inside": ("9.13 mm",), "with": "caliper"})
    measure(bench, "rod", "--across", "10.02 mm", "--across", "10.02 mm", *keep)
    mandrel = read_bench(bench).mandrel("pin")
    one_way = width()
    assert (mandrel.is_read_all_round, mandrel.readings) == (False, 2)
    measure(bench, "rod", "--across", "10.04 mm", "--right-angles", "10.00 mm", *keep)
    mandrel = read_bench(bench).mandrel("pin")
    assert (mandrel.is_read_all_round, mandrel.readings, mandrel.measured_mm) == (True, 2, 10.02)
    assert width() < one_way - 0.001
    measure(bench, "rod", "--strip", "10.02 mm", *keep)
    assert "right angles" not in (bench / "mandrels.toml").read_text()


def test_a_mandrel_that_is_there_is_written_over_only_when_told_and_its_comments_stay(bench: Path) -> None:
    mine = '# my rods\n["rod 8"] # from the old drill\nmeasured = "8 mm"\nlength = "250 mm" # cut down\n'
    (bench / "mandrels.toml").write_text(mine)
    again = measure(bench, "rod", "--across", "7.95 mm", "--keep", "rod 8")
    assert "mandrel 'rod 8' is there already" in str(again.exception)
    assert (bench / "mandrels.toml").read_text() == mine
    assert measure(bench, "rod", "--across", "7.95 mm", "--keep", "rod 8", "--replace").exit_code == 0
    text = (bench / "mandrels.toml").read_text()
    assert all(words in text for words in ("# my rods", "# from the old drill", "# cut down", 'measured = "7.95 mm"'))
    assert read_bench(bench).mandrels[0].length_mm == 250.0


def test_a_wire_is_kept_as_that_of_its_spool(bench: Path) -> None:
    words = ("wire", "--strip", "1.01 mm", "--turns", "40", "--rod", "8 mm", "--keep", "red reel")
    assert "is there already" in str(measure(bench, *words).exception)
    assert (bench / "spools.toml").read_text() == SPOOLS
    assert measure(bench, *words, "--replace").exit_code == 0
    [spool] = read_bench(bench).spools
    assert (spool.wire.diameter_mm, spool.instrument, spool.readings) == (1.011, "40 close turns", 1)
    assert (spool.metal.name, spool.length_mm) == ("copper", 4000)
    assert "# my reels" in (bench / "spools.toml").read_text()


def test_a_spool_that_is_not_there_is_refused(bench: Path, tmp_path: Path) -> None:
    words = ("wire", "--across", "1.01 mm", "--keep", "blue reel")
    assert "no spool is called 'blue reel'; known: red reel" in str(measure(bench, *words).exception)
    (bench / "spools.toml").unlink()
    assert "a new one needs its metal and its length; give the metal" in str(measure(tmp_path, *words).exception)
    assert "give the length" in str(measure(tmp_path, *words, "--metal", "copper").exception)


def test_a_wire_of_a_new_reel_is_measured_and_its_spool_written_at_once(bench: Path) -> None:
    words = ("wire", "--strip", "1.01 mm", "--turns", "40", "--keep", "blue reel", "--metal", "copper")
    assert "spool blue reel is in" in measure(bench, *words, "--length", "3 m").output
    new = read_bench(bench).spool("blue reel")
    assert (new.wire.diameter_mm, new.metal.name, new.length_mm) == (1.01, "copper", 3000)
    assert (new.instrument, new.temper) == ("40 close turns", "soft")
    assert (bench / "spools.toml").read_text().startswith(SPOOLS)
    refused = measure(bench, *words[:-1], "copper", "--length", "3")
    assert refused.exit_code != 0
    assert isinstance(refused.exception, Refusal)


def test_what_is_kept_is_used_with_its_uncertainty_from_then_on(bench: Path) -> None:
    words = ("wire", "--strip", "1.01 mm", "--turns", "40", "--rod", "8 mm", "--keep", "red reel", "--replace")
    assert measure(bench, *words).exit_code == 0
    figures = found(bench, "ring", "--outside", "7.01 mm", "--spool", "red reel")
    assert figures["size_mm"] == pytest.approx(7.01 - 2 * 1.011, abs=1e-9)
    # C: caliper 0.03 and 0.02, and twice the wire's sqrt(0.010^2 + 0.004^2 + (0.0070711 x 1.011)^2)
    assert figures["uncertainty_mm"] == pytest.approx((0.03**2 + 0.02**2 + 4 * 0.0129**2) ** 0.5, abs=2e-4)


def _study(bench: Path) -> None:
    """A printer read by rule: on 150 mm 0.5 and two ends of 0.25, 0.4714 % at k = 2; with paper and skew 0.49 %."""
    words = ["--across", "149.4 mm", "--along", "199.5 mm", "--bench", str(bench)]
    kept = CliRunner().invoke(cli, ["printer", "measure", "study", "--tray", "plain 80 g", *words])
    assert kept.exit_code == 0, kept.output


@pytest.mark.parametrize(("printer", "scale"), [((), "0.707 %"), (("--printer", "study"), "0.49 %")])
def test_a_rod_read_by_a_strip_keeps_the_scale_of_the_printer_it_came_off(
    bench: Path, printer: tuple[str, ...], scale: str
) -> None:
    """C: sqrt(0.03^2 / 3 + 0.05^2 + (s x 24)^2): 0.178 off any printer, 0.129 off one that is measured."""
    _study(bench)
    rod = ("rod", *["--strip", "24 mm"] * 3, *printer)
    said = found(bench, *rod)["uncertainty_mm"]
    by_hand = (0.03**2 / 3 + 0.05**2 + (float(scale[:-2]) / 100 * 24) ** 2) ** 0.5
    assert said == pytest.approx(by_hand, abs=1e-4)
    assert measure(bench, *rod, "--keep", "broom").exit_code == 0
    assert f'scale = "{scale}"' in (bench / "mandrels.toml").read_text()
    owned = read_bench(bench)
    broom = owned.mandrel("broom")
    assert owned.instrument_of(broom).uncertainty_mm(24.0, broom.readings) == pytest.approx(said, abs=1e-4)
    # and that of a plan: with a wire that is known and a coil just wound, what is not known of the rod is all there is
    assert knowledge_of(owned).rod("broom", 24.0).instrument == owned.instrument_of(broom)


def test_the_usual_printer_counts_where_none_is_named_and_none_takes_that_back(bench: Path) -> None:
    _study(bench)
    rod = ("rod", *["--strip", "24 mm"] * 3)
    off_any, off_study = (found(bench, *rod, *more)["uncertainty_mm"] for more in ((), ("--printer", "study")))
    assert off_any > off_study
    choose_printer(bench, "study")
    assert found(bench, *rod)["uncertainty_mm"] == off_study
    assert "Read on a sheet made true for study, your usual printer" in measure(bench, *rod).output
    assert found(bench, *rod, "--printer", "none")["uncertainty_mm"] == off_any
    across = measure(bench, "rod", "--across", "24 mm").output
    assert "usual printer" not in across


def test_a_rod_kept_again_takes_the_scale_of_what_read_it_last(bench: Path) -> None:
    _study(bench)
    measure(bench, "rod", "--strip", "24 mm", "--printer", "study", "--keep", "broom")
    measure(bench, "rod", "--across", "24.02 mm", "--keep", "broom", "--replace")
    assert "scale" not in (bench / "mandrels.toml").read_text()
    (bench / "mandrels.toml").write_text('[mine]\nmeasured = "24 mm"\nwith = "strip"\n')  # as ever, by hand
    owned = read_bench(bench)
    assert owned.instrument_of(owned.mandrel("mine")) == find_instrument("strip")


@pytest.mark.parametrize(
    ("read", "scale", "scatter"),
    [
        (("--strip", "1.20 mm", "--printer", "study"), "0.491 %", 0.41),  # the gaps have no scale: 48.2 / 48.1
        (("--turns-length", "48.01 mm", "--length-with", "loupe"), "0 %", 0.16),
    ],
)
def test_a_wire_keeps_the_scale_of_what_read_its_turns(
    bench: Path, read: tuple[str, ...], scale: str, scatter: float
) -> None:
    """A rule has no scale to be off by, and its turns are no worse for the strip that others are laid on."""
    _study(bench)
    wire = ("wire", *read, "--turns", "40", "--rod", "8 mm")
    assert measure(bench, *wire, "--keep", "red reel", "--replace").exit_code == 0
    assert f'scale = "{scale}"' in (bench / "spools.toml").read_text()
    owned = read_bench(bench)
    reel = owned.spool("red reel")
    assert owned.instrument_of(reel).scale == pytest.approx(float(scale[:-2]) / 100)
    kept = owned.instrument_of(reel).uncertainty_mm(reel.wire.diameter_mm)
    assert kept == pytest.approx((0.010**2 + 0.004**2 + (float(scale[:-2]) / 100 * 1.2) ** 2) ** 0.5, abs=1e-4)
    assert kept >= scatter / 40 - 0.001


# --- asking


@pytest.fixture
def terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("jigs.cli.measure.asking.in_a_terminal", lambda: True)


@pytest.mark.usefixtures("terminal")
def test_in_a_terminal_it_asks_reading_by_reading(bench: Path) -> None:
    result = measure(bench, "rod", input="strip\n7.95\n7.9 mm\n7.95\n\nblue pen\n")
    assert "Rod: 7.933 mm" in result.output
    assert read_bench(bench).mandrels[0].readings == 3


@pytest.mark.usefixtures("terminal")
def test_what_is_wrong_is_said_and_asked_again(bench: Path) -> None:
    result = measure(bench, "wire", input="scale\nweighed\n7,3\n\n1 m\n0.1\n8.94\n\n")
    assert "no way to measure is called 'scale'" in result.output
    assert "Wire: 1.020 mm" in result.output


@pytest.mark.usefixtures("terminal")
@pytest.mark.parametrize(
    ("kind", "answers", "said"),
    [
        ("ring", "chain\n102.4\n\n20\n1.2\n", "Ring, inside: 5.000 mm"),
        ("ring", "chain\n102.4\n\n20\n\n7.4\n\n\n", "wire, worked out                    1.200 mm"),
        ("ring", "outside\n7.4\n\nwedge\n1.2\n", "outside by wedge"),
        ("wire", "strip\n1.02\n\n40\nblue reel\ncopper\n3\n", "spool blue reel is in"),
        ("coil", "straightened\n390.295\n\n20\n1.2 mm\n", "Coil, inside: 5.000 mm"),
        ("rod", "across\n8.02\n\n\n7.98\n\n\n", "Rod: 8.000 mm"),
        ("rod", "unwound\n565.84\n\n20\n1\n\n", "Rod: 8.000 mm"),
    ],
)
def test_every_thing_can_be_asked_for(bench: Path, kind: str, answers: str, said: str) -> None:
    assert said in measure(bench, kind, input=answers).output
