"""Every aid for a laser or a knife: its fields as a form, the sheets of material as one types, and the files to cut."""

from __future__ import annotations

from datetime import date
from pathlib import PurePath
from typing import Any

from jigs.actions.cut import NOTES, Cut, CutOutput, cut_files
from jigs.actions.machine import list_machines
from jigs.bench.reading import read_bench
from jigs.guides.catalogue import Sheet, cut_aids, find_cut_aid
from jigs.page.aid_boxes import boxes_of, typed_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.papers import units_box
from jigs.page.refusals import said
from jigs.page.views.machines import ROUTES as MACHINES
from layouts.errors import Refusal, UnknownName
from layouts.machines.machine import PLASTIC
from layouts.pages.paper import papers
from layouts.render import formats_in
from layouts.render.cut_svg import write_cut_svg
from layouts.render.formats import CUTTING

_KINDS = {"dxf": "image/vnd.dxf", "svg": "image/svg+xml", NOTES: "text/plain; charset=utf-8"}
_TITLES = {"dxf": "DXF", "svg": "SVG", NOTES: "What to heed, as text"}
_TOOLS = (("", "a laser"), ("knife", "a knife"))


def show_all(asked: Asked) -> Answer:
    """What there is to cut."""
    known = cut_aids()
    first = {aid.name: _first(aid, asked) for aid in known}
    return Answer(template="cut_all.html", values={"here": "cut", "aids": known, "first": first})


def _first(aid: Sheet, asked: Asked) -> bytes:
    """The first sheet of a usual one."""
    form = Form.filled(_boxes(aid, asked), Asked(bench=asked.bench))
    cut = cut_files(aid.name, typed_for(aid.fields_to_cut, form), _output(form, asked, ""), date.today())
    return write_cut_svg(cut.sheets[0], embedded=True)


def show(asked: Asked) -> Answer:
    """An aid with what was filled in, or what is wrong with it."""
    aid = find_cut_aid(asked.path["aid"])
    form = Form.filled(_boxes(aid, asked), asked)
    cut: Cut | None = None
    try:
        cut = cut_files(aid.name, typed_for(aid.fields_to_cut, form), _output(form, asked, ""), date.today())
    except Refusal as refusal:
        form.refuse(refusal)
    names = {field.key for field in aid.fields_to_cut}
    values: dict[str, Any] = {
        "here": "cut",
        "aid": aid,
        "form": form,
        "fields": [box for key, box in form.boxes.items() if key in names],
        "cut": cut,
        "sheets": [(sheet.board.words, write_cut_svg(sheet, embedded=True)) for sheet in (cut.sheets if cut else ())],
        "files": _names(aid, len(cut.sheets)) if cut else (),
    }
    return Answer(template="cut.html", part="cut_live.html", values=values)


def _names(aid: Sheet, count: int) -> list[tuple[str, str]]:
    """The names of the files as they are written, and what each is called on its button."""
    return [
        (f"{aid.name}-mm{f'-{number}' if number > 1 else ''}.{ending}", f"{title}{f' {number}' if count > 1 else ''}")
        for ending, title in _TITLES.items()
        for number in range(1, count + 1)
    ]


def send(asked: Asked) -> Answer:
    """A file to cut: the very bytes that it has when it is written into a folder."""
    aid, name = find_cut_aid(asked.path["aid"]), asked.path["file"]
    form = Form.filled(_boxes(aid, asked), asked)
    (ending,) = formats_in(PurePath(name).suffix.removeprefix("."), CUTTING)
    cut = cut_files(aid.name, typed_for(aid.fields_to_cut, form), _output(form, asked, ending), date.today())
    files = {path.name: data for path, data in cut.files}
    if name not in files:
        raise UnknownName("file of this aid", name, files)
    return Answer(content=files[name], kind=_KINDS[ending], file_name=name)


def _boxes(aid: Sheet, asked: Asked) -> tuple[Box, ...]:
    """Those of its fields, then those that all have, by the names of the fields of a `CutOutput`."""
    usual = {} if asked.given else aid.cut_examples[0]
    machines, damaged = [("", "not measured")], ""
    try:
        known = [machine for machine in list_machines(asked.bench) if machine.kind != PLASTIC]
        machines += [(name, name) for name in dict.fromkeys(machine.name for machine in known)]
    except Refusal as refusal:  # it can be cut without one
        known, damaged = [], said(refusal)
    plain = CutOutput()
    materials = tuple(dict.fromkeys((*(machine.material for machine in known), "birch plywood", "acrylic", "card")))
    first = {key: str(usual.get(key, "")) for key in ("material", "material_thickness", "tool", "kerf")}
    return (
        *boxes_of(aid.fields_to_cut, usual, read_bench(asked.bench)),
        Box(key="material", label="Material", suggestions=materials, usual=first["material"]),
        Box(
            key="material_thickness",
            label="Its thickness",
            hint="As the caliper reads it, with its unit.",
            usual=first["material_thickness"],
        ),
        Box(key="tool", label="Cut by", kind="choice", choices=_TOOLS, usual=first["tool"]),
        Box(
            key="machine",
            label="Machine",
            kind="choice",
            choices=machines,
            hint=damaged or "What it takes away is undone as you measured it.",
        ),
        Box(key="kerf", label="Width of the cut", hint="If that is all you know of it.", usual=first["kerf"]),
        Box(
            key="sheet",
            label="Sheet of material",
            hint="Both sides, or the name of a paper.",
            usual=str(usual.get("sheet", plain.sheet)),
            suggestions=tuple(papers()),
        ),
        Box(key="margin", label="Kept free at its edges", usual=plain.margin),
        Box(key="gap", label="Kept between the parts", usual=plain.gap),
        units_box(),
    )


def _output(form: Form, asked: Asked, formats: str) -> CutOutput:
    keys = ("material", "material_thickness", "tool", "machine", "kerf", "sheet", "margin", "gap", "units")
    return CutOutput(formats=formats, bench=asked.bench, **{key: form.words(key) for key in keys})  # type: ignore[arg-type]


ROUTES = (Route("/cut", show_all), *MACHINES, Route("/cut/{aid}", show), Route("/cut/{aid}/{file}", send))
