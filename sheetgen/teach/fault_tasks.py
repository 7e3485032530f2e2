"""Faults for a class to find: chosen by seed among those that a lamp shows, with the plan that finds each."""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256

from sheetgen.circuit import Circuit
from sheetgen.find.bench import Bench
from sheetgen.find.concerned import not_too_large, whole_description
from sheetgen.find.fault_search import find_fault
from sheetgen.find.faults import Faulty, faults_of
from sheetgen.find.symptoms import Telling
from sheetgen.find.trials import FaultTrials
from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Fault, FaultFound, Seen, Settings, Sight
from sheetgen.model.handout import FaultTask
from sheetgen.model.words import joined

KINDS = (Fault.OPEN, Fault.PARTED, Fault.EXCHANGED, Fault.TURNED, Fault.STUCK, Fault.NEVER_MAKES, Fault.TOUCHING)
MOST_SETTINGS = 8  # for which the terminals that are joined are listed


def fault_tasks(circuit: Circuit, versions: int, seed: int, ranked_in: Circuit | None = None) -> tuple[FaultTask, ...]:
    """As many tasks as there are versions, or as there are faults to be seen. Refused where an end is not known, or
    the circuit is too large.

    `ranked_in` is the same circuit in the colours that decide which faults are chosen: in other colours the same ones.
    """
    whole_description(circuit.wiring)
    telling, trials = Telling(circuit), FaultTrials(circuit)
    chosen: list[tuple[Faulty, tuple[str, ...]]] = []
    faults, ranked = (
        [f for f in faults_of(each) if f.suspect.fault in KINDS] for each in (circuit, ranked_in or circuit))
    not_too_large([(trials.sound, len(faults))])
    ranks = [sha256(f"{seed} {f.suspect.says}".encode()).digest() for f in ranked]
    for _, faulty in sorted(zip(ranks, faults, strict=True), key=lambda pair: pair[0]):
        if len(chosen) == versions:
            break
        showing = trials.case(faulty).showing
        says = tuple(telling.says(showing))
        if says:
            chosen.append((faulty, (*says, "nothing trips") if telling.never_trips(showing) else says))
    several = len(chosen) > 1
    return tuple(_task(telling, trials, faulty, says, chr(ord("A") + i) if several else "")
                 for i, (faulty, says) in enumerate(chosen))


def _task(telling: Telling, trials: FaultTrials, faulty: Faulty, says: tuple[str, ...], name: str) -> FaultTask:
    circuit = telling.circuit
    found = find_fault(circuit, _everything_seen(telling, trials, faulty))
    return FaultTask(name, says, faulty.suspect.says, tuple(s.short for s in found.suspects),
                     _path(found, faulty), _joined(circuit, trials, faulty))


def _everything_seen(telling: Telling, trials: FaultTrials, faulty: Faulty) -> list[Seen]:
    """Every lamp in every setting, and what trips."""
    showing = trials.case(faulty).showing
    seen = [Seen(Sight.DEAD, (load,)) for load in telling.dead(showing)]
    seen += [Seen(Sight.HOLDS)] if telling.never_trips(showing) else []
    for setting in dict.fromkeys((*trials.settings, *filter(trials.by_hand, showing.own_settings()))):
        trips, loads = showing.shown(setting)
        seen.append(Seen(Sight.TRIPS if trips else Sight.HOLDS, trips, setting))
        seen += [Seen(sight, (name,), setting) for name, sight in zip(trials.loads, loads, strict=True) if sight]
    return seen


def _path(found: FaultFound, faulty: Faulty) -> tuple[tuple[str, str, str], ...]:
    """The steps of the plan that lead to a fault."""
    number = next(i for i, s in enumerate(found.suspects) if s.says == faulty.suspect.says)
    standings, steps, step = dict(found.standings), [], found.plan
    while step is not None:
        outcome = next(o for o in step.outcomes if number in o.left)
        at = ", ".join(standings[stands] for stands in step.trial.setting)
        steps.append((at, step.trial.says, outcome.reads))
        step = outcome.then
    return tuple(steps)


def _joined(circuit: Circuit, trials: FaultTrials, faulty: Faulty) -> tuple[tuple[str, str], ...]:
    """In each setting the terminals that read closed to one another, so that any reading can be answered."""
    bench = Bench(faulty.wiring)
    used = sorted(circuit.landed, key=lambda t: bench.number[t])
    return tuple(
        (", ".join(circuit.standings[stands] for stands in setting if stands not in trials.base)
         or "as at first", _groups(circuit, bench, setting, used))
        for setting in trials.settings[:MOST_SETTINGS])


def _groups(circuit: Circuit, bench: Bench, setting: Settings, used: Sequence[Terminal]) -> str:
    roots = bench.roots(setting)[0]
    groups: dict[int, list[Terminal]] = {}
    for terminal in used:
        groups.setdefault(roots[bench.number[terminal]], []).append(terminal)
    return "; ".join(joined(circuit.terminal(t) for t in group) for group in groups.values() if len(group) > 1)
