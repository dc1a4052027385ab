"""Machines that cut or build: measured by a coupon, kept, listed, forgotten."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from layouts.errors import Refusal
from layouts.files.folder import Folder
from layouts.machines.coupon import ACROSS_MM, ALONG_MM, WINDOW_MM
from layouts.machines.keeping import objection
from layouts.machines.machine import Machine
from layouts.machines.machines import Machines
from layouts.machines.materials import cautions_for
from layouts.machines.tried import Tried, find_tool, parse_tried
from layouts.units import parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class CouponReadings:
    """What a coupon read, in words: "5.1 mm..5.2 mm of 5 mm" between two shanks, or "4.86 mm of 5 mm".

    A length without its true one is the coupon's own. instrument: what all of it was read with that says no other,
    "4.86 mm of 5 mm by caliper".
    """

    name: str
    kind: str = "laser"
    material: str = ""
    material_thickness: str = ""
    hole: tuple[str, ...] = ()
    slot: tuple[str, ...] = ()
    pin: tuple[str, ...] = ()
    tab: tuple[str, ...] = ()
    gap: str = ""
    across: str = ""
    along: str = ""
    instrument: str = ""
    date: str = ""

    def record(self) -> Machine:
        """The machine. Refuses readings of another kind, and what no machine can be."""
        return Machine(
            name=self.name,
            kind=self.kind,
            material=self.material,
            thickness_mm=parse_length(self.material_thickness) if self.material_thickness else None,
            holes=self._read("hole", "shanks"),
            slots=self._read("slot", "shanks"),
            pins=self._read("pin", "caliper"),
            tabs=self._read("tab", "caliper"),
            gap=next(iter(self._read("gap", "shanks", WINDOW_MM)), None),
            across=next(iter(self._read("across", "rule", ACROSS_MM)), None),
            along=next(iter(self._read("along", "rule", ALONG_MM)), None),
            date=self.date,
        )

    def _read(self, field: str, usual: str, true_mm: float | None = None) -> tuple[Tried, ...]:
        """Each reading of a field, by the tool that it names, or the one for all, or the usual one for such a size."""
        given, found = getattr(self, field), list[Tried]()
        for words in filter(None, (given,) if isinstance(given, str) else given):
            reading, _, tool = words.partition(" by ")
            name = find_tool(tool.strip() or self.instrument or usual).name
            try:
                found.append(parse_tried(reading, name, true_mm))
            except Refusal as refusal:
                refusal.field = refusal.field or field
                raise
        return tuple(found)


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptMachine:
    """A machine that was saved: whether it replaced an older record, what is doubtful of it, and where it is kept."""

    machine: Machine
    replaced: bool
    doubts: tuple[str, ...]
    folder: Path


def measure_machine(readings: CouponReadings, bench: Path, *, save_anyway: bool = False) -> KeptMachine:
    """Records a machine from what its coupon read; an older record in the same material is replaced.

    Refuses one that is less sure than the older one, unless told to save, and a material that no laser may cut.
    """
    machine, kept = readings.record(), _machines(bench)
    cautions_for(machine.kind, machine.material)  # only to refuse it
    older = kept.exact(machine)
    if older and not save_anyway and (refusal := objection(machine, older)):
        raise refusal
    replaced = kept.put(machine)
    return KeptMachine(machine=machine, replaced=replaced, doubts=tuple(machine.doubts()), folder=bench)


def list_machines(bench: Path) -> tuple[Machine, ...]:
    """Every machine of the bench, one for each material and thickness."""
    return _machines(bench).all()


def find_machine(bench: Path, name: str, material: str = "", thickness: str = "") -> Machine:
    """One machine. Refuses an unknown one, and a name with several materials unless one of them is named."""
    return _machines(bench).find(name, material, parse_length(thickness) if thickness else None)


def forget_machine(bench: Path, name: str, material: str = "", thickness: str = "") -> Machine:
    """Deletes a record, and returns it."""
    return _machines(bench).forget(name, material, parse_length(thickness) if thickness else None)


def _machines(bench: Path) -> Machines:
    return Machines(folder=Folder(path=bench))
