"""sheetgen identify FILE: which end belongs to which."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import file_argument, output_option
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import UNDERSTOOD, Done, status_alone
from sheetgen.commands.saying import complain, json_text, say
from sheetgen.commands.writing import OutputFolder

if TYPE_CHECKING:
    from sheetgen.model.finding_out import Identified
    from sheetgen.model.wiring import Wiring

NOT_YET = 1  # nothing fits; or --write, while more than one way is left


@click.command(name="identify", short_help="Which cable end belongs to which, and what to test.")
@file_argument
@click.option("--seen", "said", multiple=True, metavar="WORDS",
              help="What is seen: 'Landing is worked by Hall and Top'; 'Hall on: Landing off'. May be given several "
                   "times.")
@click.option("--print", "show", is_flag=True, help="Print what is known and the plan instead of writing a file.")
@click.option("--write", "new", type=click.Path(path_type=Path), metavar="NEW.yaml",
              help="Where only one way is left, write the full description there; a file that is there stays.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True,
              help="json is for other programs; no sheet is written.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of --format json instead.")
@output_option
@click.option("--mono", is_flag=True, help="For a black-and-white printer.")
@click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", show_default=True, help="Sheet size.")
def command(file: Path, said: tuple[str, ...], show: bool, new: Path | None, form: str, schema: bool, folder: Path,
            mono: bool, paper: str) -> None:
    """Write NAME-identify.pdf: what is certain of the cable ends in a description, and the shortest plan of tests.

    A cable end that was seen at one accessory is written with `at:`. What the lamps do stands under `seen:`, readings
    that were taken under `readings:`; run it again after each and it goes on from there.

    Exit status 0: done. 1: no way of joining the ends fits, or --write while more than one is left.
    2: the description cannot be understood. 3: a file could not be written, or a fault of the program.
    """
    if schema:
        from sheetgen.find.value import identify_schema

        click.echo(json_text(identify_schema()), nl=False)
        return

    def look_for_it() -> Done:
        from sheetgen.pipeline import Look
        from sheetgen.pipeline.finding_out import identified, identify_sheet

        data = read_file(file)
        wiring, found = identified(data, said)
        status = NOT_YET if found.all and not found.candidates else UNDERSTOOD
        if form == "json":
            from sheetgen.find.value import identify_value

            click.echo(json_text(identify_value(found, frozenset(c.name for c in wiring.cables))), nl=False)
        else:
            _tell(found, wiring, whole=show)
            if not show and new is None:
                pdf = identify_sheet(data, wiring, found, Look("", mono, paper), file.name)
                say(str(OutputFolder(folder).write(f"{file.stem}-identify.pdf", pdf)))
        if new is not None:
            status = max(status, _write(found, new))
        return Done(status=status)

    sys.exit(status_alone(str(file), look_for_it))


def _write(found: Identified, new: Path) -> int:
    if not found.text:
        why = "nothing fits" if found.all and not found.candidates else "more than one way is left"
        why = found.stop.removeprefix("Stop: ") or why
        complain(f"{new} is not written: {why}.")
        return NOT_YET
    if new.exists():
        complain(f"{new} is there already and stays as it is. Give another name.")
        return NOT_YET
    say(str(OutputFolder(new.parent).write(new.name, found.text.encode())))
    return UNDERSTOOD


def _tell(found: Identified, wiring: Wiring, whole: bool) -> None:
    """How far it is known; the whole plan where asked for."""
    from sheetgen.pages.identify import NOTHING_FITS, how_many

    if found.all and not found.candidates:
        say(NOTHING_FITS)
        return
    if found.stop:
        say(f"{found.stop}.")
        return
    say(how_many(found))
    say(f"Taken for granted: {'; '.join(found.assumed)}.")
    for certain in found.certain if whole else ():
        say(f"Certain: {certain.end} {certain.core}: {certain.role}".replace(" :", ":"))
    for one, other in found.pairs or ():
        say(f"{one} and {other} are one cable.")
    if found.at_rose and found.pairs is not None:
        say(f"{found.says[0]}.")
    if whole and found.plan:
        _tell_plan(found)


def _tell_plan(found: Identified) -> None:
    from sheetgen.find.steps import in_order, numbered
    from sheetgen.model.words import CAUTION_SHORT
    from sheetgen.pages.identify import before
    from sheetgen.pages.plan_of_tests import RUN_AGAIN, SUPPLY, how_typed, in_words, rules_of

    steps, ends = numbered(found.plan)
    says = {e.letter: " Or: ".join(found.says[i] for i in e.left) if found.told_apart else RUN_AGAIN for e in ends}
    for line in ("", CAUTION_SHORT, before(found)):
        say(line)
    for rule in rules_of([step.trial for step in steps]):
        say(rule)
    for step in steps:
        at = in_words(step.trial.setting, dict(found.standings))
        say(f"{step.number:>3}  Supply {SUPPLY[step.trial.means]}{f', {at}' if at else ''}: {step.trial.says}.")
        for reads, goes_on in step.ways:
            say(f"       {reads}: {says.get(goes_on, goes_on)}")
    if found.plan and (typed := how_typed(list(enumerate(in_order(found.plan), 1)))):
        say(f"In the file: {typed}")
