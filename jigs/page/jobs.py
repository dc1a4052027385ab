"""Work that takes seconds, in the background: how far it is, and what came of it. One at a time, the rest wait."""

from __future__ import annotations

import secrets
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Lock, Thread
from typing import Any

from layouts.errors import Refusal

MOST_KEPT = 8
"""Jobs that are remembered, with what they made."""

Progress = Callable[[str, int, int], None]


@dataclass(slots=True)
class Job:
    """A piece of work: what is being done, how many steps of how many; then what was made, or why nothing was."""

    doing: str = "Waiting"
    done: int = 0
    total: int = 0
    made: Any = None
    refusal: Refusal | None = None
    is_over: bool = False
    name: str = field(default_factory=lambda: secrets.token_urlsafe(9))

    def show(self, doing: str, done: int, total: int) -> None:
        """So many steps of so many are done of what is being done."""
        self.doing, self.done, self.total = doing, done, total


class Jobs:
    """The jobs of a page that runs."""

    def __init__(self) -> None:
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._one_at_a_time = Lock()

    def start(self, work: Callable[[Progress], Any]) -> Job:
        """Begins some work, which is told whom to tell how far it is."""
        job = Job()
        self._jobs[job.name] = job
        while len(self._jobs) > MOST_KEPT:
            self._jobs.popitem(last=False)
        Thread(target=self._run, args=(job, work), daemon=True).start()
        return job

    def find(self, name: str) -> Job | None:
        """The job of that name, as long as it is remembered."""
        return self._jobs.get(name)

    def _run(self, job: Job, work: Callable[[Progress], Any]) -> None:
        with self._one_at_a_time:
            try:
                job.made = work(job.show)
            except Refusal as refusal:
                job.refusal = refusal
            except Exception as error:  # noqa: BLE001 - whatever it is, the page must hear that it is over
                job.refusal = Refusal(f"something went wrong in Coilwright itself: {type(error).__name__}", "try again")
            finally:
                job.is_over = True


jobs = Jobs()
