"""A neutral joined to an earth away from the board."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
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
            means="Current of the lamps returns through the cpcs as well. If the neutral is ever lost, every earthed "
            "metal part on them becomes live; an RCD trips.",
            advice="Part neutral and cpc there; they are joined at the origin only.",
            accessory=place.accessory, terminal=place.name, setting=case.setting(group, row),
        )


RULE = Rule("neutral_earth", "neutral joined to earth within the circuit", check)
