"""The demo: the order of a small class that never was, its sheets, its pack, and the numbers behind them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from jigs.actions.output import Output
from jigs.actions.pack import Packed, Progress, pack_plan
from jigs.guides.bench_pin import bench_pin
from jigs.guides.dowel import dowel_sheet
from jigs.guides.ring_card import ring_card
from jigs.making.batch import Batch
from jigs.making.drilled_dowel import Dowel, DrilledDowel
from jigs.making.pin import Pin
from jigs.orders.example import example
from jigs.orders.reading import order_of
from jigs.planning.plan import Plan, make_plan
from jigs.stock.blade import find_blade
from layouts.errors import FileRefused, MissingLibrary
from layouts.files.whole import Allow, never, write_outputs
from layouts.pages.page import Content, Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
from layouts.printing.check_sheet import printer_check
from layouts.render import save


@dataclass(frozen=True, slots=True, kw_only=True)
class Demo:
    """What the demo made: the order (kept as it was, where the user had changed it), sheets, pack, one seat's rings.

    sheets: each as PDF and what it is for. without_previews says why there are no PNG previews; empty where there are.
    """

    order: Path
    order_was_kept: bool
    sheets: tuple[tuple[Path, str], ...]
    without_previews: str
    packed: Packed
    batch: Batch


def make_demo(
    folder: Path, paper: str, progress: Progress = lambda doing, done, total: None, may_overwrite: Allow = never
) -> Demo:
    """Writes the demo into a folder, for the paper of that name. An order that the user changed is left as it is."""
    order = order_of(example())
    setup = Setup(paper=find_paper(paper), title=order.title)
    plan = make_plan(order)
    path, text = folder / "bracelet.toml", example().encode()
    kept = False
    try:
        write_outputs([(path, text)])
    except FileRefused:
        kept = path.is_file()
        if not kept:
            raise
    sheets, missing = [], ""
    for name, purpose, content in _sheets(plan):
        pages, stem = compose(content, setup), folder / name
        save(pages, stem, ("pdf", "svg"), may_overwrite=may_overwrite)
        try:
            save(pages, stem, ("png",), may_overwrite=may_overwrite)
        except MissingLibrary as refusal:
            missing = str(refusal)
        sheets.append((stem.with_suffix(".pdf"), purpose))
    output = Output(paper=paper, out=f"{folder}/", printer="none", may_overwrite=may_overwrite)
    packed = pack_plan(plan, output, date(2000, 1, 1), name="bracelet-pack", progress=progress)
    chain = plan.rings[0]
    batch = replace(chain.batch, rings=chain.shares[0].made)
    return Demo(
        order=path,
        order_was_kept=kept,
        sheets=tuple(sheets),
        without_previews=missing,
        packed=packed,
        batch=batch,
    )


def _sheets(plan: Plan) -> Iterator[tuple[str, str, Content]]:
    """Name, what it is for, and content of each sheet, in the order of use."""
    chain, clasp = (ring.ordered.wire for ring in plan.rings)
    yield "printer-check", "is this printer true? Print it first", printer_check()
    card = ring_card([chain, clasp], [4.5, 5.0, 5.5, 8.0, 9.8], 0.1)
    yield "ring-card", "lay a ring on it: inside, outside, large or small", card
    dowels = [
        DrilledDowel(dowel=Dowel(diameter_mm=9.4, second_diameter_mm=9.5), wire=clasp, turns=8),
        DrilledDowel(dowel=Dowel(diameter_mm=7.9, second_diameter_mm=8.0), wire=chain, turns=14, second="slot"),
        DrilledDowel(dowel=Dowel(diameter_mm=6.3), wire=chain, turns=12, series="number"),
    ]
    yield "dowel", "wrap it round the dowel, prick the crosses, drill", dowel_sheet(dowels)
    pin = Pin(length_mm=120, width_mm=75, thickness_mm=19, coil_outside_mm=7.4, blade=find_blade("2/0"), hand="right")
    yield "bench-pin", "glue it on the wood, saw and drill", bench_pin(pin)
