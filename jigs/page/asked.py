"""What a view is given and what it gives, as plain values: no view knows the server behind it."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import unquote


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """A request. bench, orders: the folders that the page is of. path: the parts of the address that the route names.

    given: what was filled in, by name. body: what was sent, where it is a file instead of a form. is_part:
    the script asks, for what changes alone.
    """

    bench: Path
    orders: Path = Path()
    path: Mapping[str, str] = field(default_factory=dict)
    given: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    body: bytes = b""
    is_part: bool = False

    def one(self, name: str, usual: str = "") -> str:
        """The last of what was filled in under a name, without spaces around it; `usual` where nothing was."""
        return (self.given.get(name) or (usual,))[-1].strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A page: its template and the values in it; `part` is the template of what changes alone.

    Or a file: `content` with its kind and its name, to look at where `is_shown`, else to keep. Or `goto`, another
    address of the page.
    """

    template: str = ""
    part: str = ""
    values: Mapping[str, Any] = field(default_factory=dict)
    content: bytes = b""
    kind: str = "text/html; charset=utf-8"
    file_name: str = ""
    is_shown: bool = False
    goto: str = ""
    status: int = 200


@dataclass(frozen=True, slots=True)
class Route:
    """An address, and the function that answers it. `method` is GET or POST, which may change something.

    A part of the path in braces, as in /sheets/{sheet}/{file}, is given to the function under that name.
    """

    path: str
    answer: Callable[[Asked], Answer]
    method: str = "GET"

    def match(self, path: str) -> dict[str, str] | None:
        """The named parts of an address as it was sent, each as it is meant; None where it is not this one."""
        pattern = re.sub(r"\\{([a-z]+)\\}", r"(?P<\1>[^/]+)", re.escape(self.path))
        found = re.fullmatch(pattern, path)
        return {name: unquote(part) for name, part in found.groupdict().items()} if found else None


@dataclass(frozen=True, slots=True, kw_only=True)
class View:
    """A view in the list of them: its name, which its files bear; its title; its address."""

    name: str
    title: str
    path: str
