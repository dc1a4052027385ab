"""Weaves: the packing bound, the table of working ranges, verdicts, the user's own."""

from __future__ import annotations

from math import pi, sin, sqrt
from pathlib import Path

import pytest

from jigs.making.ring import Ring
from jigs.orders.own_weaves import read_weaves
from jigs.orders.weave import LEAST_RATIOS, Weave, find_weave, weaves
from jigs.tables import read_table
from layouts.errors import OutOfRange, UnknownName
from layouts.files.faults import FileFaulty

# n circles in a circle, R/r: Kravitz 1967; Graham et al. 1998; proofs Graham 1968, Pirl 1969, Melissen 1994, Fodor 2000
EXACT = {
    2: 2.0,
    3: 1 + 2 / sqrt(3),
    4: 1 + sqrt(2),
    5: 1 + sqrt(2 * (1 + 1 / sqrt(5))),
    6: 3.0,
    7: 3.0,
    8: 1 + 1 / sin(pi / 7),
    9: 1 + sqrt(2 * (2 + sqrt(2))),
    11: 1 + 1 / sin(pi / 9),
}
PUBLISHED = (2, 2.1547005, 2.4142136, 2.7013016, 3, 3, 3.3047649, 3.6131259, 3.8130256, 3.9238044, 4.0296019)


@pytest.mark.parametrize("wires", EXACT)
def test_a_bound_is_the_exact_one_rounded_up(wires: int) -> None:
    assert 0 <= LEAST_RATIOS[wires] - EXACT[wires] < 2e-7


def test_every_bound_is_the_published_one_or_a_step_above_it() -> None:
    for wires, published in enumerate(PUBLISHED, start=2):
        assert 0 <= LEAST_RATIOS[wires] - published < 1.01e-7


def test_every_row_has_a_source_a_range_and_its_own_name() -> None:
    rows = read_table("weaves")["weave"]
    assert len({row["name"] for row in rows}) == len(rows)
    for row in rows:
        assert "common practice, no source" in row["source"]
        assert row["ratio_low"] <= row.get("ratio_good", row["ratio_low"]) <= row["ratio_high"]
        assert LEAST_RATIOS[row.get("wires_through", 1)] <= row["ratio_low"]


def test_the_table_holds_the_working_ranges() -> None:
    # working ranges of AR, common practice, no source
    ranges = {weave.name: (weave.low, weave.high) for weave in weaves()}
    assert ranges["european 4-in-1"] == (3.3, 4.0)
    assert ranges["jens pind 3"] == (2.8, 3.2)
    assert ranges["full persian 6-in-1"] == (5.1, 6.5)
    assert find_weave("Byzantine").aim == 3.5
    assert find_weave("spiral 4-in-1").aim == 4.75


def judged(ratio: float, weave: str = "byzantine") -> str:
    return find_weave(weave).judge(Ring(wire_mm=1.0, inside_mm=ratio)).word


def test_a_ring_is_judged_by_its_ratio() -> None:
    assert [judged(ratio) for ratio in (2.414, 2.42, 3.2, 3.3, 3.5, 4.0, 4.1)] == [
        "impossible",
        "tight",
        "tight",
        "good",
        "good",
        "good",
        "loose",
    ]


def test_within_one_percent_of_a_limit_is_near_it() -> None:
    def near(ratio: float) -> bool:
        return find_weave("byzantine").judge(Ring(wire_mm=1.0, inside_mm=ratio)).is_near_a_limit

    # 1 % of 3.3 is 0.033, of 4.0 0.04
    assert [near(ratio) for ratio in (3.26, 3.27, 3.33, 3.34, 3.95, 3.97, 4.03, 4.05)] == [
        False, True, True, False, False, True, True, False,
    ]  # fmt: skip


def test_what_five_hundredths_on_wire_and_inside_do() -> None:
    # 1.0 mm wire, 3.5 mm inside: 3.45 / 1.05 = 3.2857 and 3.55 / 0.95 = 3.7368
    verdict = find_weave("byzantine").judge(Ring(wire_mm=1.0, inside_mm=3.5))
    assert verdict.ratio_low == pytest.approx(3.2857, abs=5e-5)
    assert verdict.ratio_high == pytest.approx(3.7368, abs=5e-5)
    assert (verdict.word_low, verdict.word_high) == ("tight", "good")


def test_wire_thinner_than_the_spread_has_no_upper_end() -> None:
    assert find_weave("chain").judge(Ring(wire_mm=0.04, inside_mm=0.2)).ratio_high == float("inf")


def test_an_unknown_weave_is_refused_with_the_known_ones_nearest_first() -> None:
    with pytest.raises(UnknownName, match="no weave is called 'byzantin'; known: byzantine, "):
        find_weave("byzantin")


def test_a_weave_of_one_s_own_replaces_the_table_s(tmp_path: Path) -> None:
    path = tmp_path / "weaves.toml"
    path.write_text("[byzantine]\nlow = 3.4\ngood = 3.6\nhigh = 3.9\nwires_through = 4\n[mine]\nlow = 3\nhigh = 5\n")
    own = read_weaves(path)
    assert find_weave("byzantine", own).low == 3.4
    assert find_weave("mine", own).aim == 4.0
    assert find_weave("box chain", own).source == "common practice, no source"


def test_faults_in_one_s_own_weaves_are_all_refused_with_their_lines(tmp_path: Path) -> None:
    path = tmp_path / "weaves.toml"
    path.write_text('[a]\nlow = "3"\nhigh = 4\n[b]\nlow = 5\nhigh = 4\n[c]\nhigh = 4\nhight = 4\n')
    with pytest.raises(FileFaulty) as refusal:
        read_weaves(path)
    assert [str(fault).replace(f"{tmp_path}/", "") for fault in refusal.value.faults] == [
        "weaves.toml:2: low: '3' is not a number; write one without quotes: 3",
        "weaves.toml:4: the AR of weave b runs 5, 4.5, 4; write low, good and high rising",
        "weaves.toml:7: [c] has no low; add a line such as low = 3.3",
        "weaves.toml:9: no key is called 'hight' in [c]; known: high, wires_through, low, good, plain_chain, source",
    ]


@pytest.mark.parametrize(
    ("keys", "message"),
    [
        ({"low": 4.0, "high": 3.0}, "runs 4, 3.5, 3; write low"),
        ({"low": 1.0, "high": 2.0, "wires_through": 4}, "4 wires need an AR of 2.4142, and the range ends at 2"),
        ({"low": 1.0, "high": 2.0, "wires_through": 40}, "40 wires through a ring; give 1 to 12"),
        ({"low": -1.0, "high": 2.0}, "lowest AR is -1"),
    ],
)
def test_a_weave_that_cannot_be_is_refused(keys: dict[str, float], message: str) -> None:
    with pytest.raises(OutOfRange, match=message):
        Weave(name="w", source="s", **keys)  # type: ignore[arg-type]


def test_a_weave_of_one_s_own_is_a_plain_chain_where_it_says_so_or_the_table_does(tmp_path: Path) -> None:
    path = tmp_path / "weaves.toml"
    rows = "[trace]\nlow = 3\nhigh = 5\nplain_chain = true\n[Chain]\nlow = 3\nhigh = 6\n[mesh]\nlow = 3\nhigh = 5\n"
    path.write_text(rows)
    assert [(weave.name, weave.is_plain_chain) for weave in read_weaves(path)] == [
        ("trace", True),
        ("Chain", True),
        ("mesh", False),
    ]
