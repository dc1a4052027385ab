"""Every aid for a laser or a knife: its fields as a form, the sheets of material as one types, and the files to cut."""

from __future__ import annotations

from datetime import date

from jigs.actions.cut import Cut, cut_files
from jigs.bench.reading import read_bench
from jigs.guides.catalogue import Sheet, cut_aids, find_cut_aid
from jigs.page.aid_boxes import boxes_of, typed_for
from jigs.page.asked import Answer, Asked, Route
from jigs.page.boxes import Form
from jigs.page.cut_boxes import cut_boxes, cut_output_of, sent, shown
from jigs.page.views.machines import ROUTES as MACHINES
from layouts.errors import Refusal
from layouts.render.cut_svg import write_cut_svg


def show_all(asked: Asked) -> Answer:
    """What there is to cut."""
    known = cut_aids()
    plain = Asked(bench=asked.bench)
    first = {aid.name: write_cut_svg(_made(aid, _form(aid, plain), plain).sheets[0], embedded=True) for aid in known}
    return Answer(template="cut_all.html", values={"here": "cut", "aids": known, "first": first})


def _form(aid: Sheet, asked: Asked) -> Form:
    example, is_new = aid.cut_examples[0], not asked.given
    fields = boxes_of(aid.fields_to_cut, example, read_bench(asked.bench), is_new=is_new)
    return Form.filled((*fields, *cut_boxes(asked.bench, example, is_new=is_new)), asked)


def _made(aid: Sheet, form: Form, asked: Asked, formats: str = "") -> Cut:
    given = typed_for(aid.fields_to_cut, form)
    return cut_files(aid.name, given, cut_output_of(form, asked.bench, formats), date.today())


def show(asked: Asked) -> Answer:
    """An aid with what was filled in, or what is wrong with it."""
    aid = find_cut_aid(asked.path["aid"])
    form = _form(aid, asked)
    cut: Cut | None = None
    try:
        cut = _made(aid, form, asked)
    except Refusal as refusal:
        form.blame(refusal, lambda other: bool(_made(aid, other, asked)))
    names = {field.key for field in aid.fields_to_cut}
    fields = [box for key, box in form.boxes.items() if key in names]
    values = {"here": "cut", "aid": aid, "form": form, "fields": fields, **shown(cut, aid.name, f"/cut/{aid.name}")}
    return Answer(template="cut.html", part="cut_live.html", values=values)


def send(asked: Asked) -> Answer:
    """A file to cut."""
    aid = find_cut_aid(asked.path["aid"])
    form = _form(aid, asked)
    return sent(lambda ending: _made(aid, form, asked, ending), asked.path["file"])


ROUTES = (Route("/cut", show_all), *MACHINES, Route("/cut/{aid}", show), Route("/cut/{aid}/{file}", send))
