"""What batches that were measured tell of the next: one model of wire, rods, instruments and cuts. Lengths in mm.

A wire flows at Y / E = exp(a - n ln(C / 5)) at the spring index C: a and its hardening n are learnt for each spool
under a mean of its metal and temper. Each rod's diameter, each wire's, each instrument's bias and scale (shared by all
of its readings) and each cut's kerf or trim are learnt with them. All are normal about what was known before; the
coil is worked out as `bending` does and drawn straight at the best fit (Laplace's step, after Gauss and Newton).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from operator import mul

from jigs.making.gauss import Row, factor, half_solved, inverse, products, solved
from jigs.making.trial import CutPrior, Doubt, Expected, Reading, Rod, Trial, Wire, coil_inside, ring_inside
from jigs.stock.instrument import Instrument

WIDE, STRANGE = 4.0, 2.0  # bands so much wider for judging; and from so many standard deviations on the table is wrong
OUTSIDE_BAND = 5.0  # standard deviations: a record further from all the others does not fit

# Standard deviations of what nobody measures; common practice, no source.
SPOOLS_APART = 0.35  # how far spools of one metal and temper lie apart, of the whole spread of the table's band
UNMEASURED_ROD, UNMEASURED_WIRE = 0.015, 0.005  # of their diameters by name
ROD_FREE = 0.05  # of a measured rod's diameter: so wide that its measurement alone says where it is
OVAL = 0.002  # of a rod's diameter: how far one read across lies from the mean, where rods are oval by up to 1 %
BATCH_MM = 0.008  # from one winding off a rod to the next
RING_MM = 0.01  # from one ring of a batch to another
_STEPS, _SETTLED = 25, 0.02
_FARTHEST = 15.0  # standard deviations: nothing that is so lies further from what was thought

Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Unknown:
    """Something to learn: what it was thought to be, and its standard deviation."""

    mean: float
    sd: float


def _unknowns(trial: Trial, wider: float) -> Iterator[tuple[Key, _Unknown]]:
    wire, rod, cut = trial.wire, trial.rod, trial.cut
    (log_yield, sd), (hardening, sd_n) = wire.log_yield, wire.hardening
    sd *= wider
    own, shared = SPOOLS_APART, math.sqrt(1 - SPOOLS_APART**2)
    yield ("yield of group", wire.group), _Unknown(log_yield, shared * sd)
    yield ("hardening of group", wire.group), _Unknown(hardening, shared * sd_n)
    yield ("yield", wire.group, wire.spool), _Unknown(0.0, own * sd)
    yield ("hardening", wire.group, wire.spool), _Unknown(0.0, own * sd_n)
    yield ("wire", wire.group, wire.spool), _Unknown(wire.diameter_mm, wire.sd_mm)
    if not rod.exact:
        free = UNMEASURED_ROD if rod.instrument is None else ROD_FREE
        yield ("rod", rod.name), _Unknown(rod.diameter_mm, free * rod.diameter_mm)
    if cut.name:
        yield ("cut", cut.name), _Unknown(cut.loss_mm, cut.sd_mm)
    tools = [reading.instrument for reading in trial.readings] + ([rod.instrument] if rod.instrument else [])
    for tool in tools:
        if tool.bias_mm:
            yield ("bias", tool.name), _Unknown(0.0, tool.bias_sd)
        if tool.scale:
            yield _scale_key(tool), _Unknown(0.0, tool.scale_sd)


@dataclass(frozen=True, slots=True)
class _Block:
    """Readings whose errors hang together: what they miss the model by, their rows, and their covariance."""

    name: str
    missed: list[float]
    rows: list[Row]
    covariance: list[list[float]]


class Learnt:
    """What so many trials together say. The order of the trials does not matter.

    >>> Learnt(()).doubts
    ()
    """

    def __init__(
        self, trials: Sequence[Trial], wider: Mapping[str, float] | None = None, near: Learnt | None = None
    ) -> None:
        self.wider = wider or {}  # of a group's yield: by how much the table's band is too narrow for it
        self.trials = tuple(sorted(trials, key=_sorted_by))
        self.places: dict[Key, int] = {}
        self.unknowns: list[_Unknown] = []
        for trial in self.trials:
            for key, unknown in _unknowns(trial, self.wider.get(trial.wire.group, 1.0)):
                if key not in self.places:
                    self.places[key] = len(self.unknowns)
                    self.unknowns.append(unknown)
        # each unknown's distance from its mean, in standard deviations; near: a fit of the same trials to begin at
        self.z = [0.0] * len(self.unknowns)
        if near:
            for key, place in self.places.items():
                self.z[place] = (near.value(*key) - self.unknowns[place].mean) / self.unknowns[place].sd
        self.blocks: list[_Block] = []
        self.lower: list[list[float]] = []
        self.read_since: tuple[list[float], float] | None = None
        self._fit()

    # -- the fit

    def _fit(self) -> None:
        for _ in range(_STEPS):
            self.blocks = [*self._rod_blocks(), *map(self._block, self.trials)]
            size = len(self.z)
            matrix = [[0.0] * i + [1.0] for i in range(size)]
            right = [-value for value in self.z]
            for block in self.blocks:
                _gather(block, matrix, right)
            self.lower = factor(matrix)
            step = solved(self.lower, right)
            largest = max(map(abs, step), default=0.0)
            # a wide prior makes for long steps on a curved law: never by more than three of its standard deviations
            part = 3.0 / max(3.0, largest)
            moved = (value + part * change for value, change in zip(self.z, step, strict=True))
            self.z = [min(max(value, -_FARTHEST), _FARTHEST) for value in moved]  # a typing error: no rod below zero
            if largest < _SETTLED:
                return

    def value(self, *key: str) -> float:
        """Where an unknown is now."""
        place = self.places[key]
        return self.unknowns[place].mean + self.unknowns[place].sd * self.z[place]

    def _scaled(self, slopes: dict[Key, float]) -> Row:
        return {self.places[key]: slope * self.unknowns[self.places[key]].sd for key, slope in slopes.items()}

    def _rod_blocks(self) -> Iterator[_Block]:
        """Each rod that was measured, once."""
        seen = set()
        for trial in self.trials:
            rod = trial.rod
            if rod.instrument is None or rod.exact or rod.name in seen:
                continue
            seen.add(rod.name)
            tool, now = rod.instrument, self.value("rod", rod.name)
            slopes: dict[Key, float] = {("rod", rod.name): 1.0}
            off = self._shared(tool, now, slopes)
            missed = rod.diameter_mm - now - off
            yield _Block("", [missed], [self._scaled(slopes)], [[_rod_variance(tool, rod)]])

    def _shared(self, tool: Instrument, length_mm: float, slopes: dict[Key, float]) -> float:
        """What bias and scale add to a reading of a length; their slopes are put to the others."""
        added = 0.0
        if tool.bias_mm:
            slopes[("bias", tool.name)] = 1.0
            added += self.value("bias", tool.name)
        if tool.scale:
            slopes[_scale_key(tool)] = length_mm
            added += self.value(*_scale_key(tool)) * length_mm
        return added

    def _block(self, trial: Trial) -> _Block:
        coil, ring = self._slopes(trial)
        missed, rows, noise, turns, cuts = [], [], [], [], []
        for reading in trial.readings:
            slopes, length, turn, cut = self._read(trial, reading, coil, ring)
            off = self._shared(reading.instrument, length, slopes)
            missed.append(reading.mm - length - off)
            rows.append(self._scaled(slopes))
            own = 0.0 if reading.what in ("coil", "coil outside", "cut") else reading.rings * RING_MM**2
            noise.append((reading.instrument.scatter_sd**2 + own) / reading.readings)
            turns.append(turn)
            cuts.append(cut)
        winding, sawing = BATCH_MM**2, trial.cut.apart_mm**2
        covariance = [
            [
                (noise[i] if i == j else 0.0) + turns[i] * turns[j] * winding + cuts[i] * cuts[j] * sawing
                for j in range(len(rows))
            ]
            for i in range(len(rows))
        ]
        return _Block(trial.name, missed, rows, covariance)

    def _read(
        self, trial: Trial, reading: Reading, coil: _Size, ring: _Size
    ) -> tuple[dict[Key, float], float, float, float]:
        """The slopes of a reading, the length that it should show, and how it moves with the batch's coil and cut."""
        wire: Key = ("wire", trial.wire.group, trial.wire.spool)
        if reading.what == "cut":
            return {("cut", trial.cut.name): 1.0}, self._loss(trial), 0.0, 1.0
        if reading.what == "coil":
            return dict(coil.slopes), coil.mm, 1.0, 0.0
        if reading.what == "coil outside":
            slopes = dict(coil.slopes)
            slopes[wire] += 2.0
            return slopes, coil.mm + 2.0 * self.value(*wire), 1.0, 0.0
        many, wires = reading.rings, 2.0 if reading.what in ("outside", "chain") else 0.0
        slopes = {key: many * slope for key, slope in ring.slopes.items()}
        slopes[wire] += wires
        return slopes, many * ring.mm + wires * self.value(*wire), float(many), -many / math.pi

    def _loss(self, trial: Trial) -> float:
        return self.value("cut", trial.cut.name) if trial.cut.name else 0.0

    def _slopes(self, trial: Trial) -> tuple[_Size, _Size]:
        """The coil's inside and the closed ring's, and how each moves with every unknown."""
        group, spool, rod = trial.wire.group, trial.wire.spool, trial.rod
        keys: tuple[tuple[Key, ...], ...] = (
            (("yield of group", group), ("yield", group, spool)),
            (("hardening of group", group), ("hardening", group, spool)),
            () if rod.exact else (("rod", rod.name),),
            (("wire", group, spool),),
        )
        now = [sum(self.value(*key) for key in those) for those in keys]
        now[2] = rod.diameter_mm if rod.exact else now[2]
        loss = self._loss(trial)
        base = coil_inside(*now)
        closed = ring_inside(base, now[3], loss)
        coil, ring = _Size(base, {}), _Size(closed, {})
        for i, those in enumerate(keys):
            moved = list(now)
            moved[i] += 1e-6
            further = coil_inside(*moved)
            for key in those:
                coil.slopes[key] = (further - base) / 1e-6
                ring.slopes[key] = (ring_inside(further, moved[3], loss) - closed) / 1e-6
        if trial.cut.name:
            ring.slopes[("cut", trial.cut.name)] = -1.0 / math.pi
        return coil, ring

    # -- what it says

    def expected(self, wire: Wire, rod: Rod, cut: CutPrior) -> tuple[Expected, Expected]:
        """The coil's inside and the closed ring's of the next batch; of what was never recorded, what was known before.

        The band is that of a batch's own rings: how instruments read does not add to it.
        """
        trial = Trial(name="", wire=wire, rod=rod, cut=cut, readings=())
        whole = self._with(trial)
        coil, ring = whole._slopes(trial)
        sawing = (cut.apart_mm / math.pi) ** 2
        return (
            Expected(mm=coil.mm, sd_mm=math.sqrt(whole._variance(coil.slopes) + BATCH_MM**2)),
            Expected(mm=ring.mm, sd_mm=math.sqrt(whole._variance(ring.slopes) + BATCH_MM**2 + sawing)),
        )

    def loss(self, cut: CutPrior) -> Expected:
        """What a cut takes, as far as it was learnt."""
        if ("cut", cut.name) not in self.places:
            return Expected(mm=cut.loss_mm, sd_mm=cut.sd_mm)
        key = ("cut", cut.name)
        return Expected(mm=self.value(*key), sd_mm=math.sqrt(self._variance({key: 1.0})))

    def off_table(self, group: str) -> float:
        """How far the worst of a group's spools lies from the middle of the table's band, in standard deviations."""
        mean = self.z[self.places[("yield of group", group)]]
        own = [self.z[place] for key, place in self.places.items() if key[:2] == ("yield", group)]
        return max(math.hypot(mean, each) for each in own)

    def flow(self, wire: Wire) -> tuple[float, float]:
        """ln(Y / E) at the index 5, and n, of a wire."""
        yields = ("yield of group", wire.group), ("yield", wire.group, wire.spool)
        hardenings = ("hardening of group", wire.group), ("hardening", wire.group, wire.spool)
        return self._known(yields, wire.log_yield), self._known(hardenings, wire.hardening)

    def _known(self, keys: tuple[Key, ...], before: tuple[float, float]) -> float:
        """The sum of the unknowns that were met; of none, what was known before."""
        known = [self.value(*key) for key in keys if key in self.places]
        return sum(known) if known else before[0]

    def _with(self, trial: Trial) -> Learnt:
        """The same, with the unknowns of a trial that were never met, at what was thought of them before.

        A rod that was measured and never wound on gets its reading: the bias of its instrument moves with the others.
        """
        wider = self.wider.get(trial.wire.group, 1.0)
        new = [(key, unknown) for key, unknown in _unknowns(trial, wider) if key not in self.places]
        if not new:
            return self
        more = object.__new__(Learnt)
        more.wider = self.wider
        more.trials, more.blocks, more.read_since = self.trials, self.blocks, None
        more.places, more.unknowns, more.z = dict(self.places), list(self.unknowns), list(self.z)
        for key, unknown in new:
            more.places[key] = len(more.unknowns)
            more.unknowns.append(unknown)
            more.z.append(0.0)
        old = len(self.z)
        more.lower = [*self.lower, *([0.0] * i + [1.0] for i in range(old, len(more.z)))]
        rod = trial.rod
        if ("rod", rod.name) in dict(new) and rod.instrument is not None:
            more._measure(rod)
        return more

    def _measure(self, rod: Rod) -> None:
        """Takes in the reading of a new rod: it tells the rod's diameter from the bias, as far as that is known."""
        tool, key = rod.instrument, ("rod", rod.name)
        if tool is None:
            return
        slopes: dict[Key, float] = {key: 1.0}
        missed = rod.diameter_mm - self.value(*key) - self._shared(tool, rod.diameter_mm, slopes)
        row = self._scaled(slopes)
        dense = [row.get(i, 0.0) for i in range(len(self.z))]
        half = half_solved(self.lower, dense)
        spread = sum(map(mul, half, half)) + _rod_variance(tool, rod)
        self.z = [z + change * missed / spread for z, change in zip(self.z, solved(self.lower, dense), strict=True)]
        self.read_since = (half, spread)

    def _variance(self, slopes: dict[Key, float]) -> float:
        row = self._scaled(slopes)
        half = half_solved(self.lower, [row.get(i, 0.0) for i in range(len(self.z))])
        told: float = 0.0
        if self.read_since is not None:  # one reading more: Sherman and Morrison, in place of another factor
            other, spread = self.read_since
            told = sum(map(mul, half, other)) ** 2 / spread
        return float(sum(map(mul, half, half)) - told)

    # -- records judged against the others

    @cached_property
    def off(self) -> dict[str, float]:
        """Of each trial by its name, how far its worst reading is from what all others say, in standard deviations.

        Its readings are judged against one another too: each given those before it.
        """
        found = {}
        for block in self.blocks:
            if block.name and block.rows:
                found[block.name] = self._off(block)
        return found

    def _off(self, block: _Block) -> float:
        """Leaving a block of readings out of a linear fit needs no second fit.

        With V the variance of what the fit says of them, R their own and e what they miss it by: without them they
        are missed by (1 - V R^-1)^-1 e with the variance (R^-1 - R^-1 V R^-1)^-1, hence that times R^-1 e.
        """
        halves = [half_solved(self.lower, [row.get(i, 0.0) for i in range(len(self.z))]) for row in block.rows]
        fitted, weight = products(halves, halves), inverse(block.covariance)
        weighed = products(weight, products(weight, fitted))
        size = len(block.rows)
        core = inverse([[weight[i][j] - weighed[i][j] for j in range(size)] for i in range(size)])
        missed = [sum(map(mul, row, block.missed)) for row in weight]
        without = [sum(map(mul, row, missed)) for row in core]
        alone = (value / math.sqrt(core[i][i]) for i, value in enumerate(without))
        return float(max(map(abs, (*alone, *half_solved(factor(core), without)))))


