"""Pages, sheets to cut, and solids to files, one small module a format. Each is loaded when its format is asked for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.errors import UnknownName
from layouts.files.seal import sealed
from layouts.files.whole import never, write_outputs
from layouts.render.formats import CUTTING, SOLIDS, TABLE, Format, Holds

if TYPE_CHECKING:
    from layouts.cutting.board import CutSheet
    from layouts.pages.page import Page  # a list of formats, as in a help text, needs no page
    from layouts.solids.body import Solid

FORMATS = tuple(TABLE)
CUT_FORMATS = tuple(CUTTING)
SOLID_FORMATS = (*SOLIDS, *TABLE)  # of a page is the leaf that goes with a solid


def formats_in(words: str, table: Mapping[str, Format] = TABLE) -> tuple[str, ...]:
    """The formats named in a list such as "pdf,svg", once each. Refuses one that the table lacks (`UnknownName`)."""
    names = tuple(dict.fromkeys(word.strip().lower() for word in words.split(",")))
    for name in names:
        if name not in table:
            raise UnknownName("format", name, table)
    return names


def save(
    pages: Sequence[Page],
    stem: Path,
    formats: Sequence[str],
    report: Callable[[], None] = lambda: None,
    may_overwrite: Callable[[Path], bool] = never,
) -> tuple[Path, ...]:
    """Writes `stem` in each format: one file, or a file for each page; all are rendered before any is written.

    `report` is called when a file is rendered; `may_overwrite` is asked before a file is replaced that is not an
    unchanged one of ours. Returns the paths in order.
    """
    return save_rendered(rendered(pages, stem, formats, report), may_overwrite)


def save_rendered(files: Sequence[tuple[Path, bytes]], may_overwrite: Callable[[Path], bool]) -> tuple[Path, ...]:
    """Writes files that are rendered already, all or none. Returns their paths."""
    write_outputs(files, may_overwrite)
    return tuple(path for path, _ in files)


def left_over(files: Sequence[tuple[Path, bytes]]) -> Iterator[Path]:
    """Files that are there and go on counting where these end, as one that was written with more pages leaves them."""
    for ending, count in Counter(path.suffix for path, _ in files).items():
        stem, number = files[0][0].with_suffix(""), count + 1
        while (path := _named(stem, number, ending.removeprefix("."))).exists():
            yield path
            number += 1


def rendered(
    made: Sequence[Page] | Sequence[CutSheet] | Sequence[Solid],
    stem: Path,
    formats: Sequence[str],
    report: Callable[[], None] = lambda: None,
    table: Mapping[str, Format] = TABLE,
) -> tuple[tuple[Path, bytes], ...]:
    """The files as `save` writes them, each with its path. Pages after the first are called stem-2, stem-3, ..."""
    files = []
    for name in formats:
        if name not in table:
            raise UnknownName("format", name, table)
        form = table[name]
        for path, data in _rendered(made, stem, form):
            files.append((path, sealed(data, form.ending)))
            report()
    return tuple(files)


def _rendered(made: Sequence[Any], stem: Path, form: Format) -> Iterator[tuple[Path, bytes]]:
    write = form.writer()
    if form.holds is Holds.ALL_PAGES:
        yield _named(stem, 1, form.ending), write(made)
    else:
        yield from ((_named(stem, number, form.ending), write(one)) for number, one in enumerate(made, 1))


def _named(stem: Path, number: int, form: str) -> Path:
    return stem.with_name(f"{stem.name}{f'-{number}' if number > 1 else ''}.{form}")
