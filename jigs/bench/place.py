"""Where the bench folder of this user is."""

from __future__ import annotations

import os
import sys
from pathlib import Path


def bench_path(named: str | None) -> Path:
    """The bench folder: the one that is named, or the usual place of the system for one user's data."""
    if named:
        return Path(named).expanduser()
    home, data = (os.environ.get(name, "") for name in ("HOME", "XDG_DATA_HOME"))
    if sys.platform == "linux" and home.startswith("/"):
        # platformdirs finds the same, but loading it takes as long as twenty files here.
        return Path(data if data.startswith("/") else f"{home}/.local/share") / "coilwright"
    from platformdirs import user_data_path  # the only use of it

    return user_data_path("coilwright", appauthor=False)
