"""sheetgen states FILE: what every lamp does in every setting of the switches."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from sheetgen.commands.common import UNDERSTOOD, each_file, file_argument
from sheetgen.model.solution import Group, Lamp, Row, Solution
from sheetgen.model.words import percent


@click.command(name="states", short_help="Print what every lamp does in every setting.")
@file_argument
@click.option("--format", "form", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True,
              help="text is for reading; csv and json give every row.")
def command(file: Path, form: str) -> None:
    """Print the state table: one table for each group of switches that depend on one another.

    From one row to the next a single switch is operated. Positions are named by the contact made.
    """

    def show(path: Path, data: bytes) -> int:
        from sheetgen.pipeline import solution_of

        click.echo(FORMS[form](solution_of(data)), nl=False)
        return UNDERSTOOD

    sys.exit(each_file([file], show))


def states_value(solution: Solution) -> dict:
    """The state table as plain values, for JSON."""
    return {"groups": [_group_value(group) for group in solution.groups]}


def _group_value(group: Group) -> dict:
    return {
        "switches": list(group.switches),
        "lamps": list(group.lamps),
        "complete": group.complete,
        "rows": [
            {
                "switches": dict(zip(group.switches, row.setting, strict=True)),
                "lamps": {
                    name: {"state": lamp.state.value, "fraction": float(lamp.fraction)}
                    for name, lamp in zip(group.lamps, row.lamps, strict=True)
                },
            }
            for row in group.rows
        ],
    }


def as_json(solution: Solution) -> str:
    """Every row, as JSON."""
    import json

    return json.dumps(states_value(solution), indent=1, ensure_ascii=False) + "\n"


def as_csv(solution: Solution) -> str:
    """Every row, one line for each lamp in it: group, setting, lamp, state, fraction."""
    import csv
    import io

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["group", "setting", "lamp", "state", "fraction"])
    for number, group in enumerate(solution.groups, 1):
        for row in group.rows:
            setting = "; ".join(f"{s}={p}" for s, p in zip(group.switches, row.setting, strict=True))
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                writer.writerow([number, setting, name, lamp.state.value, f"{float(lamp.fraction):.6g}"])
    return out.getvalue()


def as_text(solution: Solution) -> str:
    """Tables for reading."""
    parts = []
    for number, group in enumerate(solution.groups, 1):
        head = [*group.switches, *group.lamps] or ["(nothing switched)"]
        rows = [[*row.setting, *(_lamp(lamp) for lamp in row.lamps)] for row in group.rows]
        widths = [max(len(str(line[i])) for line in [head, *rows]) for i in range(len(head))]
        lines = ["  ".join(str(cell).ljust(w) for cell, w in zip(line, widths, strict=True)).rstrip()
                 for line in [head, ["-" * w for w in widths], *rows]]
        title = f"Group {number}" if len(solution.groups) > 1 else ""
        parts.append("\n".join(filter(None, [title, *lines, *_remarks(group)])))
    return "\n\n".join(parts) + "\n" if parts else "No lamp and no switch is connected to the board.\n"


def _lamp(lamp: Lamp) -> str:
    return f"dim ({percent(lamp.fraction)} of the voltage)" if lamp.state.value == "dim" else lamp.state.value


def _remarks(group: Group) -> list[str]:
    remarks = [f"SHORT at {_setting(group, row)}: {' - '.join(map(str, short.through))}"
               for row in group.rows for short in row.shorts]
    if not group.complete:
        remarks.append("Too many switches for every setting: shown are all in the first position, "
                       "each switch operated, and each pair operated.")
    return remarks


def _setting(group: Group, row: Row) -> str:
    return ", ".join(f"{s} at {p}" for s, p in zip(group.switches, row.setting, strict=True)) or "any setting"


FORMS = {"text": as_text, "csv": as_csv, "json": as_json}
