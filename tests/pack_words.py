"""Packs read as a person reads them: their pages, titles and words."""

from __future__ import annotations

import pytest
from compare import marks
from packs import CLASS, ORDERS, order_of, pack

from jigs.packing.pack import Pack, make_pack
from jigs.planning.plan import make_plan
from layouts.drawing.marks import Text
from layouts.pages.page import Page, Setup
from layouts.pages.paper import find_paper

PIECES = "Ring cards, labels"
PAPERS = ("a4", "letter", "a5", "a3")
A4 = Setup(paper=find_paper("a4"), tile=True)
every = pytest.mark.parametrize(("name", "paper"), [(name, paper) for name in ORDERS for paper in PAPERS])


def pages_of(name: str, paper: str = "a4") -> list[Page]:
    """The pages of a pack, each kind once: seats share theirs but for the number."""
    kinds = {tuple(id(placed.drawing) for placed in page.placed[:-1]): page for page in pack(name, paper).pages}
    return list(kinds.values())


def packed(text: str, setup: Setup = A4, sets: str = "each") -> Pack:
    return make_pack(make_plan(order_of(text)), setup, sets=sets)


def words(page: Page) -> str:
    return " ".join(mark.string for mark in marks(page) if isinstance(mark, Text))


def title(page: Page) -> str:
    return next(mark.string for mark in marks(page) if isinstance(mark, Text))


def seats(text: str, count: int) -> str:
    return text.replace("seats = 8 ", f"seats = {count} ").replace("count = 400 ", "each_seat = 50 ")


LARGE = CLASS.split("[[supply]]")[0].replace('inside = "9.8 mm"', 'inside = "60 mm"')  # too large for a pocket card


def ring_cards(made: Pack) -> list[Page]:
    return [page for page in made.pages if title(page) == "Ring card"]


def names(made: Pack, kind: str) -> list[str]:
    return [p.drawing.name for page in made.pages for p in page.placed if p.drawing.name.startswith(kind)]
