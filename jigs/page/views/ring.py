"""A ring, three ways in: one that is wanted, a rod that is there, a ring in the hand. The ledger as one types."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jigs.actions.ring import RingNumbers, ring_numbers
from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.bench.settings import units_for
from jigs.making.cutting import CUTS
from jigs.orders.own_weaves import read_weaves
from jigs.orders.price import Price, parse_price
from jigs.orders.weave import weaves
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form, number
from jigs.reports.ledger import in_a_line
from jigs.reports.report import Report
from jigs.reports.ring import cost_report, ring_report
from jigs.stock.blade import blades
from jigs.stock.metal import TEMPERS, find_metal, metals
from jigs.stock.wire import parse_wire
from layouts.errors import Refusal
from layouts.lengths import said_in
from layouts.units import parse_count, parse_length

_WAYS = (
    ("ring", "A ring that I want"),
    ("rod", "A rod that I have"),
    ("hand", "A ring that I have here"),
)
_BY = (
    ("inside_mm", "inside (ID)"),
    ("outside_mm", "outside (OD)"),
    ("ratio", "AR, inside/wire"),
)
_CUTS = {"saw": "piercing saw", "cutters": "flush cutters", "none": "not counted"}
_WIRES = ("16 AWG", "18 AWG", "20 AWG", "16 SWG", "18 SWG", "20 SWG", "0.8 mm", "1.0 mm", "1.2 mm", "1.6 mm")
_ORDER = ("rods", "windings", "cost", "ledger", "given", "workings", "care")


def show(asked: Asked) -> Answer:
    """The numbers of the ring that was filled in, or what is wrong with the boxes."""
    form = Form.filled(_boxes(asked), asked)
    with said_in(units_for(asked.bench)):
        values = {"here": "ring", "form": form, "found": _found(form, asked)}
        return Answer(template="ring.html", part="ring_live.html", values=values)


def _boxes(asked: Asked) -> Iterator[Box]:
    # what there is to choose from is not shown anew at each keystroke
    owned = Bench() if asked.is_part else read_bench(asked.bench)
    yield Box(key="way", label="What is it?", kind="choice", choices=_WAYS, usual="ring")
    yield Box(
        key="wire",
        label="Wire",
        usual="1.2 mm",
        hint="A gauge with its system, or a size: 16 AWG, 18 SWG, 1.2 mm.",
        suggestions=_WIRES,
    )
    spools = tuple((spool.name, spool.name) for spool in owned.spools)
    if spools or "spool" in asked.given:
        yield Box(key="spool", label="From the spool", kind="choice", choices=(("", "none"), *spools))
    yield Box(key="by", label="Its size is its", kind="choice", choices=_BY, usual="inside_mm")
    yield Box(key="size", label="Size", usual="5 mm", hint="With its unit: 5 mm, 5/16 in. An AR is a plain number.")
    rods = tuple(mandrel.name for mandrel in owned.mandrels)
    hint = "Its size, or its name in your drawer."
    yield Box(key="mandrel", label="Rod", usual="5 mm", hint=hint, suggestions=rods)
    yield Box(key="measured_mm", label="The rod by caliper", hint="What you measured counts, not the name.")
    names = tuple((metal.name, metal.name) for metal in metals())
    yield Box(key="metal", label="Metal", kind="choice", choices=(("", "not counted"), *names), usual="phosphor bronze")
    yield Box(key="temper", label="Temper", kind="choice", choices=[(name, name) for name in TEMPERS], usual="soft")
    cuts = tuple((cut, _CUTS[cut]) for cut in CUTS)
    yield Box(key="cut", label="Cut with", kind="choice", choices=cuts, usual="saw")
    sizes = dict.fromkeys(blade.name for blade in (*owned.blades, *blades()))
    yield Box(key="blade", label="Blade", kind="choice", choices=(("", "the usual one"), *((s, s) for s in sizes)))
    yield Box(key="rings", label="How many", usual="400", hint="Good rings, as a whole number.")
    yield Box(key="price", label="Price of the wire", hint="Such as 2.40 EUR per m, or 8 USD per ozt.")
    own = () if asked.is_part else read_weaves(asked.bench / "weaves.toml")
    names = tuple((weave.name, weave.name) for weave in (*own, *weaves()))
    yield Box(key="weave", label="For the weave", kind="choice", choices=(("", "any"), *dict.fromkeys(names)))


def _found(form: Form, asked: Asked) -> dict[str, Any] | None:
    """What there is to show; None where something was refused."""
    given = _read(form, asked)
    price = form.read("price", parse_price)
    if not form.is_right:
        return None
    try:
        numbers = ring_numbers(bench=asked.bench, **given)
    except Refusal as refusal:
        form.blame(refusal, lambda other: _is_right(other, asked))
        return None
    return _shown(form, numbers, price)


def _is_right(form: Form, asked: Asked) -> bool:
    given = _read(form, asked)
    return form.is_right and bool(ring_numbers(bench=asked.bench, **given))


def _read(form: Form, asked: Asked) -> dict[str, Any]:
    """What the boxes hold, by the names that the action has for it."""
    spool = form.words("spool") if "spool" in form.boxes else ""
    needed = "" if spool else "Give the wire: a gauge with its system, or a size."
    given: dict[str, Any] = {
        "wire": form.read("wire", parse_wire, needed=needed),
        "spool": spool,
        "rings": form.read("rings", parse_count),
        "weave": form.words("weave") or None,
        "cut": form.read("cut", str),
    }
    if given["cut"] == "saw":
        given["blade"] = form.words("blade") or None
    if form.words("way") == "rod":
        form.read("mandrel", read_bench(asked.bench).rod_mm, needed="Give the rod's size, or its name in your drawer.")
        given |= {"mandrel": form.words("mandrel"), "measured_mm": form.read("measured_mm", parse_length)}
    else:
        by = form.words("by") if form.words("by") in dict(_BY) else "inside_mm"
        needed = "" if given["weave"] else "Give its size."
        given[by] = form.read("size", number if by == "ratio" else parse_length, needed=needed)
    if spool:  # the spool says what it is of
        return given | {"wire": None}
    metal = given["metal"] = form.read("metal", find_metal)
    if metal is not None and metal.tempers:
        form.read("temper", metal.temper)
        given["temper"] = form.words("temper")
    return given


def _shown(form: Form, numbers: RingNumbers, price: Price | None) -> dict[str, Any] | None:
    batch = numbers.batch
    whole = ring_report(batch, owned=numbers.owned, verdict=numbers.verdict, notes=numbers.notes)
    parts = {part.key: part for part in whole.parts}
    if price is not None:
        try:
            cents = numbers.cents(price)
        except Refusal as refusal:
            form.refuse(refusal, "price")
            return None
        if cents is not None:
            parts["cost"] = cost_report(price, cents)
    reports: list[Report] = [parts[key] for key in _ORDER if key in parts]
    return {
        "line": in_a_line(batch.ledger),
        "reports": reports,
        "cautions": batch.cautions,
        "wire_mm": batch.wire.diameter_mm,
        "mandrel_mm": batch.acting_mandrel_mm,
        "inside_mm": batch.ring.inside_mm,
        "outside_mm": batch.ring.outside_mm,
        "ratio": batch.ring.aspect_ratio,
    }


ROUTES = (Route("/", show),)
