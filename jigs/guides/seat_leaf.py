"""The leaf of a seat: all its kinds of ring, two to a page, from mandrel to bag, to work down and to write on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

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
    gives_words,
    in_front,
    ledger_in_brief,
    paper_reads,
    polish,
    sectioning,
    tail_bent,
    turns_back,
    winding_table,
)
from jigs.guides.pieces.saw_run import saw_picture
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.drawing.words import HEADING, WORDS, Item, Listing, lines, listing, one_under_another, side_by_side, write
from layouts.errors import OutOfRange
from layouts.lengths import are_inches, named, sized
from layouts.pages.page import Content, Field, Sized
from layouts.pages.sheet import GAP_MM
from layouts.pages.stack import Stack

_WIDE_MM = 150.0  # a narrower field has one column
_BETWEEN_MM = 5.0
_LOW_MM, _HIGH_MM = 9.0, 14.0  # height of a box to write in: the least, and the most where there is room
_GAUGE_MM = 60.0  # the widest gauge beside the tables
_NAMED = 8  # rings that are named in the head or in one step, and cautions at the foot of each page; more would fill it


def seat_leaf(jobs: Sequence[Job]) -> Content:
    """A page for one seat with one or two kinds of ring; with more, a page for each two, then the steps for all.

    Of very many kinds the head gives the number, and the cautions of each stand with it.
    """
    if not jobs:
        raise OutOfRange("a leaf for a seat without a ring", "give one job or more")
    work = tuple(jobs)
    usual, *loud = cautions(work)
    care = "look out for what stands under the name of each ring."
    facts = [(job.plan.name, job.count) for job in work]
    if len(work) > _NAMED:
        facts = [("kinds of ring", str(len(work))), ("make", str(sum(job.share.made for job in work)))]
    return Content(
        title="Job card",
        facts=tuple(facts),
        draw=lambda field: _drawings(work, field, with_care=len(loud) > _NAMED),
        notes=(f"Black shapes show the wanted ring and its window. {paper_reads()}",),
        cautions=(usual, *(loud if len(loud) <= _NAMED else [care])),
        gauges=tuple(
            Sized("ring", job.plan.wanted.outside_mm) for job in work if _fits(job) and gauge_of(job.plan, COMPACT)
        ),
    )


def _drawings(jobs: tuple[Job, ...], field: Field, *, with_care: bool) -> list[Drawing]:
    pictures = [saw_picture()] if any(job.is_sawn for job in jobs) else []
    wide = field.width_mm >= _WIDE_MM
    free = field.width_mm - sum(picture.width_mm + _BETWEEN_MM for picture in pictures) - _BETWEEN_MM
    shown = [job for job in jobs if _fits(job)]
    checks = (
        *general_checks(),
        *([f"{LAID_ON.removesuffix('.')}{_named(shown, jobs)}."] if shown else ()),
        "By caliper: ID within the window above.",
        *_each_once(jobs, lambda job: bad_cut(job.plan)),
    )
    lists = ("Steps", _steps(jobs), 0.6), ("A good ring", checks, 0.4)
    parts = [
        listing(words, share * free if wide else field.width_mm, heading, sign="box").drawing()
        for heading, words, share in lists
    ]
    parts += pictures

    def panels_of(tall: float) -> list[Drawing]:
        return [
            part
            for job in jobs
            for part in _panel(job, field.width_mm, tall, job.plan.own_cautions if with_care else ())
        ]

    panels = panels_of(_LOW_MM if wide else _HIGH_MM)
    if wide:
        parts = [side_by_side(parts, field.width_mm, _BETWEEN_MM, "the steps and checks")]
        # laid out with the lowest boxes first: what then is left on the page makes them higher
        tall = min(_HIGH_MM, _LOW_MM + _spare_mm(panels, parts, field.height_mm))
        panels = panels_of(tall)
    stack = Stack(space=field)
    for part in (*panels, *parts):
        stack.put(part)
    return stack.drawings


def _spare_mm(panels: Sequence[Drawing], rest: Sequence[Drawing], page_mm: float) -> float:
    """How much higher each panel may be, and every drawing still stands on the page where it is."""
    spare, room, on_page = page_mm, page_mm, 0
    for number, part in enumerate((*panels, *rest)):
        if part.height_mm > room:
            room, on_page = page_mm, 0
        on_page += number < len(panels)
        room -= part.height_mm
        if on_page:
            spare = min(spare, room / on_page)
        room -= GAP_MM
    return max(0.0, spare - 1e-6)  # a hair less, so that rounding does not push a part to the next page


# --- one kind of ring --------------------------------------------------------------------------------------------


def _panel(job: Job, width: float, tall: float, care: Sequence[str]) -> Iterator[Drawing]:
    """Ledger, set-up and gauge side by side, what to wind, boxes of a height for what came out; or all one by one.

    `care` stands under the ring's name.
    """
    wide = width >= _WIDE_MM
    gauge = _gauge(job) if _fits(job) else None
    room = width - (gauge.width_mm + _BETWEEN_MM if gauge else 0.0)
    share = 0.5 if are_inches() else 0.45  # of both tables: each figure has the other unit beside it
    brief = ledger_in_brief(job.plan, share * (room - _BETWEEN_MM) if wide else width).drawing()
    tools = _set_up(job, room - brief.width_mm - _BETWEEN_MM if wide else width).drawing()
    heading, winding = [_heading(job, width)], winding_table(job, width, pad_mm=0.5).drawing()
    if care:
        items = tuple(Item(f"Care: {caution}.", bold=True) for caution in care)
        heading.append(Listing(items=items, width_mm=width).drawing())
    found = list(blanks(job.plan, brief=True))
    if not wide:
        yield from (*heading, brief, tools, *([gauge] if gauge else []), winding, boxes(found, width, "", 5, tall))
        return
    top = side_by_side([brief, tools, *([gauge] if gauge else [])], width, _BETWEEN_MM, "the ledger in brief")
    came_out = boxes(found, width, "", len(found), tall)
    yield one_under_another([*heading, top, winding, came_out], width, 1.6, f"the job {job.plan.name}")


def _heading(job: Job, width: float) -> Drawing:
    """The ring's name and how many; beside it, or under it if room is short, its wire, metal and lengths."""
    draft, plan = Draft(), job.plan
    name = f"{plan.name}: {job.count}"
    words = f"{plan.ordered.wire.in_words} {plan.ordered.material.name}; wire to cut: {job.lengths}"
    beside = lettering.width_mm(name, HEADING, bold=True) + 3.0
    top = lettering.ASCENT * HEADING + 0.4  # brackets stand higher than capitals
    if beside + lettering.width_mm(words, WORDS) <= width:
        draft.text(0.0, 0.7, name, HEADING, bold=True)
        draft.text(beside, 0.7, words, WORDS)
        return draft.drawing(width, top + 0.7, "the name of the ring")
    y = write(draft, (0.0, 0.0), lines(name, width, HEADING, bold=True), HEADING, bold=True)
    y = write(draft, (0.0, y + 0.4), lines(words, width))
    shifted = Draft()
    shifted.add(draft, 0.0, -y - 2.4)
    return shifted.drawing(width, top - y - 2.4, "the name of the ring")


