"""True size on this screen, set by a bank card that is held against it. For looking, not for measuring."""

from __future__ import annotations

from jigs.page.asked import Answer, Asked, Route
from layouts.scanning import bank_card


def show(asked: Asked) -> Answer:
    """The outline of a card to make as large as the real one; the browser keeps the scale."""
    card = {"wide": bank_card.WIDTH_MM, "high": bank_card.HEIGHT_MM, "round": bank_card.RADIUS_MM}
    return Answer(template="screen.html", values={"here": "screen", "card": card})


ROUTES = (Route("/screen", show),)
