"""More conductors on a terminal than it takes; conductors on one that must stay empty."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity


def check(case: Case) -> Iterator[Finding]:
    """One finding for each terminal; those of the board are bars of another kind."""
    shorted = _shorted(case)
    for accessory in case.wiring.accessories:
        for kind in accessory.kind.terminals:
            terminal = accessory.terminal(kind.name)
            cores = case.landed.get(terminal, [])
            if accessory.name in case.board or not cores:
                continue
            if kind.to_be_empty:
                yield Finding(
                    "crowded_terminal", Gravity.PUT_RIGHT,
                    says=f"{case.core(cores[0])} is on {case.terminal(terminal)}, which must stay "
                    "empty.",
                    means="The accessory may be joined inside in a way that this record does not show.",
                    advice=f"Take it off {case.terminal(terminal)}.",
                    accessory=accessory.name, terminal=kind.name, core=cores[0].key,
                )
            elif len(cores) > kind.ways:
                yield Finding(
                    "crowded_terminal", Gravity.PUT_RIGHT,
                    says=f"{len(cores)} conductors are on {case.terminal(terminal)}, which takes {kind.ways}.",
                    means="One of them may not be held, work loose and get hot.",
                    advice="Put the short right first: one conductor that makes it may be one too many here."
                    if terminal in shorted else
                    "Join some of them in a connector and bring one conductor to the terminal.",
                    accessory=accessory.name, terminal=kind.name,
                )


def _shorted(case: Case) -> set[Terminal]:
    """The terminals through which a short goes, in whatever setting."""
    nets = {case.solution.nets[t] for short in case.solution.every_short for t in short.through}
    return {t for t in case.landed if case.solution.nets[t] in nets}


RULE = Rule("crowded_terminal", "terminal with more conductors than it takes, or with any where none may be", check)
