"""Orders from TOML: the example, every key, every refusal with its line."""

from __future__ import annotations

import random
import time
from importlib.resources import files
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from orders import orders, refusal_of

from jigs.bench.bench import Bench, Mandrel
from jigs.making.ring import Ring
from jigs.orders.order import Chain, Count, Order, Sample
from jigs.orders.reading import Names, order_of, read_order
from jigs.planning.plan import make_plan
from jigs.reports.as_json import plain
from jigs.reports.plan import plan_report
from layouts.errors import Refusal
from layouts.files.faults import FileFaulty

EXAMPLE = files("jigs.orders").joinpath("example.toml").read_text("utf-8")
RING = '[[ring]]\nname = "a"\nwire = "1 mm"\nmetal = "copper"\n'
GOOD = RING + 'inside = "4 mm"\ncount = 3\n'


def test_the_example_is_an_order_for_an_evening_class() -> None:
    order = order_of(EXAMPLE)
    assert (order.seats, order.currency) == (8, "EUR")
    chain, toggle = order.rings
    assert (chain.amount, chain.inside_mm, chain.wire.diameter_mm) == (Count(rings=400), 5.0, 1.2)
    assert chain.material.name == "phosphor bronze, soft"
    assert (toggle.amount, toggle.making.spares) == (Count(rings=1, each_seat=True), 1.0)


TOGETHER = {"saws": 3, "coil_inside": 3}  # keys that are used with those of the lines below them


def test_every_commented_key_of_the_example_can_be_used() -> None:
    lines = EXAMPLE.split("\n")
    belong = {"mandrel", "minutes_to_wind", "minutes_to_saw", "coil_mandrel", "coil_with"}
    for at, line in enumerate(lines):
        key = line.removeprefix("# ").split(" = ")[0]
        if not line.startswith("# ") or line.startswith("#  ") or " = " not in line or key in belong:
            continue
        end = at + TOGETHER.get(key, 1)
        used = "\n".join([*lines[:at], *(each.removeprefix("# ") for each in lines[at:end]), *lines[end:]])
        if key == "trim":
            used = used.replace('cut = "saw"', 'cut = "cutters"')
        assert isinstance(order_of(used), Order), key


def test_the_two_ways_by_length_that_the_example_shows_can_be_used() -> None:
    block = EXAMPLE[EXAMPLE.index("# Instead of a number") :].split("[[supply]]")[0]
    keys = [line.removeprefix("#   ") for line in block.split("\n") if line.startswith("#   ")]
    for used in (keys[:3], keys[3:]):
        assert isinstance(order_of(RING + 'inside = "4 mm"\n' + "\n".join(used)), Order)


def test_an_order_needs_little() -> None:
    order = order_of(GOOD)
    [ring] = order.rings
    assert (order.seats, order.title, order.supplies, order.printing.paper) == (1, "", (), "a4")
    assert (ring.making.cut, ring.making.spares, ring.making.rejects, ring.making.tails_mm) == ("saw", 0.15, 2, 65.0)


def test_a_ring_s_own_keys_come_before_the_order_s() -> None:
    text = '[making]\ncut = "saw"\nblade = "2"\nspares = "5 %"\n' + GOOD + 'cut = "cutters"\ntrim = "0.8 mm"\n'
    making = order_of(text).rings[0].making
    assert (making.cut, making.blade, making.trim_mm, making.spares) == ("cutters", None, 0.8, 0.05)


def test_a_length_of_plain_chain_is_worked_out() -> None:
    # 190 mm less two wires of 1.2 mm, 187.6 / 5.0 = 37.52 -> 38
    assert Chain(length_mm=190).rings_in_one(Ring(wire_mm=1.2, inside_mm=5.0)) == 38
    assert Chain(length_mm=5 * 38 + 2.4).rings_in_one(Ring(wire_mm=1.2, inside_mm=5.0)) == 38
    assert Chain(length_mm=1).rings_in_one(Ring(wire_mm=1.2, inside_mm=5.0)) == 1


def test_a_length_of_weave_goes_by_its_test_piece() -> None:
    # 190 mm at 24 rings to 31 mm: 147.1 -> 148
    sample = Sample(length_mm=190, sample_rings=24, sample_length_mm=31)
    assert sample.rings_in_one(Ring(wire_mm=1.2, inside_mm=5.0)) == 148
    assert (sample.units(8), Sample(length_mm=1, sample_rings=1, sample_length_mm=1, pieces=3).units(8)) == (8, 3)


