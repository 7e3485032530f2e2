"""A load whose current returns through earth and not through a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.current import carrying
from sheetgen.circuit.graph import Step
from sheetgen.judge.case import Case
from sheetgen.judge.neutral_wanted import neutral_to_bring
from sheetgen.judge.rcds import amperes, has_to_trip, may_trip
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Group, Potential, Row


def check(case: Case) -> Iterator[Finding]:
    """One finding for each load, in the first setting in which it runs so."""
    seen: set[str] = set()
    for group in case.solution.groups:
        for row in group.rows:
            if row.shorts:
                continue
            returning = [load for load in carrying(case, group, row) if _at_earth(case, group, row, load)]
            for load in returning:
                if load.name in seen:
                    continue
                seen.add(load.name)
                yield Finding(
                    "earth_return", Gravity.DANGER,
                    says=f"The current of {case.part(load.name)} returns through earth, from "
                    f"{case.terminal(load.end)}, and not through a neutral.",
                    means="The cpc carries its current. Where it is parted, everything on the far side that is earthed "
                    f"becomes live through {case.part(load.name)}{_rcd(case, group, row, returning, load)}.",
                    advice=neutral_to_bring(case, load.end, " in place of the earth") or
                    f"Find the neutral that {case.part(load.name)} should have, and bring it to "
                    f"{case.terminal(load.end)} in place of the earth.",
                    accessory=case.loads[load.name][0].name, terminal=load.end.name,
                    setting=case.setting(group, row), lamps=(load.name,), clause="BS 7671 543.4",
                )


def _at_earth(case: Case, group: Group, row: Row, load: Step) -> bool:
    at = case.condition(group, row, load.end)
    return at.solid and at.potential is Potential.EARTH


def _rcd(case: Case, group: Group, row: Row, returning: list[Step], load: Step) -> str:
    """What an RCD does of the current of all loads of its ways that return so; "" where none can be moved by it."""
    ways = {name: lamp.ways for name, lamp in zip(group.lamps, row.lamps, strict=True)}
    amps = amperes(case, group, row, [other.name for other in returning if {*ways[other.name]} & {*ways[load.name]}])
    own = ways[load.name]
    if len(own) == 1 and has_to_trip(case, own[0], amps):
        return "; the RCD trips"
    return "; an RCD may trip" if may_trip(case, own, amps) else ""


RULE = Rule("earth_return", "load whose current returns through earth", check)
