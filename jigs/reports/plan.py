"""The plan of an order, as one report for people, scripts and spreadsheets: units in the keys, null where none applies.

For scripts, lengths are in mm, masses in g, money in the currency of the order. Wire to the millimetre, masses to
the milligram, money to the hundredth: added as decimals, every sum agrees to the last digit.
An order in inches has its wire to the sixteenth, which is four places of a millimetre; the keys stay in mm. Only the
spreadsheet has its lengths in inches, under keys that end in _in.

    title, seats, currency (or null)
    rings            list: name, wire, wire_mm, metal, wanted_inside_mm, wanted_outside_mm, wanted_ratio,
                     ring_inside_mm, ring_outside_mm, ring_ratio, ring_mass_g, exact_mandrel_mm, cut, cut_loss_mm,
                     wanted_rings, made_rings, windings, cut_mm, rings_per_ozt (by mass), rings_per_m and rings_per_ft
                     (of wire cut), rings_g, clippings_g, dust_g
      ledger         list: line, value_mm, low_mm, high_mm, basis (the line AR is a plain number)
      mandrels       list, the one to use first: name, kind, owned, diameter_mm, ring_inside_mm, off_mm,
                     ring_outside_mm, ratio_error_percent, advice
      blade          name, owned, kerf_mm, teeth_in_wire, keeps_the_rule; or null
      drill          name, owned, diameter_mm, clearance_mm, advice
      weave          name, ratio_low, ratio_aim, ratio_high, ratio_least, verdict, near_a_limit, spread_mm,
                     ratio_when_small, verdict_when_small, ratio_when_large, verdict_when_large; or null
      shares         list: seats, and for one seat wanted_rings, spare_rings, made_rings, wound_rings (for all seats
                     where one winds for all: then the others wind none), cut_mm, rings_g, clippings_g, dust_g
        windings     list: count, turns, free_turns, length_mm, sections, rings, cut_mm (of each winding)
    seat_groups      list: first_seat, last_seat, seats, and for one seat made_rings, windings, cut_mm, rings_g,
                     clippings_g, dust_g, fee
    saw_turns        list: first_seat, last_seat, wind_from_min, wind_to_min, saw_from_min, saw_to_min
    wires            list: wire, wire_mm, metal, cut_mm, drawn_mm (from spools at hand), bought_mm, left_mm,
                     bought_g, drawn_g, left_g, rings_g, clippings_g, dust_g, paid, drawn_value, left_value, credit,
                     net, net_per_gram, bound_mm (no plan buys less), cutting (how good it is)
      lengths        list of what to buy: length_mm, count
      offcuts        list of what is left: length_mm, count
      patterns       list: from_mm, at_hand, times, left_mm, pieces (list: cut_mm, count)
    totals           wanted_rings, made_rings, windings, cut_mm, bought_g, drawn_g, left_g, rings_g, clippings_g,
                     dust_g, paid, drawn_value, left_value, credit, net, fees, rounding, net_per_ring, net_per_gram
    savings          list, at most five, the most first: way, saved_mm, saved_money (null without a price)
    remarks, cautions    lists of text

cut_mm = wire of all windings; bought_mm + drawn_mm = cut_mm + left_mm; bought_g + drawn_g = rings_g + clippings_g +
dust_g + left_g; net = paid + drawn_value - left_value - credit; fees = net + rounding.
"""

from __future__ import annotations

from dataclasses import replace

from jigs.orders.price import amount, show_amount, show_each
from jigs.planning.inverse import FromWire
from jigs.planning.plan import Plan
from jigs.planning.saving import savings, share_in_rings, share_in_spares
from jigs.reports.buying import money_figures, wires
from jigs.reports.metal import METAL_COLUMNS, metal_cells, metal_figures
from jigs.reports.report import (
    BESIDE,
    COUNT,
    COUNTED,
    LENGTH_WHOLE,
    MASS,
    MONEY,
    NUMBER,
    Cell,
    Column,
    Report,
    facts,
    group,
    record,
    table_of,
)
from jigs.reports.ring_plan import ring_plan
from jigs.reports.rota import rota_report
from jigs.reports.winding import winding
from jigs.reports.words import plural, seats_words, stock_words, wires_of
from layouts.lengths import are_inches, named, sized_short, to_cut
from layouts.showing import show_grams

_GROUPS_SHOWN = 12  # half a screen; scripts get them all


