"""Every cure that is printed, carried out and judged again by the oracle and by the check."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.model.reading import Finding, Gravity, Reading
from sheetgen.model.wiring import Wiring

from . import dangers as d
from .compare import Disagreement, Judged, judged

GRAVE = {Gravity.DANGER: 2, Gravity.PUT_RIGHT: 1, Gravity.NOTE: 0}


def wirings_after_cures(wiring: Wiring, reading: Reading) -> Iterator[tuple[Finding, Wiring]]:
    """Each finding with the wiring that each of its cures leaves.

    A finding tells its cure in words only so far; cures that come as values are carried out here, and the test of them
    fails until they are.
    """
    for finding in reading.findings:
        for cure in getattr(finding, "cures", ()):
            raise NotImplementedError(f"{finding.rule}: how is {cure} carried out on {wiring.job}?")
    yield from ()


def harms(before: Judged, after: Wiring, finding: Finding, old: Reading, new: Reading) -> list[Disagreement]:
    """What a cure makes new or worse, by the oracle's dangers and by the check's own findings."""
    now = judged(after)
    found = [Disagreement(f"cure of {finding.rule} makes a danger: {x.kind}", x.subject)
             for x in sorted(now.dangers - before.dangers)]
    found += _work_less(before, now, finding)
    was = {_identity(f): GRAVE[f.gravity] for f in old.findings}
    for f in new.findings:
        if GRAVE[f.gravity] > was.get(_identity(f), 0):
            found.append(Disagreement(f"cure of {finding.rule} makes a finding: {f.rule}", f.says))
    if any(_identity(f) == _identity(finding) for f in new.findings):
        found.append(Disagreement(f"cure of {finding.rule} leaves the finding", finding.says))
    return found


def _work_less(before: Judged, now: Judged, finding: Finding) -> list[Disagreement]:
    worked, works = (d.worked_by(x.bench, x.solved) for x in (before, now))
    ever = {x.name for x in now.bench.loads if any(s.lit(x.name) for s in now.solved)}
    found = []
    for load, switches in worked.items():
        if lost := switches - works.get(load, set()):
            found.append(Disagreement(f"cure of {finding.rule} takes a lamp from a switch", f"{load}: {sorted(lost)}"))
        if load not in ever and any(s.lit(load) for s in before.solved):
            found.append(Disagreement(f"cure of {finding.rule} leaves a lamp dark", load))
    return found


def _identity(f: Finding) -> tuple[str, str, str, str]:
    return f.rule, f.accessory, f.terminal, f.core
