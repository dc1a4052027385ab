"""The boxes that everything printed shares: the paper, the printer that it is made true for, the head of the sheet."""

from __future__ import annotations

from pathlib import Path

from jigs.actions.output import Output
from jigs.actions.printer import list_printers
from jigs.page.boxes import Box, Form
from jigs.page.refusals import said
from layouts.errors import Refusal
from layouts.lengths import UNITS
from layouts.pages.paper import papers


def printer_choices(bench: Path) -> tuple[list[tuple[str, str]], tuple[str, ...], str]:
    """The printers that a sheet may be made true for, the usual one first; their trays; what is damaged."""
    damaged = ""
    try:
        measured, usual = list_printers(bench)
    except Refusal as refusal:  # the sheet can be drawn without one
        measured, usual, damaged = (), None, said(refusal)
    names = dict.fromkeys(printer.name for printer in measured)
    first = f"the usual one: {usual.name}" if usual else "not corrected"
    printers = [("", first), *((name, name) for name in names)]
    if usual:
        printers.append(("none", "not corrected"))
    return printers, tuple(dict.fromkeys(printer.tray for printer in measured)), damaged


def output_boxes(bench: Path) -> tuple[Box, ...]:
    """The boxes, by the names of the fields of an `Output`."""
    printers, trays, damaged = printer_choices(bench)
    return (
        paper_box(),
        Box(key="landscape", label="Landscape: the long side across", kind="tick"),
        Box(key="tile", label="Split over several pages what is larger than one", kind="tick"),
        Box(key="printer", label="Made true for the printer", kind="choice", choices=printers, hint=damaged),
        Box(key="tray", label="Paper in its tray", suggestions=trays, hint="As you named it when you measured."),
        Box(key="title", label="A line of your own in the head"),
        Box(key="date", label="A date to print"),
        units_box(),
    )


def paper_box(label: str = "Paper") -> Box:
    """The size of the paper."""
    return Box(key="paper", label=label, kind="choice", choices=[(name, name) for name in papers()], usual="a4")


def units_box() -> Box:
    """How lengths are said."""
    units = [("", "as in the drawer"), *((unit, unit) for unit in UNITS)]
    return Box(key="units", label="Lengths said in", kind="choice", choices=units)


def output_of(form: Form, bench: Path, formats: str) -> Output:
    """How a thing is wanted on paper."""
    return Output(
        paper=form.words("paper"),
        landscape=form.words("landscape") == "yes",
        tile=form.words("tile") == "yes",
        formats=formats,
        title=form.words("title"),
        date=form.words("date"),
        printer=form.words("printer"),
        tray=form.words("tray"),
        units=form.words("units"),
        bench=bench,
    )
