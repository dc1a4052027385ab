"""The numbers of a ring: from its wire and one size, a mandrel or a weave, by the names of the bench."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from jigs.bench.bench import Bench
from jigs.bench.reading import read_bench
from jigs.making.batch import RODS_SHOWN, Batch, RodChoice
from jigs.making.cutting import choose_cut
from jigs.making.material import choose_material
from jigs.making.ring import Ring
from jigs.making.trial import TrialCoil
from jigs.planning.recorded import cut_with, law_for, law_on, with_coil
from jigs.stock.blade import Blade
from jigs.stock.metal import Metal
from jigs.stock.wire import Wire, mg_per_mm
from layouts.errors import Give, QuantityRefused, Refusal
from layouts.units import parse_length

if TYPE_CHECKING:
    from jigs.orders.price import Price
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

    def cents(self, price: Price) -> int | None:
        """What the wire of these rings costs, in hundredths of the currency; None when no number was said.

        Refuses (`QuantityRefused`) a price by mass where no density is known.
        """
        batch = self.batch
        if batch.wire_total_mm is None:
            return None
        density = batch.material.density_g_cm3
        if density is None and price.is_by_mass:
            raise QuantityRefused("what this wire weighs is not known", "choose the metal, or give a price by length")
        mass = round(batch.wire_total_mm * mg_per_mm(batch.wire.diameter_mm, density)) if density else 0
        return price.cents(mass_mg=mass, length_mm=batch.wire_total_mm)


def ring_numbers(
    *,
    wire: Wire | None = None,
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
    trial_with: str = "",
    spool: str = "",
    without_records: bool = False,
    **batch: Any,
) -> RingNumbers:
    """The numbers of rings of one wire; `batch` takes the other fields of `Batch`. Refuses what contradicts itself.

    Mandrels, blades and spools go by the names of the bench, the first two by their size too. Without another size a
    weave gives its good AR; a saw without blade and kerf has the usual blade. Records count, unless `without_records`.
    """
    owned = read_bench(bench) if bench else Bench()
    owned = replace(owned, records=()) if without_records else owned
    if spool:
        reel = owned.spool(spool)
        wire, metal, temper = wire or reel.wire, metal or reel.metal, temper or reel.temper
    if wire is None:
        raise QuantityRefused("no wire is given", remedies=(Give(field="wire", example="16 AWG"), Give(field="spool")))
    saw, notes = owned.blade(blade) if blade else None, list[str]()
    if cut == "saw" and saw is None and kerf_mm is None:
        saw, notes = _usual_saw(wire, owned)
    woven = _weave(weave, bench) if weave else None
    if woven and mandrel is None and not any(batch.get(key) for key in ("inside_mm", "outside_mm", "ratio")):
        batch["ratio"] = woven.aim
        notes.append(f"No size is given: AR {woven.aim:g} is the good one of {woven.name}.")
    how = choose_cut(cut, wire_mm=wire.diameter_mm, blade=saw, kerf_mm=kerf_mm, trim_mm=trim_mm)
    found = Batch(
        wire=wire,
        material=choose_material(
            metal, temper, density_g_cm3=density_g_cm3, modulus_gpa=modulus_gpa, strength_mpa=strength_mpa
        ),
        cut=cut_with(owned, how, wire),
        trial_inside_mm=_trial_inside(trial_inside_mm, trial_outside_mm, wire),
        trial_mandrel_mm=owned.rod_mm(trial_mandrel) if trial_mandrel else None,
        **_mandrel(mandrel, measured_mm, owned),
        **batch,
    )
    coil = _trial_coil(found, trial_mandrel or mandrel or "", owned, trial_with, trial_outside_mm is not None)
    found, owned, left_out = _by_records(_held(found, mandrel, owned), owned, mandrel, spool, coil)
    return RingNumbers(
        batch=found,
        owned=tuple(filter(None, _nearest(found, owned, spool))),
        verdict=woven.judge(found.wanted or found.ring) if woven else None,
        notes=(*notes, *left_out),
    )


def _trial_inside(inside_mm: float | None, outside_mm: float | None, wire: Wire) -> float | None:
    """The inside of a trial coil, as measured or from its outside."""
    if outside_mm is None:
        return inside_mm
    if inside_mm is not None:
        raise QuantityRefused("a trial coil has both inside and outside", "give the one that you measured")
    return Ring.of_outside(wire_mm=wire.diameter_mm, outside_mm=outside_mm).inside_mm


def _nearest(batch: Batch, owned: Bench, spool: str) -> Iterator[RodChoice | None]:
    """The mandrels of the bench nearest the one that a batch is wound on, each with the ring that it would give."""
    exact = batch.acting_mandrel_mm
    for thing in sorted(owned.mandrels, key=lambda thing: (abs(thing.measured_mm - exact), thing.name))[:RODS_SHOWN]:
        law = law_on(owned, batch.wire, batch.material, batch.cut, thing.name, thing.measured_mm, spool)
        yield batch.off_rod(thing.name, thing.kind, thing.measured_mm, owned=True, recorded=law)


def _trial_coil(batch: Batch, mandrel: str, owned: Bench, read_with: str, of_outside: bool) -> TrialCoil | None:
    """The trial coil of a batch, with how it was read; None without one."""
    if batch.trial_inside_mm is None:
        if read_with:
            raise QuantityRefused("what read a trial coil, and no coil", "give its inside or its outside too")
        return None
    mm = batch.trial_mandrel_mm or batch.measured_mm or batch.mandrel_mm or 0.0
    return TrialCoil(
        inside_mm=batch.trial_inside_mm,
        mandrel_mm=mm,
        mandrel=_of_bench(mandrel, mm, owned),
        instrument=read_with,
        of_outside=of_outside,
        is_measured=batch.trial_mandrel_mm is None and batch.measured_mm is not None,
    )


def _of_bench(words: str, mm: float, owned: Bench) -> str:
    """The mandrel's name at the bench; "" where it is not among those, or has been measured anew."""
    return next((one.name for one in owned.mandrels if one.name == words.strip() and one.measured_mm == mm), "")


