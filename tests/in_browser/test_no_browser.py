"""Where there is no browser: said, and under CI a failure."""

from __future__ import annotations

import shutil

import pytest
from hands import path_of_browser


@pytest.fixture
def nothing(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """A machine without a browser."""
    monkeypatch.setattr(shutil, "which", lambda name: None)
    return monkeypatch


def test_under_ci_it_fails(nothing: pytest.MonkeyPatch):
    nothing.setenv("CI", "1")
    with pytest.raises(pytest.fail.Exception, match="no browser is installed here: none of chromium"):
        path_of_browser()


def test_elsewhere_it_says_why_it_is_skipped(nothing: pytest.MonkeyPatch):
    nothing.delenv("CI", raising=False)
    with pytest.raises(pytest.skip.Exception, match="no browser is installed here: none of chromium"):
        path_of_browser()
