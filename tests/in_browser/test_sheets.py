"""A sheet in a browser: its pages as one types, at true size, and the file to print, which is the command's."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from hands import fill


def command_s(monkeypatch: pytest.MonkeyPatch, out: Path, *words: str) -> bytes:
    """What the command writes."""
    from jigs.cli import main

    monkeypatch.setattr(sys, "argv", ["coilwright", "sheet", *words, "--out", str(out)])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 0
    return out.read_bytes()


def test_a_sheet_printed_from_the_page_is_the_command_s(page: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    page.get_by_role("link", name="Sheets").click()
    page.get_by_role("link", name="Ring card").click()
    fill(page, "Wire", "1.2 mm\n1.6 mm")
    fill(page, "Inside diameter", "5 mm..7 mm by 0.5 mm")
    assert page.locator("#pages svg").count() == 1
    with page.context.expect_page() as opened:
        page.get_by_role("button", name="PDF to print").click()
    address = opened.value.url
    opened.value.close()
    wanted = command_s(
        monkeypatch,
        tmp_path / "a.pdf",
        *("ring-card", "--wire", "1.2 mm", "--wire", "1.6 mm"),
        *("--inside", "5 mm..7 mm by 0.5 mm", "--tolerance", "0.1 mm"),
    )
    assert page.context.request.get(address).body() == wanted
    with page.expect_download() as kept:
        page.get_by_role("button", name="SVG").click()
    assert kept.value.suggested_filename == "ring-card.svg"


def test_the_pages_follow_what_is_typed(page: Any, at: Any):
    at("/sheets/ring-card")
    assert page.locator('#pages [aria-label="ID 5.00 mm"]').count() > 0
    fill(page, "Inside diameter", "6.35 mm")
    assert page.locator('#pages [aria-label="ID 6.35 mm"]').count() > 0
    assert page.locator('#pages [aria-label="ID 5.00 mm"]').count() == 0
    fill(page, "Inside diameter", "6.35")
    assert page.locator('#pages [aria-label="ID 6.35 mm"]').count() > 0  # the last one stays, paler
    assert "unit" in page.locator("#inside-fault").inner_text()


def test_a_page_is_shown_at_true_size_when_the_screen_is_known(page: Any, at: Any):
    at("/sheets/bench-pin")
    page.get_by_label("Shown").select_option("at true size on this screen")
    assert page.get_by_text("The scale of this screen is not known").is_visible()
    key = "`mm ${screen.width}x${screen.height}@${window.devicePixelRatio}`"
    page.evaluate(f"localStorage.setItem({key}, '4')")
    page.get_by_label("Shown").select_option("as wide as there is room")
    page.get_by_label("Shown").select_option("at true size on this screen")
    assert page.get_by_text("For looking, not for measuring").is_visible()
    width = page.locator("#pages svg").first.evaluate("page => page.getBoundingClientRect().width")
    assert width == pytest.approx(210 * 4)
    fill(page, "Width", "70 mm")  # and it stays so for the next page that is drawn
    assert page.locator("#pages svg").first.evaluate("page => page.getBoundingClientRect().width") == pytest.approx(840)


def test_the_trap_of_the_browser_s_viewer_is_said_beside_the_button(page: Any, at: Any):
    at("/sheets/printer-check")
    assert "Print at 100 %, actual size." in page.locator("#print").inner_text()
    assert page.locator("#pages svg").count() == 1


def test_a_plate_for_the_laser_is_drawn_as_one_types_and_kept_as_a_file(page: Any, at: Any):
    at("/cut")
    page.get_by_role("link", name="Hole plate").click()
    fill(page, "Outside", "7.4 mm")
    assert page.locator("#pages circle").count() == 2  # the ring's, and that to hang it up by
    fill(page, "Outside", "7.4 mm\n8 mm")
    assert page.locator("#pages circle").count() == 3
    with page.expect_download() as kept:
        page.get_by_role("button", name="DXF").click()
    assert kept.value.suggested_filename == "hole-plate-mm.dxf"
