"""The command line. Each command is a file under commands/, imported only when it is asked for."""

from __future__ import annotations

import gc
import importlib
import os
import sys

import click

from sheetgen.commands.saying import complain, printable
from sheetgen.model.problems import BadStyle, nearest

STOPPED = 130  # exit status of a run that was stopped by hand, as shells have it
NOT_READ_ON = 141  # of one whose output nobody reads on: 128 + SIGPIPE
OBJECTS_BEFORE_A_LOOK = 50_000  # for what is garbage in a ring: starting makes many objects, and all of them stay

# name -> module under sheetgen.commands that defines `command`
COMMANDS = {
    "job": "job",
    "draw": "draw",
    "states": "states",
    "check": "check",
    "stock": "stock",
    "changes": "changes",
    "new": "new",
    "compare": "compare",
    "handout": "handout",
    "gallery": "gallery",
    "screen": "screen",
    "survey": "survey",
    "identify": "identify",
    "fault": "fault",
    "desk": "desk",
    "list": "list_known",
}


class LazyCommands(click.Group):
    """A group whose commands are imported when they are used, so that starting is quick."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The commands in the order a newcomer meets them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, name: str) -> click.Command | None:
        """The command of that name, or None."""
        if name not in COMMANDS:
            return None
        found = importlib.import_module(f"sheetgen.commands.{COMMANDS[name]}").command
        return found if isinstance(found, click.Command) else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Name the nearest command where there is none of that name."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            raise click.UsageError(f"There is no command '{printable(args[0])}'. {nearest(args[0], COMMANDS)}", ctx)
        return super().resolve_command(ctx, args)

    def invoke(self, ctx: click.Context) -> object:
        """Run the command; a style file that cannot be used is said without a traceback."""
        gc.set_threshold(OBJECTS_BEFORE_A_LOOK)
        try:
            return super().invoke(ctx)
        except BadStyle as bad:
            complain(f"style: {bad}")
            ctx.exit(2)
        except BrokenPipeError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # nothing is left to be flushed into it
            ctx.exit(NOT_READ_ON)
        except KeyboardInterrupt:
            complain("Stopped.")
            ctx.exit(STOPPED)


@click.group(cls=LazyCommands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(package_name="sheetgen")
def main() -> None:
    """Job sheets for lighting circuits, from a short text description.

    Start with `sheetgen job FILE`: it writes output/NAME.pdf. `sheetgen check FILE` says what is wrong with a circuit.
    Nothing is written when a description cannot be understood.
    """
