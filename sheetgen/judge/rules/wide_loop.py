"""Line and neutral of a circuit by separate routes."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.earth import in_plastic, in_steel
from sheetgen.judge.rules.borrowed_neutral import borrowing
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.reckoning import CableFigures
from sheetgen.model.words import joined

LEAST = 0.001  # ampere: below, nothing flows
SHARE = 0.01  # of its current that a cable may carry unbalanced: less is arithmetic


def check(case: Case) -> Iterator[Finding]:
    """One finding for each way whose current goes out by one route and comes back by another.

    Where a neutral is borrowed that finding says it all.
    """
    borrowed = {way for _, _, line, neutral in borrowing(case).values() for way in (*line, *neutral)}
    wide: dict[str, list[str]] = {}
    for figures in case.reckoning.cables:
        if _unbalanced(case, figures):
            cable = case.cables[figures.cable]
            way = next((w for c in cable.cores if not c.cpc for w in case.ways[c.key]), "")
            wide.setdefault(way, []).append(figures.cable)
    for way, cables in wide.items():
        if way in borrowed:
            continue
        yield Finding(
            "wide_loop", Gravity.NOTE,
            says=f"Line and neutral of {case.way(way)} run by separate routes: the current in {joined(cables)} "
            "comes back another way.",
            means="Side by side their magnetic fields cancel; apart they do not, and where each goes through a hole "
            "of its own in steel, the steel heats.",
            advice=f"{_in_steel(case, cables)}Where it is rewired, run line and neutral together. Two switches for "
            "one light can be fed from the light itself, with three cores between the switches.",
            accessory=case.cables[cables[0]].ends[1], core=case.cables[cables[0]].cores[0].key,
            clause="BS 7671 521.8.1 (clause from memory)",
        )


def _in_steel(case: Case, cables: list[str]) -> str:
    """What comes first, of cables that run in a conduit: in one of steel a conductor may not run alone."""
    enclosed = [case.cables[name] for name in cables if case.cables[name].run_in]
    steel = dict.fromkeys(cable.run_in for cable in enclosed if in_steel(cable))
    perhaps = dict.fromkeys(cable.run_in for cable in enclosed if not in_steel(cable) and not in_plastic(cable))
    said = ""
    if steel:
        said = f"Bring line and neutral into one enclosure: what it runs in ({joined(steel)}) is of steel. "
    if perhaps:
        said += (f"See whether what it runs in ({joined(perhaps)}) is of steel: there line and neutral must be "
                 "brought into one enclosure. ")
    return said


def _unbalanced(case: Case, figures: CableFigures) -> bool:
    cable = case.cables[figures.cable]
    return not cable.link and figures.amps > LEAST and figures.unbalanced > SHARE * figures.amps


RULE = Rule("wide_loop", "line and neutral of a circuit by separate routes", check)
