"""The boxes of an aid: its fields as they are typed, on paper, cut or as a solid; and what was typed, by their keys."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from jigs.bench.bench import Bench
from jigs.guides.catalogue import Asked, AskedKind, Words
from jigs.page.boxes import Box, Form
from jigs.stock.blade import blades
from layouts.errors import listed


def boxes_of(
    fields: Sequence[Asked], example: Mapping[str, object], owned: Bench, *, is_new: bool = True
) -> tuple[Box, ...]:
    """A box for each field; files are for a terminal. They begin with the example, by the keys of the fields.

    is_new: nothing was filled in yet, so that the example is in them.
    """
    return tuple(_box(field, example, owned, is_new) for field in fields if field.kind is not AskedKind.FILE)


def _in_box(words: object) -> str:
    return words if isinstance(words, str) else "\n".join(map(str, words)) if isinstance(words, Sequence) else ""


def _box(field: Asked, example: Mapping[str, object], owned: Bench, is_new: bool) -> Box:
    first = _in_box(example.get(field.key, field.default))
    usual = first if is_new else _in_box(field.default)
    choices = tuple(_choices(field, owned))
    kind = "choice" if choices else "text"
    hint = field.help
    if field.repeatable:
        kind = "ticks" if choices and not field.each_of else "lines"
        if choices and field.each_of:
            hint = f"{hint} One of {listed(value for value, _ in choices if value)}."
        if kind == "lines":
            hint = f"{hint} One per line."
    if field.otherwise:
        hint = f"{hint} Left empty: {field.otherwise}."
    name = field.name[:1].upper() + field.name[1:]
    rods = [mandrel.name for mandrel in owned.mandrels] if field.kind is AskedKind.ROD else []
    box = Box(key=field.key, label=name, kind=kind, hint=hint, usual=usual, choices=choices, suggestions=rods)
    box.sound = first
    return box


def _choices(field: Asked, owned: Bench) -> Iterator[tuple[str, str]]:
    if field.kind is AskedKind.BLADE:
        for size in dict.fromkeys(blade.name for blade in (*owned.blades, *blades())):
            yield size, size
    elif field.kind is AskedKind.CHOICE:
        if not field.default and not field.repeatable:
            yield "", "none"
        for choice in field.choices:
            yield choice, choice


def typed_for(fields: Sequence[Asked], form: Form) -> dict[str, Words]:
    """What was typed, by the keys of the fields."""
    given: dict[str, Words] = {}
    for field in fields:
        if field.kind is AskedKind.FILE:
            continue
        box = form[field.key]
        if box.kind == "ticks":
            given[field.key] = box.values
        else:
            given[field.key] = box.lines if box.kind == "lines" else box.value.strip()
    return {key: words for key, words in given.items() if words}
