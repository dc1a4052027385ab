"""What came out of batches: written down, read back, and used by every plan from then on."""

from __future__ import annotations

import json
from itertools import permutations
from pathlib import Path

import pytest
from click.testing import CliRunner

from jigs.actions.order import plan_order
from jigs.actions.printer import Readings, choose_no_printer, choose_printer, measure_printer
from jigs.actions.record import correct_record, forget_record, list_records, record_batch, show_record
from jigs.actions.ring import RingNumbers, ring_numbers
from jigs.bench.knowledge import trial_of
from jigs.bench.reading import read_bench
from jigs.bench.record import FIELDS
from jigs.cli.record.add import command as add_command
from jigs.cli.record.list import command as list_command
from jigs.reports.as_text import as_text
from jigs.reports.record import recorded_report
from jigs.stock.figure import Basis
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.errors import Refusal, UnknownName
from layouts.files.faults import FileFaulty
from layouts.printing.budget import proved_by_bars

BATCH = {
    "wire": "1.2 mm",
    "metal": "phosphor bronze",
    "mandrel": "rod 5",
    "measured": "5.02 mm",
    "coil_inside": "5.24 mm",
    "blade": "2/0",
    "ring_inside": ("5.16 mm", "5.18 mm"),
    "date": "2026-11-25",
}


@pytest.fixture
def bench(tmp_path: Path) -> Path:
    (tmp_path / "mandrels.toml").write_text('["rod 5"]\nmeasured = "5.02 mm"\n')
    (tmp_path / "spools.toml").write_text('["blue reel"]\nwire = "1.2 mm"\nmetal = "phosphor bronze"\nlength = "4 m"\n')
    return tmp_path


def ring(bench: Path, **more: object) -> RingNumbers:
    usual = {"wire": parse_wire("1.2 mm"), "metal": find_metal("phosphor bronze"), "cut": "saw", "blade": "2/0"}
    return ring_numbers(bench=bench, **(usual | more))  # type: ignore[arg-type]


# --- writing and reading back


def test_a_chain_read_on_a_strip_has_the_scale_of_the_printer_it_came_off(bench: Path) -> None:
    """The usual one where none is named; what is not printed has none."""
    lines = Readings(name="study", tray="plain 80 g", across="149.4 mm", along="199.5 mm")
    study = measure_printer(lines, bench).printer
    chain = BATCH | {
        "coil_inside": (),
        "ring_inside": (),
        "chain": "105.8 mm",
        "chain_rings": 20,
        "chain_with": "chain strip",
    }
    named = {"printer": "study"}
    for name, usual, more, said in (
        ("off any", False, {}, None),
        ("named", False, named, study.scale_expanded),
        ("usual", True, {}, study.scale_expanded),
        ("not that", True, {"printer": "none"}, None),
        ("by rule", True, {"chain_with": "rule"}, None),
        ("my own", True, {"scale": "0.2 %"}, 0.002),
    ):
        (choose_printer(bench, "study") if usual else choose_no_printer(bench))
        record_batch(bench, chain | more, name=name)
        [record] = [one for one in read_bench(bench).records if one.name == name]
        assert record.scale == (said if said is None else pytest.approx(said, abs=5e-6))
        [reading] = trial_of(record, read_bench(bench)).readings
        assert reading.instrument.scale == pytest.approx(
            0.0 if name == "by rule" else said or proved_by_bars(), abs=5e-6
        )
    with pytest.raises(UnknownName, match="attic"):
        record_batch(bench, chain | {"printer": "attic"})
    correct_record(bench, "by rule", {"chain_with": "chain strip"})
    assert read_bench(bench).records[4].scale == pytest.approx(study.scale_expanded, abs=5e-6)


def test_a_record_comes_back_as_it_was_written(bench: Path) -> None:
    record_batch(bench, BATCH)
    [record] = read_bench(bench).records
    assert (record.name, record.metal, record.temper) == ("1", "phosphor bronze", "soft")
    assert record.coil_inside == (5.24,)
    assert record.ring_inside == (5.16, 5.18)
    assert (record.blade, record.how_cut, record.date) == ("2/0", "saw", "2026-11-25")


