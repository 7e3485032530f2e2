"""Which residual current devices a current can trip that does not come back beside its line.

One has to trip at its rated residual current, and may from half of it on; where nobody told of one it may be
one of 30 mA.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sheetgen.judge.case import Case
from sheetgen.model.solution import Group, Row
from sheetgen.model.wiring import Told

USUAL = Fraction(30)  # mA
NON_OPERATING = Fraction(1, 2)  # of the rated residual current: BS EN 61008-1, 5.3.4


def amperes(case: Case, group: Group, row: Row, loads: Iterable[str]) -> Fraction:
    """What some loads of a group draw together in a setting."""
    shares = dict(zip(group.lamps, (lamp.fraction for lamp in row.lamps), strict=True))
    drawn = (case.loads[name][1].watts * (shares[name] or 0) for name in loads)
    return sum(drawn, Fraction(0)) / case.wiring.board.voltage


def may_trip(case: Case, ways: Iterable[str], amps: Fraction | None) -> list[str]:
    """Those of some ways whose RCD may trip, or may have one that does; amps None: a current that is not known."""
    found = []
    for name in ways:
        way = case.wiring.way(name)
        if way and way.rcd_told is not Told.NONE:
            rated = way.rcd or USUAL
            if amps is None or amps * 1000 >= rated * NON_OPERATING:
                found.append(name)
    return found


def has_to_trip(case: Case, way: str, amps: Fraction) -> bool:
    """It is told that the way has an RCD, and the current is its rated residual current or more."""
    found = case.wiring.way(way)
    return bool(found and found.rcd and amps * 1000 >= found.rcd)
