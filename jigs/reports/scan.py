"""What was found in a scan of a sheet, in lines: for a terminal and for the picture of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from layouts.scanning.reading import Scan


def scan_lines(scan: Scan) -> Iterator[str]:
    """Markers, residuals, edges, resolution, scale, factors and ink, a line each."""
    fit, resolution = scan.fit, scan.picture.resolution
    turned = ": it lay upside down, and is read so" if scan.is_upside_down else ""
    yield f"eight markers found, turned {fit.rotation_deg:+.2f} degrees{turned}"
    yield f"residuals: {fit.rms_mm:.4f} mm (root mean square), at most {fit.most_mm:.4f} mm"
    yield f"edges: {scan.edge_mm:.2f} mm soft"
    yield f"resolution: {resolution.across:g} dpi by {resolution.given}"
    if scan.yardstick:
        across, along = scan.true.a, scan.true.d
        yield f"scale: by the {scan.yardstick.name}; the picture times {across:.5f} across, {along:.5f} along"
    else:
        yield "scale: the scanner's own, not checked"
    yield f"printed over drawn: across {fit.across:.5f}, along {fit.along:.5f}, leaning {fit.skew_deg:+.3f} degrees"
    yield f"ink: every edge grows by {scan.spread_mm:+.4f} mm"


def scan_doubts(scan: Scan) -> Iterator[str]:
    """What a reader should know before trusting it."""
    more = "or scan it twice, turned by a quarter in between, and give both pictures"
    if scan.yardstick is None:
        yield (
            "nothing lies on the sheet to check the scanner by, so the result is relative: the size, across against "
            f"along and the lean are the scanner's as well; lay a bank card or a steel rule on the sheet, {more}"
        )
    elif len(scan.yardstick.sides) == 1:
        yield (
            "a rule checks the way that it lies, and neither the scanner's other way nor its lean, which are stated "
            f"the more widely; lay a bank card, {more}"
        )
