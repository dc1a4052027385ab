"""A printer in a browser: its sheet printed, measured by hand, then from a scan that is dropped, then used."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hands import settled
from test_page_printers import scan


def test_a_newcomer_goes_from_a_shrunken_printer_to_a_pack_that_is_true(page: Any):
    """Along what the page offers, without a word of the terminal."""
    page.get_by_role("link", name="make your printer true").click()
    page.get_by_label("Name of the printer").fill("study")
    page.get_by_label("Paper in its tray").fill("plain 80 g")
    with page.context.expect_page() as opened:
        page.get_by_role("button", name="PDF to print").click()
    address = opened.value.url
    opened.value.close()
    assert page.context.request.get(address).body().startswith(b"%PDF")

    page.get_by_label("Across, A to B").fill("145.5")
    page.get_by_label("Along, A to D").fill("194.0")
    settled(page)
    page.locator("#looked").get_by_text("sign of a print setting").wait_for()  # so it was the dialog
    assert "lp -o" not in page.locator("main").inner_text()
    page.get_by_role("button", name="Keep it").click()
    page.locator("#save_anyway-fault").get_by_text("tick Save it anyway").wait_for()
    page.locator("#save_anyway:focus").wait_for()
    page.get_by_label("Across, A to B").fill("149.4")
    page.get_by_label("Along, A to D").fill("199.5")
    settled(page)
    assert "0.9960" in page.locator("#looked").inner_text()
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("study on plain 80 g is kept. Sheets are now made true for it.").wait_for()

    page.get_by_role("link", name="Sheets").click()
    page.get_by_role("link", name="Ring card").click()
    assert "Made true for study" in page.locator("#sheet-said").inner_text()

    page.get_by_role("link", name="Orders").click()
    page.get_by_label("Name of the new order").fill("first one")
    page.get_by_label("For", exact=True).select_option("one maker")
    page.get_by_role("button", name="Make it").click()
    page.get_by_role("link", name="Pack", exact=True).click()
    page.get_by_role("button", name="Make the pack").click()
    page.get_by_role("link", name="PDF to print").wait_for()
    assert "Made true for study on plain 80 g." in page.locator("#made").inner_text()


def test_a_scan_is_dropped_and_what_was_found_is_seen(page: Any, at: Any, tmp_path: Path):
    (tmp_path / "scan.png").write_bytes(scan())
    (tmp_path / "cat.png").write_bytes(b"no picture")
    at("/printers/new")
    page.get_by_label("Name of the printer").fill("office")
    page.get_by_label("Paper in its tray").fill("plain")
    page.get_by_label("One scan, or two").set_input_files(tmp_path / "cat.png")
    page.get_by_role("button", name="Read the scan").click()
    page.get_by_role("alert").wait_for()
    assert "cat.png" in page.get_by_role("alert").inner_text()

    at("/printers/new")
    page.get_by_label("Name of the printer").fill("office")
    page.get_by_label("Paper in its tray").fill("plain")
    page.get_by_label("One scan, or two").set_input_files(tmp_path / "scan.png")
    page.get_by_role("button", name="Read the scan").click()
    page.get_by_text("markers found").wait_for()
    picture = page.get_by_alt_text("The scan with the markers")
    assert picture.evaluate("picture => picture.complete && picture.naturalWidth > 500")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("office on plain is kept").wait_for()
