"""Starting the server, finding one that runs already, ending it."""

from __future__ import annotations

import json
import os
import secrets
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from jigs.page.guard import MOST_HEAD, Guard, Keys
from layouts.errors import FileRefused, OutOfRange

USUAL_PORT = 7370
"""Where the page is when that place is free: a browser keeps what it is told of the screen by address and port."""

_STATE = ".page.json"
_LOCK = ".page.lock"
_LAST_S = 0.8
_ASK_S = 2.0  # how long the first one may take to say that it is there


@dataclass(frozen=True, slots=True, kw_only=True)
class Started:
    """The first address of the page, and whether it was running already."""

    address: str
    was_running: bool = False


def run_page(bench: Path, orders: Path, started: Callable[[Started], None], *, port: int = 0) -> None:
    """Serves the page of a bench folder until it is closed; `started` is told once it answers.

    Where a page of that bench runs already, tells its address and returns. port 0 is the usual one, or any that is
    free. Refuses (`OutOfRange`) a port that is taken.
    """
    import asyncio

    with _starting(bench):
        first = _running(bench)
        listening = None if first else _listen(port)
        keys = first or _keys(listening)
        if listening is not None:
            _keep(bench, keys)
    if listening is None:
        started(Started(address=keys.address, was_running=True))
        return
    try:
        asyncio.run(_serve(bench, orders, keys, listening, lambda: started(Started(address=keys.address))))
    except KeyboardInterrupt:
        pass
    finally:
        listening.close()
        with suppress(OSError):
            (bench / _STATE).unlink()


async def _serve(bench: Path, orders: Path, keys: Keys, listening: socket.socket, ready: Callable[[], None]) -> None:
    import asyncio

    from uvicorn import Config, Server

    from jigs.page.app import application
    from jigs.page.patience import Impatient

    class Announced(Server):
        async def startup(self, sockets: list[socket.socket] | None = None) -> None:
            await super().startup(sockets)
            ready()

    def close() -> None:
        # the page that says so is given the time to fetch its looks
        asyncio.get_running_loop().call_later(_LAST_S, lambda: setattr(server, "should_exit", True))

    config = Config(
        Guard(application(bench, orders, close), keys),
        http=Impatient,
        ws="none",
        lifespan="off",
        log_config=None,
        log_level="critical",
        access_log=False,
        server_header=False,
        h11_max_incomplete_event_size=2 * MOST_HEAD,
        timeout_graceful_shutdown=2,
    )
    server = Announced(config)
    await server.serve([listening])


def _listen(port: int) -> socket.socket:
    for wanted in (port,) if port else (USUAL_PORT, 0):
        # with its protocol named: else asyncio would let small packets wait for one another
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        if os.name == "posix":  # elsewhere it would let two programs have one port
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            made.bind(("127.0.0.1", wanted))
        except (OSError, OverflowError) as error:
            made.close()
            if wanted == USUAL_PORT and not port:
                continue
            why = getattr(error, "strerror", None) or "ports go up to 65535"
            raise OutOfRange(f"port {wanted} cannot be used: {why}", "give another, from 1024 to 65535") from error
        made.listen(64)
        return made
    raise OutOfRange("no port is free", "close other programs")


def _keys(listening: socket.socket | None) -> Keys:
    port = listening.getsockname()[1] if listening else 0
    return Keys(port=port, token=secrets.token_urlsafe(24), session=secrets.token_urlsafe(24))


@contextmanager
def _starting(bench: Path) -> Iterator[None]:
    """One start at a time, so that of two at once the second finds the first."""
    from filelock import FileLock

    try:
        bench.mkdir(parents=True, exist_ok=True)
        with FileLock(bench / _LOCK, timeout=10):
            yield
    except OSError as error:  # a lock that is not to be had is one too
        raise FileRefused(f"{bench} cannot be written to: {error.strerror or error}", "name another folder") from error


def _keep(bench: Path, keys: Keys) -> None:
    """For the next start, readable by this person alone."""
    path = bench / _STATE
    path.unlink(missing_ok=True)
    words = json.dumps({"port": keys.port, "token": keys.token, "session": keys.session})
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w", encoding="utf-8") as file:
        file.write(words)


def _running(bench: Path) -> Keys | None:
    """The keys of a page of this bench that answers; None where none does."""
    try:
        kept = json.loads((bench / _STATE).read_text(encoding="utf-8"))
        keys = Keys(port=int(kept["port"]), token=str(kept["token"]), session=str(kept["session"]))
    except (OSError, ValueError, KeyError, TypeError):
        return None
    lines = "GET /alive HTTP/1.1", f"Host: {keys.host}", f"Cookie: {keys.cookie}={keys.session}", "Connection: close"
    try:
        with socket.create_connection(("127.0.0.1", keys.port), timeout=_ASK_S) as line:
            line.sendall("\r\n".join((*lines, "", "")).encode("latin-1"))
            return keys if line.recv(64).startswith(b"HTTP/1.1 204") else None
    except (OSError, OverflowError):
        return None