def test_the_fields_stand_in_the_order_of_the_boxes_whatever_order_they_are_given_in(bench: Path) -> None:
    record_batch(bench, dict(reversed(BATCH.items())))
    lines = (bench / "records.toml").read_text().splitlines()
    keys = [line.split(" =")[0] for line in lines if " = " in line]
    assert keys == [field.key for field in FIELDS if field.key in keys]


def test_a_spool_says_its_wire_and_metal_and_a_mandrel_its_size(bench: Path) -> None:
    record_batch(bench, {"spool": "blue reel", "mandrel": "rod 5", "coil_inside": "5.24 mm"})
    text = (bench / "records.toml").read_text()
    for line in ('wire = "1.2 mm"', 'metal = "phosphor bronze"', 'temper = "soft"', 'measured = "5.02 mm"'):
        assert line in text


def test_hand_editing_is_as_good_and_comments_stay(bench: Path) -> None:
    mine = '# my book\n[first]\nspool = "blue reel"\nmandrel = "rod 5" # the bent one\ncoil_inside = "5.24 mm"\n'
    (bench / "records.toml").write_text(mine)
    record_batch(bench, BATCH)
    assert (bench / "records.toml").read_text().startswith(mine)
    correct_record(bench, "first", {"remarks": "by lamp light"})
    text = (bench / "records.toml").read_text()
    assert text.startswith(mine.rstrip("\n"))
    assert [record.remarks for record in read_bench(bench).records] == ["by lamp light", ""]


def test_a_correction_changes_what_is_given_and_leaves_the_rest(bench: Path) -> None:
    record_batch(bench, BATCH)
    correct_record(bench, "1", {"ring_inside": ("5.20 mm",)})
    [record] = read_bench(bench).records
    assert record.ring_inside == (5.2,)
    assert record.coil_inside == (5.24,)


def test_forgetting_leaves_the_others(bench: Path) -> None:
    for _ in range(3):
        record_batch(bench, BATCH)
    forget_record(bench, "2")
    assert [record.name for record in read_bench(bench).records] == ["1", "3"]
    record_batch(bench, BATCH)  # the free number is taken again
    assert [record.name for record in read_bench(bench).records] == ["1", "3", "2"]


