"""The command `ring`: its help, its table, its JSON and what it refuses."""

from __future__ import annotations

import json
import sys

import pytest
from click.testing import CliRunner, Result

from jigs.cli import main
from jigs.cli.ring import command

COPPER = ("--wire", "16 AWG", "--metal", "copper", "--mandrel", "5 mm", "--cut", "saw", "--blade", "2")


def run(*words: str) -> Result:
    result = CliRunner().invoke(command, list(words), catch_exceptions=False)
    assert result.exit_code == 0
    return result


def figures(*words: str) -> dict:
    return json.loads(run(*words, "--json").stdout)


def refused(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    monkeypatch.setattr(sys, "argv", ["coilwright", "ring", *words])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    return err


def test_the_help_has_three_lines_of_example_and_every_option():
    words = run("--help").stdout
    assert words.count("  coilwright ring --wire") == 3
    for option in (
        *(
            "--wire",
            "--metal",
            "--temper",
            "--mandrel",
            "--measured",
            "--inside",
            "--outside",
            "--ratio",
            "--cut",
            "--blade",
        ),
        *("--kerf", "--trim", "--gap", "--rings", "--wire-length", "--density", "--modulus", "--strength", "--json"),
    ):
        assert f"  {option} " in words


def test_the_table_goes_from_mandrel_to_ratio_and_says_what_each_rests_on():
    words = run(*COPPER, "--rings", "100").stdout
    places = [
        words.index(f"\n{name} ") for name in ("mandrel", "springback", "coil ID", "cut", "closed ID", "OD", "AR")
    ]
    assert places == sorted(places)
    for said in (
        "as named: measure the rod",
        "Callister",
        "blade 2",
        "common practice",
        "100 rings",
        "mass of one ring",
        "Weighed at 8.94",
    ):
        assert said in words


def test_the_table_shows_millimetres_then_inches_then_the_nearest_64th():
    line = next(line for line in run(*COPPER).stdout.splitlines() if line.startswith("mandrel"))
    assert line.split()[1:7] == ["5.000", "0.1969", "13/64", "in", "-", "0.159"]


def test_the_table_has_no_line_wider_than_a_terminal_of_120():
    words = run("--wire", "18 AWG", "--metal", "304", "--inside", "4.5 mm", "--cut", "cutters", "--rings", "9").stdout
    assert max(map(len, words.splitlines())) <= 120


def test_a_band_is_shown_where_there_is_one():
    assert " to " in run("--wire", "1 mm", "--metal", "sterling", "--mandrel", "5 mm").stdout.split("mandrel")[2]


def test_a_wanted_ring_gets_its_mandrel_and_four_rods():
    words = run("--wire", "18 AWG", "--metal", "sterling", "--inside", "4.5 mm", "--cut", "cutters").stdout
    assert "worked back from the wanted inside of 4.500 mm" in words
    assert len(words.split("The nearest rods")[1].strip().splitlines()) == 6


def test_the_json_has_the_figures():
    given = figures(*COPPER, "--rings", "100")
    assert given["cut"] == "saw"
    assert given["rings"] == 100
    assert given["wire_mm"] == pytest.approx(1.290846, abs=5e-7)  # ASTM B258
    assert given["springback_ratio"] > 1


def test_a_ratio_gives_that_ratio():
    assert figures("--wire", "1.2 mm", "--ratio", "4.2", "--metal", "brass")["aspect_ratio"] == pytest.approx(4.2)


def test_a_kerf_alone_means_the_saw_and_a_trim_alone_the_cutters():
    assert figures("--wire", "1 mm", "--mandrel", "5 mm", "--kerf", "0.26 mm")["ring_inside_mm"] == pytest.approx(
        4.92568, abs=5e-6
    )  # C, computed from theory
    assert figures("--wire", "1 mm", "--mandrel", "5 mm", "--trim", "0.5 mm")["cut"] == "cutters"


def test_a_certificate_is_read_in_any_unit():
    words = ("--density", "0.32 lb/in^3", "--modulus", "16 Msi", "--strength", "35 ksi")
    assert "strength 241 MPa as given, E 110.3" in run("--wire", "1 mm", "--mandrel", "5 mm", *words).stdout.replace(
        "\n" + " " * 60, " "
    )
    # 0.32 lb/in3 = 8.8576 g/cm3, by hand; the turn of 18.87606 mm is C, computed from theory:
    # pi/4 x 18.87606 x 8.8576 / 1000
    given = figures("--wire", "1 mm", "--mandrel", "5 mm", "--density", "0.32 lb/in^3")
    assert given["ring_mass_g"] == pytest.approx(0.131316, abs=5e-6)


def test_a_mandrel_off_its_name_is_said_loudly_and_the_measurement_counts():
    words = ("--wire", "1.2 mm", "--mandrel", "5/16 in", "--measured", "7.6 mm")
    assert "CAUTION: the mandrel is not what its name says" in run(*words).stdout
    json_run = run(*words, "--json")
    assert json.loads(json_run.stdout)["mandrel_mm"] == 7.6
    assert "CAUTION" in json_run.stderr


def test_a_trial_coil_counts():
    words = ("--wire", "1 mm", "--metal", "copper", "--mandrel", "5 mm", "--coil-measured", "5.2 mm")
    assert figures(*words)["coil_inside_mm"] == pytest.approx(5.2, abs=1e-9)


def test_the_same_command_says_the_same():
    assert run(*COPPER).stdout == run(*COPPER).stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "--wire"),
        (("--wire", "18", "--mandrel", "5 mm"), "18 AWG"),
        (("--wire", "1 mm"), "no size is given for the ring"),
        (("--wire", "1 mm", "--mandrel", "5"), "5 mm"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--inside", "5 mm"), "two sizes are given for one ring"),
        (("--wire", "1 mm", "--ratio", "nan"), "aspect ratio is nan"),
        (("--wire", "1 mm", "--ratio", "4,2x"), "--ratio"),
        (("--wire", "1 mm", "--inside", "5 mm", "--measured", "5 mm"), "a measured mandrel needs its name"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--metal", "cheese"), "no metal is called 'cheese'; known: "),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--metal", "copper", "--temper", "al dente"), "known: "),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--temper", "hard"), "the temper 'hard' needs its metal"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--cut", "laser"), "laser"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--blade", "99"), "no saw blade is called '99'"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--cut", "cutters", "--blade", "2"), "belongs to the saw"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--cut", "saw", "--trim", "1 mm"), "a trim belongs to cutters"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--rings", "3", "--wire-length", "1 m"), "are two answers"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--rings", "0"), "number of rings is 0"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--rings", "few"), "--rings"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--rejects", "-1", "--rings", "3"), "-1 rejects per coil"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--strength", "35 ksi"), "needs both a modulus and a strength"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--density", "9 MPa"), "density"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--coil-mandrel", "5 mm"), "a trial mandrel needs its coil"),
        (("--wire", "1 mm", "--mandrel", "5 mm", "--coil-measured", "4.9 mm"), "measure both again"),
    ],
)
def test_what_cannot_be_used_is_refused_in_one_line(monkeypatch, capsys, words, said):
    assert said in refused(monkeypatch, capsys, *words)


