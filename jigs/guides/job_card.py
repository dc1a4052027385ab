"""The job card: one kind of ring from mandrel to bag on one page, to work down and to write on."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from jigs.guides.pieces.blanks import Blank, boxes
from jigs.planning.plan import RingPlan
from jigs.planning.shares import Lot, Share
from jigs.planning.tools import MandrelChoice
from jigs.stock.figure import Figure
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.table import Boxes, Column, Table
from layouts.drawing.words import HAIR_MM, HEADING_MM, LINE_MM, WORDS, listing, side_by_side
from layouts.pages.page import Content, Field, Gauge
from layouts.pages.stack import Stack

_TWO_COLUMNS_MM = 150.0  # a narrower field has one
_BETWEEN_MM = 6.0
_LOW_MM, _HIGH_MM = 9.4, 13.0  # height of a box to write in: the least, and the most where there is room
_SMALLEST_MM = 0.5  # an inside that is drawn


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """One seat's part of a ring's plan; `drilled` when its mandrel has a sheet with the wire's cross-hole."""

    plan: RingPlan
    share: Share
    drilled: bool = False

    @property
    def lengths(self) -> str:
        """The wire to cut: '4 × 373, 1 × 238 mm'."""
        return f"{', '.join(f'{lot.coils} × {lot.cut_mm}' for lot in self.share.lots)} mm"

    @property
    def count(self) -> str:
        """'50 and 8 spare'."""
        return f"{self.share.wanted} and {self.share.spares} spare" if self.share.spares else str(self.share.wanted)


def job_card(job: Job) -> Content:
    """A page for one seat and one kind of ring: ledger, set-up, winding, steps, checks, and what came out."""
    plan = job.plan
    ring = plan.ring
    return Content(
        title="Job card",
        facts=(
            ("ring", plan.name),
            ("make", job.count),
            ("wire", plan.ordered.wire.in_words),
            ("metal", plan.ordered.material.name),
            ("inside", f"{ring.inside_mm:.2f} mm"),
            ("AR", f"{ring.aspect_ratio:.2f}"),
            *((("wanted", f"{plan.wanted.inside_mm:.2f} mm"),) if _is_off(plan) else ()),
        ),
        draw=lambda field: _drawings(job, field),
        notes=(
            "Paper reads to ±0.1 mm at best (common practice, no source): the black ring sorts, a caliper measures.",
        ),
        cautions=tuple(_cautions(job)),
        gauges=(Gauge("ring", ring.outside_mm),) if _fits_column(job, _TWO_COLUMNS_MM / 2) else (),
    )


def _is_off(plan: RingPlan) -> bool:
    """Whether the planned ring shows another inside than the wanted one, to the hundredth."""
    return f"{plan.ring.inside_mm:.2f}" != f"{plan.wanted.inside_mm:.2f}"


def _cautions(job: Job) -> Iterator[str]:
    """The usual cautions (EN 166, ANSI Z87.1, EN 510), as far as they apply; then what the plan says loudly."""
    mask = " Wear a dust mask at the saw." if job.plan.batch.cut.name == "saw" else ""
    drill = " No gloves, loose sleeves or hair near a drill (EN 510); clamp the dowel." if job.drilled else ""
    yield (
        "protect your eyes (EN 166, ANSI Z87.1): wire ends and blades fly, and ends cut fingers. "
        f"A wound coil is a spring.{drill}"
        f"{mask} Follow your workshop's rules and local codes."
    )
    yield from (f"{caution}." for caution in job.plan.cautions)


def _drawings(job: Job, field: Field) -> list[Drawing]:
    stack = Stack(space=field)
    stack.put_table(_ledger(job, field.width_mm))
    stack.put_table(_set_up(job, field.width_mm))
    stack.put_table(_winding(job, field.width_mm))
    for drawing in _lists(job, field.width_mm):
        stack.put(drawing)
    stack.put(_came_out(job, field.width_mm, stack.room_mm))
    return stack.drawings


# --- tables -------------------------------------------------------------------------------------------------


def _ledger(job: Job, width: float) -> Table:
    return Table(
        heading="From the mandrel to the closed ring",
        columns=(
            Column("", 0.12, bold=True),
            Column("mm", 0.09, right=True),
            Column("band", 0.15 if width >= _TWO_COLUMNS_MM else 0.22, right=True),
            Column("rests on", 0.64),
        ),
        rows=tuple((line.name, _value(line), _band(line), _set(line.words)) for line in job.plan.ledger),
        width_mm=width,
        pad_mm=0.55,
    )


def _set(words: str) -> str:
    """A formula in words as it is printed: × − π for x - pi."""
    return words.replace(" x ", " × ").replace(" - ", " − ").replace(" / pi", " / π")


def _value(line: Figure) -> str:
    return f"{line.value:+.3f}".replace("-", "−") if line.is_change else f"{line.value:.3f}"


