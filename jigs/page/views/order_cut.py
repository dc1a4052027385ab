"""The pieces of an order, cut out of card by a knife or a laser: labels, ring cards, winding strips."""

from __future__ import annotations

from datetime import date
from pathlib import PurePath
from urllib.parse import quote

from jigs.actions.cut import Cut, pieces_files
from jigs.actions.order import plan_order
from jigs.actions.order_files import order_path
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Form
from jigs.page.cut_boxes import cut_boxes, cut_output_of, sent, shown
from jigs.page.refusals import faults_said
from layouts.errors import Refusal

_USUAL = {"material": "card", "tool": "knife", "sheet": "a4"}


def _form(asked: Asked) -> Form:
    return Form.filled(cut_boxes(asked.bench, _USUAL, is_new=not asked.given), asked)


def _made(form: Form, asked: Asked, formats: str = "") -> Cut:
    path = order_path(asked.orders, asked.path["order"])
    plan = plan_order(path, asked.bench, units=form.words("units"))
    return pieces_files(plan, cut_output_of(form, asked.bench, formats), date.today(), name=f"{path.stem}-pieces")


def show(asked: Asked) -> Answer:
    """The pieces, laid out on their sheets, or what is wrong."""
    order, form = asked.path["order"], _form(asked)
    cut: Cut | None = None
    try:
        cut = _made(form, asked)
    except Refusal as refusal:
        form.blame(refusal, lambda other: bool(_made(other, asked)))
        if form.faults:
            form.faults[:] = faults_said(refusal, order)
    address = f"/orders/{quote(order)}"
    values = {
        "here": "orders",
        "order": order,
        "address": address,
        "tab": "cut",
        "form": form,
        **shown(cut, f"{PurePath(order).stem}-pieces", f"{address}/cut"),
    }
    return Answer(template="order_cut.html", part="cut_live.html", values=values)


def send(asked: Asked) -> Answer:
    """A file to cut."""
    form = _form(asked)
    return sent(lambda ending: _made(form, asked, ending), asked.path["file"])


ROUTES = (Route("/orders/{order}/cut", show), Route("/orders/{order}/cut/{file}", send))
