"""The line on which each table and key of a TOML text stands."""

from __future__ import annotations

import re
from collections.abc import Iterator

Place = tuple[str | int, ...]
"""Where a key is: the names of its tables, the number of a table in a list (from 0), and its own name."""

_TOKEN = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}\n]|[^"\'#\[\]{}\n]+',
    re.DOTALL,
)
_BARE = re.compile(r"[A-Za-z0-9_ \t.-]+")
_KEY = re.compile(r"""\s*((?:"(?:\\.|[^"\\])*"|'[^']*'|[^=#"'])+)=""")
_HEADER = re.compile(r"""\s*(\[\[?)((?:"(?:\\.|[^"\\])*"|'[^']*'|[^\]#"'])+)\]""")


def lines_of(text: str) -> dict[Place, int]:
    """The line of every table and key of a text that is known to be TOML. Tables in a list count from 0."""
    lines: dict[Place, int] = {(): 1}
    counts: dict[Place, int] = {}
    table: Place = ()
    for line, statement in _statements(text):
        if header := _HEADER.match(statement):
            *outer, name = _parts(header[2])
            table = ()
            for part in outer:  # within a list, the table is that of its last one so far
                table = (*table, part)
                table = (*table, counts[table]) if table in counts else table
            table = (*table, name)
            if header[1] == "[[":
                counts[table] = counts.get(table, -1) + 1
                table = (*table, counts[table])
            lines.setdefault(table, line)
            lines.setdefault(tuple(part for part in table if isinstance(part, str)), line)
        elif key := _KEY.match(statement):
            path = table
            for part in _parts(key[1]):
                path = (*path, part)
                lines.setdefault(path, line)
    return lines


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Every header or key with its value, and the line it starts on."""
    line, first, depth, parts = 1, 1, 0, list[str]()
    for token in _TOKEN.findall(text):
        if token == "\n" and depth == 0:
            yield first, "".join(parts)
            parts, first = [], line + 1
        elif not token.startswith("#"):
            depth += (token in "[{") - (token in "]}")
            parts.append(token)
        line += token.count("\n")
    yield first, "".join(parts)


def deepest(text: str) -> tuple[int, int]:
    """How deep brackets and the parts of dotted keys go in a text, TOML or not, and the line where they do."""
    line, depth, most, dots, in_key = 1, 0, (0, 1), 0, True
    for token in _TOKEN.findall(text):
        if token == "\n" and depth <= 0:
            dots, in_key = 0, True
        elif token in "[{":
            depth += 1
        elif token in "]}":
            depth -= 1
        elif in_key and token[0] not in "\"'#":
            key, equals, _ = token.partition("=")
            dots, in_key = dots + key.count("."), not equals
        most = max(most, (max(depth, dots + 1), line), key=lambda found: found[0])
        line += token.count("\n")
    return most


def _parts(words: str) -> tuple[str, ...]:
    """The parts of a dotted key, quotes resolved."""
    if _BARE.fullmatch(words):
        return tuple(part.strip() for part in words.split("."))
    import tomllib

    parts, inner = list[str](), tomllib.loads(f"{words.strip()} = 0")
    while isinstance(inner, dict):
        [(part, inner)] = inner.items()
        parts.append(part)
    return tuple(parts)
