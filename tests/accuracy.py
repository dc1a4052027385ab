"""How near a scan comes to the truth, and how long it takes: `python tests/accuracy.py`. Prints a table.

Every case is a simulated printer and scanner with seeded factors, skew, rotation, shift and faults on A4 at 600 dpi;
the errors are the largest of all cases. A card that lies along a printed line is refused, and laid anew, as its owner
would: how often is told. The last part runs the largest picture in a process of its own.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import numpy as np
from PIL import Image
from simulated_printer import Card, Press, Scanner, SteelRule, Thing, scanned
from simulated_scans import card_on_the_sheet, off_mm, off_ppm, page, read, rule_on_the_sheet, target

from layouts.errors import ScanRefused
from layouts.pages.paper import find_paper
from layouts.printing.printer import Printer
from layouts.printing.scanned import record_of
from layouts.scanning import scan_of

CASES = 12
COVERED = 100
REFUSED = Counter[str]()
LIES = {"nothing": 0.0, "a card": 0.006, "a rule": 0.006}  # and how far off the scanner's own scale is


def main() -> None:
    """The table."""
    print(f"{CASES} seeded cases each          scale ppm  page mm  skew deg   ink mm  processor s")
    for rough in (False, True):
        for lies in LIES:
            figures = np.array([_figures(seed, lies, rough) for seed in range(CASES)])
            print(f"{'rough' if rough else 'clean'}, {lies:24}{_row(figures)}")
    print(f"laid anew: {dict(REFUSED)}")
    _coverage()
    _largest()


def _row(figures: np.ndarray) -> str:
    ppm, page_mm, skew, ink, seconds = figures.max(axis=0)
    return f"{ppm:8.1f} {page_mm:9.4f} {skew:9.4f} {ink:8.4f} {seconds:8.2f}"


def _drawn_at_random(
    seed: int, off: float, rough: bool, most: float = 0.05
) -> tuple[Press, Scanner, np.random.Generator]:
    rng = np.random.default_rng(seed)
    press = Press(
        across=1 + rng.uniform(-most, most),
        along=1 + rng.uniform(-most, most),
        skew_deg=rng.uniform(-0.5, 0.5),
        ink_mm=rng.uniform(-0.03, 0.08) if rough else 0.0,
    )
    scale = 1 + rng.uniform(-off, off)
    faults = {"blur_mm": rng.uniform(0.02, 0.1), "noise": rng.uniform(1, 6)} if rough else {}
    scanner = Scanner(
        scale=(scale, scale),
        rotation_deg=rng.uniform(-1, 1),
        shift_mm=(rng.uniform(-3, 3), rng.uniform(-3, 3)),
        seed=seed,
        **faults,
    )
    return press, scanner, rng


def _lying(lies: str, press: Press, rng: np.random.Generator) -> tuple[Thing, ...]:
    if lies == "a card":
        dx, dy = (rng.choice((-1, 1)) * rng.uniform(2.5, 4.5) for _ in range(2))
        return (card_on_the_sheet(press, dx, dy, rng.uniform(-2.5, 2.5), rng.uniform(30, 170)),)
    if lies == "a rule":
        return (rule_on_the_sheet(press, rng.uniform(-2, 2), rng.uniform(-1, 1), rng.uniform(-2, 2)),)
    return ()


def _figures(seed: int, lies: str, rough: bool) -> tuple[float, ...]:
    press, scanner, rng = _drawn_at_random(seed, LIES[lies], rough)
    while True:
        try:
            return _one(press, scanner, _lying(lies, press, rng), lies)
        except ScanRefused:
            REFUSED[lies] += 1


def _one(press: Press, scanner: Scanner, things: tuple[Thing, ...], lies: str) -> tuple[float, ...]:
    image = scanned(page(), press, scanner, things)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "scan.png"
        image.save(path, dpi=(600, 600), compress_level=1)
        start = time.process_time()
        scan = scan_of(path, target(), lying={"a card": "card", "a rule": "rule"}.get(lies, "none"))
        seconds = time.process_time() - start
    skew, ink = abs(scan.fit.skew_deg - press.skew_deg), abs(scan.spread_mm - press.ink_mm)
    return off_ppm(scan, press), off_mm(scan, press), skew, ink, seconds


# --- how often the stated uncertainty covers the truth


def _coverage() -> None:
    """Cards as large as their limits allow (ISO/IEC 7810 ID-1, from memory), in rough scans at 200 dpi."""
    shares = np.array(list(_shares()))
    held = int((shares <= 1).all(axis=1).sum())
    wide = 1 / np.sqrt(np.mean((2 * shares) ** 2, axis=0))
    print(f"\nstated k = 2 uncertainty by a card holds in {held} of {len(shares)} cases; it is")
    print(f"{wide[0]:.1f} (across) and {wide[1]:.1f} (along) times twice the root mean square of the true errors")


def _shares() -> Iterator[tuple[float, float]]:
    """The true error over the stated uncertainty, across and along."""
    for seed in range(COVERED):
        press, scanner, rng = _drawn_at_random(1000 + seed, 0.006, True, most=0.045)
        scanner = Scanner(**{**_fields(scanner), "dpi": 200})
        width, height = rng.uniform(85.47, 85.72), rng.uniform(53.92, 54.03)
        for turn in (-3.0, 3.0, -2.0, 2.0):
            laid = card_on_the_sheet(press, 3, 3, turn)
            card = Card(**{**_fields(laid), "width_mm": width, "height_mm": height})
            try:
                scan = read(scanned(page(), press, scanner, (card,)), 200, "card")
            except ScanRefused:
                continue
            printer = record_of(scan, name="a", tray="a", date="", sheet="", paper=find_paper("a4"))
            yield _share(printer, press)
            break


def _share(printer: Printer, press: Press) -> tuple[float, float]:
    across = abs(printer.across_factor - press.across) / printer.scale_budget(printer.across).expanded
    along = abs(printer.along_factor - press.along) / printer.scale_budget(printer.along).expanded
    return across, along


def _fields(value: Card | Scanner | SteelRule) -> dict[str, object]:
    return {name: getattr(value, name) for name in type(value).__slots__}


# --- the largest picture


def _largest() -> None:
    """A3 at 600 dpi in colours: time and memory of a process that does nothing else."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a3.png"
        image = scanned(page("a3"), Press(across=0.99), Scanner(rotation_deg=0.5))
        image.convert("RGB").save(path, dpi=(600, 600), compress_level=1)
        print(
            f"\n{subprocess.run([sys.executable, __file__, path], capture_output=True, text=True, check=True).stdout}"
        )


def _alone(path: Path) -> None:
    start = time.perf_counter()
    size = Image.open(path).size
    scan_of(path, target("a3"))
    took = time.perf_counter() - start
    print(f"A3 at 600 dpi in colours, {size[0]} x {size[1]}: {took:.2f} s, {_most_mib():.0f} MiB at most")


def _most_mib() -> float:
    """The most memory this process has held; getrusage would count what its parent held before it."""
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmHWM"))


if __name__ == "__main__":
    _alone(Path(sys.argv[1])) if len(sys.argv) > 1 else main()
