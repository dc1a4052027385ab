"""What came out of a batch, as it is written down: its fields stand in the order of the boxes on the job card."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from jigs.making.trial import TrialCoil
from jigs.stock.wire import Wire
from layouts.errors import OutOfRange, QuantityRefused
from layouts.units import positive

NO_METAL = "metal not named"


class Field(NamedTuple):
    """A field of a record: its key in the file, the title of its box on the job card ("" has none), and about it."""

    key: str
    box: str
    about: str


FIELDS = (
    Field("spool", "spool", "the wire's name at your bench"),
    Field("wire", "wire", "its diameter or gauge"),
    Field("metal", "", "what it is of"),
    Field("temper", "", "soft, half-hard, hard or spring"),
    Field("mandrel", "mandrel", "what it was wound on: its name at your bench, or its size"),
    Field("measured", "", "the mandrel's diameter, measured"),
    Field("wanted", "", "the closed ring's inside that was wanted"),
    Field("coil_inside", "coil inside", "of the coil, once released"),
    Field("coil_outside", "", "or its outside"),
    Field("cut", "", "saw, cutters or none"),
    Field("blade", "blade", "the saw blade"),
    Field("kerf", "kerf", "what the saw took, measured"),
    Field("trim", "trim", "what the cutters took per ring, measured"),
    Field("ring_inside", "ID closed", "of a closed ring"),
    Field("ring_outside", "OD closed", "of a closed ring"),
    Field("chain", "chain", "closed rings end to end, pulled just straight"),
    Field("chain_rings", "rings in it", "how many rings the chain has"),
    Field("with", "read with", "the instrument"),
    Field("chain_with", "", "the instrument for the chain, if another"),
    Field("scale", "", "how far the scale of a printed strip may be off, such as 0.3 %: its printer's"),
    Field("good", "good rings", "how many came out good"),
    Field("rejects", "rejects", "how many did not"),
    Field("date", "date", "the day, such as 2026-11-25"),
    Field("by", "by", "who made it"),
    Field("remarks", "remarks", "what else there is to say"),
    Field("confirmed", "", "that it is right, however badly it fits the others"),
)
"""Every field of a record: the file, the command and the job card all take their order from here."""

SIZES = ("coil_inside", "coil_outside", "kerf", "trim", "ring_inside", "ring_outside", "chain")
"""The fields that are read off with an instrument; several readings of one may be given."""

READ = {
    "coil_inside": "inside",
    "coil_outside": "outside",
    "ring_inside": "inside",
    "ring_outside": "outside",
    "chain": "chain",
}
"""What an instrument must read for them."""

LEAST_COIL, LEAST_RING, MOST_COIL = 0.8, 0.4, 6.0  # insides, of the mandrel: further off nobody measured right
THINNEST_ROD, THICKEST_ROD = 0.5, 200.0  # of the wire: thinner rods bend, on thicker ones any wire springs straight
LEAST_LOST_MM, MOST_LOST = 0.02, 4.0  # to one cut: less than any blade, and so many times the wire


@dataclass(frozen=True, slots=True, kw_only=True)
class Record:
    """One batch: what it was made of and on, and what was read [mm], each size as often as it was read.

    spool "" is wire without a name; measured_mm is None for a mandrel known by its name or size; cut is "" where it is
    not said. instrument reads all but the chain, chain_instrument that; scale is what a printed one's may be off by, a
    part at k = 2, None: as its table has it. trial: it is a trial coil of a metal that has
    no records, which takes the place of the table's springback and is not weighed against it.
    """

    name: str
    wire: Wire
    metal: str = NO_METAL
    temper: str = "soft"
    spool: str = ""
    mandrel: str
    measured_mm: float
    is_measured: bool = False
    wanted_mm: float | None = None
    cut: str = ""
    blade: str = ""
    coil_inside: tuple[float, ...] = ()
    coil_outside: tuple[float, ...] = ()
    kerf: tuple[float, ...] = ()
    trim: tuple[float, ...] = ()
    ring_inside: tuple[float, ...] = ()
    ring_outside: tuple[float, ...] = ()
    chain: tuple[float, ...] = ()
    chain_rings: int = 0
    instrument: str = "caliper"
    chain_instrument: str = ""
    scale: float | None = None
    good: int | None = None
    rejects: int | None = None
    date: str = ""
    by: str = ""
    remarks: str = ""
    confirmed: bool = False
    trial: TrialCoil | None = None

    def __post_init__(self) -> None:
        for key in SIZES:
            for mm in getattr(self, key):
                positive(mm, key.replace("_", " "))
        if bool(self.chain) != bool(self.chain_rings):
            problem = "a chain needs its length and how many rings it has"
            raise QuantityRefused(problem, "give both, or neither", field="chain_rings" if self.chain else "chain")
        self._refuse_ill_cut()
        if not THINNEST_ROD * self.wire.diameter_mm <= self.measured_mm <= THICKEST_ROD * self.wire.diameter_mm:
            problem = f"wire of {self.wire.diameter_mm:.3g} mm on a mandrel of {self.measured_mm:.4g} mm winds no rings"
            remedy = f"check both; the mandrel is {THINNEST_ROD:g} to {THICKEST_ROD:g} times the wire"
            raise OutOfRange(problem, remedy, field="measured" if self.is_measured else "mandrel")
        two_wires = 2 * self.wire.diameter_mm
        self._refuse_far("coil_inside", self.coil_inside)
        self._refuse_far("coil_outside", [mm - two_wires for mm in self.coil_outside])
        self._refuse_far("ring_inside", self.ring_inside)
        self._refuse_far("ring_outside", [mm - two_wires for mm in self.ring_outside])
        self._refuse_far("chain", [(mm - two_wires) / self.chain_rings for mm in self.chain])

    def _refuse_ill_cut(self) -> None:
        """Refuses what belongs to another way of cutting, and what no cut takes."""
        if self.kerf and self.trim:
            problem = "a kerf is the saw's and a trim is the cutters'"
            raise QuantityRefused(problem, "give the one of this batch", field="trim")
        if (self.blade or self.kerf) and self.how_cut != "saw":
            problem, of = "a blade or a kerf belongs to the saw", "kerf" if self.kerf else "blade"
            raise QuantityRefused(problem, "leave it out, or say that it was sawn", field=of)
        if self.trim and self.how_cut != "cutters":
            problem = "a trim belongs to cutters"
            raise QuantityRefused(problem, "leave it out, or say that it was snipped", field="trim")
        for field, lost in (("kerf", self.kerf), ("trim", self.trim)):
            for mm in lost:
                if not LEAST_LOST_MM <= mm <= MOST_LOST * self.wire.diameter_mm:
                    problem = f"a cut that takes {mm:g} mm of wire {self.wire.diameter_mm:g} mm thick"
                    raise OutOfRange(problem, "give what one cut takes, such as 0.28 mm", field=field)

    def _refuse_far(self, field: str, insides: Iterable[float]) -> None:
        """Refuses a coil or a closed ring that no springback makes of this mandrel."""
        rod, is_coil = self.measured_mm, field.startswith("coil")
        what, least = ("coil", LEAST_COIL) if is_coil else ("ring", LEAST_RING)
        for mm in insides:
            if not least * rod <= mm <= MOST_COIL * rod:
                problem = f"a {what} of {mm:.4g} mm inside does not come off a mandrel of {rod:g} mm"
                raise OutOfRange(problem, "measure both again", field=field)

    @property
    def how_cut(self) -> str:
        """saw, cutters or none: as said, else by the kerf, the blade or the trim."""
        return self.cut or ("saw" if self.kerf or self.blade else "cutters" if self.trim else "none")

    @property
    def group(self) -> str:
        """The metal and its temper, as the model groups spools."""
        return f"{self.metal}, {self.temper}"

    @property
    def spool_key(self) -> str:
        """The spool by its name; nameless wire of one diameter counts as one spool."""
        return self.spool or f"{self.wire.diameter_mm:.2f} mm"
