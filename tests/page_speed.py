"""How fast the page is: its start beside a bare application's, the ledger, and a sheet from keystroke to picture.

Run by hand, on a quiet machine: python tests/page_speed.py. It is no test: times depend on the machine, so a start is
given as a ratio too: in a bench folder where the page was started before, in a new one, and the first of all after an
install, when no page and no template is kept yet. A keystroke counts from the event until the frame after the new page
was swapped in.
"""

from __future__ import annotations

import http.client
import os
import random
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median
from urllib.parse import urlencode

sys.path.insert(0, str(Path(__file__).parent))
from page_server import PACKAGES, Running, running

os.environ.pop("PYTHONDONTWRITEBYTECODE", None)  # what is kept of the program is measured, whatever the shell says
STARTS, LEDGERS, KEYSTROKES = 9, 400, 120
BARE = """
import socket, sys
from starlette.applications import Starlette
from starlette.responses import HTMLResponse
from starlette.routing import Route
import uvicorn
page = open(sys.argv[2], encoding="utf-8").read()
app = Starlette(routes=[Route("/", lambda request: HTMLResponse(page))])
uvicorn.run(app, host="127.0.0.1", port=int(sys.argv[1]), log_level="critical")
"""
WATCH = """
(value) => new Promise((done) => {
  const box = document.getElementById("inside");
  const pages = document.getElementById("pages");
  const started = performance.now();
  const seen = new MutationObserver(() => {
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.now() - started), 0));
  });
  seen.observe(pages, { childList: true });
  box.value = value;
  box.dispatchEvent(new Event("input", { bubbles: true }));
})
"""


def percentile(times: list[float], part: int) -> float:
    """So many in a hundred are no longer."""
    return sorted(times)[min(len(times) - 1, round(len(times) * part / 100))]


def say(what: str, times: list[float]) -> None:
    """In ms: the middle, and what 95 of 100 keep to."""
    print(f"{what}: p50 {1000 * median(times):.1f} ms, p95 {1000 * percentile(times, 95):.1f} ms, {len(times)} times")


def free_port() -> int:
    """One that nobody uses now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def until_answered(port: int, cookie: Callable[[], str]) -> None:
    """Asks until the first page has come."""
    while True:
        asked = http.client.HTTPConnection("127.0.0.1", port, timeout=5)
        try:
            asked.request("GET", "/", headers={"Host": f"127.0.0.1:{port}", "Cookie": cookie()})
            if asked.getresponse().read():
                return
        except OSError:
            time.sleep(0.002)
        finally:
            asked.close()


def processor_s(process: int) -> float:
    """Seconds of processor that a process has had so far, in all its threads; 0 where only Linux would say."""
    states = Path(f"/proc/{process}/task").glob("*/schedstat")
    return sum(int(state.read_text().split()[0]) for state in states) / 1e9


def start_of_ours(bench: Path) -> tuple[float, float]:
    """From the command to the first page, in seconds: by the clock, and of processor."""
    started = time.perf_counter()
    with running(bench, "--port", str(free_port())) as page:
        until_answered(page.port, lambda: page.cookie)
        return time.perf_counter() - started, processor_s(page.process.pid)


def forget() -> None:
    """What the program keeps of itself, but for what Python does: that is compiled as it is installed."""
    page = PACKAGES / "jigs" / "page"
    (page / "__pycache__" / "first.page").unlink(missing_ok=True)
    shutil.rmtree(page / "templates" / "__pycache__", ignore_errors=True)


def start_of_bare(page: Path) -> tuple[float, float]:
    """The same of an application that does nothing but send the same page."""
    port = free_port()
    started = time.perf_counter()
    process = subprocess.Popen([sys.executable, "-c", BARE, str(port), str(page)], cwd=PACKAGES)
    try:
        until_answered(port, str)
        return time.perf_counter() - started, processor_s(process.pid)
    finally:
        process.kill()
        process.wait()


def ledgers(page: Running) -> list[float]:
    """Answers to what changes at each keystroke, over one line."""
    asked = http.client.HTTPConnection("127.0.0.1", page.port)
    headers = {"Host": page.host, "Cookie": page.cookie, "X-Part": "1"}
    pick, times = random.Random(1), []
    for _ in range(LEDGERS):
        given = {"wire": f"{pick.uniform(0.6, 2):.2f} mm", "size": f"{pick.uniform(3, 12):.2f} mm", "metal": "copper"}
        words = urlencode(given | {"temper": "soft", "cut": "saw", "rings": str(pick.randint(1, 900))})
        started = time.perf_counter()
        asked.request("GET", f"/?{words}", headers=headers)
        asked.getresponse().read()
        times.append(time.perf_counter() - started)
    return times[20:]  # the first of each kind loads its tables


def keystrokes(page: Running) -> list[float]:
    """In Chromium: a ring card of seven rings, one size of it typed anew."""
    from playwright.sync_api import sync_playwright

    path = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        window = browser.new_page(viewport={"width": 1280, "height": 900})
        window.goto(page.address)
        window.goto(f"http://{page.host}/sheets/ring-card?{urlencode({'wire': '1.2 mm', 'inside': '3 mm'})}")
        times = []
        for number in range(KEYSTROKES):
            low = 3 + number % 10 / 10
            lines = "\n".join(f"{low + step / 2:.1f} mm" for step in range(7))
            times.append(window.evaluate(WATCH, lines) / 1000)
        browser.close()
    return times[10:]


def main() -> None:
    """Prints every figure."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        with running(folder / "bench") as page:
            (folder / "page.html").write_text(page.ask("/").text, encoding="utf-8")
            say("ledger, asked and answered", ledgers(page))
            say("keystroke to a drawn card of 7 rings", keystrokes(page))
        starts: dict[str, list[tuple[float, float]]] = {}
        for number in range(STARTS):  # in turns, so that what else the machine does falls on all
            forget()
            starts.setdefault("first of all", []).append(start_of_ours(folder / f"first-{number}"))
            starts.setdefault("where it was started before", []).append(start_of_ours(folder / "bench"))
            starts.setdefault("in a new bench folder", []).append(start_of_ours(folder / f"new-{number}"))
            starts.setdefault("of bare starlette", []).append(start_of_bare(folder / "page.html"))
        for way, what in enumerate(("by the clock", "of processor")):
            least = median(times[way] for times in starts["of bare starlette"])
            for name, times in starts.items():
                say(f"start to first page, {name}, {what}", [each[way] for each in times])
                if least:
                    print(f"  to the bare one: {median(each[way] for each in times) / least:.2f}")


if __name__ == "__main__":
    main()
