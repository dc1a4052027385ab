"""The pack of an order: how it is wanted, made in the background with its progress, then its contents and its file."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path, PurePath
from typing import Any
from urllib.parse import quote

from jigs.actions.order import plan_order
from jigs.actions.order_files import order_path
from jigs.actions.output import Output
from jigs.actions.pack import How, Packed, pack_files
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.jobs import Job, Progress, jobs
from jigs.page.papers import output_boxes
from jigs.page.refusals import faults_said
from jigs.reports.contents import contents
from jigs.reports.report import Report
from layouts.errors import Refusal, UnknownName
from layouts.lengths import said_in

_HANDS = (("right", "right"), ("left", "left"))
_SETS = (("each", "a set for each seat"), ("once", "one set for all seats with the same work"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Ready:
    """A pack that was made: what is in it, what to be told loudly, its file."""

    packed: Packed
    data: bytes
    contents: Report
    cautions: tuple[str, ...]

    @property
    def name(self) -> str:
        """Of the file."""
        return self.packed.paths[0].name


def show(asked: Asked) -> Answer:
    """How a pack is wanted."""
    return _shown(asked, _form(asked), None)


def _form(asked: Asked) -> Form:
    paper, _, _, printer, tray, _, day, units = output_boxes(asked.bench)
    paper.choices, paper.usual = [("", "as in the order"), *paper.choices], ""
    first = printer.choices[0][1]
    printer.choices, printer.hint = [("", "as in the order"), *printer.choices[1:]], printer.hint or f"Else {first}."
    if "none" not in dict(printer.choices):
        printer.choices = [*printer.choices, ("none", "not corrected")]
    units.choices = [("", "as in the order"), *units.choices[1:]]
    tray.hint = day.hint = "Empty: as in the order."
    boxes = (
        paper,
        printer,
        tray,
        Box(key="card", label="Card in its tray", hint="For what goes on card, where you measured that too."),
        Box(key="hand", label="The hand that holds the saw", kind="choice", choices=_HANDS, usual="right"),
        Box(key="sets", label="For a class", kind="choice", choices=_SETS, usual="each"),
        day,
        units,
        Box(key="without_records", label="As if no batch had been recorded", kind="tick"),
    )
    return Form.filled(boxes, asked)


def _shown(asked: Asked, form: Form, job: Job | None, status: int = 200) -> Answer:
    order = asked.path["order"]
    faults: tuple[str, ...] = ()
    if job is not None and job.refusal is not None:
        faults = faults_said(job.refusal, order)
    values: dict[str, Any] = {
        "here": "orders",
        "order": order,
        "address": f"/orders/{quote(order)}",
        "tab": "pack",
        "form": form,
        "job": job,
        "faults": faults,
    }
    return Answer(template="order_pack.html", part="order_pack_live.html", values=values, status=status)


def start(asked: Asked) -> Answer:
    """Begins to make the pack."""
    form = _form(asked)
    path = order_path(asked.orders, asked.path["order"])
    words = {key: form.words(key) for key in ("paper", "printer", "tray", "date", "units")}
    output = Output(bench=asked.bench, formats="pdf", **words)  # type: ignore[arg-type] # each of them is words
    how = How(card=form.words("card"), hand=form.words("hand"), sets=form.words("sets"))
    without = form.words("without_records") == "yes"
    bench = asked.bench

    def work(progress: Progress) -> Ready:
        return _packed(path, bench, output, how, without, progress)

    job = jobs.start(work)
    return Answer(goto=f"/orders/{quote(path.name)}/pack/{job.name}?{form.query}")


def _packed(path: Path, bench: Path, output: Output, how: How, without: bool, progress: Progress) -> Ready:
    plan = plan_order(path, bench, units=output.units, without_records=without, progress=progress)
    name = f"{path.stem}-pack"
    packed, (data,) = pack_files(plan, output, date.today(), name=name, how=how, progress=progress)
    with said_in(plan.order.units):
        report = contents(packed.pack.entries).pick("pages", "sheet", "on", "use")
        return Ready(packed=packed, data=data, contents=report, cautions=plan.cautions)


def follow(asked: Asked) -> Answer:
    """How far the pack is, or what came of it."""
    return _shown(asked, _form(asked), _job(asked))


def send(asked: Asked) -> Answer:
    """The pack's file: the very bytes that it has when it is written into a folder."""
    made = _job(asked).made
    if not isinstance(made, Ready) or made.name != asked.path["file"]:
        raise UnknownName("file of this pack", asked.path["file"], [made.name] if isinstance(made, Ready) else [])
    return Answer(content=made.data, kind="application/pdf", file_name=made.name, is_shown=True)


def _job(asked: Asked) -> Job:
    job = jobs.find(asked.path["job"])
    if job is None:
        raise Refusal("that pack has gone from here", f"make it again from {PurePath(asked.path['order']).stem}")
    return job


ROUTES = (
    Route("/orders/{order}/pack", show),
    Route("/orders/{order}/pack", start, "POST"),
    Route("/orders/{order}/pack/{job}", follow),
    Route("/orders/{order}/pack/{job}/{file}", send),
)
