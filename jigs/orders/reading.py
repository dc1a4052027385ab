"""An order from its TOML file: everything wrong is refused at once, each with its line and what would be right.

The keys stand in the example that `coilwright order new` writes (`example.toml`), each with a comment.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from jigs.bench.bench import Bench
from jigs.making.cutting import CUTS
from jigs.making.material import Material, choose_material
from jigs.making.ring import Ring
from jigs.making.trial import TrialCoil
from jigs.making.winding import MOST_RINGS
from jigs.orders.order import (
    MOST_PIECES_MADE,
    MOST_RING_KINDS,
    MOST_SEATS,
    Amount,
    Chain,
    Count,
    Making,
    Order,
    OrderedRing,
    Printing,
    Sample,
    SharedSaws,
    Supply,
    clashes,
    refuse_too_many,
)
from jigs.orders.price import parse_price
from jigs.orders.weave import Weave, find_weave
from jigs.stock.metal import Metal, find_metal, temper_name
from jigs.stock.wire import Wire, parse_wire
from layouts.errors import OutOfRange, QuantityRefused, Refusal
from layouts.files.entries import Entries, entries_of, made, open_entries
from layouts.files.values import in_text, list_of, number, one_of, percent, text_in, whole, words, yes_or_no
from layouts.lengths import UNITS
from layouts.pages.paper import find_paper
from layouts.showing import show_mm
from layouts.units import is_imperial, parse_length, parse_quantity

MOST_REJECTS = 1000
MOST_LENGTHS = 10
MOST_MINUTES = 1440
LONGEST_SOLD_MM = 1_000_000

Reader = Callable[[Any], Any]

LENGTH = in_text(parse_length)
WIRE = in_text(parse_wire)
PRICE = in_text(parse_price)

_SIZES = 'such as inside = "5.0 mm", outside = "7.4 mm" or ratio = 4.2'
_COIL = "a size of the trial coil and what it was wound on"
_SAMPLE = "the rings of a test piece and its length"
_AMOUNTS = 'count, each_seat, or length with weave = "chain" or with a sample'


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """What an order may call by name: what is owned, and the weaves of the user's own."""

    bench: Bench = field(default_factory=Bench)
    weaves: tuple[Weave, ...] = ()

    def mandrel(self, value: Any) -> dict[str, Any]:
        """A mandrel that the order insists on: an owned one by its name, or a rod by its size."""
        text = text_in(value)
        if any(mandrel.name == text.strip() for mandrel in self.bench.mandrels):
            return {"mandrel": text.strip()}
        return {"mandrel_mm": self.bench.rod_mm(text)}


def read_order(path: Path, names: Names | None = None) -> Order:
    """The order in a file. Refuses (`FileFaulty`) with every fault and its line."""
    return _order(open_entries(path), names or Names())


def order_of(text: str, file: str = "order.toml", names: Names | None = None) -> Order:
    """The order in a text, by the name its faults are to carry."""
    return _order(entries_of(text, file), names or Names())


def _order(top: Entries, names: Names) -> Order:
    title = top.take("title", words(80), "")
    seats = top.take("seats", whole(1, MOST_SEATS), 1)
    date = top.take("date", words(40), "")
    units = top.take("units", one_of(*UNITS), "")
    shared = _shared_saws(top)
    printing = _printing(top.table("print"))
    making = top.table("making")
    usual = _making(making, Making(), names)
    making.close()
    tables = {kind: list(top.tables(kind, MOST_RING_KINDS)) for kind in ("ring", "supply")}
    rings = [_ring(table, usual, names, seats) for table in tables["ring"]]
    supplies = [_supply(table) for table in tables["supply"]]
    for clash in clashes(rings, supplies):
        tables[clash.kind][clash.place].fault(clash.problem, clash.remedy, boxed=clash.boxed)
    if not top.has("ring"):
        boxed = "the order has no ring; fill one in, under One more ring"
        top.fault("the order has no ring", "begin one with a line [[ring]]", boxed=boxed)
    top.close()
    top.book.finish()
    whole_order = made(
        top,
        lambda: Order(
            title=title,
            seats=seats,
            date=date,
            units=units,
            shared_saws=shared,
            printing=printing,
            rings=tuple(ring for ring in rings if ring is not None),
            supplies=tuple(supply for supply in supplies if supply is not None),
        ),
    )
    top.book.finish()
    if whole_order is None:  # pragma: no cover - a refusal was noted, and finish raised it
        raise QuantityRefused("the order cannot be read", "check its tables")
    return whole_order