def test_an_unknown_record_is_refused_with_the_known_ones(bench: Path) -> None:
    record_batch(bench, BATCH)
    with pytest.raises(UnknownName, match="no record is called '7'"):
        show_record(bench, "7")
    with pytest.raises(UnknownName):
        forget_record(bench, "7")
    with pytest.raises(UnknownName):
        correct_record(bench, "7", {"remarks": "x"})


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ('coil_inside = "5.24"', "a length needs a unit"),
        ('with = "calliper"', "no instrument is called 'calliper'"),
        ('chain = "80 mm"', "a chain needs its length and how many rings it has"),
        ('blade = "99"', "no saw blade is called '99'"),
        ('size = "5 mm"', "no key is called 'size'"),
        ('coil_inside = "52.4 mm"', "does not come off a mandrel"),
        ('kerf = "0.3 mm"\ntrim = "1 mm"', "a kerf is the saw's"),
    ],
)
def test_damaged_records_are_refused_by_line_and_lose_nothing(bench: Path, line: str, said: str) -> None:
    text = f'[1]\nwire = "1.2 mm"\nmandrel = "rod 5"\n{line}\n'
    (bench / "records.toml").write_text(text)
    with pytest.raises(FileFaulty, match=said):
        read_bench(bench)
    with pytest.raises(FileFaulty, match=said):
        record_batch(bench, BATCH)
    assert (bench / "records.toml").read_text() == text


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"cut": "cutters"}, "a blade or a kerf belongs to the saw"),
        ({"cut": "none", "kerf": "0.3 mm", "blade": ""}, "a blade or a kerf belongs to the saw"),
        ({"trim": "1 mm"}, "a trim belongs to cutters"),
        ({"kerf": "28 mm"}, "a cut that takes 28 mm of wire 1.2 mm thick"),
        (
            {"mandrel": "0.3 mm", "measured": "", "coil_inside": ""},
            "wire of 1.2 mm on a mandrel of 0.3 mm winds no rings",
        ),
        ({"ring_inside": "52 mm"}, "a ring of 52 mm inside does not come off a mandrel of 5.02 mm"),
        ({"ring_outside": "3.2 mm"}, "a ring of 0.8 mm inside does not come off"),
        ({"coil_outside": "3.2 mm"}, "a coil of 0.8 mm inside does not come off"),
        ({"chain": "102 mm", "chain_rings": 2}, "a ring of 49.8 mm inside does not come off"),
        ({"date": "25/11/2026"}, "'25/11/2026' is not a date"),
        ({"with": "rule"}, "no instrument that reads an inside is called 'rule'; known: caliper"),
        ({"chain": "102 mm", "chain_rings": 19, "chain_with": "wedge"}, "no instrument that reads a chain"),
        ({"spool": "blue reel", "wire": "2 mm"}, "the wire is 2 mm, and on 'blue reel' there is wire of 1.2 mm"),
        ({"spool": "red reel", "wire": ""}, "no spool is called 'red reel'; known: blue reel"),
        ({"wire": ""}, "a record needs its wire; give the wire, such as 1.2 mm or give the spool"),
        ({"mandrel": ""}, "a record needs its mandrel; give the mandrel, such as 5 mm"),
    ],
)
def test_what_no_batch_gives_is_refused_before_it_is_written(bench: Path, values: dict[str, object], said: str) -> None:
    """What was written once would be refused by every later command."""
    with pytest.raises(Refusal) as refusal:
        record_batch(bench, BATCH | values)
    assert said in str(refusal.value)
    assert "\n" not in str(refusal.value)
    assert not (bench / "records.toml").exists()


@pytest.mark.parametrize(
    "values",
    [
        {"mandrel": "40 mm", "measured": "", "coil_inside": "151.8 mm", "ring_inside": "40.17 mm", "kerf": "0.02 mm"},
        {"wire": "9 mm", "mandrel": "40 mm", "measured": "", "coil_inside": "98.8 mm", "ring_inside": "80 mm"},
        {"wire": "3 mm", "temper": "spring", "coil_inside": "26.05 mm", "ring_inside": "6.3 mm", "metal": "copper"},
    ],
)
@pytest.mark.parametrize("confirmed", [False, True])
def test_a_typing_error_that_is_still_a_ring_is_told_and_stops_nothing(
    bench: Path, values: dict[str, object], confirmed: bool
) -> None:
    found = record_batch(bench, BATCH | values | {"confirmed": confirmed or None})
    assert (found.told.doubt is None) == confirmed
    assert [told.record.name for told in list_records(bench)] == ["1"]
    assert ring(bench, mandrel="rod 5").batch.ring.inside_mm > 4


def test_a_name_that_is_there_is_not_written_over(bench: Path) -> None:
    record_batch(bench, BATCH, name="first")
    before = (bench / "records.toml").read_text()
    with pytest.raises(Refusal, match="record 'first' is there already; correct that one"):
        record_batch(bench, BATCH | {"coil_inside": "5.3 mm"}, name="first")
    assert (bench / "records.toml").read_text() == before


def test_a_record_that_teaches_nothing_and_a_metal_of_no_table_are_named(bench: Path) -> None:
    nothing = {"spool": "blue reel", "mandrel": "rod 5", "good": 40}
    assert "it tells the next batch nothing yet" in as_text(recorded_report(record_batch(bench, nothing)))
    strange = as_text(recorded_report(record_batch(bench, BATCH | {"metal": "bronce"})))
    assert "bronce is not in the table of metals" in strange


