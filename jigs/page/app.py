"""The application: the routes of all views, the files of static/, and errors as pages. It alone knows starlette."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from urllib.parse import parse_qs, quote

from starlette.applications import Starlette
from starlette.background import BackgroundTask
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Route as StarletteRoute

from jigs.page.asked import Answer, Asked, Route
from jigs.page.files import static_file
from jigs.page.first import FirstPage
from jigs.page.refusals import said
from jigs.page.views import find_route, routes_of, views
from layouts.errors import Refusal

_FORM = "application/x-www-form-urlencoded"
_HTML = "text/html; charset=utf-8"


def application(bench: Path, orders: Path, close: Callable[[], None]) -> Starlette:
    """The application for a bench folder and a folder of orders; `close` ends the server."""
    first = FirstPage(bench)

    async def closed(request: Request) -> Response:
        close()
        return _response(Answer(template="closed.html"), None)

    async def alive(_: Request) -> Response:
        return Response(status_code=204)

    async def answer(request: Request) -> Response:
        if request.method == "GET" and request.url.path == "/" and not request.url.query:
            return await run_in_threadpool(_first, first, Asked(bench=bench, orders=orders))
        found = find_route(request.method, request.scope["raw_path"].decode("ascii", "replace"))
        if found is None:
            return await _missing(request, None)
        route, parts = found
        asked = await _asked(request, parts, bench, orders)
        return await run_in_threadpool(_answered, route, asked)

    routes = [
        StarletteRoute("/alive", alive),
        StarletteRoute("/static/{name}", _static),
        StarletteRoute("/close", closed, methods=["POST"]),
        StarletteRoute("/{path:path}", answer, methods=["GET", "POST"]),
    ]
    return Starlette(routes=routes, exception_handlers={404: _missing, 500: _failed})


def _first(first: FirstPage, asked: Asked) -> Response:
    """The first page as it was kept; what the first keystroke needs is then loaded while it is being looked at."""
    mark = first.mark()
    if (page := first.kept(mark)) is not None:
        return Response(page, media_type=_HTML, background=BackgroundTask(_made_first, asked))
    response = _made_first(asked)
    if response.status_code == 200 and first.mark() == mark:  # nothing has changed while it was made
        first.keep(mark, bytes(response.body))
    return response


def _made_first(asked: Asked) -> Response:
    return _answered(routes_of(views()[0])[0], asked)


def _answered(route: Route, asked: Asked) -> Response:
    try:
        return _response(route.answer(asked), asked)
    except Refusal as refusal:  # of a thing that no box is about: a damaged file of the bench
        values = {"words": said(refusal)}
        return _response(Answer(template="refused.html", part="refused_live.html", values=values, status=422), asked)


async def _asked(request: Request, parts: dict[str, str], bench: Path, orders: Path) -> Asked:
    body = await request.body()
    is_form = request.headers.get("content-type", "").startswith(_FORM)
    words = body.decode("utf-8", "replace") if is_form else ""
    given: dict[str, tuple[str, ...]] = {}
    for text in (request.url.query, words):
        given |= {key: tuple(values) for key, values in parse_qs(text, keep_blank_values=True).items()}
    return Asked(
        bench=bench,
        orders=orders,
        path=parts,
        given=given,
        body=b"" if is_form else body,
        is_part="x-part" in request.headers,
    )


def _response(answer: Answer, asked: Asked | None) -> Response:
    if answer.goto:
        return RedirectResponse(answer.goto, status_code=303)
    if answer.template:
        is_part = asked is not None and asked.is_part and answer.part
        values = {"views": views(), "here": "", "is_part": bool(is_part), **answer.values}
        from jigs.page.templating import render  # not before a page is made

        text = render(answer.part if is_part else answer.template, values)
        return Response(text, status_code=answer.status, media_type=answer.kind)
    headers = {}
    if answer.file_name:
        how = "inline" if answer.is_shown else "attachment"
        headers["content-disposition"] = f"{how}; filename*=UTF-8''{quote(answer.file_name)}"
    return Response(answer.content, status_code=answer.status, media_type=answer.kind, headers=headers)


async def _static(request: Request) -> Response:
    found = static_file(request.path_params["name"])
    if found is None:
        return await _missing(request, None)
    content, kind = found
    return Response(content, media_type=kind)


async def _missing(request: Request, _: object) -> Response:
    words = "There is nothing at that address. Everything that there is stands in the list above."
    return _response(Answer(template="refused.html", values={"words": words}, status=404), None)


async def _failed(request: Request, _: object) -> Response:
    words = "Something went wrong in Coilwright itself. Nothing was changed. Go back, and try it another way."
    answer = Answer(template="refused.html", part="refused_live.html", values={"words": words}, status=500)
    return _response(answer, Asked(bench=Path(), is_part="x-part" in request.headers))
