"""What is taken as usual because the description does not give it: the sheet says so, for nobody has seen it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from sheetgen.circuit.circuit import Circuit
from sheetgen.model.wiring import Status, Wiring
from sheetgen.model.words import count, joined, plain

PLURAL = {"electronics": "sets of electronics"}  # of loads, where it is more than an s


def taken_as_usual(circuit: Circuit) -> tuple[str, ...]:
    """Each assumption in words: loads, fuses, sleeves of bare cpcs, sizes of cpcs."""
    return (*_cables(circuit.wiring), *_loads(circuit), *_fuses(circuit.wiring), *_cpcs(circuit.wiring))


def _cables(wiring: Wiring) -> Iterator[str]:
    assumed = [cable for cable in wiring.cables if cable.assumed]
    if wiring.not_traced:
        laid = joined(wiring.not_traced)
        yield f"which core goes where and every sleeve of {laid}, laid by the method and not traced"
    if flexes := [cable.name for cable in assumed if cable.flex]:
        yield f"the size and colours of {joined(flexes)}"
    closed = {a.name for a in wiring.accessories if not a.opened}
    unseen = [cable for cable in assumed if cable.flex and not closed.isdisjoint(cable.ends)]
    if unseen:
        places = dict.fromkeys(end for cable in unseen for end in cable.ends if end in closed)
        yield f"the terminals of {joined(c.name for c in unseen)} in {joined(places)}, which nobody has opened"


def _loads(circuit: Circuit) -> Iterator[str]:
    assumed = Counter((load.what, load.watts) for _, load in circuit.loads.values() if load.assumed)
    for (what, watts), number in assumed.items():
        said = count(number, what, PLURAL.get(what, "")) if number > 1 else f"the {what}"
        yield f"{plain(watts)} W for {said}"


def _fuses(wiring: Wiring) -> Iterator[str]:
    for accessory in wiring.accessories:
        if accessory.kind.fuse_assumed and accessory.kind.fuse is not None:
            yield f"a fuse of {plain(accessory.kind.fuse)} A in {accessory.name}"


def _cpcs(wiring: Wiring) -> Iterator[str]:
    ends = [end for core in wiring.cores() if core.cpc and not core.colour for end in core.ends if end.terminal]
    if any(end.sleeve for end in ends) and wiring.status is not Status.PROPOSED:
        yield "green-and-yellow sleeves on bare cpcs"
    if any(cable.cpc_size for cable in wiring.cables):
        yield "the size of each cpc by the cable's standard"
