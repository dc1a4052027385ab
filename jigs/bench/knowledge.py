"""What the records of the bench folder say of the next batch: springback, kerf and trim, with the band they leave."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from jigs.bench.bench import Bench, Mandrel
from jigs.bench.record import NO_METAL, SIZES, Record
from jigs.making.bending import PerfectlyPlastic
from jigs.making.cutting import Cut, Cutters, Saw, choose_cut
from jigs.making.learning import Learnt, learn
from jigs.making.material import LawBand, Material, choose_material
from jigs.making.prior import prior_of
from jigs.making.trial import INDEX, TRIM_APART, CutPrior, Doubt, Expected, Reading, Trial
from jigs.making.trial import Rod as TrialRod
from jigs.making.trial import Wire as TrialWire
from jigs.stock.figure import Basis, Figure
from jigs.stock.metal import find_metal
from jigs.stock.wire import Wire
from layouts.errors import Refusal
from layouts.lengths import bare, sized

# Standard deviations of a cut before it is recorded; common practice, no source.
TABLE_KERF_MM, OWN_KERF_MM = 0.015, 0.008
USUAL_TRIM, OWN_TRIM = 0.25, 0.03  # of the wire
SOLD_WIRE = 0.005  # how far wire is off what it is sold as, a part
ANOTHER = "another spool"
_HOLDS = "the band holds rod, springback and cut"


@dataclass(frozen=True, slots=True, kw_only=True)
class RecordedLaw:
    """Springback as recorded: ln(Y / E) at the index 5 with its hardening, and what a rod's coil is off that [mm]."""

    log_yield: float
    hardening: float
    wire_mm: float
    off_mm: float = 0.0

    def kept(self, index: float) -> float:
        """Wound mean diameter / free mean diameter, the free one larger by what is off."""
        from math import exp, log

        flow = PerfectlyPlastic(yield_strain=exp(self.log_yield - self.hardening * log(index / INDEX)))
        stays = flow.kept(index)
        if stays <= 0:
            return stays
        return index * self.wire_mm / (index * self.wire_mm / stays + self.off_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Knowledge:
    """What the records say, those that do not fit left out: named in doubts.

    shown is the law of a trial coil that is the only record: it then takes the place of what is learnt.
    """

    bench: Bench
    learnt: Learnt
    doubts: tuple[Doubt, ...]
    shown: RecordedLaw | None = None

    @property
    def kept(self) -> tuple[Record, ...]:
        """The records that count."""
        left = {name for doubt in self.doubts for name in doubt.names}
        return tuple(record for record in self.bench.records if record.name not in left)

    def left_out(self, materials: Iterable[Material]) -> str:
        """Which records of these materials do not fit and so do not count, in words; empty where there are none."""
        left = {name for doubt in self.doubts for name in doubt.names}
        groups = {_group(material) for material in materials}
        names = [record.name for record in self.bench.records if record.name in left and record.group in groups]
        if not names:
            return ""
        if len(names) == 1:
            return f"record {names[0]} does not fit the others and does not count: correct it, or confirm it"
        return f"records {', '.join(names)} do not fit the others and do not count: correct them, or confirm one"

    def spool_for(self, wire: Wire, group: str, named: str = "") -> str:
        """The spool that is meant: as named, else the only one of that wire and metal; else another one."""
        if named:
            return named
        same = (wire.diameter_mm * 0.99, wire.diameter_mm * 1.01)
        found = {
            spool.name
            for spool in self.bench.spools
            if f"{spool.metal.name}, {spool.temper}" == group and same[0] <= spool.wire.diameter_mm <= same[1]
        } | {
            record.spool_key
            for record in self.kept
            if record.group == group and same[0] <= record.wire.diameter_mm <= same[1]
        }
        return found.pop() if len(found) == 1 else ANOTHER

    def wire(self, wire: Wire, material: Material, spool: str) -> TrialWire:
        """A wire as the model takes it."""
        return _wire(self.bench, wire.diameter_mm, material, _group(material), spool)

    def expected(
        self, wire: Wire, material: Material, cut: Cut, rod: TrialRod, spool: str = ""
    ) -> tuple[Expected, Expected]:
        """The coil and the closed ring that are expected of the next batch."""
        model = self.wire(wire, material, self.spool_for(wire, _group(material), spool))
        return self.learnt.expected(model, rod, cut_prior(cut, wire.diameter_mm))

    def rod(self, name: str, diameter_mm: float) -> TrialRod:
        """A rod as the model takes it: of the bench by its name, with what read it; any other is what it says.

        One of the very size that a trial coil was wound on is that rod, whatever it is called.
        """
        if self.shown and (tried := self.learnt.trials[0].rod).diameter_mm == diameter_mm:
            return tried
        owned = next((one for one in self.bench.mandrels if one.name == name), None)
        if owned is not None:
            return _owned_rod(owned, self.bench)
        if ("rod", sized := rod_by_size(diameter_mm)) in self.learnt.places:
            return TrialRod(name=sized, diameter_mm=diameter_mm)
        return TrialRod(name="", diameter_mm=diameter_mm, exact=True)

    def cut(self, cut: Cut, wire_mm: float) -> Cut:
        """The cut with the kerf or the trim that was recorded, where nothing better is known."""
        prior = cut_prior(cut, wire_mm)
        if ("cut", prior.name) not in self.learnt.places or cut.loss.basis.rank <= Basis.RECORDED.rank:
            return cut
        loss = self.learnt.loss(prior)
        mm = max(0.0, loss.mm)
        low, high = max(0.0, loss.band_mm[0]), max(mm, loss.band_mm[1])
        what = "kerf" if cut.is_sawn else "trim"
        words = f"{what} {sized(mm, 3)} by your records ({bare(low, 3)} to {bare(high, 3)})"
        figure = Figure(name=what, value=mm, low=low, high=high, basis=Basis.RECORDED, words=words)
        if isinstance(cut, Saw) and cut.blade is not None and mm >= cut.blade.thickness_mm:
            return replace(cut, blade=replace(cut.blade, kerf=figure))
        if isinstance(cut, Cutters):
            return Cutters(loss=replace(figure, words=f"cutters: {words}"))
        return cut

    def laws(
        self, wire: Wire, material: Material, cut: Cut, rod: TrialRod, spool: str = "", *, always: bool = False
    ) -> LawBand | None:
        """How the wire springs off a rod by the records, so that the closed ring comes out as expected.

        None where nothing of its metal and temper was recorded, unless `always`: then by the table's band. The band
        holds all that is not known: springback, rod and cut.
        """
        group = _group(material)
        own = self.spool_for(wire, group, spool)
        of_group = [record for record in self.kept if record.group == group]
        if not of_group and not always:
            return None
        of_spool = [record for record in of_group if record.spool_key == own]
        model = self.wire(wire, material, own)
        coil, ring = self.learnt.expected(model, rod, cut_prior(cut, wire.diameter_mm))
        basis = Basis.RECORDED if of_group else Basis.TABLE
        words = _words(own, group, of_spool, of_group, material)
        if self.shown:
            law, basis, words = self.shown, Basis.MEASURED, _shown_words(of_spool[0], self.bench)
        else:
            log_yield, hardening = self.learnt.flow(model)
            law = RecordedLaw(log_yield=log_yield, hardening=hardening, wire_mm=wire.diameter_mm)
            index = rod.diameter_mm / wire.diameter_mm + 1
            stays = law.kept(index)
            off = coil.mm - (index * wire.diameter_mm / stays - wire.diameter_mm) if stays > 0 else 0.0
            law = replace(law, off_mm=off)
        low, high = (replace(law, off_mm=law.off_mm + part * ring.sd_mm) for part in (-2, 2))
        return LawBand(low=low, middle=law, high=high, basis=basis, words=words)


@lru_cache(maxsize=16)
def knowledge_of(bench: Bench) -> Knowledge:
    """What the records of a bench say; worked out once, as long as nothing in the folder changes."""
    learnt, doubts = learn([trial_of(record, bench) for record in bench.records if record.trial is None])
    return Knowledge(bench=bench, learnt=learnt, doubts=doubts)


def trial_of(record: Record, bench: Bench) -> Trial:
    """A record as the model takes it."""
    material = material_of(record)
    owned = next((one for one in bench.mandrels if one.name == record.mandrel), None)
    if owned is not None:
        rod = _owned_rod(owned, bench)
    elif record.is_measured:
        tool = bench.instrument(record.instrument).off_by(record.scale)
        rod = TrialRod(name=record.mandrel, diameter_mm=record.measured_mm, instrument=tool)
    else:
        rod = TrialRod(name=rod_by_size(record.measured_mm), diameter_mm=record.measured_mm)
    wire_mm = record.wire.diameter_mm
    return Trial(
        name=record.name,
        wire=_wire(bench, wire_mm, material, record.group, record.spool_key),
        rod=rod,
        cut=cut_prior(recorded_cut_of(record, bench), wire_mm),
        readings=tuple(_readings(record, bench)),
        confirmed=record.confirmed,
    )


def _owned_rod(owned: Mandrel, bench: Bench) -> TrialRod:
    return TrialRod(
        name=owned.name,
        diameter_mm=owned.measured_mm,
        instrument=bench.instrument_of(owned),
        readings=owned.readings,
        all_round=owned.is_read_all_round,
    )


def rod_by_size(diameter_mm: float) -> str:
    """What a rod is called that has no name but its size, whatever units that is written in."""
    return f"rod of {diameter_mm:.4f} mm"


def cut_prior(cut: Cut, wire_mm: float) -> CutPrior:
    """A cut as the model takes it, by the blade, or by the wire for cutters."""
    measured, recorded = cut.loss.basis is Basis.MEASURED, 0.0
    if cut.loss.basis is Basis.RECORDED and cut.loss.low is not None and cut.loss.high is not None:
        recorded = (cut.loss.high - cut.loss.low) / 4  # a band is at k = 2
    if isinstance(cut, Saw):
        name = f"blade {cut.blade.name}" if cut.blade else f"saw of {cut.loss_mm:.3f} mm"
        sd = recorded or (OWN_KERF_MM if measured else TABLE_KERF_MM)
        return CutPrior(name=name, loss_mm=cut.loss_mm, sd_mm=sd)
    if isinstance(cut, Cutters):
        sd = recorded or (OWN_TRIM if measured else USUAL_TRIM) * wire_mm
        return CutPrior(name=f"cutters, {wire_mm:.2f} mm", loss_mm=cut.loss_mm, sd_mm=sd, apart=TRIM_APART)
    return CutPrior(name="", loss_mm=0.0, sd_mm=0.0)


def recorded_cut_of(record: Record, bench: Bench) -> Cut:
    """How a batch was cut; a measured kerf is a reading of it, and no more."""
    how = record.how_cut
    blade = bench.blade(record.blade) if record.blade else None
    kerf = sum(record.kerf) / len(record.kerf) if record.kerf and blade is None else None
    if how == "saw" and blade is None and kerf is None:
        kerf = 0.28  # common practice: the middle of the blades used for rings
    return choose_cut(how, wire_mm=record.wire.diameter_mm, blade=blade, kerf_mm=kerf)


def _readings(record: Record, bench: Bench) -> Iterator[Reading]:
    tool = bench.instrument(record.instrument).off_by(record.scale)
    names = {"coil_inside": "coil", "coil_outside": "coil outside", "ring_inside": "inside", "ring_outside": "outside"}
    for key in SIZES:
        if not (sizes := getattr(record, key)) or (key == "kerf" and not record.blade):
            continue
        mean, many = sum(sizes) / len(sizes), len(sizes)
        if key == "chain":
            of_chain = bench.instrument(record.chain_instrument or record.instrument).off_by(record.scale)
            yield Reading(what="chain", mm=mean, instrument=of_chain, readings=many, rings=record.chain_rings)
        else:
            yield Reading(what=names.get(key, "cut"), mm=mean, instrument=tool, readings=many)


def material_of(record: Record) -> Material:
    """The material of a record, as far as the table knows it."""
    try:
        return choose_material(find_metal(record.metal), record.temper)
    except Refusal:  # a metal or a temper of which the table has no strength
        return Material()


def _group(material: Material) -> str:
    metal = material.metal.name if material.metal else NO_METAL
    return f"{metal}, {material.temper.name if material.temper else 'soft'}"


def _wire(bench: Bench, wire_mm: float, material: Material, group: str, spool: str) -> TrialWire:
    log_yield, hardening = prior_of(material)
    sd = SOLD_WIRE * wire_mm
    owned = next((one for one in bench.spools if one.name == spool), None)
    if owned is not None and owned.instrument:
        sd = bench.instrument_of(owned).uncertainty_mm(wire_mm, owned.readings) / 2
    return TrialWire(spool=spool, group=group, diameter_mm=wire_mm, log_yield=log_yield, hardening=hardening, sd_mm=sd)


def _words(own: str, group: str, of_spool: Sequence[Record], of_group: Sequence[Record], material: Material) -> str:
    if of_spool:
        return f"recorded: {_batches(of_spool)} of {own}; {_HOLDS}"
    if of_group:
        return f"recorded: {_batches(of_group)} of {group}, none of this spool; {_HOLDS}"
    return f"{material.laws.words}; {_HOLDS}"


def _shown_words(record: Record, bench: Bench) -> str:
    """A trial coil that stands alone: what was measured, and with what."""
    coil, tool = record.trial, bench.instrument(record.instrument)
    if coil is None:
        return ""
    sizes = f"{sized(coil.inside_mm, 3)} inside off a {sized(coil.mandrel_mm, 3)} mandrel"
    good = f"good for {sized(tool.uncertainty_mm(coil.inside_mm), 3)}"
    read = tool.name if coil.instrument else f"{tool.name} (assumed)"
    owned = next((one for one in bench.mandrels if one.name == record.mandrel), None)
    mandrel = f"by {owned.instrument}" if owned else "by caliper" if coil.is_measured else "as named"
    return f"trial coil measured: {sizes}; coil by {read}, {good}, mandrel {mandrel}; {_HOLDS}"


def _batches(records: Sequence[Record]) -> str:
    return "1 batch" if len(records) == 1 else f"{len(records)} batches"
