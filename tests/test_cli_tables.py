"""The command `tables`."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from jigs.cli.tables import command

TABLES = ("gauges", "metals", "blades", "drills", "instruments")


def output(*arguments: str) -> str:
    result = CliRunner().invoke(command, arguments)
    assert result.exit_code == 0, result.output
    return result.output


@pytest.mark.parametrize("table", TABLES)
def test_every_row_for_scripts_has_a_source(table: str) -> None:
    rows = json.loads(output(table, "--json"))
    assert rows
    assert all(row["source"] for row in rows)


@pytest.mark.parametrize(
    ("table", "lines"),
    [
        ("gauges", ["16 AWG    1.2908  0.0508  ASTM B258, exact formula", "18 SWG    1.2192  0.0480  BS 3737:1964"]),
        ("blades", ["2          0.34      0.70      43.0      0.36  from memory"]),
        ("drills", ["#44       number   2.1844  0.0860  ASME B94.11M"]),
    ],
)
def test_a_table_for_people_has_aligned_rows_with_sources(table: str, lines: list[str]) -> None:
    shown = output(table).splitlines()
    for line in lines:
        assert line in shown


def test_the_metals_show_strengths_by_temper_hardening_and_cautions() -> None:
    text = output("metals")
    copper = next(line for line in text.splitlines() if line.startswith("copper"))
    assert ["copper", "ASTM", "B152", "tempers"] in [line.split() for line in text.splitlines()]
    assert "Y 70 U 220" in copper
    assert "soft copper               530  0.44  Callister, copper annealed" in text
    assert "spring stainless 304: at 1 mm; thinner wire is stronger" in text


def test_a_modulus_from_memory_is_said_to_be() -> None:
    assert "alloy data; modulus: from memory" in output("metals")


def test_the_blades_say_what_their_kerf_rests_on_once() -> None:
    assert output("blades").count("common practice, no source") == 1


def test_metals_for_scripts_have_one_row_per_temper_with_bands() -> None:
    rows = json.loads(output("metals", "--json"))
    row = next(r for r in rows if (r["metal"], r["temper"]) == ("sterling silver", "soft"))
    assert row["tensile_mpa"] == [207.0, 283.0]  # alloy data
    assert row["density_g_cm3"] == 10.36
    assert row["hardening"] == []


def test_an_unknown_table_is_refused_with_the_known_ones() -> None:
    result = CliRunner().invoke(command, ["rods"])
    assert result.exit_code == 2
    assert "'rods' is not one of 'gauges', 'metals', 'blades', 'drills'" in result.output


def test_help_says_what_you_get_and_shows_three_lines() -> None:
    text = output("--help")
    assert text.splitlines()[2] == "  Gauges, metals, blades, drills, weaves, instruments: a source in each row."
    assert text.count("    coilwright tables ") == 3


def test_weaves_are_listed_with_their_ranges_and_how_to_add_ones_own() -> None:
    text = output("weaves")
    assert "byzantine" in text
    assert "common practice, no source" in text
    assert "weaves.toml in your bench folder" in text
    rows = json.loads(output("weaves", "--json"))
    assert {"weave": "byzantine", "ratio_low": 3.3, "ratio_good": 3.5, "ratio_high": 4.0}.items() <= next(
        row for row in rows if row["weave"] == "byzantine"
    ).items()