def _set_up(job: Job, width: float) -> Table:
    plan = job.plan
    use = plan.mandrel
    size = named(use.name, use.diameter_mm) if are_inches() else f"{use.name}, {sized(use.diameter_mm, 3)}"
    rows = [("mandrel", f"{size}, {'yours' if use.owned else 'as sold: measure it'}")]
    if use.advice:
        rows.append(("core", use.advice))
    if plan.blade:
        blade = plan.blade.blade
        rows.append(("blade", f"{blade.name}, kerf {sized(blade.kerf_mm, 2)}; {in_front(plan)} of coil in front of it"))
    if job.drilled:
        drill = plan.drill.drill
        rows.append(("cross-hole", f"{named(drill.name, drill.diameter_mm)}, see its sheet"))
    rows.append(("first coil", "see Care" if use.is_off_loudly else f"inside {coil_window(plan)}"))
    rows.append(("good ring", f"ID {accepted(plan)}{gives_words(plan)}"))
    names = 0.2 if are_inches() else 0.28
    columns = TableColumn("", names, bold=True), TableColumn("set up, and look out for", 1 - names)
    return Table(columns=columns, rows=tuple(rows), width_mm=width, pad_mm=0.4)


def _fits(job: Job) -> bool:
    """Whether the gauge has room beside the tables."""
    found = gauge_of(job.plan, COMPACT)
    return bool(found) and width_mm(found, COMPACT) <= _GAUGE_MM


