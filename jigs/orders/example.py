"""The example of an order, as text: commented, to be changed; for a class, or for one maker alone."""

from __future__ import annotations

import re
from pathlib import Path

from layouts.errors import listed
from layouts.pages.paper import papers

_OF_A_CLASS = ("saws", "minutes_to_wind", "minutes_to_saw", "wound")  # keys that mean nothing to one maker
_OF_ONE = {  # by key, the line as one maker has it
    "title": 'title = "Chain bracelet"',
    "seats": "# seats = 8                     # for a class: how many make it",
    "count": "count = 60                      # in a class for all seats; or each_seat = 8",
    "pieces": "#   pieces = 2                  # one when left out",
}


def example(*, for_class: bool = True, units: str = "") -> str:
    """A TOML text that `reading.order_of` reads: a chain bracelet, made by an evening class or by one maker.

    With units ("mm" or "inch") the order says that its lengths are said so.
    """
    text = Path(__file__).with_name("example.toml").read_text(encoding="utf-8")
    text = text.replace("{papers}", listed(papers()))
    if units:
        asked = r'^# units = "inch"( *)#'
        text = re.sub(asked, lambda found: f'units = "{units}"{found[1]}  #', text, flags=re.MULTILINE)
    if for_class:
        return text
    # the toggles, a ring for each seat, and their wire go with the class
    blocks = (block for block in text.split("\n\n") if '\nwire = "1.6 mm"' not in block)
    lines = [(line.lstrip("# ").partition(" = ")[0], line) for line in "\n\n".join(blocks).split("\n")]
    return "\n".join(_OF_ONE.get(key, line) for key, line in lines if key not in _OF_A_CLASS)
