"""sheetgen job FILE...: the job sheet of each, as PDF."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import (
    UNDERSTOOD,
    each_file,
    files_argument,
    look_options,
    output_option,
    write_whole,
)
from sheetgen.model.problems import nearest


@click.command(name="job", short_help="Write the job sheet as PDF.")
@files_argument
@output_option
@look_options
@click.option("--pages", help="Only these pages, by name and comma: card,wiring. Default: all.")
def command(files: tuple[Path, ...], folder: Path, colours: str | None, mono: bool, paper: str,
            pages: str | None) -> None:
    """Write the job sheet of each description: output/NAME.pdf.

    Exit status 0: all written. 2: a file could not be understood; nothing is written for it, the others are.
    """
    from sheetgen.pages import PAGES
    from sheetgen.pipeline import Look, job_sheet

    kinds = tuple(p.strip() for p in pages.split(",")) if pages else None
    known = [kind.name for kind in PAGES]
    for kind in kinds or ():
        if kind not in known:
            raise click.BadParameter(f"There is no page '{kind}'. {nearest(kind, known)}", param_hint="--pages")
    look = Look(colours or "", mono, paper)

    def make(path: Path, data: bytes) -> int:
        pdf = job_sheet(data, look, source=path.name, kinds=kinds)
        click.echo(write_whole(folder, f"{path.stem}.pdf", pdf))
        return UNDERSTOOD

    sys.exit(each_file(files, make))
