"""The job card: one kind of ring from mandrel to bag on one page, to work down and to write on."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.guides.pieces.blanks import boxes
from jigs.guides.pieces.gauge import COMPACT, draw_gauge, width_mm
from jigs.guides.pieces.job import (
    LAID_ON,
    WIND_OTHERS,
    Job,
    accepted,
    bad_cut,
    blanks,
    cautions,
    coil_window,
    cutting_steps,
    gauge_of,
    general_checks,
    is_off,
    paper_reads,
    polish,
    sectioning,
    tail_bent,
    turns_back,
    winding_table,
)
from jigs.guides.pieces.saw_run import saw_picture
from jigs.reports.as_table import as_table
from jigs.reports.ledger import SHORT, ledger
from jigs.reports.ring_plan import set_up
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.words import HAIR_MM, HEADING_MM, WORDS, listing, side_by_side
from layouts.lengths import are_inches, bare, sized
from layouts.pages.page import Content, Field, Sized
from layouts.pages.stack import Stack

_TWO_COLUMNS_MM = 150.0  # a narrower field has one
_BETWEEN_MM = 5.0
_CHECKS_MM = 54.0  # the column of checks, and of the gauge under them
_LOW_MM, _HIGH_MM = 9.4, 13.0  # height of a box to write in: the least, and the most where there is room


def job_card(job: Job) -> Content:
    """A page for one seat and one kind of ring: ledger, set-up, winding, steps, checks, and what came out."""
    plan = job.plan
    wanted = plan.wanted
    return Content(
        title="Job card",
        facts=(
            ("ring", plan.name),
            ("make", job.count),
            ("wire", plan.ordered.wire.in_words),
            ("metal", plan.ordered.material.name),
            ("wanted ID", sized(wanted.inside_mm, 2)),
            ("OD", sized(wanted.outside_mm, 2)),
            ("AR", f"{wanted.aspect_ratio:.2f}"),
            *((("the mandrel gives ID", sized(plan.ring.inside_mm, 2)),) if is_off(plan) else ()),
        ),
        draw=lambda field: _drawings(job, field),
        notes=(paper_reads(),),
        cautions=tuple(cautions((job,))),
        gauges=(Sized("ring", wanted.outside_mm),) if _fits(job) else (),
    )


def _drawings(job: Job, field: Field) -> list[Drawing]:
    stack = Stack(space=field)
    width, is_wide = field.width_mm, field.width_mm >= _TWO_COLUMNS_MM
    shares = (0.12, 0.09, 0.15 if is_wide else 0.22, 0.64)
    if are_inches() and is_wide:
        shares = (0.1, 0.13, 0.13, 0.64)
    stack.put_table(as_table(ledger(job.plan.ledger).pick(*SHORT), width, shares, bold=("line",), pad_mm=0.55))
    tools = set_up(job.plan, cross_hole=job.drilled)
    stack.put_table(
        as_table(tools, width, (0.1, 0.28, 0.62) if are_inches() else (0.12, 0.24, 0.64), bold=("what",), pad_mm=0.55)
    )
    stack.put_table(winding_table(job, width, "Wind"))
    # Steps, checks and how the saw runs: side by side, or one under the other.
    pictures = [saw_picture(job.plan.batch.coil.inside_mm)] if job.is_sawn else []
    free = width - sum(picture.width_mm + _BETWEEN_MM for picture in pictures) - _BETWEEN_MM - _CHECKS_MM
    steps = listing(_steps(job), free if is_wide else width, "Steps", sign="box", ruled=True).drawing()
    parts = [steps, _checks(job, _CHECKS_MM if is_wide else width), *pictures]
    if is_wide:
        parts = [side_by_side(parts, width, _BETWEEN_MM, "the steps and checks")]
    for part in parts:
        stack.put(part)
    found, columns = list(blanks(job.plan)), 8
    tall = (stack.room_mm - HEADING_MM - 2 * HAIR_MM) / math.ceil(len(found) / columns)
    stack.put(boxes(found, width, "What came out", columns, min(_HIGH_MM, max(_LOW_MM, tall))))
    return stack.drawings


# --- steps and checks ---------------------------------------------------------------------------------------


def _steps(job: Job) -> Iterator[str]:
    plan, lots = job.plan, job.share.lots
    yield "Measure mandrel and wire; write both down below."
    yield f"Cut the wire: {job.lengths}."
    if job.drilled:
        yield f"Drill the dowel {plan.drill.drill.name} by its sheet; put the tail through."
    else:
        yield f"Bend {tail_bent()} of tail and clamp it with the mandrel."
    yield f"Wind {lots[0].turns} turns, tight and touching. Hold the end and release it slowly.{turns_back([job])}"
    if plan.mandrel.is_off_loudly:
        yield f"Measure its inside: {sized(plan.batch.coil.inside_mm, 2)} by plan, not the wanted ring: see Care."
    else:
        coil = coil_window(plan)
        yield f"Measure its inside: {coil} closes to ID {accepted(plan)}. Outside that, stop: take another mandrel."
    if sum(lot.coils for lot in lots) > 1:
        yield WIND_OTHERS
    yield from sectioning([job])
    yield from cutting_steps(plan)
    yield "Close one ring and check it before you go on."
    yield f"Close, check and count {job.share.wound} good rings; bag and label them."
    yield from filter(None, (job.handing_out, *job.handed))
    yield from polish(plan)


def _checks(job: Job, width: float) -> Drawing:
    """What a good ring is; under it the wanted ring and its window at true size, where they have room."""
    found = gauge_of(job.plan, COMPACT) if _fits(job) else ()
    shape = max((outer for group in found for outer, _ in group.shapes_mm), default=0.0)
    foot = shape + COMPACT.words_mm + 6.0 if found else 0.0
    # Bench practice, no source, but for the figures.
    wanted = f"{bare(job.plan.wanted.inside_mm, 2)} ±{bare(job.plan.tolerance_mm, 2)}"
    words = (
        *general_checks(),
        LAID_ON if found else "Its size, on the ring card.",
        f"By caliper: ID {accepted(job.plan)} ({wanted}) keeps the AR within 2 %.",
        *bad_cut(job.plan),
    )
    column = listing(words, width, "A good ring", sign="box", ruled=True).drawing(foot)
    draft = Draft()
    draft.add(column.marks)
    if found:
        draft.text(0.0, foot - 3.0, f"wanted: ID {sized(job.plan.wanted.inside_mm, 2)}", WORDS, bold=True)
        draw_gauge(draft, found, (1.0, foot - 5.0), shape, COMPACT)  # 1 mm in, clear of the rule beside the column
    return draft.drawing(width, column.height_mm, column.name)


def _fits(job: Job) -> bool:
    """Whether the gauge of the ring has room under the checks."""
    found = gauge_of(job.plan, COMPACT)
    return bool(found) and width_mm(found, COMPACT) + 2.0 <= _CHECKS_MM
