"""Something cut by a laser or a knife: laid out on a sheet of material, its kerf undone, and written."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from jigs.actions.output import stem_for
from jigs.actions.sheet import by_name
from jigs.bench.settings import units_for
from jigs.guides.catalogue import Words, find_cut_aid
from jigs.guides.jobs import CutFrom, CutJob
from layouts.errors import LeaveOut, OutOfRange, QuantityRefused, Refusal, UnknownName
from layouts.files.whole import Allow, never
from layouts.lengths import said_in, sized
from layouts.machines.machine import KNIFE, LASER
from layouts.units import parse_length

if TYPE_CHECKING:
    from datetime import date as Day

    from jigs.planning.plan import Plan
    from layouts.cutting.board import Board, CutSheet
    from layouts.cutting.gains import Gains
    from layouts.machines.machine import Machine

TOOLS = (LASER, KNIFE)
_UNDONE = (
    "no kerf is undone: holes come out larger by the width of the cut, and what is cut out smaller; cut a coupon first,"
    " and give what it tells"
)
MOST_LETTERS = 60  # of what a material is called: they stand in a line of the file
NOTES = "txt"  # what is to be read before it is cut goes with every drawing


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOutput:
    """How something is wanted from a laser or a knife, in words.

    tool: "laser" or "knife"; empty for what the machine is, else a laser. sheet: its size, "300 mm x 200 mm", or the
    name of a paper. kerf: the width of the cut; machine: one that was measured, by its name. Of the two one at most.
    may_overwrite is asked before a file is replaced that is not an unchanged one of ours.
    """

    formats: str = "dxf"
    out: str = ""
    material: str = ""
    material_thickness: str = ""
    tool: str = ""
    machine: str = ""
    kerf: str = ""
    sheet: str = "300 mm x 200 mm"
    margin: str = "5 mm"
    gap: str = "2 mm"
    units: str = ""
    bench: Path | None = None
    may_overwrite: Allow = never

    def __post_init__(self) -> None:
        if len(self.material) > MOST_LETTERS or not self.material.isprintable():
            raise OutOfRange(
                f"a material of {len(self.material)} characters, or on several lines",
                f"give at most {MOST_LETTERS} on one line",
                field="material",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What is cut, laid out: its sheets of material, its files; what is to be heeded; warnings; notes on a machine."""

    sheets: tuple[CutSheet, ...]
    files: tuple[tuple[Path, bytes], ...]
    cautions: tuple[str, ...]
    warnings: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    machine: Machine | None = None

    @property
    def paths(self) -> tuple[Path, ...]:
        """Where its files are, in order."""
        return tuple(path for path, _ in self.files)


def cut_aid(name: str, given: Mapping[str, Words], output: CutOutput, today: Day) -> Cut:
    """Makes what is cut of the fields that were given, and writes it in every format wanted, with its notes as text.

    Refuses (`Refusal`) what it cannot be made of, a material that no laser may cut, and what the sheet has no room for,
    before anything is written.
    """
    return _written(cut_files(name, given, output, today), output)


def cut_files(name: str, given: Mapping[str, Words], output: CutOutput, today: Day) -> Cut:
    """The files that `cut_aid` would write, byte for byte; none where no format is wanted."""
    with said_in(units_for(output.bench, output.units)):
        aid = find_cut_aid(name)
        asked = by_name(aid.fields_to_cut, given, output.bench)
        return _cut(name, lambda material: aid.make_cut(asked, material), output, today)


def cut_pieces(plan: Plan, output: CutOutput, today: Day, *, name: str) -> Cut:
    """Writes what is cut out of card for a plan (ring cards, labels, winding strips), called `name`."""
    return _written(pieces_files(plan, output, today, name=name), output)


def pieces_files(plan: Plan, output: CutOutput, today: Day, *, name: str) -> Cut:
    """The files that `cut_pieces` would write, byte for byte; none where no format is wanted."""
    from jigs.packing.cut_pieces import pieces_to_cut

    with said_in(units_for(output.bench, output.units, plan.order.units)):
        return _cut(name, lambda material: pieces_to_cut(plan), output, today)


def _written(cut: Cut, output: CutOutput) -> Cut:
    from layouts.render import left_over, save_rendered

    save_rendered(cut.files, output.may_overwrite)
    old = tuple(f"{path.name} was there before, and does not belong to this cut" for path in left_over(cut.files))
    return replace(cut, notes=(*cut.notes, *old))


