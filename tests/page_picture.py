"""README's picture of the page, made anew: `python tests/page_picture.py`, where Chromium is installed. No test."""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from page_server import running
from playwright.sync_api import sync_playwright

sys.path.insert(0, str(Path(__file__).parent / "in_browser"))
from hands import fill, path_of_browser, post

PICTURE = Path(__file__).parent.parent / "out" / "page.png"
SIZE = {"width": 1180, "height": 886}
MANDRELS = (("oak dowel", "4.90 mm", "wood"), ("rod 5", "5.01 mm", "steel"), ("rod 6", "6.02 mm", "steel"))


def main() -> None:
    """A ring that is wanted, wound on what is in the drawer, its wire priced."""
    with TemporaryDirectory() as folder, running(Path(folder)) as server, sync_playwright() as driver:
        for name, size, kind in MANDRELS:
            post(server, "/drawer/mandrel", name=name, measured=size, kind=kind)
        browser = driver.chromium.launch(executable_path=path_of_browser(), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport=SIZE).new_page()
        page.goto(server.address)
        fill(page, "Price of the wire", "2.40 EUR per m")
        page.evaluate("document.activeElement.blur()")
        page.screenshot(path=PICTURE)
        browser.close()


if __name__ == "__main__":
    main()
