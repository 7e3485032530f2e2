"""Device, cable and load that do not fit one another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from sheetgen.judge.case import Case
from sheetgen.judge.figures.spurs import fuses_before
from sheetgen.judge.rules.rule import Rule
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.reckoning import CableFigures
from sheetgen.model.wiring import Way
from sheetgen.model.words import joined, plain

AT_BEST = "BS 7671 Table 4D5, method C: the most favourable, as none is given"
SINGLE_AT_BEST = "BS 7671 Table 4D1A: the most favourable method, as none is given (from memory)"


def check(case: Case) -> Iterator[Finding]:
    """The load against the device of each way; the device and the load against each cable."""
    figures = {f.way: f for f in case.reckoning.ways}
    fixed = [f for f in case.reckoning.cables
             if not case.cables[f.cable].flex and f.at_best is not None and not _fused(case, f, fuses_before(case))]
    for way in case.wiring.board.ways:
        amps = figures[way.accessory].amps
        if way.device and amps > way.device.rating:
            yield Finding(
                "coordination", Gravity.PUT_RIGHT,
                says=f"The lamps of {case.way(way.accessory)} take {plain(amps)} A, its device is {way.device}.",
                means="The device opens when everything is on.",
                advice="Take lamps off the circuit, or lower their load.", accessory=way.accessory,
            )
        yield from _cables(case, way, [f for f in fixed if _on(case, f, way)])
    yield from _flexes(case)


def _on(case: Case, figures: CableFigures, way: Way) -> bool:
    cores = case.cables[figures.cable].cores
    return any(way.accessory in case.ways[core.key] for core in cores if not core.cpc)


def _fused(case: Case, figures: CableFigures, fuses: Mapping[Terminal, Fraction]) -> bool:
    """Line reaches the cable only through a fuse of an accessory's own that protects it."""
    ends = [end.node for core in case.cables[figures.cable].cores for end in core.ends if end.node]
    fused = [fuses[end] for end in ends if end in fuses]
    return bool(fused) and figures.at_best is not None and max(fused) <= figures.at_best


def _cables(case: Case, way: Way, cables: list[CableFigures]) -> Iterator[Finding]:
    """One finding for the cables that the device does not protect: a danger where one of them is overloaded as well."""
    weak = [(f.at_best, f) for f in cables
            if f.at_best is not None and not _protected(way, f.at_best) and (way.device or f.amps > f.at_best)]
    if not weak:
        return
    rating, least = min(weak, key=lambda found: found[0])
    loaded = [f for best, f in weak if f.amps > best]
    most = max(loaded, key=lambda f: f.amps, default=None)
    device = f"the device of {case.way(way.accessory)} is {way.device}" if way.device else (
        f"no device is given for {case.way(way.accessory)}")
    load = f"; the load of {joined(f.cable for f in loaded)} is up to {plain(most.amps)} A" if most else ""
    at_best = SINGLE_AT_BEST if case.cables[least.cable].single else AT_BEST
    yield Finding(
        "coordination", Gravity.DANGER if most else Gravity.PUT_RIGHT,
        says=f"{joined(f.cable for _, f in weak)} may carry {plain(rating)} A, and {device}{load}.",
        means="The cable overheats and nothing opens." if most else
        "An overload can overheat the cable before the device opens.",
        advice="Fit a device of a lower rating, or a larger cable.",
        accessory=way.accessory, core=case.cables[least.cable].cores[0].key, clause=least.source or at_best,
    )


def _protected(way: Way, rating: Fraction) -> bool:
    return way.device is not None and way.device.rating <= rating


def _flexes(case: Case) -> Iterator[Finding]:
    for figures in case.reckoning.cables:
        cable = case.cables[figures.cable]
        if cable.flex and figures.rating is not None and figures.amps > figures.rating:
            yield Finding(
                "coordination", Gravity.DANGER,
                says=f"The flex {cable.name} carries {plain(figures.amps)} A and may carry {plain(figures.rating)} A.",
                means="It gets hot.", advice="Fit a larger flex, or a smaller lamp.",
                accessory=cable.ends[0], core=cable.cores[0].key, clause=figures.source,
            )


RULE = Rule("coordination", "device, cable and load that do not fit one another", check)
