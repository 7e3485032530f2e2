"""sheetgen changes OLD NEW: what is different between two descriptions of one dwelling."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import output_option
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import STATUS, alone, status_alone
from sheetgen.commands.saying import csv_text, say
from sheetgen.commands.writing import OutputFolder

if TYPE_CHECKING:
    from sheetgen.model.job import Job
    from sheetgen.stock.changes import Difference


@click.command(name="changes", short_help="What is different between two descriptions of a dwelling.")
@click.argument("old", type=click.Path(path_type=Path))
@click.argument("new", type=click.Path(path_type=Path))
@click.option("--format", "form", type=click.Choice(["text", "csv", "pdf"]), default="text", show_default=True,
              help="pdf writes OLD-to-NEW-changes.pdf.")
@output_option
def command(old: Path, new: Path, form: str, folder: Path) -> None:
    """Say what is different: board, accessories, cables, lamps, findings.

    Two descriptions that say the same in another order differ in nothing. For the steps from one circuit to another
    see `sheetgen compare`.

    Exit status 0: done. 2: a description could not be understood. 3: a fault of the program or of writing.
    """
    jobs: list[Job] = []
    worst = max(STATUS[alone(str(path), _understand(path, jobs))[0]] for path in (old, new))
    if worst:
        sys.exit(worst)

    def tell() -> None:
        from sheetgen.stock.changes import differences_between

        found = differences_between(jobs[0], jobs[1])
        if form == "pdf":
            from sheetgen.stock.changes.pages import changes_sheet

            sheet = changes_sheet(jobs[0], jobs[1], found)
            say(str(OutputFolder(folder).write(f"{old.stem}-to-{new.stem}-changes.pdf", sheet)))
        elif form == "csv":
            rows = [(d.part, d.name, d.what, d.before, d.after) for d in found]
            click.echo(csv_text([("part", "name", "what", "before", "after"), *rows]), nl=False)
        else:
            _tell(found)

    sys.exit(status_alone(f"{old} and {new}", tell))


def _understand(path: Path, jobs: list[Job]) -> Callable[[], None]:
    def act() -> None:
        from sheetgen.pipeline import undrawn_job

        jobs.append(undrawn_job(read_file(path), path.name))

    return act


def _tell(found: Sequence[Difference]) -> None:
    """To read: each part, each thing, how it was and how it is."""
    from sheetgen.stock.changes.pages import NOTHING

    last = ("", "")
    for d in found:
        if d.part != last[0]:
            say(d.part)
        if d.part == "Findings":
            say(f"  {d.after}: {d.name}: {d.what}{d.was}")
        else:
            if (d.part, d.name) != last and d.name:
                say(f"  {d.name}")
            say(f"    {f'{d.what}: ' if d.what else ''}{d.before or 'not given'} -> {d.after or 'not given'}")
        last = (d.part, d.name)
    if not found:
        say(NOTHING)
