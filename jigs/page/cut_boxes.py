"""What everything that is cut shares on the page: material, machine and sheet as boxes, the parts drawn, the files."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path, PurePath
from typing import Any

from jigs.actions.cut import NOTES, Cut, CutOutput
from jigs.actions.machine import list_machines
from jigs.page.asked import Answer
from jigs.page.boxes import Box, Form
from jigs.page.papers import units_box
from jigs.page.refusals import said
from layouts.errors import Refusal, UnknownName
from layouts.machines.machine import PLASTIC
from layouts.pages.paper import papers
from layouts.render import formats_in
from layouts.render.cut_svg import write_cut_svg
from layouts.render.formats import CUTTING

_TITLES = {NOTES: "What to heed, as text"}
"""What a file is called on its button, where that is not its format."""
_TOOLS = (("", "a laser"), ("knife", "a knife"))


def cut_boxes(bench: Path, example: Mapping[str, object], *, is_new: bool = True) -> tuple[Box, ...]:
    """The boxes, by the names of the fields of a `CutOutput`; they begin with the example, which is in new ones."""
    machines, own, damaged = _machines(bench)
    plain = CutOutput()
    materials = tuple(dict.fromkeys((*own, "birch plywood", "acrylic", "card")))
    boxes = (
        Box(key="material", label="Material", suggestions=materials, sound="birch plywood"),
        Box(key="material_thickness", label="Its thickness", hint="As the caliper reads it, with its unit."),
        Box(key="tool", label="Cut by", kind="choice", choices=_TOOLS),
        Box(
            key="machine",
            label="Machine",
            kind="choice",
            choices=machines,
            hint=damaged or "What it takes away is undone as you measured it.",
        ),
        Box(key="kerf", label="Width of the cut", hint="If that is all you know of it."),
        Box(
            key="sheet",
            label="Sheet of material",
            hint="Both sides, or the name of a paper.",
            usual=plain.sheet,
            suggestions=tuple(papers()),
        ),
        Box(key="margin", label="Kept free at its edges", usual=plain.margin),
        Box(key="gap", label="Kept between the parts", usual=plain.gap),
        units_box(),
    )
    for box in boxes:
        began = str(example.get(box.key, ""))
        box.sound = began or box.sound
        box.usual = (is_new and began) or box.usual
    return boxes


def _machines(bench: Path) -> tuple[list[tuple[str, str]], list[str], str]:
    """The lasers and knives to choose from, what they were measured in, and what is damaged: it can be cut without."""
    none = ("", "not measured")
    try:
        known = [machine for machine in list_machines(bench) if machine.kind != PLASTIC]
    except Refusal as refusal:
        return [none], [], said(refusal)
    names = dict.fromkeys(machine.name for machine in known)
    return [none, *((name, name) for name in names)], [machine.material for machine in known], ""


def cut_output_of(form: Form, bench: Path, formats: str) -> CutOutput:
    """How a thing is wanted from a laser or a knife."""
    keys = ("material", "material_thickness", "tool", "machine", "kerf", "sheet", "margin", "gap", "units")
    return CutOutput(formats=formats, bench=bench, **{key: form.words(key) for key in keys})  # type: ignore[arg-type]


def names_to_cut(stem: str, count: int) -> list[tuple[str, str]]:
    """The names of the files of so many sheets as they are written, and what each is called on its button."""
    return [
        (
            f"{stem}-mm{f'-{number}' if number > 1 else ''}.{ending}",
            f"{_TITLES.get(ending, ending.upper())}{f' {number}' if count > 1 else ''}",
        )
        for ending in CUTTING
        for number in range(1, count + 1)
    ]


def sent(make: Callable[[str], Cut], name: str) -> Answer:
    """A file to cut by its name: the very bytes that it has when it is written into a folder."""
    (ending,) = formats_in(PurePath(name).suffix.removeprefix("."), CUTTING)
    files = {path.name: data for path, data in make(ending).files}
    if name not in files:
        raise UnknownName("file to cut", name, files)
    return Answer(content=files[name], kind=CUTTING[ending].media, file_name=name)


def shown(cut: Cut | None, stem: str, address: str) -> dict[str, Any]:
    """What is shown of a thing to cut: its sheets drawn, the names of its files, and where they are."""
    return {
        "cut": cut,
        "files_at": address,
        "sheets": [(sheet.board.words, write_cut_svg(sheet, embedded=True)) for sheet in (cut.sheets if cut else ())],
        "files": names_to_cut(stem, len(cut.sheets)) if cut else (),
    }
