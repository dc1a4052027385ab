"""Measuring a rod, a wire, rings or a coil: the ways of the measuring sheet, what they give, and keeping it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any
from urllib.parse import urlencode

from jigs.actions import measure
from jigs.actions.keep_measured import keep_mandrel, keep_wire
from jigs.actions.measure import Common, Found, RingReadings, RodReadings, WireGiven, WireReadings
from jigs.bench.settings import units_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Form
from jigs.page.measuring_boxes import NEW, WIRE, keeping_boxes, reads_for, ways_for
from jigs.page.refusals import said, sentence
from jigs.reports.measuring import cautions_of, measured_report
from layouts.errors import Give, Refusal, Remedy, UnknownName
from layouts.lengths import said_in
from layouts.showing import show_mm

_THINGS = {
    "rod": ("A rod", "How thick is it?"),
    "wire": ("A wire", "How thick is it, and which gauge?"),
    "ring": ("Closed rings", "What is their inside?"),
    "coil": ("A coil", "What is its inside?"),
}


def show_first(asked: Asked) -> Answer:
    """A rod: what is measured first."""
    return show(replace(asked, path={"thing": "rod"}))


def show(asked: Asked) -> Answer:
    """What the readings give so far, or what is wrong with them."""
    form = _form(asked)
    with said_in(units_for(asked.bench)):
        return _shown(asked, form, _found(form, asked))


def _form(asked: Asked) -> Form:
    thing = _thing(asked)
    boxes = [box for way in ways_for(thing, asked.bench) for box in way.boxes]
    return Form.filled((*boxes, *keeping_boxes(thing, asked.bench)), asked)


def _thing(asked: Asked) -> str:
    thing = asked.path["thing"]
    if thing not in _THINGS:
        raise UnknownName("thing to measure", thing, _THINGS)
    return thing


def _shown(asked: Asked, form: Form, found: Found | None, status: int = 200) -> Answer:
    thing = _thing(asked)
    ways = [replace(way, boxes=tuple(form[box.key] for box in way.boxes)) for way in ways_for(thing, asked.bench)]
    values: dict[str, Any] = {
        "here": "measuring",
        "things": {name: title for name, (title, _) in _THINGS.items()},
        "thing": thing,
        "question": _THINGS[thing][1],
        "form": form,
        "ways": sorted(ways, key=lambda way: not way.is_first),
        "keeping": [form[box.key] for box in keeping_boxes(thing, asked.bench) if box.key != "replace"],
        "report": measured_report(found) if found else None,
        "cautions": [sentence(words) for words in cautions_of(found)] if found else (),
        "record": _record(found) if found else "",
    }
    return Answer(template="measuring.html", part="measuring_live.html", values=values, status=status)


def _record(found: Found) -> str:
    """The address of a batch to write down with what was found of its rings or its coil."""
    if found.kind not in ("ring", "coil"):
        return ""
    box = "ring_inside" if found.kind == "ring" else "coil_inside"
    given = {box: show_mm(found.measured.mm, 3), "with": found.measured.instrument}
    return f"/records/new?{urlencode(given)}"


def _found(form: Form, asked: Asked) -> Found | None:
    """What was measured; None while nothing is read, or where something is refused."""
    try:
        return _measured(form, asked)
    except Refusal as refusal:
        form.blame(refusal, lambda other: _is_right(other, asked))
        return None


def _is_right(form: Form, asked: Asked) -> bool:
    _measured(form, asked)
    return form.is_right


def _measured(form: Form, asked: Asked) -> Found | None:
    readings = _readings(form, _thing(asked))
    common = Common(
        across_with=form.words("with") if "with" in form.boxes else "caliper",
        length_with=form.words("length_with"),
        printer=form.words("printer"),
        tray=form.words("tray"),
    )
    wire = _wire(form)
    if not form.is_right or not any(isinstance(value, tuple) and value for value in readings.values()):
        return None
    return _MEASURED[_thing(asked)](asked.bench, readings, common, wire)


_Measured = Callable[[Any, dict[str, Any], Common, WireGiven], Found]
_MEASURED: dict[str, _Measured] = {
    "rod": lambda bench, read, common, wire: measure.measure_rod(bench, RodReadings(**read), common, wire),
    "wire": lambda bench, read, common, wire: measure.measure_wire(bench, WireReadings(**read), common),
    "ring": lambda bench, read, common, wire: measure.measure_ring(bench, RingReadings(**read), common, wire),
    "coil": lambda bench, read, common, wire: measure.measure_coil(bench, RingReadings(**read), common, wire),
}


def _readings(form: Form, thing: str) -> dict[str, Any]:
    """What was typed, by the fields of the readings; what is empty is left out."""
    found: dict[str, Any] = {}
    for key, box in form.boxes.items():
        reads = reads_for(thing, key)
        if reads is None:
            continue
        if not reads.several:
            value = form.read(key, reads.reader)
        else:
            try:
                value = tuple(reads.reader(line) for line in box.lines if line) or None
            except Refusal as refusal:
                box.fault, value = said(refusal), None
        if value is not None:
            found[reads.field] = value
    return found


def _wire(form: Form) -> WireGiven:
    if "wire" not in form.boxes:
        return WireGiven()
    wire, good = (form.read(key, reader) for key, reader in WIRE.items())
    return WireGiven(wire=wire, good_for_mm=good, spool=form.words("spool"))


def keep(asked: Asked) -> Answer:
    """Keeps what was measured under its name in the drawer, with what it was read with."""
    form = _form(asked)
    with said_in(units_for(asked.bench)):
        found = _found(form, asked)
        name = form.words("keep") if "keep" in form.boxes else ""
        if found is None and form.is_right:
            form.faults.append("Nothing is read yet: fill in one of the ways.")
        elif found and not name:
            form["keep"].fault = "Give its name."
        elif found:
            try:
                return _kept(asked, form, found, name)
            except Refusal as refusal:
                _refuse_keeping(form, refusal)
        return _shown(asked, form, found, 422)


def _refuse_keeping(form: Form, refusal: Refusal) -> None:
    if Remedy.REPLACE in refusal.remedies:
        form["keep"].fault = f"{sentence(refusal.problem)} Tick “{form['replace'].label}”."
        return
    named = (refusal.field, *(remedy.field for remedy in refusal.remedies if isinstance(remedy, Give)))
    key = next((NEW[field] for field in named if NEW.get(field) in form.boxes), "keep")
    form[key].fault = said(refusal, {field: form[box].label for field, box in NEW.items() if box in form.boxes})


def _kept(asked: Asked, form: Form, found: Found, name: str) -> Answer:
    is_over = form.words("replace") == "yes"
    if found.kind == "rod":
        kept = keep_mandrel(asked.bench, name, found, kind=form.words("kind"), replace=is_over)
    else:
        new = {field: form.words(box) for field, box in NEW.items()}
        new["metal"] = new["metal"] or form.words("metal")  # of the piece that was weighed
        kept = keep_wire(asked.bench, name, found, new=new, replace=is_over)
    words = f"{kept.name} is kept as {show_mm(found.measured.mm, 3)}."
    return Answer(goto=f"/drawer?{urlencode({'said': words})}#{kept.kind}")


ROUTES = (
    Route("/measuring", show_first),
    Route("/measuring/{thing}", show),
    Route("/measuring/{thing}", keep, "POST"),
)
