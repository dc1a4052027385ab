"""What was found in a scan of a sheet, in lines: for a terminal and for the picture of it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from layouts.lengths import sized

if TYPE_CHECKING:
    from layouts.scanning.ink import Ink
    from layouts.scanning.reading import Scan
    from layouts.scanning.reversal import Turned


_SHOWS_A_CURVE_DPI = 400  # the bars are so fine that up to here a scanner blurs them enough


def scan_lines(found: Scan | Turned, ink: Ink | str) -> Iterator[str]:
    """Markers, residuals, edges, resolution, scale, factors and ink, a line each."""
    fit = found.fit
    for number, scan in enumerate(found.pictures, 1):
        one = f"picture {number}: " if len(found.pictures) > 1 else ""
        seen, resolution = scan.seen, scan.picture.resolution
        turned = ": it lay upside down, which is allowed for" if scan.is_upside_down else ""
        yield f"{one}{len(scan.markers)} markers found, turned {seen.rotation_deg:+.2f} degrees{turned}"
        yield f"{one}residuals: {sized(seen.rms_mm, 4)} (root mean square), at most {sized(seen.most_mm, 4)}"
        yield f"{one}edges: {sized(scan.edge_mm, 2)} soft"
        yield f"{one}resolution: {resolution.across:g} dpi by {resolution.given}"
    size = f"the picture times {found.true.a:.5f} across, {found.true.d:.5f} along"
    names = dict.fromkeys(scan.yardstick.name for scan in found.pictures if scan.yardstick)
    if names:
        yield f"scale: by the {' and the '.join(names)}; {size}"
    else:
        yield "scale: the scanner's own, not checked"
    if found.scanner:
        ratio, lean_deg = found.scanner
        yield f"the scanner: across to along {ratio:.5f} to 1, leaning {lean_deg:+.3f} degrees; the turn takes this out"
    yield f"printed over drawn: across {fit.across:.5f}, along {fit.along:.5f}, leaning {fit.skew_deg:+.3f} degrees"
    if isinstance(ink, str):
        yield f"ink: left out: {ink}"
    elif ink.curve is None:
        finer = found.pictures[0].picture.resolution.across > _SHOWS_A_CURVE_DPI
        yield (
            f"ink: every edge grows by {ink.spread_mm:+.3f} mm, give or take {ink.edge_mm:.2f}: the picture is too "
            f"sharp to show the scanner's tone curve in its bars{'; at 300 dpi it may show' if finer else ''}"
        )
    else:
        yield (
            f"ink: every edge grows by {ink.spread_mm:+.3f} mm, give or take {ink.edge_mm:.3f}; the scanner's tone "
            f"curve, a power of {ink.curve:.2f}, is taken out"
        )


def scan_doubts(found: Scan | Turned) -> Iterator[str]:
    """What a reader should know before trusting it."""
    more = "or scan it twice, turned by a quarter in between, and give both pictures"
    yardsticks = [scan.yardstick for scan in found.pictures if scan.yardstick]
    if len(found.pictures) > 1:
        if not yardsticks:
            yield (
                "nothing lies on the sheet to check the scanner's size by: the ratio of across to along and the lean "
                "are certain; the size is the scanner's; lay a card or a steel rule on the sheet in one of the scans"
            )
    elif not yardsticks:
        yield (
            "nothing lies on the sheet to check the scanner by, so the result is relative: the size, the ratio of "
            f"across to along and the lean are the scanner's too; lay a bank card or a steel rule on the sheet, {more}"
        )
    elif not yardsticks[0].is_sure:
        yield (
            "the card is pale, and a shadow along it would look the same, so it is trusted no further than the "
            f"scanner's own scale; lay a darker card, scan sharper, {more}"
        )
    elif len(yardsticks[0].sides) == 1:
        yield (
            "a rule checks the scanner only in the direction that it lies; the other direction and the lean are stated "
            f"with a wider margin; lay a bank card, {more}"
        )
