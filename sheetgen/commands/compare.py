"""sheetgen compare A B: two circuits side by side, and what to change to make the first into the second."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import (
    NOT_UNDERSTOOD,
    UNDERSTOOD,
    look_options,
    output_option,
    read_file,
    say_problems,
    write_whole,
)
from sheetgen.model.comparison import Change
from sheetgen.model.problems import Refused

NOT_PROVEN = 1  # the steps do not lead to the wanted circuit: they are not to be followed


@click.command(name="compare", short_help="Two circuits side by side, and what to change.")
@click.argument("before", type=click.Path(path_type=Path))
@click.argument("after")
@click.option("--renew", is_flag=True, help="Replace every cable of the other colour set; default: keep what can stay.")
@click.option("--print", "show", is_flag=True, help="Print the steps instead of writing a file.")
@output_option
@look_options
def command(before: Path, after: str, renew: bool, show: bool, folder: Path, colours: str | None, mono: bool,
            paper: str) -> None:
    """Write BEFORE-to-AFTER.pdf: both drawings, what differs, and the steps from the first to the second.

    AFTER is another description, or a method for the same rooms: "at the rose, conversion",
    "at the switch, two strappers, singles in conduit". Every step is done on the dead circuit; what they lead to is
    solved and compared with the wanted circuit.

    Exit status 0: written. 1: the steps are not proven. 2: a description could not be understood.
    """
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.comparison import by_method, change_of, comparison_sheet

    look = Look(colours or "", mono, paper)
    name = before
    try:
        first = read_file(before)
        if Path(after).suffix in (".yaml", ".yml"):
            name = Path(after)
            second, stem = read_file(name), name.stem
        else:
            second, stem = by_method(after, first), after
        sources = (before.name, Path(after).name)
        if show:
            sys.exit(_print(change_of(first, second, renew)))
        pdf, proven = comparison_sheet(first, second, look, sources, renew)
    except Refused as refused:
        say_problems(name, refused)
        sys.exit(NOT_UNDERSTOOD)
    click.echo(write_whole(folder, f"{before.stem}-to-{stem}.pdf".replace(", ", "-").replace(" ", "-"), pdf))
    sys.exit(UNDERSTOOD if proven else NOT_PROVEN)


def _print(change: Change | None) -> int:
    """The steps on standard output."""
    if change is None:
        click.echo("These are other lights: there are no steps from one to the other.")
        return UNDERSTOOD
    for number, step in enumerate(change.steps, 1):
        click.echo(f"{number:>3}  {step.says}")
    click.echo(f"{'Proven' if change.proven else 'NOT PROVEN'}: {'; '.join(change.proof)}.")
    for found in change.left:
        click.echo(f"Noticed afterwards: {found}")
    return UNDERSTOOD if change.proven else NOT_PROVEN
