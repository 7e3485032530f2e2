"""Every cure that is printed, carried out and judged again by the oracle and by the check."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sheetgen.model.reading import (
    AddLink,
    Edit,
    Exchange,
    Finding,
    Fit,
    Gravity,
    Land,
    Reading,
    Standing,
    TakeOff,
    TakeOutLink,
)
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring

from . import dangers as d
from .compare import TOLD_BY, Disagreement, Judged, each, judged

OF_SLEEVES = ("unmarked", "wrong_sleeve")
GRAVE = {Gravity.DANGER: 2, Gravity.PUT_RIGHT: 1, Gravity.NOTE: 0}


def wirings_after_cures(wiring: Wiring, reading: Reading) -> Iterator[tuple[Finding, Wiring]]:
    """Each finding with the wiring that each of its cures leaves; the changes are carried out here, core by core."""
    for finding in reading.findings:
        for cure in finding.cures:
            after = wiring
            for edit in cure.edits:
                after = _done(after, edit)
            yield finding, after


def _done(wiring: Wiring, edit: Edit) -> Wiring:
    cores = {core.key: core for core in wiring.cores()}
    match edit:
        case Land((key, i), terminal):
            ends = {(key, i): replace(cores[key].ends[i], terminal=terminal, unknown=False)}
        case TakeOff((key, i)):
            ends = {(key, i): replace(cores[key].ends[i], terminal=None, unknown=False)}
        case Fit((key, i), colour):
            ends = {(key, i): replace(cores[key].ends[i], sleeve=colour)}
        case Exchange((a, i), (b, j)):
            first, second = cores[a].ends[i], cores[b].ends[j]
            ends = {(a, i): replace(first, terminal=second.terminal), (b, j): replace(second, terminal=first.terminal)}
        case TakeOutLink(name):
            return replace(wiring, cables=tuple(cable for cable in wiring.cables if cable.name != name))
        case AddLink(accessory, a, b, colour):
            core = Core("joined by the cure", 1, colour, (CoreEnd(accessory, a), CoreEnd(accessory, b)))
            cable = Cable(core.cable, "single", None, (core,), (accessory, accessory), wiring.colours)
            return replace(wiring, cables=(*wiring.cables, cable))
    return replace(wiring, cables=tuple(
        replace(cable, cores=tuple(
            replace(core, ends=tuple(ends.get((core.key, i), end) for i, end in enumerate(core.ends)))
            for core in cable.cores)) for cable in wiring.cables))


def harms(before: Judged, after: Wiring, finding: Finding, old: Reading, new: Reading) -> list[Disagreement]:
    """What a cure makes new or worse, by the oracle's dangers and by the check's own findings."""
    now = judged(after)
    joint = bool(d.earths_at_neutral(before.solved))  # a lamp that is lit now returns through it, as others did
    both = {x.subject for x in d.lines_and_neutrals(before.bench, before.solved)}  # the same danger, now with current
    stays = {_identity(f) for f in each(new.findings)} - {_identity(finding)}
    others = [f for f in each(old.findings) if f.gravity is Gravity.DANGER and f.accessory and _identity(f) in stays]
    found = [Disagreement(f"cure of {finding.rule} makes a danger: {x.kind}", x.subject)
             for x in sorted(now.dangers - before.dangers)
             if not (x.kind == d.EARTH_RETURN and joint) and not (x.kind == d.SWITCHED_NEUTRAL and x.subject in both)
             and not _told_anyway(x, others, now)]
    found += _work_less(before, now, finding)
    was: dict[tuple[str, str, str, str], int] = {}
    for f in each(old.findings):
        was[_identity(f)] = max(was.get(_identity(f), 0), GRAVE[f.gravity])
    for f in each(new.findings):
        if f.rule in OF_SLEEVES:
            continue  # those that waited are told now
        if GRAVE[f.gravity] > was.get(_identity(f), 0):
            found.append(Disagreement(f"cure of {finding.rule} makes a finding: {f.rule}", f.says))
    found += [Disagreement(f"cure of {finding.rule} makes a sleeve lacking", f"{key} end {end}, {colour}")
              for key, end, colour in sorted(_lacking(new) - _lacking(old))]
    alike = [sum(_identity(f) == _identity(finding) for f in each(reading.findings)) for reading in (old, new)]
    if alike[1] and alike[1] >= alike[0]:
        found.append(Disagreement(f"cure of {finding.rule} leaves the finding", finding.says))
    return found


def with_sleeves_told(after: Wiring, reading: Reading) -> Wiring:
    """The wiring after a cure, with every sleeve that the sheet of the circuit as it was told to fit or change."""
    told = {(s.core, s.end): s for s in reading.sleeves if s.standing in (Standing.MISSING, Standing.WRONG)}

    def sleeved(core: Core, i: int, end: CoreEnd) -> CoreEnd:
        sleeve = told.get((core.key, i))
        return replace(end, sleeve=None if sleeve.colour == core.colour else sleeve.colour) if sleeve else end

    return replace(after, cables=tuple(
        replace(cable, cores=tuple(replace(core, ends=tuple(sleeved(core, i, end) for i, end in enumerate(core.ends)))
                                   for core in cable.cores)) for cable in after.cables))


def misled(reading: Reading, new: Reading, finding: Finding) -> list[Disagreement]:
    """Sleeves that the sheet told to fit and that are wrong, or not needed, once the cure is done; `new` has both."""
    told = {(s.core, s.end) for s in reading.sleeves if s.standing in (Standing.MISSING, Standing.WRONG)}
    return [Disagreement(f"cure of {finding.rule} makes a sleeve wrong that was to be fitted", f"{s.core} end {s.end}")
            for s in (*new.sleeves, *new.waiting) if (s.core, s.end) in told
            and s.standing in (Standing.WRONG, Standing.NEEDLESS)]


def _lacking(reading: Reading) -> set[tuple[str, int, str]]:
    return {(s.core, s.end, s.colour) for s in reading.sleeves_as_it_is
            if s.standing in (Standing.MISSING, Standing.WRONG)}


def _told_anyway(danger: d.Danger, others: list[Finding], now: Judged) -> bool:
    """The check told the same danger before and tells it still, of the same accessory, load or way, or of a switch that
    works the load: the oracle did not see it before because rails were joined."""
    workers = d.worked_by(now.bench, now.solved).get(danger.subject, set())
    circuit = danger.subject.replace("way", "circuit")  # as findings call it
    return any(
        f.rule in TOLD_BY[danger.kind] and (
            danger.subject in f.lamps or f.accessory in workers or danger.subject.startswith(f"{f.accessory} ")
            or (danger.kind == d.MIXED_WAYS and f"{circuit} " in f.says))
        for f in others)


def _work_less(before: Judged, now: Judged, finding: Finding) -> list[Disagreement]:
    works = d.worked_by(now.bench, now.solved)
    electronics = {x.name for x in before.bench.loads if x.what == "electronics"}
    ever = {x.name for x in now.bench.loads if any(s.lit(x.name) for s in now.solved)}
    found = []
    for load, switches in d.fully_worked_by(before.bench, before.solved).items():
        if (finding.rule == "onward_line" or load in electronics) and load in finding.lamps:
            continue  # it is freed of another light's switch, or has its supply all the time
        if lost := switches - works.get(load, set()):
            found.append(Disagreement(f"cure of {finding.rule} takes a lamp from a switch", f"{load}: {sorted(lost)}"))
        if load not in ever and any(s.lit(load) for s in before.solved):
            found.append(Disagreement(f"cure of {finding.rule} leaves a lamp dark", load))
    return found


def _identity(f: Finding) -> tuple[str, str, str, str]:
    return f.rule, f.accessory, f.terminal, f.core
