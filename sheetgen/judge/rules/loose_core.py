"""Cores that end in nothing."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.relanding import dark, joining
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity, Role
from sheetgen.model.solution import LampState
from sheetgen.model.wiring import Core
from sheetgen.model.words import joined

MOST_TRIED = 8  # loose cores that are tried for each lamp


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each core: live with the setting, else what it is joined to."""
    served = wanted(subject)
    for core in subject.wiring.cores():
        loose = [end for end in core.ends if end.terminal is None]
        if len(loose) == 1:
            lamps = [lamp for lamp, (key, _) in served.items() if key == core.key]
            yield _one_end(subject, core, lamps, served[lamps[0]][1] if lamps else "")
        elif loose and not core.cpc:
            yield Finding(
                "loose_core", Gravity.NOTE,
                says=f"{subject.core(core)} is connected at neither end, in {core.ends[0].accessory} and "
                f"{core.ends[1].accessory}.",
                means="It is spare; lying beside live cores it can show tens of volts on a sensitive meter.",
                cure="Leave it in a terminal of its own at both ends, insulated and marked as spare.",
                accessory=core.ends[0].accessory, core=core.key,
            )


def wanted(subject: Subject) -> dict[str, tuple[str, str]]:
    """Lamps that no setting lights and that would light with a loose end joined: its Core.key, and where, in words."""
    if ("wanted",) not in subject.kept:
        subject.kept["wanted",] = _wanted(subject)
    return subject.kept["wanted",]


def _wanted(subject: Subject) -> dict[str, tuple[str, str]]:
    loose = [c.key for c in subject.wiring.cores() if not c.cpc and sum(e.terminal is None for e in c.ends) == 1]
    lamps = dark(subject) if loose else []
    found: dict[str, tuple[str, str]] = {}
    for key in loose[:MOST_TRIED] if lamps else ():
        for lamp, cures in joining(subject, key, lamps).items():
            found.setdefault(lamp, (key, joined((c.says for c in cures), "or")))
    return found


def _one_end(subject: Subject, core: Core, lamps: list[str], cure: str) -> Finding:
    loose = next(e for e in core.ends if e.terminal is None)
    fixed = next(e for e in core.ends if e.terminal is not None)
    live = next(((g, r) for g, r, c in subject.settings(fixed.node) if c.live), None)
    out = ((g, r) for g, r, name, x in subject.lamps() if name in lamps and x.state is LampState.OFF_BUT_LIVE)
    dead = next(out, None)
    start = f"{subject.core(core)} from {subject.terminal(fixed.node)} ends in nothing in {loose.accessory}"
    return Finding(
        "loose_core",
        Gravity.DANGER if live or dead else Gravity.NOTE if core.cpc else Gravity.PUT_RIGHT,
        says=f"{start} and can be live there." if live else f"{start}.",
        means=_means(subject, core, lamps, bool(live), bool(dead)),
        cure=f"{cure} (found by trying it)." if cure else
        f"Terminate it in an insulated connector, or take it off at {subject.terminal(fixed.node)}." if live else
        "Terminate it there, or take it off at the other end.",
        accessory=loose.accessory, core=core.key, setting=subject.setting(*(live or dead or (None, None))),
    )


def _means(subject: Subject, core: Core, lamps: list[str], live: bool, dead: bool) -> str:
    names = joined(subject.part(name) for name in lamps)
    said = ["a bare live end lies loose in the box"] if live else []
    if names:
        said.append(f"{names} cannot work without it")
    if dead:
        said.append("with the lamp out both its contacts are live")
    role = subject.roles[core.key]
    if not said:
        return "Nothing reaches it." if role is Role.UNUSED else f"Whatever it should serve there has no {role}."
    return f"{joined(said)}."


RULE = Rule("loose_core", "core that ends in nothing", check)
