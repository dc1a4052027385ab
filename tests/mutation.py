"""Would a wrong figure be noticed? Faults planted in the rooms that make and print figures, and the tests run on each.

    python tests/mutation.py                 # a seeded sample of every room
    python tests/mutation.py making 200      # one room, so many faults
    python tests/mutation.py making --seed=7 # another sample
    python tests/mutation.py tests/test_x.py # all rooms, where the tests of some files are new or others

cosmic-ray plants the faults (another operator, another number, a comparison turned); coverage says which tests reach
the function, and a record of that is kept (pip install cosmic-ray pytest-cov). What no test notices is printed; what
changes nothing that a user could see stands in equivalent.toml, each with its reason. Not part of the suite: it takes
long, and it asks another question. Linux only: it forks a process for each fault, with all modules in it.
"""

from __future__ import annotations

import ast
import gc
import html
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
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.machinery import SourceFileLoader
from inspect import CO_OPTIMIZED
from itertools import accumulate
from pathlib import Path
from types import CodeType, FunctionType
from typing import Any

ROOT = Path(__file__).parent.parent
ROOMS = {
    "making": "jigs/making",
    "planning": "jigs/planning",
    "reports": "jigs/reports",
    "packing": "jigs/packing",
    "printing": "layouts/printing",
}
SEED, EACH = 20261125, 80
FIRST = 25  # tests that are tried first: whole answers, which notice most, then the quickest that reach the line
SECONDS = 120.0  # of tests for one fault, as they took in the record
HANGS = 60  # seconds of the processor's: a fault that makes the tests hang counts as noticed
WORKERS = 2
# They reach no figure of these rooms, or by thousands of pictures, strings and pages: left out of the record.
_LEFT_OUT = """affine clipping covering cutting_stock fuzz golden lettering met_by_others nesting pixels readme
    real_scans render reversal scan_laws scanning sheet structure terminal tiles true_in_file units"""
_OPERATORS = re.compile(
    r"core/(ReplaceBinaryOperator_(Add_Sub|Sub_Add|Mul_Div|Div_Mul|FloorDiv_Mul|Mod_Mul|Pow_Mul)"
    r"|ReplaceComparisonOperator_(Lt_LtE|LtE_Lt|Gt_GtE|GtE_Gt|Lt_GtE|Gt_LtE|LtE_Gt|GtE_Lt|Eq_NotEq|NotEq_Eq)"
    r"|ReplaceUnaryOperator_USub_UAdd|AddNot|ReplaceAndWithOr|ReplaceOrWithAnd|NumberReplacer)"
)
# Lines in which another number or comparison is no fault: what only the type checker reads, and how much a search may
# try before it takes the best it has (more or less of that leaves every figure true, and goldens hold what is found).
_NO_FAULT = re.compile(
    r"if TYPE_CHECKING:"
    r"|(_TRIALS|_SEATS_TRIED|_COVERED_AT_ONCE|_STEPS_PER_STEP|_PIECES_LOOKED_AT|_MORE_WINDINGS|LOOKED_AT) = "
    r"|(while|if) trials |trials -= |state = _improved\(|effort = |if effort |with work\.lend\(|1 / len\(groups\),"
)
RECORD = Path(tempfile.gettempdir()) / "coilwright-reached.json"
Reached = dict[str, list[str]]


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
        tree, lines = get_ast_from_path(path), path.read_text(encoding="utf-8").splitlines()
        for name in names:
            operator = get_operator(name)()
            places = ((node, at) for node in ast_nodes(tree) for at in operator.mutation_positions(node))
            for number, (node, (start, _)) in enumerate(places):  # the tool counts the star of def f(*, a) too
                in_signature = getattr(node.parent, "type", "") == "parameters"
                if in_signature or _NO_FAULT.match(lines[start[0] - 1].strip()):
                    continue
                yield Fault(file=path.relative_to(ROOT).as_posix(), operator=name, occurrence=number, line=start[0])


# -- which test reaches which function


def places(file: str) -> Iterator[tuple[str, int, int]]:
    """Every function of a file, such as "jigs/making/coil.py::Coil.length_mm", with its first and its last line."""

    def inside(node: ast.AST, name: str) -> Iterator[tuple[str, int, int]]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.ClassDef | ast.FunctionDef):
                inner = f"{name}.{child.name}" if name else child.name
                if isinstance(child, ast.FunctionDef):
                    yield f"{file}::{inner}", child.lineno, child.end_lineno or child.lineno
                yield from inside(child, inner)
            else:
                yield from inside(child, name)

    yield from inside(ast.parse((ROOT / file).read_text(encoding="utf-8")), "")