def test_a_metal_of_one_s_own_comes_with_its_figures() -> None:
    own = 'density = "8.3 g/cm3"\nmodulus = "100 GPa"\nstrength = "300 MPa"\n'
    ring = order_of(GOOD.replace("copper", "bell metal") + own).rings[0]
    assert ring.density_g_cm3 == pytest.approx(8.3)
    assert ring.material.metal is not None
    assert ring.material.metal.name == "bell metal"


def test_a_mandrel_may_be_named_or_sized() -> None:
    names = Names(bench=Bench(mandrels=(Mandrel(name="rod 7", measured_mm=6.02),)))
    assert order_of(GOOD + 'mandrel = "rod 7"\n', names=names).rings[0].mandrel == "rod 7"
    assert order_of(GOOD + 'mandrel = "3.5 mm"\n').rings[0].mandrel_mm == 3.5


REFUSED = [
    (GOOD + "cuont = 3\n", 7, "no key is called 'cuont' in this [[ring]]; known: count, "),
    ("seats = 0\n" + GOOD, 1, "seats: 0 is out of range; write a whole number from 1 to 10000"),
    ("seats = 10001\n" + GOOD, 1, "seats: 10001 is out of range"),
    (GOOD.replace('"1 mm"', '"18"'), 3, "wire: '18' could be 18 AWG (1.024 mm) or 18 SWG (1.219 mm); write one"),
    (GOOD.replace('"1 mm"', "1"), 3, "wire: '1' could be 1 AWG (7.348 mm) or 1 SWG (7.62 mm); write one of them"),
    (GOOD.replace('"4 mm"', '"4 g"'), 5, "inside: "),
    (GOOD + "ratio = 4\n", 7, 'this [[ring]] has both inside and ratio; give one, such as inside = "5.0 mm", out'),
    (GOOD.replace('inside = "4 mm"\n', ""), 1, "this [[ring]] has no size; give one"),
    (GOOD.replace("count = 3\n", ""), 1, "this [[ring]] has no number of rings; give one: count, each_seat, or length"),
    (GOOD + "each_seat = 3\n", 7, "this [[ring]] has count and each_seat; give one"),
    (GOOD + "pieces = 3\n", 7, "pieces belongs to a length; leave it out, or give the length"),
    (RING + 'inside = "4 mm"\nlength = "9 mm"\n', 6, "this length does not say how many rings it takes; weave a test"),
    (RING + 'inside = "4 mm"\nlength = "9 mm"\nsample_rings = 4\n', 7, "sample_rings stands alone; give sample"),
    (GOOD + 'coil_outside = "4 mm"\n', 7, "coil_outside stands alone; give coil_outside and coil_mandrel together"),
    (GOOD + 'trial_inside = "4 mm"\n', 7, "trial_inside stands alone; give trial_inside and trial_mandrel together"),
    (GOOD + 'weave = "birzantine"\n', 7, "weave: no weave is called 'birzantine'; known: byzantine, "),
    (GOOD + 'mandrel = "rod 9"\n', 7, "mandrel: 'rod 9' is neither a mandrel of your bench nor a size; write a size"),
    (GOOD +
     'kerf = "0.3 mm"\ncut = "none"\n', 7, "a blade or a kerf belongs to the saw; leave it out, or cut with a saw"),
    (GOOD + 'trim = "1 mm"\n', 7, "a trim belongs to cutters; leave it out, or cut with cutters"),
    (GOOD + 'blade = "9"\n', 7, "blade: no saw blade is called '9'; known: "),
    (GOOD + 'spares = "15"\n', 7, "spares: '15' is not a percentage; write one from \"0 %\" to \"100 %\""),
    (GOOD + 'temper = "spring"\n'
     + GOOD.replace('"a"', '"b"').replace("copper", "titanium grade 1") + 'temper = "hard"\n',
     14, "no strength of hard titanium grade 1 is known here; tempers with one: soft"),
    (GOOD.replace("copper", "unobtainium"), 4, "no metal is called 'unobtainium'; known: "),
    (GOOD + GOOD, 7, "two [[ring]] tables are for a; give each its own"),
    (GOOD + '[[supply]]\nwire = "2 mm"\nmetal = "copper"\n',
     7, "no ring is made of 2 mm copper, soft; the rings are of 1 mm copper, soft; use it"),
    (GOOD + '[[supply]]\nwire = "1 mm"\nmetal = "copper"\nprice = "3 EUR per m"\nclippings = "3 GBP per kg"\n',
     7, "prices in EUR and GBP cannot be added; give all in one"),
    (GOOD + '[[supply]]\nwire = "1 mm"\nmetal = "copper"\nprice = "3 EUR per kg"\nclippings = "4 EUR per kg"\n',
     11, "4 EUR per kg for scrap is more than the wire costs, 3 EUR per kg; check both prices"),
    (GOOD + '[[supply]]\nwire = "1 mm"\nmetal = "copper"\ndust = "3 EUR per m"\n',
     10, "scrap is weighed, and 3 EUR per m is by length; give it per g, ozt or kg"),
    (GOOD + '[[supply]]\nwire = "1 mm"\nmetal = "copper"\nlengths = ["2 km"]\n', 10, "lengths: "),
    (GOOD + '[[supply]]\nwire = "1 mm"\nmetal = "copper"\nlengths = []\n', 10, "lengths: a list of 0 is not a list"),
    (GOOD + '[print]\npaper = "quarto"\n', 8, "paper: no paper is called 'quarto'; known: "),
    ('title = "x"\n', 1, "the order has no ring; begin one with a line [[ring]]"),
    (GOOD.replace("count = 3", "count = 1_000_001"), 6, "count: 1000001 is out of range"),
    ("seats = 10000\n" + GOOD.replace("count", "each_seat").replace("= 3", "= 200"), 2, "2000000 rings are"),
    ("[[ring]]\n" * 101, 1, "101 tables [[ring]] are too many; give at most 100"),
]  # fmt: skip


