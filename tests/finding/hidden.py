"""Finished examples with the pairing hidden: every cable cut into the two ends that were seen."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx

from sheetgen.catalogue.accessories.joints import NOT_SEEN
from sheetgen.circuit import circuit_of
from sheetgen.find.across import core_word
from sheetgen.find.identify import identify
from sheetgen.judge.work import worked_by
from sheetgen.model.accessory import Accessory
from sheetgen.model.finding_out import Identified, Outcome, PlanStep, Seen, Sight, TakenReading
from sheetgen.model.wiring import Cable, CoreEnd, Wiring
from sheetgen.pipeline import style_of


def hidden(wiring: Wiring, who_works_what: bool) -> tuple[Wiring, dict[str, str]]:
    """The wiring as it is written down at the opened accessories, and the truth: each end -> its partner.

    Flexes of pendants stay: anyone sees where they go.
    """
    cables: list[Cable] = []
    unseen: list[Accessory] = []
    truth: dict[str, str] = {}
    for cable in wiring.cables:
        if cable.flex or cable.link:
            cables.append(cable)
            continue
        names = (f"{cable.name}a", f"{cable.name}b")
        truth |= {names[0]: names[1], names[1]: names[0]}
        for i, name in enumerate(names):
            far = f"{name}, end not seen"
            unseen.append(Accessory(far, NOT_SEEN.build({}), opened=False))
            cores = tuple(replace(core, cable=name, ends=(core.ends[i], CoreEnd(far, None, unknown=True)))
                          for core in cable.cores)
            cables.append(replace(cable, name=name, cores=cores, ends=(cable.ends[i], far), length=None,
                                  at_one_end=True))
    seen = []
    if who_works_what:
        circuit = circuit_of(wiring)
        work = worked_by(circuit)
        seen = [Seen(Sight.WORKED_BY, (lamp,), by=tuple(sorted(work[lamp]))) for lamp in sorted(circuit.lamp_names)]
    # the ends in an order that tells nothing: by accessory
    order = {a.name: i for i, a in enumerate(wiring.accessories)}
    cables.sort(key=lambda c: (c.at_one_end, order[c.ends[0]]))
    return replace(wiring, cables=tuple(cables), accessories=(*wiring.accessories, *unseen), seen=tuple(seen)), truth


def answered(step: PlanStep, wiring: Wiring, truth: dict[str, str]) -> tuple[Outcome, list[TakenReading]]:
    """What a person reads who made a step on the real thing, and the readings as they are written down.

    The real thing is a graph: the cores of the true cables, end to end in the order in which `hidden` cut them, and the
    links made by hand; a meter finds two cores joined where there is a way between them.
    """
    graph = nx.Graph()
    for name, other in truth.items():
        for core, far in zip(wiring.cable(name).cores, wiring.cable(other).cores, strict=True):
            graph.add_edge((name, core_word(core)), (other, core_word(far)))
    graph.add_edges_from(step.trial.joined)
    closed = {pair for pair in step.trial.pairs if nx.has_path(graph, *pair)}
    outcome = next(o for o in step.outcomes if set(o.closed) == closed)
    return outcome, [TakenReading(pair, pair in closed, joined=step.trial.joined) for pair in step.trial.pairs]


def led_to_the_end(wiring: Wiring, truth: dict[str, str]) -> tuple[Identified, int]:
    """What is known at the end, and how many tests it took; the program is run again wherever its plan stops."""
    made = 0
    found = identify(wiring, style_of().sets, wiring.seen)
    while found.pairs is None and found.plan is not None:
        step: PlanStep | None = found.plan
        while step is not None:
            outcome, taken = answered(step, wiring, truth)
            wiring = replace(wiring, readings=(*wiring.readings, *taken))
            step, made = outcome.then, made + 1
        found = identify(wiring, style_of().sets, wiring.seen)
    return found, made
