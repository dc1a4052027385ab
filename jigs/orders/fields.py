"""What an order can say, field by field, for whoever fills it in: the keys of its file, with what each holds.

The reader of orders (`reading`) decides what is right; this says what may be asked. A test holds the two together.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from jigs.making.cutting import CUTS
from jigs.stock.metal import TEMPERS
from layouts.lengths import UNITS


class Holds(Enum):
    """What a field holds, which is how its value is written in the file."""

    WORDS = "in quotes"
    COUNT = "a whole number"
    NUMBER = "a number"
    YES_OR_NO = "true or false"
    LIST = "several, in square brackets"


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderField:
    """A key of a table. title and help are for a reader; choices, where there are few; `is_usual`: most orders say it.

    of: "metal", "blade", "mandrel", "instrument", "weave", "printer", "tray" or "paper", where its choices are those of
    a table.
    """

    key: str
    title: str
    help: str = ""
    holds: Holds = Holds.WORDS
    choices: tuple[str, ...] = ()
    of: str = ""
    is_usual: bool = True


def _own(*fields: OrderField) -> Iterator[OrderField]:
    """The same where they are seldom said."""
    for field in fields:
        yield OrderField(
            key=field.key,
            title=field.title,
            help=field.help,
            holds=field.holds,
            choices=field.choices,
            of=field.of,
            is_usual=False,
        )


_COUNT, _NUMBER = Holds.COUNT, Holds.NUMBER
TOP = (
    OrderField(key="title", title="Title"),
    OrderField(key="seats", title="Seats", holds=_COUNT, help="How many make it; empty: one."),
    OrderField(key="date", title="Date", help="Printed on the sheets; nothing else prints one."),
    OrderField(key="units", title="Lengths said in", choices=UNITS, help="In inches, wire is cut to the next 1/16."),
    *_own(
        OrderField(key="saws", title="Saws", holds=_COUNT, help="Fewer than seats: then who winds while who saws."),
        OrderField(key="minutes_to_wind", title="Minutes to wind", holds=_COUNT, help="By your clock, for one seat."),
        OrderField(key="minutes_to_saw", title="Minutes to saw", holds=_COUNT, help="By your clock, for one seat."),
    ),
)
MAKING = (
    OrderField(key="cut", title="Cut with", choices=CUTS),
    OrderField(key="blade", title="Blade", of="blade", help="Empty: the coarsest with two teeth in the wire."),
    OrderField(key="spares", title="Spares", help="Rings beyond those asked for, such as 15 %."),
    *_own(
        OrderField(key="kerf", title="Kerf", help="Measured in a trial cut; better than any table."),
        OrderField(key="trim", title="Trim", help="For cutters: wire trimmed away for each ring."),
        OrderField(key="rejects", title="Rejects", holds=_COUNT, help="Rings lost at each winding."),
        OrderField(key="tails", title="Tails", help="Wire lost at each winding: what holds it at both ends."),
        OrderField(key="longest_coil", title="Longest winding", help="Empty: what a rod of 150 mm bears."),
        OrderField(key="longest_section", title="Longest section", help="Sawn in one piece."),
        OrderField(key="wound", title="Wound", choices=("each", "together"), help="Together: one seat winds for all."),
    ),
)
_METAL = (
    OrderField(key="wire", title="Wire", help="A gauge with its system, or a diameter."),
    OrderField(key="metal", title="Metal", of="metal", help="Of the table; any other with its density."),
    OrderField(key="temper", title="Temper", choices=TEMPERS, help="Empty: soft."),
)
_FIGURES = (
    OrderField(key="density", title="Density", help="Of your metal, such as 8.8 g/cm3."),
    OrderField(key="modulus", title="Modulus", help="Such as 110 GPa."),
    OrderField(key="strength", title="Strength", help="Such as 340 MPa."),
)
RING = (
    OrderField(key="name", title="Name"),
    *_METAL,
    OrderField(key="inside", title="Inside diameter", help="Of the closed ring. Or the outside, or the AR."),
    OrderField(key="outside", title="Outside diameter"),
    OrderField(key="ratio", title="AR", holds=_NUMBER, help="Inside / wire."),
    OrderField(key="count", title="How many", holds=_COUNT, help="For all seats. Or for each seat, or a length."),
    OrderField(key="each_seat", title="How many for each seat", holds=_COUNT),
    OrderField(key="weave", title="Weave", of="weave", help="Alone, without a size, its good AR is taken."),
    OrderField(key="mandrel", title="Mandrel", of="mandrel", help="Of your drawer, or a size; empty: the plan's."),
    *_own(
        OrderField(key="length", title="Length of one piece", help="A plain chain is worked out from it."),
        OrderField(key="pieces", title="Pieces", holds=_COUNT, help="Empty: one for each seat."),
        OrderField(key="sample_rings", title="Rings in a test piece", holds=_COUNT, help="For any other weave."),
        OrderField(key="sample_length", title="Length of the test piece"),
        OrderField(key="coil_inside", title="Trial coil, inside", help="Once released; in place of the springback."),
        OrderField(key="coil_outside", title="Trial coil, outside"),
        OrderField(key="coil_mandrel", title="Trial coil, wound on", of="mandrel"),
        OrderField(key="coil_with", title="Trial coil, read with", of="instrument", help="Empty: a caliper."),
        *MAKING,
        *_FIGURES,
    ),
)
SUPPLY = (
    *_METAL,
    OrderField(key="price", title="Price", help="Such as 1.90 EUR per m, or per g, kg, ozt, ft."),
    OrderField(key="lengths", title="Lengths that it is sold in", holds=Holds.LIST, help="Empty: as long as it takes."),
    *_own(
        OrderField(key="clippings", title="Paid back for clippings", help="Such as 4 EUR per kg."),
        OrderField(key="dust", title="Paid back for sawdust"),
        OrderField(key="short", title="Short measure", help="A length may be measured so much short."),
        OrderField(key="snip", title="Lost at each cut of the wire"),
        *_FIGURES,
    ),
)
PRINT = (
    OrderField(key="paper", title="Paper", of="paper"),
    OrderField(key="landscape", title="Landscape: the long side across", holds=Holds.YES_OR_NO),
    OrderField(key="printer", title="Printer", of="printer", help="One that you measured."),
    OrderField(key="tray", title="Paper in its tray", of="tray"),
)
TABLES = {"": TOP, "making": MAKING, "ring": RING, "supply": SUPPLY, "print": PRINT}
"""The tables of an order by their names, the first without one. Of "ring" and "supply" there may be several."""

SEVERAL = ("ring", "supply")
