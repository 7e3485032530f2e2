"""A cpc that comes from another circuit than the lines beside it."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.case import Case
from sheetgen.judge.earth import earth_terminal, ways_at
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Accessory
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.solution import Potential
from sheetgen.model.words import joined


def check(case: Case) -> Iterator[Finding]:
    """One finding for each pair of ways, with the accessories concerned."""
    found: dict[tuple[tuple[str, ...], tuple[str, ...]], list[Accessory]] = {}
    for accessory in case.wiring.accessories:
        terminal = earth_terminal(accessory)
        if terminal is None or terminal not in case.landed:
            continue
        earths = ways_at(case, accessory, Potential.EARTH)
        lines = ways_at(case, accessory, Potential.LINE, Potential.NEUTRAL)
        if earths and lines and not set(earths) & set(lines):
            found.setdefault((lines, earths), []).append(accessory)
    for (lines, earths), places in found.items():
        one = len(places) == 1
        yield Finding(
            "cpc_of_another_way", Gravity.PUT_RIGHT,
            says=f"The cpc at {joined(a.name for a in places)} comes from {case.all_ways(earths)}, and "
            f"{'its' if one else 'their'} line from {case.all_ways(lines)}.",
            means=f"Whoever takes {case.all_ways(earths)} out of use takes the earth from {case.all_ways(lines)} too.",
            advice=f"Bring a cpc of {case.all_ways(lines)} with its lines.", accessory=places[0].name,
        )


RULE = Rule("cpc_of_another_way", "cpc that comes from another circuit than the lines", check)
