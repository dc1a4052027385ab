"""A plan as plain figures for scripts and spreadsheets: units in the keys, None where a figure does not apply.

`figures` is what `--json` prints, `rows` what `--csv` does. Lengths in mm, masses in g, money in the currency of
the order. Wire to the millimetre, masses to the milligram, money to the hundredth: added as decimals, every sum
agrees to the last digit.

    title, seats, currency (or null)
    rings            list: name, wire, wire_mm, metal, wanted_inside_mm, wanted_ratio, ring_inside_mm,
                     ring_outside_mm, ring_ratio, ring_mass_g, exact_mandrel_mm, cut, cut_loss_mm,
                     wanted_rings, made_rings, coils, cut_mm, rings_g, clippings_g, dust_g
      ledger         list: line, value_mm, low_mm, high_mm, rests_on (the line AR is a plain number)
      mandrels       list, the one to use first: name, kind, owned, diameter_mm, ring_inside_mm, off_mm,
                     ratio_error_percent, advice
      blade          name, owned, kerf_mm, teeth_in_wire, keeps_the_rule; or null
      drill          name, owned, diameter_mm, clearance_mm, advice
      weave          name, ratio_low, ratio_aim, ratio_high, ratio_least, verdict, near_a_limit, spread_mm,
                     ratio_when_small, verdict_when_small, ratio_when_large, verdict_when_large; or null
      shares         list: seats, and for one seat wanted_rings, spare_rings, made_rings, cut_mm, rings_g,
                     clippings_g, dust_g
        coils        list: coils, rings, turns, free_turns, length_mm, cut_mm (each coil)
    seat_groups      list: first_seat, last_seat, seats, and for one seat made_rings, coils, cut_mm, rings_g,
                     clippings_g, dust_g, fee
    wires            list: wire, wire_mm, metal, cut_mm, drawn_mm (from spools at hand), bought_mm, left_mm,
                     bought_g, drawn_g, left_g, rings_g, clippings_g, dust_g, paid, drawn_value, left_value, credit,
                     net, net_per_gram, bound_mm (no plan buys less), cutting (how good it is)
      lengths        list of what to buy: length_mm, count
      offcuts        list of what is left: length_mm, count
      patterns       list: from_mm, at_hand, times, left_mm, pieces (list: cut_mm, count)
    totals           wanted_rings, made_rings, coils, cut_mm, bought_g, drawn_g, left_g, rings_g, clippings_g, dust_g,
                     paid, drawn_value, left_value, credit, net, fees, rounding, net_per_ring, net_per_gram
    remarks, cautions    lists of text

cut_mm = wire of all coils; bought_mm + drawn_mm = cut_mm + left_mm; bought_g + drawn_g = rings_g + clippings_g +
dust_g + left_g; net = paid + drawn_value - left_value - credit; fees = net + rounding.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from jigs.planning.buying import Buying, Money
from jigs.planning.inverse import FromWire
from jigs.planning.plan import Plan, RingPlan, SeatGroup
from jigs.planning.shares import Lot, Metal, Share
from jigs.planning.tools import BladeChoice, MandrelChoice

Figures = dict[str, Any]

CSV_COLUMNS = (
    "ring",
    "wire_mm",
    "metal",
    "ring_inside_mm",
    "ring_ratio",
    "mandrel",
    "mandrel_mm",
    "seats",
    "wanted_rings",
    "made_rings",
    "coils",
    "cut_mm",
    "rings_g",
    "clippings_g",
    "dust_g",
)
"""One row for each ring and each size of share, figures for all its seats together; the last row is the sum."""


def figures(plan: Plan) -> Figures:
    """All of the plan; the keys stand at the head of this file."""
    priced = plan.has_all_prices
    return {
        "title": plan.order.title,
        "seats": plan.order.seats,
        "currency": plan.order.currency or None,
        "rings": [_ring(ring) for ring in plan.rings],
        "seat_groups": [_group(group, priced) for group in plan.groups],
        "wires": [_wire(buying) for buying in plan.buyings],
        "totals": _totals(plan),
        "remarks": list(plan.remarks),
        "cautions": list(plan.cautions),
    }


def rows(plan: Plan) -> Iterator[tuple[Any, ...]]:
    """The plan for a spreadsheet: the columns' names, the rows, the sum."""
    yield CSV_COLUMNS
    for ring in plan.rings:
        for share in ring.shares:
            yield _row(ring, share)
    metal = plan.metal
    sums = (plan.wanted_rings, plan.made_rings, plan.coils, plan.cut_mm, *_grams(metal))
    yield ("all", "", "", "", "", "", "", plan.order.seats, *sums)


