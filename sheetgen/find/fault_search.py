"""From what is seen of a circuit to what is broken in it: the faults that fit, and the plan that tells them apart."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.find.concerned import concerned, not_too_large, of_part, readings_of, whole_description
from sheetgen.find.faults import Faulty, faults_of
from sheetgen.find.fits import Witness, agrees_with
from sheetgen.find.plan import Planner, figures_of, renumbered, went_on
from sheetgen.find.trials import FaultCase, FaultTrials
from sheetgen.model.finding_out import FaultFound, Means, PlanStep, Seen, Sight, TakenReading

MOST_PLANNED = 80  # faults that fit: for more only the watching is planned


def find_fault(circuit: Circuit, seen: Sequence[Seen] = (), readings: Sequence[TakenReading] = ()) -> FaultFound:
    """The single faults that fit, likeliest first, and what to do next.

    Refused where the description is not whole, or where what is joined to what is not as it should be is too large.
    """
    whole_description(circuit.wiring)
    part = concerned(circuit, seen, readings)
    trials = FaultTrials(part)
    everything = faults_of(part)
    not_too_large([(part, len(everything))])
    seen, readings = of_part(seen, part), readings_of(readings, part)
    cases = fitting(trials, everything, seen, readings)
    whole = sum(c.faulty.suspect.weight for c in cases) or 1
    suspects = tuple(replace(c.faulty.suspect, share=c.faulty.suspect.weight / whole) for c in cases)
    found = FaultFound(suspects, None, None, trials.base, tuple(circuit.standings.items()), len(everything))
    tripped = any(s.sight is Sight.TRIPS for s in seen)
    return _planned(found, trials, cases, tripped) if cases else found


def fitting(trials: FaultTrials, faults: Sequence[Faulty], seen: Sequence[Seen],
            readings: Sequence[TakenReading]) -> list[FaultCase]:
    """The faults that nothing seen and no reading contradicts, likeliest first."""
    witness = Witness(trials.sound, tuple(seen), trials.solver)
    cases = [c for c in map(trials.case, faults)
             if witness.fits(c.showing) and agrees_with(readings, c.bench, c.showing, trials.base)
             and all(_apart(taken, trials, c) for taken in readings)]
    return sorted(cases, key=lambda c: -c.faulty.suspect.weight)


def _apart(taken: TakenReading, trials: FaultTrials, case: FaultCase) -> bool:
    """Whether a reading between cores that were off at one end of their cable may be so; True of any other reading."""
    cable = trials.sound.cables.get(taken.between[0][0])
    if cable is None or not taken.off or taken.between[1][0] != cable.name:
        return True
    named = {("cpc" if core.cpc and not core.colour else core.label): core for core in cable.cores}
    pair = tuple(sorted((named[spot[1]] for spot in taken.between), key=lambda core: core.index))
    reads = trials.apart(case, cable, cable.ends.index(taken.off), pair)
    return reads is None or reads == taken.closed


def _planned(found: FaultFound, trials: FaultTrials, cases: list[FaultCase], tripped: bool) -> FaultFound:
    """First the lamps in every setting that tells something; then, for each set that looks alike, the readings."""
    weights = [c.faulty.suspect.weight for c in cases]
    planners = [Planner(weights, [*trials.watching(cases, tripped)], most=Means.WATCH)]
    watched = planners[0].step()
    told = len(cases) <= MOST_PLANNED

    def readings(left: tuple[int, ...]) -> PlanStep | None:
        some = [cases[i] for i in left]
        planners.append(Planner([weights[i] for i in left], [*trials.looking(some), *trials.readings(some)]))
        return renumbered(planners[-1].step(), left)

    plan = went_on(watched, tuple(range(len(cases))), readings) if told else watched
    return replace(found, plan=plan, figures=figures_of(plan, weights, planners), told_apart=told)
