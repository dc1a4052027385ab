"""What holds for everything that is made at this bench: the unit in which lengths are said, in settings.toml.

units = "inch"               # or "mm"; an order, and what is asked for at the moment, come before it
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from layouts.lengths import UNITS

if TYPE_CHECKING:
    from layouts.files.entries import Entries
    from layouts.files.folder import Folder

FILE = "settings.toml"
USUAL_UNITS = "mm"


def units_kept(bench: Path | None) -> str:
    """The unit of the bench folder's settings; "" where none is kept there. Refuses (`FileFaulty`) a faulty file."""
    if bench is None:
        return ""
    try:
        (bench / FILE).lstat()
    except FileNotFoundError:  # as on most benches: the reader of TOML files is not loaded for it
        return ""
    except OSError:  # the reader says why it cannot be read
        pass
    from layouts.files.entries import open_entries

    return _units(open_entries(bench / FILE, needed=False))


def units_for(bench: Path | None, *nearer: str) -> str:
    """The unit in which lengths are said: the first that is named in `nearer`, then that of the bench, then mm."""
    return next(filter(None, nearer), "") or units_kept(bench) or USUAL_UNITS


def keep_units(folder: Folder, units: str) -> None:
    """Writes the unit into the settings of the bench folder; comments and other lines stay."""

    def change(document: Any) -> None:
        document["units"] = units

    folder.edit(FILE, change, _units, "# What holds for everything that is made at this bench.\n")


def _units(top: Entries) -> str:
    from layouts.files.values import one_of

    units = top.take("units", one_of(*UNITS), "")
    top.close()
    top.book.finish()
    return units
