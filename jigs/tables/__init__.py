"""The tables: figures in their native units, with a source in every row."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any


@cache
def read_table(name: str) -> Mapping[str, Any]:
    """One table of this folder by its file name without ``.toml``, read once: lists of rows by group.

    >>> read_table("blades")["blade"][0]["size"]
    '8/0'
    """
    import tomllib  # here, since a command that needs no table should not pay for it

    text = Path(__file__).with_name(f"{name}.toml").read_text(encoding="utf-8")
    return MappingProxyType(tomllib.loads(text))
