"""An earth terminal with a cpc on it that does not reach the earth of the board."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal, of_metal
from sheetgen.judge.loose_cpcs import loose_cpcs, to_put
from sheetgen.judge.rules import no_supply
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each piece of cpc that is cut off: what hangs on it."""
    if not no_supply.fed(case):
        return  # nothing comes from the board, and that is said
    pieces: dict[Terminal, list[tuple[Accessory, Terminal]]] = {}
    for accessory in case.wiring.accessories:
        terminal = earth_terminal(accessory)
        if terminal is not None and terminal in case.landed and not case.at(terminal, Potential.EARTH):
            muddled = case.solution.nets[terminal] in case.muddled
            elsewhere = case.at(terminal, Potential.LINE, Potential.NEUTRAL) or case.may_be_joined(terminal)
            if not muddled and not elsewhere:
                pieces.setdefault(case.solution.nets[terminal], []).append((accessory, terminal))
    loose = tuple(loose_cpcs(case)) if pieces else ()
    for piece in pieces.values():
        accessory, terminal = piece[0]
        metal = any(of_metal(a) for a, _ in piece)
        join = to_put(case, terminal, loose) or "Find where the cpc is parted, join it"
        yield Finding(
            "cpc_interrupted", Gravity.DANGER if metal else Gravity.PUT_RIGHT,
            says=f"The cpc at {joined(a.name for a, _ in piece)} does not reach the earth of the board.",
            means="Metal that looks earthed is not, and in a fault it stays live.",
            advice=f"{join}, and test its continuity to every point.",
            accessory=accessory.name, terminal=terminal.name, clause="BS 7671 411.3.1.1 (clause from memory)",
        )


RULE = Rule("cpc_interrupted", "cpc that does not reach the earth of the board", check)
