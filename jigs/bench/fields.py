"""What can be said of each thing that is owned, field by field, for whoever fills it in: the keys of its table.

The readers (`reading`) decide what is right; this says what may be asked. A test holds the two together.
"""

from __future__ import annotations

from dataclasses import dataclass

from jigs.bench.bench import ALL_ROUND, KINDS, ONE_WAY
from jigs.stock.metal import TEMPERS


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnedField:
    """A key of a table. is_needed: nothing goes without it. is_number: it is written without quotes.

    of: "metal" or "instrument", where its choices are those of a table.
    """

    key: str
    title: str
    help: str = ""
    choices: tuple[str, ...] = ()
    of: str = ""
    is_needed: bool = False
    is_number: bool = False


_WITH = (
    OwnedField(key="with", title="Measured with", of="instrument"),
    OwnedField(key="readings", title="Readings", is_number=True, help="How many it is the mean of. Empty: one."),
    OwnedField(key="scale", title="Scale of the strip", help="How far its printer may be off: 0.5 %. Empty: as usual."),
)
OWNED: dict[str, tuple[OwnedField, ...]] = {
    "mandrel": (
        OwnedField(key="measured", title="Diameter", is_needed=True, help="As you measured it: 6.02 mm."),
        OwnedField(key="kind", title="Kind", choices=KINDS, help="Only on wood may a coil be sawn."),
        OwnedField(key="length", title="Length", help="30 mm of it are to hold it. Empty: 150 mm."),
        *_WITH,
        OwnedField(
            key="read", title="Read across", choices=(ONE_WAY, ALL_ROUND), help="An oval rod's mean needs both."
        ),
    ),
    "drill": (OwnedField(key="diameter", title="Diameter", is_needed=True, help="Such as 1.3 mm."),),
    "blade": (
        OwnedField(key="kerf", title="Kerf", is_needed=True, help="What it cuts, measured in a trial cut: 0.29 mm."),
        OwnedField(key="thickness", title="Thickness", help="Of a blade that is not in the table."),
        OwnedField(key="teeth_per_inch", title="Teeth per inch", is_number=True, help="Of such a blade."),
    ),
    "spool": (
        OwnedField(key="wire", title="Wire", is_needed=True, help="A gauge with its system, or a diameter."),
        OwnedField(key="metal", title="Metal", is_needed=True, of="metal"),
        OwnedField(key="temper", title="Temper", choices=TEMPERS),
        OwnedField(key="length", title="Length on it", help="Such as 4.3 m. Or its mass."),
        OwnedField(key="mass", title="Mass", help="Without the reel, such as 31 g."),
        *_WITH,
    ),
    "instrument": (
        OwnedField(key="scatter", title="Scatter", help="How far 95 of 100 readings lie from their mean: 0.05 mm."),
        OwnedField(key="bias", title="Bias", help="How far all its readings may be off together."),
        OwnedField(key="scale", title="Scale", help="How far its scale may be off: 0.2 %."),
    ),
}
"""By the kind of thing, in the order of the work."""
