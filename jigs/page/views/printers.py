"""Printers: measured step by step, by hand or from a scan that is dropped; kept; one of them the usual one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from jigs.actions.printer import (
    LookedAt,
    Readings,
    choose_no_printer,
    choose_printer,
    find_printer,
    forget_printer,
    keep_printer,
    list_printers,
    look_at_printer,
    look_at_readings,
)
from jigs.actions.scan import picture_of, scan_pictures
from jigs.bench.settings import units_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.jobs import Job, Progress, jobs
from jigs.page.refusals import in_parts, said
from jigs.reports.printer import printer_report, printers_report
from jigs.reports.scan import scan_doubts, scan_lines
from layouts.dates import parse_date
from layouts.errors import OutOfRange, QuantityRefused, Refusal, Remedy
from layouts.lengths import said_in
from layouts.pages.paper import papers
from layouts.printing.budget import find_hand_tool, hand_tools, reads_percent
from layouts.printing.printer import Printer, parse_reading
from layouts.units import parse_length, with_unit

_INK = ("0.5 mm", "1 mm", "2 mm")
_LYING = (("", "as the picture shows"), ("card", "a bank card"), ("rule", "a steel rule"), ("none", "Nothing"))
MOST_PICTURES = 2


def show_all(asked: Asked) -> Answer:
    """Every printer that was measured, and which is the usual one."""
    with said_in(units_for(asked.bench)):
        known, usual = list_printers(asked.bench)
        values = {
            "here": "printers",
            "report": printers_report(known, usual) if known else None,
            "links": [(str(printer), _address(printer)) for printer in known],
            "usual": usual,
            "said": asked.one("said"),
        }
        return Answer(template="printers.html", values=values)


def _address(printer: Printer) -> str:
    return f"/printers/one?{urlencode({'name': printer.name, 'in_tray': printer.tray})}"


def show_one(asked: Asked) -> Answer:
    """One printer: what was read, its factors, and what a sheet that is made true for it is good for."""
    with said_in(units_for(asked.bench)):
        printer = find_printer(asked.bench, asked.one("name"), asked.one("in_tray"))
        _, usual = list_printers(asked.bench)
        values = {
            "here": "printers",
            "printer": printer,
            "report": printer_report(printer),
            "warnings": printer.warnings(date.today()),
            "is_usual": usual == printer,
        }
        return Answer(template="printer.html", values=values)


def choose(asked: Asked) -> Answer:
    """From now on sheets are made for this printer."""
    chosen = choose_printer(asked.bench, asked.one("name"), asked.one("in_tray"))
    return Answer(goto=f"/printers?{urlencode({'said': f'Sheets are now made true for {chosen}.'})}")


def choose_none(asked: Asked) -> Answer:
    """From now on sheets are uncorrected."""
    choose_no_printer(asked.bench)
    return Answer(goto=f"/printers?{urlencode({'said': 'Sheets are now uncorrected.'})}")


def forget(asked: Asked) -> Answer:
    """Deletes a record."""
    gone = forget_printer(asked.bench, asked.one("name"), asked.one("in_tray"))
    return Answer(goto=f"/printers?{urlencode({'said': f'{gone} is forgotten.'})}")


# --- measuring one


def _form(asked: Asked) -> Form:
    tools = [(name, tool.words) for name, tool in hand_tools().items()]
    boxes = [
        Box(key="called", label="Name of the printer", hint="As you call it, such as study.", sound="study"),
        Box(
            key="in_tray",
            label="Paper in its tray",
            hint="Such as plain 80 g, or card 160 g: each is measured.",
            sound="plain",
        ),
        Box(
            key="paper",
            label="Size of the paper",
            kind="choice",
            choices=[(name, name) for name in papers()],
            usual="a4",
        ),
        Box(key="landscape", label="Landscape: the long side across", kind="tick"),
        Box(key="tool", label="Measured with", kind="choice", choices=tools, usual="rule"),
        Box(key="corrected", label="The sheet was made true for this printer, as its head says", kind="tick"),
        Box(key="across", label="Across, A to B"),
        Box(key="along", label="Along, A to D"),
        Box(key="diagonal_ac", label="Diagonal, A to C", hint="Both diagonals give the skew; may be left out."),
        Box(key="diagonal_bd", label="Diagonal, B to D"),
        *(
            Box(key=f"{shade}_{number}", label=f"{title} of {size}")
            for number, size in enumerate(_INK)
            for shade, title in (("black", "Black bar"), ("white", "White gap"))
        ),
        Box(key="day", label="Measured on", usual=date.today().isoformat()),
        Box(key="lying", label="On the sheet lies", kind="choice", choices=_LYING),
        Box(key="dpi", label="Dots in an inch", hint="Empty: as the file says."),
        Box(key="save_anyway", label="Save it anyway", kind="tick"),
        Box(key="usual", label="Make sheets true for it from now on", kind="tick", usual="yes"),
        Box(key="scan", label="One scan, or two with the sheet turned by a quarter in between"),
    ]
    form = Form.filled(boxes, asked)
    for key in ("usual",):  # a box that is not ticked is not sent
        if asked.given and key not in asked.given:
            form[key].value, form[key].values = "", ()
    return form


def _readings(form: Form) -> Readings | None:
    """What was read, as far as every box of it is right; None while something is missing or refused."""
    words = form.words
    tool = words("tool") or "rule"
    unit = "%" if reads_percent(tool) else "mm"
    black, white = ([words(f"{shade}_{number}") for number in range(len(_INK))] for shade in ("black", "white"))
    readings = Readings(
        name=words("called"),
        tray=words("in_tray"),
        across=with_unit(words("across"), unit),
        along=with_unit(words("along"), unit),
        diagonal_ac=with_unit(words("diagonal_ac"), "mm"),
        diagonal_bd=with_unit(words("diagonal_bd"), "mm"),
        black=tuple(with_unit(each, "mm") for each in black if each),
        white=tuple(with_unit(each, "mm") for each in white if each),
        instrument=tool,
        paper=words("paper") or "a4",
        landscape=words("landscape") == "yes",
        date=words("day"),
        corrected=words("corrected") == "yes",
    )
    true_across, true_along = readings.true_mm
    form.read("across", lambda text: parse_reading(with_unit(text, unit), true_across, find_hand_tool(tool).name))
    form.read("along", lambda text: parse_reading(with_unit(text, unit), true_along, find_hand_tool(tool).name))
    form.read("day", parse_date)
    lengths = ("diagonal_ac", "diagonal_bd", *(f"{shade}_{number}" for shade in _SHADES for number in range(len(_INK))))
    for key in lengths:
        form.read(key, lambda text: parse_length(with_unit(text, "mm")))
    lacks = readings.missing or not readings.name
    return readings if form.is_right and not lacks else None


_SHADES = ("black", "white")


def show_new(asked: Asked) -> Answer:
    """The steps: print the sheet, measure it or drop a scan of it, see what was found, keep it."""
    with said_in(units_for(asked.bench)):
        return _new(asked, _form(asked))


def _new(asked: Asked, form: Form, status: int = 200) -> Answer:
    readings = _readings(form)
    looked: LookedAt | None = None
    if readings is not None:
        try:
            looked = look_at_readings(readings, asked.bench)
        except Refusal as refusal:
            form.blame(refusal, lambda other: _is_right(other, asked))
    sheet = Readings(
        name="",
        paper=form.words("paper") or "a4",
        landscape=form.words("landscape") == "yes",
        instrument=form.words("tool"),
    )
    across, along = sheet.true_mm
    values = {
        "here": "printers",
        "form": form,
        "looked": looked,
        "objection": in_parts(looked.objection) if looked and looked.objection else (),
        "report": printer_report(looked.printer, details=False) if looked else None,
        "is_card": reads_percent(sheet.instrument),
        "across_mm": f"{across:.2f}",
        "along_mm": f"{along:.2f}",
        "diagonal_mm": f"{sheet.diagonal_mm:.2f}",
        "ink": range(len(_INK)),
    }
    return Answer(template="printer_new.html", part="printer_new_live.html", values=values, status=status)


def keep(asked: Asked) -> Answer:
    """Keeps a printer that was read by hand."""
    with said_in(units_for(asked.bench)):
        form = _form(asked)
        for key, what in (("called", "its name"), ("in_tray", "the paper in its tray")):
            if not form.words(key):
                form[key].fault = f"Give {what}."
        for key in ("across", "along"):
            if not form.words(key):
                form[key].fault = "Give what you read."
        readings = _readings(form)
        if readings is None:
            return _new(asked, form, 422)
        try:
            printer = look_at_readings(readings, asked.bench).printer
        except Refusal:
            return _new(asked, form, 422)  # which says what is wrong
        return _kept(asked, form, printer) or _new(asked, form, 422)


def _is_right(form: Form, asked: Asked) -> bool:
    readings = _readings(form)
    return readings is not None and bool(look_at_readings(readings, asked.bench))


def _kept(asked: Asked, form: Form, printer: Printer) -> Answer | None:
    """Keeps a printer; None where it was refused."""
    try:
        kept = keep_printer(printer, asked.bench, save_anyway=form.words("save_anyway") == "yes")
    except Refusal as refusal:
        form.refuse(refusal, "save_anyway" if Remedy.SAVE_ANYWAY in refusal.remedies else "")
        return None
    words = f"{kept.printer} is kept."
    if form.words("usual") == "yes":
        choose_printer(asked.bench, kept.printer.name, kept.printer.tray)
        words += " Sheets are now made true for it."
    return Answer(goto=f"/printers?{urlencode({'said': words})}")


# --- from a scan


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What was found in a scan: the printer, the lines that say how, what is doubtful, a picture of it."""

    printer: Printer
    lines: tuple[str, ...]
    doubts: tuple[str, ...]
    picture: bytes


