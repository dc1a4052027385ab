"""Golden files: readable text of what was made, to see at once what a change changed.

`GOLDENS=write pytest` writes them anew; read the difference before you commit it. Where drawings differ, a picture of
both side by side is left as SVG in the system's folder for temporary files; the failing test says where.
"""

from __future__ import annotations

import ast
import os
import re
import tempfile
from collections.abc import Iterable, Iterator
from difflib import unified_diff
from pathlib import Path
from typing import Any

from layouts.drawing import marks as vocabulary
from layouts.drawing.marks import Draft, Drawing, Mark, union
from layouts.drawing.pens import Role
from layouts.pages.page import Page, Placed
from layouts.pages.paper import Paper
from layouts.render.record import record_drawings
from layouts.render.svg import write_svg

_FOLDER = Path(__file__).parent / "goldens"
PICTURES = Path(tempfile.gettempdir()) / "coilwright-goldens"
_MARGIN_MM, _GAP_MM = 12.0, 8.0


def assert_same_as_golden(name: str, text: str) -> None:
    """Holds `text` against tests/goldens/`name`, or writes it there when GOLDENS=write is set."""
    golden = _golden(name, text)
    if text != golden:
        raise AssertionError(_changes(name, golden, text))


def assert_drawn_as_golden(name: str, drawings: Iterable[Drawing]) -> None:
    """The same for drawings; a failing one leaves a picture of both, the golden at the left."""
    text = record_drawings(drawings)
    golden = _golden(name, text)
    if text != golden:
        picture = side_by_side(golden, text, PICTURES / f"{Path(name).stem}.svg")
        raise AssertionError(f"{_changes(name, golden, text)}\n\nboth side by side: {picture}")


def _golden(name: str, text: str) -> str:
    path = _FOLDER / name
    if os.environ.get("GOLDENS") == "write":
        path.write_text(text, encoding="utf-8", newline="\n")
    return path.read_text(encoding="utf-8")


def _changes(name: str, golden: str, text: str) -> str:
    lines = unified_diff(golden.splitlines(), text.splitlines(), f"tests/goldens/{name}", "now", lineterm="", n=1)
    return "\n".join(lines)


def side_by_side(golden: str, now: str, path: Path) -> Path:
    """Writes a picture of two records of drawings, as SVG."""
    draft, x, heights = Draft(), _MARGIN_MM, [0.0]
    for heading, text in (("golden", golden), ("now", now)):
        y, right = 0.0, x
        draft.text(x, 4.0, heading, 5.0, bold=True)
        for marks in drawings_of(text):
            if not marks:
                continue
            left, bottom, far, top = union(mark.inked for mark in marks)
            y -= top - bottom + _GAP_MM
            draft.add(marks, x - left, y - bottom)
            right = max(right, x + far - left)
        heights.append(-y)
        x = right + 2 * _GAP_MM
    height = max(heights) + 2 * _MARGIN_MM
    paper = Paper(
        name="golden", width_mm=x, height_mm=height, side_mm=1, top_mm=1, bottom_mm=1, source="as large as needed"
    )
    drawing = draft.drawing(x, height, "golden and now")
    page = Page(paper=paper, placed=(Placed(drawing=drawing, y=height - _MARGIN_MM),), title="golden and now")
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(write_svg(page))
    return path


def drawings_of(text: str) -> Iterator[list[Mark]]:
    """The marks of each drawing of a record."""
    for part in re.split(r"^# .*$", text, flags=re.MULTILINE):
        yield [mark_of(line) for line in part.splitlines() if line.strip()]


def mark_of(line: str) -> Mark:
    """The mark that a line of a record tells of."""
    kind, role, rest = line.split(" ", 2)
    given: dict[str, Any] = {"role": Role(role)}
    for name, value in re.findall(r"(\w+)=('(?:[^'\\]|\\.)*'|\"(?:[^\"\\]|\\.)*\"|\([^=]*\)|\S+)", rest):
        given[name] = _value(name, value.strip())
    mark: Mark = getattr(vocabulary, kind.capitalize())(**given)
    return mark


def _value(name: str, words: str) -> object:
    if words == "yes":
        return True
    if name == "points":
        return tuple((float(x), float(y)) for x, y in re.findall(r"\(([^,]+),([^)]+)\)", words))
    return ast.literal_eval(words)
