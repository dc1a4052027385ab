"""Every test has an empty bench folder of its own: what is measured on this machine changes no result.

Nor does how busy the machine is: hypothesis counts examples and not seconds.
"""

from __future__ import annotations

import gc
import itertools
import os
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

# The commands that tests start, and the tests themselves, are compiled once, whatever the shell around them says.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
# One worker has one core: threads of numpy's linear algebra would only wait for one another.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# Drawings are kept from test to test: to look through them for cycles takes longer than the few hundred megabytes are
# worth that hypothesis and readers of files leave in cycles.
gc.disable()

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")


_benches = tempfile.TemporaryDirectory(prefix="benches-")
_numbers = itertools.count()


def pytest_runtest_setup() -> None:
    """A bench folder for the test, not made yet. Not by a fixture, which takes a second over ten thousand tests."""
    os.environ["COILWRIGHT_BENCH"] = str(Path(_benches.name) / str(next(_numbers)))


@pytest.fixture
def bench() -> Path:
    """The bench folder of the test; not made yet."""
    return Path(os.environ["COILWRIGHT_BENCH"])


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """Tests in a browser are a command of their own: they are collected where they are named."""
    named = any("in_browser" in str(word) for word in config.args)
    return True if collection_path.name == "in_browser" and not named else None


def pytest_sessionfinish() -> None:
    """What is left goes with the process: pytest's own search at the end need not look through it."""
    gc.freeze()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """All tests of one sheet or pack on one paper follow one another: one worker draws and reads it, once."""
    items.sort(key=_what_is_drawn)


def _what_is_drawn(item: pytest.Item) -> tuple[str, str, str]:
    given = item.callspec.params if hasattr(item, "callspec") else {}
    if {"name", "paper"} <= given.keys():
        return item.path.name, given["name"], given["paper"]
    return ("every_sheet", str(given["case"]), "") if "case" in given else ("~", "", "")
