"""An accessibility check of every view with axe-core, in light and dark: no serious finding."""

from __future__ import annotations

from typing import Any

import pytest
from conftest import serious_findings
from page_server import Running

VIEWS = ("/", "/?wire=18", "/sheets", "/sheets/ring-card", "/sheets/dowel?diameter=x", "/sheets/bench-pin", "/screen")


@pytest.mark.parametrize("page", [{"color_scheme": "light"}, {"color_scheme": "dark"}], indirect=True)
def test_no_view_has_a_serious_finding(page: Any, server: Running):
    for view in VIEWS:
        page.goto(f"http://{server.host}{view}")
        assert serious_findings(page) == [], view


def test_the_check_can_fail(page: Any):
    page.evaluate("document.querySelectorAll('label').forEach((label) => label.remove())")
    assert serious_findings(page) != []
