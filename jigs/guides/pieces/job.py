"""One seat's work on one kind of ring: what the job card and the leaf of a seat both say of it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from jigs.bench.record import FIELDS
from jigs.guides.pieces.blanks import Blank
from jigs.guides.pieces.gauge import SMALLEST_MM, Group, Style, groups
from jigs.making.pin import SAW_DEG, coil_in_front_mm
from jigs.making.ring import Ring
from jigs.planning.plan import RingPlan
from jigs.planning.shares import Share
from jigs.reports.as_table import as_table
from jigs.reports.cells import in_print
from jigs.reports.ledger import ledger
from jigs.reports.winding import winding
from jigs.reports.words import count_words, plural, seats_words, share_words, wires_words
from layouts.drawing.table import Table
from layouts.lengths import are_inches, bare, sized, sized_each, sized_short

LEAST_WITH_PAIR_MM = 1.0  # a ring that gets a small and a large disc (common practice, no source)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One seat's part of a ring's plan; `drilled` when its mandrel has a sheet with the wire's cross-hole.

    handed says which rings the seat gets from the one that winds them for all.
    """

    plan: RingPlan
    share: Share
    drilled: bool = False
    handed: tuple[str, ...] = ()

    @property
    def lengths(self) -> str:
        """The wire to cut: '4 × 373, 1 × 238 mm'."""
        return in_print(wires_words(self.share))

    @property
    def count(self) -> str:
        """'50 and 8 spare'; '16 for all' where one seat winds for all."""
        return share_words(self.share)

    @property
    def handing_out(self) -> str:
        """Who gets what, where one seat winds for all; else empty."""
        if self.share.wound <= self.share.made:
            return ""
        if len({(share.wanted, share.spares) for share in self.plan.shares}) == 1:
            return f"Hand out {count_words(self.share)} each."
        first, parts = 1, []
        for share in self.plan.shares:
            last = first + share.seats - 1
            if share.made:
                each = " each" if share.seats > 1 else ""
                whose = f"seat{'s' if share.seats > 1 else ''} {seats_words(first, last)}"
                parts.append(f"{whose}: {count_words(share)}{each}")
            first = last + 1
        return f"Hand out to {'; to '.join(parts)}."

    @property
    def is_sawn(self) -> bool:
        """Whether its coils are sawn."""
        return self.plan.batch.cut.is_sawn


# --- a good ring: what is wanted, what passes, what the mandrel gives --------------------------------------------


def accepted(plan: RingPlan) -> str:
    """The insides of a good ring: the small and the large disc of the ring card."""
    low, high = plan.accepted_mm
    return sized_each("{} to {}", (low, high), 2, fine=True)


def window(plan: RingPlan) -> str:
    """The same without a unit, where the wanted size stands before it."""
    low, high = (bare(mm, 3 if are_inches() else 2) for mm in plan.accepted_mm)
    return f"{low} to {high}"


def ring_in_words(ring: Ring) -> str:
    """'ID 5.00, OD 7.40 mm, AR 4.17'."""
    return f"{ring_sizes(ring)}, AR {ring.aspect_ratio:.2f}"


def ring_sizes(ring: Ring) -> str:
    """'ID 5.00, OD 7.40 mm'."""
    return sized_each("ID {}, OD {}", (ring.inside_mm, ring.outside_mm), 2)


def is_off(plan: RingPlan) -> bool:
    """Whether the planned ring shows another inside than the wanted one, to the hundredth."""
    return f"{plan.ring.inside_mm:.2f}" != f"{plan.wanted.inside_mm:.2f}"


def gives_words(plan: RingPlan) -> str:
    """'; this mandrel gives 5.02', where that is another inside than the wanted one."""
    return f"; this mandrel gives {bare(plan.ring.inside_mm, 2)}" if is_off(plan) else ""


def gauge_of(plan: RingPlan, style: Style) -> tuple[Group, ...]:
    """The wanted ring and its disc, with the small and the large disc of its window; none where paper fails."""
    wanted = plan.wanted
    if wanted.inside_mm < SMALLEST_MM:
        return ()
    return groups(wanted, plan.tolerance_mm if wanted.inside_mm >= LEAST_WITH_PAIR_MM else None, style)


def coil_window(plan: RingPlan) -> str:
    """The insides of a coil that closes to a good ring; rounded outwards, so as not to stop a coil that would do."""
    low, high = plan.accepted_coil_mm
    outwards = math.floor(100 * low + 1e-6) / 100, math.ceil(100 * high - 1e-6) / 100
    return sized_each("{} to {}", outwards, 2, fine=True)


# --- the ledger --------------------------------------------------------------------------------------------------


def ledger_in_brief(plan: RingPlan, width_mm: float) -> Table:
    """From the mandrel to the closed ring in figures alone."""
    brief = replace(ledger(plan.ledger).pick("line", "value_mm", "band"), heading="")
    return as_table(
        brief, width_mm, (0.23, 0.37, 0.4) if are_inches() else (0.36, 0.22, 0.42), bold=("line",), pad_mm=0.4
    )


