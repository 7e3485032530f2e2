"""sheetgen check FILE...: what is wrong with a circuit."""

from __future__ import annotations

import sys
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import files_argument
from sheetgen.commands.run import DANGER, UNDERSTOOD, Done, each_file
from sheetgen.commands.saying import say

if TYPE_CHECKING:
    from sheetgen.model.reading import Finding


@click.command(name="check", short_help="Say what is wrong with a circuit.")
@files_argument
def command(files: tuple[Path, ...]) -> None:
    """Say what is dangerous, what should be put right, and what is worth noting.

    A folder stands for every description below it.

    Exit status 0: no danger found. 1: a danger. 2: a file cannot be understood. 3: a fault of the program.
    The highest counts.
    """
    sys.exit(each_file(files, _check, did="checked"))


def _check(path: Path, data: bytes, name: PurePath) -> Done:
    from sheetgen.model.reading import Gravity
    from sheetgen.pipeline import findings_of

    findings = findings_of(data)
    say(f"{path}: {_count(len(findings))}")
    for finding in findings:
        _tell(finding)
    danger = any(f.gravity is Gravity.DANGER for f in findings)
    return Done(danger, DANGER if danger else UNDERSTOOD)


def _tell(finding: Finding) -> None:
    """What is found, then on lines of their own the setting it shows in, what it means, the cure, the clause."""
    say(f"  {finding.gravity.value}: {finding.says}")
    for lead, words in (("Seen with ", finding.setting), ("", finding.means), ("Cure: ", finding.cure),
                        ("Clause: ", finding.clause)):
        if words:
            say(f"      {lead}{words}")


def _count(number: int) -> str:
    return "nothing found" if number == 0 else "one finding" if number == 1 else f"{number} findings"
