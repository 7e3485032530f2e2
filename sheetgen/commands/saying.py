"""What reaches a terminal or a cell of a table: a name from a file never operates either of them."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Sequence

import click

KEPT = " \u00a0\u2009\u202f\u200c\u200d"  # not "printable" for Python, but harmless: spaces, and joiners within letters
FORMULA = "=+-@\uff1d\uff0b\uff0d\uff20"  # a spreadsheet takes a cell that begins so for a formula; also in full width


def printable(text: str) -> str:
    """The text on one line, with what is no letter, mark or space (control characters, line ends) as escapes."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() or c in KEPT else c.encode("unicode_escape").decode() for c in text)


def say(line: str) -> None:
    """One line on standard output."""
    click.echo(printable(line))


def complain(line: str) -> None:
    """One line on standard error."""
    click.echo(printable(line), err=True)


def json_text(value: object) -> str:
    """JSON to read, with line ends of its own and none of the values' as they are."""
    lines = json.dumps(value, indent=1, ensure_ascii=False).split("\n")
    return "\n".join(_escaped(line) for line in lines) + "\n"


def _escaped(line: str) -> str:
    """What json leaves as it is and a terminal might obey: the C1 controls, directions of writing."""
    if line.isprintable():
        return line
    return "".join(c if c.isprintable() or c in KEPT else json.dumps(c)[1:-1] for c in line)


def csv_text(rows: Iterable[Sequence[object]]) -> str:
    """Rows as CSV. A cell that a spreadsheet would work out begins with an apostrophe."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerows([_cell(value) for value in row] for row in rows)
    return out.getvalue()


def _cell(value: object) -> object:
    if not isinstance(value, str):
        return value
    text = printable(value)
    return f"'{text}" if text.lstrip()[:1] in tuple(FORMULA) or value[:1] in ("\t", "\r", "\n") else text
