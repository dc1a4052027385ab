"""What rods, wire and rings are measured with in tests."""

from __future__ import annotations

from hypothesis import strategies as st

from jigs.making.measured import Measured, Value
from jigs.making.measuring import (
    KnownWire,
)
from jigs.stock.instrument import find_instrument

RULE, LOUPE, CALIPER = find_instrument("rule"), find_instrument("loupe"), find_instrument("caliper")
STRIP, WIRE_STRIP, CHAIN_STRIP = (find_instrument(name) for name in ("strip", "wire strip", "chain strip"))
KNOWN = KnownWire(diameter_mm=1.0, off_mm=0.01)
rods = st.floats(2.0, 30.0)
wires = st.floats(0.4, 3.0)


def together(*values: Value) -> Measured:
    return Measured(what="size", values=values)
