"""An accessory in which conductors of two ways meet."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.isolation import to_open
from sheetgen.judge.rules import linked_lines
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity, Role
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each choice of ways: where they meet; the board is meant to have several."""
    meet: dict[tuple[tuple[str, ...], tuple[str, ...]], list[str]] = {}
    opened: dict[str, set[str]] = {}
    for accessory in case.wiring.accessories:
        cores = [
            core for kind in accessory.kind.terminals for core in case.landed.get(accessory.terminal(kind.name), ())
        ]
        reach = {w for core in cores if case.roles[core.key] is not Role.CPC for w in case.ways[core.key]}
        if len(reach) > 1 and accessory.name not in case.board:
            opened = opened or to_open(case, case.by_net)
            key = tuple(sorted(reach)), tuple(sorted(opened[accessory.name] | reach))
            meet.setdefault(key, []).append(accessory.name)
    linked = {tuple(sorted(found)) for _, _, found in linked_lines.links(case)}
    for (ways, isolated), places in meet.items():
        if ways in linked:
            continue  # said there, and more gravely
        yield Finding(
            "two_ways", Gravity.NOTE,
            says=f"Conductors of {case.all_ways(ways)} end in {joined(places)}.",
            means="With one of them isolated the other is still live in the same box.",
            advice=f"Isolate {case.all_ways(isolated)} before opening it, and put a label there.",
            accessory=places[0], clause="BS 7671 314.4",
        )


RULE = Rule("two_ways", "two circuits in one accessory", check)
