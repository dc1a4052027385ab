"""Would a wrong figure be noticed? Faults planted in the rooms that make and print figures, and the tests run on each.

    python tests/mutation.py                 # a seeded sample of every room
    python tests/mutation.py making 200      # one room, so many faults
    python tests/mutation.py --again         # the sample once more, with the record of which test reaches which line

cosmic-ray plants the faults (another operator, another number, a comparison turned); coverage says which tests reach
the line (pip install cosmic-ray pytest-cov). A fault that no test notices is printed with its line. Those that change
nothing a user could see stand in equivalent.toml, each with its reason. Not part of the suite: it takes long, and it
asks another question. Linux only: for each fault it forks a process in which the heavy libraries are already there.
"""

from __future__ import annotations

import html
import importlib
import json
import multiprocessing
import os
import random
import re
import resource
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.machinery import SourceFileLoader
from itertools import accumulate
from pathlib import Path

ROOT = Path(__file__).parent.parent
ROOMS = {
    "making": "jigs/making",
    "planning": "jigs/planning",
    "reports": "jigs/reports",
    "packing": "jigs/packing",
    "printing": "layouts/printing",
}
SEED, EACH = 20261125, 80
FIRST = 25  # tests that are tried first: the quickest that reach the line
SECONDS = 20.0  # of tests for one fault, as they took in the record
HANGS = 60  # seconds of the processor's: a fault that makes the tests hang counts as noticed
WORKERS = 2
# They reach no figure of these rooms, or by thousands of pictures, strings and pages: left out of the record.
_LEFT_OUT = """affine clipping covering cutting_stock fuzz golden lettering met_by_others nesting pixels readme
    real_scans render reversal scan_laws scanning sheet structure terminal tiles true_in_file units"""
