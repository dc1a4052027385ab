"""Machines that cut or build: measured by a coupon, step by step, kept, opened, forgotten."""

from __future__ import annotations

from datetime import date
from typing import Any
from urllib.parse import urlencode

from jigs.actions.machine import CouponReadings, find_machine, forget_machine, list_machines, measure_machine
from jigs.bench.settings import units_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.reports.machine import machine_report, machines_report
from layouts.errors import Refusal, Remedy
from layouts.lengths import said_in
from layouts.machines.machine import KINDS, Machine
from layouts.machines.tried import tools
from layouts.showing import show_mm
from layouts.units import with_unit

_WORDS = dict(zip(KINDS, ("a laser", "a knife", "a 3D printer"), strict=True))
_EACH = ("hole", "slot", "pin", "tab")
_READ = "What it reads, and what was drawn, such as {}. One per line."


def show_all(asked: Asked) -> Answer:
    """Every machine that was measured."""
    with said_in(units_for(asked.bench)):
        known = list_machines(asked.bench)
        values = {
            "here": "cut",
            "report": machines_report(known) if known else None,
            "links": [(str(machine), f"/cut/machines/one?{urlencode(_which(machine))}") for machine in known],
            "said": asked.one("said"),
        }
        return Answer(template="machines.html", values=values)


def _which(machine: Machine) -> dict[str, str]:
    thick = show_mm(machine.thickness_mm) if machine.thickness_mm else ""
    return {"name": machine.name, "material": machine.material, "thickness": thick}


def show_one(asked: Asked) -> Answer:
    """One machine: what sizes gain by it, and what a corrected size is good for."""
    with said_in(units_for(asked.bench)):
        machine = find_machine(asked.bench, asked.one("name"), asked.one("material"), asked.one("thickness"))
        values = {
            "here": "cut",
            "which": _which(machine),
            "report": machine_report(machine, details=False),
            "warnings": machine.warnings(date.today()),
        }
        return Answer(template="machine.html", values=values)


def forget(asked: Asked) -> Answer:
    """Deletes a record."""
    gone = forget_machine(asked.bench, asked.one("name"), asked.one("material"), asked.one("thickness"))
    return Answer(goto=f"/cut/machines?{urlencode({'said': f'{gone} is forgotten.'})}")


# --- measuring one


def _form(asked: Asked) -> Form:
    with_what = [("", "shanks inside, caliper outside"), *((name, tool.words) for name, tool in tools().items())]
    inside, outside = _READ.format("4.1 mm..4.2 mm of 4 mm"), _READ.format("7.86 mm of 8 mm")
    boxes = (
        Box(key="name", label="Name of the machine", hint="As you call it, such as school laser.", sound="laser"),
        Box(key="kind", label="It is", kind="choice", choices=tuple(_WORDS.items()), usual=KINDS[0]),
        Box(
            key="material",
            label="Material",
            hint="Such as birch plywood, acrylic or PLA: each is measured.",
            sound="plywood",
        ),
        Box(key="material_thickness", label="Its thickness", hint="Such as 3 mm; a 3D printer has none."),
        Box(key="date", label="Tried on", usual=date.today().isoformat()),
        Box(
            key="gap",
            label="Gap beside the ten blocks",
            hint="The thickest shank that goes in and the next that does not, such as 1.6 mm..1.7 mm.",
            sound="1.6 mm",
        ),
        Box(key="hole", label="Holes", kind="lines", hint=inside),
        Box(key="pin", label="Discs and pins", kind="lines", hint=outside),
        Box(key="slot", label="Slots", kind="lines", hint=inside),
        Box(key="tab", label="Straight-sided parts", kind="lines", hint=outside),
        Box(key="across", label="From cross to cross", hint="Or another line, such as 99.7 mm of 80 mm."),
        Box(key="along", label="Likewise, along"),
        Box(key="instrument", label="Read with", kind="choice", choices=with_what),
        Box(key="save_anyway", label="Save it anyway", kind="tick"),
    )
    return Form.filled(boxes, asked)


def _readings(form: Form) -> CouponReadings:
    """What was typed; a bare figure is in millimetres."""
    words = {key: form.words(key) for key in ("name", "kind", "material", "material_thickness", "instrument", "date")}
    words |= {key: with_unit(form.words(key), "mm") for key in ("gap", "across", "along", "material_thickness")}
    each = {key: tuple(line for line in form[key].lines if line) for key in _EACH}
    return CouponReadings(**words, **each)  # type: ignore[arg-type] # the former are words, the latter several


def _shown(form: Form, machine: Machine | None, status: int = 200) -> Answer:
    values: dict[str, Any] = {
        "here": "cut",
        "form": form,
        "report": machine_report(machine, details=False) if machine else None,
        "doubts": tuple(machine.doubts()) if machine else (),
    }
    return Answer(template="machine_new.html", part="machine_new_live.html", values=values, status=status)


def show_new(asked: Asked) -> Answer:
    """What the coupon tells so far."""
    form, machine = _form(asked), None
    with said_in(units_for(asked.bench)):
        if (
            any(form.words(key) for key in (*_EACH, "gap", "across", "along"))
            and form.words("name")
            and form.words("material")
        ):
            try:
                machine = _readings(form).record()
            except Refusal as refusal:
                form.blame(refusal, _is_right)
        return _shown(form, machine)


def _is_right(form: Form) -> bool:
    return bool(_readings(form).record())


def keep(asked: Asked) -> Answer:
    """Keeps it, or says what is wrong with it."""
    form = _form(asked)
    for key in ("name", "material"):
        if not form.words(key):
            form[key].fault = f"Give the {'name' if key == 'name' else 'material: what was cut or printed'}."
    if form.is_right:
        try:
            kept = measure_machine(_readings(form), asked.bench, save_anyway=form.words("save_anyway") == "yes")
        except Refusal as refusal:
            if Remedy.SAVE_ANYWAY in refusal.remedies:
                form.refuse(refusal, "save_anyway")
            else:
                form.blame(refusal, _is_right)
        else:
            return Answer(goto=f"/cut/machines/one?{urlencode(_which(kept.machine))}")
    with said_in(units_for(asked.bench)):
        return _shown(form, None, 422)


ROUTES = (
    Route("/cut/machines", show_all),
    Route("/cut/machines/new", show_new),
    Route("/cut/machines/new", keep, "POST"),
    Route("/cut/machines/look", show_new, "POST"),
    Route("/cut/machines/one", show_one),
    Route("/cut/machines/forget", forget, "POST"),
)
