"""The keyboard alone: a ring, and a whole job from a new order to the pack; where the focus is after each step."""

from __future__ import annotations

import re
from typing import Any

from hands import line, settled
from page_server import Running

FOCUSED = """() => {
  const at = document.activeElement;
  return (at.labels?.[0] ?? at).innerText?.trim() ?? "";
}"""
SEEN = """() => {
  const at = document.activeElement;
  const shown = at.type === "radio" ? at.nextElementSibling : at;
  const box = shown.getBoundingClientRect();
  const there = document.elementFromPoint(box.left + box.width / 2, box.top + Math.min(box.height, innerHeight) / 2);
  const isOnTop = shown.contains(there) || there?.contains(shown); // and nothing lies over it
  return getComputedStyle(shown).outlineWidth === "3px" && box.width > 0 && isOnTop;
}"""
FOCUSED_AND_SEEN = f"() => [({FOCUSED})(), ({SEEN})()]"


def reach(page: Any, name: str, *, most: int = 80) -> None:
    """Tabs to what bears this name; on the way the focus is always to be seen."""
    for _ in range(most):
        page.keyboard.press("Tab")
        found, is_seen = page.evaluate(FOCUSED_AND_SEEN)
        assert is_seen, found
        if found.partition("\n")[0] == name:
            return
    raise AssertionError(f"{name} is not reached with the Tab key")


def enter(page: Any) -> None:
    """Presses what is focused, which leads to another page."""
    with page.expect_navigation(wait_until="domcontentloaded"):
        page.keyboard.press("Enter")


def retype(page: Any, words: str) -> None:
    page.keyboard.press("Control+A")
    page.keyboard.type(words)
    settled(page)


def test_a_ring(page: Any):
    page.keyboard.press("Tab")
    assert page.evaluate(FOCUSED) == "Skip to the page"
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")  # among the three ways
    assert page.evaluate("document.activeElement.value") == "rod"
    settled(page)
    reach(page, "Rod")
    retype(page, "7 mm")
    assert line(page)["mandrel"] == "7.00 mm"
    assert page.evaluate(FOCUSED) == "Rod"  # the focus stays where one types
    page.keyboard.press("Home")
    page.keyboard.press("Delete")
    page.keyboard.type("8")
    settled(page)
    assert line(page)["mandrel"] == "8.00 mm"  # and so does the caret


def test_a_whole_job_from_a_new_order_to_its_pack(page: Any, server: Running):
    keys = page.keyboard
    reach(page, "Orders")
    enter(page)
    page.get_by_role("heading", name="A new order").wait_for()
    reach(page, "Make it")
    enter(page)
    page.locator("#name-fault").get_by_text("Give it a name").wait_for()
    assert page.evaluate(FOCUSED) == "Name of the new order"  # what is to be put right
    keys.type("belt")
    reach(page, "For")
    keys.type("one")
    reach(page, "Make it")
    enter(page)
    page.get_by_role("heading", name="belt").wait_for()

    reach(page, "Inside diameter")
    retype(page, "5")
    assert page.evaluate(FOCUSED) == "Inside diameter"
    reach(page, "Save")
    enter(page)
    page.locator('[id="ring.0.inside-fault"]').get_by_text("unit").wait_for()
    assert page.evaluate(FOCUSED) == "Inside diameter"
    retype(page, "5.5 mm")
    enter(page)  # in a box it saves too
    page.get_by_text("Saved in its file").wait_for()
    assert page.evaluate(FOCUSED).startswith("Saved in its file")

    keys.press("Shift+Tab")
    while page.evaluate(FOCUSED) != "Plan":
        keys.press("Shift+Tab")
    enter(page)
    page.get_by_role("button", name="Plan again").wait_for()
    assert "wanted ID 5.500 mm" in page.locator("main").inner_text()
    reach(page, "Pack")
    enter(page)
    reach(page, "Make the pack")
    enter(page)
    made = page.get_by_role("link", name=re.compile("PDF to print: [0-9]+ pages"))
    made.wait_for()
    reach(page, made.inner_text())
    with page.context.expect_page() as opened:
        keys.press("Enter")
    address = opened.value.url
    opened.value.close()
    assert page.context.request.get(address).body().startswith(b"%PDF")
