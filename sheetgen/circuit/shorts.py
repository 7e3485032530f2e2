"""What a short leaves to be read: until the device opens, nothing that holds; dead, that line and the other meet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.outages import Outage
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Condition, Meeting, Potential, Row, Short, reached_by

EARTH = ""  # among ways: a name that none of them has


def in_short(circuit: Circuit, condition: Condition, row: Row | None = None) -> bool:
    """It is at line only in name: conductors and closed contacts join it to a line that is shorted, in this row or
    however the switches stand."""
    shorts = (*circuit.solution.shorts, *(row.shorts if row else ()))
    shorted = {short.rails[0].accessory for short in shorts}
    return condition.solid and condition.potential is Potential.LINE and bool(shorted & {*condition.ways})


def always_in_short(circuit: Circuit, terminal: Terminal) -> bool:
    """Conductors alone join it to a line that they short."""
    constant = circuit.solution.constant.get(terminal)
    return constant is not None and in_short(circuit, constant)


def shorting(circuit: Circuit) -> Iterator[Outage]:
    """Of each group the settings that short a way."""
    for group in circuit.solution.groups:
        found: dict[str, list[Row]] = {}
        for row in group.rows:
            for way in dict.fromkeys(short.rails[0].accessory for short in row.shorts):
                found.setdefault(way, []).append(row)
        yield from (Outage(way, group, tuple(rows)) for way, rows in found.items())


def always_joined(circuit: Circuit, one: str, other: str) -> bool:
    """Conductors alone join a line or neutral of one way to one of the other, straight or through earth."""
    return other in reached_by((one,), _joins(circuit, (*circuit.solution.shorts, *circuit.solution.meetings)))


def joining(circuit: Circuit, one: str, other: str) -> Iterator[Outage]:
    """Of each group the settings in which a line or neutral of one way is joined to one of the other."""
    always: tuple[Short | Meeting, ...] = (*circuit.solution.shorts, *circuit.solution.meetings)
    for group in circuit.solution.groups:
        rows = tuple(row for row in group.rows if other in reached_by(
            (one,), _joins(circuit, (*always, *row.shorts, *row.meetings))))
        if rows:
            yield Outage(one, group, rows)


def _joins(circuit: Circuit, found: Iterable[Short | Meeting]) -> Iterator[tuple[str, str]]:
    """Pairs of ways, or a way and earth, that are joined with no load between."""
    for one, other in (x.rails for x in found):
        yield one.accessory, EARTH if circuit.rails[other] == "earth" else other.accessory