def test_tails_too_short_to_hold_are_refused_by_the_rule_of_an_order(monkeypatch, capsys, tmp_path):
    # P: 10 mm bent and 30 mm in the hand; in wood 25 mm go through the cross-hole instead
    (tmp_path / "mandrels.toml").write_text('[oak]\nmeasured = "8 mm"\nkind = "wood"\n', encoding="utf-8")
    short = refused(monkeypatch, capsys, *COPPER, "--tails", "39 mm")
    assert "tails of 39 mm are too short to hold: 10 mm are bent, and the hand keeps 30 mm; give 40 mm" in short
    on_oak = ("--wire", "1 mm", "--mandrel", "oak", "--bench", str(tmp_path))
    through = refused(monkeypatch, capsys, *on_oak, "--tails", "54 mm")
    assert "25 mm go through the cross-hole, and the hand keeps 30 mm; give 55 mm" in through
    assert "closed ID" in run(*COPPER, "--tails", "40 mm").stdout
    assert "closed ID" in run(*on_oak, "--tails", "55 mm").stdout


def test_a_ring_known_by_its_outside_is_the_one_two_wires_less_inside():
    outside = figures("--wire", "1.2 mm", "--outside", "7.4 mm", "--metal", "copper")
    inside = figures("--wire", "1.2 mm", "--inside", "5 mm", "--metal", "copper")
    assert outside["ring_outside_mm"] == pytest.approx(7.4)
    assert outside["mandrel_mm"] == pytest.approx(inside["mandrel_mm"])
