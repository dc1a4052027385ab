"""Who winds while who saws: a row for each turn at the saws."""

from __future__ import annotations

from jigs.planning.plan import Plan
from jigs.planning.rota import rota
from jigs.reports.report import COUNT, Column, Report
from jigs.reports.words import plural, seats_words


def rota_report(plan: Plan) -> Report:
    """The turns of a class with its shared saws; no rows, and nothing to see, where the order has none."""
    shared, seats = plan.order.shared_saws, plan.order.seats
    turns = rota(seats, shared) if shared else ()
    rows = []
    for number, turn in enumerate(turns):
        sawing = [other for other in turns[:number] if other.saws[0] < turn.winds[1] and turn.winds[0] < other.saws[1]]
        meanwhile = seats_words(sawing[0].first, sawing[-1].last) if sawing else ""
        wind, saw = ("{} to {}".format(*minutes) for minutes in (turn.winds, turn.saws))
        minutes = *turn.winds, *turn.saws
        rows.append((seats_words(turn.first, turn.last), turn.first, turn.last, wind, meanwhile, saw, *minutes))
    notes: tuple[str, ...] = ()
    if shared and turns:
        many = f"{plural(shared.saws, 'saw')} for {plural(seats, 'seat')}: {plural(len(turns), 'turn')}"
        told = f"winding {shared.wind_min} min and sawing {shared.saw_min} min for each, as the order says"
        spare = "Who does neither closes and checks rings"
        notes = (f"{many}, {turns[-1].saws[1]} min in all ({told}). {spare}.",)
    return Report(
        key="saw_turns",
        heading="Who winds while who saws" if rows else "",
        columns=(
            Column("who", "seats", scripts=False),
            Column("first_seat", "first", COUNT, people=False),
            Column("last_seat", "last", COUNT, people=False),
            Column("wind", "wind, min", scripts=False),
            Column("meanwhile", "meanwhile at the saws: seats", scripts=False),
            Column("saw", "saw, min", scripts=False),
            Column("wind_from_min", "", COUNT, people=False),
            Column("wind_to_min", "", COUNT, people=False),
            Column("saw_from_min", "", COUNT, people=False),
            Column("saw_to_min", "", COUNT, people=False),
        ),
        rows=tuple(rows),
        notes=notes,
    )
