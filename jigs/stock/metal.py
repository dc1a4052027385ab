"""Metals by name: density, modulus, strengths by temper, and what the maker must be told of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from math import e
from types import MappingProxyType
from typing import Any

from jigs.stock.figure import Basis, Figure
from layouts.errors import OutOfRange, UnknownName
from layouts.units import positive

TEMPERS = ("soft", "half-hard", "hard", "spring")
AS_GIVEN = "as given (certificate or measurement)"
REMARKS = ("caution", "skin", "sawdust", "never_sawn", "cutters", "bad_cut", "polish")

_TEMPER_WORDS = {"annealed": "soft", "dead soft": "soft", "half hard": "half-hard", "full hard": "hard"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Strength:
    """A strength known between two ends, both in MPa; the same figure twice where one is published."""

    low: float
    high: float

    def __post_init__(self) -> None:
        positive(self.low, "low end of a strength")
        positive(self.high, "high end of a strength")
        if self.low > self.high:
            raise OutOfRange(f"a band from {self.low:g} to {self.high:g} MPa is upside down", "write the low end first")

    @property
    def middle(self) -> float:
        """Half way: (low + high) / 2, in MPa."""
        return (self.low + self.high) / 2

    def __str__(self) -> str:
        return f"{self.low:g}" if self.low == self.high else f"{self.low:g}-{self.high:g}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardening:
    """A published hardening pair: stress = k_mpa * strain^n."""

    k_mpa: float
    n: float
    source: str

    def __post_init__(self) -> None:
        positive(self.k_mpa, "hardening K")
        if not 0 <= self.n < 1:
            raise OutOfRange(f"no metal has a hardening exponent of {self.n}", "write n from 0 to below 1")

    @property
    def tensile_mpa(self) -> float:
        """The tensile strength that the pair stands for, K (n / e)^n in MPa (Considere's condition)."""
        return float(self.k_mpa * (self.n / e) ** self.n)


@dataclass(frozen=True, slots=True, kw_only=True)
class FlowStress:
    """The stress in MPa to put into a perfectly plastic bend, as a band, and what it is based on in words."""

    low_mpa: float
    middle_mpa: float
    high_mpa: float
    words: str

    def __post_init__(self) -> None:
        if not 0 < self.low_mpa <= self.middle_mpa <= self.high_mpa < float("inf"):
            raise OutOfRange(
                f"stresses {self.low_mpa:g}, {self.middle_mpa:g}, {self.high_mpa:g} MPa are out of order",
                "write low, middle and high, rising, above zero",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Temper:
    """What is known of one temper: strengths in MPa as bands, hardening pairs, a source, any caution."""

    name: str
    yield_mpa: Strength | None
    tensile_mpa: Strength
    hardening: Hardening | None
    source: str
    second_hardening: Hardening | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.yield_mpa is not None and self.yield_mpa.low > self.tensile_mpa.high:
            raise OutOfRange(f"temper {self.name!r} yields above its tensile strength", "check both figures")

    @property
    def hardening_pairs(self) -> tuple[Hardening, ...]:
        """The published hardening pairs, the one to use first; none for most tempers."""
        return tuple(pair for pair in (self.hardening, self.second_hardening) if pair is not None)

    def flow_stress(self) -> FlowStress:
        """The flow stress for springback from strengths alone, as a band in MPa.

        Annealed wire: from yield to tensile, half way between as the middle, since yield alone under-predicts
        it 1.4 to 3.6 times. Harder wire: its tensile strength. Where no yield is published the tensile
        strength stands alone, and the words say so. A published hardening pair is the better guide where
        there is one: bend with that instead.
        """
        if self.name == "soft" and self.yield_mpa is not None:
            return self._by_yield_and_tensile(self.yield_mpa)
        return self._by_tensile()

    def _by_yield_and_tensile(self, yields: Strength) -> FlowStress:
        tensile = self.tensile_mpa
        return FlowStress(
            low_mpa=yields.low,
            middle_mpa=(yields.middle + tensile.middle) / 2,
            high_mpa=tensile.high,
            words=f"a band from yield {yields} to tensile {tensile} MPa ({self._remarks})",
        )

    def _by_tensile(self) -> FlowStress:
        tensile = self.tensile_mpa
        kind = "one figure, no band: tensile" if tensile.low == tensile.high else "a band: tensile"
        only = ", no yield published" if self.name == "soft" else ""
        return FlowStress(
            low_mpa=tensile.low,
            middle_mpa=tensile.middle,
            high_mpa=tensile.high,
            words=f"{kind} {tensile} MPa{only} ({self._remarks})",
        )

    @property
    def _remarks(self) -> str:
        return f"{self.source}; {self.note}" if self.note else self.source


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something that the maker must be told of a metal, and its source."""

    words: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """A metal for wire: density, modulus, its tempers by name, and what the maker must be told of it.

    density (g/cm3) and modulus (GPa) are None where no figure is known. caution is said always, skin is what it does
    to its wearer, sawdust is said where it is sawn, never_sawn forbids that; cutters is what it does to them in the
    tempers of cutters_tempers; bad_cut and polish say what to do with a ring cut badly, and with a good one.
    """

    name: str
    density: Figure | None = None
    modulus: Figure | None = None
    tempers: Mapping[str, Temper] = field(hash=False)
    source: str
    alloy: str = ""
    aliases: tuple[str, ...] = ()
    caution: Remark | None = None
    skin: Remark | None = None
    sawdust: Remark | None = None
    never_sawn: Remark | None = None
    cutters: Remark | None = None
    cutters_tempers: tuple[str, ...] = ()
    bad_cut: Remark
    polish: Remark

    def __post_init__(self) -> None:
        object.__setattr__(self, "tempers", MappingProxyType(dict(self.tempers)))

    @property
    def density_g_cm3(self) -> float | None:
        """The density alone."""
        return self.density.value if self.density else None

    @property
    def modulus_gpa(self) -> float | None:
        """The modulus alone."""
        return self.modulus.value if self.modulus else None

    def temper(self, name: str) -> Temper:
        """The temper "soft", "half-hard", "hard" or "spring"; refused where no strength is known."""
        wanted = temper_name(name)
        if wanted not in self.tempers:
            known = ", ".join(self.tempers) or "none"
            raise OutOfRange(
                f"no strength of {wanted} {self.name} is known here",
                f"tempers with one: {known}; or give the strength of your wire",
            )
        return self.tempers[wanted]

    def cautions(self, *, temper: str | None, sawn: bool, snipped: bool) -> tuple[Remark, ...]:
        """What hurts, for a wire in this temper (None: not known) that is sawn, or snipped with cutters, or neither."""
        said = [self.caution, self.skin]
        if sawn:
            said += [self.never_sawn, self.sawdust]
        if snipped and (temper is None or temper in self.cutters_tempers):
            said.append(self.cutters)
        return tuple(dict.fromkeys(remark for remark in said if remark is not None))

    @classmethod
    def custom(
        cls,
        *,
        density_g_cm3: float | None = None,
        modulus_gpa: float | None = None,
        strength_mpa: float | None = None,
        name: str = "metal as given",
    ) -> Metal:
        """A metal that is not in the table, by the user's own figures: g/cm3, GPa, MPa. Nothing more is known of it."""
        from jigs.tables import read_table

        table = read_table("metals")
        return cls(
            name=name,
            density=None if density_g_cm3 is None else density_figure(density_g_cm3, Basis.CERTIFICATE, AS_GIVEN),
            modulus=None if modulus_gpa is None else modulus_figure(modulus_gpa, Basis.CERTIFICATE, AS_GIVEN),
            tempers={} if strength_mpa is None else {name: temper_of_strength(name, strength_mpa) for name in TEMPERS},
            source=AS_GIVEN,
            **_remarks(table["unknown"], table["remark"]),
        )


def density_figure(density_g_cm3: float, basis: Basis, words: str) -> Figure:
    """A density in g/cm3 that a metal may have."""
    _within(density_g_cm3, "density", "g/cm3", 0.5, 25)
    return Figure(name="density", value=density_g_cm3, unit="g/cm3", basis=basis, words=words)


def modulus_figure(modulus_gpa: float, basis: Basis, words: str) -> Figure:
    """A modulus of elasticity in GPa that a metal may have."""
    _within(modulus_gpa, "modulus", "GPa", 1, 1000)
    return Figure(name="modulus", value=modulus_gpa, unit="GPa", basis=basis, words=words)


def temper_of_strength(name: str, strength_mpa: float) -> Temper:
    """A temper by the strength of the user's own wire, in MPa."""
    _within(strength_mpa, "strength", "MPa", 1, 10_000)
    band = Strength(low=strength_mpa, high=strength_mpa)
    return Temper(name=name, yield_mpa=None, tensile_mpa=band, hardening=None, source=AS_GIVEN)


def find_metal(name: str) -> Metal:
    """The metal of that name or alias ("copper", "sterling", "C260"), however spaced, its words in any order."""
    metal = _by_name().get(_in_any_order(name))
    if metal is None:
        raise UnknownName("metal", name, [metal.name for metal in metals()])
    return metal


@cache
def _by_name() -> dict[str, Metal]:
    return {_in_any_order(name): metal for metal in reversed(metals()) for name in (metal.name, *metal.aliases)}


@cache
def metals() -> tuple[Metal, ...]:
    """Every metal of the table, in its order."""
    from jigs.tables import read_table

    table = read_table("metals")
    return tuple(_metal(row, table) for row in table["metal"])


def temper_name(name: str) -> str:
    """The temper as the tables write it: 'Half hard' is 'half-hard', 'annealed' is 'soft'."""
    words = _plain(name)
    wanted = _TEMPER_WORDS.get(words, words)
    if wanted not in TEMPERS:
        raise UnknownName("temper", name, TEMPERS)
    return wanted


def _in_any_order(name: str) -> str:
    return " ".join(sorted(_plain(name).split()))


def _plain(name: str) -> str:
    return " ".join(name.casefold().replace("-", " ").replace("_", " ").replace("’", "'").split())


def _metal(row: Mapping[str, Any], table: Mapping[str, Any]) -> Metal:
    rows = {other["name"]: other for other in table["metal"]}
    core = rows[row["strength_as"]] if "strength_as" in row else row
    source = core["source"] if core is row else f"as its core, {core['name']}: {core['source']}"
    density, modulus = row.get("density_g_cm3"), row.get("modulus_gpa")
    words = row.get("modulus_source", row["source"])
    return Metal(
        name=row["name"],
        alloy=row["alloy"],
        aliases=tuple(row["aliases"]),
        density=None if density is None else density_figure(density, Basis.TABLE, row["source"]),
        modulus=None if modulus is None else modulus_figure(modulus, Basis.TABLE, words),
        tempers={name: _temper(name, core[name], source) for name in TEMPERS if name in core},
        source=row["source"],
        cutters_tempers=tuple(row.get("cutters_tempers", ())),
        **_remarks(row, table["remark"]),
    )


def _remarks(row: Mapping[str, Any], known: Mapping[str, Any]) -> dict[str, Any]:
    """The remarks that a row names, by what they are on."""
    return {on: Remark(**known[row[on]]) for on in REMARKS if on in row}


def _temper(name: str, row: Mapping[str, Any], source: str) -> Temper:
    pairs = [Hardening(**pair) for pair in row.get("hardening", ())]
    return Temper(
        name=name,
        yield_mpa=_strength(row["yield_mpa"]) if "yield_mpa" in row else None,
        tensile_mpa=_strength(row["tensile_mpa"]),
        hardening=pairs[0] if pairs else None,
        second_hardening=pairs[1] if len(pairs) > 1 else None,
        source=source,
        note=row.get("note", ""),
    )


def _strength(ends: list[float]) -> Strength:
    low, high = ends
    return Strength(low=low, high=high)


def _within(value: float, name: str, unit: str, least: float, most: float) -> None:
    if not least <= positive(value, name) <= most:
        raise OutOfRange(f"no metal has a {name} of {value:g} {unit}", f"give {least:g} to {most:g} {unit}")
