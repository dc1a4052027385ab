"""The size of a bank card, as its standard has it. All mm."""

from __future__ import annotations

# ISO/IEC 7810 ID-1; the limits of the size from memory.
WIDTH_MM, HEIGHT_MM, RADIUS_MM = 85.60, 53.98, 3.18
WIDTH_LIMITS_MM, HEIGHT_LIMITS_MM = (85.47, 85.72), (53.92, 54.03)
