"""A green-and-yellow or bare core that is a line or a neutral."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity, Role


def check(case: Case) -> Iterator[Finding]:
    """One finding for each core."""
    for core in case.wiring.cores():
        role = case.roles[core.key]
        fine = (Role.CPC, Role.UNUSED, Role.EARTH_RETURN, Role.NOT_KNOWN)
        if core.colour not in ("GNYE", "") or role in fine:
            continue
        ends = [e for e in core.ends if e.node is not None]
        end, *other = ends
        what = "Green-and-yellow" if core.colour else "A bare core"
        yield Finding(
            "protective_misused", Gravity.DANGER,
            says=f"{case.core(core)} is used as {role} at {case.terminals(e.node for e in ends if e.node)}.",
            means=f"{what} is taken for earth by everyone who opens the box, and it can be live.",
            advice="Use another core or another cable; it may not be marked over.",
            accessory=end.accessory, terminal=end.terminal or "", core=core.key, clause="BS 7671 514.4.2",
            elsewhere=tuple(e.accessory for e in other if e.accessory != end.accessory),
        )


RULE = Rule("protective_misused", "green-and-yellow or bare core used as anything but protective", check)
