"""The first view in a browser: three ways in, answers as one types, mistakes, keyboard, true size."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hands import choose, fill, line, settled


def test_a_ring_that_is_wanted(page: Any):
    fill(page, "Wire", "16 AWG")
    fill(page, "Size", "6.5 mm")
    assert line(page)["closed ID"] == "6.50 mm"
    assert "nearest rods" in page.locator("#found").inner_text()


def test_a_rod_that_is_there(page: Any):
    page.get_by_text("A rod that I have").click()
    settled(page)
    fill(page, "Rod", "5/16 in")
    fill(page, "The rod by caliper", "7.6 mm")
    assert line(page)["mandrel"] == "7.60 mm"
    assert "not what its name says" in page.locator("#cautions").inner_text()
    assert not page.get_by_label("Size", exact=True).is_visible()


def test_a_ring_in_the_hand(page: Any):
    page.get_by_text("A ring that I have here").click()
    choose(page, "Its size is its", "outside (OD)")
    fill(page, "Size", "7.4 mm")
    assert line(page)["OD"] == "7.40 mm"


MISTAKES = [
    ("Wire", "18", "18 AWG"),
    ("Wire", "18 XWG", "XWG"),
    ("Wire", "", "Give the wire"),
    ("Wire", "1.2", "unit"),
    ("Size", "5", "unit"),
    ("Size", "five", "number in the digits"),
    ("Size", "-5 mm", "below zero"),
    ("Size", "5 kg", "length"),
    ("How many", "lots", "whole number"),
    ("Price of the wire", "cheap", "EUR per m"),
]


def test_ten_mistakes_are_said_at_their_box_and_nothing_typed_is_lost(page: Any):
    before = line(page)
    page.evaluate("window.live = [...document.querySelectorAll('[role=status]')]")
    for label, typed, says in MISTAKES:
        box = page.get_by_label(label, exact=True)
        usual = box.input_value()
        fill(page, label, typed)
        fault = page.locator(f"#{box.get_attribute('id')}-fault")
        assert says in fault.inner_text(), (label, typed, fault.inner_text())
        assert box.get_attribute("aria-invalid") == "true"
        assert box.input_value() == typed
        assert line(page) == before  # the last answer stays, paler
        fill(page, label, usual)
        assert box.get_attribute("aria-invalid") is None
    # what is read aloud when it changes is the same element as before, or nobody would hear of the change
    assert page.evaluate("window.live.length > 10 && window.live.every((one) => one.isConnected)")
    assert not re.search(r"--[a-z]", page.content().partition("<main")[2])


def test_what_was_typed_is_there_after_a_reload(page: Any):
    fill(page, "Size", "6.25 mm")
    page.reload()
    assert page.get_by_label("Size", exact=True).input_value() == "6.25 mm"
    assert line(page)["closed ID"] == "6.25 mm"


BURSTS = """async () => {
  // answers without a server, in any order: a burst of typing, then some of all that is still on its way arrives
  let seed = 7;
  const pick = (most) => { seed = (seed * 1103515245 + 12345) % 2147483648; return Math.floor(seed / 65536) % most; };
  const box = document.getElementById("size");
  const shown = () => Number(document.querySelector("#line dd").textContent);
  const line = new MessageChannel();
  const rest = () => new Promise((done) => { line.port1.onmessage = done; line.port2.postMessage(0); });
  const headers = { "content-type": "text/html" };
  const waiting = [];
  const faults = [];
  history.replaceState = () => {}; // the address of the window is not what is looked at
  window.fetch = (address) => new Promise((done) => {
    const number = new URL(address, location).searchParams.get("size");
    const text = `<div id="line"><dl><div><dt>closed ID</dt><dd>${number}</dd></div></dl></div>`;
    waiting.push([Number(number), () => done(new Response(text, { headers }))]);
  });
  let typed = 0, newest = 0, late = 0;
  for (let burst = 1; burst <= 500; burst += 1) {
    for (let keys = 1 + pick(6); keys; keys -= 1) {
      box.value = String(++typed);
      box.dispatchEvent(new Event("input", { bubbles: true }));
    }
    const most = burst === 500 ? waiting.length : pick(waiting.length + 1);
    for (let left = most; left; left -= 1) {
      const [number, arrives] = waiting.splice(pick(waiting.length), 1)[0];
      if (number < newest) late += 1;
      newest = Math.max(newest, number);
      arrives();
      await rest(); await rest(); await rest();
      if (shown() !== newest) faults.push(`${shown()} is shown where ${newest} has come`);
    }
    if (newest < typed && "settled" in document.body.dataset) faults.push(`settled before ${typed} has come`);
  }
  return { typed, late, shown: shown(), faults, isSettled: "settled" in document.body.dataset };
}"""

HELD = """async () => {
  // the server's own answers, each held back for a time of its own
  const real = window.fetch;
  let seed = 7;
  window.fetch = async (...given) => {
    seed = (seed * 1103515245 + 12345) % 2147483648;
    const wait = seed % 120;
    const answer = await real(...given);
    await new Promise((done) => setTimeout(done, wait));
    return answer;
  };
  window.seen = [];
  new MutationObserver(() => window.seen.push(parseFloat(document.querySelectorAll("#line dd")[4].textContent)))
    .observe(document.getElementById("line"), { childList: true, subtree: true });
  const box = document.getElementById("size");
  for (let number = 1; number <= 60; number += 1) {
    box.value = `${(5 + number / 100).toFixed(2)} mm`;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    if (number % 5 === 0) await new Promise((done) => setTimeout(done, number % 11));
  }
}"""


def test_late_answers_never_replace_newer_ones_in_500_random_bursts(page: Any):
    found = page.evaluate(BURSTS)
    assert found["faults"] == []
    assert found["typed"] > 1_500
    assert found["late"] > 500  # so many came after a newer one
    assert (found["shown"], found["isSettled"]) == (found["typed"], True)


def test_late_answers_of_the_server_never_replace_newer_ones(page: Any):
    page.evaluate(HELD)
    settled(page)
    assert line(page)["closed ID"] == "5.60 mm"
    seen = page.evaluate("window.seen")
    assert seen == sorted(seen)
    assert len(set(seen)) > 5


def test_a_bank_card_sets_the_scale_and_another_zoom_asks_again(page: Any):
    assert page.get_by_text("Set this screen by a bank card").is_visible()
    page.get_by_text("Set this screen by a bank card").click()
    page.get_by_label("Width of the outline").fill("428")  # 85.60 mm at 5 pixels a millimetre
    assert page.locator("#card").evaluate("card => card.getBoundingClientRect().width") == pytest.approx(428)
    page.get_by_role("button", name="Keep it").click()
    page.get_by_role("link", name="Ring", exact=True).click()
    page.get_by_text("for looking, not for measuring").wait_for()
    ring = page.locator("svg[data-mm]")
    assert ring.evaluate("ring => ring.getBoundingClientRect().width") == pytest.approx(7.4 * 5, abs=0.1)
    page.evaluate("Object.defineProperty(window, 'devicePixelRatio', { value: 1.5 })")
    page.evaluate("window.dispatchEvent(new Event('resize'))")
    assert page.get_by_text("Set this screen by a bank card").is_visible()
