"""The sheets that a plan asks for, one by one: what a ring gets, what the room gets, and what is left out and why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from jigs.guides.bench_pin import bench_pin
from jigs.guides.dowel import dowel_sheet, in_tray, wrap_strip
from jigs.guides.labels import Bag, bag_label, spool_label
from jigs.guides.pieces.job import LEAST_WITH_PAIR_MM, Job, accepted, gives_words, is_off, ring_in_words, window
from jigs.guides.pocket_card import has_room, pocket_card
from jigs.guides.ring_card import ring_card
from jigs.guides.winding_strip import winding_strip
from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.making.pin import USUAL_THICKNESS_MM, Pin
from jigs.planning.buying import Buying
from jigs.planning.plan import Plan, RingPlan, SeatGroup
from jigs.reports.words import count_words
from jigs.stock.blade import Blade, blades
from layouts.drawing.marks import Drawing
from layouts.errors import OutOfRange, Refusal
from layouts.lengths import sized, sold_length, to_cut
from layouts.pages.page import Content

FEW_RINGS = 20  # sawn at the edge of a pin that is there, without a groove of their own (common practice, no source)
DRAWN_COIL_MM = 20.0  # of a coil on a dowel: what saws well (common practice, no source)
PIN_LENGTH_MM = 120.0  # usual wood, and its widths and thicknesses (common practice, no source)
PIN_WOOD_MM = (75.0, USUAL_THICKNESS_MM), (95.0, 25.0)
SAME_GROOVE = 0.15  # coils whose outsides differ by less lie in one groove (common practice, no source)


class Sheets:
    """What there is to print for a plan, with `tray` in the printer's tray; `left_out` says what is not, and why."""

    def __init__(self, plan: Plan, hand: str, tray: str) -> None:
        self.plan, self.hand, self.tray = plan, hand, tray
        self.left_out: list[str] = []
        self.drilled = dict(self._drilled())

    def leave_out(self, whose: str, what: str, why: Refusal | str) -> None:
        """Notes that a sheet is left out, and why."""
        words = why if isinstance(why, str) else why.whole
        self.left_out.append(f"{whose}: no {what}. {words[:1].upper()}{words[1:]}.")

    # --- dowels

    def _drilled(self) -> Iterator[tuple[str, DrilledDowel]]:
        """A drilled dowel for each ring whose mandrel may be of wood and bears the hole."""
        for ring in self.plan.rings:
            use = ring.mandrel
            if not use.may_be_wood:
                why = f"{use.name} {use.why_not_drilled}: bend the tail and clamp it with the mandrel"
                self.leave_out(ring.name, "dowel sheet", why)
                continue
            try:
                yield ring.name, _drilled_dowel(ring)
            except Refusal as refusal:
                self.leave_out(ring.name, "dowel sheet", refusal)

    def number(self, ring: RingPlan) -> int:
        """Which block of the dowel sheet is the ring's, from 1."""
        return list(self.drilled).index(ring.name) + 1

    def dowels(self) -> Content | None:
        """The dowel sheet of all rings; None where no dowel is drilled."""
        return dowel_sheet(tuple(self.drilled.values()), self.tray) if self.drilled else None

    def strip_for_dowel(self, ring: RingPlan) -> Drawing | None:
        """The strip to wrap round one more dowel of a ring."""
        drilled = self.drilled.get(ring.name)
        return wrap_strip(self.number(ring), in_tray(drilled, self.tray)) if drilled else None

    # --- bench pins

    def pins(self) -> Iterator[tuple[tuple[RingPlan, ...], Content]]:
        """A bench pin for the sawn rings, most rings first; coils of nearly one size share a groove."""
        sawn = sorted((r for r in self.plan.rings if r.batch.cut.is_sawn), key=lambda r: -r.made_rings)
        has_one = False
        while sawn:
            outside = sawn[0].batch.coil.outside_mm
            served = [r for r in sawn if abs(r.batch.coil.outside_mm / outside - 1) <= SAME_GROOVE]
            sawn = [ring for ring in sawn if ring not in served]
            few = sum(ring.made_rings for ring in served)
            if has_one and few <= FEW_RINGS:
                are = "ring is" if few == 1 else "rings are"
                why = f"{few} {are} too few for one: hold the coil at a starter kerf of the other pin"
                self.leave_out(", ".join(ring.name for ring in served), "bench pin of its own", why)
                continue
            try:
                yield tuple(served), bench_pin(self._pin(served[0]))
                has_one = True  # only now: a pin that was refused has no kerfs to hold a coil at
            except Refusal as refusal:
                for ring in served:
                    self.leave_out(ring.name, "bench pin", refusal)

    def _pin(self, ring: RingPlan) -> Pin:
        """The pin with its groove, in thicker wood where it must be; without a groove where no wood will do."""
        make = partial(
            Pin,
            length_mm=PIN_LENGTH_MM,
            coil_outside_mm=ring.batch.coil.outside_mm,
            blade=_blade(ring),
            hand=self.hand,
        )
        for width, thickness in PIN_WOOD_MM:
            try:
                return make(width_mm=width, thickness_mm=thickness)
            except OutOfRange:  # the groove is too deep, too wide or too small for this wood
                continue
        without = make(
            width_mm=PIN_WOOD_MM[0][0], thickness_mm=USUAL_THICKNESS_MM, layouts=("vee-hole", "kerfs", "guide")
        )
        coil = f"a coil of {sized(ring.batch.coil.outside_mm, 1)} does not suit one: hold it against the wood"
        self.leave_out(ring.name, "groove in the bench pin", coil)
        return without

    # --- ring cards

    def ring_cards(self) -> Iterator[tuple[tuple[RingPlan, ...], Content]]:
        """A sheet for each wire and tolerance of the wanted rings that are too large for a pocket card."""
        large = [ring for ring in self.plan.rings if not has_pocket_card(ring)]
        for key in card_keys(large):
            rings = tuple(ring for ring in large if _card_key(ring) == key)
            insides = list(dict.fromkeys(ring.wanted.inside_mm for ring in rings))
            try:
                yield rings, ring_card([rings[0].ordered.wire], insides, key[1])
            except Refusal as refusal:
                for ring in rings:
                    self.leave_out(ring.name, "ring card", refusal)

    # --- a seat's pieces

    def jobs(self, group: SeatGroup) -> Iterator[Job]:
        """What one seat of a group makes; a seat without a ring of a kind has no job of it."""
        work = list(zip(self.plan.rings, (share for _, share in group.shares), strict=True))
        handed = [(ring.name, share) for ring, share in work if share.made and not share.lots]
        said = tuple(f"Seat 1 winds the {name} for all; fetch {count_words(share)} there." for name, share in handed)
        for ring, share in work:
            if share.lots:
                yield Job(plan=ring, share=share, drilled=ring.name in self.drilled, handed=said)

    def pieces(self, job: Job) -> tuple[Drawing, ...]:
        """The pocket card, where the ring has room on one, the bag's label and the winding strip of a job."""
        ring, tolerance = job.plan, _card_key(job.plan)[1]
        stock = f"{ring.ordered.wire.in_words} {ring.ordered.material.name}"
        about = stock, f"Wanted ID {sized(ring.wanted.inside_mm, 2)}; {window(ring)} passes{gives_words(ring)}."
        cards = (pocket_card(ring.name, about, ring.wanted, tolerance),) if has_pocket_card(ring) else ()
        return *cards, self._bag(job), winding_strip(ring.name, stock, ring.batch.coil, job.share.lots)

    def _bag(self, job: Job) -> Drawing:
        ring = job.plan
        cut = ring.batch.cut.name
        if ring.blade and ring.batch.cut.is_sawn:
            cut = f"saw, blade {ring.blade.blade.name}"
        bag = Bag(
            name=ring.name,
            wire=ring.ordered.wire,
            metal=ring.ordered.material.name,
            ring=ring.wanted,
            mandrel=_mandrel(ring),
            count=job.count,
            cut="" if cut == "none" else cut,
            wires=job.lengths,
            window=accepted(ring),
            gives=sized(ring.ring.inside_mm, 2) if is_off(ring) else "",
        )
        return bag_label(bag, each_seat=self.plan.order.seats > 1)

    def spools(self) -> Iterator[Drawing]:
        """A label for each wire that is bought or at hand."""
        for buying in self.plan.buyings:
            yield spool_label(buying.wire, buying.material.name, list(self._spool(buying)))

    def _spool(self, buying: Buying) -> Iterator[tuple[str, str]]:
        rings = [ring for ring in self.plan.rings if ring.ordered.supply_key == buying.key]
        # what comes, piece by piece, then what is drawn from spools at hand
        lengths = [
            (f"{count} × " if count > 1 else "") + sold_length(mm, in_feet=buying.is_in_feet(mm))
            for mm, count in buying.cutting.lengths
        ]
        if buying.drawn_mm:
            lengths.append(f"{to_cut(buying.drawn_mm)} at hand")
        yield "length", f"{' + '.join(lengths)}; {to_cut(buying.cut_mm)} to cut"
        for ring in rings[:_RINGS_ON_A_SPOOL]:
            size = f"{ring_in_words(ring.wanted)}, on {_mandrel(ring)}"
            yield "for", f"{ring.name}, {ring.made_rings}: {size}"
        more = len(rings) - _RINGS_ON_A_SPOOL
        if more > 0:
            yield "for", f"and {more} more {'kind' if more == 1 else 'kinds'} of ring"


