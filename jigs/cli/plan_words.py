"""A plan in words and columns, for a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from jigs.cli.columns import columns
from jigs.orders.weave import Verdict
from jigs.planning.buying import Buying
from jigs.planning.inverse import FromWire
from jigs.planning.plan import Plan, RingPlan
from jigs.planning.shares import Lot, Metal
from jigs.planning.tools import DrillChoice
from jigs.stock.figure import Figure

_WORDS_WIDTH = 60
_PATTERNS_SHOWN = 12
_GROUPS_SHOWN = 12


def plan_words(plan: Plan) -> str:
    """The whole plan: the job, each ring, the seats, the wires, the cost."""
    parts = [_head(plan), *(_ring(ring) for ring in plan.rings), _seats(plan)]
    parts += [_wire(buying, plan.order.currency) for buying in plan.buyings]
    parts += [_totals(plan), "\n".join(f"Note: {remark}" for remark in plan.remarks)]
    return "\n\n".join(part for part in parts if part) + "\n"


def from_wire_words(answers: tuple[FromWire, ...]) -> str:
    """What a length of wire makes, ring by ring."""
    return "\n\n".join(_from_wire(answer) for answer in answers) + "\n"


def _head(plan: Plan) -> str:
    seats = "1 seat" if plan.order.seats == 1 else f"{plan.order.seats} seats"
    title = plan.order.title or "Order"
    return f"{title}: {seats}, {plan.wanted_rings} rings wanted, {plan.made_rings} made with spares"


# -- one ring


def _ring(ring: RingPlan) -> str:
    return "\n".join((_ring_title(ring), _ledger(ring), "", _mandrels(ring), "", *_workings(ring)))


def _ring_title(ring: RingPlan) -> str:
    wire, wanted = ring.ordered.wire.given, ring.wanted
    title = f"{ring.name}: {wire} {ring.ordered.material.name}"
    line = f"{title}; wanted {wanted.inside_mm:.3f} mm inside, AR {wanted.aspect_ratio:.2f}"
    return f"{line}\n{'-' * len(line)}"


def _ledger(ring: RingPlan) -> str:
    rows = [row for line in ring.ledger for row in _ledger_rows(line)]
    return columns(("", "mm", "band", "rests on"), rows)


def _ledger_rows(line: Figure) -> Iterator[tuple[str, ...]]:
    first, *more = wrap(line.words, _WORDS_WIDTH)
    value = f"{line.value:+.3f}" if line.is_change else f"{line.value:.3f}"
    yield (line.name, value, _band(line), first)
    for words in more:
        yield ("", "", "", words)


def _band(line: Figure) -> str:
    if line.low is None:
        return ""
    return f"{line.low:.3f} to {'straight' if line.high is None else f'{line.high:.3f}'}"


def _mandrels(ring: RingPlan) -> str:
    rows = [
        (
            choice.name,
            (choice.kind or "owned") if choice.owned else "to buy",
            f"{choice.diameter_mm:.3f}",
            f"{choice.ring.inside_mm:.3f}",
            f"{choice.off_mm:+.3f}",
            f"{choice.ring.aspect_ratio:.3f}",
            f"{100 * choice.ratio_error:+.2f}",
        )
        for choice in ring.mandrels
    ]
    return columns(("mandrel, best first", "", "mm", "closed ID", "off", "AR", "AR error %"), rows)


def _workings(ring: RingPlan) -> Iterator[str]:
    if ring.mandrel.advice:
        yield f"core        {ring.mandrel.advice}"
    if ring.blade:
        choice = ring.blade
        kerf = f"kerf {choice.blade.kerf_mm:.2f} mm ({choice.blade.kerf.words})"
        yield f"blade       {choice.blade.name}: {choice.teeth_in_wire:.1f} teeth in the wire, {kerf}"
    yield f"cross-hole  {_cross_hole(ring.drill)}"
    if ring.verdict:
        yield f"weave       {_verdict(ring.verdict)}"
    material = ring.ordered.material
    if material.bad_cut and material.polish:
        yield f"bad cut     {material.bad_cut.words}"
        yield f"finish      {material.polish.words}"
    yield f"waste       {ring.winding.rejects} rejects and {ring.winding.tails_mm:g} mm of tails per coil"
    yield from _shares(ring)


def _cross_hole(drill: DrillChoice) -> str:
    if drill.no_hole:
        return f"none: {drill.no_hole}"
    return f"drill {drill.drill.name}, {drill.clearance_mm:.2f} mm over the wire; {drill.advice}"


def _verdict(verdict: Verdict) -> str:
    weave = verdict.weave
    limit = f", wires pass from {weave.least:.4f}" if weave.least else ""
    near = ", near a limit" if verdict.is_near_a_limit else ""
    spread = f"+-{verdict.spread_mm:g} mm: AR {verdict.ratio_low:.2f} ({verdict.word_low})"
    return (
        f"{weave.name}: {verdict.word}{near}; AR {verdict.ratio:.2f}, range {weave.low:g} to {weave.high:g}, "
        f"aim {weave.aim:g}{limit}; {spread} to {verdict.ratio_high:.2f} ({verdict.word_high}); {weave.source}"
    )


def _shares(ring: RingPlan) -> Iterator[str]:
    for share in ring.shares:
        who = "each seat" if len(ring.shares) == 1 else f"{share.seats} seats, each"
        grams = f"{share.metal.cut_mg / 1000:.3f} g"
        spares = f"{share.wanted} and {share.spares} spare"
        yield f"share       {who}: {spares}, {_coils(share.coils)}, {share.cut_mm} mm of wire, {grams}"
        for lot in share.lots:
            yield f"wind        {_lot(lot)}"


def _coils(count: int) -> str:
    return "1 coil" if count == 1 else f"{count} coils"


def _lot(lot: Lot) -> str:
    coils = "1 coil" if lot.coils == 1 else f"{lot.coils} coils, each"
    rings = "1 good ring" if lot.rings == 1 else f"{lot.rings} good rings"
    let_go = f"{lot.free_turns:.1f} turns and {lot.length_mm:.1f} mm long let go"
    return f"{coils} of {lot.cut_mm} mm of wire, {lot.turns} turns on the mandrel, {let_go}, {rings}"


# -- seats, wires, cost


def _seats(plan: Plan) -> str:
    rows = [
        (
            f"{group.first}" if group.seats == 1 else f"{group.first} to {group.last}",
            str(group.made_rings),
            str(group.coils),
            str(group.cut_mm),
            *_grams(group.metal),
            f"{group.fee / 100:.2f}" if plan.has_all_prices else "",
        )
        for group in plan.groups[:_GROUPS_SHOWN]
    ]
    total = ("all", str(plan.made_rings), str(plan.coils), str(plan.cut_mm), *_grams(plan.metal))
    rows.append((*total, f"{plan.fees / 100:.2f}" if plan.has_all_prices else ""))
    table = columns(("each seat", "rings", "coils", "wire mm", "rings g", "clippings g", "dust g", "pays"), rows)
    more = len(plan.groups) - _GROUPS_SHOWN
    return f"{table}\n({more} more groups of seats: --json)" if more > 0 else table


def _grams(metal: Metal) -> tuple[str, str, str]:
    return tuple(f"{mg / 1000:.3f}" for mg in (metal.rings_mg, metal.clippings_mg, metal.dust_mg))  # type: ignore[return-value]


def _wire(buying: Buying, currency: str) -> str:
    cutting = buying.cutting
    lines = [f"wire {buying.wire.given} {buying.material.name}"]
    lines += [f"  buy    {count} x {_metres(length)}" for length, count in cutting.lengths]
    lines += (
        [f"  draw   {buying.drawn_mm} mm from {', '.join(s.name for s in buying.spools)}"] if buying.drawn_mm else []
    )
    lines += list(_patterns(buying))
    left = ", ".join(f"{count} x {length} mm" for length, count in cutting.offcuts) or "nothing"
    lines.append(f"  left   {left}; {cutting.rests_on}")
    sums = f"{buying.bought_mm} bought + {buying.drawn_mm} drawn = {buying.cut_mm} cut + {buying.left_mm} left over"
    lines.append(f"  mm     {sums}")
    lines.append(f"  grams  {_balance(buying)}")
    if buying.has_price:
        lines.append(f"  {currency}  {_money(buying)}")
    return "\n".join(lines)


def _patterns(buying: Buying) -> Iterator[str]:
    patterns = buying.cutting.patterns
    for pattern in patterns[:_PATTERNS_SHOWN]:
        pieces = " + ".join(f"{count} x {length}" for length, count in pattern.pieces)
        where = f"{_metres(pattern.stock_mm)}{' at hand' if pattern.owned else ''}"
        yield f"  cut    {pattern.times} x {where}: {pieces} mm, {pattern.left_mm} mm left"
    if len(patterns) > _PATTERNS_SHOWN:
        yield f"  cut    ({len(patterns) - _PATTERNS_SHOWN} more ways to cut: --json)"


def _metres(length_mm: int) -> str:
    return f"{length_mm / 1000:g} m" if length_mm % 10 == 0 else f"{length_mm} mm"


def _balance(buying: Buying) -> str:
    rings, clippings, dust = _grams(buying.metal)
    gone = f"{rings} rings + {clippings} clippings + {dust} dust + {buying.left_mg / 1000:.3f} left over"
    return f"{buying.bought_mg / 1000:.3f} bought + {buying.drawn_mg / 1000:.3f} drawn = {gone}"


def _money(buying: Buying) -> str:
    money = buying.money
    parts = f"{money.paid / 100:.2f} paid + {money.drawn / 100:.2f} drawn from stock"
    less = f"{money.left / 100:.2f} left over - {money.credit / 100:.2f} for scrap"
    gram = "" if buying.net_per_gram is None else f"; {buying.net_per_gram:.4f} per gram in rings"
    return f"{parts} - {less} = {money.net / 100:.2f} net{gram}"


def _totals(plan: Plan) -> str:
    lines = [f"In all {_coils(plan.coils)}, {plan.cut_mm} mm of wire, {plan.metal.cut_mg / 1000:.3f} g"]
    if plan.has_all_prices and plan.net_per_ring is not None and plan.net_per_gram is not None:
        net = f"net {plan.money.net / 100:.2f} {plan.order.currency}"
        lines.append(f"Cost {net}: {plan.net_per_ring:.4f} a ring, {plan.net_per_gram:.4f} per gram in rings")
        lines.append(f"The seats pay {plan.fees / 100:.2f}: {plan.rounding / 100:.2f} over, rounded up to the cent")
    elif plan.money.paid:
        lines.append("The cost is not whole: not every wire has a price")
    return "\n".join(lines)


def _from_wire(answer: FromWire) -> str:
    ring = answer.ring
    of = f"{ring.ordered.wire.given} {ring.ordered.material.name}"
    if not answer.rings:
        return f"{answer.wire_length_mm:g} mm of {of} is too short for one good {ring.name}"
    head = f"{answer.wire_length_mm:g} mm of {of} makes {answer.rings} good rings: {ring.name}, on {ring.mandrel.name}"
    lines = [head, *(f"  wind   {_lot(lot)}" for lot in answer.lots)]
    lines.append(f"  left   {answer.left_mm:.0f} mm")
    if answer.chain_mm is not None:
        lines.append(f"  chain  {answer.chain_mm:.0f} mm, end to end")
    return "\n".join(lines)
