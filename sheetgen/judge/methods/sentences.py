"""The method in a sentence for a record, and its evidence: which conductor makes it so."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sheetgen.catalogue import methods
from sheetgen.circuit.names import Names
from sheetgen.judge.methods.chains import SwitchRow, row_of
from sheetgen.judge.methods.joins import Known, join_of
from sheetgen.judge.methods.loops import loop_of, parting_of
from sheetgen.judge.methods.paths import Conductors, Walk
from sheetgen.judge.methods.unusual import faulty, unswitched, unusual
from sheetgen.judge.methods.when_lit import alike, stays_dark
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import MethodFound
from sheetgen.model.words import capital, joined

BY = ("sensor", "relay", "dimmer")  # what is worth saying of a single switch
UNUSUAL = "Not one of the usual methods; see the drawing."
MOST_CORES = 4  # of a walk, named one by one


def sentence_of(row: SwitchRow, loop: Known, join: Known, conductors: Conductors) -> str:
    """One sentence: where line and neutral loop; how the switches are joined. No more than was solved."""
    if not row.seats:
        return unswitched(row, conductors)
    if healthy := _healthy(row, conductors):
        lamps = capital(joined(n.replace(".", " ") for n in healthy.group.lamps))
        return f"{lamps}: {_method(healthy, conductors)} {faulty(row, conductors)}"
    if said := faulty(row, conductors):
        return said
    switches = _join(row, join, conductors) if join.name else unusual(row, conductors)
    if not switches and loop.name:
        return UNUSUAL
    return f"{capital(f'{loop.says or joined(loop.but)}; {switches}')}." if switches else (
        f"{capital(joined(loop.but))}. {UNUSUAL}")


def _healthy(row: SwitchRow, conductors: Conductors) -> SwitchRow | None:
    """The row with the lamps alone that light, where others of it never do; None where that tells no usual method."""
    dark = {*stays_dark(row.group, conductors)}
    lit = [i for i, name in enumerate(row.group.lamps) if name not in dark]
    if not dark or not lit or any(at.shorts for at in row.group.rows):
        return None
    group = replace(row.group, lamps=tuple(row.group.lamps[i] for i in lit), rows=tuple(
        replace(at, lamps=tuple(at.lamps[i] for i in lit)) for at in row.group.rows))
    healthy = row_of(group, conductors)
    return healthy if healthy.chain and join_of(healthy).name and not faulty(healthy, conductors) else None


def _method(row: SwitchRow, conductors: Conductors) -> str:
    said = sentence_of(row, loop_of(row, conductors), join_of(row), conductors)
    return f"{said[:1].lower()}{said[1:]}"


def _join(row: SwitchRow, join: Known, conductors: Conductors) -> str:
    if len(row.seats) == 1:
        return f"{join.says} by a {row.seats[0].what}" if row.seats[0].what in BY else join.says
    switching = methods.switching_of(len(row.seats))
    said = switching if len(row.seats) == 2 else f"{switching}, {len(row.seats)} switches"
    return f"{said}, {join.says}{_crossed(row, conductors)}"


def _crossed(row: SwitchRow, conductors: Conductors) -> str:
    """Strappers that join L1 to L2: sound, but the lamp is lit when it would be dark with straight ones."""
    stand_alike = alike(row.group)
    if stand_alike is None or [seat.sort for seat in row.seats] != ["two-way", "two-way"]:
        return ""
    one, two = ([conductors.net(t) for port in ("strap 1", "strap 2") if (t := seat.at(port))] for seat in row.seats)
    if one != two[::-1] or len(set(one)) < 2:
        return ""
    return f", strappers crossed (lit when the two switches {'stand alike' if stand_alike else 'differ'})"


def evidence_of(row: SwitchRow, loop: Known, join: Known, conductors: Conductors) -> tuple[str, ...]:
    """Line, neutral and switched line followed core by core; where they part; what joins the switches."""
    said, names = [], conductors.circuit
    if row.line_walks:
        said.append(f"line: {followed(row.line_walks, names)}")
    if row.neutral_walks:
        said.append(f"neutral: {followed(row.neutral_walks, names)}")
    if parted_at := parting_of(row):
        said.append(f"line and neutral part at {conductors.wiring.printed(parted_at)}")
    said += _between_switches(row, conductors, names)
    if row.switched_walks and row.seats:
        said.append(f"switched line: {followed(row.switched_walks, names)}")
    if row.group.lamps and row.seats and join.but and not faulty(row, conductors) and not unusual(row, conductors):
        said.append(f"{f'unlike {join.nearest}' if join.nearest else 'no usual method'}: {'; '.join(join.but)}")
    return tuple(said)


def followed(walks: Iterable[Walk], names: Names) -> str:
    """'circuit 2 L, W1 BN to Hall SL, Flex 1 BN to Hall lamp L; from Hall SL, W2 BN to Porch L': each core once."""
    told: set[Terminal] = set()
    parts = []
    for walk in walks:
        known = [i for i, terminal in enumerate(walk.terminals) if terminal in told]
        if not known:
            parts.append(_one(walk, names))
        elif known[-1] < len(walk.cores):
            parts.append(f"from {_one(Walk(walk.terminals[known[-1]:], walk.cores[known[-1]:]), names)}")
        told.update(walk.terminals)
    return "; ".join(parts)


def _one(walk: Walk, names: Names) -> str:
    """'circuit 2 L, W1 BN to Stairs loop, W2 BN to Bottom L1'; of a long walk the first cores together."""
    terminals, cores = walk.terminals, walk.cores
    skipped = max(0, len(cores) - MOST_CORES)
    parts = [names.terminal(terminals[0])]
    if skipped:
        passed = names.places(t.accessory for t in terminals[1:skipped])
        by = f" by {passed}" if passed else ""
        parts.append(f"{joined(map(str, cores[:skipped]))}{by} to {names.terminal(terminals[skipped])}")
    steps = zip(cores[skipped:], terminals[skipped + 1:], strict=True)
    parts += [f"{core} to {names.terminal(there)}" for core, there in steps]
    return ", ".join(parts)


def _between_switches(row: SwitchRow, conductors: Conductors, names: Names) -> list[str]:
    """Every core that joins the enclosures of two neighbouring switches of the row and belongs to their contacts."""
    nets = {conductors.net(t) for seat in row.seats for t in seat.terminals}
    found = []
    for here, there in zip(row.seats, row.seats[1:], strict=False):
        cores = [
            core for cable in conductors.wiring.cables if {here.accessory, there.accessory} == set(cable.ends)
            for core in cable.cores if core.ends[0].node and conductors.net(core.ends[0].node) in nets
        ]
        if cores:
            joins = (f"{core} joins {names.end(core.ends[0])} and {names.end(core.ends[1])}"
                     for core in cores if core.ends[1].node)
            found.append("; ".join(joins))
    return found


def of_the_house(circuits: Iterable[MethodFound]) -> tuple[str, ...]:
    """The methods of a whole job: one sentence where all are alike, else room by room."""
    lit = [c for c in circuits if c.lamps and c.switches]
    if len({c.method for c in lit}) <= 1:
        return tuple(dict.fromkeys(c.method for c in lit))
    return tuple(f"{joined(c.rooms)}: {c.method[:1].lower()}{c.method[1:]}" for c in lit)
