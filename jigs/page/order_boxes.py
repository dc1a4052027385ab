"""The boxes of an order: its fields, table by table, with room for one more ring and one more wire to buy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache, partial

from jigs.actions.order_files import OpenOrder, Place, Words
from jigs.orders.fields import SEVERAL, TABLES, Holds, OrderField
from jigs.page.asked import Asked
from jigs.page.boxes import Box, Form
from jigs.page.names import names_of

Names = Callable[[str], Sequence[str]]
"""What may be chosen by name, of a kind of thing."""

_TITLES = {"": "The order", "making": "How rings are made", "print": "What it is printed on"}
_OF_SEVERAL = {"ring": ("Ring", "One more ring"), "supply": ("Wire to buy", "One more wire to buy")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """The boxes of one table: those that most orders fill in, and the others.

    drop: the name of the tick that takes it out; empty where it stays. is_new: it is not in the file yet.
    """

    title: str
    usual: tuple[Box, ...]
    others: tuple[Box, ...]
    drop: str = ""
    is_new: bool = False

    @property
    def boxes(self) -> tuple[Box, ...]:
        """All of them."""
        return self.usual + self.others

    @property
    def is_filled(self) -> bool:
        """Whether anything stands in the others, or is wrong with them."""
        return any(box.value or box.fault for box in self.others)

    def of(self, form: Form) -> Group:
        """The same with the boxes of a form."""
        usual, others = (tuple(form[box.key] for box in boxes) for boxes in (self.usual, self.others))
        return Group(title=self.title, usual=usual, others=others, drop=self.drop, is_new=self.is_new)


def groups_of(opened: OpenOrder, asked: Asked) -> tuple[Group, ...]:
    """The groups of an order: what was typed, else what its file holds."""
    names = cache(partial(names_of, bench=asked.bench))
    groups = [_group(opened, asked, names, "", ()), _group(opened, asked, names, "making", ("making",))]
    for table, count in (("ring", opened.rings), ("supply", opened.supplies)):
        for number in range(count + 1):
            groups.append(_group(opened, asked, names, table, (table, number), is_new=number == count))
    groups.append(_group(opened, asked, names, "print", ("print",)))
    return tuple(groups)


def _group(
    opened: OpenOrder,
    asked: Asked,
    names: Names,
    table: str,
    place: Place,
    *,
    is_new: bool = False,
) -> Group:
    made = [(field, _box(field, (*place, field.key), opened, asked, names)) for field in TABLES[table]]
    title, drop = _TITLES.get(table, ""), ""
    if table in SEVERAL:
        one, more = _OF_SEVERAL[table]
        name = opened.values.get((*place, "name")) or opened.values.get((*place, "wire"), "")
        title = more if is_new else f"{one}: {name}" if name else one
        drop = "" if is_new else f"drop.{'.'.join(map(str, place))}"
    return Group(
        title=title,
        usual=tuple(box for field, box in made if field.is_usual),
        others=tuple(box for field, box in made if not field.is_usual),
        drop=drop,
        is_new=is_new,
    )


def _box(field: OrderField, place: Place, opened: OpenOrder, asked: Asked, names: Names) -> Box:
    key = ".".join(map(str, place))
    kept = opened.values.get(place, "")
    value = asked.given[key][-1] if key in asked.given else kept if isinstance(kept, str) else "\n".join(kept)
    if field.holds is Holds.YES_OR_NO and "mark" in asked.given and key not in asked.given:
        value = ""  # a box that is not ticked is not sent
    box = Box(key=key, label=field.title, hint=field.help, value=value.replace("\r\n", "\n"))
    box.values = (box.value,)
    if field.holds is Holds.YES_OR_NO:
        box.kind = "tick"
    elif field.holds is Holds.LIST:
        box.kind, box.hint = "lines", f"{field.help} One a line.".strip()
    elif field.choices:
        known = ("", *field.choices, *([value] if value and value not in field.choices else ()))
        box.kind, box.choices = "choice", [(name, name) for name in known]
    elif field.of:
        box.suggestions = names(field.of)
    return box


def typed_in(form: Form, opened: OpenOrder, asked: Asked) -> tuple[dict[Place, Words], tuple[Place, ...]]:
    """What was changed, by its place; and what is to be taken out."""
    changes: dict[Place, Words] = {}
    for key, box in form.boxes.items():
        place = tuple(int(part) if part.isdigit() else part for part in key.split("."))
        words: Words = tuple(line for line in box.lines if line) if box.kind == "lines" else box.value.strip()
        if words != opened.values.get(place, () if box.kind == "lines" else ""):
            changes[place] = words
    counts = {"ring": opened.rings, "supply": opened.supplies}
    drop: tuple[Place, ...] = tuple(
        (table, number)
        for table, count in counts.items()
        for number in range(count)
        if asked.one(f"drop.{table}.{number}") == "yes"
    )
    return {place: words for place, words in changes.items() if place[:2] not in drop}, drop
