"""The command `machine`: measure a laser, a knife or a 3D printer once, and what it makes comes out right."""

from __future__ import annotations

from jigs.cli.lazy import LazyGroup

command = LazyGroup(
    name="machine",
    package="jigs.cli.machine",
    commands={
        "measure": "Record a machine from what its coupon reads.",
        "list": "Every machine that has been measured.",
        "show": "One machine: what sizes gain, and how far to trust them.",
        "forget": "Delete a machine's record.",
    },
    help="""Measure a laser, a knife or a 3D printer once, by a coupon; then what it makes comes out right.

\b
  coilwright cut coupon --material "birch plywood" --material-thickness "3 mm"
  coilwright machine measure "school laser" --material "birch plywood" --material-thickness "3 mm" \\
      --gap "1.6 mm..1.7 mm"
  coilwright cut hole-plate --outside "7.4 mm" --machine "school laser"

A machine is known by its name, the material and its thickness: a kerf differs with each.
""",
)
