"""The pack of a plan: every sheet that the bench needs, at true size, as pages of one print job.

In order: the cover; on paper the teacher's sheet, dowels, bench pins, a set of job cards for each seat, strips for
its dowels; then on card, a set of ring cards for each seat, labels and winding strips. The pages depend on the plan
and the setups alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from jigs.guides.cover import cover
from jigs.guides.cutting_list import cutting_list
from jigs.guides.job_card import Job, job_card
from jigs.packing.sheets import Sheets, card_keys
from jigs.planning.plan import Plan, RingPlan, SeatGroup
from jigs.reports.contents import Entry
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.errors import DoesNotFit, OutOfRange, Remedy, UnknownName
from layouts.pages.frame import CHECK_MM, COLUMN_MM
from layouts.pages.nested import compose_nested
from layouts.pages.nesting import Piece
from layouts.pages.page import Content, Page, Placed, Setup
from layouts.pages.sheet import compose

MOST_CARDS = 2000  # job cards and ring cards; with what is cut out for them a pack has some hundred pages more
SETS = ("each", "once")  # a set of sheets for each seat, or one for all seats with the same work
_NUMBER = 2.5  # em size, mm
_NAMED_RINGS = 4

Report = Callable[[int, int], None]
_STAGES = 6  # steps of the work besides the job cards


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Pages that belong together: what they are, what for, and on what; `seats` says whose each page is."""

    what: str
    use: str
    on: str
    pages: tuple[Page, ...]
    seats: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """All pages in order, the cover's table of them, and what is left out and why."""

    pages: tuple[Page, ...]
    entries: tuple[Entry, ...]
    left_out: tuple[str, ...]


def make_pack(
    plan: Plan,
    paper: Setup,
    card: Setup | None = None,
    *,
    hand: str = "right",
    sets: str = "each",
    report: Report = lambda done, total: None,
) -> Pack:
    """The pack of a plan for the setups of paper and of card (the same where there is one).

    `report` is told how many steps of how many are done. Refuses more than 2000 job cards and ring cards
    (`OutOfRange`) before any is made. A sheet that is too large for the paper is left out, and the cover says so;
    a job card, label or winding strip is not: it is refused (`DoesNotFit`).
    """
    if sets not in SETS:
        raise UnknownName("way to make sets", sets, SETS)
    maker = _Maker(plan, paper, card or paper, hand, sets == "each", report)
    maker.refuse_too_many()
    parts = tuple(part for part in maker.parts() if part.pages)
    return _bound(plan, paper, parts, tuple(maker.sheets.left_out))


def _bound(plan: Plan, paper: Setup, parts: tuple[Part, ...], left_out: tuple[str, ...]) -> Pack:
    """The parts under their cover, every page numbered."""
    facts, hints = tuple(_facts(plan)), tuple(_hints(plan))
    length = 1
    while True:
        entries = tuple(_entries(parts, length))
        front = compose(cover(facts, entries, left_out, hints), paper)
        if len(front) == length:
            break
        length = len(front)
    total = length + sum(len(part.pages) for part in parts)
    leaves = [(page, "") for page in front]
    leaves += [(page, seat) for part in parts for page, seat in zip(part.pages, _seats_of(part), strict=True)]
    pages = tuple(_numbered(page, number, total, seat) for number, (page, seat) in enumerate(leaves, 1))
    return Pack(pages=pages, entries=entries, left_out=left_out)


def _seats_of(part: Part) -> tuple[str, ...]:
    return part.seats or ("",) * len(part.pages)


def _entries(parts: Sequence[Part], front: int) -> Iterator[Entry]:
    first = front + 1
    for part in parts:
        last = first + len(part.pages) - 1
        yield Entry(what=part.what, use=part.use, on=part.on, first=first, last=last)
        first = last + 1


def _facts(plan: Plan) -> Iterator[tuple[str, str]]:
    if plan.order.seats > 1:
        yield "seats", str(plan.order.seats)
    yield "rings", f"{plan.wanted_rings} and {plan.made_rings - plan.wanted_rings} spare"
    yield "coils", str(plan.coils)
    yield "wire", f"{plan.cut_mm / 1000:.2f} m"


def _hints(plan: Plan) -> Iterator[str]:
    yield from (f"{caution}." for caution in plan.cautions)


def _numbered(page: Page, number: int, total: int, seat: str) -> Page:
    """The page with its number in the pack, and whose it is, at the lower right."""
    left, bottom, right, _ = page.paper.safe
    room = right - left - COLUMN_MM - CHECK_MM - 6.0
    count = f"{number} of {total}"
    for words in (f"{seat} · {count}" if seat else f"page {count}", count, str(number)):
        if lettering.width_mm(words, _NUMBER, bold=True) <= room:
            break
    draft, width = Draft(), lettering.width_mm(words, _NUMBER, bold=True)
    draft.text(0.0, 0.6, words, _NUMBER, bold=True)
    stamp = Placed(drawing=draft.drawing(width, 3.0, "the page number"), x=right - width, y=bottom)
    return replace(page, placed=(*page.placed, stamp))


