"""Zs over what the device allows."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.checks.kind import Rule
from sheetgen.checks.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.words import plain


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each way: the worst of its points."""
    for way in subject.reckoning.ways:
        points = [p for p in subject.reckoning.points if p.way == way.way and p.zs is not None]
        worst = max(points, key=lambda p: p.zs, default=None)
        if worst is None or way.limit is None or worst.zs <= way.limit.measured:
            continue
        device = subject.wiring.way(way.way).device
        yield Finding(
            "zs_limit", Gravity.PUT_RIGHT,
            says=f"Zs at {worst.accessory} is expected to be {plain(worst.zs)} ohm, and {subject.way(way.way)}"
            f"{f' ({device})' if device else ''} allows {plain(way.limit.measured)} ohm measured cold.",
            means="In a fault to earth the device may not open in time.",
            cure="Shorten the run or use a larger cpc, look into Ze, or have the way protected by an RCD.",
            accessory=worst.accessory, terminal=worst.line.name if worst.line else "",
            setting=", ".join(f"{subject.part(s)} {subject.position(s, p)}" for s, p in worst.setting),
            clause=way.limit.source,
        )


RULE = Rule("zs_limit", "Zs over the limit of the device", check)
