"""sheetgen draw FILE: one drawing as SVG, PDF or PNG."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import file_argument, look_options, output_option
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import status_alone
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder


@click.command(name="draw", short_help="Write the wiring drawing as SVG, PDF or PNG.")
@file_argument
@click.option("--format", "form", type=click.Choice(["svg", "pdf", "png"]), default="svg", show_default=True)
@click.option("--diagram", is_flag=True, help="The circuit diagram instead of the wiring drawing.")
@output_option
@look_options
def command(file: Path, form: str, diagram: bool, folder: Path, colours: str, mono: bool, paper: str) -> None:
    """Write the wiring drawing of a description: output/NAME.svg.

    A circuit that needs several sheets gives NAME-1.svg, NAME-2.svg, ... (one PDF holds them all).
    """
    from sheetgen.pipeline import Look, drawing_files

    look, output = Look(colours, mono, paper), OutputFolder(folder)

    def make() -> None:
        for ending, content in drawing_files(read_file(file), look, form, diagram=diagram, source=file.name):
            say(str(output.write(f"{file.stem}{'-diagram' if diagram else ''}{ending}.{form}", content)))

    sys.exit(status_alone(str(file), make))
