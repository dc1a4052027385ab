"""weaves.toml of the bench folder: weaves of one's own, beside those of the table."""

from __future__ import annotations

from pathlib import Path

from jigs.orders.weave import Weave, weaves
from layouts.files.entries import Entries, made, named_entries, open_entries
from layouts.files.values import number, whole, words, yes_or_no


def read_weaves(path: Path) -> tuple[Weave, ...]:
    """The user's own weaves, from weaves.toml of the bench folder; empty without that file."""
    return named_entries(open_entries(path, needed=False), weave_of)


def weave_of(name: str, entry: Entries) -> Weave | None:
    """A weave from its table: low, good, high, wires_through, plain_chain, source.

    What it does not say of a plain chain is taken from the weave of that name in our own table.
    """
    known = {weave.name: weave for weave in weaves()}.get(name.casefold())
    low, high = (entry.need(key, number(0.1, 100), example) for key, example in (("low", "3.3"), ("high", "4.0")))
    good = entry.take("good", number(0.1, 100), None)
    through = entry.take("wires_through", whole(1, 12), None)
    plain = entry.take("plain_chain", yes_or_no, known is not None and known.is_plain_chain)
    source = entry.take("source", words(120), "as given")
    if low is None or high is None:
        return None
    return made(
        entry,
        lambda: Weave(
            name=name,
            low=low,
            good=good,
            high=high,
            wires_through=through,
            is_plain_chain=bool(plain),
            source=source,
        ),
    )
