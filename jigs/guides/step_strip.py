"""A strip with steps that judges the inside of rings: a ring goes over the steps that are narrower than it.

A flat strip of thickness t has four edges, and it is they that touch the ring: across them it is sqrt(w^2 + t^2). So a
step that is to judge an inside of D is w = sqrt(D^2 - t^2) wide (the rectangle in a circle, Pythagoras).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from jigs.guides.catalogue import Asked, AskedKind, Sheet
from jigs.guides.jobs import CutFrom, CutJob
from layouts.cutting.laying import Blank
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing, Point
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, WORDS, lines, write
from layouts.errors import OutOfRange
from layouts.lengths import bare, sized, unit_said
from layouts.units import positive

MOST = 40
LARGEST_MM = 80.0
LEAST_WIDTH_MM = 1.5  # a narrower step burns away or breaks
_STEP_MM = 8.0  # length of a step: its size goes on it
_HANDLE_MM, _HANDLE_WIDE_MM = 34.0, 18.0
_READ_THICKNESS_MM = 0.05  # what a caliper leaves open of a sheet's thickness, k = 2 (common practice, no source)


def step_width_mm(inside_mm: float, thickness_mm: float) -> float:
    """How wide [mm] a strip so thick is, that a ring of an inside just goes over: sqrt(D^2 - t^2).

    Refuses (`OutOfRange`) a strip that would be too narrow to be cut.

    >>> step_width_mm(5.0, 3.0)
    4.0
    """
    square = positive(inside_mm, "an inside diameter") ** 2 - positive(thickness_mm, "a thickness") ** 2
    if square < LEAST_WIDTH_MM**2:
        thin = math.sqrt(max(inside_mm**2 - LEAST_WIDTH_MM**2, 0.0))
        raise OutOfRange(
            f"a sheet of {thickness_mm:g} mm is too thick for rings of {inside_mm:g} mm inside",
            f"take one of {math.floor(thin * 10) / 10:g} mm or less" if thin >= 0.1 else "take a larger ring",
        )
    return math.sqrt(square)


def step_strip(material: CutFrom, insides_mm: Sequence[float]) -> CutJob:
    """A strip whose steps judge these insides [mm], of the material's thickness. Refuses none, too many, repeats."""
    sizes = sorted(insides_mm)
    if not sizes:
        raise OutOfRange("a strip without a step", "give one or more inside diameters, such as 5 mm")
    if len(sizes) > MOST:
        raise OutOfRange(f"{len(sizes)} steps on one strip", f"give at most {MOST}")
    if sizes[-1] > LARGEST_MM:
        raise OutOfRange(f"a step for an inside of {sizes[-1]:g} mm", f"give {LARGEST_MM:g} mm or less")
    if any(other - one < 0.005 for one, other in pairwise(sizes)):
        raise OutOfRange("an inside diameter that comes twice", "give each once")
    thick = material.needs_thickness("a step touches a ring by its four edges, so its width goes by it")
    widths = [step_width_mm(size, thick) for size in sizes]
    good = _good_for(material, sizes, widths, thick)
    sure = "What the steps are good for is not known: read each with a caliper before you trust one."
    if good:
        read = f"±{sized(_READ_THICKNESS_MM)}"
        sure = f"The steps are good to {good} (k = 2), with the thickness of the sheet read to {read}."
    return CutJob(
        title="Stepped strip",
        blanks=(Blank(drawing=_strip(sizes, widths, good)),),
        facts=(("inside", f"{bare(sizes[0], 2)} to {sized(sizes[-1], 2)}"), ("steps", str(len(sizes)))),
        notes=(
            "Slide the ring on without force: the last step that it goes over is its inside or less, the next is more.",
            f"It is right for a sheet of {sized(thick)} and no other: a step is narrower than the size on it, as its "
            "edges touch the ring. Measure the sheet; what is sold as 3 mm is often less. Do not round the edges.",
            sure,
        ),
    )


def _good_for(material: CutFrom, sizes: Sequence[float], widths: Sequence[float], thick: float) -> str:
    """What the worst step is good for: dD = (w dw + t dt) / D, both independent; empty where that is not known."""
    found = []
    for size, width in zip(sizes, widths, strict=True):
        good = material.good_for_mm("tab", width)
        if good is None:
            return ""
        found.append(math.hypot(width * good, thick * _READ_THICKNESS_MM) / size)
    return f"±{sized(math.ceil(max(found) * 100 - 1e-6) / 100, 2)}"


def _strip(sizes: Sequence[float], widths: Sequence[float], good: str) -> Drawing:
    """The steps, narrowest first, and a handle that says them all."""
    high = max(_HANDLE_WIDE_MM, widths[-1] + 6.0)
    middle, long = high / 2, len(sizes) * _STEP_MM
    draft, upper = Draft(), list[Point]()
    for number, width in enumerate(widths):
        upper += [(number * _STEP_MM, middle + width / 2), ((number + 1) * _STEP_MM, middle + width / 2)]
    said = [f"inside Ø, {unit_said()}", f"{bare(sizes[0], 2)} to {bare(sizes[-1], 2)}"]
    said += [f"{good} (k = 2)"] if good else []
    wide = max(_HANDLE_MM, 4.0 + max(lettering.width_mm(words, WORDS) for words in said))
    upper += [(long, high), (long + wide, high)]
    lower = [(x, 2 * middle - y) for x, y in reversed(upper)]
    draft.polyline([*upper, *lower], Role.CUT, closed=True)
    for number, (size, width) in enumerate(zip(sizes, widths, strict=True)):
        words = bare(size, 2)
        if width >= 1.2 * FIGURE and lettering.width_mm(words, FIGURE) <= _STEP_MM - 0.8:
            draft.text((number + 0.5) * _STEP_MM, middle - 0.8, words, FIGURE, anchor="middle")
    write(draft, (long + 2.0, middle + 1.9 * len(said) - 2.6), [line for words in said for line in lines(words, wide)])
    return draft.drawing(long + wide, high, "the stepped strip")


SHEET = Sheet(
    name="step-strip",
    summary="A strip with steps that judges the inside of rings.",
    about=(
        "A flat strip with a step for each inside diameter: a ring goes over the steps that are smaller than it.",
        "The steps are right for one thickness of the sheet, as it is its edges that touch a ring: measure the sheet.",
    ),
    fields=(
        Asked(
            key="inside",
            kind=AskedKind.LENGTHS,
            help="Inside diameters.",
            needed=True,
            repeatable=True,
            example="4 mm..8 mm by 0.5 mm",
        ),
    ),
    cut=lambda material, inside: step_strip(material, inside),
    cut_examples=(
        {"inside": "4 mm..8 mm by 0.5 mm", "material": "acrylic", "material_thickness": "2.9 mm", "kerf": "0.18 mm"},
        {"inside": ("5 mm", "5.2 mm"), "material_thickness": "2 mm"},
    ),
    place=24,
    use="slide rings on it: each goes over the steps that are smaller",
)
