"""A bar on the error stream for work that takes over a second, and nothing for work that does not."""

from __future__ import annotations

import sys
from time import monotonic
from typing import Any

import click

WAIT_S = 1.0


class Progress:
    """Counts steps of a known total; the bar appears with the first step that ends after a second."""

    def __init__(self, label: str) -> None:
        self.label = label
        self.started = monotonic()
        self.bar: Any = None
        self.done = 0

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, *raised: object) -> None:
        if self.bar is not None:
            self.bar.render_finish()

    def show(self, done: int, total: int) -> None:
        """So many steps of so many are done."""
        if self.bar is None and monotonic() - self.started > WAIT_S:
            self.bar = click.progressbar(length=total, label=self.label, file=sys.stderr)
            self.bar.__enter__()
            self.done = 0
        if self.bar is not None:
            self.bar.update(done - self.done)
            self.done = done
