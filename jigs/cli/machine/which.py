"""What names a machine's record: its name, and the material and thickness where it has several."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from jigs.cli.completing import complete_machines


def which_machine(function: Callable[..., Any]) -> Callable[..., Any]:
    """Adds NAME, --material and --material-thickness to a command."""
    thick = "And of what thickness, such as 3 mm."
    function = click.option("--material-thickness", "thickness", default="", metavar="LENGTH", help=thick)(function)
    function = click.option("--material", default="", metavar="TEXT", help="In which material.")(function)
    return click.argument("name", metavar="NAME", shell_complete=complete_machines)(function)
