"""The drawer and the records in a browser: a spool is kept, a batch is written down, and the next plan counts on it."""

from __future__ import annotations

import re
from typing import Any

from click.testing import CliRunner
from hands import fill, go
from page_server import Running

from jigs.cli import cli
from jigs.orders.example import example


def closed_inside(page: Any, server: Running) -> float:
    """Of the first ring, as its order is planned."""
    go(page, server, "/orders/mine.toml/plan")
    row = page.get_by_role("row", name="closed ID").first.inner_text()
    return float(re.findall(r"[0-9.]+", row)[0])


def test_a_record_changes_the_next_plan(page: Any, server: Running):
    page.get_by_role("link", name="Drawer").click()
    page.get_by_role("link", name="Add a mandrel").click()
    page.get_by_label("Name").fill("rod 5")
    page.get_by_label("Diameter").fill("5")
    page.get_by_role("button", name="Keep it").click()
    page.locator("#measured-fault").get_by_text("unit").wait_for()
    page.get_by_label("Diameter").fill("5.00 mm")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_text("rod 5 is kept").wait_for()

    page.get_by_role("link", name="Orders").click()
    page.get_by_label("Name of the new order").fill("mine")
    page.get_by_label("For", exact=True).select_option("one maker")
    page.get_by_role("button", name="Make it").click()
    page.locator('[id="ring.0.mandrel"]').fill("rod 5")
    page.get_by_role("button", name="Save").click()
    page.get_by_text("Saved in its file").wait_for()
    before = closed_inside(page, server)

    page.get_by_role("link", name="Records").click()
    page.get_by_role("link", name="Write down a batch").click()
    page.get_by_label("Wire", exact=True).fill("1.2 mm")
    page.get_by_label("Metal", exact=True).fill("phosphor bronze")
    page.get_by_label("Mandrel", exact=True).fill("rod 5")
    page.get_by_label("Blade", exact=True).fill("2/0")
    page.get_by_label("ID closed").fill("5.25\n5.26")
    page.get_by_label("Wanted").fill("5.1")
    page.get_by_role("button", name="Keep it").click()
    page.get_by_role("heading", name="The next batch").wait_for()

    assert closed_inside(page, server) > before + 0.05


def test_a_rod_read_with_a_strip_is_a_mandrel_of_the_next_ring(page: Any):
    page.get_by_role("link", name="Measuring").click()
    fill(page, "The strip reads", "4.95\n4.9\n4.95")
    assert page.locator("#found h2").inner_text().startswith("Rod: 4.933 mm, good for ±")
    fill(page, "The strip reads", "4.95\nabout 5")
    assert "about 5" in page.locator("#strip-fault").inner_text()
    fill(page, "The strip reads", "4.95\n4.9\n4.95")
    fill(page, "Name of the mandrel", "marker pen")
    page.get_by_role("button", name="Keep it").click()
    assert "marker pen is kept as 4.933 mm." in page.get_by_role("status").first.inner_text()
    page.get_by_role("link", name="Ring", exact=True).click()
    first = page.locator('[data-report="rods"] tbody tr').first
    assert first.inner_text().split("\t")[0] == "marker pen"


def test_what_was_read_stays_where_keeping_it_is_refused(page: Any, at: Any):
    at("/measuring/rod")
    fill(page, "The strip reads", "4.95\n4.9\n4.95")
    page.get_by_role("button", name="Keep it").click()
    page.locator("#keep-fault").get_by_text("Give its name.").wait_for()
    assert page.locator('#found [data-report="readings"] tbody tr').count() == 3
    # nothing is wrong with what was read, and the name is where one goes on
    assert page.locator("#found").evaluate("(found) => getComputedStyle(found).opacity") == "1"
    assert page.evaluate("document.activeElement.id") == "keep"

    fill(page, "The strip reads", "4.95\n4.9\nabout 5")
    fill(page, "Name of the mandrel", "marker pen")
    page.get_by_role("button", name="Keep it").click()
    assert "about 5" in page.locator("#strip-fault").inner_text()
    assert page.locator("#found h2").inner_text().startswith("Rod: 4.933 mm")  # as it was, and paler
    assert float(page.locator("#found").evaluate("(found) => getComputedStyle(found).opacity")) < 1
    assert page.evaluate("document.activeElement.id") == "strip"


def test_in_the_ledger_a_fraction_of_an_inch_stands_in_one_line(page: Any, at: Any):
    at("/?way=rod&wire=1.2+mm&mandrel=5+mm&metal=phosphor+bronze&temper=soft&cut=saw&rings=40")
    rows = page.locator('[data-report="ledger"] tbody tr')
    high = {row.locator("th").inner_text(): row.bounding_box()["height"] for row in rows.all()}
    assert high["mandrel"] == high["AR"]  # which has no fraction
    assert rows.first.locator("td").nth(2).inner_text() == "13/64 in − 0.159 mm"


def test_a_printer_s_name_is_seen_whole_where_a_pack_is_made(page: Any, at: Any, server: Running):
    name = "the inkjet of the evening class"
    read = ["--tray", "plain 80 g", "--across", "149.4 mm", "--along", "199.5 mm", "--bench", str(server.bench)]
    CliRunner().invoke(cli, ["printer", "measure", name, *read], catch_exceptions=False)
    (server.bench / "orders").mkdir()
    (server.bench / "orders" / "mine.toml").write_text(example())
    at("/orders/mine.toml/pack")
    box = page.get_by_label("Made true for the printer")
    box.select_option(name)
    # the words beside it, in its letters; 24 are its arrow's
    room, words = box.evaluate(
        "(box) => { const seen = getComputedStyle(box);"
        " const words = document.body.appendChild(document.createElement('b'));"
        " words.textContent = box.selectedOptions[0].text;"
        " const letters = `${seen.fontWeight} ${seen.fontSize} ${seen.fontFamily}`;"
        " words.style.cssText = `position: absolute; white-space: pre; font: ${letters}`;"
        " const wide = words.offsetWidth; words.remove();"
        " return [box.clientWidth - parseFloat(seen.paddingLeft) - 24, wide]; }"
    )
    assert words > 180
    assert room > words
