"""Unsheathed singles outside an enclosure."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity, Role
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for all of them; a link within one accessory lies in its enclosure, and a cpc needs none."""
    bare = [
        c for c in case.wiring.cables if c.sheath == "unsheathed" and not c.run_in and not c.link
        and any(case.roles[core.key] is not Role.CPC for core in c.cores)
    ]
    if bare:
        one = len(bare) == 1
        yield Finding(
            "unsheathed", Gravity.PUT_RIGHT,
            says=f"{joined(c.name for c in bare)} {'is an unsheathed single' if one else 'are unsheathed singles'} "
            "and no conduit or trunking is given.",
            means="Their one layer of insulation is all there is between a damaged place and a hand.",
            advice="Run them in conduit or trunking, or use sheathed cable; if they are in one, write it into the "
            "description.",
            accessory=bare[0].ends[0], core=bare[0].cores[0].key,
        )


RULE = Rule("unsheathed", "unsheathed single outside conduit or trunking", check)
