"""Accessories that an insulation test could harm or mislead."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import joined

FLAGS = {"dimmer": "dimmer", "sensor": "sensor", "electronics": "electronics", "emergency": "emergency luminaire"}


def check(case: Case) -> Iterator[Finding]:
    """One finding that names them all."""
    found = []
    for accessory in case.wiring.accessories:
        what = next((word for flag, word in FLAGS.items() if flag in accessory.kind.flags), "")
        if not what and any(load.what == "electronics" for load in accessory.kind.loads):
            what = "electronics"
        if what:
            found.append((accessory, what))
    if found:
        yield Finding(
            "harmed_by_test", Gravity.NOTE,
            says=f"An insulation test can harm {joined(f'{a.name} ({what})' for a, what in found)}.",
            means="500 V d.c. between line and neutral can destroy electronics, and they spoil the reading.",
            advice="Disconnect them for the test; where that can't be done test at 250 V with line and neutral joined, "
            "to earth.",
            accessory=found[0][0].name, clause="BS 7671 643.3.3",
        )


RULE = Rule("harmed_by_test", "dimmers, sensors and electronics that a test could harm", check)
