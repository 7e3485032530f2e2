"""Cores that end in nothing."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.checks.kind import Rule
from sheetgen.checks.subject import Subject
from sheetgen.model.reading import Finding, Gravity, Role
from sheetgen.model.wiring import Core


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each core: live with the setting, else what it is joined to."""
    for core in subject.wiring.cores():
        loose = [end for end in core.ends if end.terminal is None]
        if len(loose) == 1:
            yield _one_end(subject, core)
        elif loose and not core.cpc:
            yield Finding(
                "loose_core", Gravity.NOTE,
                says=f"{subject.core(core)} is connected at neither end, in {core.ends[0].accessory} and "
                f"{core.ends[1].accessory}.",
                means="It is spare; lying beside live cores it can show tens of volts on a sensitive meter.",
                cure="Leave it in a terminal of its own at both ends, insulated and marked as spare.",
                accessory=core.ends[0].accessory, core=core.key,
            )


def _one_end(subject: Subject, core: Core) -> Finding:
    loose = next(e for e in core.ends if e.terminal is None)
    fixed = next(e for e in core.ends if e.terminal is not None)
    live = next(((g, r) for g, r, c in subject.settings(fixed.node) if c.live), None)
    start = f"{subject.core(core)} from {subject.terminal(fixed.node)} ends in nothing in {loose.accessory}"
    role = subject.roles[core.key]
    if live is None:
        return Finding(
            "loose_core", Gravity.NOTE if core.cpc else Gravity.PUT_RIGHT,
            says=f"{start}.",
            means="Nothing reaches it." if role is Role.UNUSED else f"Whatever it should serve there has no {role}.",
            cure="Terminate it there, or take it off at the other end.",
            accessory=loose.accessory, core=core.key,
        )
    return Finding(
        "loose_core", Gravity.DANGER, says=f"{start} and can be live there.",
        means="A bare live end lies loose in the box.",
        cure=f"Terminate it in an insulated connector, or take it off at {subject.terminal(fixed.node)}.",
        accessory=loose.accessory, core=core.key, setting=subject.setting(*live),
    )


RULE = Rule("loose_core", "core that ends in nothing", check)
