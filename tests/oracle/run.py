"""`python -m tests.oracle.run --circuits 10000`: random circuits, program against oracle; counts, smallest circuits."""

from __future__ import annotations

import argparse
import traceback
from collections import Counter
from collections.abc import Iterable, Iterator
from copy import deepcopy
from dataclasses import dataclass, field

from sheetgen.model.reading import Reading
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import understood

from .compare import Disagreement, disagreements, judged
from .cures import harms, misled, wirings_after_cures, with_sleeves_told
from .maker import Plan
from .mistakes import house


@dataclass
class Tally:
    """What a run of circuits came to."""

    circuits: int = 0
    cures: int = 0
    circuits_with: Counter[str] = field(default_factory=Counter)  # kind of disagreement -> circuits
    smallest: dict[str, tuple[int, int, str]] = field(default_factory=dict)  # kind -> (size, seed, says)


def judge_again(wiring: Wiring) -> tuple[Solution, Reading]:
    """The program's word on a changed wiring."""
    from sheetgen.pipeline import reading_of
    from sheetgen.solve.wiring_to_solution import wiring_to_solution

    solution = wiring_to_solution(wiring)
    return solution, reading_of(wiring, solution)


def of_text(text: str) -> tuple[list[Disagreement], int]:
    """Every disagreement on one description, and how many cures were carried out."""
    try:
        wiring, solution, reading = understood(text)
        found, cures, before = disagreements(wiring, solution, reading), 0, None
        for finding, after in wirings_after_cures(wiring, reading):
            before = before or judged(wiring)
            found += harms(before, after, finding, reading, judge_again(after)[1])
            found += misled(reading, judge_again(with_sleeves_told(after, reading))[1], finding)
            cures += 1
    except Exception:
        return [Disagreement("crash", traceback.format_exc(limit=-2))], 0
    return found, cures


def tally(seeds: Iterable[int]) -> Tally:
    """Run the circuits of these seeds."""
    total = Tally()
    for seed in seeds:
        plan = house(seed)
        found, cures = of_text(plan.text())
        total.circuits += 1
        total.cures += cures
        for kind in dict.fromkeys(x.kind for x in found):
            total.circuits_with[kind] += 1
            size, says = len(plan.runs), next(x.says for x in found if x.kind == kind)
            if kind not in total.smallest or size < total.smallest[kind][0]:
                total.smallest[kind] = (size, seed, says)
    return total


def smaller(plan: Plan) -> Iterator[Plan]:
    """The same description with one thing less."""
    for name in plan.runs:
        less = deepcopy(plan)
        del less.runs[name]
        yield less
    used = {end for run in plan.runs.values() for end in (run.a, run.b)}
    for name in plan.accessories:
        if name not in used:
            less = deepcopy(plan)
            del less.accessories[name]
            yield less
    for way in plan.ways:
        if way not in used and len(plan.ways) > 1:
            less = deepcopy(plan)
            less.ways.remove(way)
            yield less
    for name, run in plan.runs.items():
        for i, (colour, ends) in enumerate(run.cores):
            if ends != (None, None):
                less = deepcopy(plan)
                less.runs[name].cores[i] = (colour, (None, None))
                yield less
        if run.sleeved:
            less = deepcopy(plan)
            less.runs[name].sleeved = ()
            yield less


def shrunk(plan: Plan, kind: str) -> Plan:
    """The smallest description found on which the same kind of disagreement stands."""
    while True:
        for less in smaller(plan):
            if any(x.kind == kind for x in of_text(less.text())[0]):
                plan = less
                break
        else:
            return plan


def report(total: Tally, shrink: bool) -> str:
    """Counts, and for each kind the smallest circuit that shows it."""
    differ = len(total.circuits_with)
    lines = [f"circuits {total.circuits}, cures carried out {total.cures}, kinds of disagreement {differ}"]
    for kind, count in total.circuits_with.most_common():
        _, seed, says = total.smallest[kind]
        lines.append(f"{count:6} {kind}\n       smallest: seed {seed}: {says}")
    if shrink:
        for kind, (_, seed, _) in total.smallest.items():
            plan = shrunk(house(seed), kind)
            says = next(x.says for x in of_text(plan.text())[0] if x.kind == kind)
            share = f"{total.circuits_with[kind]} of {total.circuits}"
            lines.append(f"\n## {kind}\n({share}; seed {seed}; {says})\n\n{plan.text()}")
    return "\n".join(lines)


def main() -> None:
    """Read the options and print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--circuits", type=int, default=1000)
    options.add_argument("--first", type=int, default=0, help="the first seed")
    options.add_argument("--shrink", action="store_true", help="print the smallest circuit found for each disagreement")
    chosen = options.parse_args()
    print(report(tally(range(chosen.first, chosen.first + chosen.circuits)), chosen.shrink))


if __name__ == "__main__":
    main()