def test_a_wrong_value_is_refused_by_its_field_and_nothing_is_written(bench: Path) -> None:
    with pytest.raises(Refusal, match="a length needs a unit") as refusal:
        record_batch(bench, BATCH | {"coil_inside": "5.24"})
    assert refusal.value.field == "coil_inside"
    assert not (bench / "records.toml").exists()


# --- used by ring and plan


def test_the_batch_that_came_out_too_large_names_the_mandrel_for_the_next(bench: Path) -> None:
    """The first batch came out 0.15 mm too large: it is recorded, and the next mandrel is that much smaller."""
    planned = ring(bench, inside_mm=5.0).batch
    (bench / "mandrels.toml").write_text(f'["rod 5"]\nmeasured = "{planned.acting_mandrel_mm:.3f} mm"\n')
    came_out = planned.ring.inside_mm + 0.15
    readings = (f"{came_out:.3f} mm",) * 3
    found = record_batch(
        bench, {"spool": "blue reel", "mandrel": "rod 5", "blade": "2/0", "wanted": "5 mm", "ring_inside": readings}
    )
    assert found.told.doubt is None  # the table is no witness against it
    assert found.next is not None
    # C: off a rod smaller by 0.15; less by the part of it that caliper, rod and band may have had
    assert planned.acting_mandrel_mm - 0.15 == pytest.approx(found.next.mandrel_mm, abs=0.03)
    after = ring(bench, inside_mm=5.0).batch
    assert found.next.mandrel_mm == pytest.approx(after.acting_mandrel_mm, abs=0.003)
    again = ring(bench, mandrel="rod 5").batch
    assert came_out == pytest.approx(again.ring.inside_mm, abs=0.03)
    assert again.laws.basis is Basis.RECORDED
    assert "1 batch of blue reel" in again.laws.words


def test_what_would_be_without_the_records_can_be_asked(bench: Path) -> None:
    before = ring(bench, mandrel="rod 5").batch
    record_batch(bench, BATCH | {"spool": "blue reel"})
    assert ring(bench, mandrel="rod 5").batch.ring != before.ring
    assert ring(bench, mandrel="rod 5", without_records=True).batch == before


def test_another_spool_of_the_metal_is_known_by_it_and_another_metal_is_not(bench: Path) -> None:
    record_batch(bench, BATCH | {"spool": "blue reel"})
    other = ring(bench, mandrel="rod 5", wire=parse_wire("1.0 mm")).batch
    assert other.laws.basis is Basis.RECORDED
    assert "none of this spool" in other.laws.words
    copper = ring(bench, mandrel="rod 5", metal=find_metal("copper")).batch
    assert copper.laws.basis is Basis.TABLE


def test_the_band_of_a_recorded_batch_is_narrower_and_holds_it(bench: Path) -> None:
    for _ in range(3):
        record_batch(bench, BATCH | {"spool": "blue reel"})
    figures = {figure.name: figure for figure in ring(bench, mandrel="rod 5").batch.ledger}
    closed = figures["closed ID"]
    assert closed.low is not None
    assert closed.high is not None
    assert closed.low < 5.17 < closed.high
    assert closed.high - closed.low < 0.09
    assert figures["springback"].basis is Basis.RECORDED


def test_a_recorded_kerf_counts_before_the_table(bench: Path) -> None:
    for _ in range(3):
        record_batch(bench, BATCH | {"kerf": "0.33 mm"})
    loss = ring(bench, mandrel="rod 5").batch.cut.loss
    assert loss.basis is Basis.RECORDED
    assert 0.29 < loss.value < 0.33  # between the table's 0.28 and what was read
    own = ring(bench, mandrel="rod 5", kerf_mm=0.26).batch.cut.loss
    assert (own.value, own.basis) == (0.26, Basis.MEASURED)


