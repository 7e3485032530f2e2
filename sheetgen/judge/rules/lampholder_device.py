"""Lampholders on a device of more than 16 A."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.figures.spurs import fuses_before
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential

MOST = 16  # ampere, lampholders B15, B22, E14 and E27: BS 7671 section 559 (a secondary source)


def check(case: Case) -> Iterator[Finding]:
    """One finding for each way."""
    fused = fuses_before(case)
    for way in case.wiring.board.ways:
        if not way.device or way.device.rating <= MOST:
            continue
        lamps = [
            name for name, accessory, load in case.wiring.loads() if load.what == "lamp"
            and not any(accessory.terminal(t) in fused for t in (load.a, load.b))
            and any(way.accessory in c.ways and c.solid and c.potential is Potential.LINE
                    for t in (load.a, load.b) for c in case.conditions.get(accessory.terminal(t), ()))
        ]
        if lamps:
            yield Finding(
                "lampholder_device", Gravity.PUT_RIGHT,
                says=f"{case.way(way.accessory)} feeds lampholders and its device is {way.device}.",
                means="A fault in a lampholder can burn before a device of more than 16 A opens.",
                advice="Fit a device of 16 A or less; 6 A is usual.",
                accessory=way.accessory, clause="BS 7671 section 559",
            )


RULE = Rule("lampholder_device", "lampholder on a device of more than 16 A", check)
