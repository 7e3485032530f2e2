"""Device, cable and load that do not fit one another."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.checks.kind import Rule
from sheetgen.checks.subject import Subject
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Way
from sheetgen.words import joined, plain


def check(subject: Subject) -> Iterator[Finding]:
    """The load against the device of each way; the device against each cable of fixed wiring; the load of each flex."""
    figures = {f.way: f for f in subject.reckoning.ways}
    for way in subject.wiring.board.ways:
        amps = figures[way.accessory].amps
        if way.device and amps > way.device.rating:
            yield Finding(
                "coordination", Gravity.PUT_RIGHT,
                says=f"The lamps of {subject.way(way.accessory)} take {plain(amps)} A, its device is {way.device}.",
                means="The device opens when everything is on.",
                cure="Take lamps off the way, or lower their load.", accessory=way.accessory,
            )
        if way.device:
            yield from _cables(subject, way)
    yield from _flexes(subject)


def _cables(subject: Subject, way: Way) -> Iterator[Finding]:
    weak = []
    for figures in subject.reckoning.cables:
        cable = subject.cables[figures.cable]
        mine = any(way.accessory in subject.ways[c.key] for c in cable.cores if not c.cpc)
        if mine and not cable.flex and figures.rating is not None and figures.rating < way.device.rating:
            weak.append(figures)
    if weak:
        least = min(weak, key=lambda f: f.rating)
        yield Finding(
            "coordination", Gravity.PUT_RIGHT,
            says=f"{joined(f.cable for f in weak)} may carry {plain(least.rating)} A, and the device of "
            f"{subject.way(way.accessory)} is {way.device}.",
            means="An overload can overheat the cable before the device opens.",
            cure="Fit a device of a lower rating, or a larger cable.",
            accessory=way.accessory, core=subject.cables[least.cable].cores[0].key,
            clause=f"{least.source}",
        )


def _flexes(subject: Subject) -> Iterator[Finding]:
    for figures in subject.reckoning.cables:
        cable = subject.cables[figures.cable]
        if cable.flex and figures.rating is not None and figures.amps > figures.rating:
            yield Finding(
                "coordination", Gravity.PUT_RIGHT,
                says=f"The flex {cable.name} carries {plain(figures.amps)} A and may carry {plain(figures.rating)} A.",
                means="It gets hot.", cure="Fit a larger flex, or a smaller lamp.",
                accessory=cable.ends[0], core=cable.cores[0].key, clause=figures.source,
            )


RULE = Rule("coordination", "device, cable and load that do not fit one another", check)
