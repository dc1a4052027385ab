"""The page in a real browser: the Chromium of the system, driven by playwright; the page as a person starts it.

Where no browser is found the tests say so and are skipped; under CI that is a failure.
"""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent.parent))  # page_server is shared with the tests of the server
from page_server import Running, running

NAMES = ("chromium", "chromium-browser", "google-chrome")
EXPECTED = "ERR_CONNECTION_REFUSED", "status of 422"  # what it logs of a page that was closed, and of a refusal
WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 360, "height": 740}


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """One browser for all tests."""
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        missing = f"no browser is installed here: none of {', '.join(NAMES)}"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        found = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield found
        found.close()


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A page for the tests of a file, with a bench that is empty at first."""
    with running(tmp_path_factory.mktemp("page") / "bench") as found:
        yield found


@pytest.fixture
def page(browser: Any, server: Running, request: pytest.FixtureRequest) -> Iterator[Any]:
    """A window on the page, at its first view. What it logs as a fault, or asks of elsewhere, fails the test."""
    looks = getattr(request, "param", {})
    window = browser.new_context(**{"viewport": WIDE, "accept_downloads": True} | looks)
    shown = window.new_page()
    faults: list[str] = []
    shown.on("pageerror", lambda error: faults.append(str(error)))
    shown.on("console", lambda said: faults.extend([said.text] if _is_fault(said) else []))
    shown.on("request", lambda asked: faults.append(asked.url) if not asked.url.startswith(_ours(server)) else None)
    shown.goto(server.address)
    shown.set_default_timeout(10_000)
    yield shown
    window.close()
    assert faults == []


def _is_fault(said: Any) -> bool:
    return bool(said.type == "error" and not any(words in said.text for words in EXPECTED))


def _ours(server: Running) -> tuple[str, ...]:
    return f"http://{server.host}/", "blob:", "about:", "chrome"


SERIOUS = ("serious", "critical")


def serious_findings(page: Any) -> list[str]:
    """What axe-core finds that keeps somebody from using the page, each with the element."""
    from axe_playwright_python.sync_playwright import Axe

    found = Axe().run(page).response["violations"]
    return [f"{one['id']}: {one['nodes'][0]['html'][:160]}" for one in found if one["impact"] in SERIOUS]