_RINGS_ON_A_SPOOL = 4


def _drilled_dowel(ring: RingPlan) -> DrilledDowel:
    """The hole for the wire's tail, with as much of a coil as is drawn."""
    lots = [lot for share in ring.shares for lot in share.lots]
    pitch = ring.batch.pitch_mm
    # n turns that touch are n x pitch + one wire long, so one pitch goes off first
    turns = min(max(lot.turns for lot in lots), max(1, int((DRAWN_COIL_MM - pitch) / pitch)))
    own = ring.drill.drill if ring.drill.owned else None
    return DrilledDowel(
        dowel=Dowel(diameter_mm=ring.mandrel.diameter_mm, measured=ring.mandrel.owned),
        wire=ring.ordered.wire,
        turns=turns,
        pitch_mm=pitch,
        own_drill=own,
    )


def _blade(ring: RingPlan) -> Blade:
    """The blade of the plan; where only a kerf is known, the one nearest to it with that kerf."""
    if ring.blade:
        return ring.blade.blade
    kerf = ring.batch.cut.loss_mm
    near = min(blades(), key=lambda blade: abs(blade.kerf_mm - kerf))
    return near.with_kerf(kerf)


def has_pocket_card(ring: RingPlan) -> bool:
    """Whether the ring has room on a pocket card; one that has none gets a sheet."""
    return has_room(ring.wanted, _card_key(ring)[1])


def card_keys(rings: Sequence[RingPlan]) -> tuple[tuple[float, float | None], ...]:
    """One for each ring card that the rings need, in their order."""
    return tuple(dict.fromkeys(_card_key(ring) for ring in rings))


def _card_key(ring: RingPlan) -> tuple[float, float | None]:
    """What rings of one card share: the wire, and the tolerance of the job card for the small and the large disc."""
    has_pair = ring.wanted.inside_mm >= LEAST_WITH_PAIR_MM
    return ring.ordered.wire.diameter_mm, ring.tolerance_mm if has_pair else None


def _mandrel(ring: RingPlan) -> str:
    """Its name, and its millimetres where the name does not say them."""
    name, size = ring.mandrel.name, sized(ring.mandrel.diameter_mm, 2)
    return name if size in name or sized(ring.mandrel.diameter_mm, 1) == name else f"{name}, {size}"