def take_scan(asked: Asked) -> Answer:
    """Begins to read pictures that were dropped."""
    form = _form(asked)
    for key, what in (("called", "its name"), ("in_tray", "the paper in its tray")):
        if not form.words(key):
            form[key].fault = f"Give {what}."
    try:
        pictures = _pictures(asked)
        dpi = float(form.words("dpi") or 0)
    except Refusal as refusal:
        form.refuse(refusal, "scan")
    except ValueError:
        form["dpi"].fault = "Give a number, such as 600."
    if not form.is_right:
        return _new(asked, form, 422)
    given = {
        "name": form.words("called"),
        "tray": form.words("in_tray"),
        "lying": form.words("lying"),
        "paper": form.words("paper") or "a4",
        "landscape": form.words("landscape") == "yes",
        "dpi": dpi,
        "date": form.words("day"),
    }

    def work(progress: Progress) -> Seen:
        progress("Reading the picture", 0, 0)
        return _seen(pictures, given)

    job = jobs.start(work)
    return Answer(goto=f"/printers/scan/{job.name}?{form.query}")


def _pictures(asked: Asked) -> tuple[tuple[str, bytes], ...]:
    """The pictures that were sent one after the other, by their names and sizes."""
    sizes = [int(size) for size in asked.one("sizes").split(",") if size.isascii() and size.isdigit()]
    names = asked.one("names").split("/")
    if not 1 <= len(sizes) <= MOST_PICTURES or len(names) != len(sizes) or sum(sizes) != len(asked.body):
        raise OutOfRange(f"{len(sizes)} pictures", f"choose one, or {MOST_PICTURES} of the same sheet")
    starts = [sum(sizes[:number]) for number in range(len(sizes))]
    return tuple(
        (name, asked.body[start : start + size]) for name, start, size in zip(names, starts, sizes, strict=True)
    )


