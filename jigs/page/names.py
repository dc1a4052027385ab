"""What may be chosen by name in a box: of the tables, and of what is owned."""

from __future__ import annotations

from pathlib import Path

from jigs.actions.bench import things_on_bench
from jigs.actions.printer import list_printers
from jigs.orders.own_weaves import read_weaves
from jigs.orders.weave import weaves
from jigs.stock.blade import blades
from jigs.stock.instrument import instruments
from jigs.stock.metal import metals
from layouts.errors import Refusal
from layouts.pages.paper import papers

_OWNED = ("mandrel", "drill", "blade", "spool", "instrument")


def names_of(what: str, bench: Path) -> tuple[str, ...]:
    """The names, one's own first; none of a file of the bench that is damaged: that is said where it is needed."""
    try:
        owned = tuple(things_on_bench(bench, what)) if what in _OWNED else ()
        return tuple(dict.fromkeys((*owned, *_known(what, bench))))
    except Refusal:
        return ()


def _known(what: str, bench: Path) -> tuple[str, ...]:
    if what == "metal":
        return tuple(metal.name for metal in metals())
    if what == "blade":
        return tuple(blade.name for blade in blades())
    if what == "instrument":
        return tuple(instrument.name for instrument in instruments())
    if what == "weave":
        return tuple(weave.name for weave in (*read_weaves(bench / "weaves.toml"), *weaves()))
    if what == "paper":
        return tuple(papers())
    if what == "printer":
        return tuple(printer.name for printer in list_printers(bench)[0])
    return tuple(printer.tray for printer in list_printers(bench)[0]) if what == "tray" else ()