def _by_records(
    batch: Batch, owned: Bench, mandrel: str | None, spool: str, coil: TrialCoil | None
) -> tuple[Batch, Bench, list[str]]:
    """The batch with how its wire came off this very mandrel, or one for the ring that is wanted.

    The bench comes back with the trial coil among its records; with a sentence where some of them do not count.
    """
    owned = with_coil(owned, batch.wire, batch.material, coil, spool)
    if batch.wanted is not None:
        law = law_for(owned, batch.wire, batch.material, batch.cut, batch.wanted.inside_mm, spool)
    else:
        name = _of_bench(mandrel or "", batch.acting_mandrel_mm, owned)
        law = law_on(owned, batch.wire, batch.material, batch.cut, name, batch.acting_mandrel_mm, spool)
    if law is not None:
        batch = replace(batch, recorded=law, trial_inside_mm=None, trial_mandrel_mm=None)
    if not owned.records:
        return batch, owned, []
    from jigs.bench.knowledge import knowledge_of  # it loads what learns

    left = knowledge_of(owned).left_out([batch.material])
    return batch, owned, [f"{left[0].upper()}{left[1:]}."] if left else []


def _held(batch: Batch, mandrel: str | None, bench: Bench) -> Batch:
    """The batch, refused with tails too short to hold: through wood that is thick enough for a hole, else bent."""
    from jigs.planning.tools import THINNEST_DRILLED_MM, drill_for, refuse_short_tails

    owned = next((thing for thing in bench.mandrels if mandrel and thing.name == mandrel.strip()), None)
    drilled = owned is not None and owned.is_wood and owned.measured_mm >= THINNEST_DRILLED_MM
    drill = drill_for(batch.wire.diameter_mm, owned.measured_mm, bench) if owned and drilled else None
    refuse_short_tails(batch.tails_mm, drill)
    return batch


def _usual_saw(wire: Wire, owned: Bench) -> tuple[Blade, list[str]]:
    """The blade for the wire where none is named, and a sentence that says so."""
    from jigs.planning.tools import usual_blade

    choice = usual_blade(wire.diameter_mm, owned)
    note = f"No blade is named: {choice.blade.name} is taken, with {choice.teeth_in_wire:.1f} teeth in the wire."
    return choice.blade, [note]


def _weave(name: str, bench: Path | None) -> Weave:
    """The weave of that name, of one's own or of the table."""
    from jigs.orders.own_weaves import read_weaves
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