def reached(again: Sequence[str] = ()) -> tuple[Reached, dict[str, float]]:
    """For each function and each file the tests that run it, and the seconds of each test.

    By the record of an earlier run, in which the files `again` are run anew; without a record all are.
    """
    lines, seconds = json.loads(RECORD.read_text()) if RECORD.exists() else ({}, {})
    if again or not seconds:
        names = [f"tests/{path.name}" for path in sorted((ROOT / "tests").glob("test_*.py"))]
        left_out = [f"tests/test_{name}.py" for name in _LEFT_OUT.split()]
        more, took = _recorded(again or [name for name in names if name not in left_out])
        for place, tests in more.items():
            lines[place] = sorted({*lines.get(place, ()), *tests})
        seconds |= took
        RECORD.write_text(json.dumps((lines, seconds)))
    return lines, seconds


def _recorded(files: Sequence[str]) -> tuple[Reached, dict[str, float]]:
    from coverage import CoverageData

    lines: dict[str, set[str]] = defaultdict(set)
    with tempfile.TemporaryDirectory() as scratch:
        data, times = Path(scratch) / "data", Path(scratch) / "times.xml"
        command = [sys.executable, "-m", "pytest", "-q", "-n", str(WORKERS), f"--junit-xml={times}", *files]
        command += [*(f"--cov={folder}" for folder in ROOMS.values()), "--cov-context=test", "--cov-report="]
        subprocess.run(command, cwd=ROOT, env={**os.environ, "COVERAGE_FILE": str(data)}, check=False)
        kept = CoverageData(str(data))
        kept.read()
        for path in kept.measured_files():
            file, by_line = Path(path).relative_to(ROOT).as_posix(), kept.contexts_by_lineno(path)
            for place, first, last in [*places(file), (file, 1, max(by_line, default=0))]:
                for line in range(first, last + 1):
                    lines[place] |= {context.split("|")[0] for context in by_line.get(line, ()) if context}
        cases = re.findall(r'classname="([^"]+)" name="([^"]+)" time="([0-9.]+)"', times.read_text())
    seconds = {f"tests/{at.split('.')[-1]}.py::{html.unescape(test)}": float(took) for at, test, took in cases}
    return {place: sorted(tests) for place, tests in lines.items()}, seconds


def batches(fault: Fault, lines: Reached, seconds: dict[str, float]) -> Iterator[list[str]]:
    """The tests for a fault: the quickest of those that reach its function, the others, those that reach its file."""

    def in_order(tests: set[str]) -> list[str]:
        ordered = sorted(tests, key=lambda test: ("test_answers" not in test, seconds.get(test, 1.0), test))
        sums = accumulate(seconds.get(test, 1.0) for test in ordered)
        return [test for test, total in zip(ordered, sums, strict=True) if total <= SECONDS]

    around = [place for place, first, last in places(fault.file) if first <= fault.line <= last]
    closest = next((lines[place] for place in reversed(around) if place in lines), ())
    first = in_order(set(closest))
    # What a cache keeps, or an import, is run in the first test that comes by: so the others of the file come last.
    others = in_order(set(lines.get(fault.file, ())) - set(closest))
    return (batch for batch in (first[:FIRST], first[FIRST:], others) if batch)


# -- the tests in a process of their own


class _Loop:
    """A plugin of pytest: when all tests are collected, it does something else than to run them all."""

    def __init__(self, instead: Callable[[dict[str, Any]], None]) -> None:
        self.instead = instead

    def pytest_runtestloop(self, session: Any) -> bool:
        """pytest asks who runs the tests."""
        self.instead({item.nodeid: item for item in session.items})
        return True


def _with_tests(instead: Callable[[dict[str, Any]], None], *words: str) -> int:
    """Collects the tests and calls `instead` with them, by their names; pytest's exit code."""
    import pytest

    options = ["-qq", "-s", "--tb=native", "--assert=plain", *(f"-pno:{name}" for name in ("cacheprovider", "xdist"))]
    return int(pytest.main([*options, "-pno:pytest_cov", *words], plugins=[_Loop(instead)]))


def _first_failed(items: Iterable[Any]) -> str:
    """The name of the first test that fails; empty when all pass."""
    from _pytest.runner import runtestprotocol

    for item in items:
        if any(report.failed for report in runtestprotocol(item, log=False, nextitem=None)):
            return str(item.nodeid)
    return ""


_ITEMS: dict[str, Any] = {}  # every test, by its name, as pytest collected it


