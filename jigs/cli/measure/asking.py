"""Asking for readings in a terminal, one by one, when a command `measure ...` was given none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from jigs.cli.asking import ask, in_a_terminal, read_by
from jigs.stock.wire import parse_wire
from layouts.errors import UnknownName
from layouts.units import parse_count, parse_length, parse_quantity

if TYPE_CHECKING:
    from jigs.actions.measure import WireGiven


class _Way(NamedTuple):
    """A way to read: its name, the key of its readings, what is asked for each, and the keys that it needs too."""

    name: str
    key: str
    question: str
    needs: Sequence[str] = ()


_ROD = (
    _Way("strip", "strip", "What the wrap strip reads, mm"),
    _Way("across", "across", "Across, by caliper, mm", ("right_angles",)),
    _Way("pricks", "pricks", "From hole to hole, mm"),
    _Way("unwound", "unwound", "Length of the wire, straightened, mm", ("turns", "wire")),
)
_WIRE = (
    _Way("strip", "strip", "What the strip for wire reads, mm", ("turns",)),
    _Way("turns", "turns_length", "Close turns end to end, by rule, mm", ("turns",)),
    _Way("weighed", "weighed_g", "Weight of a piece, g", ("piece_mm", "scale_step_g", "density_g_cm3")),
    _Way("across", "across", "Across, by caliper, mm"),
)
_RING = (
    _Way("chain", "chain", "Chain pulled just straight, outside to outside, mm", ("rings", "wire")),
    _Way("outside", "outside", "Outside, by caliper, mm", ("wire",)),
    _Way("inside", "inside", "Inside, by caliper, mm"),
)
_COIL = (
    _Way("outside", "outside", "Outside, by caliper, mm", ("wire",)),
    _Way("inside", "inside", "Inside, by caliper, mm"),
    _Way("straightened", "straightened", "Length of turns, straightened, mm", ("turns", "wire")),
)


def _grams(words: str) -> float:
    return parse_quantity(words, "mass")


_NEEDED: dict[str, tuple[str, Any, str, str]] = {  # key: question, reader, its unit, whether several are asked for
    "right_angles": ("The same at right angles, mm (Enter leaves it out)", parse_length, "mm", "several"),
    "turns": ("How many turns", parse_count, "", ""),
    "rings": ("How many rings", parse_count, "", ""),
    "piece_mm": ("How long the piece is, mm", parse_length, "mm", ""),
    "scale_step_g": ("The step of the scale, g", _grams, "g", ""),
    "density_g_cm3": ("Its density, g/cm3", lambda words: parse_quantity(words, "density"), "g/cm3", ""),
}


def asked_rod(given: dict[str, Any], wire: WireGiven, keep: str) -> tuple[dict[str, Any], WireGiven, str]:
    """Readings of a rod, asked for where none is given and somebody is there to answer; and its name to keep."""
    if not _is_to_be_asked(given, _ROD):
        return given, wire, keep
    given, wire = _asked(given, wire, _ROD)
    return given, wire, keep or _name("mandrel")


def asked_wire(given: dict[str, Any], keep: str) -> tuple[dict[str, Any], str]:
    """The same of a wire, and the spool to keep it by."""
    from jigs.actions.measure import WireGiven

    if not _is_to_be_asked(given, _WIRE):
        return given, keep
    given, _ = _asked(given, WireGiven(), _WIRE)
    return given, keep or _name("spool")


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
    for key in way.needs:
        if key == "wire":
            if wire.wire is None and not wire.spool:
                wire = replace(
                    wire, wire=parse_wire(ask("The wire (such as 1.2 mm or 16 AWG)", read_by(parse_wire, "mm")))
                )
            continue
        if given.get(key):
            continue
        question, read, of, many = _NEEDED[key]
        given[key] = _several(question, read, of) if many else read(ask(question, read_by(read, of)))
    return given, wire


def _several(question: str, read: Any, unit: str) -> tuple[Any, ...]:
    found: list[Any] = []
    while words := ask(f"{question}, reading {len(found) + 1}", read_by(read, unit), ""):
        found.append(read(words))
    return tuple(found)


def _name(kind: str) -> str:
    return ask(f"Keep it as the {kind} (its name; Enter keeps nothing)", str, "").strip()
