"""Every sheet of the catalogue: its fields as a form, its pages as one types, and the files to print."""

from __future__ import annotations

from datetime import date
from pathlib import PurePath

from jigs.actions.output import Output
from jigs.actions.sheet import Drawn, draw_sheet, sheet_files
from jigs.bench.reading import read_bench
from jigs.guides.catalogue import AskedKind, Sheet, find_sheet, sheets
from jigs.page.aid_boxes import boxes_of, typed_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Form
from jigs.page.papers import output_boxes, output_of
from layouts.errors import Refusal, UnknownName
from layouts.render import formats_in
from layouts.render.formats import TABLE, Holds
from layouts.render.svg import write_svg


def show_all(asked: Asked) -> Answer:
    """What there is to print."""
    known = sheets()
    first = {sheet.name: _first(sheet, asked) for sheet in known}
    return Answer(template="sheets.html", values={"here": "sheets", "sheets": known, "first": first})


def _first(sheet: Sheet, asked: Asked) -> bytes:
    """The first page of a usual sheet, uncorrected, so that a damaged printer hides none."""
    output = Output(bench=asked.bench, printer="none")
    return write_svg(draw_sheet(sheet.name, sheet.example(), output, date.today()).pages[0], embedded=True)


def show(asked: Asked) -> Answer:
    """A sheet with what was filled in, or what is wrong with it."""
    sheet = _sheet(asked)
    form = _form(sheet, asked)
    drawn = _drawn(sheet, form, asked)
    values = {
        "here": "sheets",
        "sheet": sheet,
        "about": [part for part in sheet.about if "\n" not in part],
        "form": form,
        "fields": [form[field.key] for field in sheet.fields if field.kind is not AskedKind.FILE],
        "drawn": drawn,
        "pages": [write_svg(page, embedded=True) for page in (drawn.pages if drawn else ())],
        "files": _names(sheet, drawn) if drawn else {},
    }
    return Answer(template="sheet.html", part="sheet_live.html", values=values)


def send(asked: Asked) -> Answer:
    """A file of the sheet: the very bytes that the same sheet has when it is written into a folder."""
    sheet, name = _sheet(asked), asked.path["file"]
    form = _form(sheet, asked)
    (ending,) = formats_in(PurePath(name).suffix.removeprefix("."))
    output = output_of(form, asked.bench, ending)
    files = dict(sheet_files(sheet.name, typed_for(sheet.fields, form), output, date.today()))
    if name not in files:
        raise UnknownName("file of this sheet", name, files)
    return Answer(
        content=files[name], kind=TABLE[ending].media, file_name=name, is_shown=TABLE[ending].holds is Holds.ALL_PAGES
    )


def _sheet(asked: Asked) -> Sheet:
    return find_sheet(asked.path["sheet"])


def _form(sheet: Sheet, asked: Asked) -> Form:
    owned = read_bench(asked.bench)
    fields = boxes_of(sheet.fields, sheet.example(), owned, is_new=not asked.given)
    return Form.filled((*fields, *output_boxes(asked.bench)), asked)


def _drawn(sheet: Sheet, form: Form, asked: Asked) -> Drawn | None:
    def draw(form: Form) -> Drawn:
        output = output_of(form, asked.bench, "pdf")
        return draw_sheet(sheet.name, typed_for(sheet.fields, form), output, date.today())

    try:
        return draw(form)
    except Refusal as refusal:
        form.blame(refusal, lambda other: bool(draw(other)))
        return None


def _names(sheet: Sheet, drawn: Drawn) -> dict[str, list[str]]:
    """The names of the files by their ending, as they are written."""
    more = [f"{sheet.name}-{number}.svg" for number in range(2, len(drawn.pages) + 1)]
    return {"pdf": [f"{sheet.name}.pdf"], "svg": [f"{sheet.name}.svg", *more]}


ROUTES = (Route("/sheets", show_all), Route("/sheets/{sheet}", show), Route("/sheets/{sheet}/{file}", send))
