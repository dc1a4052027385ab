"""Would a wrong figure be noticed? Faults planted in the rooms that make and print figures, and the tests run on each.

    python tests/mutation.py                 # a seeded sample of every room; about half an hour on two cores
    python tests/mutation.py making 200      # one room, so many faults
    python tests/mutation.py --again         # the sample once more, with the record of which test reaches which line

cosmic-ray plants the faults (another operator, another number, a comparison turned); coverage says which tests reach
the line (pip install cosmic-ray pytest-cov). A fault that no test notices is printed with its line. Those that change
nothing a user could see stand in equivalent.toml, each with its reason. Not part of the suite: it takes long, and it
asks another question.
"""

from __future__ import annotations

import json
import random
import re
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from collections import defaultdict
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from queue import Queue

ROOT = Path(__file__).parent.parent
ROOMS = {
    "making": "jigs/making",
    "planning": "jigs/planning",
    "reports": "jigs/reports",
    "packing": "jigs/packing",
    "printing": "layouts/printing",
}
SEED, EACH = 20261125, 80
MOST_TESTS = 150  # run for one fault, the quickest first
SECONDS = 90  # a fault that makes the tests hang counts as noticed
WORKERS = 2
_OPERATORS = re.compile(
    r"core/(ReplaceBinaryOperator_(Add_Sub|Sub_Add|Mul_Div|Div_Mul|FloorDiv_Mul|Mod_Mul|Pow_Mul)"
    r"|ReplaceComparisonOperator_(Lt_LtE|LtE_Lt|Gt_GtE|GtE_Gt|Lt_GtE|Gt_LtE|LtE_Gt|GtE_Lt|Eq_NotEq|NotEq_Eq)"
    r"|ReplaceUnaryOperator_USub_UAdd|AddNot|ReplaceAndWithOr|ReplaceOrWithAnd|NumberReplacer)"
)
RECORD = Path(tempfile.gettempdir()) / "coilwright-reached.json"


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """A fault to plant: the file, which operator, which of its places, and the line."""

    file: str
    operator: str
    occurrence: int
    line: int

    def planted(self, code: str) -> str | None:
        """The file's text with the fault; None where the operator leaves it as it was."""
        from cosmic_ray.mutating import mutate_code
        from cosmic_ray.plugins import get_operator

        changed: str | None = mutate_code(code, get_operator(self.operator)(), self.occurrence)
        return None if changed == code else changed


def equivalent() -> list[dict[str, str]]:
    """Faults that change nothing that can be seen, each with its reason."""
    found: list[dict[str, str]] = tomllib.loads((ROOT / "tests" / "equivalent.toml").read_text("utf-8")).get(
        "fault", []
    )
    return found


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


def reached() -> dict[str, dict[str, list[str]]]:
    """For each file and line, the tests that run it, the quickest first; "0" has those that reach the file at all."""
    if "--again" in sys.argv and RECORD.exists():
        found: dict[str, dict[str, list[str]]] = json.loads(RECORD.read_text())
        return found
    from coverage import CoverageData

    with tempfile.TemporaryDirectory() as scratch:
        data, times = Path(scratch) / "data", Path(scratch) / "times.xml"
        command = [
            sys.executable,
            "-m",
            "pytest",
            "-q",
            "-n",
            str(WORKERS),
            f"--junit-xml={times}",
        ]
        command += [f"--cov={name}" for name in ("jigs", "layouts")] + ["--cov-context=test", "--cov-report="]
        subprocess.run(command, cwd=ROOT, env=_surroundings(ROOT) | {"COVERAGE_FILE": str(data)}, check=True)
        cases = re.findall(r'classname="([^"]+)" name="([^"]+)" time="([0-9.]+)"', times.read_text())
        seconds = {f"tests/{name.split('.')[-1]}.py::{test}": float(took) for name, test, took in cases}
        kept = CoverageData(str(data))
        kept.read()
        lines: dict[str, dict[str, list[str]]] = {}
        for file in kept.measured_files():
            by_line: dict[str, set[str]] = defaultdict(set)
            for line, contexts in kept.contexts_by_lineno(file).items():
                tests = {context.split("|")[0] for context in contexts if context}
                by_line[str(line)] |= tests
                by_line["0"] |= tests
            relative = Path(file).relative_to(ROOT).as_posix()
            lines[relative] = {
                line: sorted(tests, key=lambda test: (seconds.get(test, 1.0), test))[:MOST_TESTS]
                for line, tests in by_line.items()
            }
    RECORD.write_text(json.dumps(lines))
    return lines


