"""What rods, wire and rings are measured with in tests."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from jigs.making.measured import Measured, Value
from jigs.making.measuring import (
    KnownWire,
)
from jigs.stock.instrument import find_instrument

RULE, LOUPE, CALIPER = find_instrument("rule"), find_instrument("loupe"), find_instrument("caliper")
# the reference's simulations take a sheet that is good to 0.3 %; what bars prove of one is in test_instrument.py
STRIP, THIN_STRIP, WIRE_STRIP, CHAIN_STRIP = (
    replace(find_instrument(name), scale=0.003)
    for name in ("strip", "strip, paper measured", "wire strip", "chain strip")
)
KNOWN = KnownWire(diameter_mm=1.0, off_mm=0.01)
rods = st.floats(2.0, 30.0)
wires = st.floats(0.4, 3.0)


def together(*values: Value) -> Measured:
    return Measured(what="size", values=values)
