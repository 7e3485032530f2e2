"""Cores that need a sleeve and have none."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.catalogue.colours import CODES
from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.sleeves import in_words
from sheetgen.model.reading import Finding, Gravity, Role, Sleeve, Standing
from sheetgen.model.words import joined

MOST_APART = 3  # cores that lack one colour of sleeve and are told one by one
NEUTRALS = (Role.NEUTRAL, Role.SWITCHED_NEUTRAL)


def check(case: Case) -> Iterator[Finding]:
    """One finding for each core, or for many of them that lack one colour; one for all bare cpcs together."""
    missing: dict[str, list[Sleeve]] = {}
    for sleeve in case.sleeves:
        if sleeve.standing is Standing.MISSING:
            missing.setdefault(sleeve.core, []).append(sleeve)
    bare = [s for key, sleeves in missing.items() if case.cores[key].colour == "" for s in sleeves]
    apart: dict[str, list[list[Sleeve]]] = {}
    for key, sleeves in missing.items():
        if case.cores[key].colour != "":
            apart.setdefault(sleeves[0].colour, []).append(sleeves)
    for colour, cores in apart.items():
        if len(cores) > MOST_APART:
            yield _together(case, colour, cores)
        else:
            yield from (_core(case, sleeves) for sleeves in cores)
    if bare:
        places = case.places(case.cores[s.core].ends[s.end].accessory for s in bare)
        yield Finding(
            "unmarked", Gravity.PUT_RIGHT,
            says=f"The bare cpc has no sleeve at {places}.",
            means="A bare conductor can touch a live terminal in the box.",
            advice="Fit green-and-yellow sleeving where the sheath is removed.",
            accessory=case.cores[bare[0].core].ends[bare[0].end].accessory, core=bare[0].core,
            clause="BS 7671 543.3.201 (clause from memory)",
        )


def _together(case: Case, colour: str, cores: list[list[Sleeve]]) -> Finding:
    """Many cores that lack the same sleeve: one finding that lists the ends."""
    ends = {sleeves[0].core: [case.cores[s.core].ends[s.end] for s in sleeves] for sleeves in cores}
    listed = "; ".join(f"{case.core(key)} ({case.roles[key]}) at {case.terminals(e.node for e in own if e.node)}"
                       for key, own in ends.items())
    first = next(iter(ends))
    return Finding(
        "unmarked", Gravity.PUT_RIGHT, says=f"{len(cores)} cores have no {CODES[colour]} sleeve: {listed}.",
        means="Their colours say that they are something else.",
        advice=f"Fit a {in_words(colour, case.roles[first], case.sets)} sleeve at each of these ends.",
        accessory=ends[first][0].accessory, terminal=ends[first][0].terminal or "", core=first,
        clause="BS 7671 514.3 (clause from memory)",
    )


def _core(case: Case, sleeves: list[Sleeve]) -> Finding:
    core = case.cores[sleeves[0].core]
    ends = [core.ends[s.end] for s in sleeves]
    role = case.roles[core.key]
    places = joined(map(case.end, ends))
    own = case.sets[case.cables[core.cable].colours]
    needed = in_words(sleeves[0].colour, role, case.sets)
    if role in NEUTRALS:
        says = f"{case.core(core)} is a neutral and is not marked at {places}."
        means = f"It is taken for a line: {CODES[core.colour]} is no neutral here."
    elif role is Role.CPC:
        says = f"{case.core(core)} is a cpc and is not marked at {places}."
        means = "It is taken for a live conductor, and may be used as one."
    else:
        link = "link between lamps" if role is Role.BETWEEN_LAMPS else role
        says = f"{case.core(core)} is a {link} and is not marked at {places}."
        means = "It looks like a neutral and can be live." if core.colour == own.neutral else (
            "Nothing says that it can be live.")
    letter = {"cpc": ""}.get(role, ", or mark it N" if role in NEUTRALS else ", or mark it L")
    return Finding(
        "unmarked", Gravity.PUT_RIGHT, says=says, means=means,
        advice=f"Fit a {needed} sleeve at {places}{letter}.",
        accessory=ends[0].accessory, terminal=ends[0].terminal or "", core=core.key,
        clause="BS 7671 514.3 (clause from memory)",
    )


RULE = Rule("unmarked", "core that can be live, neutral or bare cpc without the marking it needs", check)
