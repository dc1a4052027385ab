"""One kind of ring of a plan: its figures, ledger, mandrels, set-up, and each seat's share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jigs.making.pin import coil_in_front_mm
from jigs.planning.plan import RingPlan
from jigs.planning.shares import Share
from jigs.planning.tools import MandrelChoice
from jigs.reports.ledger import SHORT, ledger
from jigs.reports.metal import metal_figures
from jigs.reports.report import (
    CHANGE,
    FORMULA,
    LENGTH,
    PERCENT_CHANGE,
    RATIO_FINE,
    Cell,
    Column,
    Report,
    facts,
    group,
)
from jigs.reports.winding import winding
from jigs.reports.words import count_words, plural, stock_words, teeth_words, verdict_words, waste_words
from layouts.lengths import named, sized_short, to_cut
from layouts.showing import show_grams, show_number


def ring_plan(plan: RingPlan) -> Report:
    """All of it."""
    ring = plan.ring
    cells: dict[str, Cell] = {
        "name": plan.name,
        "wire": plan.ordered.wire.given,
        "wire_mm": ring.wire_mm,
        "metal": plan.ordered.material.name,
        "wanted_inside_mm": plan.wanted.inside_mm,
        "wanted_outside_mm": plan.wanted.outside_mm,
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
        "windings": plan.coils,
        "cut_mm": plan.cut_mm,
        "rings_per_ozt": plan.rings_per_ozt,
        "rings_per_m": plan.rings_per_m,
        "rings_per_ft": plan.rings_per_ft,
        **metal_figures(plan.metal),
    }
    sizes = f"ID {sized_short(plan.wanted.inside_mm, 3, 3)}, OD {sized_short(plan.wanted.outside_mm, 3, 3)}"
    size = f"wanted {sizes}, AR {plan.wanted.aspect_ratio:.2f}"
    return facts(
        "ring",
        cells,
        heading=f"{plan.name}: {stock_words(plan.ordered.wire, plan.ordered.material)}; {size}",
        parts=_parts(plan),
    )


def _parts(plan: RingPlan) -> tuple[Report, ...]:
    hole = ("cross-hole", *_cross_hole(plan))
    waste = waste_words(plan.winding.rejects, plan.batch.tails_mm)
    snip_mm = plan.winding.tails_mm - plan.batch.tails_mm
    snip = f", and {sized_short(snip_mm)} where each is snipped off" if snip_mm > 1e-9 else ""
    per_m, per_ft = show_number(plan.rings_per_m, 1), show_number(plan.rings_per_ft, 1)
    wire = f"a metre of wire makes {per_m}, a foot {per_ft}, all waste counted"
    table = ledger(plan.ledger)
    # inches have no room in a plan: scripts get them, people do not
    columns = tuple(replace(column, people=column.key in SHORT) for column in table.columns)
    metal = plan.ordered.material
    care = [
        (what, "", remark.words) for what, remark in (("bad cut", metal.bad_cut), ("finish", metal.polish)) if remark
    ]
    return (
        replace(table, columns=columns, heading=""),
        mandrels(plan),
        replace(_tools([*_tool_rows(plan), hole, *_weave_rows(plan), *care]), heading=""),
        *_blade_and_drill(plan),
        _weave(plan),
        group(
            "shares",
            tuple(_share(share, len(plan.shares) == 1) for share in plan.shares),
            notes=(
                f"Wire is counted with {waste}{snip}.",
                f"A troy ounce is {show_number(plan.rings_per_ozt, 1)} rings; {wire}.",
            ),
        ),
    )


def mandrels(plan: RingPlan) -> Report:
    """The mandrels to choose from, the one to use first."""
    return Report(
        key="mandrels",
        columns=(
            Column("name", "mandrel, best first"),
            Column("whose", "", scripts=False),
            Column("kind", "", people=False),
            Column("owned", "", people=False),
            Column("diameter_mm", "", LENGTH),
            Column("ring_inside_mm", "closed ID", LENGTH, unit=""),
            Column("off_mm", "off", CHANGE, unit=""),
            Column("ring_outside_mm", "OD", LENGTH, unit=""),
            Column("ring_ratio", "AR", RATIO_FINE, scripts=False),
            Column("ratio_error_percent", "AR off", PERCENT_CHANGE),
            Column("advice", "", people=False),
        ),
        rows=tuple(
            (
                choice.name,
                (choice.kind or "owned") if choice.owned else "to buy",
                choice.kind or None,
                choice.owned,
                choice.diameter_mm,
                choice.ring.inside_mm,
                choice.off_mm,
                choice.ring.outside_mm,
                choice.ring.aspect_ratio,
                choice.ratio_error_percent,
                choice.advice,
            )
            for choice in plan.mandrels
        ),
    )


def set_up(plan: RingPlan, *, cross_hole: bool) -> Report:
    """What is set up for one kind of ring, which one it is, and what there is to say of it."""
    use, *others = plan.mandrels
    whose = f"yours, {use.kind}" if use.owned else "as sold: measure it"
    rows = [("mandrel", f"{use.name}, {sized_short(use.diameter_mm, 3, 3)}", f"{whose}; AR {_off(use)} off")]
    if others:
        names = (f"{'your ' if other.owned else ''}{other.name} (AR {_off(other)})" for other in others)
        rows.append(("or", f"{len(others)} next best", ", ".join(names)))
    hole = [("cross-hole", *_cross_hole(plan))] if cross_hole else []
    return _tools([*rows, *_tool_rows(plan), *hole, *_weave_rows(plan)])


def _tools(rows: list[tuple[str, str, str]]) -> Report:
    columns = Column("what", ""), Column("which", ""), Column("remark", "", FORMULA)
    return Report(key="set_up", heading="Set up", columns=columns, rows=tuple(rows), scripts=False)


def _off(choice: MandrelChoice) -> str:
    return f"{round(choice.ratio_error_percent, 2) + 0:+.2f} %"  # + 0: or -0.001 would read -0.00


def _tool_rows(plan: RingPlan) -> Iterator[tuple[str, str, str]]:
    if plan.mandrel.advice:
        what = "" if plan.batch.cut.name == "none" else f"for the {plan.batch.cut.name}"
        yield "core", what, plan.mandrel.advice
    if plan.blade:
        kerf, teeth = sized_short(plan.blade.blade.kerf_mm, 2, 2), teeth_words(plan.blade.teeth_in_wire)
        front = sized_short(coil_in_front_mm(plan.batch.coil.inside_mm), 1)
        yield "blade", f"{plan.blade.blade.name}, kerf {kerf}", f"{teeth}; {front} of coil in front of it at most"


def _weave_rows(plan: RingPlan) -> Iterator[tuple[str, str, str]]:
    if plan.verdict:
        yield "weave", plan.verdict.weave.name, f"{verdict_words(plan.verdict)} ({plan.verdict.weave.source})"


def _cross_hole(plan: RingPlan) -> tuple[str, str]:
    drill = plan.drill
    if drill.no_hole:
        return "none", drill.no_hole
    name = named(drill.drill.name, drill.drill.diameter_mm)
    return f"drill {name}", f"{sized_short(drill.clearance_mm, 2, 2)} over the wire; {drill.advice}"


def _blade_and_drill(plan: RingPlan) -> tuple[Report, Report]:
    """For scripts: people read of both in the set-up."""
    blade, drill = plan.blade, plan.drill
    of_blade: dict[str, Cell] | None = None
    if blade:
        of_blade = {
            "name": blade.blade.name,
            "owned": blade.owned,
            "kerf_mm": blade.blade.kerf_mm,
            "teeth_in_wire": blade.teeth_in_wire,
            "keeps_the_rule": blade.keeps_the_rule,
        }
    of_drill: dict[str, Cell] = {
        "name": drill.drill.name,
        "owned": drill.owned,
        "diameter_mm": drill.drill.diameter_mm,
        "clearance_mm": drill.clearance_mm,
        "advice": drill.advice,
    }
    return facts("blade", of_blade, people=False), facts("drill", of_drill, people=False)


def _weave(plan: RingPlan) -> Report:
    """The ring against its weave, as it comes and at both ends of the spread; for people a sentence on the spread."""
    verdict = plan.verdict
    if verdict is None:
        return facts("weave", None)
    weave, large = verdict.weave, verdict.ratio_high
    cells: dict[str, Cell] = {
        "name": weave.name,
        "ratio_low": weave.low,
        "ratio_aim": weave.aim,
        "ratio_high": weave.high,
        "ratio_least": weave.least or None,
        "verdict": verdict.word,
        "near_a_limit": verdict.is_near_a_limit,
        "spread_mm": verdict.spread_mm,
        "ratio_when_small": verdict.ratio_low,
        "verdict_when_small": verdict.word_low,
        "ratio_when_large": None if large == float("inf") else large,
        "verdict_when_large": verdict.word_high,
    }
    least = f", and wires pass from {weave.least:.2f}" if weave.least else ""
    ends = f"AR {verdict.ratio_low:.2f} ({verdict.word_low}) to {large:.2f} ({verdict.word_high})"
    notes = (
        f"Aim at an AR of {weave.aim:g} for {weave.name}{least}.",
        f"With wire and inside each off by {sized_short(verdict.spread_mm)}: {ends}.",
    )
    return facts("weave", cells, notes=notes)


def _share(share: Share, is_only: bool) -> Report:
    cells: dict[str, Cell] = {
        "seats": share.seats,
        "wanted_rings": share.wanted,
        "spare_rings": share.spares,
        "made_rings": share.made,
        "wound_rings": share.wound,
        "cut_mm": share.cut_mm,
        **metal_figures(share.metal),
    }
    who = "Each seat" if is_only else f"{plural(share.seats, 'seat')}, each"
    if is_only and share.seats == 1:
        who = "Make"
    wire = f"{plural(share.coils, 'winding')}, {to_cut(share.cut_mm)} of wire"
    if not share.lots and share.made:
        what = f"{count_words(share)}, from the seat that winds for all"
    elif share.wound > share.made:
        who, what = "Seat 1", f"{share.wound} for all, {wire}; it keeps {count_words(share)}"
    else:
        what = f"{count_words(share)}, {wire}, {show_grams(share.metal.cut_g)}"
    return facts(
        "share",
        cells,
        heading=f"{who}: {what}",
        parts=(replace(winding(share.lots), heading=""),),
    )
