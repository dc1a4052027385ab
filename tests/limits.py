"""The largest orders that are accepted: seconds of processor and peak memory of each plan and pack. No test.

    python tests/limits.py [word ...]

Every case is a whole command in a process of its own, its imports included. A word picks the cases with it in their
name. To reach: a plan 3 s, a pack 5 s, a sheet of dowels 5 s, all under 300 MiB.
"""

from __future__ import annotations

import collections
import itertools
import os
import random
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

MOST_MIB = 300


class Case(NamedTuple):
    """A name, what is asked of Coilwright with FILE for the order, the order or list, and the seconds it may take."""

    name: str
    command: tuple[str, ...]
    text: str
    most_s: float


def _ring(number: int, wire: str, inside: str, count: str, more: str = "") -> str:
    return (
        f'[[ring]]\nname = "ring {number}"\nwire = "{wire}"\nmetal = "copper"\ninside = "{inside}"\n{count}\n{more}\n'
    )


def _supply(wire: str, lengths: list[str]) -> str:
    sold = ", ".join(f'"{length}"' for length in lengths)
    return f'[[supply]]\nwire = "{wire}"\nmetal = "copper"\nprice = "2 EUR per m"\nlengths = [{sold}]\n'


def _orders() -> Iterator[tuple[str, str]]:
    """Names and orders; what looks drawn is drawn from a fixed seed."""
    short = '[making]\ncut = "saw"\nlongest_coil = "3 mm"\nrejects = 0\ntails = "65 mm"\n'
    three, ten = ["1 m", "1.5 m", "3.05 m"], [f"{n} m" for n in (0.3, 0.5, 0.9, 1, 1.5, 2, 2.5, 3, 5, 10)]
    yield (
        "20,000 rings, 3 mm coils, 3 lengths",
        short + _ring(1, "1 mm", "5 mm", "count = 20000") + _supply("1 mm", three),
    )
    rng = random.Random("limits")
    kinds = "".join(
        _ring(n, "1 mm", f"{rng.randint(35, 90) / 10} mm", f"count = {rng.randint(20, 400)}") for n in range(100)
    )
    yield "100 kinds, 10 lengths", kinds + _supply("1 mm", ten)
    yield "100 kinds, 10 lengths, 3 mm coils", short + kinds + _supply("1 mm", ten)
    wires = [f"{0.5 + n / 50:.2f} mm" for n in range(100)]
    rings = "".join(_ring(n, wire, f"{3 + 4 * n / 100:.2f} mm", "count = 300") for n, wire in enumerate(wires))
    yield "100 wires, 10 lengths each", rings + "".join(_supply(wire, ten) for wire in wires)
    yield "1,000,000 rings", _ring(1, "1 mm", "5 mm", "count = 800000") + _supply("1 mm", three)
    yield "10,000 seats", "seats = 10000\n" + _ring(1, "1 mm", "5 mm", "each_seat = 10") + _supply("1 mm", three)
    many = "".join(_ring(n, "1 mm", f"{3.5 + n / 20:.2f} mm", "each_seat = 8") for n in range(100))
    yield "1,000 seats x 100 kinds", "seats = 1000\n" + many + _supply("1 mm", ten)
    yield "24 seats x 20 kinds", "seats = 24\n" + "[[ring]]".join(many.split("[[ring]]")[:21]) + _supply("1 mm", ten)


def _dowels() -> str:
    return "".join(
        f'[[dowel]]\ndiameter = "{4 + n / 20:.2f} mm"\nwire = "1 mm"\nturns = {5 + n % 30}\n' for n in range(200)
    )


def cases() -> Iterator[Case]:
    """Every order planned and packed, and the longest list of dowels."""
    for name, text in _orders():
        yield Case(f"plan: {name}", ("plan", "FILE"), text, 3)
        yield Case(f"pack: {name}", ("pack", "FILE", "--out", "OUT/pack.pdf"), text, 5)
    for form in ("pdf", "svg", "png"):
        yield Case(
            f"200 dowels as {form}",
            ("sheet", "dowel", "--list", "FILE", "--format", form, "--out", "OUT/"),
            _dowels(),
            5,
        )


def measured(case: Case) -> tuple[float, float, int]:
    """Seconds of processor, MiB at the most, and the exit code of a case."""
    with tempfile.TemporaryDirectory() as folder:
        given, out = Path(folder, "given.toml"), Path(folder, "out")
        given.write_text('title = "Limits"\n' * ("dowel" not in case.command) + case.text, encoding="utf-8")
        out.mkdir()
        words = [word.replace("FILE", str(given)).replace("OUT", str(out)) for word in case.command]
        command = [sys.executable, "-m", "jigs", *words, "--bench", folder]
        pid = os.posix_spawn(
            sys.executable,
            command,
            os.environ,
            file_actions=[(os.POSIX_SPAWN_OPEN, stream, os.devnull, os.O_WRONLY, 0) for stream in (1, 2)],
        )
        _, status, used = os.wait4(pid, 0)
    return used.ru_utime + used.ru_stime, used.ru_maxrss / 1024, os.waitstatus_to_exitcode(status)


def main(words: list[str]) -> None:
    """Runs the cases and prints a line for each."""
    begun = time.process_time()
    collections.deque(itertools.accumulate(range(10_000_000)), maxlen=0)  # a child's peak begins with its parent's
    print(f"this machine, now: ten million additions in {time.process_time() - begun:.2f} s")
    for case in cases():
        if all(word in case.name for word in words):
            seconds, mib, code = measured(case)
            fine = seconds <= case.most_s and mib <= MOST_MIB and code in (0, 2)  # 2: refused, with the reason
            print(
                f"{case.name:<50} {seconds:6.1f} s  {mib:5.0f} MiB  exit {code}  {'' if fine else 'OVER'}", flush=True
            )


if __name__ == "__main__":
    main(sys.argv[1:])
