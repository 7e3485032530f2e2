"""Permanent line and switched line exchanged at a fitting that has a terminal for each."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Accessory, Meant, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential


def check(case: Case) -> Iterator[Finding]:
    """One finding for each accessory that takes its lines by hand, not through a switch of its own."""
    for accessory in case.wiring.accessories:
        if accessory.name in case.board or any(s.by_hand for s in accessory.kind.switches):
            continue
        lines = _meant(case, accessory, (Meant.LINE, Meant.LOOP))
        switched = _meant(case, accessory, (Meant.SWITCHED,))
        always = next((t for t in switched if _always(case, t)), None)
        sometimes = next((t for t in lines if case.at(t, Potential.LINE) and not _always(case, t)), None)
        if always is not None and sometimes is not None:
            yield Finding(
                "lines_exchanged", Gravity.PUT_RIGHT,
                says=f"The permanent line is on {case.terminal(always)} and the switched line on "
                f"{case.terminal(sometimes)}.",
                means="Line and switched line are exchanged: what should have supply all the time has it only while "
                "the switch is on.",
                advice=f"Exchange the conductors on {case.terminals([always, sometimes])}.",
                accessory=accessory.name, terminal=always.name,
                lamps=tuple(accessory.load_name(load) for load in accessory.kind.loads),
            )


def _meant(case: Case, accessory: Accessory, meant: tuple[Meant, ...]) -> list[Terminal]:
    """The terminals meant for that on which a conductor ends."""
    own = [accessory.terminal(kind.name) for kind in accessory.kind.terminals if kind.meant in meant and not kind.inner]
    return [t for t in own if t in case.landed]


def _always(case: Case, terminal: Terminal) -> bool:
    seen = case.conditions.get(terminal, ())
    return bool(seen) and all(c.solid and c.potential is Potential.LINE for c in seen)


RULE = Rule("lines_exchanged", "permanent and switched line exchanged at a fan, a lamp or a sensor", check)
