"""Every test has an empty bench folder of its own: what is measured on this machine changes no result.

Nor does how busy the machine is: hypothesis counts examples and not seconds.
"""

from __future__ import annotations

import gc
import itertools
import os
import sys
from pathlib import Path

import pytest
from hypothesis import settings

# The commands that tests start, and the tests themselves, are compiled once, whatever the shell around them says.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# One worker has one core: threads of numpy's linear algebra would only wait for one another.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Drawings are kept from test to test: looking through all of them for cycles, at every 700 new objects, finds none.
gc.set_threshold(200_000, 50, 100)

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")


_numbers = itertools.count()


@pytest.fixture(autouse=True)
def bench(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The bench folder of the test; not made yet."""
    path = tmp_path_factory.getbasetemp() / f"bench-{next(_numbers)}"
    monkeypatch.setenv("COILWRIGHT_BENCH", str(path))
    return path


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Tests in a browser are a command of their own: they are collected where they are named."""
    named = any("in_browser" in str(word) for word in config.args)
    return True if collection_path.name == "in_browser" and not named else None


def pytest_collection_finish() -> None:
    """Modules and tests stay until the end: no search for what may go looks through them again."""
    gc.freeze()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """All tests of one sheet or pack on one paper follow one another: one worker draws and reads it, once."""
    items.sort(key=_what_is_drawn)


def _what_is_drawn(item: pytest.Item) -> tuple[str, str, str]:
    given = item.callspec.params if hasattr(item, "callspec") else {}
    if {"name", "paper"} <= given.keys():
        return item.path.name, given["name"], given["paper"]
    return ("every_sheet", str(given["case"]), "") if "case" in given else ("~", "", "")
