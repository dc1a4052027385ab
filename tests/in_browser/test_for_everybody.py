"""An accessibility check of every view with axe-core, in light and dark: no serious finding."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from page_server import Running

VIEWS = ("/", "/?wire=18", "/sheets", "/sheets/ring-card", "/sheets/dowel?diameter=x", "/sheets/bench-pin", "/screen")
SERIOUS = ("serious", "critical")


@pytest.mark.parametrize("page", [{"color_scheme": "light"}, {"color_scheme": "dark"}], indirect=True)
def test_no_view_has_a_serious_finding(page: Any, server: Running):
    found = []
    for view in VIEWS:
        page.goto(f"http://{server.host}{view}")
        for one in Axe().run(page).response["violations"]:
            if one["impact"] in SERIOUS:
                found.append((view, one["id"], one["nodes"][0]["html"][:200]))
    assert found == []


def test_the_check_can_fail(page: Any):
    page.evaluate("document.querySelectorAll('label').forEach((label) => label.remove())")
    assert any(one["impact"] in SERIOUS for one in Axe().run(page).response["violations"])