def test_a_plan_counts_on_the_records(bench: Path) -> None:
    order = bench / "order"
    order.mkdir()
    file = order / "job.toml"
    file.write_text(
        '[[ring]]\nname = "link"\nwire = "1.2 mm"\nmetal = "phosphor bronze"\ninside = "5.1 mm"\n'
        'count = 20\nmandrel = "rod 5"\n[making]\nblade = "2/0"\n'.replace("[making]", "")
    )
    table = plan_order(file, bench).rings[0].batch
    record_batch(bench, BATCH | {"spool": "blue reel"})
    recorded = plan_order(file, bench).rings[0].batch
    assert (table.laws.basis, recorded.laws.basis) == (Basis.TABLE, Basis.RECORDED)
    assert recorded.ring.inside_mm > table.ring.inside_mm
    assert plan_order(file, bench, without_records=True).rings[0].batch == table


def test_the_order_of_the_records_changes_nothing(bench: Path) -> None:
    record_batch(bench, BATCH)
    record_batch(bench, BATCH | {"coil_inside": "5.25 mm"})
    record_batch(bench, BATCH | {"mandrel": "6 mm", "measured": "6.1 mm", "coil_inside": "6.4 mm", "ring_inside": ()})
    blocks = (bench / "records.toml").read_text().split("\n\n")[1:]
    found = set()
    for order in permutations(blocks):
        (bench / "records.toml").write_text("\n\n".join(order) + "\n")
        found.add(ring(bench, mandrel="rod 5").batch.ring.inside_mm)
    assert len(found) == 1


# --- at the door


def test_a_record_is_typed_listed_and_told(bench: Path) -> None:
    words = ["--spool", "blue reel", "--mandrel", "rod 5", "--blade", "2/0", "--ring-inside", "5.16 mm"]
    words += ["--ring-inside", "5.18 mm", "--wanted", "5.05 mm", "--bench", str(bench)]
    told = CliRunner().invoke(add_command, words, catch_exceptions=False)
    assert told.exit_code == 0
    assert "closed ID, read        5.170 mm" in told.output
    assert "for a closed ID of  5.050 mm" in told.output
    [row] = json.loads(CliRunner().invoke(list_command, ["--json", "--bench", str(bench)]).output)
    assert (row["name"], row["ring_inside_mm"], row["counts"]) == ("1", pytest.approx(5.17), True)


def test_a_plan_and_a_ring_say_which_records_do_not_count(bench: Path) -> None:
    file = bench / "job.toml"
    file.write_text('[[ring]]\nname = "a"\nwire = "1.2 mm"\nmetal = "phosphor bronze"\ninside = "5 mm"\ncount = 9\n')
    for inside in ("5.17 mm", "5.60 mm"):
        record_batch(bench, BATCH | {"coil_inside": (), "ring_inside": inside})
    said = "records 1, 2 do not fit the others and do not count: correct them, or confirm one"
    assert said in plan_order(file, bench).remarks
    assert f"R{said[1:]}." in ring(bench, mandrel="rod 5").notes
    forget_record(bench, "2")
    assert said not in plan_order(file, bench).remarks
    file.write_text(file.read_text().replace("phosphor bronze", "copper"))
    record_batch(bench, BATCH | {"coil_inside": (), "ring_inside": "5.60 mm"})
    assert not any("record" in words for words in plan_order(file, bench).remarks if "do not count" in words)


def test_an_empty_bench_says_how_to_begin(tmp_path: Path) -> None:
    assert "coilwright record add" in CliRunner().invoke(list_command, ["--bench", str(tmp_path)]).output


def test_two_that_disagree_are_both_named(bench: Path) -> None:
    for inside in ("5.17 mm", "5.60 mm"):
        record_batch(bench, BATCH | {"coil_inside": (), "ring_inside": inside})
    doubts = {told.doubt for told in list_records(bench)}
    assert [doubt.names for doubt in doubts if doubt] == [("1", "2")]
    correct_record(bench, "1", {"confirmed": True})
    assert [told.record.name for told in list_records(bench) if told.doubt is None] == ["1"]