def from_wire_figures(answers: tuple[FromWire, ...]) -> list[Figures]:
    """What a length of wire makes, ring by ring."""
    return [
        {
            "ring": answer.ring.name,
            "wire_length_mm": answer.wire_length_mm,
            "rings": answer.rings,
            "cut_mm": answer.cut_mm,
            "left_mm": answer.left_mm,
            "chain_mm": answer.chain_mm,
            "coils": [_lot(lot) for lot in answer.lots],
        }
        for answer in answers
    ]


def _row(ring: RingPlan, share: Share) -> tuple[Any, ...]:
    many = share.seats
    return (
        _for_a_cell(ring.name),
        ring.ring.wire_mm,
        _for_a_cell(ring.ordered.material.name),
        round(ring.ring.inside_mm, 4),
        round(ring.ring.aspect_ratio, 4),
        _for_a_cell(ring.mandrel.name),
        round(ring.mandrel.diameter_mm, 4),
        many,
        many * share.wanted,
        many * share.made,
        many * share.coils,
        many * share.cut_mm,
        *_grams(share.metal.times(many)),
    )


def _grams(metal: Metal) -> tuple[str, ...]:
    return tuple(f"{grams:.3f}" for grams in _metal(metal).values())


def _for_a_cell(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


def _ring(plan: RingPlan) -> Figures:
    ring = plan.ring
    return {
        "name": plan.name,
        "wire": plan.ordered.wire.given,
        "wire_mm": ring.wire_mm,
        "metal": plan.ordered.material.name,
        "wanted_inside_mm": plan.wanted.inside_mm,
        "wanted_ratio": plan.wanted.aspect_ratio,
        "ring_inside_mm": ring.inside_mm,
        "ring_outside_mm": ring.outside_mm,
        "ring_ratio": ring.aspect_ratio,
        "ring_mass_g": plan.batch.ring_mass_g,
        "exact_mandrel_mm": plan.exact_mandrel_mm,
        "cut": plan.batch.cut.name,
        "cut_loss_mm": plan.batch.cut.loss_mm,
        "wanted_rings": plan.wanted_rings,
        "made_rings": plan.made_rings,
        "coils": plan.coils,
        "cut_mm": plan.cut_mm,
        **_metal(plan.metal),
        "ledger": [
            {"line": x.name, "value_mm": x.value, "low_mm": x.low, "high_mm": x.high, "rests_on": x.words}
            for x in plan.ledger
        ],
        "mandrels": [_mandrel(choice) for choice in plan.mandrels],
        "blade": _blade(plan.blade),
        "drill": {
            "name": plan.drill.drill.name,
            "owned": plan.drill.owned,
            "diameter_mm": plan.drill.drill.diameter_mm,
            "clearance_mm": plan.drill.clearance_mm,
            "advice": plan.drill.advice,
        },
        "weave": _weave(plan),
        "shares": [_share(share) for share in plan.shares],
    }


def _mandrel(choice: MandrelChoice) -> Figures:
    return {
        "name": choice.name,
        "kind": choice.kind or None,
        "owned": choice.owned,
        "diameter_mm": choice.diameter_mm,
        "ring_inside_mm": choice.ring.inside_mm,
        "off_mm": choice.off_mm,
        "ratio_error_percent": 100 * choice.ratio_error,
        "advice": choice.advice,
    }


def _blade(choice: BladeChoice | None) -> Figures | None:
    if choice is None:
        return None
    return {
        "name": choice.blade.name,
        "owned": choice.owned,
        "kerf_mm": choice.blade.kerf_mm,
        "teeth_in_wire": choice.teeth_in_wire,
        "keeps_the_rule": choice.keeps_the_rule,
    }


def _weave(plan: RingPlan) -> Figures | None:
    verdict = plan.verdict
    if verdict is None:
        return None
    return {
        "name": verdict.weave.name,
        "ratio_low": verdict.weave.low,
        "ratio_aim": verdict.weave.aim,
        "ratio_high": verdict.weave.high,
        "ratio_least": verdict.weave.least or None,
        "verdict": verdict.word,
        "near_a_limit": verdict.is_near_a_limit,
        "spread_mm": verdict.spread_mm,
        "ratio_when_small": verdict.ratio_low,
        "verdict_when_small": verdict.word_low,
        "ratio_when_large": None if verdict.ratio_high == float("inf") else verdict.ratio_high,
        "verdict_when_large": verdict.word_high,
    }


def _share(share: Share) -> Figures:
    return {
        "seats": share.seats,
        "wanted_rings": share.wanted,
        "spare_rings": share.spares,
        "made_rings": share.made,
        "cut_mm": share.cut_mm,
        **_metal(share.metal),
        "coils": [_lot(lot) for lot in share.lots],
    }


def _lot(lot: Lot) -> Figures:
    return {
        "coils": lot.coils,
        "rings": lot.rings,
        "turns": lot.turns,
        "free_turns": lot.free_turns,
        "length_mm": lot.length_mm,
        "cut_mm": lot.cut_mm,
    }


def _group(group: SeatGroup, priced: bool) -> Figures:
    return {
        "first_seat": group.first,
        "last_seat": group.last,
        "seats": group.seats,
        "made_rings": group.made_rings,
        "coils": group.coils,
        "cut_mm": group.cut_mm,
        **_metal(group.metal),
        "fee": group.fee / 100 if priced else None,
    }


def _wire(buying: Buying) -> Figures:
    cutting = buying.cutting
    return {
        "wire": buying.wire.given,
        "wire_mm": buying.wire.diameter_mm,
        "metal": buying.material.name,
        "cut_mm": buying.cut_mm,
        "drawn_mm": buying.drawn_mm,
        "bought_mm": buying.bought_mm,
        "left_mm": buying.left_mm,
        "bought_g": buying.bought_mg / 1000,
        "drawn_g": buying.drawn_mg / 1000,
        "left_g": buying.left_mg / 1000,
        **_metal(buying.metal),
        **_money(buying.money, buying.has_price),
        "net_per_gram": buying.net_per_gram,
        "bound_mm": cutting.bound_mm,
        "cutting": cutting.rests_on,
        "lengths": _counted(cutting.lengths),
        "offcuts": _counted(cutting.offcuts),
        "patterns": [
            {
                "from_mm": pattern.stock_mm,
                "at_hand": pattern.owned,
                "times": pattern.times,
                "left_mm": pattern.left_mm,
                "pieces": [{"cut_mm": length, "count": count} for length, count in pattern.pieces],
            }
            for pattern in cutting.patterns
        ],
    }


def _totals(plan: Plan) -> Figures:
    priced = plan.has_all_prices
    return {
        "wanted_rings": plan.wanted_rings,
        "made_rings": plan.made_rings,
        "coils": plan.coils,
        "cut_mm": plan.cut_mm,
        "bought_g": plan.bought_mg / 1000,
        "drawn_g": sum(buying.drawn_mg for buying in plan.buyings) / 1000,
        "left_g": sum(buying.left_mg for buying in plan.buyings) / 1000,
        **_metal(plan.metal),
        **_money(plan.money, priced),
        "fees": plan.fees / 100 if priced else None,
        "rounding": plan.rounding / 100 if priced else None,
        "net_per_ring": plan.net_per_ring,
        "net_per_gram": plan.net_per_gram,
    }


def _metal(metal: Metal) -> Figures:
    return {
        "rings_g": metal.rings_mg / 1000,
        "clippings_g": metal.clippings_mg / 1000,
        "dust_g": metal.dust_mg / 1000,
    }


def _money(money: Money, known: bool) -> Figures:
    amounts = {
        "paid": money.paid,
        "drawn_value": money.drawn,
        "left_value": money.left,
        "credit": money.credit,
        "net": money.net,
    }
    return {name: cents / 100 if known else None for name, cents in amounts.items()}


def _counted(pairs: tuple[tuple[int, int], ...]) -> list[Figures]:
    return [{"length_mm": length, "count": count} for length, count in pairs]
