"""The views of the page, in the order of the work. Each is a module of this folder, with its `ROUTES`."""

from __future__ import annotations

from collections.abc import Sequence
from importlib import import_module

from jigs.page.asked import Route, View

VIEWS = (
    View(name="ring", title="Ring", path="/"),
    View(name="sheets", title="Sheets", path="/sheets"),
    View(name="cut", title="Cut", path="/cut"),
    View(name="solids", title="Solids", path="/solids"),
    View(name="orders", title="Orders", path="/orders"),
    View(name="drawer", title="Drawer", path="/drawer"),
    View(name="printers", title="Printers", path="/printers"),
    View(name="measuring", title="Measuring", path="/measuring"),
    View(name="records", title="Records", path="/records"),
    View(name="screen", title="True size", path="/screen"),
)


def views() -> tuple[View, ...]:
    """Every view."""
    return VIEWS


def routes_of(view: View) -> Sequence[Route]:
    """The routes of a view, whose module is imported now: the first page waits for no other."""
    routes: Sequence[Route] = import_module(f"jigs.page.views.{view.name}").ROUTES
    return routes


def find_route(method: str, path: str) -> tuple[Route, dict[str, str]] | None:
    """The route that answers an address, and the named parts of it; None for an address that leads nowhere."""
    head = f"/{path.split('/')[1]}"
    view = next((view for view in VIEWS if view.path == head), None)
    for route in routes_of(view) if view else ():
        parts = route.match(path)
        if parts is not None and route.method == ("GET" if method == "HEAD" else method):
            return route, parts
    return None
