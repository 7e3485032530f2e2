"""sheetgen draw FILE: one drawing as SVG, PDF or PNG."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import UNDERSTOOD, each_file, file_argument, look_options, output_option, write_whole


@click.command(name="draw", short_help="Write the wiring drawing as SVG, PDF or PNG.")
@file_argument
@click.option("--format", "form", type=click.Choice(["svg", "pdf", "png"]), default="svg", show_default=True)
@click.option("--diagram", is_flag=True, help="The circuit diagram instead of the wiring drawing.")
@output_option
@look_options
def command(file: Path, form: str, diagram: bool, folder: Path, colours: str | None, mono: bool, paper: str) -> None:
    """Write the wiring drawing of a description: output/NAME.svg.

    A circuit that needs several sheets gives NAME-1.svg, NAME-2.svg, ... (one PDF holds them all).
    """
    from sheetgen.pipeline import Look, drawing_files

    look = Look(colours or "", mono, paper)

    def make(path: Path, data: bytes) -> int:
        for ending, content in drawing_files(data, look, form, diagram=diagram, source=path.name):
            click.echo(write_whole(folder, f"{path.stem}{'-diagram' if diagram else ''}{ending}.{form}", content))
        return UNDERSTOOD

    sys.exit(each_file([file], make))