def test_what_clashes_is_refused_all_at_once_each_at_its_own_table() -> None:
    supply = '[[supply]]\nwire = "1 mm"\nmetal = "copper"\nprice = "3 EUR per m"\n'
    other = '[[supply]]\nwire = "2 mm"\nmetal = "copper"\nprice = "3 GBP per m"\n'
    with pytest.raises(FileFaulty) as refused:
        order_of(GOOD + GOOD + supply + other, "o.toml")
    assert [(fault.line, fault.wrong.split(" are ")[0].split(" is ")[0]) for fault in refused.value.faults] == [
        (7, "two [[ring]] tables"),
        (17, "no ring"),
        (17, "prices in EUR and GBP cannot be added"),
    ]


@pytest.mark.parametrize(("text", "line", "message"), REFUSED)
def test_what_is_wrong_is_refused_with_its_line_and_what_is_right(text: str, line: int, message: str) -> None:
    with pytest.raises(FileFaulty) as refusal:
        order_of(text, "job.toml")
    said = [str(fault) for fault in refusal.value.faults]
    assert any(fault.startswith(f"job.toml:{line}: {message}") for fault in said), said


def test_everything_wrong_is_refused_at_once() -> None:
    text = 'titel = "x"\n[making]\ncut = "sow"\n' + GOOD.replace("1 mm", "1").replace("copper", "coper")
    with pytest.raises(FileFaulty) as refusal:
        order_of(text)
    assert [fault.line for fault in refusal.value.faults] == [1, 3, 6, 7]


# -- robust


@settings(max_examples=80, deadline=None)
@given(orders())
def test_a_good_order_gives_a_plan_or_a_refusal_that_names_the_ring(text: str) -> None:
    order = order_of(text)
    said = refusal_of(lambda: plain(plan_report(make_plan(order))))
    assert not said or said.startswith("ring 'ring ")


JUNK = ("", '"', "[[", "]", "= 3", "nan", "-1", "1e400", '"9**9**9 mm"', "true", "[1, 2]", '{ a = 1 }', "2024-01-01",
        '"0.000001 mm"', '"9 km"', '"1/0 AWG"', '"\\u0000"', '"' + "x" * 300 + '"', "10000000000000000000000", "0",
        '"0 %"')  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.sampled_from((EXAMPLE, GOOD)), orders(), st.randoms(use_true_random=False), st.integers(1, 6))
