"""The drawer: mandrels, drills, blades, spools and instruments, and the unit in which lengths are said."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from jigs.actions.bench import add_to_bench, choose_units, forget_from_bench, things_on_bench
from jigs.bench.fields import OWNED, OwnedField
from jigs.bench.settings import units_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.names import names_of
from jigs.page.refusals import said
from jigs.reports.report import Column, Report
from layouts.errors import Refusal, UnknownName
from layouts.files.values import words
from layouts.lengths import UNITS

_TITLES = {
    "mandrel": ("Mandrels", "Rods, dowels and whatever else you wind on. A plan takes these before any that are sold."),
    "drill": ("Drills", "For cross-holes. Without any here, a plan may name every size of the series."),
    "blade": ("Blades", "With the kerf that you measured."),
    "spool": ("Spools", "Wire at hand: a plan uses it up before it buys."),
    "instrument": ("Instruments", "A caliper or rule of yours that reads better, or worse, than is usual."),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of thing as it is shown: what there is of it, each with its address; or why it cannot be read."""

    name: str
    title: str
    about: str
    report: Report | None = None
    links: tuple[tuple[str, str], ...] = ()
    fault: str = ""


def show(asked: Asked) -> Answer:
    """Everything that is in the drawer."""
    kinds = tuple(_kind(asked, kind) for kind in OWNED)
    units = Box(key="units", label="Lengths are said in", kind="choice", choices=[(unit, unit) for unit in UNITS])
    units.value = units_for(asked.bench)
    values = {"here": "drawer", "kinds": kinds, "units": units, "said": asked.one("said")}
    return Answer(template="drawer.html", values=values)


def _kind(asked: Asked, kind: str) -> Kind:
    title, about = _TITLES[kind]
    try:
        things = things_on_bench(asked.bench, kind)
    except Refusal as refusal:
        return Kind(name=kind, title=title, about=about, fault=said(refusal))
    fields = [field for field in OWNED[kind] if any(field.key in values for values in things.values())]
    columns = (Column("name", kind), *(Column(field.key, field.title.casefold()) for field in fields))
    rows = tuple((name, *(_shown(values.get(field.key)) for field in fields)) for name, values in things.items())
    report = Report(key=f"{kind}s", columns=columns, rows=rows) if rows else None
    links = tuple((name, f"/drawer/{kind}?{urlencode({'name': name})}") for name in things)
    return Kind(name=kind, title=title, about=about, report=report, links=links)


def _shown(value: Any) -> str | None:
    return None if value is None else ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def show_one(asked: Asked) -> Answer:
    """A thing to change, or a new one."""
    kind, name = _checked(asked), asked.one("name")
    things = things_on_bench(asked.bench, kind)
    if name and name not in things:
        raise UnknownName(kind, name, things)
    before = things.get(name)
    form = _form(asked, kind)
    if before is not None:
        for box in form.boxes.values():
            box.value = name if box.key == "name" else _shown(before.get(box.key)) or ""
    return _one(asked, kind, form, before)


def _checked(asked: Asked) -> str:
    kind = asked.path["kind"]
    if kind not in OWNED:
        raise UnknownName("kind of thing", kind, OWNED)
    return kind


def _form(asked: Asked, kind: str) -> Form:
    name = Box(key="name", label="Name", hint="What you call it; plans and job cards do too.")
    return Form.filled((name, *(_box(field, asked) for field in OWNED[kind])), asked)


def _box(field: OwnedField, asked: Asked) -> Box:
    box = Box(key=field.key, label=field.title, hint=field.help)
    if field.choices:
        box.kind, box.choices = "choice", [("", ""), *((choice, choice) for choice in field.choices)]
    elif field.of:
        box.suggestions = names_of(field.of, asked.bench)
    return box


def _one(asked: Asked, kind: str, form: Form, before: dict[str, Any] | None, status: int = 200) -> Answer:
    values = {
        "here": "drawer",
        "kind": kind,
        "title": _TITLES[kind][0],
        "form": form,
        "before": "" if before is None else json.dumps(before),
        "old": "" if before is None else form.words("name"),
    }
    return Answer(template="drawer_one.html", part="drawer_one_live.html", values=values, status=status)


def save(asked: Asked) -> Answer:
    """Writes a thing into its file, or says what is wrong with it."""
    kind = _checked(asked)
    form = _form(asked, kind)
    before = _before(asked)
    name = form.words("name")
    form.read("name", words(), needed="Give it a name.")
    for field in OWNED[kind]:
        if field.is_needed and not form.words(field.key):
            form[field.key].fault = f"Give the {field.title.casefold()}."
    if form.is_right:
        try:
            given = {field.key: _value(field, form.words(field.key)) for field in OWNED[kind]}
            add_to_bench(asked.bench, kind, name, given, replace=before is not None, before=before)
        except Refusal as refusal:
            form.refuse(refusal, "" if before is not None else "name" if refusal.remedies else "")
        else:
            return Answer(goto=f"/drawer?{urlencode({'said': f'{name} is kept.'})}#{kind}")
    return _one(asked, kind, form, before, 422)


def _before(asked: Asked) -> dict[str, Any] | None:
    """What the thing was when it was opened; None of a new one."""
    try:
        before = json.loads(asked.one("before") or "null")
    except ValueError:
        return None
    return before if isinstance(before, dict) else None


def _value(field: OwnedField, typed: str) -> str | float | None:
    """As it is written in the file; what is not a number is written as it was typed, for the reader to refuse."""
    if field.is_number and typed.isascii() and typed.isdigit() and len(typed) < 10:
        return int(typed)
    if field.is_number:
        try:
            return float(typed.replace(",", "."))
        except ValueError:
            pass
    return typed or None


def forget(asked: Asked) -> Answer:
    """Takes a thing out of its file."""
    kind, name = _checked(asked), asked.one("name")
    forget_from_bench(asked.bench, kind, name)
    return Answer(goto=f"/drawer?{urlencode({'said': f'{name} is forgotten.'})}#{kind}")


def keep_units(asked: Asked) -> Answer:
    """From now on lengths are said in this unit."""
    choose_units(asked.bench, asked.one("units", "mm"))
    return Answer(goto="/drawer")


ROUTES = (
    Route("/drawer", show),
    Route("/drawer/units", keep_units, "POST"),
    Route("/drawer/{kind}", show_one),
    Route("/drawer/{kind}", save, "POST"),
    Route("/drawer/{kind}/forget", forget, "POST"),
)