def failing(tests: tuple[str, ...], fault: Fault | None) -> str | None:
    """The first of these tests that fails with the fault planted, "all" where none can be named; None if all pass."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        try:
            resource.setrlimit(resource.RLIMIT_CPU, (HANGS, HANGS))
            signal.alarm(10 * HANGS)
            nowhere = os.open(os.devnull, os.O_RDWR)
            for stream in range(3):
                os.dup2(nowhere, stream)
            failed = list[str]()
            if fault is None or _plant(fault):
                failed.append(_first_failed(_ITEMS[test] for test in tests))
            else:
                _with_tests(lambda found: failed.append(_first_failed(found.values())), *tests)
            os.write(writing, (failed[0] or "passed" if failed else "all").encode())
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        words = pipe.read()
    os.waitpid(child, 0)
    return None if words == "passed" else words or "all"


def _plant(fault: Fault) -> bool:
    """Puts the fault into the functions that are there, and says so; or lets all be imported anew with it."""
    path = str(ROOT / fault.file)
    new = compile(fault.planted(), path, "exec")
    changed = _functions(compile((ROOT / fault.file).read_text(encoding="utf-8"), path, "exec"), new)
    ours = {
        name: file
        for name, module in sys.modules.items()
        if (file := getattr(module, "__file__", None) or "").startswith(str(ROOT)) and name != "__main__"
    }
    if changed is not None and path in ours.values():
        for thing in gc.get_objects():
            if isinstance(thing, FunctionType) and thing.__code__.co_filename == path:
                code = thing.__code__
                thing.__code__ = changed.get((code.co_qualname, code.co_firstlineno), code)
            elif isinstance(thing, type(_sound)):
                thing.cache_clear()
        return True
    usual = SourceFileLoader.get_code

    def get_code(self: SourceFileLoader, fullname: str) -> Any:
        return new if self.path == path else usual(self, fullname)

    SourceFileLoader.get_code = get_code  # type: ignore[method-assign]
    for name in ours:
        del sys.modules[name]
    return False


def _functions(old: CodeType, new: CodeType) -> dict[tuple[str, int], CodeType] | None:
    """The functions in two versions of a module's code that differ; None where the rest of the module does."""
    found: dict[tuple[str, int], CodeType] = {}
    pairs = [(old, new)]
    while pairs:
        one, other = pairs.pop()
        if one.co_flags & CO_OPTIMIZED:  # a function
            if one != other:
                found[other.co_qualname, other.co_firstlineno] = other
            continue
        bodies = [
            code.replace(co_consts=tuple(None if isinstance(c, CodeType) else c for c in code.co_consts))
            for code in (one, other)
        ]
        inner = [[c for c in code.co_consts if isinstance(c, CodeType)] for code in (one, other)]
        if bodies[0] != bodies[1] or len(inner[0]) != len(inner[1]):
            return None
        pairs += zip(*inner, strict=True)
    return found


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
    """Whether it is in the list: by file, line and operator, or by a `like` that is found in the line in any file."""
    return any(
        re.search(one["operator"], fault.operator)
        and (re.search(one["like"], fault.text) if "like" in one else one["line"] == fault.text)
        and fault.file.startswith(one.get("file", ""))
        for one in known
    )


_KNOWN: tuple[Reached, dict[str, float]] = ({}, {})


def _tried(fault: Fault) -> tuple[Fault, str | None]:
    return fault, noticed(fault, *_KNOWN)


def main() -> None:
    """Plants a sample in each room, and prints what was not noticed and the share that was."""
    import hypothesis

    words = [word for word in sys.argv[1:] if not word.startswith("-")]
    files, words = [w for w in words if w.startswith("tests/")], [w for w in words if not w.startswith("tests/")]
    rooms = {words[0]: ROOMS[words[0]]} if words else ROOMS
    each = int(words[1]) if len(words) > 1 else EACH
    seed = next((int(word.partition("=")[2]) for word in sys.argv if word.startswith("--seed=")), SEED)
    lines, seconds = reached(files)
    os.chdir(ROOT)
    sys.path[:0] = [str(ROOT), str(ROOT / "tests")]
    phases = hypothesis.Phase.explicit, hypothesis.Phase.generate  # no time is spent on making a failure small
    hypothesis.settings.register_profile("planted", max_examples=20, phases=phases, database=None)
    hypothesis.settings.load_profile("planted")

    def sample(items: dict[str, Any]) -> None:
        global _KNOWN
        _ITEMS.update(items)
        _KNOWN = {place: [test for test in tests if test in items] for place, tests in lines.items()}, seconds
        _sampled(rooms, each, seed)

    if _with_tests(sample, *sorted({test.partition("::")[0] for test in seconds})):
        raise SystemExit("pytest cannot collect the tests")


def _sampled(rooms: dict[str, str], each: int, seed: int) -> None:
    known = equivalent()
    total = missed = same = 0
    for room, folder in rooms.items():
        everything = list(faults(folder))
        sample = random.Random(f"{seed} {room}").sample(everything, min(each, len(everything)))
        started, survivors = time.perf_counter(), list[Fault]()
        with multiprocessing.get_context("fork").Pool(WORKERS) as pool:
            for fault, by in pool.imap_unordered(_tried, sample):
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