def test_a_trial_coil_joins_the_records_of_its_metal(bench: Path) -> None:
    """Alone it says all; beside records it is one more: what comes out lies between the two."""
    alone = ring(bench, mandrel="rod 5", trial_inside_mm=5.30).batch
    assert alone.coil.inside_mm == pytest.approx(5.30)
    record_batch(bench, BATCH | {"spool": "blue reel"})
    without = ring(bench, mandrel="rod 5").batch
    joined = ring(bench, mandrel="rod 5", trial_inside_mm=5.30).batch
    assert without.coil.inside_mm < joined.coil.inside_mm < 5.30
    assert joined.laws.basis is Basis.RECORDED
    assert "2 batches of blue reel" in joined.laws.words


def test_a_spool_that_is_named_without_records_goes_by_the_table_and_says_its_band(bench: Path) -> None:
    batch = ring(bench, spool="blue reel", wire=None, metal=None, mandrel="rod 5").batch
    assert batch.laws.basis is Basis.TABLE
    assert "the band holds rod, springback and cut" in batch.laws.words
    assert batch.ring.inside_mm == pytest.approx(ring(bench, mandrel="rod 5").batch.ring.inside_mm, abs=0.01)


def test_in_a_terminal_it_asks_box_by_box(bench: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A bare figure is in mm, Enter leaves a box out, and what cannot be read is asked again."""
    monkeypatch.setattr("jigs.cli.record.fields.in_a_terminal", lambda: True)
    answers = ["blue reel", "rod 6", "rod 5", "5.3x", "5.1", "5.24", "2-0", "2/0", "", "", "51.7", "5.17", "", ""]
    answers += ["rule", "caliper", "forty", "40", "", "25/11", "2026-11-25"]
    typed = "\n".join(answers) + "\n" * 20
    told = CliRunner().invoke(add_command, ["--bench", str(bench)], input=typed, catch_exceptions=False)
    assert told.exit_code == 0, told.output
    asked = [line.split(" (")[0] for line in told.output.splitlines() if line.endswith("]: ") or "): " in line]
    assert asked[:2] == ["spool", "mandrel"]
    for said in ("'rod 6' is neither a mandrel", "'2-0'", "does not come off a mandrel", "'rule'", "'25/11'"):
        assert said in told.output  # and asked again at once, so that nothing typed is lost
    [record] = read_bench(bench).records
    assert (record.spool, record.mandrel, record.coil_inside) == ("blue reel", "rod 5", (5.24,))
    assert (record.wanted_mm, record.ring_inside, record.good, record.date) == (5.1, (5.17,), 40, "2026-11-25")


def test_in_a_terminal_a_spool_that_is_not_on_the_bench_is_asked_for_its_wire_and_metal(
    bench: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("jigs.cli.record.fields.in_a_terminal", lambda: True)
    answers = ["old tin", "1.5 mm", "copper", "", "6 mm", "", "", "2/0", "", "", "", "", "110", "16", "loupe"]
    typed = "\n".join(answers) + "\n" * 20
    told = CliRunner().invoke(add_command, ["--bench", str(bench)], input=typed, catch_exceptions=False)
    assert told.exit_code == 0, told.output
    [record] = read_bench(bench).records
    assert (record.spool, record.wire.diameter_mm, record.metal) == ("old tin", 1.5, "copper")
    assert (record.chain, record.chain_rings, record.instrument) == ((110.0,), 16, "loupe")


def test_wire_of_no_known_metal_is_learnt_from_its_records_alone(bench: Path) -> None:
    nameless = {key: value for key, value in BATCH.items() if key != "metal"}
    assert ring(bench, metal=None, mandrel="rod 5").batch.laws.basis is Basis.NOT_COUNTED
    record_batch(bench, nameless)
    batch = ring(bench, metal=None, mandrel="rod 5").batch
    assert batch.laws.basis is Basis.RECORDED
    assert batch.ring.inside_mm == pytest.approx(5.17, abs=0.02)
