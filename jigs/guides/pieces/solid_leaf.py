"""What the leaf of every printed solid shows: how to print it, what harms it, and what its sizes are good for."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.table import Table, TableColumn
from layouts.drawing.words import LINE_MM, WORDS, listing, one_under_another
from layouts.errors import OutOfRange
from layouts.lengths import bare, bare_short, sized, sized_each, unit_said
from layouts.pages.page import Field
from layouts.pages.sheet import GAP_MM

if TYPE_CHECKING:
    from layouts.machines.machine import Machine
    from layouts.solids.body import Solid

CAUTIONS = (
    "PLA softens in a warm car or in the sun, from about 50 °C. Keep it from torch, hot metal and warm wax.",
    "your workshop's rules and your local codes come first.",
)
LEAST_WALL_MM = 1.2  # three lines of a usual nozzle of 0.4 mm (common practice, no source)
FIRST_SPREADS_MM = 0.5  # the first layer does: at the bed holes and slots are wider by this, at 45 degrees
ENGRAVED_MM = 0.6  # deep: three layers of 0.2 mm
LETTERS_MM = 5.2  # em of engraved words: their strokes are wider than a nozzle

_UNTRIED = "untried"


def how_to_print() -> tuple[str, ...]:
    """What to set in the slicer, in steps."""
    return (
        "Open the file in millimetres at 100 %. Do not scale it.",
        "Print it as it lies, without supports: no wall leans out by more than 45°.",
        f"Layers of {sized(0.2)} or thinner, three walls or more, a slow first layer.",
        "Let it cool on the bed. Break off threads of plastic with a wooden stick, not with a file.",
    )


def in_the_hand(size_mm: Sequence[float]) -> str:
    """How large it is: '129 × 29 × 4 mm'."""
    return sized_each(" × ".join("{}" for _ in size_mm), [round(mm) for mm in size_mm], 0)


def is_tried(machine: Machine | None, kind: str) -> bool:
    """Whether sizes of a kind ("hole", "pin") were tried on a coupon, of this kind or of one near to it."""
    return machine is not None and machine.gain(kind).count > 0


def made_for(machine: Machine | None, kind: str) -> str:
    """The machine that a gauge was made for; or that it is not a gauge, where no size of the kind was tried."""
    return str(machine) if is_tried(machine, kind) else "a machine not yet tried: not a gauge"


def good_for(machine: Machine | None, kind: str, size_mm: float) -> str:
    """What is engraved and said of a size: its tried uncertainty (k = 2), or that it was never tried."""
    if machine is None or not is_tried(machine, kind):
        return _UNTRIED
    return f"±{bare(machine.good_for_mm(kind, size_mm), 2)}"


def refuse_alike(sizes_mm: Sequence[float]) -> None:
    """Refuses (`OutOfRange`) two sizes that nobody could tell apart by what is engraved beside them."""
    if len({bare_short(size, 2, 1) for size in sizes_mm}) < len(sizes_mm):
        raise OutOfRange("two sizes that would be engraved alike", "give each size once, 0.01 mm apart or more")


def trust_note(machine: Machine | None, kind: str) -> str:
    """Whether the sizes of a solid make it a gauge, and why, in a sentence."""
    if machine is None:
        return (
            f"Drawn as said, for no machine that was measured, so it is not a gauge: printed {kind}s are often off by "
            f"{sized_each('{} to {}', (0.1, 0.4), 1)}. Measure the machine, and make this again for it."
        )
    if not is_tried(machine, kind):
        return f"{machine} was measured, but no {kind} was tried on it, so this is not a gauge. {machine.long}"
    return f"A gauge as far as it was tried, k = 2. {machine.long}"


def finer_than_trust(machine: Machine | None, kind: str, sizes_mm: Sequence[float]) -> tuple[str, ...]:
    """A warning where neighbouring sizes are nearer to one another than they can be trusted to."""
    ordered = sorted(sizes_mm)
    steps = [high - low for low, high in pairwise(ordered)]
    if machine is None or not steps or not is_tried(machine, kind):
        return ()
    step, good = min(steps), max(machine.good_for_mm(kind, size) for size in sizes_mm)
    if step >= good:
        return ()
    return (f"its steps of {sized(round(step, 3))} are finer than the {sized(good, 2)} that each {kind} is good for",)


def size_table(machine: Machine | None, kind: str, sizes_mm: Sequence[float], heading: str, width_mm: float) -> Table:
    """Each size as it is engraved, as it is drawn for the machine, and what it is good for."""
    unit = unit_said()
    rows = tuple(
        (bare(size, 2), bare(machine.drawn_mm(kind, size) if machine else size, 3), good_for(machine, kind, size))
        for size in sizes_mm
    )
    columns = (
        TableColumn(f"size, {unit}", 1, right=True, bold=True),
        TableColumn("drawn", 1, right=True),
        TableColumn("good for", 1, right=True),
    )
    return Table(columns=columns, rows=rows, width_mm=width_mm, heading=heading)


def leaf_drawings(
    field: Field, solid: Callable[[], Solid], table: Callable[[float], Table] | None, use: Sequence[str]
) -> list[Drawing]:
    """What a leaf shows: a picture of the solid, its sizes, how to print it and how to use it."""
    found = [solid_picture(solid(), field)]
    # Two columns, but for a page so narrow that lines of words would be too short to read.
    width = (field.width_mm - GAP_MM) / 2 if field.width_mm >= 150 else field.width_mm
    if table:
        found.append(table(width).drawing())
    right = [listing(how_to_print(), width, "Print", sign="number").drawing()]
    right.append(listing(use, width, "Use", sign="number").drawing())
    return [*found, one_under_another(right, width, 3.0, "print and use")]


def solid_picture(solid: Solid, field: Field) -> Drawing:
    """A picture of the solid as it lies on the bed, at its size where there is room, else smaller by halves."""
    from layouts.solids.picture import picture  # a list of aids draws none

    words, drawing = "at its size", picture(solid, "the picture")
    over = max(drawing.width_mm / field.width_mm, drawing.height_mm / min(0.5 * field.height_mm, 100.0))
    if over > 1.0:
        times = 2 ** math.ceil(math.log2(over))
        words, drawing = f"at 1 : {times}", picture(solid, "the picture", 1.0 / times)
    draft = Draft()
    draft.add(drawing.marks, max(0.0, (field.width_mm - drawing.width_mm) / 2), LINE_MM)
    draft.text(
        field.width_mm / 2, 0.6, f"as it lies on the bed, {words}; to look at, not to measure", WORDS, anchor="middle"
    )
    return draft.drawing(field.width_mm, drawing.height_mm + LINE_MM, "the picture")
