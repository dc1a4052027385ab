"""What is said in words by more than one report, sheet or label, each thing in one way."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from jigs.making.material import Material
from jigs.reports.cells import show_counted
from jigs.reports.report import Counted
from jigs.stock.wire import Wire
from layouts.lengths import are_inches, sized_short, sold_length, to_cut
from layouts.showing import inches_of, show_number

if TYPE_CHECKING:
    from jigs.orders.weave import Verdict
    from jigs.planning.buying import Buying
    from jigs.planning.shares import Share


def stock_words(wire: Wire, material: Material) -> str:
    """'16 AWG copper, soft'."""
    return f"{wire.in_words if are_inches() else wire.given} {material.name}".rstrip()


def seats_words(first: int, last: int) -> str:
    """'3' or '3 to 8'."""
    return str(first) if first == last else f"{first} to {last}"


def plural(count: int, one: str) -> str:
    """'1 winding', '4 windings'."""
    return f"1 {one}" if count == 1 else f"{count} {one}s"


def count_words(share: Share) -> str:
    """'50 and 8 spare'."""
    return f"{share.wanted} and {share.spares} spare" if share.spares else str(share.wanted)


def share_words(share: Share) -> str:
    """What one seat makes: '50 and 8 spare', '16 for all' where it winds for all."""
    return f"{share.wound} for all" if share.wound > share.made else count_words(share)


def wires_words(share: Share) -> str:
    """The wire to cut for one share: '4 x 373, 1 x 238 mm'."""
    if are_inches():
        return ", ".join(f"{lot.coils} x {to_cut(lot.cut_mm)}" for lot in share.lots)
    return f"{show_counted(wires_of(share), ', ')} mm"


def wires_of(share: Share) -> Counted:
    """The wire to cut for one share, a length and how many for each lot."""
    return Counted(tuple((lot.cut_mm, lot.coils) for lot in share.lots), key="cut_mm")


def verdict_words(verdict: Verdict) -> str:
    """'good, near a limit: AR 4.17, range 2.5 to 8'."""
    near = ", near a limit" if verdict.is_near_a_limit else ""
    weave = verdict.weave
    return f"{verdict.word}{near}: AR {verdict.ratio:.2f}, range {weave.low:g} to {weave.high:g}"


def lengths_words(buying: Buying) -> str:
    """What to buy: '2 x 5 m, 4 x 1 m', or 'nothing'."""
    sold = ((count, sold_length(length, in_feet=buying.is_in_feet(length))) for length, count in buying.cutting.lengths)
    return ", ".join(f"{count} x {length}" for count, length in sold) or "nothing"


def balance_mm(buying: Buying) -> str:
    """'14000 bought + 0 at hand = 13840 cut + 160 left'."""
    lengths = buying.bought_mm, buying.drawn_mm, buying.cut_mm, buying.left_mm
    return "{} bought + {} at hand = {} cut + {} left".format(*(show_number(mm, 4) for mm in lengths))


def balance_in(buying: Buying) -> str:
    """The same in inches, to the ten-thousandth: a sixteenth has four places, so both sides have the same sum."""
    bought, drawn, cut = (inches_of(mm, 4) for mm in (buying.bought_mm, buying.drawn_mm, buying.cut_mm))
    lengths = bought, drawn, cut, bought + drawn - cut
    return "{} bought + {} at hand = {} cut + {} left".format(*(show_number(inches, 4) for inches in lengths))


def balances(buying: Buying) -> dict[str, str]:
    """Where the wire comes from and where it goes, by its unit."""
    lengths = {"in": balance_in(buying)} if are_inches() else {}
    return {**lengths, "mm": balance_mm(buying), "g": balance_g(buying)}


def balance_g(buying: Buying) -> str:
    """Where the grams come from and where they go; both sides have the same sum."""
    metal = buying.metal
    gone = (
        (metal.rings_g, "rings"),
        (metal.clippings_g, "clippings"),
        (metal.dust_g, "dust"),
        (buying.left_g, "left"),
    )
    come = ((buying.bought_g, "bought"), (buying.drawn_g, "at hand"))
    return f"{_sum(come)} = {_sum(gone)}"


def _sum(parts: Iterable[tuple[float, str]]) -> str:
    """Masses in grams, each with where it goes: '90.552 rings + 46.712 clippings'."""
    return " + ".join(f"{grams:.3f} {where}" for grams, where in parts)


def waste_words(rejects: int, tails_mm: float) -> str:
    """'2 rejects and 65 mm of tails per winding'."""
    return f"{plural(rejects, 'reject')} and {sized_short(tails_mm)} of tails per winding"


def teeth_words(teeth: float) -> str:
    """'2.9 teeth in the wire'."""
    return f"{show_number(teeth, 1, 1)} teeth in the wire"
