"""sheetgen screen FILE...: a sheet for a screen, as one HTML file."""

from __future__ import annotations

import sys
from pathlib import Path, PurePath

import click

from sheetgen.commands.common import files_argument, output_option
from sheetgen.commands.run import each_file
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder


@click.command(name="screen", short_help="Write a sheet for the screen, with switches to operate.")
@files_argument
@output_option
def command(files: tuple[Path, ...], folder: Path) -> None:
    """Write output/NAME.html: one file that needs no network.

    Operate the switches and see what is live; touch a conductor to see its role and what a meter would read there.
    """
    from sheetgen.pipeline.screen import screen_sheet

    output = OutputFolder(folder)

    def make(path: Path, data: bytes, name: PurePath) -> None:
        say(str(output.write(name, screen_sheet(data, source=path.name).encode())))

    sys.exit(each_file(files, make, ".html"))
