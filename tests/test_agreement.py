"""One plan, told in many places: the table, JSON, CSV and the pack say the same, and so does every window."""

from __future__ import annotations

import csv
import io
import re

import pytest
from packs import CLASS, EXAMPLE, order_of

from jigs.bench.bench import Bench, Mandrel
from jigs.packing.pack import Pack, make_pack
from jigs.planning.plan import Plan, make_plan
from jigs.reports.as_csv import as_csv
from jigs.reports.as_json import plain
from jigs.reports.as_text import as_text
from jigs.reports.plan import plan_report, spreadsheet
from layouts.drawing.marks import Text
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper

TOGETHER = EXAMPLE.replace("seats = 8 ", "seats = 3 ")
APART = CLASS.replace("seats = 8 ", "seats = 3 ")
ALONE = CLASS.replace("seats = 8 ", "seats = 1 ")
SNIPPED = ALONE.replace('cut = "saw"', 'cut = "cutters"')
WIDE = APART.replace('inside = "5.0 mm"', "ratio = 5.37").replace('"9.8 mm"', '"13.4 mm"')
MINE = Bench(mandrels=(Mandrel(name="peg", measured_mm=4.97, kind="wood"),))


def packed(plan: Plan) -> Pack:
    return make_pack(plan, Setup(paper=find_paper("a4"), tile=True))


def words(pack: Pack) -> list[str]:
    return [" ".join(mark.string for mark in page.marks() if isinstance(mark, Text)) for page in pack.pages]


_WINDOWS = (
    r"ID (\d+\.\d\d) to (\d+\.\d\d)",
    r"(\d+\.\d\d) to (\d+\.\d\d) passes",
    r"small (\d+\.\d\d) large (\d+\.\d\d)",
)


@pytest.mark.parametrize("text", [TOGETHER, ALONE, SNIPPED, WIDE], ids=["together", "alone", "snipped", "wide"])
@pytest.mark.parametrize("bench", [Bench(), MINE], ids=["nothing owned", "a peg"])
def test_every_window_on_every_page_of_a_pack_is_that_of_the_wanted_ring(text: str, bench: Bench) -> None:
    plan = make_plan(order_of(text), bench)
    right = {tuple(f"{end:.2f}" for end in ring.accepted_mm): ring.name for ring in plan.rings}
    said = words(packed(plan))
    found = [pair for page in said for window in _WINDOWS for pair in re.findall(window, page)]
    assert set(found) == set(right)
    for pair in right:  # on the job card or leaf of each seat that makes it, its label and its ring card
        assert found.count(pair) >= 3
    # with its tolerance: wanted +- what the window says
    for ring in plan.rings:
        low, high = ring.accepted_mm
        for inside, off in re.findall(rf"\(({ring.wanted.inside_mm:.2f}) ±(\d\.\d\d)\)", " ".join(said)):
            assert (float(inside) - float(off), float(inside) + float(off)) == pytest.approx((low, high), abs=0.0101)


@pytest.mark.parametrize("text", [TOGETHER, APART, ALONE], ids=["together", "apart", "alone"])
def test_plan_table_json_csv_and_pack_agree(text: str) -> None:
    plan = make_plan(order_of(text))
    shown, table = plain(plan_report(plan)), as_text(plan_report(plan))
    rows = list(csv.DictReader(io.StringIO(as_csv(spreadsheet(plan)))))
    totals = {
        "wanted_rings": plan.wanted_rings,
        "made_rings": plan.made_rings,
        "windings": plan.coils,
        "cut_mm": plan.cut_mm,
        "rings_g": plan.metal.rings_g,
        "clippings_g": plan.metal.clippings_g,
        "dust_g": plan.metal.dust_g,
    }
    assert {key: shown["totals"][key] for key in totals} == totals
    for key, value in totals.items():
        assert float(rows[-1][key]) == value
        assert sum(float(row[key]) for row in rows[:-1]) == pytest.approx(value)
        shares = [share for ring in shown["rings"] for share in ring["shares"]]
        if key == "windings":
            each = [sum(lot["count"] for lot in share["windings"]) for share in shares]
        else:
            each = [share[key] for share in shares]
        assert sum(share["seats"] * one for share, one in zip(shares, each, strict=True)) == pytest.approx(value)
    assert f"In all {plan.coils} winding" in table
    assert f"{plan.cut_mm} mm of wire" in table
    # the pack: the wire that every seat is told to cut, and the boxes to tick, seat after seat
    wires = [
        int(count) * int(mm)
        for page in words(packed(plan))
        if "Job card" in page
        for line in re.findall(r"(?:wire to cut: |Cut the wire: )((?:\d+ × \d+,? ?)+)mm", page)
        for count, mm in re.findall(r"(\d+) × (\d+)", line)
    ]
    assert sum(wires) == plan.cut_mm
    assert any(f"{plan.cut_mm}" in page for page in words(packed(plan)) if "Teacher's sheet" in page) == (text != ALONE)
