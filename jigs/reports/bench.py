"""The bench folder as a report: its files and how much is in each."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from jigs.reports.report import COUNT, Column, Report, record


def bench_report(folder: Path, files: Sequence[tuple[str, int | None]]) -> Report:
    """The folder, and each file with the number of its entries; None for one that is damaged."""
    rows = []
    for name, entries in files:
        holds = "damaged" if entries is None else "1 entry" if entries == 1 else f"{entries} entries"
        rows.append((name, entries, entries is None, holds))
    table = Report(
        key="files",
        columns=(
            Column("file", ""),
            Column("entries", "", COUNT, people=False),
            Column("damaged", "", people=False),
            Column("holds", "", scripts=False),
        ),
        rows=tuple(rows),
    )
    return record(
        "bench",
        (Column("folder", "", people=False),),
        (str(folder),),
        heading=f"Your bench folder: {folder}",
        parts=(table,),
    )
