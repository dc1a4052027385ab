"""The ways in that people have: by outside, by mandrel, by weave, with a ring in the hand; and what is not round."""

from __future__ import annotations

import re
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest
from orders import refusal_of

from jigs.actions.order import new_order, plan_order
from jigs.actions.output import Output
from jigs.actions.ring import ring_numbers
from jigs.actions.sheet import make_sheet
from jigs.bench.bench import Bench, Mandrel
from jigs.bench.reading import mandrel_of
from jigs.orders.example import example
from jigs.orders.order import SharedSaws
from jigs.orders.reading import Names, order_of
from jigs.orders.weave import find_weave
from jigs.planning.inverse import in_wire
from jigs.planning.plan import Plan, make_plan
from jigs.planning.rota import rota
from jigs.planning.sizes import with_sizes
from jigs.reports.as_json import plain
from jigs.reports.as_text import as_text
from jigs.reports.plan import plan_report
from jigs.reports.ring import ring_report
from jigs.stock.metal import find_metal
from jigs.stock.rod import parse_rod
from jigs.stock.wire import parse_wire
from layouts.files.entries import Entries, entries_of

OWNED = Bench(mandrels=(Mandrel(name="rod 7", measured_mm=6.02), Mandrel(name="oak", measured_mm=4.9, kind="wood")))
RING = '[[ring]]\nname = "link"\nwire = "1.2 mm"\nmetal = "copper"\n'


@pytest.fixture
def owned(bench: Path) -> Path:
    """The bench folder with two mandrels."""
    bench.mkdir()
    (bench / "mandrels.toml").write_text('["rod 7"]\nmeasured = "6.02 mm"\n[oak]\nmeasured = "4.9 mm"\nkind = "wood"\n')
    return bench


def planned(ring: str, head: str = "") -> Plan:
    return make_plan(order_of(head + RING + ring, names=Names(bench=OWNED)), OWNED)


# --- a ring in the hand, a mandrel by its name ---------------------------------------------------------------


def test_a_ring_in_the_hand_names_the_mandrels_of_the_bench_before_rods_as_sold(owned: Path) -> None:
    found = ring_numbers(wire=parse_wire("1.02 mm"), bench=owned, outside_mm=7.0)
    # 7.00 less two wires of 1.02 mm; without metal and cut the mandrel is the inside, but for the slant of the turn
    assert found.batch.acting_mandrel_mm == pytest.approx(4.96, abs=0.01)
    assert [near.name for near in found.owned] == ["oak", "rod 7"]
    assert [near.off_mm for near in found.owned] == pytest.approx([-0.06, 1.06], abs=0.01)
    report = ring_report(found.batch, owned=found.owned)
    assert "near 18 AWG, 1.024 mm" in as_text(report)
    assert "wanted  ID 4.960 mm, OD 7.000 mm, AR 4.863" in as_text(report)
    rods = plain(report)["rods"]
    assert [rod["owned"] for rod in rods] == [True, True, False, False, False, False]
    assert all(rod["ring_outside_mm"] == pytest.approx(rod["ring_inside_mm"] + 2.04) for rod in rods)


def test_a_mandrel_goes_by_its_name_and_its_measurement_counts(owned: Path) -> None:
    batch = ring_numbers(wire=parse_wire("1 mm"), bench=owned, mandrel=" rod 7").batch
    assert batch.acting_mandrel_mm == 6.02
    assert batch.mandrel.words == "rod 7, measured"
    again = ring_numbers(wire=parse_wire("1 mm"), bench=owned, mandrel="rod 7", measured_mm=6.1).batch
    assert again.acting_mandrel_mm == 6.1
    missing = refusal_of(lambda: ring_numbers(wire=parse_wire("1 mm"), bench=owned, mandrel="rod 8"))
    assert "'rod 8' is neither a mandrel of your bench nor a size; write a size such as" in missing
    assert "(owned: rod 7, oak)" in missing


def test_a_trial_coil_goes_by_its_outside_and_its_mandrel_by_name(owned: Path) -> None:
    found = ring_numbers(wire=parse_wire("1 mm"), bench=owned, inside_mm=5.0, trial_outside_mm=7.3, trial_mandrel="oak")
    assert "5.300 mm inside off a 4.900 mm mandrel; coil by caliper (assumed)" in found.batch.laws.words
    assert "mandrel by caliper; the band" in found.batch.laws.words
    both = refusal_of(lambda: ring_numbers(wire=parse_wire("1 mm"), trial_inside_mm=5.0, trial_outside_mm=7.0))
    assert "both inside and outside" in both


