"""Sleeves of the wrong colour, and sleeves that are not needed."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.catalogue.colours import CODES
from sheetgen.judge.case import Case
from sheetgen.judge.rules import no_supply
from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.sleeves import in_words
from sheetgen.model.reading import Finding, Gravity, Sleeve, Standing
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each core and kind of mistake."""
    if not no_supply.fed(case):
        return  # what a core is for can't be told
    found: dict[tuple[str, Standing, str], list[Sleeve]] = {}
    for sleeve in case.sleeves:
        if sleeve.standing in (Standing.WRONG, Standing.NEEDLESS):
            found.setdefault((sleeve.core, sleeve.standing, sleeve.has or sleeve.colour), []).append(sleeve)
    for (key, standing, has), sleeves in found.items():
        core = case.cores[key]
        ends = [core.ends[s.end] for s in sleeves]
        places = joined(map(case.end, ends))
        wrong = standing is Standing.WRONG
        role = case.roles[key]
        needed = in_words(sleeves[0].colour, role, case.sets)
        yield Finding(
            "wrong_sleeve", Gravity.PUT_RIGHT if wrong else Gravity.NOTE,
            says=f"{case.core(core)} ({role}) carries a {CODES.get(has, has)} sleeve at {places}"
            + ("." if wrong else " that it does not need."),
            means="The sleeve says that it is something else." if wrong else "It may mislead the next person.",
            advice=_cure(sleeves[0], needed, places) if wrong else f"Take it off at {places}.",
            accessory=ends[0].accessory, terminal=ends[0].terminal or "", core=key,
        )


def _cure(sleeve: Sleeve, needed: str, places: str) -> str:
    if sleeve.comes_off:
        return f"Take it off at {places}."
    return f"Fit a {needed} sleeve at {places} instead."


RULE = Rule("wrong_sleeve", "needless sleeve, or one of the wrong colour", check)
