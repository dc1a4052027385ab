"""Fuzzing, as a script beside the benchmark: `python tests/fuzz.py [PART]`; no test. Prints counts; PART is 1 for all.

300,000 strings through everything that reads words, 10,000 damaged TOML files, 10,000 damaged pictures, 5,000 whole
commands and 200 writes that are killed. Each gets an answer or a refusal in one line, and nothing is lost.
`test_fuzz.py` runs a short slice of the strings.
"""

from __future__ import annotations

import io
import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

from test_fuzz import READERS, WORDS, faults_of, strings

from layouts.errors import Refusal

Fault = tuple[str, str]
KEEP = 5  # faults of a kind that are shown


def fuzz_strings(count: int) -> tuple[int, list[Fault]]:
    """Random strings, shared out among the readers."""
    texts = strings(count)
    share = max(1, count // len(READERS))
    shared = ((read, texts[i * share :][:share]) for i, read in enumerate(READERS.values()))
    return count, [fault for read, some in shared for fault in faults_of(read, some)]


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


def fuzz_toml(count: int, folder: Path) -> tuple[int, list[Fault]]:
    """Damaged files of every kind, through their readers."""
    from jigs.bench.reading import read_bench
    from jigs.orders.dowel_list import read_dowels
    from jigs.orders.example import example
    from jigs.orders.reading import read_order, read_weaves
    from layouts.files.folder import Folder
    from layouts.printing.printers import Printers

    row = '{ length = "150 mm", read = "149.6 mm" }'
    kinds: list[tuple[str, str, Callable[[Path], Any]]] = [
        ("order.toml", example(), read_order),
        ("weaves.toml", "[mine]\nlow = 3.3\nhigh = 4.0\n", read_weaves),
        ("dowels.toml", '[[dowel]]\ndiameter = "7.9 mm"\nwire = "1 mm"\nturns = 12\n', read_dowels),
        ("mandrels.toml", '["rod 7"]\nmeasured = "6.02 mm"\nkind = "steel"\n', lambda path: read_bench(path.parent)),
        (
            "printers.toml",
            f'[[printer]]\nname = "a"\ntray = "b"\nwith = "rule"\nacross = {row}\nalong = {row}\ndate = 2026-11-25\n',
            lambda path: Printers(folder=Folder(path=path.parent)).all(),
        ),
    ]
    draw, faults = random.Random(8), list[Fault]()
    for number in range(count):
        name, text, read = kinds[number % len(kinds)]
        path = folder / name
        path.write_bytes(damaged(text.encode(), draw))
        faults += tried(lambda read=read, path=path: read(path), repr(path.read_bytes()))  # type: ignore[misc]
        path.unlink()
    return count, faults


def fuzz_pictures(count: int, folder: Path) -> tuple[int, list[Fault]]:
    """Damaged pictures of three formats, opened as a scan is."""
    from PIL import Image

    from layouts.scanning.picture import load

    draw, faults, base = random.Random(9), list[Fault](), Image.new("L", (120, 160), 200)
    kinds = []
    for form in ("PNG", "JPEG", "TIFF"):
        out = io.BytesIO()
        base.save(out, form, dpi=(300, 300))
        kinds.append((form.lower(), out.getvalue()))
    for number in range(count):
        form, data = kinds[number % len(kinds)]
        path = folder / f"scan.{form}"
        path.write_bytes(damaged(data, draw))
        faults += tried(lambda path=path: load(path, dpi=300), f"{form} {number}")  # type: ignore[misc]
    return count, faults


COMMANDS: tuple[tuple[str, ...], ...] = (
    ("wire", "16 AWG"),
    ("ring", "--wire", "1.2 mm", "--metal", "copper", "--mandrel", "5 mm", "--cut", "saw", "--blade", "2"),
    ("tables", "metals"),
    ("plan", "order.toml"),
    ("bench", "add", "mandrel", "rod", "--measured", "6 mm"),
    ("printer", "measure", "office", "--tray", "plain", "--across", "149.6 mm", "--along", "200.3 mm"),
    ("printer", "show", "office"),
    ("sheet", "ruler", "--length", "100 mm", "--format", "svg"),
)


def fuzz_commands(count: int, folder: Path) -> tuple[int, list[Fault]]:
    """Whole commands with words changed, dropped, doubled or made up, in this process."""
    from jigs.cli import _run
    from jigs.orders.example import example

    (folder / "order.toml").write_text(example(), encoding="utf-8")
    os.environ["COILWRIGHT_BENCH"], here = str(folder / "bench"), Path.cwd()
    os.chdir(folder)
    draw, faults, codes, argv = random.Random(10), list[Fault](), Counter[int](), sys.argv
    made_up = strings(count)
    try:
        for number in range(count):
            words = list(draw.choice(COMMANDS))
            for _ in range(draw.randint(0, 3)):
                at = draw.randrange(len(words) + 1)
                new = [draw.choice([made_up[number], *words])] if draw.random() < 0.8 else []
                words[at : at + draw.randrange(2)] = new
                words = words or ["wire"]
            sys.argv = ["coilwright", *words]
            said = io.StringIO()
            try:
                with redirect_stdout(io.StringIO()), redirect_stderr(said):
                    code = _run()
            except SystemExit as end:
                code = end.code if isinstance(end.code, int) else 0
            except BaseException as error:  # noqa: BLE001 - whatever it is, it is what this looks for
                faults.append((repr(words), repr(error)))
                continue
            codes[code] += 1
            if code not in (0, 2):
                faults.append((repr(words), f"exit code {code}"))
    finally:
        sys.argv = argv
        os.chdir(here)
    print(f"  exit codes: {dict(codes)}")
    return count, faults


KILLED = """
import sys
from pathlib import Path
from layouts.files.whole import write_whole
while True:
    for size in (100, 300_000):
        write_whole(Path(sys.argv[1]), sys.argv[2].encode() * size)
"""


def fuzz_kills(count: int, folder: Path) -> tuple[int, list[Fault]]:
    """Programs killed while they write: the file is whole each time, and the next write clears what was left."""
    from layouts.files.whole import write_whole

    draw, faults, path = random.Random(11), list[Fault](), folder / "kept"
    write_whole(path, b"a" * 100)
    for number in range(count):
        letter = "ab"[number % 2]
        running = subprocess.Popen([sys.executable, "-c", KILLED, str(path), letter])
        time.sleep(0.12 + 0.2 * draw.random())
        os.kill(running.pid, signal.SIGKILL)
        running.wait()
        data = path.read_bytes()
        if len(data) not in (100, 300_000) or len(set(data)) != 1:
            faults.append((f"kill {number}", f"{len(data)} bytes of {set(data)}"))
    write_whole(path, b"a" * 100)
    faults += [("strays", stray.name) for stray in folder.iterdir() if stray != path]
    return count, faults


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


def main(part: float) -> int:
    """Runs everything, and prints counts; the exit code says whether anything was found."""
    found = 0
    whole: tuple[tuple[str, int, Callable[[int, Path], tuple[int, list[Fault]]]], ...] = (
        ("strings", 300_000, lambda count, folder: fuzz_strings(count)),
        ("TOML files", 10_000, fuzz_toml),
        ("pictures", 10_000, fuzz_pictures),
        ("commands", 5_000, fuzz_commands),
        ("kills", 200, fuzz_kills),
    )
    for name, count, run in whole:
        begun = time.perf_counter()
        with tempfile.TemporaryDirectory() as folder:
            tried_count, faults = run(max(1, round(count * part)), Path(folder))
        print(f"{name}: {tried_count} tried, {len(faults)} faults, {time.perf_counter() - begun:.0f} s", flush=True)
        for what, why in faults[:KEEP]:
            print(f"  {what[:300]}: {why[:300]}")
        found += len(faults)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(float(sys.argv[1]) if len(sys.argv) > 1 else 1.0))
