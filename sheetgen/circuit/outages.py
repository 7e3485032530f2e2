"""What a short that some switch makes puts out beyond its own switches and lamps: everything on its way."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.solution import Group, Row
from sheetgen.model.words import joined


@dataclass(frozen=True)
class Outage:
    """Settings of one group that short a way which feeds another."""

    way: str
    group: Group
    rows: tuple[Row, ...]


def outages(circuit: Circuit, group: Group) -> Iterator[Outage]:
    """What puts out loads of a group though none of its own switches is touched."""
    fed = {way for row in group.rows for lamp in row.lamps for way in lamp.ways}
    for other in circuit.solution.groups:
        if other is group:
            continue
        shorting: dict[str, list[Row]] = {}
        for row in other.rows:
            for way in dict.fromkeys(short.rails[0].accessory for short in row.shorts):
                shorting.setdefault(way, []).append(row)
        yield from (Outage(way, other, tuple(rows)) for way, rows in shorting.items() if way in fed)


def when(circuit: Circuit, outage: Outage) -> str:
    """The settings in words: 'Study door on', or 'in 2 of 4 settings of Top and Hall'."""
    group, rows = outage.group, outage.rows
    for place, switch in enumerate(group.switches):
        positions = {row.setting[place] for row in rows}
        if len(positions) == 1 and len(rows) * len(group.positions[place]) == len(group.rows):
            return f"{circuit.part(switch)} {circuit.position(switch, *positions)}"
    return f"{len(rows)} of {len(group.rows)} settings of {joined(map(circuit.part, group.switches))}"


def told(circuit: Circuit, group: Group) -> tuple[str, ...]:
    """A sentence for each outage of a group."""
    return tuple(
        f"With {when(circuit, outage)} the line of {circuit.way(outage.way)} is shorted: then everything on it is out, "
        "whatever these switches do."
        for outage in outages(circuit, group)
    )
