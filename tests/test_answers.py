"""Answers as they were written down: what is asked of a room, in Python, and its whole answer, every field of it.

tests/goldens/answers holds them, a file for each room, a test for each part of a file. An answer shows nine digits and
nine decimals, so that no figure of it changes unseen; a refusal is an answer too. Limits are asked for on both sides.
`GOLDENS=write` writes the answers anew: read the difference. That the figures are right is for the tests worked by
hand. The questions are Python, and run as they stand.
"""

from __future__ import annotations

import ast
import inspect
import os
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import cached_property
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from layouts.errors import Refusal

FOLDER = Path(__file__).parent / "goldens" / "answers"
_BY_NAME = {"Material", "Metal", "Temper", "Blade", "Paper"}  # rows of tables: their names will do
_PART = re.compile(r"^## (.*)$", re.MULTILINE)


def parts(path: Path) -> Iterator[tuple[str, str]]:
    """Each part of what was written down: its heading and what is under it."""
    found = _PART.split(path.read_text(encoding="utf-8"))
    return zip(found[1::2], found[2::2], strict=True)


CASES = [(path.name, heading) for path in sorted(FOLDER.glob("*.txt")) for heading, _ in parts(path)]


@pytest.mark.parametrize(("name", "heading"), CASES)
def test_every_answer_is_the_one_that_was_written_down(name: str, heading: str) -> None:
    path = FOLDER / name
    text = dict(parts(path))[heading]
    now = "\n" + "\n".join(answered(text)) + "\n\n"
    if os.environ.get("GOLDENS") == "write":
        before, _, after = path.read_text(encoding="utf-8").partition(f"## {heading}{text}")
        path.write_text(f"{before}## {heading}{now}{after}".rstrip() + "\n", encoding="utf-8", newline="\n")
    else:
        assert now.rstrip().splitlines() == text.rstrip().splitlines()


def answered(text: str) -> Iterator[str]:
    """The questions of a part, each with its answer as it is now."""
    known: dict[str, Any] = {"figures": figures}
    for question in re.findall(r"^>>> .*(?:\n\.\.\. .*)*", text, flags=re.MULTILINE):
        yield question
        code = re.sub(r"^(>>>|\.\.\.) ", "", question, flags=re.MULTILINE)
        if isinstance(ast.parse(code).body[0], ast.Expr):
            try:
                value = eval(code, known)
            except Refusal as refusal:
                yield f"refused: {refusal}"
            else:
                yield from whole(value)
        else:
            exec(code, known)


def whole(value: object) -> Iterator[str]:
    """A value in words: what it holds and what it works out, a line each."""
    if isinstance(value, str):
        yield from (line.rstrip() for line in value.splitlines())
    elif isinstance(value, list | tuple):
        for each in value:
            yield from whole(each) if isinstance(each, str) else [short(each)]
    elif is_dataclass(value):
        yield type(value).__name__
        for name in (*(field.name for field in fields(value)), *_properties(value)):
            try:
                yield f"  {name} = {short(getattr(value, name))}"
            except Refusal as refusal:
                yield f"  {name} refused: {refusal}"
    else:
        yield short(value)


def _properties(value: object) -> list[str]:
    found = dict.fromkeys(
        name
        for kind in type(value).__mro__
        for name, what in vars(kind).items()
        if isinstance(what, property | cached_property) and not name.startswith("_")
    )
    return list(found)


def short(value: object) -> str:
    """A value on one line: nine digits of a number, the fields of what has fields."""
    if isinstance(value, float):
        return f"{round(value, 9) + 0.0:.9g}"  # beyond, it is the machine's own
    if isinstance(value, Enum):
        return value.name
    if isinstance(value, list | tuple | frozenset | range):
        each = map(short, value)
        return f"[{', '.join(sorted(each) if isinstance(value, frozenset) else each)}]"
    if isinstance(value, dict):
        return f"{{{', '.join(f'{short(key)}: {short(each)}' for key, each in value.items())}}}"
    if is_dataclass(value):
        kind = type(value).__name__
        if kind in _BY_NAME:
            return f"{kind}({value.name!r})"
        shown = ((field.name, getattr(value, field.name)) for field in fields(value))
        return f"{kind}({', '.join(f'{name}={short(each)}' for name, each in shown if not _is_none(each))})"
    return repr(value)


def _is_none(value: object) -> bool:
    """Whether a field says nothing, and is left out on a line."""
    return value is None or value is False or value in ("", ())


def figures(module: ModuleType) -> list[str]:
    """The figures that a module rests on, by their names: what is written down there is written down here too."""
    tree = ast.parse(inspect.getsource(module))
    own = {name.id for line in tree.body if isinstance(line, ast.Assign | ast.AnnAssign) for name in _names(line)}
    kinds = int, float, tuple, frozenset, range
    named = ((name, value) for name, value in vars(module).items() if name in own and type(value) in kinds)
    return [f"{name} = {short(value)}" for name, value in named if name.isupper()]


def _names(line: ast.AST) -> Iterator[ast.Name]:
    return (node for node in ast.walk(line) if isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store))
