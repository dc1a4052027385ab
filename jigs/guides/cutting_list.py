"""The cutting list: what to buy, how to cut it, what each seat gets and pays; for a class, the teacher's sheet."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.planning.buying import Buying
from jigs.planning.plan import Plan
from jigs.reports.as_table import as_table, in_print
from jigs.reports.buying import buying_notes, costs, patterns, price_notes
from jigs.reports.plan import rings, seats, shares
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Table
from layouts.pages.page import Content, Field
from layouts.pages.stack import Stack
from layouts.showing import show_grams, show_metres


def cutting_list(plan: Plan) -> Content:
    """The totals of an order, the wire to buy and to cut, seats and cost: tables to tick, on several pages."""
    a_class = plan.order.seats > 1
    return Content(
        title="Teacher's sheet" if a_class else "Wire and cost",
        facts=(
            *((("seats", str(plan.order.seats)),) if a_class else ()),
            ("rings wanted", str(plan.wanted_rings)),
            ("made", str(plan.made_rings)),
            ("coils", str(plan.coils)),
            ("wire", show_metres(plan.cut_mm)),
            ("metal", show_grams(plan.metal.cut_g, 1)),
        ),
        draw=lambda field: _drawings(plan, field),
        notes=("Wire is snipped to whole millimetres, rounded up for each coil; a snip takes nothing.",),
        cautions=("wire ends cut fingers and fly when snipped: hold both, protect your eyes (EN 166, ANSI Z87.1).",),
    )


def _drawings(plan: Plan, field: Field) -> list[Drawing]:
    stack, width = Stack(space=field), field.width_mm
    stack.put_table(_rings(plan, width))
    for buying in plan.buyings:
        stack.put_table(_patterns(buying, width))
        stack.put_paragraph(list(_sums(buying)))
    stack.put_table(_shares(plan, width))
    if plan.order.seats > 1:
        stack.put_table(_seats(plan, width))
    if plan.order.currency:
        stack.put_table(_costs(plan, width))
        stack.put_paragraph(list(_prices(plan)))
    remarks = (f"{remark[0].upper()}{remark[1:]}." for remark in plan.remarks)
    stack.put_paragraph([*(f"{caution}." for caution in plan.cautions), *remarks], "Please note")
    return stack.drawings


def _rings(plan: Plan, width: float) -> Table:
    return as_table(rings(plan), width, (0.17, 0.26, 0.15, 0.08, 0.08, 0.07, 0.1, 0.09), bold=("name",))


def _patterns(buying: Buying, width: float) -> Table:
    return as_table(patterns(buying), width, (0.26, 0.16, 0.46, 0.12), bold=("of",))


def _sums(buying: Buying) -> Iterator[str]:
    return map(in_print, buying_notes(buying))


def _shares(plan: Plan, width: float) -> Table:
    table = shares(plan)
    seats_share = (0.14,) if plan.order.seats > 1 else ()
    return as_table(table, width, (0.2, *seats_share, 0.08, 0.08, 0.36, 0.14), bold=("name",))


def _seats(plan: Plan, width: float) -> Table:
    """What one seat of each group gets and pays; the sum is of all seats."""
    fee = ("fee",) if plan.has_all_prices else ()
    table = seats(plan).pick("who", "made_rings", "coils", "cut_mm", "rings_g", *fee)
    return as_table(table, width, (0.25, *[0.15] * (4 + len(fee))), bold=("who",))


def _costs(plan: Plan, width: float) -> Table:
    return as_table(costs(plan), width, (0.35, *[0.13] * 5), bold=("wire",))


def _prices(plan: Plan) -> Iterator[str]:
    return map(in_print, price_notes(plan))
