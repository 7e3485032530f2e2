"""A line on a terminal meant for the neutral, or a neutral on one meant for a line."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.rules.alternate_polarity import concerns
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Meant
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential

LINES = (Meant.LINE, Meant.LOOP, Meant.SWITCHED)


def check(case: Case) -> Iterator[Finding]:
    """One finding for each accessory; a screw lampholder with line outside has a rule of its own, and so has a
    conductor that a switch moves between line and neutral."""
    glowing = {case.loads[name][0].name for name in indicators(case)}
    for accessory in case.wiring.accessories:
        if accessory.name in glowing or any(concerns(case, accessory.load_name(load)) for load in accessory.kind.loads):
            continue  # it has no polarity, or a switch exchanges it: that is told of the switch
        outer = {load.b for load in accessory.kind.loads if load.screw}
        wrong = []
        for kind in accessory.kind.terminals:
            terminal = accessory.terminal(kind.name)
            line = kind.meant is Meant.NEUTRAL and case.at(terminal, Potential.LINE) and kind.name not in outer
            neutral = kind.meant in LINES and case.at(terminal, Potential.NEUTRAL)
            if (line or neutral) and terminal in case.landed and accessory.name not in case.board:
                wrong.append((terminal, "line" if line else "neutral"))
        if wrong and not any(case.at(accessory.terminal(name), Potential.LINE) for name in outer):
            places = " and ".join(f"{what} on {case.terminal(t)}" for t, what in wrong)
            yield Finding(
                "wrong_terminal", Gravity.PUT_RIGHT,
                says=f"There is {places}.",
                means="Line and neutral are exchanged: a switch or a fuse inside would break the wrong one, and the "
                "next person is misled.",
                advice="Find where line and neutral change places on the way there, and put them right at that place.",
                accessory=accessory.name, terminal=wrong[0][0].name, clause="BS 7671 643.6 (clause from memory)",
            )


RULE = Rule("wrong_terminal", "line on a neutral terminal, or neutral on a line terminal", check)
