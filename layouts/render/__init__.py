"""Pages to files, one small module a format. Each is loaded when its format is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from layouts.errors import OutOfRange, UnknownName
from layouts.files.seal import sealed
from layouts.files.whole import never, write_outputs
from layouts.render.formats import TABLE, Holds

if TYPE_CHECKING:
    from layouts.pages.page import Page  # a list of formats, as in a help text, needs no page

FORMATS = tuple(TABLE)


def formats_in(words: str) -> tuple[str, ...]:
    """The formats named in a list such as "pdf,svg", once each. Refuses an unknown one (`UnknownName`)."""
    names = tuple(dict.fromkeys(word.strip().lower() for word in words.split(",")))
    for name in names:
        if name not in TABLE:
            raise UnknownName("format", name, TABLE)
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
    files = rendered(pages, stem, formats, report)
    write_outputs(files, may_overwrite)
    return tuple(path for path, _ in files)


def rendered(
    pages: Sequence[Page], stem: Path, formats: Sequence[str], report: Callable[[], None] = lambda: None
) -> tuple[tuple[Path, bytes], ...]:
    """The files as `save` writes them, each with its path. Pages after the first are called stem-2, stem-3, ..."""
    files = []
    for form in formats:
        for path, data in _rendered(pages, stem, form):
            files.append((path, sealed(data, form)))
            report()
    return tuple(files)


def _rendered(pages: Sequence[Page], stem: Path, name: str) -> Iterator[tuple[Path, bytes]]:
    if name not in TABLE:
        raise UnknownName("format", name, TABLE)
    form = TABLE[name]
    write = form.writer()
    if form.holds is Holds.ALL_PAGES:
        yield _named(stem, 1, name), write(pages)
    elif form.holds is Holds.ONE_PAGE:
        yield from ((_named(stem, number, name), write(page)) for number, page in enumerate(pages, 1))
    else:
        from layouts.drawing.part import parts

        drawings = {id(placed.drawing): placed.drawing for page in pages for placed in page.placed}
        found = [part for drawing in drawings.values() for part in parts(drawing)]  # each drawing once
        if not found:
            raise OutOfRange("a sheet with nothing on it to cut out", "write it as a page")
        yield _named(stem, 1, name), write(found)


def _named(stem: Path, number: int, form: str) -> Path:
    return stem.with_name(f"{stem.name}{f'-{number}' if number > 1 else ''}.{form}")
