"""records.toml of the bench folder: what came out of batches, written by hand or by `coilwright record`.

["1"]                        # a name of your own
spool = "blue reel"          # wire, metal and temper are then known; or give them here
wire = "1.2 mm"
metal = "phosphor bronze"
mandrel = "rod 5"            # a mandrel of your bench, or a size; measured = "5.02 mm" where it is neither
coil_inside = "5.31 mm"      # several readings: ["5.31 mm", "5.33 mm"]
blade = "2/0"
ring_inside = "5.22 mm"
with = "caliper"
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from jigs.bench.bench import Bench
from jigs.bench.record import NO_METAL, SIZES, Record
from jigs.making.cutting import CUTS
from jigs.stock.metal import find_metal, temper_name
from jigs.stock.wire import parse_wire
from layouts.errors import Refusal, UnknownName
from layouts.files.entries import Entries, made
from layouts.files.values import day_in, in_text, one_of, percent, whole, words, yes_or_no
from layouts.units import parse_length

_WIRE = '"1.2 mm", or name a spool of your bench'
_NO_WIRE = "no wire is given; give it, such as 1.2 mm, or name a spool of your bench"
MOST_READINGS = 100
MOST_RINGS = 100_000


def record_reader(bench: Bench) -> Callable[[str, Entries], Record | None]:
    """A reader of one record's table, which knows the spools, mandrels and instruments of the bench by name."""
    return lambda name, entry: record_of(name, entry, bench)


def record_of(name: str, entry: Entries, bench: Bench) -> Record | None:
    """A record from its table."""
    spool = entry.take("spool", words(40), "")
    owned = next((one for one in bench.spools if one.name == spool), None)
    wire = entry.take("wire", in_text(parse_wire), owned.wire if owned else None)
    if wire is None and not entry.has("wire"):
        entry.fault(f"{entry.title} has no wire", f"add a line such as wire = {_WIRE}", "wire", _NO_WIRE)
    found: dict[str, Any] = {
        "spool": spool,
        "metal": entry.take("metal", metal_name, owned.metal.name if owned else NO_METAL),
        "temper": entry.take("temper", in_text(temper_name), owned.temper if owned else "soft"),
    }
    mandrel = entry.need("mandrel", words(40), '"5 mm"')
    measured = entry.take("measured", in_text(parse_length), None)
    found["wanted_mm"] = entry.take("wanted", in_text(parse_length), None)
    for key in SIZES:
        found[key] = entry.take(key, _readings, ())
    found["cut"] = entry.take("cut", one_of(*CUTS), "")
    found["blade"] = entry.take("blade", words(40), "")
    found["chain_rings"] = entry.take("chain_rings", whole(1, 1000), 0)
    found |= _read_with(entry, bench) | _told_beside(entry)
    if found["blade"]:
        made(entry, lambda: bench.blade(found["blade"]), "blade")
    if mandrel is None or wire is None:
        return None
    by_name = measured is None
    if by_name:
        measured = made(entry, lambda: bench.rod_mm(mandrel), "mandrel")
    if measured is None:
        return None
    return made(
        entry,
        lambda: Record(name=name, wire=wire, mandrel=mandrel, measured_mm=measured, is_measured=not by_name, **found),
    )


def _read_with(entry: Entries, bench: Bench) -> dict[str, Any]:
    """With what the sizes were read, the chain perhaps otherwise, and the scale of what is printed."""
    return {
        "instrument": entry.take("with", lambda text: _instrument(bench, text), "caliper"),
        "chain_instrument": entry.take("chain_with", lambda text: _instrument(bench, text), ""),
        "scale": entry.take("scale", percent(10), None),
    }


def _told_beside(entry: Entries) -> dict[str, Any]:
    """What is written down beside the sizes."""
    found: dict[str, Any] = {key: entry.take(key, whole(0, MOST_RINGS), None) for key in ("good", "rejects")}
    found["date"] = entry.take("date", day_in, "")
    found |= {key: entry.take(key, words(120), "") for key in ("by", "remarks")}
    found["confirmed"] = entry.take("confirmed", yes_or_no, False)
    return found


def metal_name(value: Any) -> str:
    """The table's name of a metal; one that the table lacks stays as it is written."""
    text = words(60)(value)
    try:
        return find_metal(text).name
    except UnknownName:
        return text


def _instrument(bench: Bench, value: Any) -> str:
    return bench.instrument(words(40)(value)).name


def _readings(value: Any) -> tuple[float, ...]:
    """One reading, or a list of several."""
    many = value if isinstance(value, list) else [value]
    if not 1 <= len(many) <= MOST_READINGS:
        raise Refusal(f"{len(many)} readings", f"give 1 to {MOST_READINGS}")
    return tuple(in_text(parse_length)(each) for each in many)
