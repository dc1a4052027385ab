"""A bar on the error stream for work that takes over a second, and nothing for work that does not."""

from __future__ import annotations

import sys
from time import monotonic
from typing import Any

import click

from jigs.terminal import Guarded

WAIT_S = 1.0


class ProgressBar:
    """Counts steps of a known total, a bar for each thing that is done; it appears after a second of work."""

    def __init__(self) -> None:
        self.started = monotonic()
        self.doing = ""
        self.bar: Any = None
        self.done = 0

    def __enter__(self) -> ProgressBar:
        return self

    def __exit__(self, *raised: object) -> None:
        self._finish()

    def show(self, doing: str, done: int, total: int) -> None:
        """So many steps of so many are done of what is being done."""
        if doing != self.doing:
            if self.doing:
                self._finish()
                self.started = monotonic()
            self.doing = doing
        # The bar steers the cursor, which a guarded stream would not let through: it goes past that.
        if self.bar is None and monotonic() - self.started > WAIT_S:
            stream = sys.__stderr__ if isinstance(sys.stderr, Guarded) else sys.stderr
            self.bar = click.progressbar(length=total, label=doing, file=stream)
            self.bar.__enter__()
            self.done = 0
        if self.bar is not None:
            self.bar.update(done - self.done)
            self.done = done

    def _finish(self) -> None:
        if self.bar is not None:
            self.bar.render_finish()
        self.bar = None
