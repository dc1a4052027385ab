"""Hints for a line that is not TOML: the slips that people make, and the line as it would be right."""

from __future__ import annotations

import re
from collections.abc import Callable

_CURLY = str.maketrans({"“": '"', "”": '"', "„": '"', "‟": '"', "«": '"', "»": '"', "‘": "'", "’": "'", "‚": "'"})
_NO_END = "a quote is missing at the end"
_LONGEST = 60  # of a line that is shown


def hint(said: str, line: str) -> tuple[str, str]:
    """What is wrong with a line and what would be right; `said` is what the parser found, kept where nothing is known.

    >>> hint("Invalid value", "wire = 1.2 mm")
    ('a number with a word needs quotes', 'write wire = "1.2 mm"')
    """
    if "Cannot" in said:  # the parser's faults have no code: that it cannot overwrite or declare again is in its words
        return "this key or table is here for a second time", "keep one of the two"
    line = line.strip()
    if found := _frame(line) or _value(line):
        wrong, right = found
        return wrong, f"write {right}" if len(right) <= _LONGEST else 'write a line such as wire = "1.2 mm"'
    return f"this line cannot be read ({said[:1].lower()}{said[1:]})", 'write lines such as wire = "1.2 mm"'


def is_open(line: str) -> bool:
    """Whether a quote is opened in a line after the equals sign and never closed."""
    found = _value(line.strip())
    return found is not None and found[0] == _NO_END


def _frame(line: str) -> tuple[str, str] | None:
    """What is wrong around the value: with the quotes, a header, a key or its equals sign."""
    bare = re.sub(r'"[^"]*"', "", line.partition("#")[0])  # in straight quotes and in comments curly ones may stand
    if bare.translate(_CURLY) != bare:
        return "curly quotes cannot be read", line.translate(_CURLY)
    header = re.fullmatch(r"(\[{1,2}) *([^\[\]#]*?) *(\]{0,2}) *(?:#.*)?", line)
    if header and "=" not in line:
        opened, name, closed = header.groups()
        if len(opened) != len(closed):
            return "the brackets of this header do not match", f"{opened}{name or 'name'}{']' * len(opened)}"
        if name and not re.fullmatch(r"[A-Za-z0-9_.-]+", name):
            plain = name.replace('"', "").replace("'", "")
            return "a name with spaces or signs needs quotes", f'{opened}"{plain}"{closed}'
    if match := re.fullmatch(r"([A-Za-z_][\w-]*) *: *(.+)", line, re.ASCII):
        return "a key and its value need an equals sign between them", f"{match[1]} = {_quoted(match[2])}"
    if match := re.fullmatch(r"([A-Za-z]\w*(?: +\w+)+) *= *(.*)", line, re.ASCII):
        key = "_".join(match[1].split())
        return "a key has no spaces", f"{key} = {match[2] or '...'}"
    if match := re.fullmatch(r"([A-Za-z_]\w*) +([\"'0-9].*)", line, re.ASCII):
        return "the equals sign is missing", f"{match[1]} = {_quoted(match[2])}"
    return None


def _value(line: str) -> tuple[str, str] | None:
    match = re.fullmatch(r"([A-Za-z_][\w.-]*|\"[^\"]*\") *= *(.*)", line, re.ASCII)
    if not match:
        return None
    key, value = match[1], match[2].strip()
    for pattern, answer in _SLIPS:
        if found := re.fullmatch(pattern, value):
            wrong, right = answer(found)
            return wrong, right.replace("KEY", key)
    return None


def _quoted(words: str) -> str:
    """Words as a value: as they are where they are one already, else in quotes."""
    words = words.strip().rstrip(",")
    bare = words.strip("\"'")
    return words if re.fullmatch(r"-?\d+(\.\d+)?|true|false|\[.*\]", words) else f'"{bare}"'


def _listed(words: str) -> str:
    """A list with every part in quotes."""
    parts = (part.strip(" \"'") for part in re.split(r",|\" +\"", words))
    return "[" + ", ".join(f'"{part}"' for part in parts if part) + "]"


_THINGS = "rings?|pieces?|seats?|people|persons?|students?|makers?|rejects?|coils?|windings?|pcs?|pc|saws?|turns?"

_SLIPS: tuple[tuple[str, Callable[[re.Match[str]], tuple[str, str]]], ...] = (
    (r"=+ *(.*)", lambda m: ("one equals sign is enough", f"KEY = {m[1]}")),
    (r"(?:#.*)?", lambda m: ("there is nothing after the equals sign", 'KEY = "..."')),
    (r"\"([^\"#]*?) *(?:#.*)?", lambda m: (_NO_END, f'KEY = "{m[1]}"')),
    (r"'([^'#]*?) *(?:#.*)?", lambda m: (_NO_END, f'KEY = "{m[1]}"')),
    (r"([^\"'#]+)[\"'] *(?:#.*)?", lambda m: ("a quote is missing at the beginning", f'KEY = "{m[1]}"')),
    (r"(?i)(?:true|yes|on)", lambda m: ("yes is written true, in small letters", "KEY = true")),
    (r"(?i)(?:false|no|off)", lambda m: ("no is written false, in small letters", "KEY = false")),
    (r"(\d+),(\d+)", lambda m: ("decimals are marked with a point", f"KEY = {m[1]}.{m[2]}")),
    (
        rf"(?i)(\d+) *(?:{_THINGS}) *(?:#.*)?",
        lambda m: ("a count is the number alone", f"KEY = {m[1]}"),
    ),
    (
        r"(\d+(?:[.,]\d+)?) *([^\d\s.,\"'#\[\]{}][^\"'#]*?) *(?:#.*)?",
        lambda m: ("a number with a word needs quotes", f'KEY = "{m[1]} {m[2]}"'),
    ),
    (r"\[([^\[\]]*)\]? *(?:#.*)?", lambda m: ("each thing in a list needs quotes", f"KEY = {_listed(m[1])}")),
    (r"([^\"'#\[\]{}]+?) *(?:#.*)?", lambda m: ("words need quotes", f'KEY = "{m[1]}"')),
    (r"(\"[^\"]*\") *[^\s#].*", lambda m: ("there is something after the value", f"KEY = {m[1]}")),
)
