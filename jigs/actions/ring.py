"""The numbers of a ring: from its wire and one size, a mandrel or a weave, by the names of the bench."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.making.batch import RODS_SHOWN, Batch, RodChoice
from jigs.making.cutting import choose_cut
from jigs.making.material import choose_material
from jigs.making.ring import Ring
from jigs.stock.blade import Blade
from jigs.stock.metal import Metal
from jigs.stock.wire import Wire
from layouts.errors import QuantityRefused, Refusal
from layouts.units import parse_length

if TYPE_CHECKING:
    from jigs.orders.weave import Verdict, Weave


@dataclass(frozen=True, slots=True, kw_only=True)
class RingNumbers:
    """A batch of rings, the mandrels of the bench nearest to the one it wants, and the ring against its weave.

    notes says what was taken where nothing was given.
    """

    batch: Batch
    owned: tuple[RodChoice, ...] = ()
    verdict: Verdict | None = None
    notes: tuple[str, ...] = ()


def ring_numbers(
    *,
    wire: Wire,
    bench: Path | None = None,
    metal: Metal | None = None,
    temper: str | None = None,
    density_g_cm3: float | None = None,
    modulus_gpa: float | None = None,
    strength_mpa: float | None = None,
    mandrel: str | None = None,
    measured_mm: float | None = None,
    weave: str | None = None,
    cut: str | None = None,
    blade: str | None = None,
    kerf_mm: float | None = None,
    trim_mm: float | None = None,
    trial_inside_mm: float | None = None,
    trial_outside_mm: float | None = None,
    trial_mandrel: str | None = None,
    **batch: Any,
) -> RingNumbers:
    """The numbers of rings of one wire; `batch` takes the other fields of `Batch`. Refuses what contradicts itself.

    Mandrels and blades go by the names of the bench, or by their size. Without any other size a weave gives its good
    AR; a saw without blade and kerf has the usual blade.
    """
    owned = read_bench(bench) if bench else Bench()
    notes = []
    saw = owned.blade(blade) if blade else None
    if cut == "saw" and saw is None and kerf_mm is None:
        saw, note = _usual_saw(wire, owned)
        notes.append(note)
    woven = _weave(weave, bench) if weave else None
    if woven and mandrel is None and not any(batch.get(key) for key in ("inside_mm", "outside_mm", "ratio")):
        batch["ratio"] = woven.aim
        notes.append(f"No size is given: AR {woven.aim:g} is the good one of {woven.name}.")
    if trial_outside_mm is not None:
        if trial_inside_mm is not None:
            raise QuantityRefused("a trial coil has both inside and outside", "give the one that you measured")
        trial_inside_mm = Ring.of_outside(wire_mm=wire.diameter_mm, outside_mm=trial_outside_mm).inside_mm
    found = Batch(
        wire=wire,
        material=choose_material(
            metal, temper, density_g_cm3=density_g_cm3, modulus_gpa=modulus_gpa, strength_mpa=strength_mpa
        ),
        cut=choose_cut(cut, wire_mm=wire.diameter_mm, blade=saw, kerf_mm=kerf_mm, trim_mm=trim_mm),
        trial_inside_mm=trial_inside_mm,
        trial_mandrel_mm=owned.rod_mm(trial_mandrel) if trial_mandrel else None,
        **_mandrel(mandrel, measured_mm, owned),
        **batch,
    )
    ring = found.wanted or found.ring
    exact = found.acting_mandrel_mm
    near = sorted(owned.mandrels, key=lambda thing: (abs(thing.measured_mm - exact), thing.name))[:RODS_SHOWN]
    choices = (found.off_rod(thing.name, thing.kind, thing.measured_mm, owned=True) for thing in near)
    return RingNumbers(
        batch=found,
        owned=tuple(choice for choice in choices if choice is not None),
        verdict=woven.judge(wire_mm=ring.wire_mm, inside_mm=ring.inside_mm) if woven else None,
        notes=tuple(notes),
    )


def _usual_saw(wire: Wire, owned: Bench) -> tuple[Blade, str]:
    """The blade for the wire where none is named, and a sentence that says so."""
    from jigs.planning.tools import usual_blade

    choice = usual_blade(wire.diameter_mm, owned)
    note = f"No blade is named: {choice.blade.name} is taken, with {choice.teeth_in_wire:.1f} teeth in the wire."
    return choice.blade, note


def _weave(name: str, bench: Path | None) -> Weave:
    """The weave of that name, of one's own or of the table."""
    from jigs.orders.reading import read_weaves
    from jigs.orders.weave import find_weave

    return find_weave(name, read_weaves(bench / "weaves.toml") if bench else ())


def _mandrel(words: str | None, measured_mm: float | None, bench: Bench) -> dict[str, Any]:
    """The mandrel as `Batch` takes it: one of the bench by its name, with its measurement unless another is given."""
    if words is None:
        return {"measured_mm": measured_mm}
    owned = next((mandrel for mandrel in bench.mandrels if mandrel.name == words.strip()), None)
    if owned is None:
        return {"mandrel_mm": bench.rod_mm(words), "measured_mm": measured_mm}
    measured = measured_mm or owned.measured_mm
    try:
        return {"mandrel_mm": parse_length(owned.name), "measured_mm": measured}
    except Refusal:  # its name is not a size
        return {"mandrel_name": owned.name, "measured_mm": measured}
