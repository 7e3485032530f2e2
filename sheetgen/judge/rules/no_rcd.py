"""Lighting without a residual current device."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sheetgen.judge.case import Case
from sheetgen.judge.rules import zs_limit
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Told
from sheetgen.model.words import capital, plain

MOST = Fraction(30)  # mA


def check(case: Case) -> Iterator[Finding]:
    """One finding for all ways without an RCD of 30 mA or less. Where nobody has told whether there is one nothing is
    judged; on a TT supply, which needs one to disconnect, it is asked for wherever the device is told."""
    figures = {f.way: f for f in case.reckoning.ways}
    reached = {way for key, ways in case.ways.items() if not case.cores[key].cpc for way in ways}
    tt = case.wiring.board.earthing == "TT"
    told = [way for way in case.wiring.board.ways if way.rcd_told is not Told.UNKNOWN or (tt and way.device)]
    ways = [
        way.accessory for way in told if (way.rcd is None or way.rcd > MOST) and way.accessory in reached
        and not zs_limit.over(case, figures[way.accessory])
    ]
    if not ways:
        return
    bare = [way for way in ways if _rcd(case, way) is None]
    if tt and bare:
        there_is_none = all(way.rcd_told is Told.NONE for way in told if way.accessory in bare)
        yield Finding(
            "no_rcd", Gravity.PUT_RIGHT,
            says=f"{'There is no RCD' if there_is_none else 'No RCD is given'} for {case.all_ways(bare)}, and the "
            "supply is TT.",
            means="A fault to earth through the electrode seldom draws enough to open the device alone.",
            advice=f"Have {case.places(bare)} protected by an RCD"
            f"{'' if there_is_none else '; if it is, write it into the description'}.",
            accessory=bare[0], clause="BS 7671 411.5.2 (clause from memory)",
        )
        return
    large = [way for way in ways if way not in bare]
    none = all(way.rcd_told is Told.NONE for way in told if way.accessory in ways)
    yield Finding(
        "no_rcd", Gravity.NOTE,
        says=f"There is no RCD for {case.all_ways(ways)}." if none else
        f"No RCD of {MOST} mA or less is given for {case.all_ways(ways)}.{_larger(case, large)}",
        means="New and altered lighting circuits of dwellings have had to have one since 2018; those of a room with a "
        "bath or shower, and cables less than 50 mm deep in a wall, since 2008.",
        advice="Have one fitted when the circuit is altered." if none or len(large) == len(ways) else
        "Write it into the description if there is one; have one fitted when the circuit is altered.",
        accessory=ways[0], clause="BS 7671 411.3.4, 701.411.3.3 and 522.6",
    )


def _larger(case: Case, ways: list[str]) -> str:
    """Which ways have an RCD of more, and what that is good for: on a TT supply it opens at a fault to earth."""
    serves = {
        "": "does not protect whoever touches a live part",
        "TT": "opens at a fault to earth, as a TT supply needs, but does not protect whoever touches a live part",
    }.get(case.wiring.board.earthing, "guards against fire alone")
    rated: dict[Fraction, list[str]] = {}
    for way in ways:
        rated.setdefault(_rcd(case, way) or MOST, []).append(way)
    return "".join(f" {capital(case.all_ways(found))} {'have' if len(found) > 1 else 'has'} one of {plain(rcd)} mA, "
                   f"which {serves}." for rcd, found in rated.items())


def _rcd(case: Case, way: str) -> Fraction | None:
    found = case.wiring.way(way)
    return found.rcd if found else None


RULE = Rule("no_rcd", "lighting without an RCD", check)
