"""A group of commands that imports a command when it is called, and nothing for its help."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

import click


class LazyGroup(click.Group):
    """Finds the command NAME in the module `package`.NAME, as its attribute `command`."""

    def __init__(self, *, package: str, commands: Mapping[str, str], **kwargs: Any) -> None:
        # said here, since click's own words for it change from version to version
        super().__init__(subcommand_metavar="COMMAND [ARGS]...", **kwargs)
        self.package = package
        self.summaries = commands

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names in the order of the work."""
        return list(self.summaries)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, imported now; None if the group has no such command."""
        if cmd_name not in self.summaries:
            return None
        module = import_module(f"{self.package}.{cmd_name.replace('-', '_')}")
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """As click does, but an unknown name is refused with the known ones, nearest first."""
        name = args[0] if args else ""
        if args and not name.startswith("-") and self.get_command(ctx, name) is None:
            from layouts.errors import UnknownName

            raise UnknownName("command", name, self.list_commands(ctx))
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Lists names and summaries without importing a command."""
        with formatter.section("Commands"):
            formatter.write_dl(list(self.summaries.items()))
