"""Every row of every table: a source, a known unit in its names, one row to a name."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from importlib.resources import files
from itertools import pairwise
from typing import Any

import pytest

from jigs.tables import read_table

Row = dict[str, Any]

# The words in which a source may stand.
KNOWN_SOURCES = (
    "ASTM",
    "BS 3737",
    "BS 328",
    "ASME",
    "Callister",
    "Kalpakjian & Schmid",
    "Kutz handbook",
    "16 CFR",
    "alloy data",
    "common practice, no source",
    "from memory",
    "computed",
)
UNITS = ("_percent", "_mm", "_in", "_g_cm3", "_gpa", "_mpa", "_per_inch", "_64ths")
WITHOUT_UNIT = {"n"}  # a hardening exponent

TABLES = {
    "gauges": [("swg", "gauge")],
    "metals": [("metal", "name")],
    "blades": [("blade", "size")],
    "instruments": [("instrument", "name")],
    "drills": [
        ("number", "name"),
        ("letter", "name"),
        ("metric_small", "diameter_mm"),
        ("metric_steps", "first_mm"),
        ("flutes", "up_to_mm"),
    ],
}


def rows_of(table: str) -> Iterator[Row]:
    """Every row of a table, hardening pairs too."""
    for group in read_table(table).values():
        if isinstance(group, list):
            for row in group:
                yield row
                yield from row.get("soft", {}).get("hardening", ())


def figures_of(row: Row) -> Iterator[tuple[str, Any]]:
    """Every (name, figure) of a row, tempers opened."""
    for key, value in row.items():
        if isinstance(value, dict):
            yield from figures_of(value)
        elif (isinstance(value, int | float) and not isinstance(value, bool)) or (
            isinstance(value, list) and isinstance(value[0], float)
        ):
            yield key, value


@pytest.mark.parametrize("table", TABLES)
def test_every_row_names_its_source(table: str) -> None:
    rows = list(rows_of(table))
    assert rows
    for row in rows:
        assert any(words in row["source"] for words in KNOWN_SOURCES), row


@pytest.mark.parametrize("table", TABLES)
def test_every_figure_carries_a_known_unit_in_its_name(table: str) -> None:
    for row in rows_of(table):
        for name, _ in figures_of(row):
            assert name.endswith(UNITS) or name in WITHOUT_UNIT, name


@pytest.mark.parametrize("table", TABLES)
def test_every_figure_is_above_zero(table: str) -> None:
    for row in rows_of(table):
        for _, value in figures_of(row):
            assert all(part > 0 for part in (value if isinstance(value, list) else [value]))


@pytest.mark.parametrize(("table", "group", "key"), [(t, g, k) for t, groups in TABLES.items() for g, k in groups])
def test_names_are_unique(table: str, group: str, key: str) -> None:
    names = [row[key] for row in read_table(table)[group]]
    assert len(names) == len(set(names))


def test_no_two_metals_answer_to_one_name() -> None:
    names = [name.casefold() for row in read_table("metals")["metal"] for name in (row["name"], *row["aliases"])]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("table", "group", "key"),
    [
        ("gauges", "swg", "diameter_in"),
        ("blades", "blade", "thickness_mm"),
        ("drills", "number", "diameter_in"),
        ("drills", "letter", "diameter_in"),
        ("drills", "metric_small", "diameter_mm"),
        ("drills", "metric_steps", "first_mm"),
        ("drills", "flutes", "up_to_mm"),
        ("drills", "flutes", "flute_mm"),
    ],
)
def test_a_series_never_turns_back(table: str, group: str, key: str) -> None:
    sizes = [row[key] for row in read_table(table)[group]]
    steps = [b - a for a, b in pairwise(sizes)]
    assert all(step > 0 for step in steps) or all(step < 0 for step in steps)


def test_metric_steps_end_on_a_whole_step() -> None:
    for row in read_table("drills")["metric_steps"]:
        steps = (row["last_mm"] - row["first_mm"]) / row["step_mm"]
        assert steps == pytest.approx(round(steps), abs=1e-9)


def test_every_band_runs_upwards() -> None:
    for row in rows_of("metals"):
        for _, value in figures_of(row):
            if isinstance(value, list):
                low, high = value
                assert low <= high


def test_every_table_of_the_folder_can_be_read_and_cannot_be_changed() -> None:
    names = [f.name.removesuffix(".toml") for f in files("jigs.tables").iterdir() if f.name.endswith(".toml")]
    assert set(TABLES) <= set(names)
    for name in names:
        assert read_table(name) == tomllib.loads(files("jigs.tables").joinpath(f"{name}.toml").read_text("utf-8"))
    with pytest.raises(TypeError):
        read_table("gauges")["swg"] = []  # type: ignore[index]
