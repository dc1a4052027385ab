"""Closing the page from a browser, and what a window shows that is left open."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hands import serious_findings
from page_server import Running, running


@pytest.fixture
def server(tmp_path: Path) -> Iterator[Running]:
    """A page of its own for each test: it ends."""
    with running(tmp_path / "bench") as found:
        yield found


def test_it_closes_from_the_page(page: Any, server: Any):
    page.get_by_role("button", name="Close").click()
    page.get_by_text("Coilwright is closed").wait_for()
    assert serious_findings(page) == []
    assert server.process.wait(10) == 0


def test_a_page_that_was_closed_says_so_and_keeps_what_was_typed(page: Any, server: Any):
    server.process.terminate()
    server.process.wait(10)
    page.get_by_label("Size", exact=True).fill("6 mm")
    page.get_by_text("does not answer").wait_for()
    assert page.get_by_label("Size", exact=True).input_value() == "6 mm"
