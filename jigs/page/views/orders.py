"""Orders: a new one, one that is taken in, each as a form that is saved in its file; its text; its plan; its pack."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import PurePath
from typing import Any

from jigs.actions.order import new_order, plan_order
from jigs.actions.order_files import (
    ENDING,
    OpenOrder,
    change_order,
    faults_of,
    list_orders,
    open_order,
    order_path,
    refuse_changed,
    rewrite_order,
    take_in_order,
)
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Box, Form
from jigs.page.order_boxes import Group, groups_of, typed_in
from jigs.page.refusals import fault_said, faults_said, said, sentence
from jigs.page.views.order_cut import ROUTES as CUT_ROUTES
from jigs.page.views.order_pack import ROUTES as PACK_ROUTES
from jigs.planning.plan import Plan
from jigs.reports.as_csv import as_csv
from jigs.reports.as_json import as_json
from jigs.reports.plan import plan_report, spreadsheet
from layouts.errors import Refusal
from layouts.files.faults import Fault, FileFaulty
from layouts.lengths import said_in

_FOR = (("class", "a class"), ("one", "one maker"))


def show_all(asked: Asked) -> Answer:
    """The orders that there are, and a new one."""
    return _all(asked, _new_form(asked))


def _all(asked: Asked, form: Form, status: int = 200) -> Answer:
    values = {"here": "orders", "orders": list_orders(asked.orders), "form": form}
    return Answer(template="orders.html", part="orders_live.html", values=values, status=status)


def _new_form(asked: Asked) -> Form:
    boxes = (
        Box(key="name", label="Name of the new order", hint="Such as bracelet: its file is called after it."),
        Box(key="whom", label="For", kind="choice", choices=_FOR, usual="class"),
        Box(key="file", label="An order that you have elsewhere", hint="A TOML file. A copy of it is kept here."),
    )
    return Form.filled(boxes, asked)


def make(asked: Asked) -> Answer:
    """A new order, to fill in."""
    form = _new_form(asked)
    name = form.words("name").removesuffix(ENDING)
    if not name:
        form["name"].fault = "Give it a name."
        return _all(asked, form, 422)
    try:
        path = order_path(asked.orders, name + ENDING)
        new_order(path, for_class=form.words("whom") != "one")
    except Refusal as refusal:
        form["name"].fault = said(refusal)
        return _all(asked, form, 422)
    return Answer(goto=_address(path.name))


def take_in(asked: Asked) -> Answer:
    """A copy of an order that was dropped here."""
    try:
        path = take_in_order(asked.orders, PurePath(asked.one("name")).name, asked.body)
    except Refusal as refusal:
        form = _new_form(asked)
        form["file"].fault = said(refusal)
        return _all(asked, form, 422)
    return Answer(goto=_address(path.name))


def _address(name: str) -> str:
    from urllib.parse import quote

    return f"/orders/{quote(name)}"


def show(asked: Asked) -> Answer:
    """An order as a form; as text where it cannot be one."""
    path = order_path(asked.orders, asked.path["order"])
    try:
        opened = open_order(path)
    except FileFaulty as refusal:
        return _as_text(asked, faults_said(refusal, path.name))
    form = _form(opened, asked)
    _say(form, faults_of(path, {}, (), asked.bench), path.name)
    return _shown(asked, opened, form, is_saved="saved" in asked.given)


def _form(opened: OpenOrder, asked: Asked) -> Form:
    return Form({box.key: box for group in groups_of(opened, asked) for box in group.boxes})


def _shown(asked: Asked, opened: OpenOrder, form: Form, *, is_saved: bool = False, status: int = 200) -> Answer:
    groups: list[Group] = [group.of(form) for group in groups_of(opened, asked)]
    values: dict[str, Any] = {
        "here": "orders",
        "order": opened.name,
        "address": _address(opened.name),
        "tab": "form",
        "mark": asked.one("mark", opened.mark),
        "groups": groups,
        "form": form,
        "is_saved": is_saved,
    }
    return Answer(template="order.html", part="order_live.html", values=values, status=status)


def _say(form: Form, faults: tuple[Fault, ...], name: str) -> None:
    """Each fault beside its box, or the first box of its table; over all of them where it is about none."""
    for fault in faults:
        if fault.file != name:  # of another file, that the order is read with
            form.faults.append(fault_said(fault, name))
            continue
        place = ".".join(map(str, fault.place))
        key = place if place in form.boxes else next((key for key in form.boxes if key.startswith(f"{place}.")), "")
        words = sentence(fault.in_boxes)
        if not place or not key:
            form.faults.append(words)
        else:
            form[key].fault = form[key].fault or words


def check(asked: Asked) -> Answer:
    """What is wrong with what was typed so far; nothing is written."""
    path = order_path(asked.orders, asked.path["order"])
    opened = open_order(path)
    form = _form(opened, asked)
    changes, drop = typed_in(form, opened, asked)
    try:
        _say(form, faults_of(path, changes, drop, asked.bench), path.name)
        refuse_changed(opened.text, asked.one("mark"))
    except Refusal as refusal:
        form.refuse(refusal)
    return _shown(asked, opened, form)


def save(asked: Asked) -> Answer:
    """Writes what was changed into the order's file, or says what is wrong with it."""
    path = order_path(asked.orders, asked.path["order"])
    opened = open_order(path)
    form = _form(opened, asked)
    changes, drop = typed_in(form, opened, asked)
    try:
        change_order(path, asked.one("mark"), changes, asked.bench, drop=drop)
    except FileFaulty as refusal:
        _say(form, refusal.faults, path.name)
    except Refusal as refusal:
        form.refuse(refusal)
    else:
        return Answer(goto=f"{_address(path.name)}?saved=yes")
    return _shown(asked, opened, form, status=422)


