"""Printers: measured, kept, listed, chosen and forgotten."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from layouts.errors import OutOfRange, Refusal
from layouts.files.folder import Folder
from layouts.pages.paper import Paper, find_paper
from layouts.printing.budget import find_hand_tool, reads_percent
from layouts.printing.check_sheet import SHEET, base_on, card_on
from layouts.printing.keeping import doubts, objection, on_corrected_sheet
from layouts.printing.printer import Diagonals, InkPair, Printer, parse_reading
from layouts.printing.printers import Printers
from layouts.units import parse_length


@dataclass(frozen=True, slots=True, kw_only=True)
class Readings:
    """What was read off a printer-check sheet, in words: lengths with their units, with a card per cents.

    corrected: whether the sheet was made true for this printer, as its head says, so that only the rest was read.
    The diagonals run from A to C and from B to D (see the sheet); black bars and white gaps go in pairs.
    """

    name: str
    tray: str = ""
    across: str = ""
    along: str = ""
    diagonal_ac: str = ""
    diagonal_bd: str = ""
    black: tuple[str, ...] = ()
    white: tuple[str, ...] = ()
    instrument: str = ""
    paper: str = "a4"
    landscape: bool = False
    date: str = ""
    corrected: bool = False

    @property
    def sheet(self) -> Paper:
        """The paper that was measured."""
        return find_paper(self.paper, landscape=self.landscape)

    @property
    def missing(self) -> tuple[str, ...]:
        """The fields that a record cannot do without, as far as they were not given."""
        return tuple(field for field in ("tray", "across", "along") if not getattr(self, field))

    @property
    def true_mm(self) -> tuple[float, float]:
        """Across and along in mm: of the base lines, or of a card as it lies on the sheet."""
        if reads_percent(self.instrument):
            return card_on(self.sheet)
        base = base_on(self.sheet)
        return base.across_mm, base.along_mm

    @property
    def diagonal_mm(self) -> float:
        """The true length of both diagonals."""
        return base_on(self.sheet).diagonal_mm

    def record(self) -> Printer:
        """The printer. Refuses pairs of which one is missing, and what a printer cannot be."""
        self._refuse_halves()
        across_mm, along_mm = self.true_mm
        tool = find_hand_tool(self.instrument or "rule").name
        return Printer(
            name=self.name,
            tray=self.tray,
            instrument=tool,
            across=parse_reading(self.across, across_mm, tool),
            along=parse_reading(self.along, along_mm, tool),
            diagonals=self._diagonals() if self.diagonal_ac else None,
            ink=tuple(
                InkPair(black_mm=parse_length(black), white_mm=parse_length(white))
                for black, white in zip(self.black, self.white, strict=True)
            ),
            date=self.date,
            sheet=SHEET,
            paper=self.sheet.name,
            landscape=self.landscape,
        )

    def _diagonals(self) -> Diagonals:
        base = base_on(self.sheet)
        return Diagonals(
            across_mm=base.across_mm,
            along_mm=base.along_mm,
            rising_mm=parse_length(self.diagonal_ac),
            falling_mm=parse_length(self.diagonal_bd),
        )

    def _refuse_halves(self) -> None:
        if bool(self.diagonal_ac) != bool(self.diagonal_bd):
            raise OutOfRange("one diagonal without the other", "give both, A to C and B to D")
        if len(self.black) != len(self.white):
            counts = f"{len(self.black)} black bars and {len(self.white)} white gaps"
            raise OutOfRange(counts, "give as many black bars as white gaps, in the same order")
        if reads_percent(self.instrument) and (self.diagonal_ac or self.black):
            raise OutOfRange("a card reads across and along, nothing else", "leave the diagonals and the bars out")


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A printer that was saved: whether it replaced an older record, what is doubtful of it, and where it is kept."""

    printer: Printer
    replaced: bool
    doubts: tuple[str, ...]
    folder: Path


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt:
    """A printer that is not kept yet: what is doubtful of it, and what speaks against keeping it."""

    printer: Printer
    doubts: tuple[str, ...]
    objection: Refusal | None


def look_at_readings(readings: Readings, bench: Path) -> LookedAt:
    """What readings say of a printer, before it is kept. Refuses what a printer cannot be."""
    return look_at_printer(_read(readings, bench), bench)


def look_at_printer(printer: Printer, bench: Path) -> LookedAt:
    """The same of a printer that was read some other way."""
    older = _printers(bench).exact(printer.name, printer.tray)
    return LookedAt(printer=printer, doubts=tuple(doubts(printer)), objection=objection(printer, older))


def measure_printer(readings: Readings, bench: Path, *, save_anyway: bool = False) -> Kept:
    """Records a printer from what was read. Refuses readings that a print setting explains, unless told to save."""
    return keep_printer(_read(readings, bench), bench, save_anyway=save_anyway)


def _read(readings: Readings, bench: Path) -> Printer:
    printer = readings.record()
    if readings.corrected:
        return on_corrected_sheet(printer, _printers(bench).find(printer.name, printer.tray))
    return printer


def keep_printer(printer: Printer, bench: Path, *, save_anyway: bool = False) -> Kept:
    """Saves a record. Refuses one that something speaks against (see `objection`), unless told to save."""
    kept = _printers(bench)
    if not save_anyway and (refusal := objection(printer, kept.exact(printer.name, printer.tray))):
        raise refusal
    replaced = kept.put(printer)
    return Kept(printer=printer, replaced=replaced, doubts=tuple(doubts(printer)), folder=bench)


def list_printers(bench: Path) -> tuple[tuple[Printer, ...], Printer | None]:
    """Every printer of the bench, and the one that sheets are made for when none is named."""
    kept = _printers(bench)
    return kept.all(), kept.default()


def find_printer(bench: Path, name: str, tray: str = "") -> Printer:
    """One printer. Refuses an unknown one, and a name with several papers unless one of them is named."""
    return _printers(bench).find(name, tray)


def usual_printer(bench: Path) -> Printer | None:
    """The printer that sheets are made for when none is named, if one was chosen."""
    return _printers(bench).default()


def printer_meant(bench: Path, name: str, tray: str = "") -> Printer | None:
    """The printer that a sheet was made true for, as sheets are made: see `Printers.meant`."""
    return _printers(bench).meant(name, tray)


def choose_printer(bench: Path, name: str, tray: str = "") -> Printer:
    """From now on sheets are made for this one when none is named."""
    return _printers(bench).make_default(name, tray)


def choose_no_printer(bench: Path) -> None:
    """From now on sheets are uncorrected unless a printer is named."""
    _printers(bench).no_default()


def forget_printer(bench: Path, name: str, tray: str = "") -> Printer:
    """Deletes a record, and returns it."""
    return _printers(bench).forget(name, tray)


def _printers(bench: Path) -> Printers:
    return Printers(folder=Folder(path=bench))