class _Maker:
    """Composes the parts of a pack."""

    def __init__(self, plan: Plan, paper: Setup, card: Setup, hand: str, each: bool, report: Report) -> None:
        self.plan, self.paper, self.card, self.each, self.report = plan, paper, card, each, report
        self.done = 0
        self.sheets = Sheets(plan, hand)
        self.jobs = [(group, tuple(self.sheets.jobs(group))) for group in plan.groups]
        self.composed: dict[Job, tuple[Page, ...]] = {}
        self.drawn: dict[Job, tuple[Drawing, Drawing]] = {}

    def _step(self) -> None:
        """One step of the work is done."""
        self.done += 1
        self.report(self.done, _STAGES + len({job for _, jobs in self.jobs for job in jobs}))

    def _sets(self, group: SeatGroup) -> int:
        return group.seats if self.each else 1

    def refuse_too_many(self) -> None:
        """Refuses a pack of too many pages before the work, by its job cards and ring cards."""
        cards = sum(self._sets(group) * len(jobs) for group, jobs in self.jobs) + self._count_of_ring_cards()
        if cards > MOST_CARDS:
            problem = f"{cards} job cards and ring cards are more than the {MOST_CARDS} of a pack"
            raise OutOfRange(problem, "split the order", (Remedy.ONE_SET_FOR_ALL,) if self.each else ())

    def _count_of_ring_cards(self) -> int:
        if not self.each:
            return len(card_keys(self.plan.rings))
        return sum(group.seats * len(card_keys([job.plan for job in jobs])) for group, jobs in self.jobs)

    def parts(self) -> Iterator[Part]:
        """Everything after the cover, in order."""
        yield self._totals()
        self._step()
        yield from self._dowels()
        self._step()
        yield from self._pins()
        self._step()
        yield from self._job_cards()
        yield from self._dowel_strips()
        self._step()
        yield from self._ring_cards()
        self._step()
        yield self._labels()
        self._step()

    def _totals(self) -> Part:
        what, use = "Wire and cost", "wire to buy and to cut, totals, cost"
        if self.plan.order.seats > 1:
            what, use = "Teacher's sheet", "totals, wire to buy and to cut, seats, cost"
        return Part(what=what, use=use, on="paper", pages=compose(cutting_list(self.plan), self.paper))

    def _optional(self, what: str, use: str, rings: Sequence[RingPlan], content: Content, on: str) -> Iterator[Part]:
        """A part, unless a drawing of it is too large for the paper: then it is among what is left out."""
        setup = self.card if on == "card" else self.paper
        try:
            yield Part(what=what, use=f"{use}: {_named(rings)}", on=on, pages=compose(content, setup))
        except DoesNotFit as refusal:
            self.sheets.leave_out(_named(rings), what.lower(), refusal)

    def _dowels(self) -> Iterator[Part]:
        dowels = self.sheets.dowels()
        if dowels:
            rings = [ring for ring in self.plan.rings if ring.name in self.sheets.anchors]
            yield from self._optional("Dowels", "where to drill for the wire's tail", rings, dowels, "paper")

    def _pins(self) -> Iterator[Part]:
        for rings, pin in self.sheets.pins():
            yield from self._optional("Bench pin", "to glue on wood, saw and drill; for coils of", rings, pin, "paper")

    def _job_cards(self) -> Iterator[Part]:
        """A set for each seat, seat after seat; or one set for each group of seats with the same work."""
        if self.each:
            pages, seats = self._seat_by_seat(self._cards_of)
            one = "from mandrel to bag, steps to tick, what came out"
            use = f"a set for each seat, seat after seat: {_named(self.plan.rings)}"
            if self.plan.order.seats == 1:
                use, seats = one, ()
            yield Part(what="Job cards", use=use, on="paper", pages=pages, seats=seats)
            return
        for group, jobs in self.jobs:
            pages = tuple(page for job in jobs for page in self._job(job))
            whose = _seats(group)
            times = f"print {group.seats} times, {whose}" if group.seats > 1 else whose
            names = _named([job.plan for job in jobs])
            use = f"{times}: {names}"
            yield Part(what="Job cards", use=use, on="paper", pages=pages, seats=(whose,) * len(pages))

    def _seat_by_seat(
        self, pages_of: Callable[[Sequence[Job]], Iterator[Page]]
    ) -> tuple[tuple[Page, ...], tuple[str, ...]]:
        """The pages of every seat, seat after seat, and whose each is; seats with the same work share theirs."""
        leaves: list[tuple[Page, str]] = []
        for group, jobs in self.jobs:
            own = tuple(pages_of(jobs))
            for seat in range(group.first, group.last + 1):
                leaves += [(page, f"seat {seat}") for page in own]
        return tuple(page for page, _ in leaves), tuple(seat for _, seat in leaves)

    def _cards_of(self, jobs: Sequence[Job]) -> Iterator[Page]:
        """The job cards of one seat."""
        for job in jobs:
            yield from self._job(job)

    def _job(self, job: Job) -> tuple[Page, ...]:
        if job not in self.composed:
            self.composed[job] = compose(job_card(job), self.paper)
            self._step()
        return self.composed[job]

    def _dowel_strips(self) -> Iterator[Part]:
        """A strip for the dowel of each seat; a maker alone has the one on the dowel sheet."""
        pieces = []
        strips = {ring.name: self.sheets.strip_for_dowel(ring) for ring in self.plan.rings}
        if self.plan.order.seats > 1:
            for group, jobs in self.jobs:
                found = [strips[job.plan.name] for job in jobs]
                pieces += [Piece(drawing=strip) for strip in found if strip] * self._sets(group)
        try:
            yield self._nested("Dowel strips", "a strip to wrap round the dowel of each seat", pieces, "paper")
        except DoesNotFit as refusal:
            self.sheets.leave_out("each seat", "strip for a dowel of its own", refusal)

    def _ring_cards(self) -> Iterator[Part]:
        """A card for each wire and tolerance: a set for each seat of a class, seat after seat; or each card once."""
        cards = [
            (rings, part)
            for rings, content in self.sheets.ring_cards()
            for part in self._optional("Ring card", "to lay rings on", rings, content, "card")
        ]
        if self.each and self.plan.order.seats > 1:
            yield self._ring_card_sets(cards)
        else:
            yield from (part for _, part in cards)

    def _ring_card_sets(self, cards: Sequence[tuple[Sequence[RingPlan], Part]]) -> Part:
        """For each seat the cards with a ring that it makes."""

        def pages_of(jobs: Sequence[Job]) -> Iterator[Page]:
            made = {job.plan.name for job in jobs}
            for rings, part in cards:
                if made.intersection(ring.name for ring in rings):
                    yield from part.pages

        pages, seats = self._seat_by_seat(pages_of)
        use = (
            f"to lay rings on, a set for each seat, seat after seat: {_named([r for rings, _ in cards for r in rings])}"
        )
        return Part(what="Ring cards", use=use, on="card", pages=pages, seats=seats)

    def _labels(self) -> Part:
        pieces = []
        for group, jobs in self.jobs:
            drawn = [drawing for job in jobs for drawing in self._pieces(job)]
            pieces += [Piece(drawing=drawing) for drawing in drawn] * self._sets(group)
        pieces += [Piece(drawing=drawing) for drawing in self.sheets.spools()]
        use = "to cut out: a bag's label and a winding strip for each ring, a label for each spool"
        if self.plan.order.seats > 1:
            use = "to cut out: for each seat a bag's label and a winding strip of each ring; a label for each spool"
        return self._nested("Labels and winding strips", use, pieces, "card")

    def _pieces(self, job: Job) -> tuple[Drawing, Drawing]:
        if job not in self.drawn:
            self.drawn[job] = self.sheets.pieces(job)
        return self.drawn[job]

    def _nested(self, what: str, use: str, pieces: Sequence[Piece], on: str) -> Part:
        content = Content(
            title=what,
            facts=(("pieces", str(len(pieces))), ("print on", on)),
            draw=lambda field: [],
            notes=_CUT_OUT[on],
            cautions=_CARE[on],
        )
        setup = self.card if on == "card" else self.paper
        return Part(what=what, use=use, on=on, pages=compose_nested(content, pieces, setup) if pieces else ())


