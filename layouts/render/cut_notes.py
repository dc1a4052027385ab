"""What goes with a sheet to cut as plain text: what is on it, how it is cut, and the cautions."""

from __future__ import annotations

import textwrap

from layouts.cutting.board import CutSheet, Layer

_WIDE = 78
_DONE = {
    Layer.MARK: "words, black: as faint as can be read",
    Layer.ENGRAVE: "lines whose place counts, blue: scored into the surface, or drawn by a pen",
    Layer.CUT: "right through, red: holes before the outline that they are in",
}


def write_cut_notes(sheet: CutSheet) -> bytes:
    """The text, lines wrapped: what a file of drawing cannot say so that it is read."""
    layers = [layer for layer in Layer if any(sheet.on(layer))]
    lines = [sheet.title, "=" * len(sheet.title), ""]
    lines += ["All sizes are in millimetres: one unit of the drawing is 1 mm. Never scale it.", ""]
    lines += [f"Sheet: {sheet.board.words}", "Layers, in the order in which they are done:"]
    lines += [f"  {layer.value:8} {_DONE[layer]}" for layer in layers]
    lines.append("")
    for words in sheet.said:
        lines += [*textwrap.wrap(words, _WIDE, break_long_words=False, break_on_hyphens=False), ""]
    return "\n".join(lines).encode()