def test_a_weave_alone_gives_its_good_ratio_and_beside_a_size_a_verdict() -> None:
    alone = ring_numbers(wire=parse_wire("1.2 mm"), weave="byzantine")
    assert alone.batch.ring.aspect_ratio == pytest.approx(3.5)  # the table's own figure
    assert alone.notes == ("No size is given: AR 3.5 is the good one of byzantine.",)
    beside = ring_numbers(wire=parse_wire("1.2 mm"), weave="byzantine", inside_mm=6.0)
    assert beside.verdict is not None
    assert (beside.verdict.word, beside.notes) == ("loose", ())


def test_a_saw_without_a_blade_has_the_usual_one_and_says_so() -> None:
    found = ring_numbers(wire=parse_wire("1 mm"), metal=find_metal("copper"), mandrel="5 mm", cut="saw")
    assert found.batch.cut.loss_mm == pytest.approx(0.28)  # 2/0, the coarsest for wire under 1.1 mm: 0.26 + 0.02
    assert found.notes == ("No blade is named: 2/0 is taken, with 2.2 teeth in the wire.",)


def test_a_sheet_takes_a_mandrel_by_its_name(owned: Path, tmp_path: Path) -> None:
    found = []
    for number, diameter in enumerate(("oak", "4.9 mm")):
        output = Output(bench=owned, out=str(tmp_path / f"{number}.svg"), formats="svg")
        made = make_sheet("dowel", {"diameter": (diameter,), "wire": ("1 mm",)}, output, date(2026, 1, 1))
        found.append(made.paths[0].read_bytes())
    assert found[0] == found[1]
    missing = refusal_of(lambda: make_sheet("dowel", {"diameter": "elm", "wire": "1 mm"}, output, date(2026, 1, 1)))
    assert "diameter: 'elm' is neither a mandrel of your bench nor a size" in missing


# --- orders --------------------------------------------------------------------------------------------------


def test_an_order_with_a_mandrel_alone_wants_the_ring_that_it_gives() -> None:
    plan = planned('mandrel = "rod 7"\ncount = 5\n')
    [ring] = plan.rings
    assert ring.mandrel.name == "rod 7"
    assert ring.wanted.inside_mm == pytest.approx(ring.ring.inside_mm, abs=1e-12)
    assert any("is what mandrel rod 7 gives" in remark for remark in plan.remarks)
    sizes = ring.wanted.inside_mm, ring.wanted.outside_mm
    assert "wanted ID {:.3f} mm, OD {:.3f} mm".format(*sizes) in as_text(plan_report(plan))
    assert planned('mandrel = "5 mm"\nweave = "chain"\nlength = "190 mm"\n').wanted_rings == 38  # as of 5.0 mm inside


def test_a_rod_that_the_order_names_is_not_listed_again_as_it_is_sold() -> None:
    for size in ("5 mm", "3/16 in"):
        first, *others = planned(f'mandrel = "{size}"\ncount = 5\n').rings[0].mandrels
        assert all(abs(other.diameter_mm - first.diameter_mm) > 0.001 for other in others)


def test_in_another_wire_such_a_ring_keeps_its_ratio() -> None:
    order = with_sizes(order_of(RING + 'mandrel = "rod 7"\ncount = 5\n', names=Names(bench=OWNED)), OWNED)
    [before], [after] = order.rings, in_wire(order, parse_wire("1.5 mm")).rings
    assert after.wanted.aspect_ratio == pytest.approx(before.wanted.aspect_ratio)


def test_an_order_with_a_weave_alone_takes_its_good_ratio() -> None:
    plan = planned('weave = "byzantine"\nlength = "190 mm"\nsample_rings = 24\nsample_length = "31 mm"\n')
    assert plan.rings[0].wanted.aspect_ratio == pytest.approx(find_weave("byzantine").aim)
    assert any("the good AR of byzantine" in remark for remark in plan.remarks)
    length = refusal_of(lambda: planned('weave = "byzantine"\nlength = "190 mm"\n'))
    assert "weave a test piece of rings of AR 3.5 (4.2 mm inside)" in length


def test_a_trial_coil_in_an_order_goes_by_its_outside() -> None:
    [ring] = order_of(
        RING + 'inside = "5 mm"\ncount = 5\ntrial_outside = "7.7 mm"\ntrial_mandrel = "rod 7"\n',
        names=Names(bench=OWNED),
    ).rings
    assert ring.trial is not None
    assert ring.trial.inside_mm == pytest.approx(5.3)
    assert (ring.trial.mandrel_mm, ring.trial.of_outside) == (6.02, True)
    alone = refusal_of(lambda: order_of(RING + 'inside = "5 mm"\ncount = 5\ntrial_outside = "7.7 mm"\n'))
    assert "trial_outside stands alone; give trial_outside and trial_mandrel together" in alone


