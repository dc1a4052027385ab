"""A bank card that lies on its outline: its four edges, and from them the scanner's two ways and how they lean."""

from __future__ import annotations

import numpy as np

from layouts.errors import Remedy, ScanRefused
from layouts.scanning import bank_card
from layouts.scanning.edges import edge, refuse_unlike
from layouts.scanning.probing import Probe
from layouts.scanning.target import Target
from layouts.scanning.yardstick import MOST_LEAN_DEG, Side, Yardstick

_SIDES = (("left", 0, -1), ("right", 0, 1), ("lower", 1, -1), ("upper", 1, 1))
_ALIKE = 0.025  # the scanner's two scales
_PARALLEL_DEG = 0.15


def find_card(probe: Probe, target: Target) -> Yardstick:
    """The card on the outline. Refuses (`ScanRefused`) a doubt, by its name; `NotSeen` where no edge is."""
    if target.card is None:
        raise ScanRefused("the sheet has no place for a card", "scan the printer-check sheet")
    left, right, lower, upper = (edge(probe, target.card, target.ink, *side) for side in _SIDES)
    refuse_unlike(left, right)
    refuse_unlike(lower, upper)
    corners = tuple(pair[0].meets(pair[1]) for pair in ((left, lower), (right, lower), (right, upper), (left, upper)))
    seen = np.array([probe.matrix.apply(*corner) for corner in corners])
    bottom, top, rising, other = seen[1] - seen[0], seen[2] - seen[3], seen[3] - seen[0], seen[2] - seen[1]
    for one, across_from in ((bottom, top), (rising, other)):
        turn = np.degrees(np.arctan2(*one[::-1]) - np.arctan2(*across_from[::-1]))
        if abs((turn + 180) % 360 - 180) > _PARALLEL_DEG:
            raise _doubt("opposite edges of what lies on the card's place are not parallel: a shadow, or not a card")
    box = target.card
    size = bank_card.WIDTH_MM, bank_card.HEIGHT_MM
    true_mm = size if box[2] - box[0] > box[3] - box[1] else size[::-1]
    sides = tuple(
        Side(seen=(float(way[0]), float(way[1])), true_mm=length)
        for way, length in zip(((bottom + top) / 2, (rising + other) / 2), true_mm, strict=True)
    )
    sure = not any(each.could_be_a_shadow for each in (left, right, lower, upper))
    found = Yardstick(name="card", sides=sides, corners=corners, is_sure=sure)
    if abs(sides[0].scale / sides[1].scale - 1) > _ALIKE:
        width, height = (float(np.hypot(*side.seen)) for side in sides)
        raise _doubt(
            f"what lies on the card's place is {width:.2f} x {height:.2f} mm by the picture, and no bank card has that "
            "shape"
        )
    if abs(found.lean_deg) > MOST_LEAN_DEG:
        raise _doubt("what lies on the card's place is not square")
    return found


def _doubt(problem: str) -> ScanRefused:
    return ScanRefused(problem, "lay a bank card there, flat", (Remedy.NOTHING_ON_SHEET,))