def learn(trials: Sequence[Trial]) -> tuple[Learnt, tuple[Doubt, ...]]:
    """What the trials that fit one another say, and those that do not.

    One that is more than five standard deviations from what all the others say is left out, the worst first; where it
    fits again once one other is left out, and that other without it, the two disagree and both are left out. One that
    is confirmed stays. The table does not speak against a record: for judging its band is four times as wide, and where
    spools lie beyond it the band gives way.
    """
    kept = sorted(trials, key=_sorted_by)
    doubts: list[Doubt] = []
    whole = _widened(Learnt(kept))
    if all(off <= OUTSIDE_BAND for off in whole.off.values()):  # nearly always: nothing is to be judged
        return whole, ()
    while True:
        learnt = Learnt(kept, _four(kept))
        confirmed = {trial.name for trial in kept if trial.confirmed}
        bad = {name: off for name, off in learnt.off.items() if off > OUTSIDE_BAND and name not in confirmed}
        if not bad:
            return _widened(Learnt(kept, near=learnt)), tuple(doubts)
        worst = max(bad, key=lambda name: (bad[name], name))
        names = [worst, *(other for other in bad if other != worst and _at_odds(kept, worst, other))]
        doubts.append(Doubt(names=tuple(sorted(names[:2])), off=bad[worst]))
        kept = [trial for trial in kept if trial.name not in names[:2]]


