"""The pack of a plan: every sheet that the bench needs, at true size, as pages of one print job.

In order: the cover; on paper the teacher's sheet, dowels, bench pins, a leaf for each seat, strips for its dowels;
then on card what is cut out for each seat: ring cards, labels, winding strips. For one maker the cover has the totals
and the dowels as well. The pages depend on the plan and the setups alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from jigs.guides.cover import cover
from jigs.guides.cutting_list import WIRE_ENDS, cutting_list, put_totals, snipped
from jigs.guides.job_card import job_card
from jigs.guides.pieces.job import Job
from jigs.guides.seat_leaf import seat_leaf
from jigs.packing.sheets import Sheets, card_keys, has_pocket_card
from jigs.planning.plan import Plan, RingPlan, SeatGroup
from jigs.reports.contents import ContentsEntry
from layouts.drawing import lettering
from layouts.drawing.marks import Draft, Drawing
from layouts.errors import DoesNotFit, OutOfRange, Remedy, UnknownName
from layouts.lengths import sized, wire_said
from layouts.pages.frame import COLUMN_MM
from layouts.pages.nested import compose_nested
from layouts.pages.nesting import Piece
from layouts.pages.page import Content, Page, Placed, Setup
from layouts.pages.paper import CHECK_MM
from layouts.pages.sheet import compose
from layouts.pages.stack import Stack
from layouts.showing import show_grams

# Job cards and ring cards; with what is cut out for them a pack has some hundred pages more. A limit, so that a slip of
# the pen ("seats = 8000") is said before minutes of work.
MOST_CARDS = 2000
SETS = ("each", "once")  # a set of sheets for each seat, or one for all seats with the same work
_NUMBER = 2.5  # em size, mm
_NAMED_RINGS = 4  # more would crowd the contents

StepsDone = Callable[[int, int], None]
_STAGES = 6  # steps of the work besides the leaves of the seats


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundle:
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
    entries: tuple[ContentsEntry, ...]
    left_out: tuple[str, ...]


def make_pack(
    plan: Plan,
    paper: Setup,
    card: Setup | None = None,
    *,
    hand: str = "right",
    sets: str = "each",
    report: StepsDone = lambda done, total: None,
) -> Pack:
    """The pack of a plan for the setups of paper and of card (the same where there is one).

    `report` is told how many steps of how many are done. Refuses more than 2000 job cards and ring cards
    (`OutOfRange`) before any is made. A sheet that is too large for the paper is left out, and the cover says so;
    a job card, label or winding strip is not: it is refused (`DoesNotFit`).
    """
    if sets not in SETS:
        raise UnknownName("way to make sets", sets, SETS)
    each = sets == "each" or plan.order.seats == 1  # for one maker the two are the same
    maker = _Maker(plan, paper, card or paper, hand, each, report)
    maker.refuse_too_many()
    bundles = tuple(bundle for bundle in maker.bundles() if bundle.pages)
    # The cover lists the pages behind it, and their numbers depend on its own length.
    front, length = maker.front(bundles, 1), 1
    while len(front) != length:
        length = len(front)
        front = maker.front(bundles, length)
    leaves = [(page, "") for page in front]
    for bundle in bundles:
        leaves += zip(bundle.pages, bundle.seats or [""] * len(bundle.pages), strict=True)
    pages = tuple(_numbered(page, number, len(leaves), seat) for number, (page, seat) in enumerate(leaves, 1))
    return Pack(pages=pages, entries=tuple(_entries(bundles, length)), left_out=tuple(maker.sheets.left_out))


def _entries(bundles: Sequence[Bundle], front: int) -> Iterator[ContentsEntry]:
    first = front + 1
    for bundle in bundles:
        last = first + len(bundle.pages) - 1
        yield ContentsEntry(what=bundle.what, use=bundle.use, on=bundle.on, first=first, last=last)
        first = last + 1


def _facts(plan: Plan) -> Iterator[tuple[str, str]]:
    if plan.order.seats > 1:
        yield "seats", str(plan.order.seats)
    yield "rings", f"{plan.wanted_rings} and {plan.made_rings - plan.wanted_rings} spare"
    yield "windings", str(plan.coils)
    yield "wire", wire_said(plan.cut_mm)
    if plan.order.seats == 1:
        yield "metal", show_grams(plan.metal.cut_g, 1)


def _numbered(page: Page, number: int, total: int, seat: str) -> Page:
    """The page with its number in the pack, and whose it is, at the lower right."""
    left, bottom, right, _ = page.paper.safe
    # the foot of the page has the column of the head and the check bar at its left
    room = right - left - COLUMN_MM - CHECK_MM - 6.0
    count = f"{number} of {total}"
    for words in (f"{seat} · {count}" if seat else f"page {count}", count, str(number)):
        if lettering.width_mm(words, _NUMBER, bold=True) <= room:
            break
    draft, width = Draft(), lettering.width_mm(words, _NUMBER, bold=True)
    draft.text(0.0, 0.6, words, _NUMBER, bold=True)
    stamp = Placed(drawing=draft.drawing(width, 3.0, "the page number"), x=right - width, y=bottom)
    return page._replace(placed=(*page.placed, stamp))


class _Maker:
    """Composes the bundles of a pack."""

    def __init__(self, plan: Plan, paper: Setup, card: Setup, hand: str, each: bool, report: StepsDone) -> None:
        self.plan, self.paper, self.card, self.each, self.report = plan, paper, card, each, report
        self.done = 0
        self.sheets = Sheets(plan, hand, paper.printer.tray if paper.printer else "")
        self.jobs = [(group, tuple(self.sheets.jobs(group))) for group in plan.groups]
        self.composed: dict[tuple[Job, ...], tuple[Page, ...]] = {}
        self.drawn: dict[Job, tuple[Drawing, ...]] = {}
        self.alone = plan.order.seats == 1
        self.without_dowels = False

    def _step(self) -> None:
        """One step of the work is done."""
        self.done += 1
        self.report(self.done, _STAGES + len({jobs for _, jobs in self.jobs if jobs}))

    def _sets(self, group: SeatGroup) -> int:
        return group.seats if self.each else 1

    def refuse_too_many(self) -> None:
        """Refuses a pack of too many pages before the work, by its job cards and ring cards."""
        cards = sum(self._sets(group) * len(jobs) for group, jobs in self.jobs) + self._count_of_ring_cards()
        if cards > MOST_CARDS:
            problem = f"{cards} job cards and ring cards are more than the {MOST_CARDS} of a pack"
            raise OutOfRange(problem, "split the order", (Remedy.ONE_SET_FOR_ALL,) if self.each else ())

    def _count_of_ring_cards(self) -> int:
        return sum(self._sets(group) * len(card_keys([job.plan for job in jobs])) for group, jobs in self.jobs)

    def front(self, bundles: Sequence[Bundle], length: int) -> tuple[Page, ...]:
        """The cover of so many pages; for one maker with the totals, and the dowels where the paper takes them."""
        plan, given = self.plan, (tuple(_facts(self.plan)), tuple(_entries(bundles, length)))
        dowels = self.sheets.dowels() if self.alone else None

        def then(stack: Stack, with_dowels: bool) -> None:
            put_totals(plan, stack, self.sheets.left_out, brief=True)
            if dowels and with_dowels:
                for drawing in dowels.draw(stack.space):
                    stack.put(drawing)

        def composed(with_dowels: bool) -> tuple[Page, ...]:
            if not self.alone:
                hints = tuple(f"{caution}." for caution in plan.cautions)
                return compose(cover(*given, self.sheets.left_out, hints), self.paper)
            more = dowels if with_dowels else None
            content = cover(
                *given,
                then=lambda stack: then(stack, with_dowels),
                notes=(snipped(), *(more.notes if more else ())),
                cautions=more.cautions if more else (WIRE_ENDS,),
            )
            return compose(content, self.paper)

        if self.without_dowels:
            return composed(False)
        try:
            return composed(True)
        except DoesNotFit as refusal:
            if not dowels:
                raise
            self.without_dowels = True
            self.sheets.leave_out(_named(self._drilled()), "dowels", refusal)
            return composed(False)

    def _drilled(self) -> list[RingPlan]:
        return [ring for ring in self.plan.rings if ring.name in self.sheets.drilled]

    def bundles(self) -> Iterator[Bundle]:
        """Everything after the cover, in order."""
        if not self.alone:
            pages = compose(cutting_list(self.plan), self.paper)
            use = "totals, wire to buy and to cut, seats, cost"
            yield Bundle(what="Teacher's sheet", use=use, on="paper", pages=pages)
        self._step()
        dowels = self.sheets.dowels()
        if dowels and not self.alone:
            yield from self._optional("Dowels", "where to drill for the wire's tail", self._drilled(), dowels, "paper")
        self._step()
        for rings, pin in self.sheets.pins():
            yield from self._optional("Bench pin", "to glue on wood, saw and drill; for coils of", rings, pin, "paper")
        self._step()
        yield from self._leaves()
        yield from self._dowel_strips()
        self._step()
        yield from self._ring_cards()
        self._step()
        yield from self._pieces_to_cut_out()
        self._step()

    def _optional(self, what: str, use: str, rings: Sequence[RingPlan], content: Content, on: str) -> Iterator[Bundle]:
        """A bundle, unless a drawing of it is too large for the paper: then it is among what is left out."""
        setup = self.card if on == "card" else self.paper
        try:
            yield Bundle(what=what, use=f"{use}: {_named(rings)}", on=on, pages=compose(content, setup))
        except DoesNotFit as refusal:
            self.sheets.leave_out(_named(rings), what.lower(), refusal)

    def _leaves(self) -> Iterator[Bundle]:
        """A leaf for each seat, seat after seat; or one for each group of seats with the same work."""
        if self.each:
            pages, seats = self._seat_by_seat(self._leaf)
            use = "from mandrel to bag, steps to tick, what came out"
            if not self.alone:
                use = f"one set for each seat: {use}"
            yield Bundle(what="Job cards", use=use, on="paper", pages=pages, seats=() if self.alone else seats)
            return
        for group, jobs in self.jobs:
            pages = self._leaf(jobs)
            use = f"{_times(group)}: {_named([job.plan for job in jobs])}"
            yield Bundle(what="Job cards", use=use, on="paper", pages=pages, seats=(_times(group),) * len(pages))

    def _seat_by_seat(
        self, pages_of: Callable[[tuple[Job, ...]], Iterable[Page]]
    ) -> tuple[tuple[Page, ...], tuple[str, ...]]:
        """The pages of every seat, seat after seat, and whose each is; seats with the same work share theirs."""
        leaves: list[tuple[Page, str]] = []
        for group, jobs in self.jobs:
            own = tuple(pages_of(jobs))
            for seat in range(group.first, group.last + 1):
                leaves += [(page, f"seat {seat}") for page in own]
        return tuple(page for page, _ in leaves), tuple(seat for _, seat in leaves)

    def _leaf(self, jobs: tuple[Job, ...]) -> tuple[Page, ...]:
        """The work of one seat: a job card in full for one kind of ring, else a leaf."""
        # a seat that gets other rings from one that winds for all has the same kind of leaf as that one
        is_leaf = len(jobs) > 1 or any(job.handed for job in jobs)
        if jobs and jobs not in self.composed:
            self.composed[jobs] = compose(seat_leaf(jobs) if is_leaf else job_card(jobs[0]), self.paper)
            self._step()
        return self.composed.get(jobs, ())

    def _dowel_strips(self) -> Iterator[Bundle]:
        """A strip for the dowel of each seat that winds; where one alone does, the dowel sheet's own is enough."""
        winders = {ring.name: sum(share.seats for share in ring.shares if share.coils) for ring in self.plan.rings}
        strips = {
            ring.name: self.sheets.strip_for_dowel(ring) if winders[ring.name] > 1 else None for ring in self.plan.rings
        }

        def drawn(jobs: tuple[Job, ...]) -> list[Drawing]:
            return [strip for job in jobs if (strip := strips[job.plan.name])]

        try:
            yield from self._sets_of_pieces("Dowel strips", "to wrap round the dowel of each seat", drawn, (), "paper")
        except DoesNotFit as refusal:
            self.sheets.leave_out("each seat", "strip for a dowel of its own", refusal)

    def _ring_cards(self) -> Iterator[Bundle]:
        """Sheets for rings too large for a pocket card: for each seat of a class, seat after seat."""
        cards = [
            (rings, bundle)
            for rings, content in self.sheets.ring_cards()
            for bundle in self._optional("Ring card", "to lay rings on", rings, content, "card")
        ]

        def pages_of(jobs: tuple[Job, ...]) -> Iterator[Page]:
            made = {job.plan.name for job in jobs}
            for rings, bundle in cards:
                if made.intersection(ring.name for ring in rings):
                    yield from bundle.pages

        use = f"to lay rings on: {_named([ring for rings, _ in cards for ring in rings])}"
        if self.each:
            pages, seats = self._seat_by_seat(pages_of)
            yield Bundle(what="Ring cards", use=use, on="card", pages=pages, seats=() if self.alone else seats)
            return
        for group, jobs in self.jobs:
            pages = tuple(pages_of(jobs))
            whose = _times(group)
            yield Bundle(what="Ring cards", use=f"{whose}: {use}", on="card", pages=pages, seats=(whose,) * len(pages))

    def _pieces_to_cut_out(self) -> Iterator[Bundle]:
        """Ring cards, labels and winding strips of every seat, and the labels of the spools."""
        has_cards = any(has_pocket_card(job.plan) for _, jobs in self.jobs for job in jobs)
        what = "Ring cards, labels, winding strips" if has_cards else "Labels, winding strips"
        use = "a ring card, a bag's label and a winding strip for each ring; a label for each spool"
        yield from self._sets_of_pieces(what, f"to cut out: {use}", self._pieces, tuple(self.sheets.spools()), "card")

    def _pieces(self, jobs: tuple[Job, ...]) -> list[Drawing]:
        for job in jobs:
            if job not in self.drawn:
                self.drawn[job] = self.sheets.pieces(job)
        return [drawing for job in jobs for drawing in self.drawn[job]]

    def _sets_of_pieces(
        self,
        what: str,
        use: str,
        drawn: Callable[[tuple[Job, ...]], list[Drawing]],
        others: tuple[Drawing, ...],
        on: str,
    ) -> Iterator[Bundle]:
        """The pieces of every seat with the others, nested together; or those of each group, to print n times."""
        if self.each:
            pieces = [drawing for group, jobs in self.jobs for drawing in drawn(jobs) * group.seats]
            yield self._nested(what, use, [*pieces, *others], on)
            return
        for group, jobs in self.jobs:
            yield self._nested(what, f"{_times(group)}: {use}", drawn(jobs), on, _times(group))
        yield self._nested("Labels of spools", "print once: to cut out, one for each wire", others, on)

    def _nested(self, what: str, use: str, drawings: Sequence[Drawing], on: str, whose: str = "") -> Bundle:
        content = Content(
            title=what,
            facts=(("pieces", str(len(drawings))), ("print on", on)),
            draw=lambda field: [],
            notes=tuple(note.format(paper=sized(0.1)) for note in _CUT_OUT[on]),
            cautions=_CARE[on],
        )
        setup = self.card if on == "card" else self.paper
        pages = compose_nested(content, [Piece(drawing=drawing) for drawing in drawings], setup) if drawings else ()
        return Bundle(what=what, use=use, on=on, pages=pages, seats=(whose,) * len(pages))


_CUT_OUT = {
    "card": (
        "Ring card: lay the ring on its black ring and look straight down; seen through the ring, the small disc shows"
        " white all round, the large one none. Measure the bars of each card before you trust it.",
        "Winding strip: lay its edge beside the coil, 0 where it begins; wind until the last turn ends at an arrow."
        " Paper reads ±{paper} at best; wire 1 % thicker than its name reads 1 turn in 100 too many.",
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


def _times(group: SeatGroup) -> str:
    """'print 8 times, seats 1 to 8'."""
    return f"print {group.seats} times, {_seats(group)}" if group.seats > 1 else _seats(group)
