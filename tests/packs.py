"""Orders and their packs for tests: a maker alone, a class, and an order that tries to break the layout."""

from __future__ import annotations

from functools import cache
from importlib.resources import files
from pathlib import Path
from tempfile import TemporaryDirectory

from every_sheet import NASTY

from jigs.bench.bench import Bench
from jigs.orders.order import Order
from jigs.orders.own_weaves import read_weaves
from jigs.orders.reading import Names, read_order
from jigs.packing.pack import Pack, make_pack
from jigs.planning.plan import Plan, make_plan
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.render.pdf import write_pdf

EXAMPLE = files("jigs.orders").joinpath("example.toml").read_text(encoding="utf-8")
CLASS = EXAMPLE.replace('wound = "together"  ', 'wound = "each"  ')
ALONE = CLASS.replace("seats = 8 ", "seats = 1 ")
UNEVEN = EXAMPLE.replace("seats = 8 ", "seats = 7 ")  # 400 rings over 7 seats; one winds the toggle rings for all
DOZEN = CLASS.replace("seats = 8 ", "seats = 12 ")
_QUOTED = NASTY[:38].replace("\\", "\\\\").replace('"', '\\"')
ODD = f"""
title = "{_QUOTED}"
seats = 3
[making]
cut = "cutters"
rejects = 1
[[ring]]
name = "{"x" * 40}"
wire = "16 AWG"
metal = "sterling"
temper = "hard"
inside = "21.3 mm"
count = 200
[[ring]]
name = "fine"
wire = "0.35 mm"
metal = "copper"
ratio = 4.1
each_seat = 400
cut = "none"
[[ring]]
name = "{_QUOTED}"
wire = "18 SWG"
metal = "aluminium 5056"
inside = "7/16 in"
weave = "byzantine"
cut = "saw"
kerf = "0.31 mm"
count = 2
"""
ORDERS = {"class": CLASS, "alone": ALONE, "uneven": UNEVEN, "dozen": DOZEN, "odd": ODD}


def order_of(text: str) -> Order:
    """The order in a text."""
    with TemporaryDirectory() as folder:
        path = Path(folder) / "order.toml"
        path.write_text(text, encoding="utf-8")
        return read_order(path, Names(bench=Bench(), weaves=read_weaves(path.with_name("weaves.toml"))))


@cache
def plan(name: str) -> Plan:
    """The plan of one of the orders, with nothing owned."""
    return make_plan(order_of(ORDERS[name]))


@cache
def pack(name: str, paper: str = "a4", sets: str = "each") -> Pack:
    """The pack of one of the orders, made once."""
    made = plan(name)
    return make_pack(made, Setup(paper=find_paper(paper), title=made.order.title, tile=True), sets=sets)


@cache
def pdf(name: str, paper: str = "a4") -> bytes:
    """Its PDF, written once."""
    return write_pdf(pack(name, paper).pages)
