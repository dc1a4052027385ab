"""The commands `measure ...`: the size of a rod, wire, ring or coil from what was read."""

from __future__ import annotations

from jigs.cli.lazy import LazyGroup

command = LazyGroup(
    name="measure",
    package="jigs.cli.measure",
    commands={
        "rod": "What you wind on: wrap strip, pins through paper, unwound wire, or across.",
        "wire": "Wire: close turns, weight and length, or across; and which gauge it is.",
        "ring": "Closed rings: a chain of them, or one across.",
        "coil": "A released coil: turns straightened, or across.",
    },
    help="""The size of a rod, wire, a ring or a coil from what you read, and how far it can be trusted.

No caliper? `coilwright sheet measuring` prints strips, wedges and steps to read with. Give every reading that you
have: they are brought together, and those that contradict one another are named. In a terminal without readings it
asks.

\b
  coilwright measure rod --strip "7.95 mm" --strip "7.90 mm" --strip "7.95 mm" --keep "blue pen"
  coilwright measure wire --strip "1.02 mm" --turns 40
  coilwright measure ring --chain "102.5 mm" --rings 20 --wire "1.2 mm"
""",
)
