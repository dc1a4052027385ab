"""The cutting list: what to buy, how to cut it, what each seat gets and pays; for a class, the teacher's sheet."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.planning.buying import Buying
from jigs.planning.plan import Plan, RingPlan
from layouts.drawing.marks import Drawing
from layouts.drawing.table import Boxes, Cell, Column, Table
from layouts.pages.page import Content, Field
from layouts.pages.stack import Stack


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
            ("wire", f"{plan.cut_mm / 1000:.2f} m"),
            ("metal", f"{plan.metal.cut_mg / 1000:.1f} g"),
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
    rows = [
        (
            ring.name,
            f"{ring.ordered.wire.given} {ring.ordered.material.name}",
            ring.mandrel.name,
            *(str(count) for count in (ring.wanted_rings, ring.made_rings, ring.coils, ring.cut_mm)),
            f"{ring.metal.rings_mg / 1000:.3f}",
        )
        for ring in plan.rings
    ]
    sums = [str(count) for count in (plan.wanted_rings, plan.made_rings, plan.coils, plan.cut_mm)]
    rows.append(("all", "", "", *sums, f"{plan.metal.rings_mg / 1000:.3f}"))
    return Table(
        heading="Rings",
        columns=(
            Column("", 0.17, bold=True),
            Column("wire", 0.26),
            Column("mandrel", 0.15),
            Column("wanted", 0.08, right=True),
            Column("made", 0.08, right=True),
            Column("coils", 0.07, right=True),
            Column("wire, mm", 0.1, right=True),
            Column("rings, g", 0.09, right=True),
        ),
        rows=tuple(rows),
        width_mm=width,
        last_is_sum=True,
    )


def _patterns(buying: Buying, width: float) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (
            Boxes(pattern.times),
            f"{pattern.times} × {_metres(pattern.stock_mm)}{' at hand' if pattern.owned else ''}",
            " + ".join(f"{count} × {length}" for length, count in pattern.pieces),
            str(pattern.left_mm),
        )
        for pattern in buying.cutting.patterns
    ]
    return Table(
        heading=f"Buy and cut: {buying.wire.given} {buying.material.name}",
        columns=(
            Column("cut", 0.26),
            Column("of", 0.16, bold=True),
            Column("into, mm", 0.46),
            Column("left, mm", 0.12, right=True),
        ),
        rows=tuple(rows),
        width_mm=width,
    )


def _metres(length_mm: int) -> str:
    return f"{length_mm / 1000:g} m" if length_mm % 10 == 0 else f"{length_mm} mm"


def _sums(buying: Buying) -> Iterator[str]:
    cutting = buying.cutting
    buy = ", ".join(f"{count} × {_metres(length)}" for length, count in cutting.lengths) or "nothing"
    spools = f" Draw from {', '.join(spool.name for spool in buying.spools)}." if buying.drawn_mm else ""
    yield f"Buy {buy}.{spools} {cutting.rests_on[0].upper()}{cutting.rests_on[1:]}."
    millimetres = f"{buying.bought_mm} bought + {buying.drawn_mm} at hand = {buying.cut_mm} cut + {buying.left_mm} left"
    grams = [buying.bought_mg, buying.drawn_mg, buying.metal.rings_mg, buying.metal.clippings_mg]
    bought, drawn, rings, clippings = (f"{mg / 1000:.3f}" for mg in grams)
    lost = f"{clippings} clippings + {buying.metal.dust_mg / 1000:.3f} dust + {buying.left_mg / 1000:.3f} left"
    yield f"mm: {millimetres}. g: {bought} bought + {drawn} at hand = {rings} rings + {lost}."


def _shares(plan: Plan, width: float) -> Table:
    seated = plan.order.seats > 1
    return Table(
        heading="To each seat" if seated else "To wind",
        columns=(
            Column("ring", 0.2, bold=True),
            Column("seats" if seated else "", 0.14),
            Column("rings", 0.18),
            Column("wire to cut, mm", 0.34),
            Column("in all, mm", 0.14, right=True),
        ),
        rows=tuple(row for ring in plan.rings for row in _share_rows(ring, seated)),
        width_mm=width,
    )


def _share_rows(ring: RingPlan, seated: bool) -> Iterator[tuple[str, ...]]:
    first = 1
    for share in ring.shares:
        last = first + share.seats - 1
        seats = "" if not seated else f"{first}" if first == last else f"{first} to {last}"
        spares = f" and {share.spares} spare" if share.spares else ""
        lengths = ", ".join(f"{lot.coils} × {lot.cut_mm}" for lot in share.lots) or "none"
        yield ring.name, seats, f"{share.wanted}{spares}", lengths, str(share.cut_mm)
        first = last + 1


def _seats(plan: Plan, width: float) -> Table:
    """What one seat of each group gets and pays; the sum is of all seats."""
    paid = plan.has_all_prices
    rows = [
        (
            f"{group.first}" if group.seats == 1 else f"{group.first} to {group.last}",
            *(str(count) for count in (group.made_rings, group.coils, group.cut_mm)),
            f"{group.metal.rings_mg / 1000:.3f}",
            *((f"{group.fee / 100:.2f}",) if paid else ()),
        )
        for group in plan.groups
    ]
    sums = (*(str(count) for count in (plan.made_rings, plan.coils, plan.cut_mm)), f"{plan.metal.rings_mg / 1000:.3f}")
    rows.append(("all seats", *sums, *((f"{plan.fees / 100:.2f}",) if paid else ())))
    titles = ["rings", "coils", "wire, mm", "rings, g", *([f"pays, {plan.order.currency}"] if paid else [])]
    return Table(
        heading="One seat",
        columns=(Column("seats", 0.25, bold=True), *(Column(title, 0.15, right=True) for title in titles)),
        rows=tuple(rows),
        width_mm=width,
        last_is_sum=True,
    )


def _costs(plan: Plan, width: float) -> Table:
    rows = [
        (f"{b.wire.given} {b.material.name}", *(_cents(b.has_price, cents) for cents in _money(b)))
        for b in plan.buyings
    ]
    sums = tuple(sum(column) for column in zip(*(_money(b) for b in plan.buyings), strict=True))
    rows.append(("all", *(_cents(True, cents) for cents in sums)))
    titles = "paid", "from stock", "− left", "− scrap", "net"
    return Table(
        heading=f"Cost, {plan.order.currency}",
        columns=(Column("", 0.35, bold=True), *(Column(title, 0.13, right=True) for title in titles)),
        rows=tuple(rows),
        width_mm=width,
        last_is_sum=True,
    )


def _money(buying: Buying) -> tuple[int, ...]:
    money = buying.money
    return money.paid, money.drawn, money.left, money.credit, money.net


def _cents(known: bool, cents: int) -> str:
    return f"{cents / 100:.2f}" if known else "no price"


def _prices(plan: Plan) -> Iterator[str]:
    if plan.net_per_ring is None or plan.net_per_gram is None:
        yield "The cost is not whole: not every wire has a price."
        return
    net = f"A ring made costs {plan.net_per_ring:.4f}, a gram in rings {plan.net_per_gram:.4f}"
    yield f"{net}: (paid + from stock − left − scrap) / used."
    if plan.order.seats > 1:
        yield f"The seats pay {plan.fees / 100:.2f}, {plan.rounding / 100:.2f} over: each is rounded up to the cent."
