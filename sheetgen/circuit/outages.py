"""What a short puts out beyond its own switches and lamps: everything on its way, and on ways joined to it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.solution import Group, Row, reached_by
from sheetgen.model.words import joined


@dataclass(frozen=True)
class Outage:
    """Settings of one group that short a way which feeds another, or that join it to a way which can be shorted."""

    way: str
    group: Group
    rows: tuple[Row, ...]
    joined_to: str = ""


def outages(circuit: Circuit, group: Group) -> Iterator[Outage]:
    """What puts out loads of a group though none of its own switches is touched."""
    fed = {way for row in group.rows for lamp in row.lamps for way in lamp.ways}
    for other in circuit.solution.meeting:
        if other is group:
            continue
        shorting: dict[str, list[Row]] = {}
        for row in other.rows:
            for way in dict.fromkeys(short.rails[0].accessory for short in row.shorts):
                shorting.setdefault(way, []).append(row)
        yield from (Outage(way, other, tuple(rows)) for way, rows in shorting.items() if way in fed)
        yield from _through(circuit, other, fed)


def _through(circuit: Circuit, group: Group, fed: set[str]) -> Iterator[Outage]:
    """Settings of a group that join the line of a way to one that no switch of this group need short."""
    solution = circuit.solution
    elsewhere = [row for other in solution.meeting if other is not group for row in other.rows]
    shorted = reached_by(
        (short.rails[0].accessory for short in (*solution.shorts, *(x for row in elsewhere for x in row.shorts))),
        (link for row in elsewhere for link in row.links))
    joining: dict[tuple[str, str], list[Row]] = {}
    for row in group.rows:
        for a, b in row.links:
            for way, source in ((a, b), (b, a)):
                if way in fed and source in shorted:
                    joining.setdefault((way, source), []).append(row)
    yield from (Outage(way, group, tuple(rows), source) for (way, source), rows in joining.items())


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
    return tuple(f"With {when(circuit, outage)} {_comes(circuit, outage)}, whatever these switches do."
                 for outage in outages(circuit, group))


def _comes(circuit: Circuit, outage: Outage) -> str:
    way = circuit.way(outage.way)
    if not outage.joined_to:
        return f"the line of {way} is shorted: then everything on it is out"
    return (f"the line of {way} is joined to that of {circuit.way(outage.joined_to)}: while that one is shorted, "
            f"everything on {way} is out too")
