"""How many tests it takes: `python -m tests.finding.measure [fault|identify]`, the figures of the method's note.

A simulated person answers from the truth. Every fault of every example, told by its lamps in every setting, is led
through the plan; the most readings and steps are of the set that looks alike most. `table` are the figures of the note
(open cores, exchanges, parted terminals only; readings to split the largest set that looks alike), which had to be
met; the same three kinds are counted here in the second line of each example.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from pathlib import Path

from sheetgen.find.faults import faults_of
from sheetgen.find.identify import identify
from sheetgen.find.plan import Planner, figures_of
from sheetgen.find.trials import FaultCase, FaultTrials
from sheetgen.model.finding_out import Fault
from sheetgen.pipeline import circuit_of, style_of, wiring_of

sys.path.insert(0, str(Path(__file__).parents[1]))
from finding.hidden import hidden, led_to_the_end
from finding.person import followed

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
TABLE = {"one-way-loop-in": (10, 2.0, 3), "two-way-conversion": (12, 2.7, 4), "two-way-line-at-switch": (8, 2.2, 3),
         "three-switches": (14, 2.7, 3), "landing-borrowed-neutral": (13, 2.4, 4)}
THREE = (Fault.OPEN, Fault.EXCHANGED, Fault.PARTED)


def fault() -> None:
    print(f"{'example':32}{'faults':>7}{'classes':>8}{'largest':>8}{'readings':>14}{'steps':>12}{'bound':>6}{'lost':>6}"
          f"{'s':>7}   table")
    for path in EXAMPLES:
        circuit = circuit_of(path.read_text(encoding="utf-8"))
        trials = FaultTrials(circuit)
        cases = [trials.case(f) for f in faults_of(circuit)]
        for kinds in (tuple(Fault), THREE):
            _classes(path.stem, trials, [c for c in cases if c.faulty.suspect.fault in kinds], kinds == THREE)


def _classes(name: str, trials: FaultTrials, cases: Sequence[FaultCase], three: bool) -> None:
    sound = trials.case(faults_of(trials.sound)[-1])
    right = tuple(sound.showing.shown(s) for s in trials.settings)
    classes: dict[tuple, list[FaultCase]] = {}
    for case in cases:
        classes.setdefault(tuple(case.showing.shown(s) for s in trials.settings), []).append(case)
    begun = time.perf_counter()
    lost, largest, figures = 0, 0, None
    for shown, some in classes.items():
        if shown == right:
            continue  # no lamp shows it
        planner = Planner([1] * len(some), [*trials.looking(some), *trials.readings(some)])
        plan = planner.step()
        for number, case in enumerate(some):
            left, _ = followed(plan, case.faulty.wiring, dict(trials.base), number, tuple(range(len(some))))
            lost += number not in left
        if len(some) > largest:
            largest, figures = len(some), figures_of(plan, [1] * len(some), [planner])
    took = time.perf_counter() - begun
    if figures:
        table = TABLE.get(name) if three else None
        print(f"{('  three kinds' if three else name):32}{len(cases):>7}{len(classes):>8}{largest:>8}"
              f"{figures.mean_readings:>10.2f} / {figures.worst_readings}{figures.mean_tests:>8.2f} / "
              f"{figures.worst_tests}{figures.mean_bound:>6.2f}{lost:>6}{took:>7.1f}   {table or ''}")


def pairs() -> None:
    """The pairing hidden; with who works what, then without."""
    print(f"{'example':32}{'ends':>5}{'who':>5}{'fit':>7}{'mean / worst':>13}{'bound':>7}{'made':>6}{'right':>7}"
          f"{'s':>9}")
    for path in EXAMPLES:
        for who in (True, False):
            wiring, truth = hidden(wiring_of(path.read_text(encoding="utf-8")), who)
            begun = time.perf_counter()
            first = identify(wiring, style_of().sets, wiring.seen)
            took = time.perf_counter() - begun
            found, made = led_to_the_end(wiring, truth)
            right = {frozenset(p) for p in found.pairs or ()} == {frozenset(p) for p in truth.items()}
            f = first.figures
            told = f"{f.mean_tests:>8.2f} / {f.worst_tests:<3}{f.mean_bound:>7.2f}" if f else f"{'step by step':>20}"
            fit = str(first.candidates) if first.all else "many"
            print(f"{path.stem:32}{len(truth):>5}{'yes' if who else 'no':>5}{fit:>7}{told}"
                  f"{made:>6}{'yes' if right else 'NO':>7}{took:>9.1f}", flush=True)


if __name__ == "__main__":
    if sys.argv[1:] != ["identify"]:
        fault()
    if sys.argv[1:] != ["fault"]:
        pairs()
