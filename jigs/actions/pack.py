"""Packing an order: its plan as one print job, in files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date as Day
from functools import partial
from pathlib import Path

from jigs.actions.output import Output, Prepared, prepare, stem_for
from jigs.bench.settings import units_for
from jigs.packing.pack import Pack, make_pack
from jigs.planning.plan import Plan
from layouts.errors import Give, OutOfRange, Remedy
from layouts.lengths import said_in
from layouts.render import formats_in, rendered, save
from layouts.render.formats import TABLE, Holds

MOST_PICTURES = 300
"""Pages as SVG or PNG: each is a file of its own."""

Progress = Callable[[str, int, int], None]
"""Told what is being done, how many steps of it are, and of how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Packed:
    """A pack as it was written, where to, and what it was made true for: the paper, and the card where one is named."""

    pack: Pack
    paths: tuple[Path, ...]
    prepared: tuple[Prepared, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class How:
    """How a pack is wanted, besides its paper (see `make_pack`).

    card: the card in the printer's tray for what goes on card, where that was measured too.
    """

    card: str = ""
    hand: str = "right"
    sets: str = "each"


USUAL = How()


def pack_plan(
    plan: Plan,
    output: Output,
    today: Day,
    *,
    name: str,
    how: How = USUAL,
    progress: Progress = lambda doing, done, total: None,
) -> Packed:
    """Makes the pack of a plan and writes it in every format wanted, called `name`.

    What `output` leaves empty is as the order says; sheets too large for the paper are split.
    """
    with said_in(units_for(output.bench, output.units, plan.order.units)):
        stem = stem_for(output.out, name, formats_in(output.formats))
        pack, prepared, formats = _made(plan, output, today, how, progress)
        paths = save(pack.pages, stem, formats, _counted(pack, formats, progress), output.may_overwrite)
        return Packed(pack=pack, paths=paths, prepared=prepared)


def pack_files(
    plan: Plan, output: Output, today: Day, *, name: str, how: How, progress: Progress
) -> tuple[Packed, tuple[bytes, ...]]:
    """The same without a folder: the pack with the names of its files, and what `pack_plan` would write in each."""
    with said_in(units_for(output.bench, output.units, plan.order.units)):
        pack, prepared, formats = _made(plan, output, today, how, progress)
        files = rendered(pack.pages, Path(name), formats, _counted(pack, formats, progress))
        packed = Packed(pack=pack, paths=tuple(path for path, _ in files), prepared=prepared)
        return packed, tuple(data for _, data in files)


def _made(
    plan: Plan, output: Output, today: Day, how: How, progress: Progress
) -> tuple[Pack, tuple[Prepared, ...], tuple[str, ...]]:
    printing = plan.order.printing
    output = output._replace(
        paper=output.paper or printing.paper,
        landscape=output.landscape or printing.landscape,
        tile=True,
        title=output.title or plan.order.title,
        date=output.date or plan.order.date,
        printer=output.printer or printing.printer,
        tray=output.tray or printing.tray,
    )
    formats = formats_in(output.formats)
    prepared = [prepare(output, today)]
    if how.card and prepared[0].printer is None:
        raise OutOfRange("a card without a printer", "choose a usual printer, or name one", (Give(field="printer"),))
    if how.card:
        prepared.append(prepare(output._replace(tray=how.card), today))
    laying_out = partial(progress, "Laying out")
    pack = make_pack(plan, prepared[0].setup, prepared[-1].setup, hand=how.hand, sets=how.sets, report=laying_out)
    if len(pack.pages) > MOST_PICTURES and any(TABLE[form].holds is Holds.ONE_PAGE for form in formats):
        raise OutOfRange(
            f"{len(pack.pages)} pages as pictures of their own are more than {MOST_PICTURES}",
            "ask for pdf alone",
            (Remedy.ONE_SET_FOR_ALL,),
        )
    return pack, tuple(prepared), formats


def _counted(pack: Pack, formats: tuple[str, ...], progress: Progress) -> Callable[[], None]:
    """Tells of each file that is drawn."""
    files = sum(TABLE[form].count(len(pack.pages)) for form in formats)
    written = iter(range(1, files + 1))
    return lambda: progress("Writing", next(written), files)
