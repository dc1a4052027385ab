"""The files that the page is made of besides its templates: style, script, lettering. No other can be asked for."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from layouts.drawing.lettering import font_path

_KINDS = {
    ".css": "text/css; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".ttf": "font/ttf",
    ".svg": "image/svg+xml",
}
_SHEETS = "sheets.css"


@cache
def static_file(name: str) -> tuple[bytes, str] | None:
    """The content and the kind of a file by its name; None for any other name."""
    if name == _SHEETS:  # the rules of every sheet that is shown, said where sheets are written
        from layouts.render.svg import style_sheet  # not before the first page is there

        return style_sheet().encode(), _KINDS[".css"]
    path = _known().get(name)
    return (path.read_bytes(), _KINDS[path.suffix]) if path else None


@cache
def _known() -> dict[str, Path]:
    own = (path for path in Path(__file__).with_name("static").iterdir() if path.suffix in _KINDS)
    return {path.name: path for path in (*own, font_path(bold=False), font_path(bold=True))}
