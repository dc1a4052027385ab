"""The boxes for measuring a rod, a wire, rings or a coil: way by way, as on the measuring sheet."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jigs.page.boxes import Box, number
from jigs.page.names import names_of
from jigs.page.papers import printer_choices
from jigs.stock.instrument import instruments
from jigs.stock.metal import TEMPERS, find_metal
from jigs.stock.wire import parse_wire
from layouts.units import parse_count, parse_length, parse_quantity, with_unit

NEW = {"metal": "keep_metal", "temper": "keep_temper", "length": "keep_length"}
"""The boxes of a spool that is not in the drawer yet, by the keys of its file."""

KINDS = ("steel", "wood", "plastic", "household")
"""What a mandrel may be of."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """A way to measure: its boxes, what is done at the bench, and whether it stands open from the start."""

    title: str
    about: str
    boxes: tuple[Box, ...]
    is_first: bool = False

    @property
    def is_filled(self) -> bool:
        """Whether anything was typed in it, or is wrong with it."""
        return any(box.fault or (box.value.strip() and box.value != box.usual) for box in self.boxes)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reads:
    """How a box is read: the field of the readings that it fills, and its reader; several readings, one a line."""

    field: str
    reader: Callable[[str], Any]
    several: bool = False


def _mm(words: str) -> float:
    return parse_length(with_unit(words, "mm"))


def _grams(words: str) -> float:
    return parse_quantity(with_unit(words, "g"), "mass")


def _density(words: str) -> float:
    return parse_quantity(with_unit(words, "g/cm3"), "density")


_LENGTHS = ("strip", "strip_other_end", "across", "right_angles", "other_end", "pricks", "unwound", "turns_length")
_INSIDES = ("chain", "inside", "outside", "straightened")
READERS = {
    **{key: Reads(field=key, reader=_mm, several=True) for key in (*_LENGTHS, *_INSIDES)},
    "weighed": Reads(field="weighed_g", reader=_grams, several=True),
    **{key: Reads(field=f"{key}_mm", reader=_mm) for key in ("paper", "sheet_paper", "prick_at", "pitch", "piece")},
    "scale_step": Reads(field="scale_step_g", reader=_grams),
    "density": Reads(field="density_g_cm3", reader=_density),
    "metal": Reads(field="metal", reader=find_metal),
    "turns": Reads(field="turns", reader=number),
    "rings": Reads(field="rings", reader=parse_count),
    "rod": Reads(field="rod", reader=str),
}
"""Of every box that fills a reading. Bare figures are in millimetres, grams and g/cm3."""

WIRE = {"wire": parse_wire, "wire_good_for": _mm}


def reads_for(thing: str, key: str) -> Reads | None:
    """How a box is read; None where it fills no reading. Wires on a rod are counted, other turns may be parts."""
    return Reads(field="turns", reader=parse_count) if (thing, key) == ("wire", "turns") else READERS.get(key)


def ways_for(thing: str, bench: Path) -> tuple[Way, ...]:
    """The ways to measure a "rod", a "wire", a "ring" or a "coil"."""
    return tuple(_WAYS[thing](bench))


def _lines(key: str, label: str, hint: str = "") -> Box:
    return Box(key=key, label=label, kind="lines", hint=f"{hint} One reading per line.".strip())


def _by_eye(bench: Path, reads: str) -> Box:
    owned = names_of("instrument", bench)
    others = {tool.name for tool in instruments() if reads not in tool.reads}
    choices = [(name, name) for name in owned if name not in others]
    return Box(key="with", label="Read with", kind="choice", choices=choices, usual="caliper")


def _across(bench: Path, reads: str, *more: Box) -> Way:
    about = "At right angles too: an oval rod is seen, and the mean counts." if more else ""
    return Way(title="Across", about=about, boxes=(_by_eye(bench, reads), _lines("across", "Across"), *more))


def _wire(bench: Path, *, needed: str) -> Way:
    spools = [("", "none"), *((name, name) for name in names_of("spool", bench))]
    return Way(
        title="The wire",
        about=needed,
        boxes=(
            Box(key="wire", label="Wire", hint="A gauge with its system, or a size: 16 AWG, 1.2 mm."),
            Box(key="wire_good_for", label="Known to ±", hint="Such as 0.01 mm. Empty: 1 %."),
            Box(key="spool", label="Or from the spool", kind="choice", choices=spools),
        ),
        is_first=True,
    )


def _sheet(bench: Path, reads: str) -> Way:
    owned = names_of("instrument", bench)
    lengths = [(tool.name, tool.about or tool.name) for tool in instruments() if reads in tool.reads]
    lengths += [(name, name) for name in owned if name not in {tool.name for tool in instruments()}]
    printers, trays, damaged = printer_choices(bench)
    return Way(
        title="What it was read with",
        about="",
        boxes=(
            Box(
                key="length_with",
                label="Lengths were read with",
                kind="choice",
                choices=[("", "the usual tool for each way"), *lengths],
            ),
            Box(key="printer", label="The sheet was made true for", kind="choice", choices=printers, hint=damaged),
            Box(key="tray", label="On the paper", suggestions=trays),
        ),
    )


def keeping_boxes(thing: str, bench: Path) -> tuple[Box, ...]:
    """What a thing is kept as: a mandrel, or the wire of a spool, which may be a new one."""
    if thing not in ("rod", "wire"):
        return ()
    replace = Box(key="replace", label="Write over what is kept under that name", kind="tick")
    if thing == "rod":
        kinds = [("", ""), *((kind, kind) for kind in KINDS)]
        name = Box(key="keep", label="Name of the mandrel", suggestions=names_of("mandrel", bench))
        return name, Box(key="kind", label="It is of", kind="choice", choices=kinds), replace
    metals = [("", ""), *((name, name) for name in names_of("metal", bench))]
    tempers = [("", ""), *((temper, temper) for temper in TEMPERS)]
    return (
        Box(key="keep", label="Name of the spool", suggestions=names_of("spool", bench)),
        Box(key=NEW["metal"], label="Its metal", kind="choice", choices=metals, hint="Of a new spool."),
        Box(key=NEW["temper"], label="Its temper", kind="choice", choices=tempers, hint="Of a new one; empty: soft."),
        Box(key=NEW["length"], label="How much is on it", hint="Of a new one, such as 4.3 m."),
        replace,
    )


def _rod(bench: Path) -> Iterator[Way]:
    yield Way(
        title="A printed wrap strip",
        about="Wrapped tight round it once, read where the strip meets itself; three readings are best.",
        boxes=(
            _lines("strip", "The strip reads"),
            _lines("strip_other_end", "At its other end", "Shows a taper."),
            Box(key="paper", label="One sheet of its paper", hint="Measure a pile of a hundred, and take a hundredth."),
            Box(
                key="sheet_paper",
                label="Paper it allows for",
                hint="As the head of the sheet says. Empty: that of its printer’s tray, or 0.10 mm.",
            ),
        ),
        is_first=True,
    )
    yield _across(bench, "rod", _lines("right_angles", "At right angles"), _lines("other_end", "At its other end"))
    yield Way(
        title="A plain strip of paper, pricked",
        about="Wrapped once, and pricked through both layers: measure from hole to hole.",
        boxes=(
            _lines("pricks", "From hole to hole"),
            Box(key="prick_at", label="From its start to the first hole", usual="3 mm"),
        ),
    )
    yield Way(
        title="Wire wound on it, then straightened",
        about="Twenty turns of a wire whose size you know.",
        boxes=(
            _lines("unwound", "Length of the wire"),
            Box(key="turns", label="How many turns"),
            Box(key="pitch", label="From turn to turn", hint="Empty: they touched."),
            *_wire(bench, needed="").boxes,
        ),
    )
    yield _sheet(bench, "chain")


def _of_wire(bench: Path) -> Iterator[Way]:
    yield Way(
        title="Close turns on a rod",
        about="Wind it close, and count wires along one line; 40 are best. Lay them on the strip for wire, or read"
        " them from end to end.",
        boxes=(
            Box(key="turns", label="How many wires", usual="40"),
            _lines("strip", "The strip reads", "In the row for that many."),
            _lines("turns_length", "Or from end to end"),
            Box(
                key="rod",
                label="Wound on",
                hint="Its size, or a mandrel’s name.",
                suggestions=names_of("mandrel", bench),
            ),
        ),
        is_first=True,
    )
    yield Way(
        title="A piece weighed",
        about="A metre or more, straight.",
        boxes=(
            _lines("weighed", "Its weight", "In grams."),
            Box(key="piece", label="How long it is", hint="Such as 1 m."),
            Box(key="scale_step", label="The step of the scale", hint="Such as 0.1 g."),
            Box(
                key="metal",
                label="Metal",
                kind="choice",
                choices=[("", ""), *((name, name) for name in names_of("metal", bench))],
            ),
            Box(key="density", label="Or its density", hint="Such as 8.86 g/cm3."),
        ),
    )
    yield _across(bench, "wire")
    yield _sheet(bench, "turns")


def _ring(bench: Path) -> Iterator[Way]:
    yield Way(
        title="A chain of closed rings",
        about="Each through the next, pulled just straight: from outside to outside. Twenty are best.",
        boxes=(_lines("chain", "Length of the chain"), Box(key="rings", label="How many rings", usual="20")),
        is_first=True,
    )
    yield Way(
        title="One ring",
        about="",
        boxes=(_by_eye(bench, "inside"), _lines("inside", "Its inside"), _lines("outside", "Its outside")),
    )
    yield _wire(bench, needed="A chain and an outside need it.")
    yield _sheet(bench, "chain")


def _coil(bench: Path) -> Iterator[Way]:
    yield Way(
        title="The coil, as it came off",
        about="Released from the rod, before it is cut.",
        boxes=(_by_eye(bench, "inside"), _lines("outside", "Its outside"), _lines("inside", "Its inside")),
        is_first=True,
    )
    yield Way(
        title="Turns of it, straightened",
        about="Twenty or more.",
        boxes=(
            _lines("straightened", "Length of the wire"),
            Box(key="turns", label="How many turns"),
            Box(key="pitch", label="From turn to turn", hint="Empty: they touched."),
        ),
    )
    yield _wire(bench, needed="An outside and straightened turns need it.")
    yield _sheet(bench, "chain")


_WAYS: dict[str, Callable[[Path], Iterator[Way]]] = {"rod": _rod, "wire": _of_wire, "ring": _ring, "coil": _coil}