def _seen(pictures: tuple[tuple[str, bytes], ...], given: dict[str, Any]) -> Seen:
    found = scan_pictures(pictures, **given)
    return Seen(
        printer=found.printer,
        lines=tuple(scan_lines(found.scan, found.ink)),
        doubts=tuple(scan_doubts(found.scan)),
        picture=picture_of(found),
    )


def follow(asked: Asked) -> Answer:
    """How far the reading is, or what was found."""
    with said_in(units_for(asked.bench)):
        return _found(asked, _form(asked))


def _found(asked: Asked, form: Form, status: int = 200) -> Answer:
    job = _job(asked)
    made = job.made
    looked = look_at_printer(made.printer, asked.bench) if isinstance(made, Seen) else None
    values = {
        "here": "printers",
        "job": job,
        "address": f"/printers/scan/{job.name}",
        "form": form,
        "looked": looked,
        "objection": in_parts(looked.objection) if looked and looked.objection else (),
        "report": printer_report(looked.printer, details=False) if looked else None,
        "refused": said(job.refusal) if job.refusal else "",
    }
    return Answer(template="printer_scan.html", part="printer_scan_live.html", values=values, status=status)


def _job(asked: Asked) -> Job:
    job = jobs.find(asked.path["job"])
    if job is None:
        raise Refusal("that scan has gone from here", "drop it again")
    return job


def send_picture(asked: Asked) -> Answer:
    """The picture of what was found."""
    made = _job(asked).made
    if not isinstance(made, Seen):
        raise QuantityRefused("the picture is still to come", "wait until the scan is read")
    return Answer(content=made.picture, kind="image/png")


def keep_scan(asked: Asked) -> Answer:
    """Keeps the printer that a scan showed."""
    with said_in(units_for(asked.bench)):
        form = _form(asked)
        made = _job(asked).made
        if not isinstance(made, Seen):
            return _found(asked, form)
        return _kept(asked, form, made.printer) or _found(asked, form, 422)


ROUTES = (
    Route("/printers", show_all),
    Route("/printers/one", show_one),
    Route("/printers/usual", choose, "POST"),
    Route("/printers/none", choose_none, "POST"),
    Route("/printers/forget", forget, "POST"),
    Route("/printers/new", show_new),
    Route("/printers/look", show_new, "POST"),
    Route("/printers/new", keep, "POST"),
    Route("/printers/scan", take_scan, "POST"),
    Route("/printers/scan/{job}", follow),
    Route("/printers/scan/{job}", keep_scan, "POST"),
    Route("/printers/scan/{job}/found.png", send_picture),
)
