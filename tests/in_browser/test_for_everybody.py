"""Every view for everybody: axe-core finds nothing serious, in light on a wide screen or in dark on a narrow one.

Nothing hangs over the edge from 360 px to a wide screen. A view that is added is looked at without a line here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from hands import EYE, NARROW, WIDE, look, post, resize, serious_findings
from page_server import Running
from test_page_printers import scan

from jigs.guides.catalogue import sheets
from jigs.orders.example import example
from jigs.page.views import routes_of, views

# from the narrowest to the widest that is looked at, and back for the next address; its looks are at both ends
WIDTHS = (
    (NARROW, "dark"),
    ({"width": 768, "height": 900}, "dark"),
    ({"width": 2560, "height": 900}, "light"),
    (WIDE, "light"),
)
FILES = (
    "/sheets/{sheet}/{file}",
    "/cut/{aid}/{file}",
    "/solids/{aid}/{file}",
    "/orders/{order}/plan.{kind}",
    "/orders/{order}/cut/{file}",
    "/orders/{order}/pack/{job}/{file}",
    "/printers/scan/{job}/found.png",
)
HAND = {"called": "study", "in_tray": "plain", "paper": "a4", "tool": "rule", "day": "2026-11-25"}
READ = HAND | {"across": "149.4", "along": "199.5", "usual": "yes"}
BATCH = {"wire": "1.2 mm", "metal": "phosphor bronze", "mandrel": "rod 5", "blade": "2/0", "ring_inside": "5.25"}


@pytest.fixture
def kept(server: Running) -> Running:
    """A bench with something of every kind, an order of a class, one of a maker alone, and one that is damaged."""
    post(server, "/drawer/mandrel", name="rod 5", measured="5.00 mm")
    post(server, "/drawer/drill", name="fine one", diameter="1.25 mm")
    post(server, "/drawer/blade", name="2/0", kerf="0.28 mm")
    post(server, "/drawer/spool", name="red reel", wire="1.2 mm", metal="phosphor bronze", length="4.3 m")
    post(server, "/drawer/instrument", name="old caliper", scatter="0.05 mm")
    orders = server.bench / "orders"
    orders.mkdir()
    (orders / "class.toml").write_text(example(), encoding="utf-8")
    (orders / "mine.toml").write_text(example(for_class=False), encoding="utf-8")
    (orders / "broken.toml").write_text("[[ring", encoding="utf-8")
    return server


def of_ring(_: Running) -> Iterator[str]:
    yield from (
        "/?wire=18",
        "/?way=rod&mandrel=rod+5&cut=cutters",
        "/?way=hand&by=outside_mm&size=7.4+mm&price=2+EUR+per+m",
    )


def of_sheets(_: Running) -> Iterator[str]:
    yield from (f"/sheets/{sheet.name}" for sheet in sheets())
    yield "/sheets/dowel?diameter=x"


def of_cut(_: Running) -> Iterator[str]:
    yield "/cut/hole-plate"
    yield "/cut/step-strip?inside=5+mm&material=PVC"


def of_solids(_: Running) -> Iterator[str]:
    yield "/solids/coil-groove"


def of_orders(server: Running) -> Iterator[str]:
    yield from ("/orders/class.toml?saved=yes", "/orders/mine.toml/plan", "/orders/mine.toml/text")
    yield from ("/orders/mine.toml/cut", "/orders/mine.toml/pack", "/orders/broken.toml")
    yield post(server, "/orders/mine.toml/pack")


def of_drawer(_: Running) -> Iterator[str]:
    yield from ("/drawer?said=rod+5+is+kept.", "/drawer/mandrel?name=rod+5", "/drawer/spool", "/drawer/instrument")


def of_printers(server: Running) -> Iterator[str]:
    yield post(server, "/printers/new", **READ)
    yield "/printers/one?name=study&in_tray=plain"
    given = "&".join((*(f"{key}={words}" for key, words in HAND.items()), f"names=a.png&sizes={len(scan())}"))
    sent = server.ask(f"/printers/scan?{given}", method="POST", body=scan(), content_type="application/octet-stream")
    yield sent.headers["location"]


def of_measuring(_: Running) -> Iterator[str]:
    yield "/measuring/rod?strip=7.95%0A7.9&across=8.6"
    yield "/measuring/ring?chain=102.5&rings=20"
    yield "/measuring/wire?strip=1.02&turns=40"


def of_records(server: Running) -> Iterator[str]:
    yield post(server, "/records/new", **BATCH)
    yield "/records/1/correct"


def of_screen(_: Running) -> Iterator[str]:
    yield "/no-such-page"


CALM = "main:not(:has([data-poll]))"
IS_CALM = f"document.querySelector('{CALM}') !== null"
TABS = ("", "/plan", "/text", "/cut", "/pack", "/pack/{job}")
MORE = {
    "ring": (of_ring, ()),
    "sheets": (of_sheets, ("/sheets/{sheet}",)),
    "cut": (of_cut, ("/cut/{aid}",)),
    "solids": (of_solids, ("/solids/{aid}",)),
    "orders": (
        of_orders,
        tuple(f"/orders/{{order}}{tab}" for tab in TABS),
    ),
    "drawer": (of_drawer, ("/drawer/{kind}",)),
    "printers": (of_printers, ("/printers/scan/{job}",)),
    "measuring": (of_measuring, ("/measuring/{thing}",)),
    "records": (of_records, ("/records/{record}", "/records/{record}/correct")),
    "screen": (of_screen, ()),
}
PARTS = [
    (view.name, part, parts)
    for view in views()
    for parts in [2 if view.name == "sheets" else 1]
    for part in range(parts)
]


@pytest.fixture(scope="module")
def window(browser: Any) -> Iterator[Any]:
    """A window of these tests alone: axe-core is in each of its pages before the page itself."""
    context = browser.new_context(viewport=WIDE)
    shown = context.new_page()
    shown.add_init_script(EYE)
    shown.set_default_timeout(10_000)
    yield shown
    context.close()


@pytest.mark.parametrize(("name", "part", "parts"), PARTS)
def test_no_view_keeps_anybody_out(page: Any, at: Any, kept: Running, name: str, part: int, parts: int):
    view = next(view for view in views() if view.name == name)
    plain = [route.path for route in routes_of(view) if route.method == "GET" and "{" not in route.path]
    for number, path in enumerate([*plain, *MORE[name][0](kept)][part::parts]):
        first, *others = WIDTHS[:: 1 if number % 2 else -1]
        resize(page, *first)
        at(path)
        if not page.evaluate(IS_CALM):
            page.locator(CALM).wait_for()
        assert serious_findings(page) == [], (path, first)
        assert_nothing_hangs_over(page, path, first[0])
        for size, light in others:
            resize(page, size, light)
            assert_nothing_hangs_over(page, path, size)
        if path in plain:  # where a view begins it is looked at in both ways
            look(page, size, light)
            assert serious_findings(page, by_looks=True) == [], (path, size, light)
        assert page.evaluate("document.querySelectorAll('h1').length") == 1, path


def assert_nothing_hangs_over(page: Any, path: str, size: dict[str, int]) -> None:
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"], (path, size)


def test_every_view_is_looked_at():
    for view in views():
        named = {route.path for route in routes_of(view) if route.method == "GET" and "{" in route.path}
        assert named - set(FILES) == set(MORE[view.name][1]), "add an address of it to what is looked at"


@pytest.mark.parametrize(("size", "light"), [(WIDE, "light"), (NARROW, "dark")])
def test_the_check_can_fail(page: Any, size: dict[str, int], light: str):
    page.evaluate("document.querySelectorAll('label').forEach((label) => label.remove())")
    page.evaluate("document.querySelector('h1').style.opacity = '0.3'")
    look(page, size, light)
    found = {words.partition(":")[0] for words in serious_findings(page)}
    assert {"label", "color-contrast"} <= found
    assert any(words.startswith("color-contrast: <h1") for words in serious_findings(page, by_looks=True))
