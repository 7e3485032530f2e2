"""sheetgen states FILE: what every lamp does in every setting of the switches."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sheetgen.commands.common import file_argument
from sheetgen.commands.reading import read_file
from sheetgen.commands.run import status_alone
from sheetgen.commands.saying import csv_text, json_text, printable
from sheetgen.model.solution import Group, Lamp, LampState, Row
from sheetgen.model.words import percent

if TYPE_CHECKING:
    from sheetgen.circuit import Circuit


@click.command(name="states", short_help="Print what every lamp does in every setting.")
@file_argument
@click.option("--format", "form", type=click.Choice(["text", "csv", "json"]), default="text", show_default=True,
              help="text is for reading; csv and json give every row.")
def command(file: Path, form: str) -> None:
    """Print the state table: one table for each group of switches that depend on one another.

    From one row to the next a single switch is operated. Positions are named by the contact made.
    """

    def show() -> None:
        from sheetgen.pipeline import circuit_of

        click.echo(FORMS[form](circuit_of(read_file(file))), nl=False)

    sys.exit(status_alone(str(file), show))


def states_value(circuit: Circuit) -> dict[str, object]:
    """The state table as plain values, for JSON."""
    return {"groups": [_group_value(circuit, group) for group in circuit.solution.groups]}


def _group_value(circuit: Circuit, group: Group) -> dict[str, object]:
    from sheetgen.circuit.outages import told

    return {
        "out also": list(told(circuit, group)),
        "switches": list(group.switches),
        "lamps": list(group.lamps),
        "complete": group.complete,
        "rows": [
            {
                "switches": _marks(circuit, group, row),
                "lamps": {
                    name: {"state": lamp.state.value, "fraction": float(lamp.fraction)}
                    for name, lamp in zip(group.lamps, row.lamps, strict=True)
                },
            }
            for row in group.rows
        ],
    }


def as_json(circuit: Circuit) -> str:
    """Every row, as JSON."""
    return json_text(states_value(circuit))


def as_csv(circuit: Circuit) -> str:
    """Every row, one line for each lamp in it.

    The last columns say whether the group has every setting, and what else puts its lamps out.
    """
    from sheetgen.circuit.outages import told

    rows: list[tuple[object, ...]] = [("group", "setting", "lamp", "state", "fraction", "every setting shown",
                                       "out also")]
    for number, group in enumerate(circuit.solution.groups, 1):
        also = " ".join(told(circuit, group))
        for row in group.rows:
            setting = "; ".join(f"{switch}={mark}" for switch, mark in _marks(circuit, group, row).items())
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                rows.append((number, setting, name, lamp.state.value, f"{float(lamp.fraction):.6g}",
                             "yes" if group.complete else "no", also))
    return csv_text(rows)


def as_text(circuit: Circuit) -> str:
    """Tables for reading."""
    parts = []
    for number, group in enumerate(circuit.solution.groups, 1):
        head = [printable(circuit.part(name)) for name in (*group.switches, *group.lamps)] or ["(nothing switched)"]
        rows = [[*map(printable, _marks(circuit, group, row).values()), *map(_lamp, row.lamps)] for row in group.rows]
        widths = [max(len(str(line[i])) for line in [head, *rows]) for i in range(len(head))]
        lines = ["  ".join(str(cell).ljust(w) for cell, w in zip(line, widths, strict=True)).rstrip()
                 for line in [head, ["-" * w for w in widths], *rows]]
        title = f"Group {number}" if len(circuit.solution.groups) > 1 else ""
        parts.append("\n".join(filter(None, [title, *lines, *_remarks(circuit, group)])))
    return "\n\n".join(parts) + "\n" if parts else "No lamp and no switch is connected to the board.\n"


def _lamp(lamp: Lamp) -> str:
    if lamp.fraction and lamp.state is not LampState.ON:
        return f"{lamp.state.value} ({percent(lamp.fraction)} of the voltage)"
    return lamp.state.value


def _remarks(circuit: Circuit, group: Group) -> list[str]:
    from sheetgen.circuit.outages import told

    remarks = [printable(f"SHORT with {circuit.setting(group, row) or 'any setting'}: "
                         f"{' - '.join(map(circuit.terminal, short.through))}")
               for row in group.rows for short in row.shorts]
    remarks += map(printable, told(circuit, group))
    if not group.complete:
        pairs = ", and each pair operated from the first" if group.pairs_operated else ""
        remarks.append("Too many switches for every setting: shown are all in the first position and all in the last, "
                       f"each switch operated from there{pairs}.")
    return remarks


def _marks(circuit: Circuit, group: Group, row: Row) -> dict[str, str]:
    """How each switch of a group stands in a row, in the user's names."""
    return {name: circuit.mark(name, position) for name, position in zip(group.switches, row.setting, strict=True)}


FORMS = {"text": as_text, "csv": as_csv, "json": as_json}
