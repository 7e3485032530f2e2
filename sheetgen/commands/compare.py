"""sheetgen compare A B: two circuits side by side, and what to change to make the first into the second."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import look_options, output_option
from sheetgen.commands.reading import ENDINGS, read_file
from sheetgen.commands.run import STATUS, UNDERSTOOD, Done, alone, status_alone
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder
from sheetgen.model.comparison import Change

if TYPE_CHECKING:
    from sheetgen.pipeline.comparison import Wanted

NOT_PROVEN = 1  # the steps do not lead to the wanted circuit: they are not to be followed


@click.command(name="compare", short_help="Two circuits side by side, and what to change.")
@click.argument("before", type=click.Path(path_type=Path))
@click.argument("after")
@click.option("--renew", is_flag=True, help="Replace every cable of the other colour set; default: keep what can stay.")
@click.option("--print", "show", is_flag=True, help="Print the steps instead of writing a file.")
@output_option
@look_options
def command(before: Path, after: str, renew: bool, show: bool, folder: Path, colours: str, mono: bool,
            paper: str) -> None:
    """Write BEFORE-to-AFTER.pdf: both drawings, what differs, and the steps from the first to the second.

    AFTER is another description, or a method for the same rooms: "at the rose, conversion",
    "at the switch, two strappers, singles in conduit"; or a colour set alone, "legacy", for the same wiring in those
    colours. Every step is done on the dead circuit; what they lead to is solved and compared with the wanted circuit.

    Exit status 0: written. 1: the steps are not proven. 2: a description could not be understood.
    3: the comparison could not be written, or a fault of the program.
    """
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.comparison import change_of, comparison_sheet

    first, second, status = _sides(before, after)
    if status:
        sys.exit(status)

    def make() -> Done:
        if show:
            return Done(status=_print(change_of(first, second, renew)))
        look, names = Look(colours, mono, paper), (before.name, Path(after).name)
        pdf, proven = comparison_sheet(first, second, look, names, renew)
        name = f"{before.stem}-to-{Path(after).stem if _is_file(after) else after}.pdf"
        say(str(OutputFolder(folder).write(name.replace(", ", "-").replace(" ", "-"), pdf)))
        return Done(status=UNDERSTOOD if proven else NOT_PROVEN)

    sys.exit(status_alone(f"{before} and {after}", make))


def _is_file(after: str) -> bool:
    return Path(after).suffix.lower() in ENDINGS


def _sides(before: Path, after: str) -> tuple[bytes, Wanted, int]:
    """Both sides; what is wrong with each is said under its own name. Not 0: one of them cannot be used."""
    from sheetgen.pipeline import wiring_of
    from sheetgen.pipeline.comparison import wanted_of

    there: list[bytes] = []
    wanted: list[Wanted] = []

    def understand() -> None:
        there.append(read_file(before))
        wiring_of(there[0])

    def understand_wanted() -> None:
        wanted.append(read_file(Path(after)) if _is_file(after) else wanted_of(after, there[0]))
        if isinstance(wanted[0], bytes | str):
            wiring_of(wanted[0])

    came_to, _ = alone(str(before), understand)
    worst = STATUS[came_to]
    if _is_file(after) or not worst:
        came_to, _ = alone(after if _is_file(after) else f"'{after}'", understand_wanted)
        worst = max(worst, STATUS[came_to])
    return (there[0], wanted[0], worst) if not worst else (b"", b"", worst)


def _print(change: Change | None) -> int:
    """The steps on standard output."""
    if change is None:
        say("These are other lights: there are no steps from one to the other.")
        return UNDERSTOOD
    if not change.steps:
        say(change.nothing)
    for number, step in enumerate(change.steps, 1):
        say(f"{number:>3}  {step.says}")
    if change.keeps:
        say(change.keeps)
    say(f"{'Proven' if change.proven else 'NOT PROVEN'}: {'; '.join(change.proof)}.")
    for found in change.left:
        say(f"Noticed afterwards: {found}")
    return UNDERSTOOD if change.proven else NOT_PROVEN