def plan_report(plan: Plan) -> Report:
    """The job, each ring, the seats, the wires, the cost."""
    currency = plan.order.currency
    is_class = plan.order.seats > 1
    who = f"{plural(plan.order.seats, 'seat')}, " if is_class else ""
    wanted = f"{plural(plan.wanted_rings, 'ring')} wanted, {plan.made_rings} made with spares"
    cells: dict[str, Cell] = {
        "title": plan.order.title,
        "seats": plan.order.seats,
        "currency": currency or None,
        "remarks": plan.remarks,
        "cautions": plan.cautions,
    }
    return facts(
        "plan",
        cells,
        heading=f"{plan.order.title or 'Order'}: {who}{wanted}",
        parts=(
            group("rings", tuple(ring_plan(ring) for ring in plan.rings)),
            replace(seats(plan), people=is_class),
            rota_report(plan),
            wires(plan),
            _totals(plan),
            table_of(
                "savings",
                savings(plan),
                {
                    Column("way", ""): lambda way: way.words,
                    Column("saved_mm", "wire", LENGTH_WHOLE): lambda way: way.mm,
                    Column("saved_money", "its price", MONEY, unit=currency, people=bool(currency)): lambda way: (
                        None if way.cents is None else amount(way.cents)
                    ),
                },
                heading="What would save most",
            ),
            Report(key="notes", notes=tuple(f"Note: {remark}" for remark in plan.remarks), scripts=False),
        ),
    )


def rings(plan: Plan) -> Report:
    """A row for each kind of ring, and the sum."""
    rows: list[tuple[Cell, ...]] = [
        (
            ring.name,
            stock_words(ring.ordered.wire, ring.ordered.material),
            named(ring.mandrel.name, ring.mandrel.diameter_mm),
            ring.wanted_rings,
            ring.made_rings,
            ring.coils,
            ring.cut_mm,
            ring.metal.rings_g,
        )
        for ring in plan.rings
    ]
    total = plan.wanted_rings, plan.made_rings, plan.coils, plan.cut_mm, plan.metal.rings_g
    return Report(
        key="rings",
        heading="Rings",
        columns=(
            Column("name", ""),
            Column("wire", "wire"),
            Column("mandrel", "mandrel"),
            Column("wanted_rings", "wanted", COUNT),
            Column("made_rings", "made", COUNT),
            Column("windings", "windings", COUNT),
            Column("cut_mm", "wire", LENGTH_WHOLE),
            Column("rings_g", "rings", MASS),
        ),
        rows=(*rows, ("all", None, None, *total)),
        last_is_sum=True,
    )


def shares(plan: Plan) -> Report:
    """What each seat cuts and makes: a row for each ring and each size of share."""
    rows: list[tuple[Cell, ...]] = []
    for ring in plan.rings:
        first = 1
        for share in ring.shares:
            who = seats_words(first, first + share.seats - 1)
            rows.append((ring.name, who, share.wanted, share.spares, wires_of(share), share.cut_mm))
            first += share.seats
    is_class = plan.order.seats > 1
    return Report(
        key="shares",
        heading="To each seat" if is_class else "To wind",
        columns=(
            Column("name", "ring"),
            Column("seats", "seats" if is_class else "", people=is_class),
            Column("wanted_rings", "rings", COUNT),
            Column("spare_rings", "spare", COUNT),
            Column("wires", f"wire to cut, {BESIDE if are_inches() else 'mm'}", COUNTED),
            Column("cut_mm", "in all", LENGTH_WHOLE),
        ),
        rows=tuple(rows),
    )


def seats(plan: Plan) -> Report:
    """What one seat of each group gets and pays; the sum is of all seats."""
    rows: list[tuple[Cell, ...]] = []
    for same in plan.groups:
        numbers = same.first, same.last, same.seats, same.made_rings, same.coils, same.cut_mm
        whose, fee = seats_words(same.first, same.last), _if_priced(same.fee, plan)
        rows.append((whose, *numbers, *metal_cells(same.metal), fee))
    total = plan.made_rings, plan.coils, plan.cut_mm, *metal_cells(plan.metal)
    return Report(
        key="seat_groups",
        heading="One seat",
        columns=(
            Column("who", "seats", scripts=False),
            Column("first_seat", "first", COUNT, people=False),
            Column("last_seat", "last", COUNT, people=False),
            Column("seats", "seats", COUNT, people=False),
            Column("made_rings", "rings", COUNT),
            Column("windings", "windings", COUNT),
            Column("cut_mm", "wire", LENGTH_WHOLE),
            *METAL_COLUMNS,
            Column("fee", "pays", MONEY, unit=plan.order.currency, people=plan.has_all_prices),
        ),
        rows=(
            *rows,
            ("all seats", None, None, plan.order.seats, *total, _if_priced(plan.fees, plan)),
        ),
        last_is_sum=True,
        at_most=_GROUPS_SHOWN,
    )


def _if_priced(cents: int, plan: Plan) -> float | None:
    return amount(cents) if plan.has_all_prices else None


