"""Pages to files, one small module a format. Each is loaded when its format is asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from layouts.errors import UnknownName
from layouts.files.seal import sealed
from layouts.files.whole import never, write_outputs
from layouts.pages.page import Page

FORMATS = ("pdf", "svg", "png")


def formats_in(words: str) -> tuple[str, ...]:
    """The formats named in a list such as "pdf,svg", once each. Refuses an unknown one (`UnknownName`)."""
    names = tuple(dict.fromkeys(word.strip().lower() for word in words.split(",")))
    for name in names:
        if name not in FORMATS:
            raise UnknownName("format", name, FORMATS)
    return names


def save(
    pages: Sequence[Page],
    stem: Path,
    formats: Sequence[str],
    report: Callable[[], None] = lambda: None,
    may_overwrite: Callable[[Path], bool] = never,
) -> tuple[Path, ...]:
    """Writes `stem`.pdf with all the pages, and an SVG or PNG a page; all are rendered before any is written.

    Pages after the first are called stem-2, stem-3 and so on. `report` is called when a file is rendered;
    `may_overwrite` is asked before a file is replaced that is not an unchanged one of ours. Returns the paths in order.
    """
    files = []
    for form in formats:
        for path, data in _rendered(pages, stem, form):
            files.append((path, sealed(data, form)))
            report()
    write_outputs(files, may_overwrite)
    return tuple(path for path, _ in files)


def _rendered(pages: Sequence[Page], stem: Path, form: str) -> Iterator[tuple[Path, bytes]]:
    if form == "pdf":
        from layouts.render.pdf import write_pdf

        yield _named(stem, 1, form), write_pdf(pages)
    elif form == "svg":
        from layouts.render.svg import write_svg

        yield from ((_named(stem, number, form), write_svg(page)) for number, page in enumerate(pages, 1))
    elif form == "png":
        from layouts.render.png import write_png

        yield from ((_named(stem, number, form), write_png(page)) for number, page in enumerate(pages, 1))
    else:
        raise UnknownName("format", form, FORMATS)


def _named(stem: Path, number: int, form: str) -> Path:
    return stem.with_name(f"{stem.name}{f'-{number}' if number > 1 else ''}.{form}")
