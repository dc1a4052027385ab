"""Orders for tests: written as the TOML a person would write, good ones and spoilt ones."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import strategies as st

from layouts.errors import Refusal


def refusal_of(call: Callable[[], object]) -> str:
    """What a call refuses with; empty when it does not. Any other error goes up."""
    try:
        call()
    except Refusal as refusal:
        return str(refusal)
    return ""


STERLING = """
[[ring]]
name = "link"
wire = "18 AWG"
metal = "sterling"
ratio = 4.2
count = 600
"""  # 600 sawn rings for one maker
STERLING_SOLD = """
[[supply]]
wire = "18 AWG"
metal = "sterling"
lengths = ["5 m", "25 ft"]
price = "{}"
"""
BY_HAND = """
title = "By hand"
seats = 2
[making]
cut = "saw"
kerf = "0.30 mm"
spares = "10 %"
rejects = 2
tails = "60 mm"
[[ring]]
name = "link"
wire = "1 mm"
metal = "sterling"
inside = "5.2 mm"
count = 45
mandrel = "5 mm"
trial_mandrel = "5 mm"
trial_inside = "5.3 mm"
[[supply]]
wire = "1 mm"
metal = "sterling"
price = "1.20 EUR per g"
clippings = "0.80 EUR per g"
dust = "0.30 EUR per g"
lengths = ["1 m"]
"""

METALS = ("copper", "phosphor bronze", "sterling", "aluminium 5056", "stainless 304")
PRICES = ("1.90 EUR per m", "0.07 EUR per g", "31 EUR/ozt", "0.55 EUR per ft", "0 EUR per g")


def quoted(value: object) -> str:
    """A value as TOML."""
    if isinstance(value, bool):
        return str(value).lower()
    return str(value) if isinstance(value, int | float) else f'"{value}"'


def table(header: str, keys: dict[str, object]) -> str:
    """A table as TOML."""
    lines = "\n".join(f"{key} = {value if key == 'lengths' else quoted(value)}" for key, value in keys.items())
    return f"{header}\n{lines}\n"


@st.composite
def makings(draw: st.DrawFn) -> dict[str, object]:
    """Keys of [making] that belong together."""
    cut = draw(st.sampled_from(("saw", "cutters", "none")))
    keys: dict[str, object] = {"cut": cut, "spares": f"{draw(st.integers(0, 30))} %"}
    keys["rejects"] = draw(st.integers(0, 3))
    keys["tails"] = f"{draw(st.integers(55, 90))} mm"
    if cut == "saw" and draw(st.booleans()):
        keys["kerf"] = f"0.{draw(st.integers(10, 40))} mm"
    if cut == "cutters" and draw(st.booleans()):
        keys["trim"] = f"{draw(st.integers(1, 15)) / 10} mm"
    if draw(st.booleans()):
        keys["wound"] = draw(st.sampled_from(("each", "together")))
    if draw(st.booleans()):
        keys["longest_coil"] = f"{draw(st.integers(20, 60))} mm"
    return keys


@st.composite
def rings(draw: st.DrawFn, number: int) -> dict[str, object]:
    """Keys of a [[ring]] that can be made."""
    wire = draw(st.integers(5, 16))
    keys: dict[str, object] = {
        "name": f"ring {number}",
        "wire": f"{wire / 10} mm",
        "metal": draw(st.sampled_from(METALS)),
    }
    ratio = draw(st.integers(30, 80)) / 10
    keys |= {"ratio": ratio} if draw(st.booleans()) else {"inside": f"{round(ratio * wire / 10, 2)} mm"}
    way = draw(st.sampled_from(("count", "each", "chain", "sample")))
    if way == "count":
        keys["count"] = draw(st.integers(1, 900))
    elif way == "each":
        keys["each_seat"] = draw(st.integers(1, 120))
    else:
        keys["length"] = f"{draw(st.integers(20, 600))} mm"
        keys |= {"weave": "chain"} if way == "chain" else {"sample_rings": 17, "sample_length": "23 mm"}
        if draw(st.booleans()):
            keys["pieces"] = draw(st.integers(1, 30))
    return keys


@st.composite
def orders(draw: st.DrawFn) -> str:
    """A good order as text."""
    kinds = [draw(rings(number)) for number in range(draw(st.integers(1, 4)))]
    parts = [f'title = "Test"\nseats = {draw(st.integers(1, 40))}\n', table("[making]", draw(makings()))]
    parts += [table("[[ring]]", keys) for keys in kinds]
    for wire, metal in dict.fromkeys((keys["wire"], keys["metal"]) for keys in kinds):
        if draw(st.booleans()):
            keys = {"wire": wire, "metal": metal, "price": draw(st.sampled_from(PRICES))}
            if draw(st.booleans()):
                keys["lengths"] = draw(st.sampled_from(('["5 m"]', '["6 m", "2 m"]', '["4 m", "3 m", "2.5 m"]')))
            parts.append(table("[[supply]]", keys))
    return "\n".join(parts)
