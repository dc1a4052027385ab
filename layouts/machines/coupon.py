"""The coupon of a laser or a knife: what is cut once, uncorrected, to measure it. All mm.

Its holes are a vernier to shanks in steps of 0.1 mm: each lies on another place of a step, so that together they tell
a hole's gain to a quarter of one. A row of ten blocks, cut one by one from the same sheet, leaves a gap in a window as
long as they were drawn together: eleven kerfs, which even a rule reads.
"""

from __future__ import annotations

from layouts.drawing.marks import Draft, Drawing
from layouts.drawing.pens import Role
from layouts.drawing.words import FIGURE, HEADING, WORDS

HOLES_MM = (4.0, 5.025, 6.05, 8.075)
DISCS_MM = (8.0, 12.0)
BLOCKS, BLOCK_MM, BLOCK_HIGH_MM = 10, 10.0, 11.0
WINDOW_MM = BLOCKS * BLOCK_MM
WINDOW_HIGH_MM = 12.0
ACROSS_MM, ALONG_MM = 100.0, 50.0  # between the crosses

_WIDTH_MM, _HEIGHT_MM = 116.0, 74.0
_ARM_MM = 3.0


def coupon_plate() -> Drawing:
    """The plate: holes, the window for the blocks, and three crosses to measure lengths between."""
    draft = Draft()
    draft.rectangle(0.0, 0.0, _WIDTH_MM, _HEIGHT_MM, Role.CUT)
    left, foot = (_WIDTH_MM - ACROSS_MM) / 2, 7.0
    for x, y in ((left, foot), (left + ACROSS_MM, foot), (left, foot + ALONG_MM)):
        draft.cross(x, y, _ARM_MM, Role.TICK)
    draft.text(left + ACROSS_MM / 2, foot - 1.0, f"across {ACROSS_MM:g}, cross to cross", WORDS, anchor="middle")
    draft.text(left - 1.2, foot + ALONG_MM / 2, f"along {ALONG_MM:g}", WORDS, anchor="middle", angle_deg=90)
    window = (_WIDTH_MM - WINDOW_MM) / 2
    draft.rectangle(window, 14.0, WINDOW_MM, WINDOW_HIGH_MM, Role.CUT)
    draft.text(_WIDTH_MM / 2, 28.0, "window: ten blocks pushed together, try the gap", WORDS, anchor="middle")
    x, y = 26.0, 45.0
    for size in HOLES_MM:
        draft.circle(x, y, size / 2, Role.CUT)
        draft.text(x, y - 8.6, f"{size:.3f}", FIGURE, anchor="middle")
        x += 20.0
    draft.text(14.0, 64.0, "Coupon: cut it uncorrected", HEADING, bold=True)
    draft.text(14.0, 59.6, "holes: the thickest shank in, the next that stays out", WORDS)
    return draft.drawing(_WIDTH_MM, _HEIGHT_MM, "the plate of the coupon")


def coupon_block() -> Drawing:
    """One of the ten blocks."""
    draft = Draft()
    draft.rectangle(0.0, 0.0, BLOCK_MM, BLOCK_HIGH_MM, Role.CUT)
    return draft.drawing(BLOCK_MM, BLOCK_HIGH_MM, "a block of the coupon")


def coupon_disc(size_mm: float) -> Drawing:
    """A disc whose diameter a caliper reads."""
    draft = Draft()
    draft.circle(size_mm / 2, size_mm / 2, size_mm / 2, Role.CUT)
    draft.text(size_mm / 2, size_mm / 2 - 0.8, f"{size_mm:g}", FIGURE, anchor="middle")
    return draft.drawing(size_mm, size_mm, f"the disc of {size_mm:g} mm")
