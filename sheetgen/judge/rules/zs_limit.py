"""Zs over what the device allows."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.judge.rules.rule import Rule
from sheetgen.judge.rules.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.reckoning import PointFigures, WayFigures
from sheetgen.model.wiring import Way
from sheetgen.model.words import plain


def check(subject: Subject) -> Iterator[Finding]:
    """One finding for each way: the worst of its points, or Ze where that alone is too much."""
    for figures in subject.reckoning.ways:
        points = [p for p in subject.reckoning.points if p.way == figures.way]
        known = [p for p in points if p.zs is not None]
        worst = max(known, key=lambda p: p.zs, default=None)
        if not points or figures.limit is None:
            continue
        if worst is not None and worst.zs > figures.limit.measured:
            yield _at_point(subject, figures, worst)
        elif over_at_the_board(subject, figures):
            yield _at_board(subject, figures)


def over(subject: Subject, figures: WayFigures) -> bool:
    """A point of the way, or Ze alone, is over the limit."""
    points = [p.zs for p in subject.reckoning.points if p.way == figures.way and p.zs is not None]
    return figures.limit is not None and (
        any(zs > figures.limit.measured for zs in points) or over_at_the_board(subject, figures))


def over_at_the_board(subject: Subject, figures: WayFigures) -> bool:
    """Ze by itself is more than the device allows, whatever the lengths."""
    ze = subject.wiring.board.ze
    return ze is not None and figures.limit is not None and ze > figures.limit.table


def _at_point(subject: Subject, figures: WayFigures, worst: PointFigures) -> Finding:
    way = subject.wiring.way(figures.way)
    return Finding(
        "zs_limit", _gravity(subject, way, worst.zs),
        says=f"Zs at {worst.accessory} is expected to be {plain(worst.zs)} ohm, and {_named(subject, way)} "
        f"allows {plain(figures.limit.measured)} ohm measured cold.{_no_rcd(subject, way)}",
        means=_means(subject, way, worst.zs), cure=_cure(subject, way, "Shorten the run or use a larger cpc, "),
        accessory=worst.accessory, terminal=worst.line.name if worst.line else "",
        setting=", ".join(f"{subject.part(s)} {subject.position(s, p)}" for s, p in worst.setting),
        clause=figures.limit.source,
    )


def _at_board(subject: Subject, figures: WayFigures) -> Finding:
    way, ze = subject.wiring.way(figures.way), float(subject.wiring.board.ze)
    return Finding(
        "zs_limit", _gravity(subject, way, ze),
        says=f"Ze alone is {plain(ze)} ohm, and {_named(subject, way)} allows a Zs of {plain(figures.limit.table)} ohm."
        + _no_rcd(subject, way),
        means=_means(subject, way, ze), cure=_cure(subject, way, ""), accessory=way.accessory,
        clause=figures.limit.source,
    )


def _by_rcd(subject: Subject, way: Way) -> bool:
    """The limit is that of the RCD."""
    return bool(way.rcd) and subject.wiring.board.earthing == "TT"


def _named(subject: Subject, way: Way) -> str:
    what = f"RCD {plain(way.rcd)} mA" if _by_rcd(subject, way) else str(way.device)
    return f"{subject.way(way.accessory)} ({what})"


def _no_rcd(subject: Subject, way: Way) -> str:
    return " It is a TT supply and no RCD is given." if subject.wiring.board.earthing == "TT" and not way.rcd else ""


def _never_opens(subject: Subject, way: Way, zs: float) -> bool:
    """A fault to earth drives less current than the device is meant to carry, and no RCD sees it."""
    return not way.rcd and float(subject.wiring.board.voltage) / zs <= float(way.device.rating)


def _gravity(subject: Subject, way: Way, zs: float) -> Gravity:
    if _never_opens(subject, way, zs):
        return Gravity.DANGER
    return Gravity.NOTE if way.rcd and not _by_rcd(subject, way) else Gravity.PUT_RIGHT


def _means(subject: Subject, way: Way, zs: float) -> str:
    if _never_opens(subject, way, zs):
        amps = plain(float(subject.wiring.board.voltage) / zs)
        return (f"A fault to earth draws {amps} A and the device carries {plain(way.device.rating)} A: it never opens, "
                "and all earthed metal stays live.")
    if _by_rcd(subject, way):
        return "In a fault earthed metal may stay over 50 V without the RCD opening."
    if way.rcd:
        return f"In a fault to earth the device alone may not open in time: the RCD of {plain(way.rcd)} mA has to."
    return "In a fault to earth the device may not open in time."


def _cure(subject: Subject, way: Way, first: str) -> str:
    if subject.wiring.board.earthing == "TT":
        return "Look into the earth electrode." if way.rcd else (
            "Have the way protected by an RCD; if it is, write it into the description.")
    if way.rcd:
        return f"{first}look into Ze, and test the RCD."
    return f"{first}look into Ze, or have the way protected by an RCD."


RULE = Rule("zs_limit", "Zs over the limit of the device", check)
