"""The commands `record ...`: what came out of a batch, so that the next is right."""

from __future__ import annotations

from jigs.cli.lazy import LazyGroup

command = LazyGroup(
    name="record",
    package="jigs.cli.record",
    commands={
        "add": "Write down what came out; in a terminal it asks, box by box of the job card.",
        "list": "Every record, with what was expected.",
        "show": "One record, and what to wind the next batch on.",
        "correct": "Change some of a record.",
        "forget": "Take a record out.",
    },
    help="""What came out of a batch: from then on ring, plan and pack count on it.

A batch that came out too large or too small is recorded, and the plan names the mandrel for the next.

\b
  coilwright record add --wire "1.2 mm" --metal bronze --mandrel "5 mm" --blade 2/0 --ring-inside "5.15 mm"
  coilwright record list
  coilwright record correct 1 --ring-inside "5.05 mm"
""",
)
