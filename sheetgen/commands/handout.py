"""sheetgen handout FILE...: question and answer sheets for a class."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path, PurePath

import click

from sheetgen.commands.common import files_argument, known_set_or_both, look_options, output_option
from sheetgen.commands.run import each_file
from sheetgen.commands.saying import say
from sheetgen.commands.writing import OutputFolder


@click.command(name="handout", short_help="Write question and answer sheets for a class.")
@files_argument
@click.option("--versions", type=click.IntRange(1, 26), default=1, show_default=True,
              help="How many different sheets of questions, A, B, C, ...")
@click.option("--seed", type=int, default=1, show_default=True, help="Another number gives other questions.")
@click.option("--harder", is_flag=True,
              help="Without the table of where each core ends: the class finds it from what the circuit is to do.")
@click.option("--fault", is_flag=True,
              help="Instead a fault to find: the drawing, what is seen, and in the answers the shortest plan.")
@click.option("--bad-practice", is_flag=True,
              help="Also an arrangement that is refused for a job as bad practice, with its warning on every sheet.")
@click.option("--large", is_flag=True, help="Large text.")
@output_option
@partial(look_options, colours=click.option(
    "--colours", callback=known_set_or_both, metavar="SET|both",
    help="Redraw in this colour set (`sheetgen list colours`), by what each core joins; both: one after the other, for "
         "a class that meets legacy and current work. Default: as found."))
def command(files: tuple[Path, ...], versions: int, seed: int, harder: bool, fault: bool, bad_practice: bool,
            large: bool, folder: Path, colours: str, mono: bool, paper: str) -> None:
    """Write NAME-handout.pdf, the circuit to draw, its state table to fill in and questions, and
    NAME-handout-answers.pdf.

    With --fault write NAME-fault-handout.pdf and its answers: the class finds one fault in each version, with the
    fewest readings. The same seed always gives the same questions. Every answer is worked out from the circuit.
    """
    from sheetgen.pipeline import Look
    from sheetgen.pipeline.handout import Wish, fault_sheets, handout_sheets

    if fault and harder:
        raise click.UsageError("--harder takes the table of cores away, and a fault to find has none: give one of "
                               "them.")
    look, output = Look(colours, mono, paper), OutputFolder(folder)
    wish = Wish(versions, seed, large, harder, bad_practice)

    def make(path: Path, data: bytes, name: PurePath) -> None:
        asked, answered = (fault_sheets if fault else handout_sheets)(data, look, wish, path.name)
        for file, pdf in ((name, asked), (name.with_stem(f"{name.stem}-answers"), answered)):
            say(str(output.write(file, pdf)))

    sys.exit(each_file(files, make, "-fault-handout.pdf" if fault else "-handout.pdf"))
