"""The cutting list: what to buy, how to cut it, what each seat gets and pays; for a class, the teacher's sheet."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.planning.plan import Plan
from jigs.reports.as_table import as_table
from jigs.reports.buying import buying_notes, costs, patterns, price_notes
from jigs.reports.cells import in_print
from jigs.reports.plan import rings, seats, shares
from jigs.reports.rota import rota_report
from layouts.drawing.marks import Drawing
from layouts.lengths import are_inches, wire_said
from layouts.pages.page import Content, Field
from layouts.pages.stack import Stack
from layouts.showing import show_grams


def cutting_list(plan: Plan) -> Content:
    """The totals of an order, the wire to buy and to cut, seats and cost: tables to tick, on several pages."""
    a_class = plan.order.seats > 1

    def draw(field: Field) -> list[Drawing]:
        stack = Stack(space=field)
        put_totals(plan, stack)
        return stack.drawings

    return Content(
        title="Teacher's sheet" if a_class else "Wire and cost",
        facts=(
            *((("seats", str(plan.order.seats)),) if a_class else ()),
            ("rings wanted", str(plan.wanted_rings)),
            ("made", str(plan.made_rings)),
            ("windings", str(plan.coils)),
            ("wire", wire_said(plan.cut_mm)),
            ("metal", show_grams(plan.metal.cut_g, 1)),
        ),
        draw=draw,
        notes=(snipped(),),
        cautions=(WIRE_ENDS,),
    )


def snipped() -> str:
    """To what the wire for each winding is cut."""
    step = "sixteenths of an inch" if are_inches() else "millimetres"
    return f"Wire is snipped to whole {step}, rounded up for each winding; a snip takes no wire."


WIRE_ENDS = "wire ends cut fingers and fly when snipped: hold both, protect your eyes (EN 166, ANSI Z87.1)."


def put_totals(plan: Plan, stack: Stack, also: Sequence[str] = (), *, brief: bool = False) -> None:
    """The tables of a plan's rings, wire, seats and cost; then what to note, `also` first.

    `brief` leaves out what a single maker has on the job card: rings, lengths to wind, where the metal goes.
    """
    width, a_class = stack.space.width_mm, plan.order.seats > 1
    if not brief:
        widths = 0.17, 0.26, 0.15, 0.08, 0.08, 0.07, 0.1, 0.09
        stack.put_table(as_table(rings(plan), width, widths, bold=("name",)))
    for buying in plan.buyings:
        stack.put_table(as_table(patterns(buying), width, (0.26, 0.16, 0.46, 0.12), bold=("of",)))
        stack.put_paragraph([in_print(note) for note in buying_notes(buying)][: 1 if brief else 2])
    if not brief:
        seat_column = (0.14,) if a_class else ()
        stack.put_table(as_table(shares(plan), width, (0.2, *seat_column, 0.08, 0.08, 0.36, 0.14), bold=("name",)))
    if a_class:
        # What one seat of each group gets and pays; the sum is of all seats.
        fee = ("fee",) if plan.has_all_prices else ()
        table = seats(plan).pick("who", "made_rings", "windings", "cut_mm", "rings_g", *fee)
        stack.put_table(as_table(table, width, (0.25, *[0.15] * (4 + len(fee))), bold=("who",)))
    turns = rota_report(plan)
    if turns.rows:
        stack.put_table(as_table(turns, width, (0.18, 0.22, 0.38, 0.22), bold=("who",)))
        stack.put_paragraph(list(turns.notes))
    if plan.order.currency:
        stack.put_table(as_table(costs(plan), width, (0.35, *[0.13] * 5), bold=("wire",)))
        stack.put_paragraph([in_print(note) for note in price_notes(plan)])
    remarks = [f"{remark[0].upper()}{remark[1:]}." for remark in plan.remarks]
    if brief and remarks:
        remarks = [" ".join(remarks)]
    stack.put_paragraph([*also, *(f"{caution}." for caution in plan.cautions), *remarks], "Please note")
