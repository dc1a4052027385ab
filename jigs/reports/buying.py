"""The wires of an order: what to buy, how to cut it, where it goes and what it costs."""

from __future__ import annotations

from dataclasses import replace

from jigs.cutting_stock.plan import Pattern
from jigs.orders.price import amount, show_amount, show_each
from jigs.planning.buying import Buying, Money
from jigs.planning.plan import Plan
from jigs.reports.metal import metal_figures
from jigs.reports.report import (
    BESIDE,
    BOXES,
    COUNTED,
    FORMULA,
    LENGTH_WHOLE,
    MONEY,
    Cell,
    Column,
    Counted,
    Report,
    facts,
    group,
)
from jigs.reports.words import balances, lengths_words, stock_words
from layouts.lengths import are_inches, sold_length, to_cut
from layouts.showing import show_feet

MONEY_COLUMNS = (
    Column("paid", "paid", MONEY),
    Column("drawn_value", "at hand", MONEY),
    Column("left_value", "- left", MONEY),
    Column("credit", "- scrap", MONEY),
    Column("net", "net", MONEY),
)
_PATTERNS_SHOWN = 12  # half a screen; scripts get them all


def wires(plan: Plan) -> Report:
    """Every wire of the order, one after the other."""
    parts = []
    for buying in plan.buyings:
        cutting = buying.cutting
        cells: dict[str, Cell] = {
            "wire": buying.wire.given,
            "wire_mm": buying.wire.diameter_mm,
            "metal": buying.material.name,
            "cut_mm": buying.cut_mm,
            "drawn_mm": buying.drawn_mm,
            "bought_mm": buying.bought_mm,
            "left_mm": buying.left_mm,
            "bought_g": buying.bought_g,
            "drawn_g": buying.drawn_g,
            "left_g": buying.left_g,
            **metal_figures(buying.metal),
            **money_figures(buying.money, buying.has_price),
            "net_per_gram": buying.net_per_gram,
            "bound_mm": buying.bound_mm,
            "cutting": buying.proof,
            "lengths": Counted(cutting.lengths),
            "offcuts": Counted(cutting.offcuts),
        }
        parts.append(
            facts(
                "wire",
                cells,
                heading=f"Wire: {stock_words(buying.wire, buying.material)}",
                parts=(_in_words(buying, plan.order.currency), replace(patterns(buying), heading="")),
            )
        )
    return group("wires", tuple(parts))


def money_figures(money: Money, known: bool) -> dict[str, Cell]:
    """The cells of `MONEY_COLUMNS` by their keys, in the currency; None where a price is missing."""
    cents = money.paid, money.drawn, money.left, money.credit, money.net
    keys = (column.key for column in MONEY_COLUMNS)
    return {key: amount(part) if known else None for key, part in zip(keys, cents, strict=True)}


def _in_words(buying: Buying, currency: str) -> Report:
    """What to buy, what is left, and the balances, each a line that adds up."""
    rows = [("buy", lengths_words(buying))]
    if buying.drawn_mm:
        rows.append(("draw", f"{to_cut(buying.drawn_mm)} from {', '.join(spool.name for spool in buying.spools)}"))
    by_foot = buying.supply is not None and buying.supply.is_by_the_foot
    offcuts = ((count, show_feet(mm) if by_foot else to_cut(mm)) for mm, count in buying.cutting.offcuts)
    left = ", ".join(f"{count} x {length}" for count, length in offcuts) or "nothing"
    rows.append(("left", f"{left}; {buying.proof}"))
    rows += balances(buying).items()
    if buying.has_price:
        money = buying.money
        more = f"{show_amount(money.paid)} paid + {show_amount(money.drawn)} at hand"
        less = f"{show_amount(money.left)} left - {show_amount(money.credit)} for scrap"
        gram = "" if buying.net_per_gram is None else f"; {show_each(buying.net_per_gram)} per gram in rings"
        rows.append((currency, f"{more} - {less} = {show_amount(money.net)} net{gram}"))
    return Report(key="balance", columns=(Column("what", ""), Column("words", "")), rows=tuple(rows), scripts=False)


def _of(pattern: Pattern, buying: Buying) -> str:
    """The length that a pattern is cut from: one of a spool is in no shop's feet."""
    return sold_length(pattern.stock_mm, in_feet=not pattern.owned and buying.is_in_feet(pattern.stock_mm))


def patterns(buying: Buying) -> Report:
    """How to cut one wire: a row for each way, with a box to tick for each length cut so."""
    return Report(
        key="patterns",
        heading=f"Buy and cut: {stock_words(buying.wire, buying.material)}",
        columns=(
            Column("times", "cut", BOXES),
            Column("of", "of", FORMULA, scripts=False),
            Column("pieces", f"into, {BESIDE if are_inches() else 'mm'}", COUNTED),
            Column("left_mm", "left", LENGTH_WHOLE),
            Column("from_mm", "of", LENGTH_WHOLE, people=False),
            Column("at_hand", "at hand", people=False),
        ),
        rows=tuple(
            (
                pattern.times,
                f"{pattern.times} x {_of(pattern, buying)}{' at hand' if pattern.owned else ''}",
                Counted(pattern.pieces, key="cut_mm"),
                pattern.left_mm,
                pattern.stock_mm,
                pattern.owned,
            )
            for pattern in buying.cutting.patterns
        ),
        at_most=_PATTERNS_SHOWN,
    )


def buying_notes(buying: Buying) -> tuple[str, str]:
    """What to buy and how good that is; then where the wire and its metal go."""
    spools = f" Draw from {', '.join(spool.name for spool in buying.spools)}." if buying.drawn_mm else ""
    good = buying.proof
    first = f"Buy {lengths_words(buying)}.{spools} {good[0].upper()}{good[1:]}."
    return first, " ".join(f"{unit}: {words}." for unit, words in balances(buying).items())


def costs(plan: Plan) -> Report:
    """What each wire costs, and all of them; "no price" where the order names none."""
    known = [buying.has_price for buying in plan.buyings]
    rows = [
        (
            stock_words(buying.wire, buying.material),
            *("no price" if cell is None else cell for cell in money_figures(buying.money, buying.has_price).values()),
        )
        for buying in plan.buyings
    ]
    return Report(
        key="costs",
        heading=f"Cost, {plan.order.currency}",
        columns=(Column("wire", ""), *MONEY_COLUMNS),
        rows=(*rows, ("all", *money_figures(plan.money, any(known)).values())),
        last_is_sum=True,
    )


def price_notes(plan: Plan) -> tuple[str, ...]:
    """What a ring and a gram cost, and what the seats pay over; or that the cost is not complete."""
    if plan.net_per_ring is None or plan.net_per_gram is None:
        return ("The cost is not complete: not every wire has a price.",)
    per_ring = f"A ring made costs {show_each(plan.net_per_ring)} {plan.order.currency}"
    notes = [f"{per_ring}, a gram in rings {show_each(plan.net_per_gram)}: (paid + at hand - left - scrap) / used."]
    if plan.order.seats > 1:
        over = f"{show_amount(plan.rounding)} over, as each is rounded up to the cent"
        notes.append(f"The seats pay {show_amount(plan.fees)}: {over}.")
    return tuple(notes)
