"""Mistakes that the script of the page sees: a button pressed twice, a form left unsaved, a file not chosen."""

from __future__ import annotations

from typing import Any

from hands import post, settled
from page_server import Running

PRESSED_TWICE = """(form) => {
    const stopped = [];
    form.addEventListener("submit", (event) => { stopped.push(event.defaultPrevented); event.preventDefault(); });
    const button = form.querySelector("button");
    button.click();
    button.click();
    return stopped;
}"""


def test_a_button_that_is_pressed_twice_sends_once(page: Any, at: Any):
    at("/records/new")
    assert page.locator('form[action="/records/new"]').evaluate(PRESSED_TWICE) == [False, True]
    at("/printers/new")  # to look at the sheet again and again is no sending
    assert page.locator("#by-hand").evaluate(PRESSED_TWICE) == [False, False]


def test_what_is_not_saved_is_not_left_unasked(page: Any, at: Any, server: Running):
    post(server, "/orders", name="mine", whom="one")
    at("/orders/mine.toml")
    asked: list[str] = []

    def stay(dialog: Any) -> None:
        asked.append(dialog.type)
        dialog.dismiss()

    page.on("dialog", stay)
    page.get_by_label("Seats").click()
    page.keyboard.type("4")
    settled(page)
    page.get_by_role("link", name="Plan").click()
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved in its file").wait_for()
    page.get_by_role("link", name="Plan").click()
    page.get_by_role("button", name="Plan again").wait_for()
    page.remove_listener("dialog", stay)
    assert asked == ["beforeunload"]


def test_a_file_that_is_not_chosen_is_asked_for_and_what_else_lacks_is_reached(page: Any, at: Any):
    at("/printers/new")
    page.get_by_role("button", name="Read the scan").click()
    page.locator("#scan-fault").get_by_text("Choose a file first").wait_for()
    picture = {"name": "scan.png", "mimeType": "image/png", "buffer": b"no picture"}
    page.locator("#scan").set_input_files(picture)
    page.get_by_role("button", name="Read the scan").click()
    page.locator("#called:focus").wait_for()
    assert page.locator("#scan-fault").inner_text() == ""
