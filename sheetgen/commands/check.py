"""sheetgen check FILE...: what is wrong with a circuit."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import DANGER, UNDERSTOOD, each_file, files_argument


@click.command(name="check", short_help="Say what is wrong with a circuit.")
@files_argument
def command(files: tuple[Path, ...]) -> None:
    """Say what is dangerous, what should be put right, and what is worth noting.

    Exit status 0: no danger found. 1: a danger. 2: a file cannot be understood.
    """
    sys.exit(each_file(files, _check))


def _check(path: Path, data: bytes) -> int:
    from sheetgen.model.reading import Gravity
    from sheetgen.pipeline import findings_of

    findings = findings_of(data)
    click.echo(f"{path}: {_count(len(findings))}")
    for finding in findings:
        click.echo(f"  {finding.gravity.value}: {finding.says}")
        for line in (finding.means, finding.cure and f"Cure: {finding.cure}", finding.clause and f"({finding.clause})"):
            if line:
                click.echo(f"      {line}")
    return DANGER if any(f.gravity is Gravity.DANGER for f in findings) else UNDERSTOOD


def _count(number: int) -> str:
    return "nothing found" if number == 0 else "one finding" if number == 1 else f"{number} findings"
