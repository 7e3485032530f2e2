"""sheetgen check FILE...: what is wrong with a circuit."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from pathlib import Path, PurePath

import click

from sheetgen.commands.common import files_argument
from sheetgen.commands.reading import sources_of
from sheetgen.commands.run import DANGER, UNDERSTOOD, Done, each_file
from sheetgen.commands.saying import csv_text, json_text, say
from sheetgen.model.reading import Finding, Gravity

COLUMNS = ("rule", "says", "setting", "means", "cure", "accessory", "terminal", "core", "clause")  # of a finding
NONE_OF = {
    Gravity.DANGER: "No danger was found in what was checked.",
    Gravity.PUT_RIGHT: "Nothing to put right was found in what was checked.",
    Gravity.NOTE: "Nothing to note was found in what was checked.",
}
Found = Mapping[Path, tuple[Finding, ...] | None]  # None: the file could not be checked


@click.command(name="check", short_help="Say what is wrong with a circuit.")
@files_argument
@click.option("--only", type=click.Choice([gravity.value for gravity in Gravity]),
              help="Only findings of this kind.")
@click.option("--format", "form", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True,
              help="text is for reading; csv and json for other programs.")
def command(files: tuple[Path, ...], only: str | None, form: str) -> None:
    """Say what is dangerous, what should be put right, and what is worth noting.

    A folder stands for every description below it. csv and json also name each file that could not be checked.

    Exit status 0: no danger found. 1: a danger. 2: a file cannot be understood. 3: a fault of the program.
    The highest counts; --only changes nothing in it.
    """
    wanted = Gravity(only) if only else None
    found: dict[Path, tuple[Finding, ...] | None] = {source.path: None for source in sources_of(files)}

    def check(path: Path, data: bytes, name: PurePath) -> Done:
        from sheetgen.pipeline import findings_of

        findings = findings_of(data)
        found[path] = tuple(f for f in findings if wanted in (None, f.gravity))
        if form == "text":
            _tell(path, found[path] or (), quiet=wanted is not None)
        danger = any(f.gravity is Gravity.DANGER for f in findings)
        return Done(danger, DANGER if danger else UNDERSTOOD)

    status = each_file(files, check, did="checked")
    if form in FORMS:
        click.echo(FORMS[form](found), nl=False)
    elif wanted and any(f is not None for f in found.values()) and not any(found.values()):
        say(NONE_OF[wanted])
    sys.exit(status)


def _tell(path: Path, findings: tuple[Finding, ...], quiet: bool) -> None:
    """The findings of a file, to read: each with the setting it shows in, what it means, the cure, the clause."""
    if quiet and not findings:
        return
    say(f"{path}: {_count(len(findings))}")
    for finding in findings:
        say(f"  {finding.gravity.value}: {finding.says}")
        for lead, words in (("Seen with ", finding.setting), ("", finding.means), ("Cure: ", finding.cure),
                            ("Clause: ", finding.clause)):
            if words:
                say(f"      {lead}{words}")


def _count(number: int) -> str:
    return "nothing found" if number == 0 else "one finding" if number == 1 else f"{number} findings"


def as_csv(found: Found) -> str:
    """A line for each finding, and one for each file that could not be checked."""
    rows: list[tuple[object, ...]] = [("file", "gravity", *COLUMNS)]
    for path, findings in found.items():
        if findings is None:
            rows.append((str(path), "not checked", *("" for _ in COLUMNS)))
        for finding in findings or ():
            rows.append((str(path), finding.gravity.value, *(getattr(finding, column) for column in COLUMNS)))
    return csv_text(rows)


def as_json(found: Found) -> str:
    """Every file, whether it was checked, and its findings."""
    return json_text({"files": [
        {"file": str(path), "checked": findings is not None,
         "findings": [_value(f) for f in findings or ()]}
        for path, findings in found.items()
    ]})


def _value(finding: Finding) -> dict[str, str]:
    return {"gravity": finding.gravity.value, **{column: getattr(finding, column) for column in COLUMNS}}


FORMS: Mapping[str, Callable[[Found], str]] = {"csv": as_csv, "json": as_json}
