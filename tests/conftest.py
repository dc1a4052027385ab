"""Every test has an empty bench folder of its own: what is measured on this machine changes no result.

Nor does how busy the machine is: hypothesis counts examples and not seconds.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")


@pytest.fixture(autouse=True)
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The bench folder of the test; not made yet."""
    path = tmp_path / "bench"
    monkeypatch.setenv("COILWRIGHT_BENCH", str(path))
    return path
