"""The printers of a bench folder, in the file printers.toml: found, kept, forgotten, and one of them the usual one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from layouts.errors import FileRefused, Give, OutOfRange, Remedy, UnknownName, shown
from layouts.files.folder import Folder
from layouts.files.rows import drop_row, put_row, rows_of
from layouts.files.source import start_of
from layouts.printing.printer import NONE, Printer, same_words
from layouts.printing.records import Row, read_rows, sound, values_of

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

FILE = "printers.toml"
HEAD = """# Printers that were measured: one [[printer]] for each printer and what lies in its tray.
# Each line: its true length, and what was read off the print. `default = true`: the one that sheets are made for.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Printers:
    """The printers that a folder knows. Each call reads the file anew."""

    folder: Folder

    def all(self) -> tuple[Printer, ...]:
        """Every record, in the order of the file. Refuses (`FileFaulty`) a file with any fault."""
        return sound(self._rows())

    def default(self) -> Printer | None:
        """The usual printer, which sheets are made for when no other is named; None without one.

        A damaged file is refused if it may hold such a printer, and else it does not matter here.
        """
        try:
            rows = self._rows()
        except FileRefused:
            if self._may_hold_a_default():
                raise
            return None
        return next(iter(sound(tuple(row for row in rows if row.is_default))), None)

    def find(self, name: str, tray: str = "") -> Printer:
        """The record of a printer for what lies in its tray, or its only record when it has none for that.

        Refuses an unknown name (`UnknownName`), and one that was measured on several papers but not on the wanted one.
        What is wrong with the records of other printers does not matter here.
        """
        rows = self._rows()
        named = sound(tuple(row for row in rows if same_words(row.name, name)))
        if not named:
            if known := sound(rows):
                raise UnknownName("printer", name, dict.fromkeys(printer.name for printer in known))
            problem = f"no printer is called {shown(name)}, and none has been measured yet"
            raise OutOfRange(problem, remedies=(Remedy.MEASURE_PRINTER,))
        fitting = [printer for printer in named if same_words(printer.tray, tray)] or named
        if len(fitting) > 1:
            what = f"and not on {shown(tray)}" if tray else "and none was named"
            raise OutOfRange(
                f"{name} was measured on {len(fitting)} papers, {what}",
                remedies=(Give(field="tray", values=tuple(printer.tray for printer in fitting)),),
            )
        return fitting[0]

    def meant(self, name: str, tray: str = "") -> Printer | None:
        """The printer that a sheet is made for: the one that is named, else the usual one; None for the name "none".

        None too where no usual one was chosen. Refuses as `find` does, and a paper without any printer.
        """
        if name.casefold() == NONE:
            return None
        chosen = self.find(name, tray) if name else self.default()
        if chosen is None and tray:
            problem = "a paper in the tray, and no printer"
            raise OutOfRange(problem, remedies=(Give(field="printer"), Remedy.CHOOSE_PRINTER))
        return chosen and self.find(chosen.name, tray or chosen.tray)

    def exact(self, name: str, tray: str) -> Printer | None:
        """The record of a printer for just this paper or card; None if it was not measured on that."""
        named = (row.printer for row in self._rows() if row.printer and same_words(row.printer.name, name))
        return next((printer for printer in named if same_words(printer.tray, tray)), None)

    def put(self, printer: Printer) -> bool:
        """Keeps a record; an older one of the same name and paper is replaced. True when there was one."""
        # What the older record said and this one does not; a person's own keys and comments stay.
        ours = ("stock", "date", "sheet", "paper", "landscape", "diagonals", "ink", "residual")
        is_it = partial(_is_of, printer)
        return self._edit(lambda document: put_row(_rows(document), is_it, values_of(printer), ours))

    def forget(self, name: str, tray: str = "") -> Printer:
        """Takes the record out of the file, and gives it. As `find`, but the paper, if named, must be its own."""
        printer = self._exact(name, tray)
        self._edit(lambda document: drop_row(document, "printer", _rows(document), partial(_is_of, printer)))
        return printer

    def make_default(self, name: str, tray: str = "") -> Printer:
        """Makes a record the one that sheets are made for."""
        printer = self._exact(name, tray)
        self._edit(partial(_mark, printer))
        return printer

    def no_default(self) -> None:
        """From now on sheets are uncorrected unless a printer is named."""
        self._edit(partial(_mark, None))

    def _exact(self, name: str, tray: str) -> Printer:
        printer = self.find(name, tray)
        if tray and not same_words(tray, printer.tray):
            raise UnknownName(f"paper of {printer.name}", tray, [printer.tray])
        return printer

    def _rows(self) -> tuple[Row, ...]:
        return read_rows(self.folder.read(FILE))

    def _may_hold_a_default(self) -> bool:
        """Whether the word stands in a file that cannot be read as TOML."""
        try:
            return b"default" in (start_of(self.folder.path / FILE) or b"")
        except OSError:
            return True

    def _edit(self, change: Callable[[TOMLDocument], bool]) -> bool:
        return self.folder.edit(FILE, change, lambda top: sound(read_rows(top)), HEAD)


def _rows(document: TOMLDocument) -> Any:
    return rows_of(document, "printer", "printers")


def _is_of(printer: Printer, row: Any) -> bool:
    tray = row.get("tray", row.get("stock"))  # "stock" in files written before it was called tray
    return same_words(str(row["name"]), printer.name) and same_words(str(tray), printer.tray)


def _mark(printer: Printer | None, document: TOMLDocument) -> bool:
    for row in _rows(document):
        if printer is not None and _is_of(printer, row):
            row["default"] = True
        elif "default" in row:
            del row["default"]
    return printer is not None
