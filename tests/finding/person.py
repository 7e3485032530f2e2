"""A person who makes the tests of a plan on a circuit with a fault that the plan does not know, and reads the answers.

What is joined is worked out here by networkx over the conductors and the contacts that are made; nothing is asked of
the room under test but the plan.
"""

from __future__ import annotations

from collections.abc import Mapping

import networkx as nx

from sheetgen.model.finding_out import Means, Outcome, PlanStep, Trial
from sheetgen.model.wiring import Wiring


def joined(wiring: Wiring, setting: Mapping[str, str], off: tuple[str, str] | None = None) -> nx.Graph:
    """Terminals, and what joins them on the dead circuit; `off`: a cable and the accessory where its cores are off."""
    graph = nx.Graph()
    graph.add_nodes_from(wiring.nodes())
    for cable in wiring.cables:
        for core in cable.cores:
            a, b = (end.node if off != (cable.name, end.accessory) else None for end in core.ends)
            if a is not None and b is not None:
                graph.add_edge(a, b)
    for name, accessory, switch in wiring.switches():
        for position in switch.positions:
            if position.name == setting[name]:
                graph.add_edges_from((accessory.terminal(x), accessory.terminal(y)) for x, y in position.joins)
    earths = [a.terminal(t) for a in wiring.accessories for t, kind in a.kind.rails if kind == "earth"]
    graph.add_edges_from((earths[0], other) for other in earths[1:])
    return graph


def reads(trial: Trial, wiring: Wiring, base: Mapping[str, str]) -> tuple[tuple[tuple[str, str], tuple[str, str]], ...]:
    """Of the pairs of a dead test on terminals those that a meter finds closed."""
    graph = joined(wiring, {**base, **dict(trial.setting)})
    graph.add_edges_from(trial.joined)
    return tuple(pair for pair in trial.pairs if nx.has_path(graph, *pair))


def chosen(step: PlanStep, wiring: Wiring, base: Mapping[str, str], truth: int) -> Outcome:
    """The outcome that a person reads; watching and looking, and cores taken off, are answered for the truth."""
    cables = {cable.name for cable in wiring.cables}
    if step.trial.means is Means.DEAD and step.trial.pairs[0][0][0] not in cables:
        closed = set(reads(step.trial, wiring, base))
        return next(o for o in step.outcomes if set(o.closed) == closed)
    return next(o for o in step.outcomes if truth in o.left)


def followed(plan: PlanStep | None, wiring: Wiring, base: Mapping[str, str], truth: int,
             everything: tuple[int, ...]) -> tuple[tuple[int, ...], list[Trial]]:
    """The candidates left at the end of a plan, and the tests made."""
    made: list[Trial] = []
    left = everything
    while plan is not None:
        outcome = chosen(plan, wiring, base, truth)
        made.append(plan.trial)
        left, plan = outcome.left, outcome.then
    return left, made