def _shared_saws(top: Entries) -> SharedSaws | None:
    """The saws of a class and the teacher's own minutes, which stand together or not at all."""
    many = {"saws": MOST_SEATS, "minutes_to_wind": MOST_MINUTES, "minutes_to_saw": MOST_MINUTES}
    found = [top.take(key, whole(1, most), None) for key, most in many.items()]
    given = [key for key in many if top.has(key)]
    if 0 < len(given) < len(many):
        lacking = [key for key in many if key not in given]
        top.fault(
            f"{' and '.join(given)} without {' and '.join(lacking)}",
            "give all three, the minutes by your own clock: saws = 3, minutes_to_wind = 20, minutes_to_saw = 40",
            given[0],
            "saws and both minutes go together; give all three, the minutes by your own clock, or none",
        )
    saws, wind, saw = found
    return SharedSaws(saws=saws, wind_min=wind, saw_min=saw) if saws and wind and saw else None


def _printing(entry: Entries) -> Printing:
    def paper(name: str) -> str:
        find_paper(name)  # refuses one that we do not know
        return name

    printing = Printing(
        paper=entry.take("paper", in_text(paper), "a4"),
        landscape=entry.take("landscape", yes_or_no, False),
        printer=entry.take("printer", words(), ""),
        # "stock" is what orders written before it was called tray say
        tray=entry.take("stock" if entry.has("stock") else "tray", words(), ""),
    )
    entry.close()
    return printing


def _making(entry: Entries, usual: Making, names: Names) -> Making:
    """How rings are made by [making], or by a ring's own keys over it."""
    cut = entry.take("cut", one_of(*CUTS), None)
    if cut is not None and cut != usual.cut:
        usual = replace(usual, cut=cut, blade=None, kerf_mm=None, trim_mm=None)
    readers: dict[str, tuple[str, Reader]] = {
        "blade": ("blade", in_text(names.bench.blade)),
        "kerf": ("kerf_mm", LENGTH),
        "trim": ("trim_mm", LENGTH),
        "spares": ("spares", percent(100)),
        "rejects": ("rejects", whole(0, MOST_REJECTS)),
        "tails": ("tails_mm", LENGTH),
        "longest_coil": ("longest_coil_mm", LENGTH),
        "longest_section": ("longest_section_mm", LENGTH),
        "wound": ("together", lambda value: one_of("each", "together")(value) == "together"),
    }
    found = {field: entry.take(key, read, None) for key, (field, read) in readers.items()}
    if entry.has("blade") and not entry.has("kerf"):
        usual = replace(usual, kerf_mm=None)  # a measured kerf was another blade's
    given = {field: value for field, value in found.items() if value is not None}
    return made(entry, lambda: replace(usual, **given)) or usual


def _ring(entry: Entries, usual: Making, names: Names, seats: int) -> OrderedRing | None:
    name = entry.need("name", words(40), '"chain ring"')
    wire = entry.need("wire", WIRE, '"1.2 mm"')
    material = _material(entry)
    weave = entry.take("weave", in_text(lambda text: find_weave(text, names.weaves)), None)
    size = _size(entry, weave)
    amount = _amount(entry, weave, wire)
    making, trial = _making(entry, usual, names), _trial(entry, names, wire)
    mandrel: dict[str, Any] = entry.take("mandrel", names.mandrel, {})
    entry.close()
    if name is None or wire is None or material is None or amount is None or size is None:
        return None
    if not mandrel and not any(size.values()):
        return None
    how = size | mandrel | {"trial": trial, "amount": amount, "making": making, "weave": weave}
    ring = made(entry, lambda: OrderedRing(name=name, wire=wire, material=material, **how))
    if ring is not None:
        made(entry, lambda: refuse_too_many(ring.rings_in_all(seats)))
    return ring


