"""The machines of a bench folder, in the file machines.toml: found, kept, forgotten."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from layouts.errors import Give, OutOfRange, Remedy, UnknownName, shown
from layouts.files.folder import Folder
from layouts.files.rows import drop_row, put_row, rows_of
from layouts.machines.machine import Machine, fits, same_record
from layouts.machines.records import LISTS, SINGLE, read_machines, values_of
from layouts.printing.printer import same_words
from layouts.showing import show_mm
from layouts.units import parse_length

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FILE = "machines.toml"
_ALIKE = 0.1  # thicknesses that differ by so much of one: its kerf still holds
HEAD = """# Machines that were measured by a coupon: one [[machine]] for each machine, material and thickness.
# Each line: a size as it was drawn, what it came out as, and what that was read with.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Machines:
    """The machines that a folder knows. Each call reads the file anew."""

    folder: Folder

    def all(self) -> tuple[Machine, ...]:
        """Every record, in the order of the file. Refuses (`FileFaulty`) a file with any fault."""
        return read_machines(self.folder.read(FILE))

    def find(self, name: str, material: str = "", thickness_mm: float | None = None) -> Machine:
        """The record of a machine for a material and a thickness [mm]; what is left out may be anything.

        A thickness is nominal or read, and goes with one that differs by a tenth: a kerf hardly does. Refuses an
        unknown name (`UnknownName`), a material or thickness that was never tried, and several that fit.
        """
        known = self.all()
        named = [one for one in known if same_words(one.name, name)]
        if not named:
            if known:
                raise UnknownName("machine", name, dict.fromkeys(one.name for one in known))
            problem = f"no machine is called {shown(name)}, and none has been measured yet"
            raise OutOfRange(problem, remedies=(Remedy.MEASURE_MACHINE,))
        fitting = [one for one in named if not material or same_words(one.material, material)]
        if not fitting:
            raise UnknownName(f"material of {name}", material, dict.fromkeys(one.material for one in named))
        thick = [one for one in fitting if thickness_mm is None or fits(one, one.material, thickness_mm)]
        if not thick and thickness_mm is not None:
            known_thick = ((one, one.thickness_mm) for one in fitting if one.thickness_mm)
            thick = [one for one, had in known_thick if abs(had - thickness_mm) <= _ALIKE * had]
        if not thick:
            tried = "; ".join(one.works_in for one in fitting)
            raise OutOfRange(
                f"{name} was not measured at {show_mm(thickness_mm or 0)} (but in {tried})",
                "cut another coupon: the kerf differs with the thickness",
            )
        if len(thick) > 1:
            field = "material" if len({one.material for one in thick}) > 1 else "thickness"
            values = [one.material if field == "material" else show_mm(one.thickness_mm or 0) for one in thick]
            raise OutOfRange(
                f"{name} was measured in {len(thick)} ways, and it is not said which",
                remedies=(Give(field=field, values=tuple(dict.fromkeys(values))),),
            )
        return thick[0]

    def exact(self, machine: Machine) -> Machine | None:
        """The record that this one would replace; None where it is the first."""
        return next((one for one in self.all() if same_record(one, machine)), None)

    def put(self, machine: Machine) -> bool:
        """Keeps a record; an older one of the same machine, material and thickness is replaced. True if there was."""
        ours, is_it = ("thickness", "date", *LISTS, *SINGLE), partial(_is_of, machine)
        return self._edit(lambda document: put_row(_rows(document), is_it, values_of(machine), ours))

    def forget(self, name: str, material: str = "", thickness_mm: float | None = None) -> Machine:
        """Takes the record out of the file, and gives it. As `find`."""
        machine = self.find(name, material, thickness_mm)
        self._edit(lambda document: drop_row(document, "machine", _rows(document), partial(_is_of, machine)))
        return machine

    def _edit(self, change: Callable[[TOMLDocument], bool]) -> bool:
        return self.folder.edit(FILE, change, read_machines, HEAD)


def _rows(document: TOMLDocument) -> Any:
    return rows_of(document, "machine", "machines")


def _is_of(machine: Machine, row: Any) -> bool:
    if not same_words(str(row["name"]), machine.name):
        return False
    thickness = parse_length(str(row["thickness"])) if "thickness" in row else None
    return fits(machine, str(row["material"]), thickness)
