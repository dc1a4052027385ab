"""What is learnt from many kinds of records, figure by figure: a golden that shows whether any of it has changed.

That the figures are right is for test_learning: brute force, laws, limits of what more records can tell.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import pytest
from golden import assert_same_as_golden
from test_learning import CALIPER, NONE, SAW, rod, trial, wire

from jigs.making import learning
from jigs.making.learning import Learnt, learn
from jigs.making.material import choose_material
from jigs.making.prior import prior_of
from jigs.making.trial import CutPrior, Expected, Reading, Rod, Trial, coil_inside
from jigs.stock.figure import Basis
from jigs.stock.instrument import Instrument
from jigs.stock.metal import find_metal

RULE = Instrument(name="rule", scatter_mm=0.3, bias_mm=0.1, scale=0.002, basis=Basis.USUAL, source="P")
TAPE = Instrument(name="tape", scatter_mm=0.05, bias_mm=0.03, scale=0.001, girth=True, basis=Basis.USUAL, source="P")
PLAIN = Instrument(name="plain", scatter_mm=0.04, bias_mm=0.0, basis=Basis.USUAL, source="P")
SNIPS = CutPrior(name="cutters", loss_mm=0.9, sd_mm=0.2)
COPPER = wire("tin", "copper, soft", diameter_mm=0.8, log_yield=(-7.2, 0.3), hardening=(0.12, 0.1))
KINDS: dict[str, list[Trial]] = {
    "none": [],
    "one coil": [trial("a", coil=5.16)],
    "coil and ring": [trial("a", 5.16, 5.08), trial("b", 5.19, 5.10)],
    "a chain, an outside and a kerf": [
        trial(
            "a",
            readings=(
                Reading(what="chain", mm=104.1, instrument=RULE, rings=20, readings=2),
                Reading(what="cut", mm=0.29, instrument=CALIPER, readings=3),
            ),
        ),
        trial("b", readings=(Reading(what="outside", mm=7.52, instrument=RULE, readings=4),)),
    ],
    "rods read otherwise": [
        trial("a", 5.17, rod=rod("by name", 5.0, instrument=None)),
        trial("b", 5.15, 5.06, rod=rod("by tape", 5.01, instrument=TAPE, readings=3)),
        trial("c", 6.30, 6.20, rod=rod("by rule", 6.05, instrument=RULE, readings=2)),
        trial("d", 5.30, rod=Rod(name="pin", diameter_mm=5.1, exact=True)),
    ],
    "two metals": [
        trial("a", 5.16, 5.08),
        trial("b", 5.22, 4.93, wire=wire("other"), cut=SNIPS),
        trial("c", 4.13, 4.07, wire=COPPER, rod=rod("rod 4", 4.02), cut=NONE),
    ],
    "beyond the table": [trial("a", 5.55, 5.46), trial("b", 5.56, 5.47), trial("c", 5.54, 5.46)],
    "one that does not fit": [*(trial(name, 5.16, 5.08) for name in "abc"), trial("typo", 5.51, 5.43)],
    "two that disagree": [trial("a", 5.16, 5.08), trial("b", 5.42, 5.34)],
}
ASKED = {
    "the rod of before": (wire(), rod(), SAW),
    "a rod by name": (wire(), rod("new", 6.0, instrument=None), SAW),
    "a new rod, measured": (wire(), rod("new", 6.0, readings=2), SAW),
    "a new rod, by tape": (wire(), rod("new", 6.0, instrument=TAPE), SAW),
    "an exact rod": (wire(), Rod(name="", diameter_mm=4.5, exact=True), SNIPS),
    "a new spool": (wire("new"), rod(), NONE),
    "another metal": (COPPER, rod("rod 4", 4.02), NONE),
}


def figures(numbers: tuple[float, ...]) -> str:
    """To six figures: the last ones of a float are the machine's own."""
    return " ".join(f"{number:.6g}" for number in numbers)


