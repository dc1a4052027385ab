"""Records of batches: the boxes of the job card, what came of each, and what to wind the next batch on."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any
from urllib.parse import quote

from jigs.actions.bench import things_on_bench
from jigs.actions.record import correct_record, forget_record, list_records, record_batch, show_record
from jigs.bench.record import FIELDS, SIZES
from jigs.bench.record import Field as RecordField
from jigs.bench.settings import units_for
from jigs.making.cutting import CUTS
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.names import names_of
from jigs.reports.record import recorded_report, records_report
from jigs.stock.metal import TEMPERS
from layouts.errors import Refusal
from layouts.files.values import words
from layouts.lengths import said_in
from layouts.units import with_unit

_WHOLE = ("good", "rejects", "chain_rings")
_CHOICES = {"temper": TEMPERS, "cut": CUTS}
_NAMED = {
    "spool": "spool",
    "metal": "metal",
    "mandrel": "mandrel",
    "blade": "blade",
    "with": "instrument",
    "chain_with": "instrument",
}
_SELDOM = ("temper", "measured", "coil_outside", "cut", "trim", "chain_with", "scale", "by", "confirmed")
_IN_MM = (*SIZES, "measured", "wanted")


def show_all(asked: Asked) -> Answer:
    """Every record, with what was expected of its batch by all the others."""
    with said_in(units_for(asked.bench)):
        known = list_records(asked.bench)
        values = {
            "here": "records",
            "report": records_report(known) if known else None,
            "names": [told.record.name for told in known],
            "said": asked.one("said"),
        }
        return Answer(template="records.html", values=values)


def show_new(asked: Asked) -> Answer:
    """The boxes of the job card, to fill in."""
    return _filled_in(asked, _form(asked), "")


def _form(asked: Asked) -> Form:
    name = Box(key="name", label="Name", hint="Empty: it is numbered.")
    return Form.filled((name, *(_box(field, asked) for field in FIELDS)), asked)


def _box(field: RecordField, asked: Asked) -> Box:
    title = field.box or field.key.replace("_", " ")
    hint = f"{field.about[:1].upper()}{field.about[1:]}."
    box = Box(key=field.key, label=f"{title[:1].upper()}{title[1:]}", hint=hint)
    if field.key in SIZES:
        box.kind, box.hint = "lines", f"{hint} Each reading on a line; a bare figure is in mm."
    elif field.key == "confirmed":
        box.kind, box.label, box.hint = "tick", "Confirmed", hint
    elif field.key in _CHOICES:
        box.kind, box.choices = "choice", [("", ""), *((choice, choice) for choice in _CHOICES[field.key])]
    elif field.key in _NAMED:
        box.suggestions = names_of(_NAMED[field.key], asked.bench)
    elif field.key == "date":
        box.usual = date.today().isoformat()
    return box


def _filled_in(asked: Asked, form: Form, old: str, status: int = 200) -> Answer:
    boxes = [form[field.key] for field in FIELDS]
    values = {
        "here": "records",
        "form": form,
        "old": old,
        "usual": [box for box in boxes if box.key not in _SELDOM],
        "others": [box for box in boxes if box.key in _SELDOM],
        "address": f"/records/{quote(old, safe='')}" if old else "/records/new",
    }
    return Answer(template="record_form.html", part="record_form_live.html", values=values, status=status)


def write_down(asked: Asked) -> Answer:
    """Records a batch, or says what is wrong with the boxes."""
    form = _form(asked)
    form.read("name", words())
    if not form.is_right:
        return _filled_in(asked, form, "", 422)
    try:
        found = record_batch(asked.bench, _values(form), name=form.words("name"))
    except Refusal as refusal:
        form.refuse(refusal)
        return _filled_in(asked, form, "", 422)
    return Answer(goto=f"/records/{quote(found.told.record.name, safe='')}?said=kept")


def _values(form: Form) -> dict[str, Any]:
    """What was typed, as a record takes it: a bare figure in millimetres, several readings as a tuple."""
    values: dict[str, Any] = {}
    for field in FIELDS:
        box = form[field.key]
        typed = box.value.strip()
        if field.key in SIZES:
            values[field.key] = tuple(with_unit(line, "mm") for line in box.lines if line)
        elif field.key in _IN_MM:
            values[field.key] = with_unit(typed, "mm")
        elif field.key in _WHOLE and typed.isascii() and typed.isdigit() and len(typed) < 10:
            values[field.key] = int(typed)
        elif field.key == "confirmed":
            values[field.key] = True if typed == "yes" else None
        else:
            values[field.key] = typed
    return values


def show_one(asked: Asked) -> Answer:
    """One record, and what to wind the next batch on."""
    name = asked.path["record"]
    with said_in(units_for(asked.bench)):
        report = replace(recorded_report(show_record(asked.bench, name)), heading="What was read, and expected")
        values = {
            "here": "records",
            "name": name,
            "address": f"/records/{quote(name, safe='')}",
            "report": report,
            "said": asked.one("said"),
        }
        return Answer(template="record.html", values=values)


def show_to_correct(asked: Asked) -> Answer:
    """A record as it was filled in."""
    name = asked.path["record"]
    show_record(asked.bench, name)  # refuses one that is not there
    kept = things_on_bench(asked.bench, "record")[name]
    form = _form(asked)
    for field in FIELDS:
        box, value = form[field.key], kept.get(field.key, "")
        box.value = "\n".join(map(str, value)) if isinstance(value, list) else str(value)
        if value is True:
            box.value = "yes"
        box.values = (box.value,)
    return _filled_in(asked, form, name)


def correct(asked: Asked) -> Answer:
    """Changes what was changed of a record, and leaves the rest."""
    name = asked.path["record"]
    form = _form(asked)
    kept = things_on_bench(asked.bench, "record").get(name, {})
    values = {key: value for key, value in _values(form).items() if value != _as_typed(kept.get(key))}
    try:
        correct_record(asked.bench, name, values)
    except Refusal as refusal:
        form.refuse(refusal)
        return _filled_in(asked, form, name, 422)
    return Answer(goto=f"/records/{quote(name, safe='')}?said=kept")


def _as_typed(value: Any) -> Any:
    return tuple(map(str, value)) if isinstance(value, list) else value


def forget(asked: Asked) -> Answer:
    """Takes a record out of its file."""
    forget_record(asked.bench, asked.path["record"])
    return Answer(goto="/records?said=forgotten")


ROUTES = (
    Route("/records", show_all),
    Route("/records/new", show_new),
    Route("/records/new", write_down, "POST"),
    Route("/records/{record}", show_one),
    Route("/records/{record}/correct", show_to_correct),
    Route("/records/{record}", correct, "POST"),
    Route("/records/{record}/forget", forget, "POST"),
)