def winding_table(job: Job, width_mm: float, heading: str = "", pad_mm: float = 0.75) -> Table:
    """A row for each lot of windings, a box to tick for each."""
    table = replace(winding(job.share.lots), heading=heading)
    usual = 0.2, 0.15, 0.12, 0.14, 0.17, 0.1, 0.12
    shares = (0.13, 0.19, 0.12, 0.14, 0.2, 0.1, 0.12) if are_inches() else usual
    return as_table(table, width_mm, shares, bold=("turns",), pad_mm=pad_mm)


# --- words -------------------------------------------------------------------------------------------------------


def tail_bent() -> str:
    """How much of the tail is bent to hold it (common practice, no source)."""
    return sized_each("{}–{}", (10, 13))


def in_front(plan: RingPlan) -> str:
    """How much coil may stand in front of the blade."""
    return sized_short(coil_in_front_mm(plan.batch.coil.inside_mm), 1)


def turns_back(jobs: Sequence[Job]) -> str:
    """What a long coil of springy wire does when it is released; empty where it turns back by less than one turn."""
    turns = max((lot.turns - lot.free_turns for job in jobs for lot in job.share.lots), default=0.0)
    back = plural(round(turns), "whole turn")
    return f" It turns back by about {back}: keep your other hand clear." if turns >= 1 else ""


def sectioning(jobs: Sequence[Job]) -> Iterator[str]:
    """What is snipped before the saw: the tails, then a coil longer than the groove into its sections."""
    sawn = [job for job in jobs if job.is_sawn]
    if any(lot.sections > 1 for job in sawn for lot in job.share.lots):
        yield "Snip off the tails; snip a long coil into even sections, as many as said: a ring is lost at each snip."
    elif sawn:
        yield "Snip off the tails, flush with the coil."


def cutting_steps(plan: RingPlan) -> Iterator[str]:
    """How the rings come off the coil."""
    if plan.winding.rejects:
        lost = "its first ring" if plan.winding.rejects == 1 else f"{plan.winding.rejects} rings at its ends"
        yield f"Each winding loses {lost}."
    if plan.batch.cut.is_sawn:
        wood = "Slide the coil onto its wooden core. " if plan.mandrel.core else ""
        yield (
            f"{wood}Saw through one wall only, the blade at about {SAW_DEG:g}° to the axis and never across it. Core"
            " and coil lie still, held down, the open end at the front edge; slide the coil forward as rings fall."
        )
    elif plan.batch.cut.is_snipped:
        yield "Snip a ring; turn the cutters over and trim the point before the next."


def general_checks() -> Iterator[str]:
    """What any good ring is. Bench practice, no source."""
    yield "No light through the joint."
    yield "Ends meet square, seen from above and from the side."
    yield "No burr: draw it over a cloth. No tool marks. Round."


WIND_OTHERS = "Wind the others; count the turns with the winding strip."


def paper_reads() -> str:
    """How far the shapes on a card are to be trusted."""
    return (
        f"Paper reads to ±{sized(0.1)} at best (common practice, no source): the black ring sorts, a caliper measures."
    )


LAID_ON = (
    "Laid on the black ring: no black outside, none inside. Seen through the ring, the small disc shows white all"
    " round, the large one none."
)


def bad_cut(plan: RingPlan) -> Iterator[str]:
    """What to do with a ring that was cut badly, where the metal's row says it."""
    if bad := plan.ordered.material.bad_cut:
        yield f"A bad cut: {bad.words}."


def polish(plan: RingPlan) -> Iterator[str]:
    """What hardens and polishes the rings, where the metal's row says it."""
    if words := plan.ordered.material.polish:
        yield f"Harden and polish: {words.words}."


def blanks(plan: RingPlan, *, brief: bool = False) -> Iterator[Blank]:
    """What to write down of a batch, with what was planned: the fields of a record in their order; brief: the most."""
    cut = plan.batch.cut
    planned = {
        "wire": bare(plan.ring.wire_mm, 3),
        "mandrel": bare(plan.mandrel.diameter_mm, 3),
        "coil_inside": bare(plan.batch.coil.inside_mm, 3),
        "blade": plan.blade.blade.name if plan.blade else "",
        "kerf": bare(cut.loss_mm, 2),
        "trim": bare(cut.loss_mm, 2),
        "ring_inside": bare(plan.ring.inside_mm, 3),
        "ring_outside": bare(plan.ring.outside_mm, 3),
    }
    taken = {"blade": cut.is_sawn, "kerf": cut.is_sawn, "trim": cut.is_snipped}
    if brief:
        taken |= dict.fromkeys(("spool", "blade", "chain", "chain_rings", "with"), False) | {"remarks": not cut.loss_mm}
    for field in FIELDS:
        if field.box and taken.get(field.key, True):
            yield Blank(field.box, planned.get(field.key, ""))


def cautions(jobs: tuple[Job, ...]) -> Iterator[str]:
    """The usual cautions (EN 166, ANSI Z87.1, EN 510), as far as they apply; then what the plans say loudly."""
    mask = " Wear a dust mask at the saw." if any(job.is_sawn for job in jobs) else ""
    drill = ""
    if any(job.drilled for job in jobs):
        drill = " No gloves, loose sleeves or hair near a drill (EN 510); clamp the dowel."
    yield (
        "protect your eyes (EN 166, ANSI Z87.1): wire ends and blades fly, and ends cut fingers. "
        f"A wound coil is a spring.{drill}{mask} Follow your workshop's rules and local codes."
    )
    yield from (f"{caution}." for job in jobs for caution in job.plan.cautions)
