"""Lamps in series, which come out dim."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.circuit.indicators import indicators
from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined, plain

DIM, MOTORS = "come out dim", "a motor runs slow, or only hums and grows hot."


def check(case: Case) -> Iterator[Finding]:
    """One finding for each group, in the first setting in which lamps are dim."""
    glowing = indicators(case)
    for group in case.solution.groups:
        for row in group.rows:
            dim = [(n, x) for n, x in zip(group.lamps, row.lamps, strict=True) if 0 < x.fraction < 1]
            if dim and not row.shorts and not any(n in glowing for n, _ in dim):
                motors = [case.loads[n][1].what != "lamp" for n, _ in dim]
                shares = joined(f"{case.part(n)} {plain(x.fraction * 100, 0)} %" for n, x in dim)
                accessory, _ = case.loads[dim[0][0]]
                yield Finding(
                    "series_lamps", Gravity.PUT_RIGHT,
                    says=f"Current goes through {joined(case.part(n) for n, _ in dim)} one after another.",
                    means=f"They share the voltage ({shares} of it): {MOTORS}" if all(motors) else
                    f"They share the voltage and {DIM} ({shares} of it); electronic lamps flicker or stay "
                    f"dark{f', {MOTORS}' if any(motors) else '.'}",
                    advice="Give each its own switched line and its own neutral." if any(motors) else
                    "Give each lamp its own switched line and its own neutral.",
                    accessory=accessory.name, setting=case.setting(group, row),
                )
                break


RULE = Rule("series_lamps", "lamps in series", check)