def _band(line: Figure) -> str:
    if line.low is None:
        return ""
    return f"{line.low:.3f} to {'straight' if line.high is None else f'{line.high:.3f}'}"


def _set_up(job: Job, width: float) -> Table:
    return Table(
        heading="Set up",
        columns=(Column("", 0.12, bold=True), Column("", 0.24), Column("", 0.64)),
        rows=tuple(_tools(job)),
        width_mm=width,
        pad_mm=0.55,
    )


def _tools(job: Job) -> Iterator[tuple[str, str, str]]:
    plan = job.plan
    use, *others = plan.mandrels
    whose = f"yours, {use.kind}" if use.owned else "as sold: measure it"
    yield "mandrel", f"{use.name}, {use.diameter_mm:.3f} mm", f"{whose}; AR {_percent(use.ratio_error)} off"
    if others:
        names = ", ".join(f"{_whose(other)} (AR {_percent(other.ratio_error)})" for other in others)
        yield "or", f"{len(others)} next best", names
    if use.advice:
        what = {"saw": "for the saw", "cutters": "for the cutters"}.get(plan.batch.cut.name, "")
        yield "core", what, use.advice
    if plan.blade:
        blade = plan.blade.blade
        yield "blade", f"{blade.name}, kerf {blade.kerf_mm:.2f} mm", f"{plan.blade.teeth_in_wire:.1f} teeth in the wire"
    if job.drilled:
        drill = plan.drill
        yield "cross-hole", drill.drill.name, f"{drill.clearance_mm:.2f} mm over the wire; {drill.advice}"
    if plan.verdict:
        weave = plan.verdict.weave
        near = ", near a limit" if plan.verdict.is_near_a_limit else ""
        words = f"{plan.verdict.word}{near}: AR {plan.verdict.ratio:.2f}, range {weave.low:g} to {weave.high:g}"
        yield "weave", weave.name, f"{words} (common practice)"


def _whose(choice: MandrelChoice) -> str:
    return f"your {choice.name}" if choice.owned else choice.name


def _percent(part: float) -> str:
    return f"{round(100 * part, 2) + 0:+.2f} %".replace("-", "−")


def _winding(job: Job, width: float) -> Table:
    return Table(
        heading="Wind",
        columns=(
            Column("coils", 0.34),
            Column("wire for each, mm", 0.13, right=True),
            Column("turns to wind", 0.11, right=True, bold=True),
            Column("turns, let go", 0.12, right=True),
            Column("length, let go, mm", 0.16, right=True),
            Column("good rings", 0.14, right=True),
        ),
        rows=tuple(_lot(lot) for lot in job.share.lots),
        width_mm=width,
        pad_mm=0.75,
    )


def _lot(lot: Lot) -> tuple[str | Boxes, ...]:
    figures = f"{lot.cut_mm}", f"{lot.turns}", f"{lot.free_turns:.1f}", f"{lot.length_mm:.1f}", f"{lot.rings}"
    return (Boxes(lot.coils), *figures)


# --- steps and checks ---------------------------------------------------------------------------------------


def _lists(job: Job, width: float) -> Iterator[Drawing]:
    """Steps and checks side by side, or one under the other."""
    beside = width >= _TWO_COLUMNS_MM
    share = (width - _BETWEEN_MM) / 2 if beside else width
    parts = [listing(_steps(job), share, "Steps", sign="box", ruled=True).drawing(), _checks(job, share)]
    yield from [side_by_side(parts, width, _BETWEEN_MM, "the steps and checks")] if beside else parts


def _steps(job: Job) -> Iterator[str]:
    plan, lots = job.plan, job.share.lots
    yield "Measure mandrel and wire; write both down below."
    yield f"Cut the wire: {job.lengths}."
    if job.drilled:
        yield f"Drill the dowel {plan.drill.drill.name} by its sheet; put the tail through."
    else:
        yield "Bend 10–13 mm of tail and clamp it with the mandrel."
    yield f"Wind one coil of {lots[0].turns} turns, tight and touching. Hold its end and let it go slowly."
    yield _measured_coil(plan)
    if sum(lot.coils for lot in lots) > 1:
        yield "Wind the others; count them with the winding strip."
    yield from _cutting(plan)
    yield "Close one ring and check it before you go on."
    yield f"Close, check and count {job.share.made} good rings; bag and label them."
    if polish := plan.ordered.material.polish:
        yield f"Harden and polish: {polish.words}."