def test_a_spoilt_order_gives_a_plan_or_a_refusal(example: str, other: str, chance: random.Random, times: int) -> None:
    lines = chance.choice((example, other)).split("\n")
    for _ in range(times):
        at = chance.randrange(len(lines))
        how = chance.randrange(5)
        if how == 0:
            del lines[at]
            lines = lines or [""]
        elif how == 1:
            lines.insert(at, chance.choice(lines))
        elif how == 2 and " = " in lines[at]:
            lines[at] = f"{lines[at].split(' = ')[0]} = {chance.choice(JUNK)}"
        elif how == 3 and lines[at]:
            cut = chance.randrange(len(lines[at]))
            lines[at] = lines[at][:cut] + chance.choice("x9.\"'=[ %é") + lines[at][cut + 1 :]
        else:
            lines[at] = lines[at].removeprefix("# ")
    assert "\n" not in refusal_of(lambda: plain(plan_report(make_plan(order_of("\n".join(lines))))))


WIDE = "".join(
    f'[[ring]]\nname = "r{i}"\nwire = "{0.5 + 0.01 * (i % 50):.2f} mm"\nmetal = "copper"\nratio = {3 + 0.05 * i:.2f}\n'
    f"count = {9973 - i}\n"
    for i in range(100)
)
SOLD = "".join(
    f'[[supply]]\nwire = "{0.5 + 0.01 * i:.2f} mm"\nmetal = "copper"\nprice = "2 EUR per m"\n'
    'lengths = ["5 m", "1.7 m"]\n'
    for i in range(50)
)


@pytest.mark.parametrize(
    "text",
    [
        "seats = 10000\n" + GOOD.replace("count = 3", "each_seat = 60"),
        GOOD.replace("count = 3", "count = 10000"),
        GOOD.replace("count = 3", "count = 1000000"),
        "seats = 10000\n" + EXAMPLE.replace("seats = 8", ""),
        "seats = 9999\n" + WIDE + SOLD,
        "seats = 7\n" + WIDE + SOLD.replace('["5 m", "1.7 m"]', '["900 m", "5 m", "3.3 m", "1.7 m"]'),
        "seats = 3\n" + WIDE.replace("0.5", "0.7") + '[making]\ncut = "cutters"\nlongest_coil = "60 mm"\n',
    ],
    ids=[
        "ten thousand seats",
        "ten thousand rings",
        "a million rings",
        "a class of 10000",
        "wide",
        "spools",
        "cutters",
    ],
)
def test_a_large_order_has_its_plan_or_a_clear_limit_within_ten_seconds(text: str) -> None:
    begun = time.process_time()
    said = refusal_of(lambda: plain(plan_report(make_plan(order_of(text)))))
    assert not said or "too many" in said
    assert time.process_time() - begun < 10


def test_an_order_of_ten_megabytes_meets_a_clear_limit(tmp_path: Path) -> None:
    path = tmp_path / "big.toml"
    path.write_text(GOOD * (10_000_000 // len(GOOD)))
    with pytest.raises(Refusal, match=r"big.toml is longer than 256 KiB"):
        read_order(path)


def test_one_wire_written_in_two_ways_is_still_one_supply() -> None:
    supply = '[[supply]]\nwire = "1 mm"\nmetal = "copper"\n'
    with pytest.raises(FileFaulty, match=r"o\.toml:10: two \[\[supply\]\] tables are for 1\.0 mm copper, soft"):
        order_of(GOOD + supply + supply.replace("1 mm", "1.0 mm"), "o.toml")


def test_the_outside_of_a_ring_is_a_size_too() -> None:
    # 7.4 mm outside less two wires of 1.2 mm: 5.0 mm
    ring = 'name = "a"\nwire = "1.2 mm"\nmetal = "copper"\ncount = 5\n'
    [found] = order_of(f'[[ring]]\n{ring}outside = "7.4 mm"\n').rings
    assert found.wanted.inside_mm == pytest.approx(5.0)
    both = refusal_of(lambda: order_of(f'[[ring]]\n{ring}outside = "7.4 mm"\ninside = "5 mm"\n'))
    assert "has both inside and outside; give one, such as" in both
