"""What a person's hands and eyes do on the page: go somewhere, fill in, choose, wait, read; and an eye for barriers."""

from __future__ import annotations

import os
import shutil
from typing import Any
from urllib.parse import urlencode

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from page_server import Running

NAMES = ("chromium", "chromium-browser", "google-chrome")
WIDE, NARROW = {"width": 1280, "height": 900}, {"width": 360, "height": 740}
SERIOUS = ("serious", "critical")
_BY_LOOKS = ["color-contrast", "link-in-text-block", "scrollable-region-focusable", "target-size"]
# never more than moderate, by axe-core's own word, and half of its time
_LESSER = (
    *("aria-allowed-role", "empty-heading", "empty-table-header", "focus-order-semantics", "heading-order"),
    *("hidden-content", "image-redundant-alt", "landmark-banner-is-top-level", "landmark-contentinfo-is-top-level"),
    *("landmark-main-is-top-level", "landmark-no-duplicate-banner", "landmark-no-duplicate-contentinfo"),
    *("landmark-no-duplicate-main", "landmark-one-main", "landmark-unique", "page-has-heading-one"),
    *("presentation-role-conflict", "region", "skip-link", "table-duplicate-name"),
)
_WHOLE = {"rules": {name: {"enabled": False} for name in _LESSER}}
# the small pictures of sheets are not read aloud; each is looked at where it is large
_FIND = """async (rules) => (await axe.run({ exclude: ["[aria-hidden=true] > svg"] },
    { resultTypes: ["violations"], preload: false, ...rules })).violations
    .map((one) => [one.impact, `${one.id}: ${one.nodes[0].html.slice(0, 160)}`])"""
# axe-core reads the few colours of a page anew at each element, which is a quarter of its time
_COLORS_READ_ONCE = """{
  const known = new Map(), color = axe.commons.color.Color.prototype, read = color.parseString;
  color.parseString = function (words) {
    const parts = known.get(words);
    if (parts) return Object.assign(this, parts);
    read.call(this, words);
    const { r, g, b, alpha } = this;
    known.set(words, { r, g, b, alpha });
    return this;
  };
}"""
EYE = f"{AXE_SCRIPT}{_COLORS_READ_ONCE}null;"


def path_of_browser() -> str:
    """Of the browser of this machine; without one the test is skipped, and fails under CI."""
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        missing = f"no browser is installed here: none of {', '.join(NAMES)}"
        if os.environ.get("CI"):
            pytest.fail(missing)
        pytest.skip(missing)
    return path


def go(page: Any, server: Running, path: str) -> None:
    """To an address of the page; its script has run then."""
    page.goto(f"http://{server.host}{path}", wait_until="domcontentloaded")


def settled(page: Any) -> None:
    """Waits until the answer to what was typed last is shown."""
    page.locator("body[data-settled]").wait_for()


def fill(page: Any, label: str, words: str) -> None:
    """Types into a box and waits for the answer."""
    page.get_by_label(label, exact=True).fill(words)
    settled(page)


def choose(page: Any, label: str, words: str) -> None:
    """Chooses from a list and waits for the answer."""
    page.get_by_label(label, exact=True).select_option(words)
    settled(page)


def line(page: Any) -> dict[str, str]:
    """The ledger in a line."""
    pairs = page.locator("#line dl > div")
    return dict(pair.split("\n") for pair in pairs.all_inner_texts())


def post(server: Running, path: str, **given: str) -> str:
    """Fills in and sends a form without a browser; the address that it leads to."""
    reply = server.ask(path, method="POST", body=urlencode(given).encode())
    assert reply.status == 303, reply.text
    return reply.headers["location"]


def resize(page: Any, size: dict[str, int], color: str = "light") -> None:
    """Makes the window so large, in that light, for the page that comes next."""
    page.set_viewport_size(size)
    page.emulate_media(color_scheme=color)


def look(page: Any, size: dict[str, int], color: str = "light") -> None:
    """Makes the window so large, in that light; what the page does about it is done then."""
    resize(page, size, color)
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")


def serious_findings(page: Any, *, by_looks: bool = False) -> list[str]:
    """What axe-core finds that keeps somebody from using the page, each with the element.

    by_looks: by the rules alone whose outcome hangs on the size of the window or the light.
    """
    if not page.evaluate("'axe' in window"):
        page.evaluate(EYE)
    found = page.evaluate(_FIND, {"runOnly": _BY_LOOKS} if by_looks else _WHOLE)
    return [words for impact, words in found if impact in SERIOUS]
