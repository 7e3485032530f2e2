"""sheetgen fault FILE: from what is seen to what is broken."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import file_argument, output_option
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import UNDERSTOOD, Done, status_alone
from sheetgen.commands.saying import json_text, say
from sheetgen.commands.writing import OutputFolder

if TYPE_CHECKING:
    from sheetgen.model.finding_out import FaultFound

NOTHING_FITS = 1  # no single fault gives what was seen and read
MOST_SAID = 12  # faults named on a terminal


@click.command(name="fault", short_help="From what is seen to what is broken.")
@file_argument
@click.option("--seen", "said", multiple=True, metavar="WORDS",
              help="What is seen: 'Landing dead'; 'Hall L1, Top L2: Landing on'; 'trips'. May be given several times.")
@click.option("--print", "show", is_flag=True, help="Print the faults and the plan instead of writing a file.")
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True,
              help="json is for other programs; nothing is written.")
@click.option("--schema", is_flag=True, help="Print the JSON Schema of --format json instead.")
@output_option
@click.option("--mono", is_flag=True, help="For a black-and-white printer.")
@click.option("--paper", type=click.Choice(["a4", "a3"]), default="a4", show_default=True, help="Sheet size.")
def command(file: Path, said: tuple[str, ...], show: bool, form: str, schema: bool, folder: Path, mono: bool,
            paper: str) -> None:
    """Write NAME-fault.pdf: the faults that fit what is seen, and the shortest plan of tests that tells them apart.

    The description is the circuit as it is when sound. What is seen may also stand in it under `seen:`, and readings
    under `readings:`; run it again after each and it goes on from there. Other forms: 'Landing always on'; 'Landing on
    in 1 of 4'; 'Hall does nothing'; 'way 4 trips'; 'the rest works'.

    Exit status 0: some fault fits. 1: no single fault fits: something was misread, or there are two.
    2: the description or what is seen cannot be understood. 3: a fault of the program.
    """
    if schema:
        from sheetgen.find.value import fault_schema

        click.echo(json_text(fault_schema()), nl=False)
        return

    def look_for_it() -> Done:
        from sheetgen.pages.fault import it_trips
        from sheetgen.pipeline import Look
        from sheetgen.pipeline.finding_out import fault_search, fault_sheet

        data = read_file(file)
        search = fault_search(data, said)
        status = UNDERSTOOD if search.found.suspects else NOTHING_FITS
        if form == "json":
            from sheetgen.find.value import fault_value

            click.echo(json_text(fault_value(search.found)), nl=False)
            return Done(status=status)
        _tell(search.found, whole=show, trips=it_trips(search.seen))
        if not show:
            pdf = fault_sheet(data, search, Look("", mono, paper), file.name)
            say(str(OutputFolder(folder).write(f"{file.stem}-fault.pdf", pdf)))
        return Done(status=status)

    sys.exit(status_alone(str(file), look_for_it))


def _tell(found: FaultFound, whole: bool, trips: bool) -> None:
    """The faults that fit, likeliest first; the whole plan where asked for."""
    from sheetgen.pages.fault import ASSUMED, NOTHING_FITS, TOO_MANY, WITHIN

    if not found.suspects:
        say(NOTHING_FITS)
        return
    say(f"{len(found.suspects)} of {found.tried} faults fit. {ASSUMED}")
    for suspect in found.suspects if whole else found.suspects[:MOST_SAID]:
        say(f"{suspect.share:>5.0%}  {suspect.says} {suspect.look}".rstrip())
    if not whole and len(found.suspects) > MOST_SAID:
        say(f"       and {len(found.suspects) - MOST_SAID} more.")
    if trips:
        say(WITHIN)
    if not found.told_apart:
        say(TOO_MANY)
    if whole:
        _tell_plan(found)


def _tell_plan(found: FaultFound) -> None:
    from sheetgen.find.steps import in_order, numbered
    from sheetgen.model.words import CAUTION_SHORT
    from sheetgen.pages.plan_of_tests import NO_STEP, POSITIONS, SUPPLY, how_typed, in_words, rules_of

    steps, ends = numbered(found.plan)
    say("")
    say(CAUTION_SHORT)
    if not steps:
        say(NO_STEP)
        return
    for rule in rules_of([step.trial for step in steps]):
        say(rule)
    say(POSITIONS)
    for step in steps:
        at = in_words(step.trial.setting, dict(found.standings))
        say(f"{step.number:>3}  Supply {SUPPLY[step.trial.means]}{f', {at}' if at else ''}: {step.trial.says}.")
        for reads, goes_on in step.ways:
            say(f"       {reads}: {goes_on}")
    for end in ends:
        say(f"{end.letter:>3}  {' Or: '.join(found.suspects[i].says for i in end.left)}")
    if found.plan and (typed := how_typed(list(enumerate(in_order(found.plan), 1)))):
        say(f"In the file: {typed}")
