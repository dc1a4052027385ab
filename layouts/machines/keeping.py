"""Whether to keep a record of a machine: what speaks against it where an older one stands."""

from __future__ import annotations

from layouts.dates import parse_date
from layouts.errors import OutOfRange, Refusal, Remedy
from layouts.lengths import sized
from layouts.machines.machine import EDGES, Machine
from layouts.printing.printer import STALE_DAYS

WORSE = 1.05  # a record less sure by this factor is of lower trust


def objection(machine: Machine, older: Machine) -> Refusal | None:
    """Why a record does not replace an older one unless that is asked for; None where nothing speaks against it.

    One that was read less well, or knows less, would lose what was tried; an old record is not better than a new one.
    """
    if machine.date and older.date and (parse_date(machine.date) - parse_date(older.date)).days > STALE_DAYS:
        return None
    if machine.scale_standard > WORSE * older.scale_standard:
        remedy = "give both lengths too"
        return OutOfRange(f"not saved, as the record of {older} knows its scale better", remedy, (Remedy.SAVE_ANYWAY,))
    for kind in EDGES:
        new, had = machine.gain(kind).uncertainty_mm, older.gain(kind).uncertainty_mm
        if new > WORSE * had:
            return OutOfRange(
                f"not saved, as the record of {older} is better: its {kind}s are good to ±{sized(had, 3)}, and these "
                f"readings to ±{sized(new, 3)}",
                "give all that the coupon reads, as then",
                (Remedy.SAVE_ANYWAY,),
            )
    return None
