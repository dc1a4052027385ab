"""The units that are known, how people spell them and what each is worth: rows for the reader of quantities.

Sources: 1 in = 25.4 mm and 1 lb = 453.59237 g exactly (international yard and pound agreement, 1959, from
memory); troy ounce 480 grains, pennyweight 24, pound 7000 (from memory); standard gravity 9.80665 m/s2 (CGPM
1901, from memory). The tests check every factor against pint's own tables.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

INCH_MM = 25.4
"""Millimetres in an inch, exact by definition; all that converts inches takes it from here."""

FOOT_MM = 12 * INCH_MM
"""Millimetres in a foot."""

NM_IN_MM = 1_000_000
"""Nanometres in a millimetre: lengths convert by whole nanometres."""

NM_IN_INCH = round(INCH_MM * NM_IN_MM)
"""Nanometres in an inch."""


class Kind(NamedTuple):
    """A kind of quantity: what it is called, the unit it is given back in, and what a person may write."""

    called: str
    unit: str  # shown
    pint_unit: str
    spellings: Mapping[str, str]  # as typed -> as pint is told
    write: tuple[str, ...]  # units a refusal proposes
    example: str


def _spelled(*rows: str) -> dict[str, str]:
    """Spelling -> name, from rows 'name: spelling | spelling'."""
    pairs = (row.split(": ", 1) for row in rows)
    return {spelling: name for name, spellings in pairs for spelling in spellings.split(" | ")}


LENGTH_NAMES = _spelled(
    "micrometre: um | µm | μm | micron | microns | micrometre | micrometres | micrometer | micrometers",
    "millimetre: mm | MM | millimetre | millimetres | millimeter | millimeters",
    "centimetre: cm | centimetre | centimetres | centimeter | centimeters",
    "metre: m | metre | metres | meter | meters",
    "thou: thou",
    "inch: in | in. | inch | inches | \" | ″ | ” | '' | ′′",
    "foot: ft | ft. | foot | feet | ' | ′ | ’",
    "yard: yd | yard | yards",
)

NANOMETRES = {
    "micrometre": 1_000,
    "millimetre": NM_IN_MM,
    "centimetre": 10 * NM_IN_MM,
    "metre": 1_000 * NM_IN_MM,
    "thou": NM_IN_INCH // 1_000,
    "inch": NM_IN_INCH,
    "foot": 12 * NM_IN_INCH,
    "yard": 36 * NM_IN_INCH,
}

_MASSES = _spelled(
    "milligram: mg | milligram | milligrams | milligramme | milligrammes",
    "gram: g | gram | grams | gramme | grammes",
    "kilogram: kg | kilogram | kilograms | kilogramme | kilogrammes | kilo | kilos",
    "grain: grain | grains",
    "pennyweight: dwt | pennyweight | pennyweights",
    "troy_ounce: ozt | oz t | oz.t | t oz | troy oz | troy ounce | troy ounces | oz troy | ounces troy",
    "ounce: oz av | oz avdp | avoirdupois ounce | avoirdupois ounces",
    "pound: lb | lbs | pound | pounds",
)

_VOLUMES = _spelled(
    "millimetre**3: mm3",
    "centimetre**3: cm3 | cc | ml | mL",
    "decimetre**3: dm3 | l | L | litre | liter",
    "metre**3: m3",
    "inch**3: in3 | cu in | cu.in | cubic inch",
    "foot**3: ft3 | cu ft | cubic foot",
)

_DENSITIES = {f"{m}/{v}": f"{_MASSES[m]}/{_VOLUMES[v]}" for m in _MASSES for v in _VOLUMES} | {
    "Mg/m3": "gram/centimetre**3"
}

_STRESSES = _spelled(
    "pascal: Pa | pascal | pascals | N/m2",
    "kilopascal: kPa | kN/m2",
    "megapascal: MPa | MN/m2 | N/mm2 | megapascal | megapascals",
    "gigapascal: GPa | GN/m2 | kN/mm2 | gigapascal | gigapascals",
    "psi: psi | lbf/in2 | lb/in2",
    "ksi: ksi | kpsi",
    "mega_psi: Msi | Mpsi",
    "kgf_mm2: kgf/mm2 | kg/mm2",
)

_ANGLES = _spelled(
    "degree: deg | deg. | degree | degrees | ° | º",
    "radian: rad | radian | radians",
)

LENGTH = Kind(
    called="length",
    unit="mm",
    pint_unit="millimetre",
    spellings=LENGTH_NAMES,
    write=("mm", "in"),
    example='"5 mm", "3/16 in" or "12 thou"',
)

KINDS: dict[str, Kind] = {
    "density": Kind(
        called="density",
        unit="g/cm3",
        pint_unit="gram/centimetre**3",
        spellings=_DENSITIES,
        write=("g/cm3", "kg/m3", "lb/in3"),
        example='"8.53 g/cm3", "8530 kg/m3" or "0.308 lb/in3"',
    ),
    "stress": Kind(
        called="stress",
        unit="MPa",
        pint_unit="megapascal",
        spellings=_STRESSES,
        write=("MPa", "ksi"),
        example='"450 MPa", "450 N/mm2" or "65 ksi"',
    ),
    "modulus": Kind(
        called="modulus",
        unit="GPa",
        pint_unit="gigapascal",
        spellings=_STRESSES,
        write=("GPa", "Msi"),
        example='"110 GPa" or "16 Msi"',
    ),
    "mass": Kind(
        called="mass",
        unit="g",
        pint_unit="gram",
        spellings=_MASSES,
        write=("g", "ozt", "dwt"),
        example='"20 g", "2 ozt" or "5 dwt"',
    ),
    "angle": Kind(
        called="angle",
        unit="degrees",
        pint_unit="degree",
        spellings=_ANGLES,
        write=("deg", "rad"),
        example='"45 deg" or "0.8 rad"',
    ),
}

# Capitals carry meaning in these, so they are read only as listed: Mm is a megametre, Mg a megagram. The same
# holds for whatever is written with a slash, and for the pascals.
CAPITALS_MATTER = frozenset({"m", "mm", "g", "mg"})

# Words of the trade that mean two things: (one, other, what to write for the one, for the other).
TWO_READINGS = {
    "mil": ("a thousandth of an inch", "a millimetre", "thou", "mm"),
    "mils": ("thousandths of an inch", "millimetres", "thou", "mm"),
    "gr": ("a grain", "a gram", "grain", "g"),
    "grs": ("grains", "grams", "grain", "g"),
    "oz": ("a troy ounce, 31.103 g", "an avoirdupois ounce, 28.350 g", "ozt", "oz av"),
    "ounce": ("a troy ounce, 31.103 g", "an avoirdupois ounce, 28.350 g", "ozt", "oz av"),
    "ounces": ("troy ounces, 31.103 g", "avoirdupois ounces, 28.350 g", "ozt", "oz av"),
}

GAUGES = frozenset({"awg", "swg", "ga", "ga.", "gauge", "gage", "#"})

# Everything pint needs to know, in its own notation, each exact but the radian (pi to 25 figures).
DEFINITIONS = f"""
metre = [length]
decimetre = 0.1 metre
centimetre = 0.01 metre
millimetre = 0.001 metre
inch = {INCH_MM} millimetre
foot = 12 inch
second = [time]
gram = [mass]
milligram = 0.001 gram
kilogram = 1000 gram
pound = 453.59237 gram
grain = pound / 7000
pennyweight = 24 grain
troy_ounce = 480 grain
ounce = pound / 16
newton = kilogram * metre / second ** 2
pascal = newton / metre ** 2
kilopascal = 1000 pascal
megapascal = 1000000 pascal
gigapascal = 1000000000 pascal
kilogram_force = 9.80665 newton
kgf_mm2 = kilogram_force / millimetre ** 2
pound_force = kilogram_force * pound / kilogram
psi = pound_force / inch ** 2
ksi = 1000 psi
mega_psi = 1000000 psi
degree = [angle]
radian = 57.29577951308232087679815 degree
"""
