"""The golden files can be read back, and a failing one leaves a picture of both drawings."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import golden
import pytest

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.render.record import record_drawings


def every_mark() -> Drawing:
    """A drawing of each kind of mark."""
    draft = Draft()
    draft.line(0, 0, 10, 0)
    draft.rectangle(0, 0, 10, 5, Role.CUT)
    draft.bar(2, 2, 3, 1)
    draft.circle(5, 2, 1, Role.HOLE)
    draft.disc(8, 2, 1)
    draft.annulus(20, 5, 4, 3)
    draft.arc(20, 5, 5, 0, 90, Role.AID)
    draft.text(0, 8, 'it\'s "5 mm" wide, (x, y) = z', 2.5, anchor="middle", bold=True)
    return draft.trimmed("every mark")


def test_a_record_can_be_read_back() -> None:
    text = record_drawings([every_mark()])
    (_, marks) = golden.drawings_of(text)
    assert [type(mark).__name__ for mark in marks] == [type(mark).__name__ for mark in every_mark().marks]
    back = Drawing(marks=tuple(marks), width_mm=every_mark().width_mm, height_mm=every_mark().height_mm)
    assert record_drawings([replace(back, name="every mark")]) == text


def test_a_heading_that_moves_changes_its_own_line_only() -> None:
    def drawn(heading_y: float) -> list[str]:
        draft = Draft()
        draft.line(0, 0, 10, 0)
        draft.disc(5, 5, 2)
        draft.text(-3, heading_y, "Heading", 3.0)
        return record_drawings([draft.trimmed("a drawing")]).splitlines()[1:]

    before, after = drawn(12.0), drawn(20.0)
    assert [one == other for one, other in zip(before, after, strict=True)] == [True, True, False]


def test_a_golden_that_fails_shows_the_change_and_leaves_a_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(golden, "_FOLDER", tmp_path)
    monkeypatch.setattr(golden, "PICTURES", tmp_path / "pictures")
    monkeypatch.delenv("GOLDENS", raising=False)
    (tmp_path / "one.txt").write_text(record_drawings([every_mark()]), encoding="utf-8")
    golden.assert_drawn_as_golden("one.txt", [every_mark()])
    draft = Draft()
    draft.disc(8, 2, 1.5)
    with pytest.raises(AssertionError, match=r"r=1\.500[\s\S]*side by side: .*one\.svg"):
        golden.assert_drawn_as_golden("one.txt", [draft.trimmed("another")])
    picture = (tmp_path / "pictures" / "one.svg").read_text(encoding="utf-8")
    assert "golden" in picture
