"""The order in which a circuit is judged: roles, ways, sleeves, figures, findings with their cures, methods, places."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.judge.case import Case
from sheetgen.judge.cures import with_cures
from sheetgen.judge.figures import Reckoner
from sheetgen.judge.isolation import isolation_of
from sheetgen.judge.methods import recognise, what_is_where
from sheetgen.judge.miswired import miswired, with_findings
from sheetgen.judge.notices import cpc_not_known, mixed_colours, without_cpc
from sheetgen.judge.one_fault import told_once
from sheetgen.judge.roles import nets_of, roles_of, ways_of
from sheetgen.judge.rules import RULES
from sheetgen.judge.rules.unjudged import resting_on_ends, unjudged
from sheetgen.judge.sleeves import sleeves_of
from sheetgen.judge.taken import taken_as_usual
from sheetgen.judge.waiting import shown, told_now, waiting
from sheetgen.model.reading import Finding, Gravity, Reading, Sleeve
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import capital


def judge(circuit: Circuit, sets: Mapping[str, ColourSet], cures: bool = True) -> Reading:
    """Everything that is said of a solved circuit. `sets`: colour sets by name.

    Without `cures` what would mend a finding is not looked for, which takes most of the time where much is wrong.
    """
    case = case_of(circuit, sets)
    found = tuple(noticed(case))
    waits: tuple[Sleeve, ...] = ()
    if cures:
        found = with_cures(case, found, lambda changed: case_of(changed, sets), noticed)
        waits = waiting(case, found, lambda changed: case_of(changed, sets))
        found = told_once(case, told_now(case, found, waits))
    isolation = isolation_of(circuit, case.by_net)
    return Reading(
        case.roles, case.ways, shown(case.sleeves, waits),
        findings=in_order(circuit.wiring, found),
        circuits=recognise(circuit),
        places=with_findings(
            what_is_where(circuit.wiring, circuit.solution, case.roles, case.ways, isolation.at, case.earthed), circuit,
            found),
        figures=case.reckoning.everything(),
        isolation=isolation,
        unjudged={**resting_on_ends(case), **unjudged(circuit.wiring, case.reckoning.everything())},
        mixed_colours=mixed_colours(circuit.wiring),
        without_cpc=without_cpc(circuit, case.roles, case.earthed),
        cpc_not_known=cpc_not_known(circuit, case.roles, case.earthed),
        taken=taken_as_usual(circuit),
        miswired=bool(miswired(found)),
        waiting=waits,
    )


def case_of(circuit: Circuit, sets: Mapping[str, ColourSet]) -> Case:
    """What the rules look at."""
    nets = nets_of(circuit)
    roles, ways = roles_of(circuit, nets, sets), ways_of(circuit, nets)
    return Case(circuit.wiring, circuit.solution, nets, roles, ways, sleeves_of(circuit.wiring, roles, sets), sets,
                Reckoner(circuit.wiring, circuit.solution, ways))


def noticed(case: Case) -> Iterator[Finding]:
    """What every rule notices, in the order of the rules, without cures; a rule is asked when its turn comes."""
    return (finding for rule in RULES for finding in rule.check(case))


def in_order(wiring: Wiring, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Most serious first, then by place in the order of the description; the rules' order breaks ties.

    A name that the user wrote small may begin a sentence: it gets its capital here.
    """
    gravity = {g: i for i, g in enumerate(Gravity)}
    place = {a.name: i for i, a in enumerate(wiring.accessories)}
    written = map(_written, findings)
    return tuple(sorted(written, key=lambda f: (gravity[f.gravity], place.get(f.accessory, len(place)))))


def _written(finding: Finding) -> Finding:
    return replace(finding, says=capital(finding.says), means=capital(finding.means), advice=capital(finding.advice),
                   also=tuple(map(_written, finding.also)))