def _totals(plan: Plan) -> Report:
    priced = plan.has_all_prices
    cells: dict[str, Cell] = {
        "wanted_rings": plan.wanted_rings,
        "made_rings": plan.made_rings,
        "windings": plan.coils,
        "cut_mm": plan.cut_mm,
        "bought_g": plan.bought_g,
        "drawn_g": plan.drawn_g,
        "left_g": plan.left_g,
        **metal_figures(plan.metal),
        **money_figures(plan.money, priced),
        "fees": _if_priced(plan.fees, plan),
        "rounding": _if_priced(plan.rounding, plan),
        "net_per_ring": plan.net_per_ring,
        "net_per_gram": plan.net_per_gram,
    }
    spares = share_in_spares(plan)
    spare = f"; {100 * spares:.1f} % of these are spares" if spares > 0 else ""
    notes = [
        f"In all {plural(plan.coils, 'winding')}, {to_cut(plan.cut_mm)} of wire, {show_grams(plan.metal.cut_g)}",
        f"{100 * share_in_rings(plan):.1f} % of the wire cut ends in rings that pass{spare}",
    ]
    if plan.net_per_ring is not None and plan.net_per_gram is not None:
        each = f"{show_each(plan.net_per_ring)} a ring, {show_each(plan.net_per_gram)} per gram in rings"
        notes.append(f"Cost net {show_amount(plan.money.net)} {plan.order.currency}: {each}")
        if plan.order.seats > 1:
            over = f"{show_amount(plan.rounding)} over, rounded up to the cent"
            notes.append(f"The seats pay {show_amount(plan.fees)}: {over}")
    elif plan.money.paid:
        notes.append("The cost is not complete: not every wire has a price")
    return facts("totals", cells, notes=tuple(notes))


def spreadsheet(plan: Plan) -> Report:
    """One row for each ring and each size of share, figures for all its seats together; the last row is the sum."""
    columns = (
        Column("ring", "ring"),
        Column("wire_mm", "wire", NUMBER, "mm"),
        Column("metal", "metal"),
        Column("ring_inside_mm", "closed ID", NUMBER, "mm"),
        Column("ring_outside_mm", "OD", NUMBER, "mm"),
        Column("ring_ratio", "AR", NUMBER),
        Column("mandrel", "mandrel"),
        Column("mandrel_mm", "mandrel", NUMBER, "mm"),
        Column("seats", "seats", COUNT),
        Column("wanted_rings", "wanted", COUNT),
        Column("made_rings", "made", COUNT),
        Column("windings", "windings", COUNT),
        Column("cut_mm", "wire", LENGTH_WHOLE),
        *METAL_COLUMNS,
    )
    rows: list[tuple[Cell, ...]] = []
    for ring in plan.rings:
        names = ring.name, ring.ring.wire_mm, ring.ordered.material.name
        sizes = ring.ring.inside_mm, ring.ring.outside_mm, ring.ring.aspect_ratio
        closed = tuple(round(size, 4) for size in sizes)
        mandrel = ring.mandrel.name, round(ring.mandrel.diameter_mm, 4)
        for share in ring.shares:
            many = share.seats
            counts = many * share.wanted, many * share.made, many * share.coils, many * share.cut_mm
            rows.append((*names, *closed, *mandrel, many, *counts, *metal_cells(share.metal.times(many))))
    total = plan.order.seats, plan.wanted_rings, plan.made_rings, plan.coils, plan.cut_mm
    rows.append(("all", *[None] * 7, *total, *metal_cells(plan.metal)))
    return Report(key="plan", columns=columns, rows=tuple(rows), last_is_sum=True)


def from_wire_report(answers: tuple[FromWire, ...]) -> Report:
    """What a length of wire makes, ring by ring."""
    parts = []
    for answer in answers:
        ring = answer.ring
        columns = (
            Column("ring", "ring"),
            Column("wire_length_mm", "wire", NUMBER, "mm"),
            Column("rings", "good rings", COUNT),
            Column("cut_mm", "cut", LENGTH_WHOLE),
            Column("left_mm", "left", LENGTH_WHOLE),
            Column("chain_mm", "chain, end to end", LENGTH_WHOLE),
        )
        row = ring.name, answer.wire_length_mm, answer.rings, answer.cut_mm, answer.left_mm, answer.chain_mm
        of = f"{sized_short(answer.wire_length_mm)} of {stock_words(ring.ordered.wire, ring.ordered.material)}"
        heading = f"{of} makes {plural(answer.rings, 'good ring')}: {ring.name}, on {ring.mandrel.name}"
        if not answer.rings:
            heading = f"{of} is too short for one good {ring.name}"
        seen = ("left_mm", "chain_mm") if answer.rings else ()  # the heading says the rest
        parts.append(
            record(
                "from_wire",
                tuple(replace(column, people=column.key in seen) for column in columns),
                row,
                heading=heading,
                parts=(replace(winding(answer.lots), heading=""),),
            )
        )
    return group("from_wire", tuple(parts))
