"""The demo: the order of a small class that never was, its sheets, its pack, and the numbers behind them."""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from jigs.actions.output import Output
from jigs.actions.pack import Packed, Progress, pack_plan
from jigs.guides.catalogue import sheets
from jigs.making.batch import Batch
from jigs.orders.example import example
from jigs.orders.reading import order_of
from jigs.planning.plan import make_plan
from layouts.errors import FileRefused, MissingLibrary
from layouts.files.whole import Allow, never, write_outputs
from layouts.pages.page import Setup
from layouts.pages.paper import find_paper
from layouts.pages.sheet import compose
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
        kept = os.path.isfile(path)
        if not kept:
            raise
    made, missing = [], ""
    for sheet in sheets():
        if sheet.demo is None:
            continue
        pages, stem = compose(sheet.make(sheet.demo).content, setup), folder / sheet.name
        save(pages, stem, ("pdf", "svg"), may_overwrite=may_overwrite)
        try:
            save(pages, stem, ("png",), may_overwrite=may_overwrite)
        except MissingLibrary as refusal:
            missing = str(refusal)
        made.append((stem.with_suffix(".pdf"), sheet.use))
    output = Output(paper=paper, out=f"{folder}/", printer="none", may_overwrite=may_overwrite)
    # no printer, so the day ages no record: any day gives the same bytes
    packed = pack_plan(plan, output, date(2000, 1, 1), name="bracelet-pack", progress=progress)
    chain = plan.rings[0]
    batch = replace(chain.batch, rings=chain.shares[0].made)
    return Demo(
        order=path,
        order_was_kept=kept,
        sheets=tuple(made),
        without_previews=missing,
        packed=packed,
        batch=batch,
    )
