"""Fuzzing, as a script beside the benchmark: `python tests/fuzz.py [PART [KIND ...]]`; no test. Prints counts.

300,000 strings through everything that reads words, 10,000 damaged TOML files, 10,000 damaged pictures, 5,000 whole
commands and 200 writes that are killed; PART is 1 for all, 0.1 for a tenth of each. Each gets an answer or a refusal
in one line, and nothing is lost. Every try is drawn from its own number, so that any of them can be run alone, and all
processors share the work. `test_fuzz.py` runs a short slice.
"""

from __future__ import annotations

import codecs
import io
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from types import FrameType
from typing import Any

from test_fuzz import READERS, WORDS, faults_of, strings

from layouts.errors import Refusal

Fault = tuple[str, str]
KEEP = 5  # faults of a kind that are shown
NOBODY = 65534
LONGEST_S = 30


def fuzz_strings(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Random strings, ten at a time, the readers in turn."""
    readers = list(READERS.values())
    for number in numbers:
        if number % 10 == 0:
            yield from faults_of(readers[number // 10 % len(readers)], strings(10, number))


def damaged(data: bytes, draw: random.Random) -> bytes:
    """The bytes with some of them changed, taken out, doubled or put in."""
    out = bytearray(data)
    for _ in range(draw.randint(1, 6)):
        at = draw.randrange(len(out) + 1)
        some = draw.randint(1, 12)
        kind = draw.randrange(5)
        if kind == 0:
            out[at : at + some] = b""
        elif kind == 1:
            out[at:at] = draw.randbytes(some)
        elif kind == 2:
            out[at:at] = draw.choice(WORDS).encode("utf-8", "surrogatepass")
        elif kind == 3:
            out[at:at] = out[at : at + 40 * some]
        else:
            del out[at:]
        out = out or bytearray(b"\n")
    return bytes(out)


OWNED = {  # the files of a bench folder
    "mandrels": '["rod 7"]\nmeasured = "6.02 mm"\nkind = "steel"\n',
    "spools": '[tin]\nwire = "18 AWG"\nmetal = "sterling"\nlength = "1.4 m"\n',
    "blades": '[2]\nkerf = "0.36 mm"\n',
    "drills": '["1.3 mm"]\ndiameter = "1.31 mm"\n',
    "instruments": '[loupe]\nscatter = "0.02 mm"\nbias = "0.01 mm"\n',
    "records": '[1]\nwire = "1.2 mm"\nmetal = "brass"\nmandrel = "4.9 mm"\ncut = "saw"\n'
    'ring_inside = ["5.1 mm", "5 mm"]\n',
}


def fuzz_toml(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Damaged files of every kind, through their readers."""
    from jigs.bench.reading import read_bench
    from jigs.bench.settings import units_kept
    from jigs.orders.dowel_list import read_dowels
    from jigs.orders.example import example
    from jigs.orders.own_weaves import read_weaves
    from jigs.orders.reading import read_order
    from layouts.files.folder import Folder
    from layouts.printing.printers import Printers

    row = '{ length = "150 mm", read = "149.6 mm" }'
    kinds: list[tuple[str, str, Callable[[Path], Any]]] = [
        ("order.toml", example(), read_order),
        ("weaves.toml", "[mine]\nlow = 3.3\nhigh = 4.0\n", read_weaves),
        ("dowels.toml", '[[dowel]]\ndiameter = "7.9 mm"\nwire = "1 mm"\nturns = 12\n', read_dowels),
        *((f"{name}.toml", text, lambda path: read_bench(path.parent)) for name, text in OWNED.items()),
        ("settings.toml", 'units = "inch"\n', lambda path: units_kept(path.parent)),
        (
            "printers.toml",
            f'[[printer]]\nname = "a"\ntray = "b"\nwith = "rule"\nacross = {row}\nalong = {row}\ndate = 2026-11-25\n',
            lambda path: Printers(folder=Folder(path=path.parent)).all(),
        ),
    ]
    for number in numbers:
        name, text, read = kinds[number % len(kinds)]
        path = folder / name
        path.write_bytes(damaged(text.encode(), random.Random(f"toml {number}")))
        yield from tried(lambda read=read, path=path: read(path), f"{number}: {path.read_bytes()!r}")  # type: ignore[misc]
        path.unlink()


def fuzz_pictures(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Damaged pictures of three formats, opened as a scan is."""
    from PIL import Image

    from layouts.scanning.picture import load

    base, kinds = Image.new("L", (120, 160), 200), []
    for form in ("PNG", "JPEG", "TIFF"):
        out = io.BytesIO()
        base.save(out, form, dpi=(300, 300))
        kinds.append((form.lower(), out.getvalue()))
    for number in numbers:
        form, data = kinds[number % len(kinds)]
        path = folder / f"scan.{form}"
        path.write_bytes(damaged(data, random.Random(f"picture {number}")))
        yield from tried(lambda path=path: load(path, dpi=300), f"{form} {number}")  # type: ignore[misc]


# --- whole commands

COMMANDS: tuple[tuple[str, ...], ...] = (
    ("wire", "16 AWG"),
    ("ring", "--wire", "1.2 mm", "--metal", "copper", "--mandrel", "5 mm", "--cut", "saw", "--blade", "2"),
    ("tables", "metals"),
    ("plan", "order.toml"),
    ("plan", "damaged.toml"),
    ("order", "new", "locked/new.toml"),
    ("bench", "add", "mandrel", "rod", "--measured", "6 mm"),
    ("bench", "units", "inch"),
    ("record", "add", "--wire", "1.2 mm", "--metal", "brass", "--mandrel", "4.9 mm", "--ring-inside", "5.1 mm"),
    ("record", "add", "--wire", "1.2 mm", "--mandrel", "5 mm", "--chain", "87.1 mm", "--chain-rings", "16"),
    ("record", "correct", "1", "--ring-inside", "5.05 mm"),
    ("record", "list"),
    ("record", "show", "1"),
    ("plan", "order.toml", "--units", "inch"),
    ("printer", "measure", "office", "--tray", "plain", "--across", "149.6 mm", "--along", "200.3 mm"),
    ("printer", "show", "office"),
    ("sheet", "ruler", "--length", "100 mm", "--format", "svg"),
    ("sheet", "ruler", "--length", "100 mm", "--out", "OUT"),
    ("sheet", "ring-card", "--wire", "1 mm", "--inside", "5 mm", "--format", "pdf,svg", "--out", "OUT"),
    ("pack", "order.toml", "--out", "OUT"),
)
MOSTLY = COMMANDS[:-1]  # a pack takes long, so that fewer are made
OUTS = (
    "mine.pdf",
    "fifo.pdf",
    "/dev/full",
    "link.pdf",
    "dangling.pdf",
    "locked/a.pdf",
    "sealed/a.pdf",
    "folder",
    "new/",
)
OURS = "mine.pdf", "order.toml", "damaged.toml", "aimed.pdf"  # what the user wrote


def _bench_of_faults(folder: Path) -> None:
    """What an output may meet: a file of the user's, a FIFO, links, a folder, one locked and one not to be written."""
    from jigs.orders.example import example

    (folder / "order.toml").write_text(example(), encoding="utf-8")
    (folder / "mine.pdf").write_text("not Coilwright's")
    (folder / "aimed.pdf").write_text("not Coilwright's either")
    (folder / "link.pdf").symlink_to("aimed.pdf")
    (folder / "dangling.pdf").symlink_to("nowhere/a.pdf")
    os.mkfifo(folder / "fifo.pdf")
    for name, mode in (("folder", 0o755), ("locked", 0o000), ("sealed", 0o555)):
        (folder / name).mkdir(mode=mode)
        (folder / name).chmod(mode)


def _words(number: int) -> list[str]:
    """A command with words changed, dropped, doubled or made up."""
    draw = random.Random(f"command {number}")
    words = [
        draw.choice(OUTS) if word == "OUT" else word for word in draw.choice(COMMANDS if number % 4 == 0 else MOSTLY)
    ]
    for _ in range(draw.randint(0, 3)):
        at = draw.randrange(len(words) + 1)
        new = [draw.choice([*strings(1, number), *words, *OUTS])] if draw.random() < 0.8 else []
        words[at : at + draw.randrange(2)] = new
    return words or ["wire"]


def fuzz_commands(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Whole commands in this process."""
    yield from _fuzz_commands(numbers, folder, _in_process)


def fuzz_processes(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Whole commands, each in a process of its own."""
    yield from _fuzz_commands((1_000_000 + number for number in numbers), folder, _as_process)


def _fuzz_commands(
    numbers: Iterable[int], folder: Path, run: Callable[[list[str]], tuple[int, str]]
) -> Iterator[Fault]:
    """Commands drawn by their numbers: nothing of the user's may change, no temporary file may stay."""
    _bench_of_faults(folder)
    text, here, kept = (folder / "order.toml").read_bytes(), Path.cwd(), (sys.argv, sys.stdin, os.environ.copy())
    os.environ["COILWRIGHT_BENCH"] = str(folder / "bench")
    os.chdir(folder)
    codes: Counter[int] = Counter()
    try:
        with open(os.devnull, encoding="utf-8") as sys.stdin:  # type: ignore[assignment]
            for number in numbers:
                words = _words(number)
                (folder / "damaged.toml").write_bytes(damaged(text, random.Random(f"order {number}")))
                before = {name: (folder / name).read_bytes() for name in OURS}
                try:
                    code, said = run(words)
                except Exception as error:  # noqa: BLE001 - whatever it is, it is what this looks for
                    where = traceback.extract_tb(error.__traceback__)[-1]
                    yield f"{number}: {words!r}", f"{error!r} in {where.filename}, line {where.lineno}"
                    continue
                codes[code] += 1
                last = said.rstrip("\n").rpartition("\n")[2]
                if code not in (0, 2) or "Traceback" in said or (code == 2 and not last.startswith("coilwright: ")):
                    yield f"{number}: {words!r}", f"exit code {code}: {said[-200:]}"
                changed = [name for name, data in before.items() if (folder / name).read_bytes() != data]
                if changed and "--overwrite" not in words:
                    yield f"{number}: {words!r}", f"{changed} changed"
                    return
    finally:
        os.chdir(here)
        sys.argv, sys.stdin, environ = kept
        os.environ.clear()
        os.environ.update(environ)
        for name in ("locked", "sealed"):
            (folder / name).chmod(0o755)
    stray = [path.name for path in folder.rglob("*") if path.name.endswith(".part")]
    if stray:
        yield "strays", repr(stray)
    if codes.total() > 30 and not (codes[0] and codes[2]):
        yield "all commands", f"exit codes {dict(codes)}"


def _in_process(words: list[str]) -> tuple[int, str]:
    """The exit code and what was said on the error stream."""
    from jigs.cli import _run

    def too_long(number: int, frame: FrameType | None) -> None:
        raise TimeoutError(f"over {LONGEST_S} s")

    sys.argv, said = ["coilwright", *words], io.StringIO()
    signal.signal(signal.SIGALRM, too_long)
    signal.alarm(LONGEST_S)
    try:
        with redirect_stdout(io.StringIO()), redirect_stderr(said):
            return _run(), said.getvalue()
    except SystemExit as end:
        return (end.code if isinstance(end.code, int) else 0), said.getvalue()
    finally:
        signal.alarm(0)


def _as_process(words: list[str]) -> tuple[int, str]:
    root = str(Path(__file__).parent.parent)
    ran = subprocess.run(
        [sys.executable, "-m", "jigs", *(word.replace("\0", "") for word in words)],
        capture_output=True,
        env=os.environ | {"PYTHONPATH": root},
        stdin=subprocess.DEVNULL,
        timeout=2 * LONGEST_S,
        check=False,
    )
    return ran.returncode, ran.stderr.decode(errors="replace")


# --- killed

KILLED = """
import sys
from pathlib import Path
from layouts.files.whole import write_whole
print(end="begun", flush=True)
while True:
    for size in (100, 300_000):
        write_whole(Path(sys.argv[1]), sys.argv[2].encode() * size)
"""


def fuzz_kills(numbers: Iterable[int], folder: Path) -> Iterator[Fault]:
    """Programs killed while they write: the file is whole each time, and the next write clears what was left."""
    from layouts.files.whole import write_whole

    path, root = folder / "kept", str(Path(__file__).parent.parent)
    write_whole(path, b"a" * 100)
    for number in numbers:
        draw = random.Random(f"kill {number}")
        command = [sys.executable, "-c", KILLED, str(path), draw.choice("ab")]
        with subprocess.Popen(command, stdout=subprocess.PIPE, env=os.environ | {"PYTHONPATH": root}) as running:
            assert running.stdout
            running.stdout.read(5)  # it has begun to write
            time.sleep(0.05 * draw.random())
            os.kill(running.pid, signal.SIGKILL)
        data = path.read_bytes()
        if len(data) not in (100, 300_000) or len(set(data)) != 1:
            yield f"kill {number}", f"{len(data)} bytes of {set(data)}"
    write_whole(path, b"a" * 100)
    yield from (("strays", stray.name) for stray in folder.iterdir() if stray != path)


def tried(act: Callable[[], Any], what: str) -> Iterator[Fault]:
    """A fault where neither an answer nor a refusal in one line comes out, or it takes over two seconds."""
    begun = time.process_time()  # of this program alone, as the machine may be busy
    try:
        act()
    except Refusal as refusal:
        if not str(refusal) or not str(refusal).isprintable():
            yield what, str(refusal)
    except Exception as error:  # noqa: BLE001 - whatever it is, it is what this looks for
        yield what, repr(error)
    if time.process_time() - begun > 2:
        yield what, "over two seconds"


# --- shared out

Fuzz = Callable[[Iterable[int], Path], Iterator[Fault]]
KINDS: dict[str, tuple[int, Fuzz]] = {
    "strings": (300_000, fuzz_strings),
    "toml": (10_000, fuzz_toml),
    "pictures": (10_000, fuzz_pictures),
    "commands": (4_900, fuzz_commands),
    "processes": (100, fuzz_processes),
    "kills": (200, fuzz_kills),
}


def shared(fuzz: Fuzz, count: int, workers: int) -> list[Fault]:
    """The faults of so many tries, shared out in rounds of ten among forked workers."""
    folders, pids = [Path(tempfile.mkdtemp(prefix="fuzz")) for _ in range(workers)], []
    for worker, folder in enumerate(folders):
        pid = os.fork()
        if pid:
            pids.append(pid)
            continue
        (folder / "work").mkdir()
        numbers = [number for number in range(count) if number // 10 % workers == worker]
        try:
            if fuzz is fuzz_commands and not os.geteuid():  # the permissions of folders hold for all but root
                import termios  # noqa: F401 - loaded by a bar, and by then it cannot be read any more
                import tty  # noqa: F401

                codecs.lookup("utf-16-be")  # so is the codec of words that a PDF has no letters for
                list(fuzz_commands(range(60), folder / "work"))  # loads the rest
                shutil.rmtree(folder / "work")
                (folder / "work").mkdir()
                for path in (folder, folder / "work"):
                    os.chown(path, NOBODY, NOBODY)
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            faults = list(fuzz(numbers, folder / "work"))
            (folder / "faults").write_text(json.dumps(faults), encoding="utf-8")
        finally:
            os._exit(0)
    for pid in pids:
        os.waitpid(pid, 0)
    found: list[Fault] = []
    for folder in folders:
        said = folder / "faults"
        found += (
            [(what, why) for what, why in json.loads(said.read_text())] if said.exists() else [("a worker", "died")]
        )
        shutil.rmtree(folder)
    return found


def main(words: list[str]) -> int:
    """Runs everything, and prints counts; the exit code says whether anything was found."""
    part, kinds, found = float(words[0]) if words else 1.0, words[1:] or list(KINDS), 0
    for kind in kinds:
        whole, fuzz = KINDS[kind]
        begun, count = time.perf_counter(), max(1, round(whole * part))
        faults = shared(fuzz, count, os.cpu_count() or 1)
        print(f"{kind}: {count} tried, {len(faults)} faults, {time.perf_counter() - begun:.0f} s", flush=True)
        for what, why in faults[:KEEP]:
            print(f"  {what[:300]}: {why[:300]}")
        found += len(faults)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
