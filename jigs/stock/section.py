"""Wire and rods that are not round: refused in a sentence that says why, and not as a unit that is not known."""

from __future__ import annotations

import re

from layouts.errors import QuantityRefused, shown


class NotRound(QuantityRefused):
    """A section that is not round, where only a round one serves."""


_SHAPES = (
    (r"half[- ]?rounds?|d[- ]?shaped?|low[- ]dome|domed", "half-round"),
    (r"squares?|sq", "square"),
    (r"ovals?|ellip\w*|ovate", "oval"),
    (r"flat|flattened|rect\w*|strip|ribbon|bezel|gallery", "flat"),
    (r"triang\w*|three[- ]cornered", "three-cornered"),
    (r"hex\w*|six[- ]sided|octag\w*", "many-sided"),
    (r"twist\w*|beaded|pattern\w*|cable|braid\w*|strand\w*", "not plain"),
    (r"tapered|taper|cone|conical", "tapered"),
    (r"tube|tubing|hollow", "hollow"),
)
_TWO_SIDES = re.compile(r"[0-9½¼¾] *(?:mm|cm|in|\")? *(?:x|×|by) *[0-9]", re.IGNORECASE)  # 2 x 1 mm
_TEMPER = re.compile(r"(?i)(?<![a-z])(?:(?:half|full|quarter)[- ]?hard|hard|(?:dead )?soft|annealed|spring)(?![a-z])")


def _shape_in(text: str) -> str:
    """The shape that the words name; empty where they name none."""
    for pattern, shape in _SHAPES:
        if re.search(rf"(?i)(?<![a-z])(?:{pattern})(?![a-z])", text):
            return shape
    return "flat" if _TWO_SIDES.search(text) else ""


def refuse_wire_not_round(text: str) -> None:
    """Refuses words that name a wire of another section (`NotRound`), such as "18 AWG square", or its temper too."""
    if _TEMPER.search(text):
        raise QuantityRefused(f"{shown(text)} has a temper in it", "give the wire alone, and its temper by itself")
    if shape := _shape_in(text):
        problem = f"{shown(text)} is {shape} wire: springback, AR and weight are worked out for solid round wire alone"
        raise NotRound(problem, "give round wire, such as 16 AWG or 1.2 mm")


def refuse_rod_not_round(text: str) -> None:
    """Refuses (`NotRound`) words that name a rod of another section, such as "5 mm square"."""
    if shape := _shape_in(text):
        shape = "of two widths" if _TWO_SIDES.search(text) else shape
        why = "a coil wound on it is not round, or not of one size, and the rings here are round"
        problem = f"{shown(text)} is not a plain round rod but {shape}: {why}"
        raise NotRound(problem, 'give a round one, such as "5 mm"')
