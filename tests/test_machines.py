"""Machines that were measured by a coupon: their gains by hand, their uncertainty by simulation, their file."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from layouts.errors import FileRefused, OutOfRange, QuantityRefused, UnknownName
from layouts.files.folder import Folder
from layouts.lengths import said_in
from layouts.machines.keeping import objection
from layouts.machines.machine import EDGES, Machine
from layouts.machines.machines import FILE, Machines
from layouts.machines.tried import Tried, find_tool, parse_tried, tools


def tried(wanted: float, low: float, high: float | None = None, tool: str = "caliper") -> Tried:
    return Tried(wanted_mm=wanted, low_mm=low, high_mm=low if high is None else high, tool=tool)


LASER = Machine(
    name="school laser",
    kind="laser",
    material="birch plywood",
    thickness_mm=3.0,
    holes=(tried(5, 5.1, 5.2, "shanks"), tried(8, 8.1, 8.2, "shanks")),
    pins=(tried(5, 4.86), tried(8, 7.86)),
    across=tried(100, 100.0),
    along=tried(80, 80.0),
    date="2026-11-25",
)
PRINTER = Machine(
    name="class printer",
    kind="3d-printer",
    material="PLA",
    holes=(tried(5, 4.7, 4.8, "shanks"),),
    pins=(tried(5, 5.04), tried(8, 8.04)),
    across=tried(100, 99.8),
    along=tried(100, 99.8),
)


@pytest.fixture
def machines(tmp_path: Path) -> Machines:
    return Machines(folder=Folder(path=tmp_path))


# --- what the coupon says, by hand (C)


def test_holes_between_two_shanks_gain_what_lies_between() -> None:
    # between 5.1 and 5.2: 5.15 is 0.15 more than drawn; at 8 mm the same
    assert LASER.gain("hole").mm == pytest.approx(0.15)
    assert LASER.gain("pin").mm == pytest.approx(-0.14)


def test_holes_on_the_same_place_of_a_step_are_no_surer_than_one() -> None:
    shared, step, each = 0.025 / 3**0.5, 0.05 / 3**0.5, 0.01 / 3**0.5
    scale = 8 * ((0.03**2 + 0.03**2) / 3) ** 0.5 / 80  # the worse of the two ways, over the larger hole
    by_hand = 2 * (shared**2 + step**2 + each**2 + scale**2) ** 0.5
    assert LASER.gain("hole").uncertainty_mm == pytest.approx(by_hand)
    assert LASER.good_for_mm("hole", 5.0) == pytest.approx(0.08)


def test_holes_on_different_places_of_a_step_share_only_a_part_of_it() -> None:
    # 0.15: 5.00 -> 5.15 in 5.1..5.2 leaves 0.10..0.20; 6.03 -> 6.18 leaves 0.07..0.17; 8.06 -> 8.21 leaves 0.14..0.24
    holes = (tried(5, 5.1, 5.2, "shanks"), tried(6.03, 6.1, 6.2, "shanks"), tried(8.06, 8.2, 8.3, "shanks"))
    vernier = replace(LASER, holes=holes).gain("hole")
    assert vernier.mm == pytest.approx((0.14 + 0.17) / 2)
    assert vernier.terms[1].standard == pytest.approx(((0.015**2 + 0.01**2) / 3) ** 0.5)


def test_steps_that_share_nothing_leave_what_they_are_apart_and_a_step() -> None:
    apart = replace(LASER, holes=(tried(5, 5.1, 5.2, "shanks"), tried(8, 8.3, 8.4, "shanks"))).gain("hole")
    assert apart.mm == pytest.approx(0.25)
    assert apart.terms[1].standard == pytest.approx(((0.1**2 + 0.01**2) / 3) ** 0.5)


def test_a_hole_is_drawn_smaller_by_what_it_gains_and_a_pin_larger() -> None:
    assert LASER.drawn_mm("hole", 5.0) == pytest.approx(4.85)
    assert LASER.drawn_mm("pin", 5.0) == pytest.approx(5.14)


def test_a_printer_of_plastic_that_shrinks_has_its_scale_undone_too() -> None:
    # factor 0.998: the hole of 5 mm would be 4.99 without its own fault, and is 4.75: a gain of -0.24
    assert PRINTER.factor == pytest.approx(0.998)
    assert PRINTER.gain("hole").mm == pytest.approx(-0.24)
    assert PRINTER.drawn_mm("hole", 5.0) == pytest.approx((5 + 0.24) / 0.998)


def test_a_length_read_less_surely_than_machines_are_true_is_not_used_unless_it_is_far_off() -> None:
    # a rule on 100 mm: sqrt((0.2^2 + 0.25^2) / 3) / 100 = 0.18 %, and a laser is true to 0.1 / sqrt(3) = 0.06 %
    near = replace(LASER, across=tried(100, 99.8, tool="rule"))
    assert near.across_factor == 1.0
    assert near.scale_standard == pytest.approx(0.001 / 3**0.5)
    assert any("the length across is read less surely" in words for words in near.doubts())
    far = replace(LASER, across=tried(100, 99.0, tool="rule"))
    assert far.across_factor == pytest.approx(0.99)
    assert far.scale_standard == pytest.approx(((0.2**2 + 0.25**2) / 3) ** 0.5 / 100)


def test_a_gap_of_the_row_is_eleven_kerfs() -> None:
    laser = replace(LASER, holes=(), pins=(), gap=tried(11, 1.6, 1.7, "shanks"))
    assert laser.gain("slot").mm == pytest.approx(1.65 / 11)
    assert laser.gain("tab").mm == pytest.approx(-1.65 / 11)
    assert laser.kerf is not None
    assert laser.kerf.mm == pytest.approx(0.15)
    assert laser.kerf.uncertainty_mm < 0.01


def test_the_surest_of_row_and_holes_counts() -> None:
    both = replace(LASER, gap=tried(11, 1.6, 1.7, "shanks"))
    assert both.gain("hole").basis == "the row of blocks"
    finely = replace(both, pins=(tried(5, 4.86, tool="micrometer"), tried(8, 7.86, tool="micrometer")))
    assert finely.gain("pin").basis == "2 pins tried"


def test_what_was_not_tried_is_taken_from_the_nearest_less_surely() -> None:
    assert LASER.gain("slot").basis == "taken from holes"
    assert LASER.gain("slot").mm == LASER.gain("hole").mm
    assert LASER.gain("slot").uncertainty_mm > LASER.gain("hole").uncertainty_mm
    only_pins = replace(LASER, holes=())
    assert only_pins.gain("hole").mm == pytest.approx(0.14)
    only_length = replace(LASER, holes=(), pins=())
    assert "not tried" in only_length.gain("hole").basis
    assert only_length.gain("hole").uncertainty_mm >= 0.15


def test_plastic_pins_say_nothing_of_plastic_holes() -> None:
    assert "not tried" in replace(PRINTER, holes=()).gain("hole").basis
    assert PRINTER.kerf is None


def test_holes_that_differ_among_themselves_are_less_sure() -> None:
    alike = replace(LASER, holes=tuple(tried(size, size + 0.15) for size in (4, 5, 6, 8)))
    offs = {4: -0.1, 5: 0.1, 6: -0.1, 8: 0.1}
    apart = replace(LASER, holes=tuple(tried(size, size + 0.15 + off) for size, off in offs.items()))
    assert apart.gain("hole").mm == pytest.approx(alike.gain("hole").mm)
    assert apart.gain("hole").uncertainty_mm > alike.gain("hole").uncertainty_mm + 0.04


@pytest.mark.parametrize("sizes", [(4.0, 6.0, 8.0), (4.0, 5.025, 6.05, 8.075)])
@pytest.mark.parametrize("tool", ["shanks", "caliper"])
def test_nine_in_ten_machines_and_more_lie_within_the_stated_band(tool: str, sizes: tuple[float, ...]) -> None:
    """A simulated bench (C): errors drawn as the table says they are, the true gain known."""
    chance, within, count = random.Random(11), 0, 600
    bench = find_tool(tool)
    for _ in range(count):
        gain = chance.uniform(0.05, 0.3)
        shared = chance.uniform(-1, 1) * (bench.inside_shared or bench.shared)
        holes = []
        for wanted in sizes:
            seen = wanted + gain + shared + chance.uniform(-1, 1) * bench.each
            if tool == "shanks":  # a set in steps of 0.1 mm
                low = int(seen * 10) / 10
                holes.append(tried(wanted, low, low + 0.1, tool))
            else:
                holes.append(tried(wanted, seen, tool=tool))
        found = replace(LASER, holes=tuple(holes), pins=()).gain("hole")
        within += abs(found.mm - gain) <= found.uncertainty_mm
    assert 0.93 <= within / count <= 1.0


def test_pins_and_holes_of_a_laser_that_disagree_are_doubted() -> None:
    assert not [words for words in LASER.doubts() if "should be alike" in words]
    odd = replace(LASER, pins=(tried(5, 4.5), tried(8, 7.5)))
    assert any("holes gain 0.15 mm and pins lose 0.50 mm" in words for words in odd.doubts())
    assert not [words for words in PRINTER.doubts() if "should be alike" in words]


def test_a_laser_whose_holes_come_out_small_is_doubted() -> None:
    small = replace(LASER, holes=(tried(4, 3.9), tried(5, 4.9)), pins=(), gap=None)
    assert any("a kerf of -0.10 mm" in words for words in small.doubts())
    assert not [words for words in LASER.doubts() if "a kerf of" in words]


def test_a_record_says_its_age() -> None:
    assert LASER.warnings(date(2026, 12, 1)) == ()
    assert "is 101 days old" in LASER.warnings(date(2027, 3, 6))[0]
    assert "has no date" in replace(LASER, date="").warnings(date(2026, 12, 1))[0]
    assert "still to come" in LASER.warnings(date(2026, 1, 1))[0]


def test_a_record_says_itself_with_its_uncertainty() -> None:
    begins = "Corrected for school laser in birch plywood, 3 mm, tried 2026-11-25: holes come out 0.15 mm larger"
    assert LASER.long.startswith(f"{begins} (±0.07 mm, 2 holes tried); pins come out 0.14 mm smaller")
    assert LASER.long.endswith("k = 2.")


def test_a_record_says_what_it_only_takes_for_usual() -> None:
    assert "holes were not tried, and are taken for 0.25 mm smaller" in replace(PRINTER, holes=()).long


def test_a_record_says_itself_in_inches() -> None:
    with said_in("inch"):
        assert "holes come out 0.006 in [0.15 mm] larger" in LASER.long


# --- refusals


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"kind": "plasma"}, "no kind of machine is called 'plasma'"),
        ({"name": " two  spaces"}, "stray spaces"),
        ({"material": ""}, "a material of 0 characters"),
        ({"thickness_mm": 80.0}, "a sheet of 80 mm"),
        ({"thickness_mm": float("nan")}, "thickness"),
        ({"holes": (tried(5, 6.5),)}, "a hole drawn as 5 mm that came out as 6.5 mm"),
        ({"holes": (tried(5, 5.1, tool="micrometer"),)}, "a micrometer cannot read a hole"),
        ({"pins": (tried(5, 4.8, tool="shanks"),)}, "drill shanks or pins cannot read a pin"),
        ({"gap": tried(11, 14.0)}, "a gap of 14 mm"),
        ({"across": tried(100, 90.0)}, "100 mm across that came out as 90 mm"),
        ({"holes": (), "pins": (), "across": None, "along": None}, "nothing was tried"),
        ({"date": "yesterday"}, "is not a date"),
    ],
)
def test_what_no_machine_can_be_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        replace(LASER, **change)  # type: ignore[arg-type]


def test_a_gap_of_a_machine_that_builds_is_refused() -> None:
    with pytest.raises(OutOfRange, match="nothing was cut"):
        replace(PRINTER, gap=tried(11, 1.6))


def test_a_hole_finer_than_the_kerf_cannot_be_drawn() -> None:
    with pytest.raises(OutOfRange, match=r"a hole of 0\.1 mm is within what school laser cuts away"):
        LASER.drawn_mm("hole", 0.1)


@pytest.mark.parametrize(
    ("words", "low", "high", "wanted"),
    [
        ("5.12 mm of 5 mm", 5.12, 5.12, 5.0),
        ("5.1 mm..5.2 mm of 5 mm", 5.1, 5.2, 5.0),
        ("1/4 in of 6 mm", 6.35, 6.35, 6),
    ],
)
def test_readings_in_words(words: str, low: float, high: float, wanted: float) -> None:
    assert parse_tried(words, "caliper") == tried(wanted, low, high)


@pytest.mark.parametrize(
    ("words", "why"),
    [("5.12 mm", "does not say what it was drawn as"), ("5.12 of 5 mm", "5.12"), ("5.2 mm..5.1 mm of 5 mm", "thinner")],
)
def test_readings_that_cannot_be_read_are_refused(words: str, why: str) -> None:
    with pytest.raises((QuantityRefused, OutOfRange), match=why):
        parse_tried(words, "caliper")


def test_every_tool_says_its_source_and_what_it_tries() -> None:
    assert all(tool.source and tool.ways for tool in tools().values())
    assert set(EDGES.values()) | {"length"} == {way for tool in tools().values() for way in tool.ways}
    with pytest.raises(UnknownName, match="known: rule"):
        find_tool("ruler")


# --- whether to keep it


def test_a_record_that_is_less_sure_does_not_replace_one_that_is_better() -> None:
    only_one = replace(LASER, holes=(tried(5, 5.1, 5.4, "shanks"),))
    refusal = objection(only_one, LASER)
    assert refusal is not None
    better = "not saved, as the record of school laser in birch plywood, 3 mm is better"
    assert f"{better}: its holes are good to ±0.066 mm" in str(refusal)
    without_length = replace(PRINTER, across=None, along=None)
    assert "knows its scale better" in str(objection(without_length, PRINTER))


def test_a_record_as_good_or_after_three_months_replaces_an_older_one() -> None:
    assert objection(replace(LASER, date="2026-11-26"), LASER) is None
    only_one = replace(LASER, holes=(tried(5, 5.1, 5.4, "shanks"),), date="2027-03-01")
    assert objection(only_one, LASER) is None


# --- the file


def test_a_record_comes_back_as_it_was_put(machines: Machines) -> None:
    full = replace(LASER, slots=(tried(3, 3.15),), tabs=(tried(3, 2.85),), gap=tried(11, 1.6, 1.7, "shanks"))
    assert not machines.put(full)
    assert not machines.put(PRINTER)
    assert machines.all() == (full, PRINTER)


def test_a_second_record_in_the_same_sheet_replaces_the_first_and_another_thickness_does_not(
    machines: Machines,
) -> None:
    machines.put(LASER)
    again = replace(LASER, name="School Laser", pins=(), date="2026-12-01")
    thick = replace(LASER, thickness_mm=6.0)
    assert machines.put(again)
    assert not machines.put(thick)
    assert machines.all() == (again, thick)


def test_machines_are_found_by_name_material_and_thickness(machines: Machines) -> None:
    thick, acrylic = replace(LASER, thickness_mm=6.0), replace(LASER, material="acrylic")
    for each in (LASER, thick, acrylic):
        machines.put(each)
    assert machines.find("SCHOOL laser", "acrylic") == acrylic
    assert machines.find("school laser", "birch plywood", 6.0) == thick
    with pytest.raises(OutOfRange, match=r"measured in 2 ways.*choose the thickness: 3 mm or 6 mm"):
        machines.find("school laser", "birch plywood")
    with pytest.raises(OutOfRange, match=r"choose the material: birch plywood or acrylic"):
        machines.find("school laser", thickness_mm=3.0)
    assert machines.find("school laser", "acrylic", 2.8) == acrylic
    with pytest.raises(OutOfRange, match=r"not measured at 4 mm \(but in acrylic, 3 mm\)"):
        machines.find("school laser", "acrylic", 4.0)
    with pytest.raises(UnknownName, match="no material of school laser is called 'cork'"):
        machines.find("school laser", "cork")
    with pytest.raises(UnknownName, match="no machine is called 'scool laser'; known: school laser"):
        machines.find("scool laser")


def test_a_folder_without_machines_says_so(machines: Machines) -> None:
    assert machines.all() == ()
    with pytest.raises(OutOfRange, match="none has been measured yet; cut or print a coupon"):
        machines.find("school laser")


def test_a_persons_comments_and_keys_survive(machines: Machines) -> None:
    machines.put(LASER)
    machines.put(PRINTER)
    path = machines.folder.path / FILE
    words = path.read_text(encoding="utf-8").replace(
        'kind = "laser"', 'kind = "laser"   # in the basement\nnote = "lens is new"'
    )
    path.write_text(words, encoding="utf-8")
    machines.put(replace(LASER, pins=()))
    assert "# in the basement" in path.read_text(encoding="utf-8")
    assert 'note = "lens is new"' in path.read_text(encoding="utf-8")
    assert machines.forget("class printer") == PRINTER
    assert machines.all() == (replace(LASER, pins=()),)
    machines.forget("school laser")
    assert machines.all() == ()


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        ("thickness = 3", "thickness"),
        ('holes = [{ drawn = "5 mm" }]', "a part of what was tried is missing"),
        ('holes = [{ drawn = "5 mm", read = "5,1", with = "caliper" }]', "read"),
        ('holes = [{ drawn = "5 mm", goes = "5.3 mm", stops = "5.2 mm", with = "shanks" }]', "thinner"),
        ('across = { drawn = "100 mm", read = "50 mm", with = "rule" }', "came out as 50 mm"),
        ('kerf = "0.2 mm"', "no key is called 'kerf'"),
    ],
)
def test_a_faulty_file_is_refused_with_its_line_and_left_alone(machines: Machines, line: str, fault: str) -> None:
    path = machines.folder.path / FILE
    pins = 'pins = [{ drawn = "5 mm", read = "4.9 mm", with = "caliper" }]'
    words = "\n".join(("[[machine]]", 'name = "a"', 'kind = "laser"', 'material = "ply"', pins, line, ""))
    path.write_text(words, encoding="utf-8")
    with pytest.raises(FileRefused, match=fault) as refused:
        machines.put(PRINTER)
    assert f"{FILE}:" in str(refused.value)
    assert path.read_text(encoding="utf-8") == words