def _size(entry: Entries, weave: Weave | None) -> dict[str, Any] | None:
    """The size as a ring takes it: empty where a mandrel is to give it; None where two are given."""
    size: dict[str, Any] = {
        "inside_mm": entry.take("inside", LENGTH, None),
        "outside_mm": entry.take("outside", LENGTH, None),
        "ratio": entry.take("ratio", number(0.1, 1000), None),
    }
    given = [key for key in ("inside", "outside", "ratio") if entry.has(key)]
    if len(given) > 1:
        boxed = "this ring has more than one size; keep one: the inside, the outside or the AR"
        entry.fault(f"{entry.title} has both {' and '.join(given)}", f"give one, {_SIZES}", given[-1], boxed)
        return None
    if not given and not entry.has("mandrel"):
        if weave is not None:
            return {"ratio": weave.aim, "size_from": f"the good AR of {weave.name}"}
        if not entry.has("weave"):
            remedy = f"give one, {_SIZES}; or a mandrel, or a weave, whose good AR is then taken"
            boxed = "give a size: the inside, the outside or the AR; or a mandrel, or a weave for its good AR"
            entry.fault(f"{entry.title} has no size", remedy, "inside", boxed)
    return size


def _trial(entry: Entries, names: Names, wire: Wire | None) -> TrialCoil | None:
    """A trial coil: its inside, as measured or from its outside, and what it was wound on; named as in a record."""
    # "trial" is what orders say that were written before records were kept
    of = "trial" if any(entry.has(f"trial_{what}") for what in ("inside", "outside", "mandrel")) else "coil"
    inside, outside = entry.take(f"{of}_inside", LENGTH, None), entry.take(f"{of}_outside", LENGTH, None)
    mandrel: dict[str, Any] = entry.take(f"{of}_mandrel", names.mandrel, {})
    key = f"{of}_outside" if entry.has(f"{of}_outside") else f"{of}_inside"
    reads = "outside" if entry.has(f"{of}_outside") else "inside"
    tool = entry.take("coil_with", in_text(lambda text: names.bench.instrument(text, reads).name), "")
    if entry.has(f"{of}_inside") and entry.has(f"{of}_outside"):
        entry.fault("a trial coil has both inside and outside", "give the one that you measured", key)
    elif not _refuse_half(entry, key, f"{of}_mandrel", "", _COIL) and outside is not None and wire is not None:
        coil = made(entry, lambda: Ring.of_outside(wire_mm=wire.diameter_mm, outside_mm=outside), key)
        inside = coil.inside_mm if coil else None
    if entry.has("coil_with") and not entry.has(key):
        entry.fault("coil_with stands alone", f"give {key} and {of}_mandrel too", "coil_with")
    if inside is None or not mandrel:
        return None
    name = mandrel.get("mandrel", "")
    mm = mandrel.get("mandrel_mm") or names.bench.mandrel(name).measured_mm
    return TrialCoil(inside_mm=inside, mandrel_mm=mm, mandrel=name, instrument=tool, of_outside=reads == "outside")


def _refuse_half(entry: Entries, first: str, second: str, of: str, boxed: str) -> bool:
    """Faults one of two keys that stands without the other, and says whether it did; `boxed` are both in words."""
    if entry.has(first) == entry.has(second):
        return False
    key = first if entry.has(first) else second
    boxed = f"{boxed} go together; give both, or neither"
    entry.fault(f"{key} stands alone", f"give {first} and {second}{of or ' together'}", key, boxed)
    return True


