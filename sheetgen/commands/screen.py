"""sheetgen screen FILE...: a sheet for a screen, as one HTML file."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import UNDERSTOOD, each_file, files_argument, output_option, write_whole


@click.command(name="screen", short_help="Write a sheet for the screen, with switches to operate.")
@files_argument
@output_option
def command(files: tuple[Path, ...], folder: Path) -> None:
    """Write output/NAME.html: one file that needs no network.

    Operate the switches and see what is live; touch a conductor to see its role and what a meter would read there.
    """
    from sheetgen.pipeline.screen import screen_sheet

    def make(path: Path, data: bytes) -> int:
        click.echo(write_whole(folder, f"{path.stem}.html", screen_sheet(data, source=path.name).encode()))
        return UNDERSTOOD

    sys.exit(each_file(files, make))
