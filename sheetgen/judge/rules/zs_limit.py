"""Zs over what the device allows."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sheetgen.judge.case import Case
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.reckoning import Limit, PointFigures, WayFigures
from sheetgen.model.wiring import Device, Told, Way
from sheetgen.model.words import joined, plain

SLOW = Fraction("2.55")
"""Up to this multiple of its rating a breaker to BS EN 60898 may take a minute, and no fuse of the catalogue opens in
5 s (BS 7671 Table 41.4; both from memory)."""


def check(case: Case) -> Iterator[Finding]:
    """One finding for each way: the worst of its points, or Ze where that alone is too much."""
    ways = {way.accessory: way for way in case.wiring.board.ways}
    for figures in case.reckoning.ways:
        way, limit, ze = ways[figures.way], figures.limit, case.wiring.board.ze
        if limit is None or ze is None:
            continue
        points = [p for p in case.reckoning.points if p.way == figures.way]
        known = [(p.zs, p) for p in points if p.zs is not None]
        if not points:
            continue
        zs, worst = max(known, key=lambda found: found[0], default=(0.0, points[0]))
        if zs > limit.measured:
            failing = {p.accessory: None for _, p in sorted(known, key=lambda found: -found[0])
                       if (p.zs or 0) > limit.measured}
            whole = len(failing) > 1 and failing.keys() == {p.accessory for p in points}
            yield _at_point(case, way, limit, worst, tuple(failing), whole)
        elif over_at_the_board(case, figures):
            yield _at_board(case, way, limit, float(ze))


def over(case: Case, figures: WayFigures) -> bool:
    """A point of the way, or Ze alone, is over the limit."""
    limit = figures.limit
    if limit is None or case.wiring.board.ze is None:
        return False
    points = [p.zs for p in case.reckoning.points if p.way == figures.way and p.zs is not None]
    return any(zs > limit.measured for zs in points) or over_at_the_board(case, figures)


def over_at_the_board(case: Case, figures: WayFigures) -> bool:
    """Ze by itself is more than the device allows, whatever the lengths."""
    ze = case.wiring.board.ze
    return ze is not None and figures.limit is not None and ze > figures.limit.table


def _at_point(case: Case, way: Way, limit: Limit, worst: PointFigures, failing: tuple[str, ...],
              whole: bool) -> Finding:
    """`failing`: the accessories that are over the limit, the worst first; `whole`: all that there are."""
    zs = worst.zs or 0.0
    cold = "" if case.wiring.board.opens_by_rcd(way) else " measured cold"
    return Finding(
        "zs_limit", _gravity(case, way, zs),
        says=f"Zs {_where(worst, failing, whole)} is expected to be {plain(zs)} ohm, and {_named(case, way)} "
        f"allows {plain(limit.measured)} ohm{cold}.{_no_rcd(case, way)}",
        means=_means(case, way, zs), advice=_cure(case, way, "Shorten the run or use a larger cpc, "),
        accessory=worst.accessory, terminal=worst.line.name if worst.line else "",
        setting=", ".join(f"{case.part(s)} {case.position(s, p)}" for s, p in worst.setting),
        clause=limit.source, elsewhere=tuple(name for name in failing if name != worst.accessory),
    )


def _where(worst: PointFigures, failing: tuple[str, ...], whole: bool) -> str:
    if len(failing) == 1:
        return f"at {worst.accessory}"
    return f"is over the limit at {'every point' if whole else joined(failing)}: at {worst.accessory} it"


def _at_board(case: Case, way: Way, limit: Limit, ze: float) -> Finding:
    return Finding(
        "zs_limit", _gravity(case, way, ze),
        says=f"Ze alone is {plain(ze)} ohm, and {_named(case, way)} allows a Zs of {plain(limit.table)} ohm."
        + _no_rcd(case, way),
        means=_means(case, way, ze), advice=_cure(case, way, ""), accessory=way.accessory,
        clause=limit.source,
    )


def _named(case: Case, way: Way) -> str:
    what = f"RCD {plain(way.rcd)} mA" if way.rcd and case.wiring.board.opens_by_rcd(way) else str(way.device)
    return f"{case.way(way.accessory)} ({what})"


def _no_rcd(case: Case, way: Way) -> str:
    return "" if case.wiring.board.earthing != "TT" or way.rcd else (
        f" It is a TT supply and {'there is no RCD' if way.rcd_told is Told.NONE else 'no RCD is given'}.")


def _never_opens(case: Case, way: Way, zs: float) -> Device | None:
    """The device, where a fault to earth drives less current than it is meant to carry, and no RCD sees it."""
    if way.rcd or way.device is None:
        return None
    return way.device if float(case.wiring.board.voltage) / zs <= float(way.device.rating) else None


def _opens_late(case: Case, way: Way, zs: float) -> Device | None:
    """The device, where somebody saw that there is no RCD on a TT supply and a fault to earth has it open in seconds at
    best: so long the earthed metal of the whole installation is live."""
    if case.wiring.board.earthing != "TT" or way.rcd_told is not Told.NONE or way.device is None:
        return None
    return way.device if float(case.wiring.board.voltage) / zs <= float(way.device.rating * SLOW) else None


def _gravity(case: Case, way: Way, zs: float) -> Gravity:
    if _never_opens(case, way, zs) or _opens_late(case, way, zs):
        return Gravity.DANGER
    return Gravity.NOTE if way.rcd and not case.wiring.board.opens_by_rcd(way) else Gravity.PUT_RIGHT


def _means(case: Case, way: Way, zs: float) -> str:
    if device := _never_opens(case, way, zs):
        amps = plain(float(case.wiring.board.voltage) / zs)
        return (f"A fault to earth draws {amps} A and the device carries {plain(device.rating)} A: it never opens, "
                "and all earthed metal stays live.")
    if _opens_late(case, way, zs):
        amps = plain(float(case.wiring.board.voltage) / zs)
        return (f"A fault to earth draws {amps} A: the device may need seconds or minutes to open at that, where a "
                "TT supply is to be off within 0.2 s. Until then all earthed metal is live.")
    if case.wiring.board.opens_by_rcd(way):
        return "In a fault earthed metal may stay over 50 V without the RCD opening."
    if way.rcd:
        return f"In a fault to earth the device alone may not open in time: the RCD of {plain(way.rcd)} mA has to."
    return "In a fault to earth the device may not open in time."


def _cure(case: Case, way: Way, first: str) -> str:
    if case.wiring.board.earthing == "TT":
        if way.rcd:
            return "Look into the earth electrode."
        asked = "" if way.rcd_told is Told.NONE else "; if it is, write it into the description"
        return f"Have the circuit protected by an RCD{asked}."
    if way.rcd:
        return f"{first}look into Ze, and test the RCD."
    return f"{first}look into Ze, or have the circuit protected by an RCD."


RULE = Rule("zs_limit", "Zs over the limit of the device", check)
