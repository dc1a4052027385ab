"""Reads pictures of printed sheets: markers found and fitted, edges and yardsticks measured.

`scan_of` loads a file and reads it against the target that its sheet gives. The rooms behind this door need numpy and
Pillow, which are loaded when a scan is read.
"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from layouts.errors import MissingLibrary, Remedy

if TYPE_CHECKING:
    from layouts.scanning.reading import Scan
    from layouts.scanning.reversal import Turned
    from layouts.scanning.target import Target


def scan_of(path: Path, target: Target, *, dpi: float = 0.0, lying: str = "") -> Scan:
    """What a scan of a sheet shows. `dpi` overrides what the file says; `lying` is card, rule, none or empty.

    Refuses a file that cannot be used (`FileRefused`), a picture that is not clear (`ScanRefused`), and
    (`MissingLibrary`) to read any where numpy or Pillow is not installed.
    """
    _need_libraries()
    from layouts.scanning.picture import load
    from layouts.scanning.reading import read_scan

    return read_scan(load(path, dpi), target, lying)


def turned_of(first: Path, second: Path, target: Target, *, dpi: float = 0.0, lying: str = "") -> Turned:
    """What two scans of one sheet, turned in between, show together. `lying` holds for both, where it is given.

    Refuses as `scan_of` does, and (`ScanRefused`) a sheet that was not turned, or by a half.
    """
    _need_libraries()
    from layouts.scanning.picture import load
    from layouts.scanning.reading import read_scan
    from layouts.scanning.reversal import turned

    one, two = (read_scan(load(path, dpi), target, lying, is_lone=False) for path in (first, second))
    return turned(one, two)


def _need_libraries() -> None:
    from importlib.util import find_spec

    missing = [name for module, name in (("numpy", "numpy"), ("PIL", "pillow")) if find_spec(module) is None]
    if missing:
        raise MissingLibrary(
            f"reading a scan needs {' and '.join(missing)}, which this machine lacks",
            remedies=(Remedy.INSTALL_SCANNING,),
        )