_HEAVY = "click fontTools.ttLib hypothesis numpy PIL.Image pikepdf pint pypdf pytest reportlab.pdfgen.canvas"
_OPERATORS = re.compile(
    r"core/(ReplaceBinaryOperator_(Add_Sub|Sub_Add|Mul_Div|Div_Mul|FloorDiv_Mul|Mod_Mul|Pow_Mul)"
    r"|ReplaceComparisonOperator_(Lt_LtE|LtE_Lt|Gt_GtE|GtE_Gt|Lt_GtE|Gt_LtE|LtE_Gt|GtE_Lt|Eq_NotEq|NotEq_Eq)"
    r"|ReplaceUnaryOperator_USub_UAdd|AddNot|ReplaceAndWithOr|ReplaceOrWithAnd|NumberReplacer)"
)
RECORD = Path(tempfile.gettempdir()) / "coilwright-reached.json"
Reached = dict[str, dict[str, list[str]]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A fault to plant: the file, which operator, which of its places, and the line."""

    file: str
    operator: str
    occurrence: int
    line: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line} {self.operator.removeprefix('core/')}#{self.occurrence}  {self.text}"

    @property
    def text(self) -> str:
        """The line as it stands without the fault."""
        return (ROOT / self.file).read_text(encoding="utf-8").splitlines()[self.line - 1].strip()

    def planted(self) -> str:
        """The file's text with the fault."""
        from cosmic_ray.mutating import mutate_code
        from cosmic_ray.plugins import get_operator

        code = (ROOT / self.file).read_text(encoding="utf-8")
        return str(mutate_code(code, get_operator(self.operator)(), self.occurrence))


def faults(folder: str) -> Iterator[Fault]:
    """Every fault that can be planted in a folder."""
    from cosmic_ray.ast import ast_nodes, get_ast_from_path
    from cosmic_ray.plugins import get_operator, operator_names

    names = [name for name in operator_names() if _OPERATORS.fullmatch(name)]
    for path in sorted((ROOT / folder).rglob("*.py")):
        tree = get_ast_from_path(path)
        for name in names:
            operator = get_operator(name)()
            places = (place for node in ast_nodes(tree) for place in operator.mutation_positions(node))
            for number, (start, _) in enumerate(places):
                yield Fault(file=path.relative_to(ROOT).as_posix(), operator=name, occurrence=number, line=start[0])


# -- which test reaches which line


def reached() -> tuple[Reached, dict[str, float]]:
    """For each file and line, the tests that run it ("0": that run any of the file), and the seconds of each test."""
    if "--again" not in sys.argv or not RECORD.exists():
        RECORD.write_text(json.dumps(_recorded()))
    lines, seconds = json.loads(RECORD.read_text())
    return lines, seconds


def _recorded() -> tuple[Reached, dict[str, float]]:
    from coverage import CoverageData

    with tempfile.TemporaryDirectory() as scratch:
        data, times = Path(scratch) / "data", Path(scratch) / "times.xml"
        command = [sys.executable, "-m", "pytest", "-q", "-n", str(WORKERS), f"--junit-xml={times}", "tests"]
        command += [f"--ignore=tests/test_{name}.py" for name in _LEFT_OUT.split()]
        command += [*(f"--cov={folder}" for folder in ROOMS.values()), "--cov-context=test", "--cov-report="]
        subprocess.run(command, cwd=ROOT, env={**os.environ, "COVERAGE_FILE": str(data)}, check=False)
        kept = CoverageData(str(data))
        kept.read()
        cases = re.findall(r'classname="([^"]+)" name="([^"]+)" time="([0-9.]+)"', times.read_text())
    seconds = {f"tests/{at.split('.')[-1]}.py::{html.unescape(test)}": float(took) for at, test, took in cases}
    lines: Reached = {}
    for file in kept.measured_files():
        by_line: dict[str, set[str]] = defaultdict(set)
        for line, contexts in kept.contexts_by_lineno(file).items():
            for test in {context.split("|")[0] for context in contexts if context}:
                by_line[str(line)].add(test)
                by_line["0"].add(test)
        lines[Path(file).relative_to(ROOT).as_posix()] = {line: sorted(tests) for line, tests in by_line.items()}
    return lines, seconds


def batches(fault: Fault, lines: Reached, seconds: dict[str, float]) -> Iterator[list[str]]:
    """The tests for a fault: the quickest of those that reach its line, the others, those that reach its file."""

    def in_order(tests: set[str]) -> list[str]:
        ordered = sorted(tests, key=lambda test: (seconds.get(test, 1.0), test))
        sums = accumulate(seconds.get(test, 1.0) for test in ordered)
        return [test for test, total in zip(ordered, sums, strict=True) if total <= SECONDS]

    found = lines.get(fault.file, {})
    on_line = set(found.get(str(fault.line), ()))
    first = in_order(on_line)
    # What a cache keeps, or an import, is run in the first test that comes by: so the others of the file come last.
    return (batch for batch in (first[:FIRST], first[FIRST:], in_order(set(found.get("0", ())) - on_line)) if batch)


# -- the tests in a process of their own


class _Failed:
    """A plugin of pytest: it keeps the first test that failed."""

    def __init__(self) -> None:
        self.name = ""

    def pytest_runtest_logreport(self, report: object) -> None:
        """pytest tells it of each phase of a test."""
        if getattr(report, "failed", False):
            self.name = self.name or str(getattr(report, "nodeid", ""))


def failing(tests: tuple[str, ...], fault: Fault | None) -> str | None:
    """The first of these tests that fails with the fault planted, "all" where none can be named; None if all pass."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        _run(tests, fault, writing)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        words = pipe.read()
    os.waitpid(child, 0)
    return None if words == "passed" else words or "all"


def _run(tests: tuple[str, ...], fault: Fault | None, writing: int) -> None:
    """In the child: nothing of the project is imported yet, so that the fault's file is compiled with its fault."""
    import hypothesis
    import pytest

    try:
        resource.setrlimit(resource.RLIMIT_CPU, (HANGS, HANGS))
        resource.setrlimit(resource.RLIMIT_AS, (4 << 30, 4 << 30))
        signal.alarm(10 * HANGS)
        nowhere = os.open(os.devnull, os.O_RDWR)
        for stream in range(3):
            os.dup2(nowhere, stream)
        phases = hypothesis.Phase.explicit, hypothesis.Phase.generate  # no time is spent on making a failure small
        hypothesis.settings.register_profile("planted", max_examples=20, phases=phases, database=None)
        hypothesis.settings.load_profile("planted")
        if fault:
            path, planted, usual = str(ROOT / fault.file), fault.planted(), SourceFileLoader.get_code

            def get_code(self: SourceFileLoader, fullname: str) -> object:
                return compile(planted, path, "exec") if self.path == path else usual(self, fullname)

            SourceFileLoader.get_code = get_code  # type: ignore[method-assign, assignment]
        failed = _Failed()
        scratch = f"--basetemp={tempfile.gettempdir()}/coilwright-planted-{os.getppid()}"
        options = ["-x", "-q", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:pytest_cov", scratch]
        code = pytest.main([*options, *tests], plugins=[failed])
        os.write(writing, b"passed" if code == 0 else (failed.name or "all").encode())
    finally:
        os._exit(0)


@cache
def _sound(tests: tuple[str, ...]) -> bool:
    """Whether these tests pass without a fault, so that one that fails with it has noticed it."""
    return failing(tests, None) is None


def noticed(fault: Fault, lines: Reached, seconds: dict[str, float]) -> str | None:
    """The test that fails with the fault planted; None where none does."""
    for batch in batches(fault, lines, seconds):
        tests = tuple(batch)
        while tests and (name := failing(tests, fault)):
            if _sound(tests if name == "all" else (name,)):
                return name
            tests = () if name == "all" else tuple(test for test in tests if test != name)
    return None


# -- the sample


def equivalent() -> list[dict[str, str]]:
    """Faults that change nothing that can be seen, each with its reason."""
    found: list[dict[str, str]] = tomllib.loads((ROOT / "tests" / "equivalent.toml").read_text("utf-8")).get(
        "fault", []
    )
    return found


def _is_equivalent(fault: Fault, known: list[dict[str, str]]) -> bool:
    return any(
        one["file"] == fault.file and one["line"] == fault.text and one["operator"] in fault.operator for one in known
    )


_KNOWN: tuple[Reached, dict[str, float]]


def _tried(fault: Fault) -> str | None:
    return noticed(fault, *_KNOWN)


def main() -> None:
    """Plants a sample in each room, and prints what was not noticed and the share that was."""
    global _KNOWN
    words = [word for word in sys.argv[1:] if not word.startswith("-")]
    rooms = {words[0]: ROOMS[words[0]]} if words else ROOMS
    each = int(words[1]) if len(words) > 1 else EACH
    _KNOWN, known = reached(), equivalent()
    os.chdir(ROOT)
    sys.path[:0] = [str(ROOT), str(ROOT / "tests")]
    sys.dont_write_bytecode = False  # what pytest makes of the tests is kept, or every fault would pay for it
    for name in _HEAVY.split():
        importlib.import_module(name)
    total = missed = same = 0
    for room, folder in rooms.items():
        everything = list(faults(folder))
        sample = random.Random(f"{SEED} {room}").sample(everything, min(each, len(everything)))
        started, survivors = time.perf_counter(), list[Fault]()
        with multiprocessing.get_context("fork").Pool(WORKERS) as pool:
            for fault, by in zip(sample, pool.imap(_tried, sample), strict=True):
                if "-v" in sys.argv:
                    print(f"  {by or 'NOT NOTICED'}  <- {fault}", flush=True)
                if by is None:
                    survivors.append(fault)
                    print(f"{'equivalent' if _is_equivalent(fault, known) else 'NOT NOTICED'}: {fault}", flush=True)
        excused = sum(_is_equivalent(fault, known) for fault in survivors)
        total, missed, same = total + len(sample), missed + len(survivors) - excused, same + excused
        took = time.perf_counter() - started
        print(f"{room}: {len(sample)} of {len(everything)} planted, {len(survivors)} not noticed in {took:.0f} s")
    share = 1 - missed / (total - same)
    print(f"{total} faults, {same} equivalent ({same / total:.1%}), {share:.1%} of the others noticed")


if __name__ == "__main__":
    main()