def _at_odds(trials: Sequence[Trial], first: str, second: str) -> bool:
    """Whether each of two fits all the rest, once the other is left out."""
    for left, judged in ((first, second), (second, first)):
        rest = Learnt([trial for trial in trials if trial.name != left], _four(trials))
        if rest.off[judged] > OUTSIDE_BAND:
            return False
    return True


def _four(trials: Sequence[Trial]) -> dict[str, float]:
    return {trial.wire.group: WIDE for trial in trials}


def _widened(learnt: Learnt) -> Learnt:
    """The same with a wider band for each group of which a spool lies beyond the table's."""
    beyond = {trial.wire.group: learnt.off_table(trial.wire.group) / STRANGE for trial in learnt.trials}
    wider = {group: part for group, part in beyond.items() if part > 1}
    bands = {group: min(WIDE, 1.5 * part) for group, part in wider.items()}
    return Learnt(learnt.trials, bands, learnt) if bands else learnt


def _scale_key(tool: Instrument) -> Key:
    """Strips off one printer are off together, and each printer in its own way: its scale's uncertainty tells them."""
    return "scale", "print" if tool.printed else tool.name, f"{tool.scale:.6f}"


def _rod_variance(tool: Instrument, rod: Rod) -> float:
    """Of the mean of a rod's readings: the scatter, and that an oval one is not read all round."""
    oval = 0.0 if tool.girth or rod.all_round else OVAL * rod.diameter_mm
    return float((tool.scatter_sd**2 + oval**2) / rod.readings)


@dataclass(frozen=True, slots=True)
class _Size:
    mm: float
    slopes: dict[Key, float]


def _gather(block: _Block, matrix: list[list[float]], right: list[float]) -> None:
    """Adds a block's readings to the normal equations, each freed of what it shares with those before it."""
    lower = factor(block.covariance)
    freed: list[tuple[Row, float]] = []
    for row, missed, line in zip(block.rows, block.missed, lower, strict=True):
        own = dict(row)
        for part, (other, other_missed) in zip(line, freed, strict=False):
            missed -= part * other_missed
            for place, slope in other.items():
                own[place] = own.get(place, 0.0) - part * slope
        freed.append(({place: slope / line[-1] for place, slope in own.items()}, missed / line[-1]))
    for own, missed in freed:
        slopes = sorted(own.items())
        for count, (place, slope) in enumerate(slopes, 1):
            right[place] += slope * missed
            entries = matrix[place]
            for second, other_slope in slopes[:count]:
                entries[second] += slope * other_slope


def _sorted_by(trial: Trial) -> tuple[str, ...]:
    """One order, whatever order they come in."""
    return (trial.wire.group, trial.wire.spool, trial.rod.name, trial.name)
