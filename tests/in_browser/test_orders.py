"""An order in a browser, from new to the pack: filled in, saved, planned, made, and the file is the command's."""

from __future__ import annotations

import re
import sys
from pathlib import Path
from typing import Any

import pytest
from hands import settled
from page_server import Running


def test_an_order_from_new_to_its_pack(page: Any, server: Running, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    page.get_by_role("link", name="Orders").click()
    page.get_by_label("Name of the new order").fill("earrings")
    page.get_by_label("For", exact=True).select_option("one maker")
    page.get_by_role("button", name="Make it").click()
    page.get_by_role("heading", name="earrings").wait_for()

    box = page.locator('[id="ring.0.inside"]')
    box.fill("5")  # a mistake is said at once
    settled(page)
    assert "unit" in page.locator('[id="ring.0.inside-fault"]').inner_text()
    page.get_by_role("button", name="Save").click()
    page.locator('[id="ring.0.inside-fault"]').get_by_text("unit").wait_for()
    assert page.locator('[id="ring.0.inside"]').input_value() == "5"

    page.locator('[id="ring.0.inside"]').fill("5.5 mm")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved in its file").wait_for()
    text = (server.bench / "orders" / "earrings.toml").read_text(encoding="utf-8")
    assert re.search(r'^inside = "5.5 mm" +# of the closed ring', text, re.MULTILINE)

    page.get_by_role("link", name="Plan", exact=True).click()
    assert "wanted ID 5.500 mm" in page.locator("main").inner_text()
    with page.expect_download() as kept:
        page.get_by_role("button", name="CSV").click()
    assert "5.5" in kept.value.path().read_text()

    page.get_by_role("link", name="Pack", exact=True).click()
    page.get_by_label("Paper", exact=True).select_option("letter")
    page.get_by_role("button", name="Make the pack").click()
    link = page.get_by_role("link", name=re.compile("PDF to print: [0-9]+ pages"))
    link.wait_for()
    assert "Print at 100 %" in page.locator("#made").inner_text()
    data = page.context.request.get(f"http://{server.host}{link.get_attribute('href')}").body()

    from jigs.cli import main

    words = [
        "pack",
        str(server.bench / "orders" / "earrings.toml"),
        "--paper",
        "letter",
        "--out",
        str(tmp_path / "a.pdf"),
    ]
    monkeypatch.setattr(sys, "argv", ["coilwright", *words])
    with pytest.raises(SystemExit):
        main()
    assert data == (tmp_path / "a.pdf").read_bytes()


def test_an_order_is_taken_in_from_a_file(page: Any, at: Any, server: Running, tmp_path: Path):
    from jigs.orders.example import example

    (tmp_path / "mine.toml").write_text(example(), encoding="utf-8")
    (tmp_path / "broken.toml").write_text("[[ring", encoding="utf-8")
    at("/orders")
    page.get_by_label("An order that you have elsewhere").set_input_files(tmp_path / "broken.toml")
    page.get_by_role("button", name="Add it to the orders").click()
    page.locator("#file-fault").get_by_text("broken.toml").wait_for()
    page.get_by_label("An order that you have elsewhere").set_input_files(tmp_path / "mine.toml")
    page.get_by_role("button", name="Add it to the orders").click()
    page.get_by_role("heading", name="mine").wait_for()
    assert (server.bench / "orders" / "mine.toml").read_text(encoding="utf-8") == example()


def test_what_was_changed_in_an_editor_meanwhile_stays(page: Any, at: Any, server: Running):
    from jigs.orders.example import example

    path = server.bench / "orders" / "both.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(example(), encoding="utf-8")
    at("/orders/both.toml")
    path.write_text(example().replace("evening class", "morning class"), encoding="utf-8")
    page.get_by_label("Seats").fill("9")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("has been changed since it was opened here").wait_for()
    assert page.get_by_label("Seats").input_value() == "9"
    assert "morning class" in path.read_text(encoding="utf-8")