def _cut(name: str, make: Callable[[CutFrom], CutJob], output: CutOutput, today: Day) -> Cut:
    from layouts.cutting.gains import AS_DRAWN
    from layouts.cutting.laying import laid_out
    from layouts.machines.materials import cautions_for
    from layouts.render import formats_in, rendered
    from layouts.render.formats import CUTTING

    formats = formats_in(output.formats, CUTTING) if output.formats else ()
    stem = stem_for(output.out, f"{name}-mm", formats)
    board, thickness = _board(output), _length(output.material_thickness, "material_thickness") or 0.0
    machine = _machine(output, thickness)
    tool = _tool(output, machine)
    material = CutFrom(material=output.material, thickness_mm=thickness)
    if machine:
        thick = thickness or machine.thickness_mm or 0.0
        material = CutFrom(material=machine.material, thickness_mm=thick, good_for_mm=machine.good_for_mm)
    cautions = cautions_for(tool, material.material)
    gains = _gains(output, tool, machine)
    job = make(material)
    said = _said(job, output, material, tool, machine, cautions)
    sheets = laid_out(job.blanks, board, AS_DRAWN if job.as_drawn else gains, title=job.title, said=said)
    doubts = () if tool == KNIFE or machine or output.kerf or job.as_drawn else (_UNDONE,)
    wanted = (*formats, *(() if NOTES in formats or not formats else (NOTES,)))
    return Cut(
        sheets=sheets,
        files=rendered(sheets, stem, wanted, table=CUTTING),
        cautions=(*job.cautions, *cautions),
        warnings=(*job.warnings, *doubts),
        notes=machine.warnings(today) if machine else (),
        machine=machine,
    )


def _said(
    job: CutJob, output: CutOutput, material: CutFrom, tool: str, machine: Machine | None, cautions: tuple[str, ...]
) -> tuple[str, ...]:
    """What stands in the comments of the file and in its notes: the numbers, the kerf, how it is used, what to heed."""
    facts = [f"{name} {value}" for name, value in job.facts]
    if material.material or material.thickness_mm:
        thick = f"{sized(material.thickness_mm)} " if material.thickness_mm else ""
        facts.append(f"in {thick}{material.material or 'material'}")
    facts.append(f"for a {tool}")
    return (
        f"{job.title}: {'; '.join(facts)}.",
        _kerf_said(job, output, tool, machine),
        *job.notes,
        *(f"Warning: {words}." for words in job.warnings),
        *(f"Caution: {words}" for words in (*job.cautions, *cautions)),
    )


def _kerf_said(job: CutJob, output: CutOutput, tool: str, machine: Machine | None) -> str:
    undoes = " Where the machine's own program can undo a kerf, leave that off." if tool == LASER else ""
    if job.as_drawn:
        return f"Nothing is corrected here: it shows what there is to correct.{undoes}"
    if machine:
        return f"{machine.long}{undoes}"
    if output.kerf:
        kerf = sized(parse_length(output.kerf))
        return f"A kerf of {kerf} is undone, half of it at each edge, as it was given: cut one and try it.{undoes}"
    if tool == KNIFE:
        return "A knife takes nothing away: no kerf is undone."
    return f"{_UNDONE[0].upper()}{_UNDONE[1:]}."


def _tool(output: CutOutput, machine: Machine | None) -> str:
    tool = output.tool or (machine.kind if machine else TOOLS[0])
    if tool not in TOOLS:
        raise UnknownName("tool that cuts", tool, TOOLS)
    if machine and machine.kind != tool:
        raise OutOfRange(f"{machine.name} is a {machine.kind} and not a {tool}", "name another machine")
    return tool


def _machine(output: CutOutput, thickness: float) -> Machine | None:
    if not output.machine:
        return None
    if output.kerf:
        raise OutOfRange("a kerf and a measured machine, which knows its own", "give one of them")
    from layouts.files.folder import Folder
    from layouts.machines.machines import Machines

    kept = Machines(folder=Folder(path=output.bench or Path()))
    return kept.find(output.machine, output.material, thickness or None)


def _gains(output: CutOutput, tool: str, machine: Machine | None) -> Gains:
    from layouts.cutting.gains import AS_DRAWN, Gains

    if machine:
        return Gains(
            **{f"{kind}_mm": machine.gain(kind).mm for kind in ("hole", "slot", "pin", "tab")},
            across=machine.across_factor,
            along=machine.along_factor,
        )
    kerf = _length(output.kerf, "kerf")
    if kerf and tool == KNIFE:
        problem = "a kerf for a knife, which takes nothing away"
        raise OutOfRange(problem, remedies=(LeaveOut(fields=("kerf",)),))
    return AS_DRAWN if kerf is None else Gains.of_kerf(kerf)


def _board(output: CutOutput) -> Board:
    from layouts.cutting.board import Board

    margin, gap = _length(output.margin, "margin"), _length(output.gap, "gap")
    width, height = _size(output.sheet)
    return Board(width_mm=width, height_mm=height, margin_mm=margin or 0.0, gap_mm=gap or 0.0)


def _size(words: str) -> tuple[float, float]:
    """The size of a sheet [mm]: "300 mm x 200 mm", or the name of a paper."""
    from layouts.pages.paper import find_paper, papers

    if words.strip().casefold() in papers():
        paper = find_paper(words.strip())
        return paper.width_mm, paper.height_mm
    parts = words.replace("×", "x").split("x")
    if len(parts) == 2:
        with suppress(Refusal):
            return parse_length(parts[0]), parse_length(parts[1])
    problem, remedy = f"{words!r} is not the size of a sheet", 'write both sides, such as "300 mm x 200 mm", or a4'
    raise QuantityRefused(problem, remedy, field="sheet")


def _length(words: str, field: str) -> float | None:
    if not words:
        return None
    if words.split() == ["0", "mm"] and field != "material_thickness":
        return 0.0
    try:
        return parse_length(words)
    except Refusal as refusal:
        refusal.field = field
        raise
