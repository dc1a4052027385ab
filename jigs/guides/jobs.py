"""An aid on its way to a machine: what it is cut of, what is cut, what is printed as a solid.

How to add something to cut: in the entry of an aid, `cut`: a function from the material (`CutFrom`) and its fields to
a `CutJob` of drawings at true size; `cut_examples`, and `cut_fields` where they differ from the sheet's. A drawing says
by role what is done: `CUT` goes through, `TICK` is engraved, words are marked. Draw what is wanted: kerf and scale are
undone later, at `layouts.cutting`. Every test of tests/test_cut_aids.py comes from the entry. What cuts is imported in
the function, so that a sheet of paper loads none of it.

How to add a solid: likewise `solid`, a function from the machine (or None) and its fields to a `SolidJob`, and
`solid_examples`, from which tests/test_solid_aids.py comes. Holes are drawn `around` their circle, pins `within` it;
`machine.drawn_mm` gives sizes that count.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from layouts.errors import Give, QuantityRefused
from layouts.lengths import sized

if TYPE_CHECKING:
    from layouts.cutting.laying import Blank
    from layouts.pages.page import Content
    from layouts.solids.body import Solid


def _not_known(kind: str, size_mm: float) -> float | None:
    """What a size is good for on a machine that was not measured."""
    return None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFrom:
    """What is cut: the material in words, and its thickness in mm; 0 where nobody said it.

    good_for_mm: the uncertainty (k = 2) of a "hole", "slot", "pin" or "tab" of a size; None where it is not known.
    """

    material: str = ""
    thickness_mm: float = 0.0
    good_for_mm: Callable[[str, float], float | None] = _not_known

    def said_good_for(self, kind: str, sizes_mm: Sequence[float]) -> str:
        """'±0.08 mm' for the worst of some sizes; empty where it is not known."""
        good = [each for size in sizes_mm if (each := self.good_for_mm(kind, size)) is not None]
        return f"±{sized(max(good), 2)}" if good else ""

    def needs_thickness(self, why: str) -> float:
        """The thickness [mm]; refused where it was not given."""
        if not self.thickness_mm:
            remedy = Give(field="material_thickness", example="3 mm")
            raise QuantityRefused(f"no thickness of the material is given: {why}", remedies=(remedy,))
        return self.thickness_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class CutJob:
    """An aid ready for a laser or a knife: its parts, the numbers that made it, how it is used, what to heed.

    as_drawn: nothing is corrected, as on the coupon that shows what there is to correct.
    """

    title: str
    blanks: tuple[Blank, ...]
    facts: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    as_drawn: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class SolidJob:
    """An aid ready for a 3D printer: its bodies, made when they are asked for, and the leaf that goes with it.

    The cautions of the leaf hold for the solid too.
    """

    solid: Callable[[], Solid]
    leaf: Content
    warnings: tuple[str, ...] = ()