def _measured_coil(plan: RingPlan) -> str:
    """When to stop after the first coil: rounded outwards, so that none is stopped that gives a good ring."""
    if plan.mandrel.is_off_loudly:
        return f"Measure its inside: {plan.batch.coil.inside_mm:.2f} mm by plan, not the wanted ring: see Care."
    low, high = plan.accepted_coil_mm
    coil = f"{math.floor(100 * low + 1e-6) / 100:.2f} to {math.ceil(100 * high - 1e-6) / 100:.2f} mm"
    return f"Measure its inside: {coil} closes to ID {_accepted(plan)} mm. Not so? Stop: take another mandrel."


def _cutting(plan: RingPlan) -> Iterator[str]:
    if plan.winding.rejects:
        lost = "the first ring is" if plan.winding.rejects == 1 else f"{plan.winding.rejects} rings are"
        yield f"Of each coil {lost} lost: its ends."
    if plan.batch.cut.name == "saw":
        wood = "Slide the coil onto its wooden core. " if plan.mandrel.core else ""
        yield f"{wood}Tape it, start at about 45°, saw with light, even strokes."
    elif plan.batch.cut.name == "cutters":
        yield "Snip a ring; turn the cutters over and trim the point before the next."


def _checks(job: Job, width: float) -> Drawing:
    """What a good ring is, with the ring at true size under it where it has room."""
    ring = job.plan.ring
    fits = _fits_column(job, width)
    tall = max(ring.outside_mm + 1.0, 3 * LINE_MM + 0.5)  # the ring, or the words beside it
    foot = tall + 4.5 if fits else 0.0
    column = listing(_check_words(job, fits), width, "A good ring", sign="box", ruled=True).drawing(foot)
    if not fits:
        return column
    draft, r = Draft(), ring.outside_mm / 2
    draft.add(column.marks)
    x, y = r + 1.0, tall / 2
    draft.annulus(x, y, r, ring.inside_mm / 2)
    draft.disc(x + r + 4.0 + ring.inside_mm / 2, y, ring.inside_mm / 2)
    right = x + r + 4.0 + ring.inside_mm + 4.0
    words = (f"ID {ring.inside_mm:.2f} mm", f"OD {ring.outside_mm:.2f} mm", f"AR {ring.aspect_ratio:.2f}")
    for number, string in enumerate(words):
        draft.text(right, y + 2.6 - 3.4 * number, string, WORDS, bold=True)
    return draft.drawing(width, column.height_mm, column.name)


def _fits_column(job: Job, width: float) -> bool:
    """Whether ring, disc and words have room side by side in a column."""
    ring = job.plan.ring
    return ring.inside_mm >= _SMALLEST_MM and ring.outside_mm + ring.inside_mm + 30.0 <= min(width, 80.0)


def _check_words(job: Job, fits: bool) -> Iterator[str]:
    """Bench practice, no source."""
    yield "No light through the joint."
    yield "Ends meet square, seen from above and from the side."
    yield "No burr: draw it over a cloth. No tool marks. Round."
    if fits:
        yield "Laid on the black ring: no black outside, none inside. Seen through the ring, the disc just fills it."
    else:
        yield "Its size, on the ring card."
    wanted = f"{job.plan.wanted.inside_mm:.2f} ±{job.plan.tolerance_mm:.2f}"
    yield f"By caliper: ID {_accepted(job.plan)} mm ({wanted}) keeps the AR within 2 %."
    if bad := job.plan.ordered.material.bad_cut:
        yield f"A bad cut: {bad.words}."


def _accepted(plan: RingPlan) -> str:
    """The insides of a good ring: the small and the large disc of the ring card."""
    low, high = plan.accepted_mm
    return f"{low:.2f} to {high:.2f}"


# --- what came out ------------------------------------------------------------------------------------------


def _came_out(job: Job, width: float, room: float) -> Drawing:
    """Boxes to write in, each with what was planned."""
    blanks = list(_blanks(job.plan))
    columns = 5 if width >= _TWO_COLUMNS_MM else 3
    rows = math.ceil(len(blanks) / columns)
    tall = min(_HIGH_MM, max(_LOW_MM, (room - HEADING_MM - 2 * HAIR_MM) / rows))
    return boxes(blanks, width, "What came out", columns, tall)


def _blanks(plan: RingPlan) -> Iterator[Blank]:
    cut = plan.batch.cut
    yield Blank("wire", f"{plan.ring.wire_mm:.3f}")
    yield Blank("mandrel", f"{plan.mandrel.diameter_mm:.3f}")
    yield Blank("coil inside", f"{plan.batch.coil.inside_mm:.3f}")
    if cut.loss_mm:
        yield Blank(("kerf" if cut.name == "saw" else "trim"), f"{cut.loss_mm:.2f}")
    yield Blank("ID closed", f"{plan.ring.inside_mm:.3f}")
    yield Blank("OD closed", f"{plan.ring.outside_mm:.3f}")
    yield Blank("good rings")
    yield Blank("rejects")
    yield Blank("date")
    yield Blank("by")
    if not cut.loss_mm:
        yield Blank("remarks")
