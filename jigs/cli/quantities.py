"""Option types that read words into quantities; a refusal goes up as it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from jigs.stock.blade import find_blade
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.units import parse_length, parse_quantity

if TYPE_CHECKING:
    _ParamType = click.ParamType[Any]  # generic to the type checker only: older clicks cannot subscript it
else:
    _ParamType = click.ParamType


class Words(_ParamType):
    """Words of one kind, read by one parser."""

    def __init__(self, name: str, read: Callable[[str], Any]) -> None:
        self.name = name
        self._read = read

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """What the parser makes of the words; a value that is not text passes as it is."""
        return self._read(value) if isinstance(value, str) else value


LENGTH = Words("length", parse_length)
WIRE = Words("wire", parse_wire)
METAL = Words("metal", find_metal)
BLADE = Words("blade", find_blade)
DENSITY = Words("density", lambda text: parse_quantity(text, "density"))
MODULUS = Words("modulus", lambda text: parse_quantity(text, "modulus"))
STRESS = Words("stress", lambda text: parse_quantity(text, "stress"))
