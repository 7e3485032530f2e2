"""A neutral joined to an earth away from the board."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.rcds import may_trip
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity


def check(case: Case) -> Iterator[Finding]:
    """One finding for each way, in the first setting that joins them."""
    seen = set()
    for group, row, meeting in case.meetings():
        neutral, _other = meeting.rails
        if meeting.kinds != ("neutral", "earth") or neutral in seen:
            continue
        seen.add(neutral)
        place = next((t for t in reversed(meeting.through) if t.accessory not in case.board), neutral)
        yield Finding(
            "neutral_earth", Gravity.DANGER,
            says=f"The neutral of {case.way(neutral.accessory)} is joined to the cpc at {case.terminal(place)}.",
            means=_means(case, neutral.accessory),
            advice="Part neutral and cpc there; they are joined at the origin only.",
            accessory=place.accessory, terminal=place.name, setting=case.setting(group, row),
        )


def _means(case: Case, way: str) -> str:
    trips = "; an RCD may trip" if may_trip(case, [way], None) else ""
    return ("Current of the lamps returns through the cpcs as well. If the neutral is ever lost, every earthed "
            f"metal part on them becomes live{trips}.")


RULE = Rule("neutral_earth", "neutral joined to earth within the circuit", check)
