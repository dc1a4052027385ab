"""A reader of requests that does not wait for ever: half a request, and one that drips, are closed.

The server behind it waits for the rest of a request as long as the other side keeps the line open.
"""

from __future__ import annotations

import asyncio
from typing import Any

import h11
from uvicorn.protocols.http.h11_impl import H11Protocol

from jigs.page.guard import HEADERS, PATIENCE_S

_READ = (h11.DONE, h11.MUST_CLOSE, h11.CLOSED, h11.ERROR)


class Impatient(H11Protocol):
    """Closes a connection on which a request is not complete so long after its first byte, or nothing came at all."""

    _alarm: asyncio.TimerHandle | None = None

    def connection_made(self, transport: Any) -> None:
        """Starts to wait."""
        super().connection_made(transport)
        self._wait()

    def data_received(self, data: bytes) -> None:
        """Reads on; the wait ends with the request, and begins anew with the next."""
        self._wait()
        super().data_received(data)
        if self.conn.their_state in _READ:
            self._stop()

    def connection_lost(self, exc: Exception | None) -> None:
        """Stops to wait."""
        self._stop()
        super().connection_lost(exc)

    def send_400_response(self, msg: str) -> None:
        """Says that it was not a request, under the headers of every answer, and closes."""
        headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"connection", b"close"), *HEADERS]
        said = h11.Response(status_code=400, headers=headers, reason=b"Bad Request")
        for event in (said, h11.Data(data=msg.encode("ascii")), h11.EndOfMessage()):
            self.transport.write(self.conn.send(event) or b"")
        self.transport.close()

    def _wait(self) -> None:
        if self._alarm is None:
            self._alarm = self.loop.call_later(PATIENCE_S, self._close)

    def _stop(self) -> None:
        if self._alarm is not None:
            self._alarm.cancel()
            self._alarm = None

    def _close(self) -> None:
        if self.transport and not self.transport.is_closing():
            self.transport.abort()
