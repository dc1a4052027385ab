"""What may be cut by a laser and what never: a table, and what is said of a material that is in no row."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from layouts.errors import OutOfRange
from layouts.machines.machine import KNIFE, LASER

NEVER, EXTRACTION, YES = "never", "extraction", "yes"

_UNKNOWN = (
    "cut only what its maker calls fit for a laser; never PVC, vinyl, ABS, polycarbonate or foil, and nothing whose "
    "make-up you do not know."
)
_LASER = (
    "a laser is never left running alone: stay, watch the cut, and keep an extinguisher within reach.",
    "Wear eye protection made for its wavelength wherever the beam is not fully closed in; draw the fumes off.",
)
_KNIFE = ("keep fingers clear of a blade that moves, and put its cap on before you change it.",)
_LOCAL = "Your workshop's rules, the maker of the machine and your local codes come first."


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """A kind of material by its name and other words for it; whether a laser may cut it, and what happens there."""

    name: str
    also: tuple[str, ...]
    laser: str
    why: str
    source: str

    def is_meant(self, words: str) -> bool:
        """Whether one of its words stands in what a person calls it, whole."""
        return any(re.search(rf"\b{re.escape(name)}s?\b", words.casefold()) for name in (self.name, *self.also))


@cache
def materials() -> tuple[Material, ...]:
    """Every row of the table, what is never cut first."""
    import tomllib

    rows = tomllib.loads(Path(__file__).with_name("materials.toml").read_text(encoding="utf-8"))
    found = [Material(name=name, **{**row, "also": tuple(row["also"])}) for name, row in rows.items()]
    return tuple(sorted(found, key=lambda material: material.laser != NEVER))


def cautions_for(kind: str, words: str) -> tuple[str, ...]:
    """What to heed when a machine of a kind cuts a material in words. Refuses (`OutOfRange`) what no laser may cut."""
    if kind == KNIFE:
        return *_KNIFE, _LOCAL
    if kind != LASER:
        return (_LOCAL,)
    meant = [material for material in materials() if material.is_meant(words)]
    for material in meant:
        if material.laser == NEVER:
            raise OutOfRange(
                f"a laser must never cut {words}: {material.why}",
                "take acrylic, plywood, wood or card, or cut it with a knife",
                field="material",
            )
    if not meant:
        return *_LASER, _UNKNOWN, _LOCAL
    needs = " Only with the fumes drawn off." if any(material.laser == EXTRACTION for material in meant) else ""
    said = "; ".join(material.why for material in meant)
    return *_LASER, f"{words}: {said}.{needs}", _LOCAL
