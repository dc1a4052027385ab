"""Whether to keep a record: what speaks against it, what is doubtful about it; and readings of corrected sheets."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from layouts.dates import parse_date
from layouts.errors import OutOfRange, PrintUnscaled, Refusal, Remedy
from layouts.printing.budget import find_instrument
from layouts.printing.causes import alike, is_setting, likely, settings_behind
from layouts.printing.printer import STALE_DAYS, Printer, Reading

WORSE = 1.05  # a record less sure by this factor is of lower trust


def objection(printer: Printer, older: Printer | None = None) -> Refusal | None:
    """Why a record is not saved unless that is asked for; None where nothing speaks against it.

    older: the record that it would replace.
    """
    across, along = printer.across.ratio, printer.along.ratio
    if is_setting(across, along, _of_ratio(printer)):
        what = likely(across, along, printer.paper) or "no setting is known that does just this"
        problem = f"not saved: across {across:.4f} and along {along:.4f} are alike, the sign of a print setting; {what}"
        # The words of the common dialogs; some programs that print ignore what the file itself asks for.
        remedy = (
            "print and measure again: choose actual size or 100 % in the dialog, not fit, shrink, scale to paper or "
            "fill, and the paper that the sheet was made for, which must lie in the tray"
        )
        unscaled = PrintUnscaled(paper=(printer.paper or "a4").capitalize())
        return OutOfRange(problem, remedy, (unscaled, Remedy.SAVE_ANYWAY))
    return _corrected(printer, older) or _lower_trust(printer, older) if older else None


def doubts(printer: Printer) -> Iterator[str]:
    """What is doubtful about a record, in sentences without a full stop."""
    ways = {"across": printer.across, "along": printer.along}
    lost = [way for way, read in ways.items() if abs(read.ratio - 1) < printer.scale_budget(read).expanded]
    if len(lost) == len(ways):
        yield (
            "both corrections of size are smaller than what they can be read to: this says that the printer is true as "
            "far as can be seen, and not how far it is off"
        )
    elif lost:
        yield f"the correction {lost[0]} is smaller than what it can be read to"
    if printer.diagonals and abs(printer.skew_deg) < printer.skew_expanded_deg:
        yield "the skew is smaller than what it can be read to"
    if printer.ink and abs(printer.spread_mm) < printer.spread_expanded_mm:
        yield "the ink spread is smaller than what it can be read to: a loupe or a caliper would tell"
    causes = settings_behind(printer.across.ratio, printer.along.ratio, printer.paper)
    if causes and not alike(printer.across.ratio, printer.along.ratio, _of_ratio(printer)):
        near = ", or ".join(f"{cause.words} ({cause.ratio})" for cause in causes[:3])
        yield f"a print setting comes near, but across and along differ too much for one: {near}"


def on_corrected_sheet(read: Printer, corrected_for: Printer) -> Printer:
    """The printer behind readings of a sheet that was made true for it already.

    What the sheet shows is what is left: the printer does to a page what the old record undid, and then that. The old
    factors are exact here, as they were used as numbers, so the uncertainty is that of the new readings alone.
    """
    upright = dict(landscape=read.landscape)
    both = read.distortion(**upright).after(corrected_for.distortion(**upright))
    across = math.hypot(both.a, both.b)
    along = both.determinant / across  # its part square to across; the rest is the lean
    shear = (both.a * both.c + both.b * both.d) / across
    length = math.hypot(along, shear)
    spread, known, diagonals = corrected_for.spread_mm, read.diagonals or corrected_for.diagonals, None
    if known:  # by either record: diagonals that say this lean, by the law of cosines
        wide, high = known.across_mm * across, known.along_mm * length
        squares = (wide**2 + high**2 + sign * 2 * wide * high * (shear / length) for sign in (1, -1))
        rising, falling = (math.sqrt(square) for square in squares)
        diagonals = replace(known, rising_mm=rising, falling_mm=falling)
    return replace(
        read,
        across=Reading(length_mm=read.across.length_mm, read_mm=read.across.length_mm * across),
        along=Reading(length_mm=read.along.length_mm, read_mm=read.along.length_mm * length),
        diagonals=diagonals,
        ink=tuple(
            replace(pair, black_mm=pair.black_mm + 2 * spread, white_mm=pair.white_mm - 2 * spread) for pair in read.ink
        ),
    )


def _of_ratio(printer: Printer) -> float:
    """The uncertainty of across over along, as a share, k = 2."""
    return math.hypot(*(printer.scale_budget(read).expanded for read in (printer.across, printer.along)))


def _corrected(printer: Printer, older: Printer) -> Refusal | None:
    """Readings of 1 where the record says otherwise: what a sheet shows that was made true by that record."""
    pairs = ((printer.across, older.across_factor), (printer.along, older.along_factor))
    if printer.landscape:
        pairs = ((printer.along, older.across_factor), (printer.across, older.along_factor))
    sure = max(printer.scale_budget(read).expanded for read, _ in pairs)
    true = all(abs(read.ratio - 1) <= sure for read, _ in pairs)
    if not true or all(abs(factor - 1) <= 2 * sure for _, factor in pairs):
        return None
    return OutOfRange(
        f"not saved: these readings say that {printer.name} is true, and its record says "
        f"{older.across_factor:.4f} across and {older.along_factor:.4f} along; a corrected sheet reads so",
        f"if its head names {printer.name}, say that it was corrected; else measure an uncorrected one",
        (Remedy.SAVE_ANYWAY,),
    )


def _lower_trust(printer: Printer, older: Printer) -> Refusal | None:
    if printer.date and older.date and (parse_date(printer.date) - parse_date(older.date)).days > STALE_DAYS:
        return None  # an old record is not better than a new one
    new, old = (max(p.scale_budget(read).expanded for read in (p.across, p.along)) for p in (printer, older))
    lost = [
        words
        for words, has, had in (
            ("its skew", printer.diagonals, older.diagonals),
            ("its ink spread", printer.ink, older.ink),
        )
        if had and not has
    ]
    if new <= WORSE * old and not lost:
        return None
    tool, had = (find_instrument(p.instrument).words for p in (printer, older))
    worse = f"sizes are good to ±{100 * new:.2f} % by {tool}, and the record's to ±{100 * old:.2f} % by {had}"
    gone = f"the record knows {' and '.join(lost)}, and these readings do not"
    why = "; ".join(words for words, holds in ((worse, new > WORSE * old), (gone, bool(lost))) if holds)
    return OutOfRange(
        f"not saved, as the record of {older} is better: {why}", "measure as well as then", (Remedy.SAVE_ANYWAY,)
    )
