"""Where the bench folder of this user is."""

from __future__ import annotations

from pathlib import Path


def bench_path(named: str | None) -> Path:
    """The bench folder: the one that is named, or the usual place of the system for one user's data."""
    if named:
        return Path(named).expanduser()
    from platformdirs import user_data_path  # the only use of it

    return user_data_path("coilwright", appauthor=False)
