"""sheetgen gallery: every wiring method drawn, in one PDF to print for a class."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import look_options, output_option
from sheetgen.commands.run import Done, status_alone
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder

NAME = "wiring-methods.pdf"


@click.command(name="gallery", short_help="Write every wiring method, drawn, as one PDF.")
@output_option
@look_options
def command(folder: Path, colours: str, mono: bool, paper: str) -> None:
    """Write wiring-methods.pdf: contents, and every arrangement with its name, a paragraph and its drawing.

    In the current colours, or in those of --colours.

    Exit status 0: written. 3: it could not be written, or a fault of the program.
    """
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.gallery import gallery_sheet

    def make() -> Done:
        say(str(OutputFolder(folder).write(NAME, gallery_sheet(Look(colours, mono, paper)))))
        return Done()

    sys.exit(status_alone("gallery", make))
