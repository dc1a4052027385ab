"""Every test has an empty bench folder of its own: what is measured on this machine changes no result."""

from __future__ import annotations

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The bench folder of the test; not made yet."""
    path = tmp_path / "bench"
    monkeypatch.setenv("COILWRIGHT_BENCH", str(path))
    return path