def show_text(asked: Asked) -> Answer:
    """The text of an order's file, to change as it is."""
    return _as_text(asked)


def _as_text(asked: Asked, faults: tuple[str, ...] = ()) -> Answer:
    from layouts.files.source import text_of

    path = order_path(asked.orders, asked.path["order"])
    text = text_of(path)
    mark = OpenOrder(name=path.name, text=text, values={}, rings=0, supplies=0).mark
    return _text(asked, text, mark, faults)


def _text(asked: Asked, text: str, mark: str, faults: tuple[str, ...], status: int = 200) -> Answer:
    values = {
        "here": "orders",
        "order": asked.path["order"],
        "address": _address(asked.path["order"]),
        "tab": "text",
        "mark": mark,
        "text": text,
        "faults": faults,
        "is_saved": "saved" in asked.given,
    }
    return Answer(template="order_text.html", values=values, status=status)


def save_text(asked: Asked) -> Answer:
    """Writes the whole text into the order's file, or says what is wrong with it, line by line."""
    path = order_path(asked.orders, asked.path["order"])
    text = (asked.given.get("text") or ("",))[-1].replace("\r\n", "\n")
    try:
        rewrite_order(path, asked.one("mark"), text, asked.bench)
    except Refusal as refusal:
        return _text(asked, text, asked.one("mark"), faults_said(refusal, path.name), 422)
    return Answer(goto=f"{_address(path.name)}/text?saved=yes")


def show_plan(asked: Asked) -> Answer:
    """The plan of an order as tables."""
    name = asked.path["order"]
    without = asked.one("without_records") == "yes"
    values: dict[str, Any] = {
        "here": "orders",
        "order": name,
        "address": _address(name),
        "tab": "plan",
        "without": without,
        "report": None,
        "cautions": (),
        "faults": (),
    }
    try:
        plan = _planned(asked)
    except Refusal as refusal:
        return Answer(template="order_plan.html", values=values | {"faults": faults_said(refusal, name)}, status=422)
    with said_in(plan.order.units):
        values |= {"report": plan_report(plan), "cautions": plan.cautions}
        return Answer(template="order_plan.html", values=values)


def _planned(asked: Asked) -> Plan:
    path = order_path(asked.orders, asked.path["order"])
    return plan_order(path, asked.bench, without_records=asked.one("without_records") == "yes")


def send_plan(asked: Asked) -> Answer:
    """The plan for scripts or for a spreadsheet: what the command prints, byte for byte."""
    plan = _planned(asked)
    stem = PurePath(asked.path["order"]).stem
    with said_in(plan.order.units):
        if asked.path["kind"] == "json":
            text, kind = f"{as_json(plan_report(plan))}\n", "application/json"
        else:
            text, kind = as_csv(spreadsheet(plan), asked.one("decimal", "point")), "text/csv; charset=utf-8"
    return Answer(content=text.encode(), kind=kind, file_name=f"{stem}.{asked.path['kind']}")


def _routes() -> Iterator[Route]:
    yield Route("/orders", show_all)
    yield Route("/orders", make, "POST")
    yield Route("/orders/taken-in", take_in, "POST")  # no name of an order, which ends in .toml
    yield Route("/orders/{order}", show)
    yield Route("/orders/{order}", save, "POST")
    yield Route("/orders/{order}/check", check, "POST")
    yield Route("/orders/{order}/text", show_text)
    yield Route("/orders/{order}/text", save_text, "POST")
    yield Route("/orders/{order}/plan", show_plan)
    yield Route("/orders/{order}/plan.{kind}", send_plan)
    yield from (*PACK_ROUTES, *CUT_ROUTES)


ROUTES = tuple(_routes())
