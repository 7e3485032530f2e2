"""sheetgen handout FILE...: question and answer sheets for a class."""

from __future__ import annotations

import sys
from pathlib import Path, PurePath

import click

from sheetgen.commands.common import files_argument, look_options, output_option
from sheetgen.commands.run import each_file
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder


@click.command(name="handout", short_help="Write question and answer sheets for a class.")
@files_argument
@click.option("--versions", type=click.IntRange(1, 26), default=1, show_default=True,
              help="How many different sheets of questions, A, B, C, ...")
@click.option("--seed", type=int, default=1, show_default=True, help="Another number gives other questions.")
@click.option("--fault", is_flag=True,
              help="Instead a fault to find: the drawing, what is seen, and in the answers the shortest plan.")
@click.option("--large", is_flag=True, help="Large text.")
@output_option
@look_options
def command(files: tuple[Path, ...], versions: int, seed: int, fault: bool, large: bool, folder: Path, colours: str,
            mono: bool, paper: str) -> None:
    """Write NAME-handout.pdf: the circuit to draw, its state table to fill in, questions; then all the answers.

    With --fault write NAME-fault-handout.pdf: the class finds one fault in each version, with the fewest readings.
    The same seed always gives the same questions. Every answer is worked out from the circuit.
    """
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.handout import fault_handout, handout_sheet

    look, output = Look(colours, mono, paper), OutputFolder(folder)

    def make(path: Path, data: bytes, name: PurePath) -> None:
        sheet = fault_handout if fault else handout_sheet
        pdf = sheet(data, look, versions=versions, seed=seed, large=large, source=path.name)
        say(str(output.write(name, pdf)))

    sys.exit(each_file(files, make, "-fault-handout.pdf" if fault else "-handout.pdf"))
