"""Every aid for a 3D printer: its fields as a form, its leaf with a picture as one types, and its files."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path, PurePath
from typing import Any

from jigs.actions.machine import list_machines
from jigs.actions.output import Output
from jigs.actions.solid import Built, solid_files
from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.guides.catalogue import Sheet, find_solid_aid, solid_aids
from jigs.page.aid_boxes import boxes_of, typed_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.papers import paper_box, units_box
from jigs.page.refusals import said
from layouts.errors import Refusal, UnknownName
from layouts.machines.machine import PLASTIC
from layouts.render import formats_in
from layouts.render.formats import SOLIDS, TABLE
from layouts.render.svg import write_svg

_LEAF = "pdf"
_TITLES = {"3mf": "3MF to print", _LEAF: "Leaf to read, PDF"}
"""What a file is called on its button, where that is not its format."""


def show_all(asked: Asked) -> Answer:
    """What there is to print as a solid."""
    known = solid_aids()
    fault, first = "", dict[str, bytes]()
    try:
        first = {aid.name: _first(aid.name) for aid in known}
    except Refusal as refusal:  # what makes solids is not installed
        fault = said(refusal)
    return Answer(template="solids.html", values={"here": "solids", "aids": known, "first": first, "fault": fault})


@cache
def _first(name: str) -> bytes:
    """The leaf of its simplest example, which is drawn at once; for no bench."""
    aid = find_solid_aid(name)
    form = Form.filled(boxes_of(aid.fields, aid.solid_examples[-1], Bench()), Asked(bench=Path()))
    return write_svg(
        solid_files(name, typed_for(aid.fields, form), Output(formats=""), date.min).leaf[0], embedded=True
    )


def show(asked: Asked) -> Answer:
    """An aid with what was filled in, or what is wrong with it."""
    aid = find_solid_aid(asked.path["aid"])
    form = Form.filled(_boxes(aid, asked), asked)
    built: Built | None = None
    try:
        built = _made(aid, form, asked, "")
    except Refusal as refusal:
        form.blame(refusal, lambda other: bool(_made(aid, other, asked, "")))
    names = {field.key for field in aid.fields}
    values: dict[str, Any] = {
        "here": "solids",
        "aid": aid,
        "form": form,
        "fields": [box for key, box in form.boxes.items() if key in names],
        "built": built,
        "pages": [write_svg(page, embedded=True) for page in (built.leaf if built else ())],
        "files": [(f"{aid.name}.{ending}", _TITLES.get(ending, ending.upper())) for ending in (*SOLIDS, _LEAF)],
    }
    return Answer(template="solid.html", part="solid_live.html", values=values)


def send(asked: Asked) -> Answer:
    """A file of the solid: the very bytes that it has when it is written into a folder."""
    aid, name = find_solid_aid(asked.path["aid"]), asked.path["file"]
    form = Form.filled(_boxes(aid, asked), asked)
    offered = {**SOLIDS, _LEAF: TABLE[_LEAF]}
    (ending,) = formats_in(PurePath(name).suffix.removeprefix("."), offered)
    files = {path.name: data for path, data in _made(aid, form, asked, ending).files}
    if name not in files:
        raise UnknownName("file of this solid", name, files)
    return Answer(content=files[name], kind=offered[ending].media, file_name=name, is_shown=ending == _LEAF)


def _boxes(aid: Sheet, asked: Asked) -> tuple[Box, ...]:
    """Those of its fields, then the machine that it is made true for, and its leaf."""
    machines, damaged = [("", "not measured")], ""
    try:
        known = [machine for machine in list_machines(asked.bench) if machine.kind == PLASTIC]
        machines += [(name, name) for name in dict.fromkeys(machine.name for machine in known)]
    except Refusal as refusal:  # it can be made without one
        known, damaged = [], said(refusal)
    materials = tuple(dict.fromkeys(machine.material for machine in known))
    return (
        *boxes_of(aid.fields, aid.solid_examples[0], read_bench(asked.bench), is_new=not asked.given),
        Box(
            key="machine",
            label="Machine",
            kind="choice",
            choices=machines,
            hint=damaged or "Sizes are corrected as you measured it.",
        ),
        Box(key="material", label="Plastic", suggestions=materials, hint="The one it was measured in, such as PLA."),
        paper_box("Paper of the leaf"),
        units_box(),
    )


def _made(aid: Sheet, form: Form, asked: Asked, formats: str) -> Built:
    output = Output(bench=asked.bench, formats=formats, paper=form.words("paper"), units=form.words("units"))
    machine, material = form.words("machine"), form.words("material")
    given = typed_for(aid.fields, form)
    return solid_files(aid.name, given, output, date.today(), machine=machine, material=material)


ROUTES = (Route("/solids", show_all), Route("/solids/{aid}", show), Route("/solids/{aid}/{file}", send))