_CUT_OUT = {
    "card": (
        "Winding strip: lay its edge beside the coil, 0 where it begins; wind until the last turn ends at an arrow."
        " Paper reads ±0.1 mm at best; wire 1 % thicker than its name reads 1 turn in 100 too many.",
    ),
    "paper": (
        "Wrap tight with END flush with the dowel's end and the tail over the start, tape. Prick every cross, drill"
        " from both sides to the middle. How: see the sheet Dowels.",
    ),
}

_CARE = {
    "card": (
        "a wound coil is a spring and cut ends fly: protect your eyes (EN 166, ANSI Z87.1); follow your workshop's"
        " rules.",
    ),
    "paper": (
        "clamp the dowel on a vee, scrap under the exit, never hold it in the hand. No gloves, loose sleeves or hair"
        " near a drill (EN 510). Protect your eyes (EN 166, ANSI Z87.1); dust mask for wood dust. Follow your"
        " workshop's rules and local codes.",
    ),
}


def _named(rings: Sequence[RingPlan]) -> str:
    """The names of rings, or how many kinds they are."""
    return ", ".join(ring.name for ring in rings) if len(rings) <= _NAMED_RINGS else f"{len(rings)} kinds of ring"


def _seats(group: SeatGroup) -> str:
    return f"seat {group.first}" if group.seats == 1 else f"seats {group.first} to {group.last}"