@pytest.mark.parametrize("for_class", [True, False], ids=["class", "one"])
def test_a_new_order_shows_every_key_and_is_planned_as_it_is(
    tmp_path: Path, bench: Path, monkeypatch: pytest.MonkeyPatch, for_class: bool
) -> None:
    known: set[str] = set()
    close = Entries.close

    def spy(entry: Entries) -> None:
        known.update(entry.known)
        close(entry)

    monkeypatch.setattr(Entries, "close", spy)
    text = example(for_class=for_class)
    order = order_of(text)
    assert (order.seats > 1) is for_class
    known -= {"stock"}  # what tray was called before
    known -= set() if for_class else {"saws", "minutes_to_wind", "minutes_to_saw", "wound"}
    assert len(known) > 30
    assert [key for key in sorted(known) if not re.search(rf"\b{key}\b", text)] == []
    path = tmp_path / "job.toml"
    new_order(path, for_class=for_class)
    assert plan_order(path, bench).made_rings > order.seats


# --- what is not round ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("words", "shape"),
    [
        ("1 mm square", "square"),
        ("18 AWG sq", "square"),
        ("half-round 2 mm", "half-round"),
        ("2 x 1 mm", "flat"),
        ("2x1mm", "flat"),
        ("16 AWG twisted", "not plain"),
        ("3 mm oval", "oval"),
    ],
)
def test_wire_and_rods_that_are_not_round_are_refused_by_their_shape(words: str, shape: str) -> None:
    assert f"is {shape} wire: springback, AR and weight" in refusal_of(lambda: parse_wire(words))
    rod = "of two widths" if "x" in words else shape
    assert f"not a plain round rod but {rod}" in refusal_of(lambda: parse_rod(words))
    entry = entries_of(f'measured = "{words}"\n', "mandrels.toml")
    mandrel_of("a", entry)
    assert f"but {rod}" in entry.book.faults[0].wrong
    order = refusal_of(lambda: order_of(RING + f'count = 5\nmandrel = "{words}"\n'))
    assert f"but {rod}" in order


def test_a_temper_written_with_the_wire_is_sent_to_its_own_place() -> None:
    assert "has a temper in it; give the wire alone" in refusal_of(lambda: parse_wire("18 AWG half hard"))


def test_round_stock_is_read_as_ever() -> None:
    assert parse_rod("5/16 in") == 7.9375
    assert parse_wire("1 1/2 mm").diameter_mm == 1.5


# --- a class with fewer saws than seats ----------------------------------------------------------------------

SAWS = "seats = 8\nsaws = 3\nminutes_to_wind = 20\nminutes_to_saw = 45\n"


def test_the_turns_at_the_saws_wind_while_the_turn_before_saws() -> None:
    plan = planned('inside = "5 mm"\neach_seat = 5\n', SAWS)
    turns = plain(plan_report(plan))["saw_turns"]
    # three turns of 3, 3 and 2 seats: 20 + 3 x 45 minutes
    assert [(turn["first_seat"], turn["last_seat"]) for turn in turns] == [(1, 3), (4, 6), (7, 8)]
    assert [(turn["wind_from_min"], turn["saw_from_min"], turn["saw_to_min"]) for turn in turns] == [
        (0, 20, 65),
        (20, 65, 110),
        (65, 110, 155),
    ]
    assert "3 saws for 8 seats: 3 turns, 155 min in all" in as_text(plan_report(plan))


@pytest.mark.parametrize(("wind", "saw"), [(20, 45), (45, 20), (30, 30)])
def test_no_saw_is_used_twice_and_nobody_saws_before_winding(wind: int, saw: int) -> None:
    for seats in range(1, 14):
        for saws in range(1, 7):
            turns = rota(seats, SharedSaws(saws=saws, wind_min=wind, saw_min=saw))
            assert turns[-1].last == seats
            assert all(turn.last - turn.first < saws for turn in turns)
            assert all(turn.winds[1] <= turn.saws[0] for turn in turns)
            assert all(one.saws[1] <= other.saws[0] for one, other in pairwise(turns))
            assert turns[-1].saws[1] == wind + -(-seats // saws) * saw


@pytest.mark.parametrize(
    ("head", "ring", "said"),
    [
        ("seats = 8\nsaws = 3\n", 'inside = "5 mm"\n', "saws without minutes_to_wind and minutes_to_saw"),
        (SAWS, 'inside = "5 mm"\ncut = "cutters"\n', "saws are shared, and no ring is sawn"),
        (SAWS.replace("8", "200"), 'inside = "5 mm"\n', "67 turns at the saws; give saws for 60 turns or fewer"),
        ("", "", "this [[ring]] has no size; give one, such as inside"),
    ],
)
def test_what_says_too_little_is_refused(head: str, ring: str, said: str) -> None:
    assert said in refusal_of(lambda: planned(ring + "count = 5\n", head))