def _amount(entry: Entries, weave: Weave | None, wire: Wire | None) -> Amount | None:
    """How many rings, by the one way that is given."""
    many = whole(1, MOST_RINGS)
    count, each = entry.take("count", many, None), entry.take("each_seat", many, None)
    length = entry.take("length", LENGTH, None)
    pieces = entry.take("pieces", whole(1, MOST_PIECES_MADE), None)
    sample_rings = entry.take("sample_rings", many, None)
    sample_length = entry.take("sample_length", LENGTH, None)
    ways = [key for key in ("count", "each_seat", "length") if entry.has(key)]
    if len(ways) != 1:
        _fault_amount(entry, ways)
        return None
    if ways != ["length"]:
        for key in ("pieces", "sample_rings", "sample_length"):
            if entry.has(key):
                remedy = "leave it out, or give the length of the piece"
                entry.fault(f"{key} belongs to a length", remedy, key, f"this belongs to a length; {remedy}")
        rings = count if each is None else each
        return None if rings is None else Count(rings=rings, each_seat=each is not None)
    if _refuse_half(entry, "sample_rings", "sample_length", " of one test piece", _SAMPLE) or length is None:
        return None
    if sample_rings and sample_length:
        return Sample(length_mm=length, sample_rings=sample_rings, sample_length_mm=sample_length, pieces=pieces)
    if weave is None or not weave.is_plain_chain:
        if not entry.has("sample_rings"):
            piece = "a test piece"
            if weave is not None and wire is not None:
                good = Ring.of_ratio(wire_mm=wire.diameter_mm, ratio=weave.aim)
                piece += f" of rings of AR {weave.aim:g} ({show_mm(good.inside_mm)} inside)"
            remedy = f'weave {piece} and give sample_rings and sample_length, or weave = "chain"'
            wrong = "this length does not say how many rings it takes"
            boxed = f"{wrong}; weave {piece} and give its rings and its length, or take the weave chain"
            entry.fault(wrong, remedy, "length", boxed)
        return None
    return Chain(length_mm=length, pieces=pieces)


def _fault_amount(entry: Entries, ways: Sequence[str]) -> None:
    """Faults a number of rings that is said in no way, or in several."""
    boxed = "say how many: for all, for each seat, or by a length of chain or of a test piece"
    if ways:
        boxed = "how many rings is said in more than one way; keep one of them"
    said = " and ".join(ways) or "no number of rings"
    entry.fault(f"{entry.title} has {said}", f"give one: {_AMOUNTS}", ways[-1] if ways else "count", boxed)


def _supply(entry: Entries) -> Supply | None:
    def sold(value: Any) -> tuple[int, bool]:
        """A length that wire is sold in, in whole millimetres rounded down, and whether it is in feet or inches."""
        length = math.floor(LENGTH(value) + 1e-6)
        if not 1 <= length <= LONGEST_SOLD_MM:
            raise OutOfRange(f"wire is not sold in lengths of {length} mm", f"give 1 mm to {LONGEST_SOLD_MM // 1000} m")
        return length, is_imperial(value)

    wire = entry.need("wire", WIRE, '"1.2 mm"')
    material = _material(entry)
    found: dict[str, Any] = {
        "price": entry.take("price", PRICE, None),
        "clippings_price": entry.take("clippings", PRICE, None),
        "dust_price": entry.take("dust", PRICE, None),
        "snip_mm": entry.take("snip", LENGTH, 0.0),
        "short_mm": entry.take("short", LENGTH, 0.0),
    }
    lengths = entry.take("lengths", list_of(sold, MOST_LENGTHS), ())
    found["lengths_mm"] = tuple(mm for mm, _ in lengths)
    found["feet_mm"] = tuple(mm for mm, in_feet in lengths if in_feet)
    entry.close()
    if wire is None or material is None:
        return None
    return made(entry, lambda: Supply(wire=wire, material=material, **found))


def _material(entry: Entries) -> Material | None:
    """The metal of a table: a known one, any with its own figures, or a known one with some of them replaced."""
    name = entry.need("metal", words(), '"copper"')
    temper = entry.take("temper", in_text(temper_name), None)
    density, modulus, strength = (
        entry.take(key, in_text(partial(parse_quantity, kind=kind)), None) for key, kind in _KIND_OF.items()
    )
    if name is None:
        return None
    own = {"density_g_cm3": density, "modulus_gpa": modulus, "strength_mpa": strength}
    metal: Metal | None = None
    try:
        metal = find_metal(name)
    except Refusal as refusal:
        if density is None:
            remedy = f"{refusal.remedy}; or give its density, and for springback its modulus and strength"
            entry.fault(refusal.problem, remedy, "metal")
        else:
            metal = made(entry, lambda: Metal.custom(name=name, **own))
    if metal is None:
        return None
    return made(entry, lambda: choose_material(metal, temper, **own), "temper")


_KIND_OF = {"density": "density", "modulus": "modulus", "strength": "stress"}