def _surroundings(root: Path) -> dict[str, str]:
    import os

    return {**os.environ, "PYTHONPATH": str(root), "PYTHONDONTWRITEBYTECODE": "1", "HYPOTHESIS_MAX_EXAMPLES": "20"}


def noticed(fault: Fault, root: Path, tests: list[str]) -> bool:
    """Whether a test fails with the fault planted in the copy of the project at `root`."""
    path = root / fault.file
    code = path.read_text(encoding="utf-8")
    changed = fault.planted(code)
    if changed is None:
        return True
    path.write_text(changed, encoding="utf-8")
    try:
        command = [sys.executable, "-m", "pytest", "-x", "-q", "-p", "no:cacheprovider", "-n", "0", *tests]
        done = subprocess.run(
            command, cwd=root, env=_surroundings(root), capture_output=True, timeout=SECONDS, check=False
        )
        return done.returncode in (1, 2, 3)  # failed, or could not even be collected
    except subprocess.TimeoutExpired:
        return True
    finally:
        path.write_text(code, encoding="utf-8")


def main() -> None:
    """Plants a sample in each room, and prints what was not noticed and the share that was."""
    words = [word for word in sys.argv[1:] if not word.startswith("-")]
    rooms = {words[0]: ROOMS[words[0]]} if words else ROOMS
    each = int(words[1]) if len(words) > 1 else EACH
    lines, known = reached(), equivalent()
    copies: Queue[Path] = Queue()
    with tempfile.TemporaryDirectory() as scratch:
        for number in range(WORKERS):
            copy = Path(scratch) / str(number)
            shutil.copytree(ROOT, copy, ignore=shutil.ignore_patterns(".venv*", ".git", ".*_cache", "__pycache__"))
            copies.put(copy)

        def tried(fault: Fault) -> bool:
            found = lines.get(fault.file, {})
            tests = found.get(str(fault.line)) or found.get("0", [])
            if not tests:
                return False
            copy = copies.get()
            try:
                return noticed(fault, copy, tests)
            finally:
                copies.put(copy)

        total = missed = same = 0
        for room, folder in rooms.items():
            everything = list(faults(folder))
            sample = random.Random(f"{SEED} {room}").sample(everything, min(each, len(everything)))
            started = time.perf_counter()
            with ThreadPoolExecutor(WORKERS) as pool:
                results = list(pool.map(tried, sample))
            survivors = [fault for fault, was_noticed in zip(sample, results, strict=True) if not was_noticed]
            excused = [fault for fault in survivors if _is_equivalent(fault, known)]
            for fault in survivors:
                mark = "equivalent" if fault in excused else "NOT NOTICED"
                print(f"{mark}: {fault.file}:{fault.line} {fault.operator}#{fault.occurrence}  {_text(fault)}")
            total, missed, same = total + len(sample), missed + len(survivors) - len(excused), same + len(excused)
            took = time.perf_counter() - started
            print(f"{room}: {len(sample)} of {len(everything)} planted, {len(survivors)} not noticed in {took:.0f} s")
        real = total - same
        print(f"{total} faults, {same} equivalent ({same / total:.1%}), {1 - missed / real:.1%} of the others noticed")


def _text(fault: Fault) -> str:
    return (ROOT / fault.file).read_text(encoding="utf-8").splitlines()[fault.line - 1].strip()


def _is_equivalent(fault: Fault, known: list[dict[str, str]]) -> bool:
    return any(
        one["file"] == fault.file and one["line"] == _text(fault) and one["operator"] in fault.operator for one in known
    )


if __name__ == "__main__":
    main()
