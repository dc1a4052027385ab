"""The page in a real browser: the Chromium of the system, driven by playwright; the page as a person starts it.

Where no browser is found the tests say so and are skipped; under CI that is a failure. One browser, one window and one
page serve all tests of a process: between tests the bench is emptied, and what the window keeps is forgotten.
"""

from __future__ import annotations

import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent))  # page_server is shared with the tests of the server
from hands import WIDE, go, path_of_browser, resize
from page_server import Running, running

_LEFT_OUT = (
    "RenderDocument",  # a frame serves one page after the other, instead of one alone
    *("WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup"),  # pages of the browser's own, never seen
    # and what playwright leaves out: its list is not read when there is one of ours
    *("AvoidUnnecessaryBeforeUnloadCheckSync", "DestroyProfileOnBrowserClose", "HttpsUpgrades", "PaintHolding"),
    *("HttpsFirstBalancedModeAutoEnable", "MediaRouter", "ThirdPartyStoragePartitioning", "OptimizationHints"),
    *("NetworkTimeServiceQuerying", "PreconnectToSearch", "AimEnabled"),
)
FLAGS = (
    *("--no-sandbox", "--disable-gpu", f"--disable-features={','.join(_LEFT_OUT)}"),
    "--js-flags=--no-maglev --no-turbofan",  # to compile scripts for speed never pays: a page is there for a second
)
_LONGEST = ("test_for_everybody", "test_keyboard", "test_printers", "test_bench", "test_orders")
EXPECTED = "ERR_CONNECTION_REFUSED", "status of 404", "status of 422"  # of a page that was closed, and of refusals


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """One browser for all tests."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path_of_browser(), args=FLAGS)
        yield found
        found.close()


@pytest.fixture(scope="session")
def window(browser: Any) -> Any:
    """One window for all tests, with nothing in it yet."""
    shown = browser.new_context(viewport=WIDE).new_page()
    shown.set_default_timeout(10_000)
    return shown


@pytest.fixture(scope="session")
def started(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A page for all tests."""
    with running(tmp_path_factory.mktemp("page") / "bench") as found:
        yield found


@pytest.fixture
def server(started: Running) -> Running:
    """A page whose bench is empty."""
    for path in started.bench.iterdir():
        if path.is_dir():
            shutil.rmtree(path)
        elif not path.name.startswith(".page"):
            path.unlink()
    return started


@pytest.fixture
def page(request: pytest.FixtureRequest, window: Any, server: Running) -> Iterator[Any]:
    """The window at the first view, or wherever the test leads it with `at`.

    What it logs as a fault, or asks of elsewhere, fails the test.
    """
    resize(window, WIDE)
    faults: list[str] = []
    watched = {
        "pageerror": lambda error: faults.append(str(error)),
        "console": lambda said: faults.extend([said.text] if _is_fault(said) else []),
        "request": lambda asked: faults.append(asked.url) if not asked.url.startswith(_ours(server)) else None,
    }
    for what, seen in watched.items():
        window.on(what, seen)
    if "at" in request.fixturenames:  # it is let in, as the first address would
        name, _, value = server.cookie.partition("=")
        window.context.add_cookies([{"name": name, "value": value, "url": f"http://{server.host}"}])
    else:
        window.goto(server.address, wait_until="domcontentloaded")
    yield window
    window.evaluate("localStorage.clear()")
    for what, seen in watched.items():
        window.remove_listener(what, seen)
    assert faults == []


@pytest.fixture
def at(page: Any, server: Running) -> Any:
    """A function that leads the window to an address of the page."""
    return lambda path: go(page, server, path)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest tests first, so that the workers end together."""
    items.sort(key=lambda item: item.path.stem not in _LONGEST)


def _is_fault(said: Any) -> bool:
    return bool(said.type == "error" and not any(words in said.text for words in EXPECTED))


def _ours(server: Running) -> tuple[str, ...]:
    return f"http://{server.host}/", "blob:", "about:", "chrome"
