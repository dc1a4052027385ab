"""What is let in, and the headers of every answer. It stands before the application and knows no view.

A page on the loopback is within reach of every page that the browser has open: another site may name our address by a
host of its own, send forms to it, or frame it. So the host must be ours, the session's cookie must come with each
request, and what another site caused is refused. A refusal here says nothing of this machine.
"""

from __future__ import annotations

import asyncio
import hmac
import re
from collections.abc import Awaitable, Callable, Iterable, MutableMapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qs

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]
App = Callable[[Scope, Receive, Send], Awaitable[None]]
Headers = Iterable[tuple[bytes, bytes]]

MOST_BODY = 256 * 1024**2
"""Bytes of a body: two scans of a whole page in colour are the largest thing that is sent."""

MOST_FORM = 1024**2
"""Bytes of a filled-in form."""

MOST_HEAD = 8 * 1024
"""Bytes of an address, and of all headers together."""

PATIENCE_S = 10.0
"""So long a request may take to arrive, from its first byte to its last."""

POLICY = "; ".join(
    (
        "default-src 'none'",
        *(f"{kind}-src 'self'" for kind in ("script", "style", "img", "font", "connect")),
        "form-action 'self'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
    )
)
HEADERS = (
    (b"content-security-policy", POLICY.encode()),
    (b"cache-control", b"no-store"),
    (b"x-content-type-options", b"nosniff"),
    (b"x-frame-options", b"DENY"),
    (b"referrer-policy", b"same-origin"),  # without any, a form of our own would come from the origin "null"
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"permissions-policy", b"camera=(), geolocation=(), microphone=()"),
)
"""Of every answer, refusals too."""

_SAME_SITE = (b"same-origin", b"none")  # none: the person typed the address, or another program opened it


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys:
    """What opens the page at one address: the token of the first address, and the session's cookie."""

    port: int
    token: str
    session: str

    @property
    def host(self) -> str:
        """The one host that is ours."""
        return f"127.0.0.1:{self.port}"

    @property
    def address(self) -> str:
        """The first address. Whoever has it has the page."""
        return f"http://{self.host}/?token={self.token}"

    @property
    def cookie(self) -> str:
        """The name of the cookie: ports of one host share their cookies."""
        return f"coilwright-{self.port}"


@dataclass(frozen=True, slots=True)
class _Refused(Exception):
    status: int
    words: str


class Guard:
    """The application behind its guard."""

    def __init__(self, app: App, keys: Keys) -> None:
        self.app, self.keys = app, keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answers a request, or refuses it."""
        if scope["type"] != "http":
            return
        try:
            headers = _checked(scope, self.keys)
            if (goto := self._first(scope)) is not None:
                await _say(send, 303, b"", goto)
                return
            if not self._has_session(headers):
                raise _Refused(403, "Open the page by the address that Coilwright gave when it was started.")
            body = await _body(headers, receive)
        except _Refused as refused:
            await _say(send, refused.status, f"{refused.words}\n".encode(), [(b"connection", b"close")])
            return
        await self.app(scope, _replayed(body, receive), _guarded(send))

    def _first(self, scope: Scope) -> Headers | None:
        """For the first address, the headers that set the cookie and lead to the page itself."""
        if scope["method"] != "GET" or scope["path"] != "/":
            return None
        (token,) = parse_qs(scope["query_string"].decode("latin-1")).get("token", [""])[:1]
        if not token:
            return None
        if not hmac.compare_digest(token.encode(), self.keys.token.encode()):
            raise _Refused(403, "This address is of an earlier start. Start Coilwright's page again.")
        cookie = f"{self.keys.cookie}={self.keys.session}; HttpOnly; SameSite=Strict; Path=/"
        return [(b"location", b"/"), (b"set-cookie", cookie.encode())]

    def _has_session(self, headers: dict[bytes, list[bytes]]) -> bool:
        pairs = (pair.strip().partition(b"=") for line in headers.get(b"cookie", []) for pair in line.split(b";"))
        wanted = self.keys.cookie.encode()
        return any(
            name == wanted and hmac.compare_digest(value, self.keys.session.encode()) for name, _, value in pairs
        )


def _checked(scope: Scope, keys: Keys) -> dict[bytes, list[bytes]]:
    """The headers by name, of a request that is for us and from our own page."""
    headers: dict[bytes, list[bytes]] = {}
    for name, value in scope["headers"]:
        headers.setdefault(name.lower(), []).append(value)
    size = sum(len(name) + len(value) for name, value in scope["headers"])
    if len(scope["raw_path"]) + len(scope["query_string"]) > MOST_HEAD or size > MOST_HEAD:
        raise _Refused(431, "That address, or its head, is too long.")
    if headers.get(b"host") != [keys.host.encode()]:
        raise _Refused(421, "This is not the host of the page.")
    if b"transfer-encoding" in headers:
        raise _Refused(400, "Send the length of a body, and the body as it is.")
    if scope["method"] not in ("GET", "HEAD", "POST"):
        raise _Refused(405, "Ask for the page with GET, HEAD or POST.")
    origin = headers.get(b"origin", [])
    if origin and origin != [f"http://{keys.host}".encode()]:
        raise _Refused(403, "That came from another page.")
    site = headers.get(b"sec-fetch-site", [])
    if site and site[0] not in _SAME_SITE:
        raise _Refused(403, "That came from another page.")
    if scope["method"] == "POST" and not origin and not site:
        raise _Refused(403, "That does not say which page it came from.")
    return headers


async def _body(headers: dict[bytes, list[bytes]], receive: Receive) -> bytes:
    """The whole body, before anything is done with it."""
    lengths = headers.get(b"content-length", [b"0"])
    if len(lengths) > 1 or not re.fullmatch(rb"[0-9]{1,12}", lengths[0]):
        raise _Refused(400, "Send one length of the body.")
    form = any(kind.startswith(b"application/x-www-form-urlencoded") for kind in headers.get(b"content-type", []))
    if int(lengths[0]) > (MOST_FORM if form else MOST_BODY):
        raise _Refused(413, "That is too much at once.")
    parts = []
    try:
        async with asyncio.timeout(PATIENCE_S):
            while True:
                message = await receive()
                if message["type"] == "http.disconnect":
                    raise _Refused(400, "It broke off.")
                parts.append(message.get("body", b""))
                if not message.get("more_body"):
                    return b"".join(parts)
    except TimeoutError:
        raise _Refused(408, "That took too long to arrive.") from None


def _replayed(body: bytes, receive: Receive) -> Receive:
    """Gives the body again, then waits as the server does."""
    waiting = [{"type": "http.request", "body": body, "more_body": False}]

    async def again() -> Message:
        return waiting.pop() if waiting else await receive()

    return again


def _guarded(send: Send) -> Send:
    """Adds the headers of every answer."""

    async def with_headers(message: Message) -> None:
        if message["type"] == "http.response.start":
            message = {**message, "headers": [*message.get("headers", []), *HEADERS]}
        await send(message)

    return with_headers


async def _say(send: Send, status: int, words: bytes, headers: Headers) -> None:
    start = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(words)).encode()), *headers]
    send = _guarded(send)
    await send({"type": "http.response.start", "status": status, "headers": start})
    await send({"type": "http.response.body", "body": words})
