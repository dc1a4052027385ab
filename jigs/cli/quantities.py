"""Option types that read words into quantities; a refusal goes up as it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from jigs.stock.blade import find_blade
from jigs.stock.metal import find_metal
from jigs.stock.wire import parse_wire
from layouts.errors import QuantityRefused
from layouts.units import parse_length, parse_number, parse_quantity, parse_whole

if TYPE_CHECKING:
    _ParamType = click.ParamType[Any]  # generic to the type checker only: older clicks cannot subscript it
else:
    _ParamType = click.ParamType


class Quantity(_ParamType):
    """What is typed as one kind of quantity, read by one parser."""

    def __init__(self, name: str, read: Callable[[str], Any]) -> None:
        self.name = name
        self._read = read

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """What the parser makes of the words; a value that is not text passes as it is. A refusal names the option."""
        if not isinstance(value, str):
            return value
        try:
            return self._read(value)
        except QuantityRefused as refusal:
            if isinstance(param, click.Option) and not refusal.field:
                refusal.field = param.opts[0].removeprefix("--").replace("-", "_")
            raise


LENGTH = Quantity("length", parse_length)
WIRE = Quantity("wire", parse_wire)
METAL = Quantity("metal", find_metal)
BLADE = Quantity("blade", find_blade)
DENSITY = Quantity("density", lambda text: parse_quantity(text, "density"))
MODULUS = Quantity("modulus", lambda text: parse_quantity(text, "modulus"))
STRESS = Quantity("stress", lambda text: parse_quantity(text, "stress"))
COUNT = Quantity("number", parse_whole)
NUMBER = Quantity("number", parse_number)
MASS = Quantity("mass", lambda text: parse_quantity(text, "mass"))
