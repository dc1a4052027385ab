"""A running page for tests: started as a person starts it, asked over its socket, ended in any case."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import jigs

PACKAGES = Path(jigs.__file__).parent.parent  # those that are tested: of a checkout, or as they were installed
PATIENCE_S = 30.0


@dataclass(frozen=True, slots=True)
class Reply:
    """What came back: the status (0 when the line was closed without a word), headers by small name, and the body."""

    status: int
    headers: dict[str, str]
    body: bytes

    @property
    def text(self) -> str:
        """The body in words."""
        return self.body.decode("utf-8")


@dataclass(frozen=True, slots=True)
class Running:
    """A page that runs: its first address, where its bench is, and its process."""

    address: str
    bench: Path
    process: subprocess.Popen[str]

    @property
    def port(self) -> int:
        """Of its address."""
        return int(self.address.split(":")[2].split("/")[0])

    @property
    def host(self) -> str:
        """The one that is its own."""
        return f"127.0.0.1:{self.port}"

    @property
    def cookie(self) -> str:
        """As a browser sends it."""
        kept = json.loads((self.bench / ".page.json").read_text())
        return f"coilwright-{self.port}={kept['session']}"

    def ask(self, path: str, *, method: str = "GET", body: bytes = b"", **headers: str | None) -> Reply:
        """Asks as our own page does; a header of None is left out, `a_b` is the header a-b."""
        usual: dict[str, str | None] = {"host": self.host, "cookie": self.cookie}
        if method == "POST":
            usual |= {"origin": f"http://{self.host}", "content-type": "application/x-www-form-urlencoded"}
            usual |= {"content-length": str(len(body))}
        given = usual | {name.replace("_", "-"): value for name, value in headers.items()}
        lines = [f"{method} {path} HTTP/1.1", *(f"{name}: {value}" for name, value in given.items() if value)]
        return self.raw("\r\n".join((*lines, "connection: close", "", "")).encode("latin-1") + body)

    def raw(self, data: bytes, then: Iterable[bytes] = ()) -> Reply:
        """Sends bytes as they are, then more of them, and reads until the line is closed."""
        with socket.create_connection(("127.0.0.1", self.port), timeout=PATIENCE_S) as line:
            came = b""
            try:
                line.sendall(data)
                for more in then:
                    line.sendall(more)
                while part := line.recv(65536):
                    came += part
            except ConnectionError:
                pass
        return _reply(came)


def _reply(came: bytes) -> Reply:
    head, _, body = came.partition(b"\r\n\r\n")
    if not head:
        return Reply(0, {}, b"")
    first, *lines = head.decode("latin-1").split("\r\n")
    pairs = (line.partition(":") for line in lines)
    return Reply(int(first.split(" ")[1]), {name.lower(): value.strip() for name, _, value in pairs}, body)


@contextmanager
def running(
    bench: Path, *words: str, patience: float | None = None, command: Sequence[str] = (), **setting: str
) -> Iterator[Running]:
    """The page of a bench folder while the block runs; `patience` in seconds takes the place of its own.

    `command` starts it in another way; `setting` is added to what stands in the environment.
    """
    start = "import jigs.page.guard, jigs.__main__\n"
    start += f"jigs.page.guard.PATIENCE_S = {patience}\n" if patience else ""
    usual = [
        sys.executable,
        "-P",  # not of the folder that the tests stand in
        "-c",
        f"{start}jigs.__main__.main()",
        "page",
        "--no-browser",
        "--bench",
        str(bench),
        *words,
    ]
    inherited = {
        **os.environ,
        "PYTHONPATH": os.pathsep.join(filter(None, (str(PACKAGES), os.environ.get("PYTHONPATH")))),
    }
    process = subprocess.Popen(
        command or usual,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**inherited, "PYTHONUNBUFFERED": "1", **setting},
        preexec_fn=_as_at_a_terminal if os.name == "posix" else None,
    )
    try:
        said = [process.stdout.readline(), process.stdout.readline()] if process.stdout else []
        if not said[-1:] or not said[-1].startswith("http"):
            process.kill()
            raise RuntimeError(f"the page did not start: {said} {process.communicate()}")
        yield Running(said[-1].strip(), bench, process)
    finally:
        if process.poll() is None:
            process.terminate()
        try:
            process.wait(PATIENCE_S)
        except subprocess.TimeoutExpired:
            process.kill()
        for stream in (process.stdout, process.stderr):
            if stream:
                stream.close()


def _as_at_a_terminal() -> None:
    """A process that was started in the background ignores what Ctrl-C sends, and so would what it starts."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)


def seconds(started: float) -> float:
    """Since then."""
    return time.monotonic() - started
