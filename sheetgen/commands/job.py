"""sheetgen job FILE...: the job sheet of each, as PDF."""

from __future__ import annotations

import sys
from pathlib import Path, PurePath

import click

from sheetgen.commands.common import files_argument, look_options, output_option
from sheetgen.commands.reading import as_text
from sheetgen.commands.run import Done, each_file
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder
from sheetgen.model.problems import nearest


@click.command(name="job", short_help="Write the job sheet as PDF.")
@files_argument
@output_option
@look_options
@click.option("--pages", help="Only these pages, with commas between: card,wiring. Default: all.")
@click.option("--short", is_flag=True, help="Only what is left behind: card, findings and wiring.")
def command(files: tuple[Path, ...], folder: Path, colours: str, mono: bool, paper: str, pages: str | None,
            short: bool) -> None:
    """Write the job sheet of each description: output/NAME.pdf.

    A folder stands for every description below it; their sheets lie in the same folders below output/. Files of one
    name are told apart by their folders.

    Exit status 0: all written. 2: a file could not be understood; nothing is written for it, the others are.
    3: a sheet could not be written, or a fault of the program. The highest counts.
    """
    from sheetgen.model.reading import Gravity
    from sheetgen.pipeline import Look, job_of, sheet_of

    kinds, look, output = _kinds(pages, short), Look(colours, mono, paper), OutputFolder(folder)

    def make(path: Path, data: bytes, name: PurePath) -> Done:
        job = job_of(data, look, as_text(PurePath(path.name)))
        say(str(output.write(name, sheet_of(job, look, kinds))))
        return Done(danger=any(f.gravity is Gravity.DANGER for f in job.reading.findings))

    sys.exit(each_file(files, make, ".pdf"))


def _kinds(pages: str | None, short: bool) -> tuple[str, ...] | None:
    """The names of pages asked for, None for all."""
    from sheetgen.pages import PAGES, SHORT

    if short and pages:
        raise click.UsageError("--short and --pages both choose the pages: give one of them.")
    if not pages:
        return SHORT if short else None
    kinds, known = tuple(p.strip() for p in pages.split(",")), [kind.name for kind in PAGES]
    for kind in kinds:
        if kind not in known:
            raise click.BadParameter(f"There is no page '{kind}'. {nearest(kind, known)}", param_hint="--pages")
    return kinds
