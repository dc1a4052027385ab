"""A solid to print: made of what was given, its sizes corrected for a machine, and written with its leaf."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from jigs.actions.output import Output, prepare, stem_for
from jigs.actions.sheet import by_name
from jigs.bench.settings import units_for
from jigs.guides.catalogue import Words, find_solid_aid
from layouts.errors import Give, OutOfRange
from layouts.lengths import said_in

if TYPE_CHECKING:
    from datetime import date as Day

    from layouts.machines.machine import Machine
    from layouts.pages.page import Page


@dataclass(frozen=True, slots=True, kw_only=True)
class Built:
    """Files as they were written, or as they would be; what to heed; the machine that they are made true for.

    leaf: its pages, where it was drawn. warnings: of the numbers that were given. notes: of the machine.
    """

    files: tuple[tuple[Path, bytes], ...]
    leaf: tuple[Page, ...] = ()
    cautions: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    machine: Machine | None = None

    @property
    def paths(self) -> tuple[Path, ...]:
        """Where they are, in order."""
        return tuple(path for path, _ in self.files)


def build_solid(
    name: str, given: Mapping[str, Words], output: Output, today: Day, *, machine: str = "", material: str = ""
) -> Built:
    """Makes the solid of that name of the fields that were given, and writes it in every format wanted.

    `machine` is one of the bench by its name, measured in `material`; empty for sizes as drawn. The formats of a page
    are of its leaf. Refuses (`Refusal`) what it cannot be made of before anything is written.
    """
    from layouts.render import save_rendered

    built = solid_files(name, given, output, today, machine=machine, material=material)
    save_rendered(built.files, output.may_overwrite)
    return built


def solid_files(
    name: str, given: Mapping[str, Words], output: Output, today: Day, *, machine: str = "", material: str = ""
) -> Built:
    """The files that `build_solid` would write, byte for byte; where no format is wanted, none: its leaf is drawn."""
    with said_in(units_for(output.bench, output.units)):
        return _built(name, given, output, today, _machine(output.bench, machine, material))


def _built(name: str, given: Mapping[str, Words], output: Output, today: Day, machine: Machine | None) -> Built:
    from layouts.render import formats_in, rendered
    from layouts.render.formats import SOLIDS, TABLE

    aid = find_solid_aid(name)
    formats = formats_in(output.formats, {**SOLIDS, **TABLE}) if output.formats else ()
    stem = stem_for(output.out, name, formats)
    job = aid.make_solid(by_name(aid.fields, given, output.bench), machine)
    files = list[tuple[Path, bytes]]()
    solids = [form for form in formats if form in SOLIDS]
    if solids:
        files += rendered([job.solid()], stem, solids, table=SOLIDS)
    leaves = [form for form in formats if form in TABLE]
    leaf: tuple[Page, ...] = ()
    if leaves or not formats:
        from layouts.pages.sheet import compose

        prepared = prepare(output._replace(printer="none"), today)  # nothing on it is measured
        leaf = compose(job.leaf, prepared.setup)
        files += rendered(leaf, stem, leaves)
    return Built(
        files=tuple(files),
        leaf=leaf,
        cautions=job.leaf.cautions,
        warnings=job.warnings,
        notes=machine.warnings(today) if machine else (),
        machine=machine,
    )


def _machine(bench: Path | None, name: str, material: str) -> Machine | None:
    """The machine of the bench that is wanted, as it was measured."""
    if not name:
        if material:
            raise OutOfRange("a material, and no machine", remedies=(Give(field="machine"),))
        return None
    from layouts.files.folder import Folder
    from layouts.machines.machine import PLASTIC
    from layouts.machines.machines import Machines

    machine = Machines(folder=Folder(path=bench or Path())).find(name, material)
    if machine.kind != PLASTIC:
        raise OutOfRange(f"{machine.name} is a {machine.kind} and prints no solid", "name another machine")
    return machine