def told(trials: list[Trial]) -> Iterator[str]:
    learnt, doubts = learn(trials)
    for question, (of, on, cut) in ASKED.items():
        coil, ring = learnt.expected(of, on, cut)
        yield f"{question}: coil {figures((coil.mm, coil.sd_mm))}, ring {figures((ring.mm, ring.sd_mm))}"
    for cut in (SAW, SNIPS):
        loss = learnt.loss(cut)
        yield f"{cut.name} takes {figures((loss.mm, loss.sd_mm))}"
    yield f"flows at {figures(learnt.flow(wire()))}, copper at {figures(learnt.flow(COPPER))}"
    yield from (f"{name} is {figures((off,))} off" for name, off in sorted(learnt.off.items()))
    yield from (f"{doubt.names} doubted: {figures((doubt.off,))}" for doubt in doubts)


def test_what_is_learnt_from_records_of_many_kinds() -> None:
    said = [line for name, trials in KINDS.items() for line in (f"\n== {name}", *told(trials))]
    assert_same_as_golden("learnt.txt", "\n".join(said).lstrip() + "\n")


def test_what_is_thought_of_each_metal_before_any_record() -> None:
    """C, of one strength of 300 MPa and 100 GPa: ln 0.003 = -5.80914, and 0.72 of a half width of 0.12."""
    names = ("sterling", "copper", "phosphor bronze", "stainless 304", "aluminium 5056", "titanium grade 2")
    said = [
        f"{name}, {temper}: {figures(found[0])}, n {figures(found[1])}"
        for name in names
        for temper in find_metal(name).tempers
        for found in [prior_of(choose_material(find_metal(name), temper))]
    ]
    one, none = prior_of(choose_material(None, modulus_gpa=100, strength_mpa=300)), prior_of(choose_material(None))
    said += [f"one strength alone: {figures(one[0])}, n {figures(one[1])}"]
    said += [f"nothing: {figures(none[0])}, n {figures(none[1])}"]
    assert_same_as_golden("priors.txt", "\n".join(said) + "\n")


@pytest.mark.parametrize("far", range(12))
def test_five_standard_deviations_from_all_the_others_is_where_a_record_is_doubted(far: int) -> None:
    good = [trial(name, 5.16, 5.08) for name in "abc"]
    odd = trial("x", 5.20 + far * 0.03, 5.12 + far * 0.03)
    off = Learnt([*good, odd], {"sterling, soft": 4.0}).off["x"]
    doubted = [doubt.names for doubt in learn([*good, odd])[1]]
    assert doubted == ([("x",)] if off > 5 else [])
    assert abs(off - 5) > 0.05  # none so near that the rounding decides


def test_a_band_is_two_standard_deviations_each_way() -> None:
    assert Expected(mm=5.0, sd_mm=0.1).band_mm == (4.8, 5.2)


def test_wire_that_would_spring_straight_is_taken_at_nine_tenths_of_that() -> None:
    """C: at the index C = 6 wire is straight from Y / E = 1 / 6 on; 0.9 of it keeps 0.0089 of its curvature."""
    b = 0.9
    kept = 1 - 2 / math.pi * (math.asin(b) + b / 3 * (5 - 2 * b * b) * math.sqrt(1 - b * b))
    assert coil_inside(0.0, 0.0, 5.0, 1.0) == pytest.approx(6 / kept - 1)


def test_what_nobody_measures_adds_to_the_band_of_a_batch() -> None:
    """A batch off a known rod, of wire that is known: what is left is one winding to the next, and the saw."""
    exact = wire(log_yield=(-6.0, 1e-9), hardening=(0.1, 1e-9), sd_mm=1e-9)
    coil, ring = Learnt([]).expected(
        exact, Rod(name="", diameter_mm=5.0, exact=True), CutPrior(name="saw", loss_mm=0.3, sd_mm=1e-9)
    )
    assert coil.sd_mm == pytest.approx(0.008, abs=1e-6)
    assert ring.sd_mm == pytest.approx(math.hypot(0.008, 0.05 * 0.3 / math.pi), abs=1e-6)
    assert learning.OUTSIDE_BAND == 5.0
