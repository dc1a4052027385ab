"""The command `coilwright sheet`: a group with one command for each printed aid."""

from __future__ import annotations

from jigs.cli.lazy import LazyGroup

command = LazyGroup(
    name="sheet",
    package="jigs.cli.sheet",
    commands={
        "printer-check": "Rulers, base lines and a card outline: is this printer true?",
        "ring-card": "Rings and their inside as discs at true size, and a wedge that reads the outside.",
        "dowel": "A strip to wrap round a dowel: where to drill for the wire's tail, and with what.",
        "bench-pin": "A bench pin to saw: V, starter kerfs, coil groove and guide.",
        "ruler": "A ruler to cut out, as long as you like: what is longer than the paper is split with --tile.",
    },
    help="""A true-scale sheet to print, as PDF, SVG or PNG preview.

\b
  coilwright sheet printer-check --paper letter
  coilwright sheet ring-card --wire "16 AWG" --inside "5 mm" --tolerance "0.1 mm"
  coilwright sheet bench-pin --hand left --format pdf,svg

There is no scale and no zoom: what does not fit on the paper is refused, or split into parts to join with --tile.
""",
)
