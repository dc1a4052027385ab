"""Batches that were measured, as what is learnt from them takes them: wire, rod, cut, readings. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from jigs.making.bending import PerfectlyPlastic
from jigs.stock.instrument import Instrument

# Of a cut, from one batch to the next; common practice, no source. A trim is snipped by eye, ring by ring, and what is
# seen of it is the mean of a whole batch.
KERF_APART, TRIM_APART = 0.05, 0.03
INDEX = 5.0  # the spring index at which ln(Y / E) is taken: the middle of what rings are wound at


@dataclass(frozen=True, slots=True, kw_only=True)
class Wire:
    """A wire as the model knows it: its spool, its group (metal and temper), and what was known before any record.

    log_yield is ln(Y / E) at the spring index 5 and its standard deviation; hardening the same of n. measured is the
    standard deviation of the diameter [mm].
    """

    spool: str
    group: str
    diameter_mm: float
    log_yield: tuple[float, float]
    hardening: tuple[float, float]
    sd_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Rod:
    """A rod by its name, its diameter [mm], what it was read with (None: by its name alone) and how often.

    exact: it is what it says, as a rod that is still to be chosen. all_round: an oval one was read at its wide and its
    narrow side, or round its girth.
    """

    name: str
    diameter_mm: float
    instrument: Instrument | None = None
    readings: int = 1
    all_round: bool = False
    exact: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPrior:
    """What a cut takes, before any record: its name, the loss [mm] and its standard deviation.

    apart: how far the means of two batches lie apart by it, a part of the loss, one standard deviation.
    """

    name: str
    loss_mm: float
    sd_mm: float
    apart: float = KERF_APART

    @property
    def apart_mm(self) -> float:
        """How far it differs from one batch to the next [mm]."""
        return self.apart * self.loss_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """What was read, the mean [mm] of so many readings.

    'coil' and 'coil outside' of the coil, 'inside', 'outside' and 'chain' of closed rings, 'cut' of a kerf or a trim.
    rings: of a chain, pulled straight and read end to end: rings x inside + 2 d.
    """

    what: str
    mm: float
    instrument: Instrument
    readings: int = 1
    rings: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Trial:
    """One batch as the model takes it. confirmed: it counts however badly it fits the others."""

    name: str
    wire: Wire
    rod: Rod
    cut: CutPrior
    readings: tuple[Reading, ...]
    confirmed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialCoil:
    """A coil that was wound to see how its wire springs: its inside once released, and what it was wound on [mm].

    mandrel is what that is called at the bench, "" for a rod by its size. instrument is what read the coil, by name; ""
    where that is not said. of_outside: its outside was read, and the inside is
    that less two wires. is_measured: its mandrel was measured, and is not only what its name says.
    """

    inside_mm: float
    mandrel_mm: float
    mandrel: str = ""
    instrument: str = ""
    of_outside: bool = False
    is_measured: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Records that do not fit: one that is off from all the others, or two that disagree; off in standard deviations.

    They are left out until confirmed.
    """

    names: tuple[str, ...]
    off: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Expected:
    """What a batch is expected to give: a size [mm] and its standard deviation."""

    mm: float
    sd_mm: float

    @property
    def band_mm(self) -> tuple[float, float]:
        """At k = 2: 95 of 100 batches lie within."""
        return self.mm - 2 * self.sd_mm, self.mm + 2 * self.sd_mm


def coil_inside(log_yield: float, hardening: float, rod_mm: float, wire_mm: float) -> float:
    """Inside of the coil off a rod [mm], of a wire with this ln(Y / E) at index 5 and this hardening."""
    index = (rod_mm + wire_mm) / wire_mm
    flow = min(math.exp(log_yield - hardening * math.log(index / INDEX)), 0.9 / index)  # beyond, it springs straight
    return (rod_mm + wire_mm) / PerfectlyPlastic(yield_strain=flow).kept(index) - wire_mm


def ring_inside(coil_mm: float, wire_mm: float, loss_mm: float) -> float:
    """Inside of the closed ring off a close-wound coil [mm]."""
    return (math.hypot(math.pi * (coil_mm + wire_mm), wire_mm) - loss_mm) / math.pi - wire_mm
