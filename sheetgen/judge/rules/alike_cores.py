"""Cores of one cable that nothing tells apart."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sheetgen.catalogue.colours import CODES
from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity


def check(case: Case) -> Iterator[Finding]:
    """One finding for each cable that has them."""
    for cable in case.wiring.cables:
        if cable.flex and cable.ends[1] in {a.name for a, _ in case.loads.values()}:
            continue  # a lamp takes its flex either way round; a screw lampholder has a rule of its own
        alike = Counter((core.colour, core.mark) for core in cable.cores)
        for name, count in alike.items():
            colour, _ = name
            if count > 1:
                yield Finding(
                    "alike_cores", Gravity.PUT_RIGHT,
                    says=f"Nothing tells the {count} {CODES.get(colour, 'bare')} cores of {cable.name} apart.",
                    means="Once they are taken off their terminals, which was which has to be found by test.",
                    advice="Put numbered markers on them at both ends before undoing anything.",
                    accessory=cable.ends[0],
                    core=next(c.key for c in cable.cores if (c.colour, c.mark) == name),
                )


RULE = Rule("alike_cores", "cores of one cable told apart by nothing", check)