def _gauge(job: Job) -> Drawing:
    found = gauge_of(job.plan, COMPACT)
    shape = max(outer for group in found for outer, _ in group.shapes_mm)
    wide, tall = width_mm(found, COMPACT), shape + COMPACT.words_mm
    draft = Draft()
    draft.text(
        wide / 2, tall + 1.6, f"wanted: ID {sized(job.plan.wanted.inside_mm, 2)}", WORDS, anchor="middle", bold=True
    )
    draw_gauge(draft, found, (0.0, tall), shape, COMPACT)
    left = min(0.0, *(mark.box[0] for mark in draft))
    right = max(wide, *(mark.box[2] for mark in draft))
    moved = Draft()
    moved.add(draft, -left, 0.0)
    return moved.drawing(right - left, tall + 1.6 + lettering.ASCENT * WORDS + 0.6, "the gauge")


# --- for all of them ---------------------------------------------------------------------------------------------


def _named(jobs: Sequence[Job], whole: Sequence[Job]) -> str:
    """' (chain ring)' where that is not all of them; of many, how many, as each has its set-up beside it."""
    if len(jobs) == len(whole):
        return ""
    return f" ({', '.join(job.plan.name for job in jobs) if len(jobs) <= _NAMED else f'{len(jobs)} kinds of ring'})"


def _steps(jobs: tuple[Job, ...]) -> Iterator[str]:
    drilled, bent = [job for job in jobs if job.drilled], [job for job in jobs if not job.drilled]
    yield "Measure mandrel and wire; write both down. Cut the wire."
    if drilled:
        yield f"Drill the dowel by its sheet; put the tail through{_named(drilled, jobs)}."
    if bent:
        yield f"Bend {tail_bent()} of tail and clamp it with the mandrel{_named(bent, jobs)}."
    yield (
        f"Wind one coil, tight and touching. Hold its end and release it slowly.{turns_back(jobs)} Measure its inside:"
        " outside its window, stop and take another mandrel."
    )
    if any(sum(lot.coils for lot in job.share.lots) > 1 for job in jobs):
        yield WIND_OTHERS
    yield from sectioning(jobs)
    yield from _each_once(jobs, lambda job: cutting_steps(job.plan))
    yield "Close one ring and check it before you go on. Then close, check, count, bag and label."
    yield from _each_once(jobs, lambda job: polish(job.plan))
    yield from (f"{job.handing_out.removesuffix('.')} ({job.plan.name})." for job in jobs if job.handing_out)
    yield from jobs[0].handed


def _each_once(jobs: tuple[Job, ...], words_of: Callable[[Job], Iterable[str]]) -> Iterator[str]:
    """What is said of several rings, once, with their names where it is not of all."""
    said: dict[str, list[Job]] = {}
    for job in jobs:
        for words in words_of(job):
            said.setdefault(words, []).append(job)
    for words, whose in said.items():
        yield f"{words.removesuffix('.')}{_named(whose, jobs)}."
