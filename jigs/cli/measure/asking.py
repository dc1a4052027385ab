"""Asking for readings in a terminal, one by one, when a command `measure ...` was given none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from jigs.cli.asking import ask, in_a_terminal, read_by
from jigs.stock.instrument import instruments
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.errors import UnknownName
from layouts.units import parse_count, parse_length, parse_quantity

if TYPE_CHECKING:
    from jigs.actions.measure import WireGiven

_KEEP = "Keep it as the {} (its name; Enter keeps nothing)"


class _Way(NamedTuple):
    """A way to read: its name, the key of its readings, what is asked for each, and the keys that it needs too.

    reads: of what instruments read across, where which one it was is to be asked.
    """

    name: str
    key: str
    question: str
    needs: Sequence[str] = ()
    reads: str = ""


_ROD = (
    _Way("strip", "strip", "What the wrap strip reads, mm"),
    _Way("across", "across", "Across, mm", ("right_angles",), "rod"),
    _Way("pricks", "pricks", "From hole to hole, mm"),
    _Way("unwound", "unwound", "Length of the wire, straightened, mm", ("turns", "wire")),
)
_WIRE = (
    _Way("strip", "strip", "What the strip for wire reads, mm", ("turns",)),
    _Way("turns", "turns_length", "Close turns end to end, by rule, mm", ("turns",)),
    _Way("weighed", "weighed_g", "Weight of a piece, g", ("piece_mm", "scale_step_g", "density_g_cm3")),
    _Way("across", "across", "Across, mm", (), "wire"),
)
_RING = (
    _Way("chain", "chain", "Chain pulled just straight, outside to outside, mm", ("rings", "wire")),
    _Way("outside", "outside", "Outside, mm", ("wire",), "outside"),
    _Way("inside", "inside", "Inside, mm", (), "inside"),
)
_COIL = (
    _Way("outside", "outside", "Outside, mm", ("wire",), "outside"),
    _Way("inside", "inside", "Inside, mm", (), "inside"),
    _Way("straightened", "straightened", "Length of turns, straightened, mm", ("turns", "wire")),
)


_grams = partial(parse_quantity, kind="mass")
_NEEDED: dict[str, tuple[str, Any, str, str]] = {  # key: question, reader, its unit, whether several are asked for
    "right_angles": ("The same at right angles, mm (Enter leaves it out)", parse_length, "mm", "several"),
    "turns": ("How many turns", parse_count, "", ""),
    "rings": ("How many rings", parse_count, "", ""),
    "piece_mm": ("How long the piece is, mm", parse_length, "mm", ""),
    "scale_step_g": ("The step of the scale, g", _grams, "g", ""),
    "density_g_cm3": ("Its density, g/cm3", partial(parse_quantity, kind="density"), "g/cm3", ""),
}


def asked_rod(given: dict[str, Any], wire: WireGiven, keep: str) -> tuple[dict[str, Any], WireGiven, str]:
    """Readings of a rod, asked for where none is given and somebody is there to answer; and its name to keep."""
    if not _is_to_be_asked(given, _ROD):
        return given, wire, keep
    given, wire = _asked(given, wire, _ROD)
    return given, wire, keep or ask(_KEEP.format("mandrel"), str, "").strip()


def asked_wire(given: dict[str, Any], keep: str, new: dict[str, str]) -> tuple[dict[str, Any], str, dict[str, str]]:
    """The same of a wire, and the spool to keep it by; what is on it, where it is a new one."""
    from jigs.actions.measure import WireGiven

    if not _is_to_be_asked(given, _WIRE):
        return given, keep, new
    given, _ = _asked(given, WireGiven(), _WIRE)
    keep = keep or ask(_KEEP.format("spool"), str, "").strip()
    if keep and not new["metal"]:
        words = ask("A new spool? Its metal (Enter: it is among yours)", read_by(find_metal), "")
        length = ask("How much wire is on it, m", read_by(parse_length, "m")) if words else ""
        new = new | {"metal": words, "length": length}
    return given, keep, new


def asked_ring(given: dict[str, Any], wire: WireGiven) -> tuple[dict[str, Any], WireGiven]:
    """The same of rings."""
    is_weighed = given["weighed_g"] is not None
    return (given, wire) if is_weighed or not _is_to_be_asked(given, _RING) else _asked(given, wire, _RING)


def asked_coil(given: dict[str, Any], wire: WireGiven) -> tuple[dict[str, Any], WireGiven]:
    """The same of a coil."""
    return _asked(given, wire, _COIL) if _is_to_be_asked(given, _COIL) else (given, wire)


def _is_to_be_asked(given: dict[str, Any], ways: Sequence[_Way]) -> bool:
    return in_a_terminal() and not any(given.get(way.key) for way in ways)


def _asked(given: dict[str, Any], wire: WireGiven, ways: Sequence[_Way]) -> tuple[dict[str, Any], WireGiven]:
    """One way after another is asked for its readings; a bare figure has the unit that is asked for."""
    names = [way.name for way in ways]
    click.echo("A bare figure has the unit that is asked for; Enter ends the readings of one way.")

    def known(words: str) -> str:
        if words.strip() not in names:
            raise UnknownName("way to measure", words, names)
        return words.strip()

    chosen = ask(f"Read how? ({', '.join(names)})", known, names[0])
    way = ways[names.index(chosen)]
    reader, unit = (_grams, "g") if way.key == "weighed_g" else (parse_length, "mm")
    given = {**given, way.key: _several(way.question, reader, unit)}
    if way.reads:
        given["across_with"] = _read_with(way.reads, given["across_with"])
    for key in way.needs:
        if key == "wire":
            if wire.wire is None and not wire.spool:
                given, wire = _wire(given, wire, is_chain=way.key == "chain")
            continue
        if given.get(key):
            continue
        question, read, of, many = _NEEDED[key]
        given[key] = _several(question, read, of) if many else read(ask(question, read_by(read, of)))
    return given, wire


def _wire(given: dict[str, Any], wire: WireGiven, *, is_chain: bool) -> tuple[dict[str, Any], WireGiven]:
    """The wire; of a chain it may be left out, and is told by one ring's outside."""
    question = f"The wire (such as 1.2 mm or 16 AWG{'; Enter: not known' if is_chain else ''})"
    if words := ask(question, read_by(parse_wire, "mm"), "" if is_chain else None):
        return given, replace(wire, wire=parse_wire(words))
    outside = _several("Then the outside of a ring, mm", parse_length, "mm")
    return {**given, "outside": outside, "across_with": _read_with("outside", "wedge")}, wire


def _read_with(reads: str, usual: str) -> str:
    """The instrument that something was read across with."""
    names = ", ".join(tool.name for tool in instruments() if reads in tool.reads)
    return ask(f"Read with ({names}, or your own)", str, usual).strip()


def _several(question: str, read: Any, unit: str) -> tuple[Any, ...]:
    found: list[Any] = []
    while words := ask(f"{question}, reading {len(found) + 1}", read_by(read, unit), ""):
        found.append(read(words))
    return tuple(found)
