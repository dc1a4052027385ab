"""The command `printer measure`: readings in, a record out."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

import click

from jigs.cli.bench_folder import bench_option, printers
from jigs.cli.printer.show import described
from jigs.cli.refusals import said
from layouts.errors import OutOfRange, Refusal
from layouts.printing.causes import alike, settings_behind
from layouts.printing.printer import Diagonals, InkPair, Printer, find_hand_tool, parse_date, parse_reading
from layouts.units import parse_length

_INK = ("0.5 mm", "1 mm", "2 mm")
_SKETCH = """
    D --------------- C      across  A to B: {across:.2f} mm     diagonal  A to C: {diagonal:.2f} mm
    |                 |      along   A to D: {along:.2f} mm     diagonal  B to D: {diagonal:.2f} mm
    |                 |
    A --------------- B      cross to cross, at the middle of the lines; never from the paper's edge
"""
_CARD_SKETCH = """
    Push a bank card into the lower left corner of its outline, half over the line.
    The ticks at its right edge read the size across, those at its upper edge the size along: 100 % is the outline.
"""


@click.command("measure")
@click.argument("name", metavar="NAME")
@click.option("--stock", default="", metavar="TEXT", help='The paper or card in its tray, such as "plain 80 g".')
@click.option("--across", default="", metavar="LENGTH", help="Read from A to B; or on another line: 99.7 mm of 100 mm.")
@click.option("--along", default="", metavar="LENGTH", help="Read from A to D; or on another line likewise.")
@click.option("--diagonal-ac", default="", metavar="LENGTH", help="Read from A to C: with B to D it gives the skew.")
@click.option("--diagonal-bd", default="", metavar="LENGTH", help="Read from B to D.")
@click.option("--black", multiple=True, metavar="LENGTH", help="Width of a black bar; again for each bar.")
@click.option("--white", multiple=True, metavar="LENGTH", help="Width of the white gap that goes with it.")
@click.option(
    "--with",
    "instrument",
    default="",
    metavar="WHAT",
    help="rule, rule-class-1, rule-jis-1, loupe, caliper, or card (then 99.5 % for a length). [default: rule]",
)
@click.option("--paper", default="a4", metavar="NAME", show_default=True, help="Of the sheet that you measure.")
@click.option("--landscape", is_flag=True, help="The sheet that you measure has its long side across.")
@click.option("--date", "day", default="", metavar="DATE", help="The day you measured, such as 2026-11-25.")
@click.option("--save-anyway", is_flag=True, help="Save although a print setting explains the readings.")
@bench_option
def command(bench_dir: str, save_anyway: bool, **given: Any) -> None:
    """Records a printer from the lengths read off its printer-check sheet, printed uncorrected.

    In a terminal without lengths it asks, step by step. Lengths are measured from cross to cross.

    \b
      coilwright printer measure office --stock "plain 80 g"
      coilwright printer measure office --stock "plain 80 g" --across "149.6 mm" --along "200.3 mm" --with loupe
      coilwright printer measure office --stock card --with card --across "99.5 %" --along "99.7 %"
    """
    answers = Answers(**given)
    keep((_asked(answers) if answers.lengths_missing else answers).printer(), bench_dir, save_anyway=save_anyway)


def keep(printer: Printer, bench_dir: str, *, save_anyway: bool) -> None:
    """Shows a record, says what is doubtful, and saves it, unless a print setting explains it."""
    _refuse_a_setting(printer, save_anyway=save_anyway)
    for line in described(printer):
        click.echo(line)
    for note in _doubts(printer):
        click.echo(f"Note: {note}.", err=True)
    kept = printers(bench_dir)
    replaced = kept.put(printer)
    click.echo(f"\n{'Replaced' if replaced else 'Saved'} {printer} in {kept.folder.path}")
    click.echo(f'Make sheets true for it with --printer "{printer.name}".')


@dataclass(frozen=True, slots=True, kw_only=True)
class Answers:
    """What was typed or answered, as words."""

    name: str
    stock: str
    across: str
    along: str
    diagonal_ac: str
    diagonal_bd: str
    black: tuple[str, ...]
    white: tuple[str, ...]
    instrument: str
    paper: str
    landscape: bool
    day: str

    @property
    def lengths_missing(self) -> bool:
        """Whether there is something to ask for."""
        return not (self.stock and self.across and self.along)

    def printer(self) -> Printer:
        """The record. Refuses pairs of which one is missing, and what a printer cannot be."""
        from layouts.printing.check_sheet import SHEET

        self._refuse_halves()
        across_mm, along_mm = true_lengths(self)
        tool = self.instrument or "rule"
        return Printer(
            name=self.name,
            stock=self.stock,
            instrument=find_hand_tool(tool).name,
            across=parse_reading(self.across, across_mm, tool),
            along=parse_reading(self.along, along_mm, tool),
            diagonals=self._diagonals(),
            ink=tuple(
                InkPair(black_mm=parse_length(black), white_mm=parse_length(white))
                for black, white in zip(self.black, self.white, strict=True)
            ),
            date=self.day,
            sheet=SHEET,
            paper=_paper(self).name,
            landscape=self.landscape,
        )

    def _diagonals(self) -> Diagonals | None:
        if not self.diagonal_ac:
            return None
        base = _base(self)
        return Diagonals(
            across_mm=base.across_mm,
            along_mm=base.along_mm,
            rising_mm=parse_length(self.diagonal_ac),
            falling_mm=parse_length(self.diagonal_bd),
        )

    def _refuse_halves(self) -> None:
        if bool(self.diagonal_ac) != bool(self.diagonal_bd):
            raise OutOfRange("one diagonal without the other", "give --diagonal-ac and --diagonal-bd")
        if len(self.black) != len(self.white):
            counts = f"{len(self.black)} black bars and {len(self.white)} white gaps"
            raise OutOfRange(counts, "give as many --black as --white, in the same order")
        if self.instrument == "card" and (self.diagonal_ac or self.black):
            raise OutOfRange("a card reads across and along alone", "leave the diagonals and the bars out")


def _paper(answers: Answers) -> Any:
    from layouts.pages.paper import find_paper

    return find_paper(answers.paper, landscape=answers.landscape)


def _base(answers: Answers) -> Any:
    from layouts.printing.check_sheet import base_on

    return base_on(_paper(answers))


def true_lengths(answers: Answers) -> tuple[float, float]:
    """Across and along in mm: of the base lines, or of a card as it lies on the sheet."""
    from layouts.printing.check_sheet import card_on

    if answers.instrument == "card":
        return card_on(_paper(answers))
    base = _base(answers)
    return base.across_mm, base.along_mm


def _doubts(printer: Printer) -> Iterator[str]:
    if printer.ink and abs(printer.spread_mm) < printer.spread_expanded_mm:
        yield "the ink spread is less than it can be read to: a loupe or a caliper would tell"
    causes = settings_behind(printer.across.ratio, printer.along.ratio)
    if causes and not alike(printer.across.ratio, printer.along.ratio):
        likely = ", or ".join(f"{cause.words} ({cause.ratio})" for cause in causes)
        yield f"a print setting comes near, but across and along differ too much for one: {likely}"


def _refuse_a_setting(printer: Printer, *, save_anyway: bool) -> None:
    """Does not save what a print setting explains, unless told to."""
    across, along = printer.across.ratio, printer.along.ratio
    causes = settings_behind(across, along)
    if not causes or not alike(across, along) or save_anyway:
        return
    likely = ", or ".join(f"{cause.words}: {cause.change}" for cause in causes)
    problem = f"not saved: across {across:.4f} and along {along:.4f} are alike, the sign of a print setting"
    raise OutOfRange(problem, f"it may be {likely}; print and measure again, or save nevertheless with --save-anyway")


# --- asking, in a terminal


def _asked(answers: Answers) -> Answers:
    """The answers with what is missing asked for; where nobody can answer, it is refused."""
    from dataclasses import replace

    missing = [option for option in ("stock", "across", "along") if not getattr(answers, option)]
    if not in_a_terminal():
        options = ", ".join(f"--{option}" for option in missing)
        raise OutOfRange(f"printer measure lacks {options}", "give it; or run it in a terminal, where it asks")
    stock = answers.stock or _ask("What lies in the tray? (such as plain 80 g)", str)
    tool = answers.instrument or _ask("Measured with: rule, loupe, caliper or card?", _tool, "rule")
    answers = replace(answers, stock=stock, instrument=tool)
    answers = _asked_for_lengths(answers)
    if tool != "card":
        answers = _asked_for_more(answers)
    day = answers.day or _ask("Measured on (year-month-day)", _day, date.today().isoformat())
    return replace(answers, day=day)


def in_a_terminal() -> bool:
    """Whether somebody is there to answer."""
    return sys.stdin.isatty()


def _asked_for_lengths(answers: Answers) -> Answers:
    from dataclasses import replace

    across, along = true_lengths(answers)
    if answers.instrument == "card":
        click.echo(_CARD_SKETCH)
    else:
        click.echo(_SKETCH.format(across=across, along=along, diagonal=_base(answers).diagonal_mm))

    def read(true_mm: float) -> Callable[[str], str]:
        return lambda words: _readable(words, lambda text: parse_reading(text, true_mm, answers.instrument))

    unit = "%" if answers.instrument == "card" else "mm"
    return replace(
        answers,
        across=answers.across or _ask(f"Across, {unit}", lambda words: read(across)(_with_unit(words, unit))),
        along=answers.along or _ask(f"Along, {unit}", lambda words: read(along)(_with_unit(words, unit))),
    )


def _asked_for_more(answers: Answers) -> Answers:
    """Diagonals and ink; Enter leaves them out."""
    from dataclasses import replace

    if not answers.diagonal_ac:
        first = _ask("Diagonal A to C, mm (Enter: leave the skew out)", _length_or_nothing, "")
        second = _ask("Diagonal B to D, mm", _length) if first else ""
        answers = replace(answers, diagonal_ac=first, diagonal_bd=second)
    if not answers.black:
        pairs = list(_asked_for_ink())
        answers = replace(answers, black=tuple(b for b, _ in pairs), white=tuple(w for _, w in pairs))
    return answers


def _asked_for_ink() -> Iterator[tuple[str, str]]:
    for size in _INK:
        black = _ask(f"Black bar of {size}, mm (Enter: leave it out)", _length_or_nothing, "")
        if black:
            yield black, _ask(f"White gap of {size}, mm", _length)


def _ask(question: str, read: Callable[[str], str], default: str | None = None) -> str:
    """An answer that `read` takes; what it refuses is said, and asked again."""

    def checked(words: str) -> str:
        try:
            return read(words)
        except Refusal as error:
            raise click.UsageError(said(error)) from error

    answer: str = click.prompt(question, default=default, value_proc=checked, show_default=bool(default))
    return answer


def _readable(words: str, read: Callable[[str], object]) -> str:
    read(words)
    return words


def _with_unit(words: str, unit: str) -> str:
    """A bare figure is in the unit that was asked for."""
    figure = words.strip()
    return f"{figure} {unit}" if figure.replace(".", "", 1).replace(",", "", 1).isdecimal() else figure


def _length(words: str) -> str:
    return _readable(_with_unit(words, "mm"), parse_length)


def _length_or_nothing(words: str) -> str:
    return _length(words) if words.strip() else ""


def _tool(words: str) -> str:
    return find_hand_tool(words.strip()).name


def _day(words: str) -> str:
    return _readable(words.strip(), parse_date)
