"""sheetgen survey [FILE]: forms to fill in by hand at the open accessory."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import output_option
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import UNDERSTOOD, Done, status_alone
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder

ALL_KNOWN = "Everything in this description is known: there is nothing to survey."


@click.command(name="survey", short_help="Forms to fill in by hand at the open accessory.")
@click.argument("file", type=click.Path(path_type=Path), required=False)
@output_option
@click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", show_default=True, help="Sheet size.")
def command(file: Path | None, folder: Path, paper: str) -> None:
    """Write survey.pdf: blank forms for a usual house, in the order and the words of a description.

    With a FILE write NAME-survey.pdf: forms for what that description does not know yet (accessories not opened, ends
    written '?', cables seen at one end), with what it knows filled in. The forms are black on white and survive a bad
    printer.

    Exit status 0: done. 2: the description cannot be understood. 3: the file could not be written, or a fault of the
    program.
    """

    def make() -> Done:
        from sheetgen.pipeline import Look
        from sheetgen.pipeline.survey import forms_for, pack

        if file is None:
            say(str(OutputFolder(folder).write("survey.pdf", pack(paper))))
            return Done(status=UNDERSTOOD)
        pdf = forms_for(read_file(file), Look("", True, paper), file.name)
        say(ALL_KNOWN if pdf is None else str(OutputFolder(folder).write(f"{file.stem}-survey.pdf", pdf)))
        return Done(status=UNDERSTOOD)

    sys.exit(status_alone(str(file or "survey"), make))
