"""Every single fault of a finished circuit, each carried out on its wiring.

A core that is open at one end, at the other, or between is one fault: no instrument at the terminals tells them apart,
looking does. Bare cpcs are not thought to be exchanged with other cores.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from sheetgen.circuit import Circuit
from sheetgen.circuit.edits import edited
from sheetgen.find.faulty import never_makes, stuck, without_line, without_load
from sheetgen.find.weights import EARTH_SHARE, FAULT_WEIGHTS
from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Fault, Suspect
from sheetgen.model.reading import AddLink, Edit, End, Exchange, Land, TakeOff
from sheetgen.model.wiring import Core, Wiring
from sheetgen.model.words import joined

NOTHING_WRONG = "Nothing is wrong."


@dataclass(frozen=True)
class Faulty:
    """A suspect with the wiring as it then is."""

    suspect: Suspect
    wiring: Wiring
    touching: tuple[Core, ...] = ()  # the two cores that touch, of TOUCHING


def faults_of(circuit: Circuit) -> tuple[Faulty, ...]:
    """Every single fault of a circuit, in the order of its description; the sound circuit last."""
    found = _Faults(circuit)
    return (*found.ways(), *found.loads(), *found.cores(), *found.terminals(), *found.exchanges(), *found.turned(),
            *found.switches(), *found.touching(),
            Faulty(_suspect(Fault.NONE, NOTHING_WRONG, "nothing wrong", "", ()), circuit.wiring))


def _suspect(fault: Fault, says: str, short: str, look: str, places: tuple[str, ...], rarer: int = 1) -> Suspect:
    return Suspect(fault, says, look, places, short, max(1, FAULT_WEIGHTS[fault] // rarer))


class _Faults:
    """The faults of one circuit, kind by kind."""

    def __init__(self, circuit: Circuit):
        self.circuit, self.wiring = circuit, circuit.wiring
        self.ends: dict[Terminal, list[tuple[Core, int]]] = {}
        for core in circuit.wiring.cores():
            for i, end in enumerate(core.ends):
                if end.node is not None:
                    self.ends.setdefault(end.node, []).append((core, i))

    def _made(self, fault: Fault, says: str, short: str, look: str, places: tuple[str, ...], *edits: Edit,
              rarer: int = 1) -> Faulty:
        return Faulty(_suspect(fault, says, short, look, places, rarer), edited(self.wiring, edits))

    def _part(self, fault: Fault, says: str, short: str, look: str, place: str, wiring: Wiring,
              rarer: int = 1) -> Faulty:
        """Something that no longer works at one place."""
        return Faulty(_suspect(fault, _capital(says), short, look, (place,), rarer), wiring)

    def _earth(self, terminal: Terminal) -> bool:
        return all(core.cpc for core, _ in self.ends[terminal])

    def ways(self) -> Iterator[Faulty]:
        """A way without its line: switched off, tripped, its fuse blown."""
        for way in self.wiring.board.ways:
            name, wiring = self.circuit.way(way.accessory), without_line(self.wiring, (way.accessory,))
            look = f"Look at {way.printed} at the board."
            dead = f"{name} is dead: switched off, its device tripped or its fuse blown."
            yield self._part(Fault.WAY_DEAD, dead, f"{way.printed} dead", look, way.accessory, wiring)
            if way.rcd is not None:
                tripped = f"The RCD of {name} has tripped."
                short = f"RCD of {way.printed} tripped"
                yield self._part(Fault.RCD_TRIPPED, tripped, short, look, way.accessory, wiring)

    def loads(self) -> Iterator[Faulty]:
        """A lamp, or the holder that it sits in; a fan."""
        for name, (accessory, load) in self.circuit.loads.items():
            if load.what == "electronics":
                continue
            called, place = lamp_place(self.circuit, name), accessory.name
            wiring = without_load(self.wiring, accessory.name, load.name)
            if load.what == "lamp":
                look = "Try the lamp in a holder that works, and one that works in this holder."
                failed = f"The lamp at {called} has failed."
                yield self._part(Fault.LAMP, failed, f"lamp at {called} failed", look, place, wiring)
                holder = f"A contact of the lampholder at {called} does not touch the lamp."
                yield self._part(Fault.HOLDER, holder, f"lampholder contact at {called}", look, place, wiring)
            else:
                failed = f"The fan {called} has failed."
                yield self._part(Fault.LAMP, failed, f"fan {called} failed", "", place, wiring, rarer=3)

    def cores(self) -> Iterator[Faulty]:
        """A core that is open somewhere."""
        for core in self.wiring.cores():
            landed = [i for i, end in enumerate(core.ends) if end.node is not None]
            if len(landed) < 2:
                continue
            at = [self.circuit.end(end) for end in core.ends]
            says = (f"{_capital(self.circuit.core(core))} is open between {at[0]} and {at[1]}: off its terminal at one "
                    "end, or broken.")
            look = f"Look at {at[0]}, then at {at[1]}."
            yield self._made(Fault.OPEN, says, f"{core} open", look, (core.ends[0].accessory, core.ends[1].accessory),
                             TakeOff((core.key, 0)), rarer=EARTH_SHARE if core.cpc else 1)

    def terminals(self) -> Iterator[Faulty]:
        """A terminal of several cores that holds none of them."""
        for terminal, ends in self.ends.items():
            if len(ends) > 1:
                name = self.circuit.terminal(terminal)
                says = f"{name} has come apart: none of its {len(ends)} cores makes contact."
                yield self._made(Fault.PARTED, says, f"{name} come apart", f"Look at {name}.", (terminal.accessory,),
                                 *(TakeOff((core.key, i)) for core, i in ends),
                                 rarer=EARTH_SHARE if self._earth(terminal) else 1)

    def exchanges(self) -> Iterator[Faulty]:
        """Two core ends of one accessory on each other's terminals."""
        for place in self.circuit.accessories:
            here = [(core, i, end) for core in self.wiring.cores() for i, end in enumerate(core.ends)
                    if end.accessory == place and end.node is not None and not core.cpc]
            for (one, i, a), (two, j, b) in combinations(here, 2):
                if a.node is None or b.node is None or a.node == b.node or one.key == two.key:
                    continue  # of a link within the accessory both ends may change places
                at = self.wiring.printed(place)
                says = (f"At {at} two cores are exchanged: {self.circuit.core(one)} is on "
                        f"{self.circuit.label(b.node)}, {self.circuit.core(two)} on {self.circuit.label(a.node)}.")
                yield self._made(Fault.EXCHANGED, says, f"{one} and {two} exchanged at {at}",
                                 f"Look at {at} beside the drawing.", (place,), Exchange((one.key, i), (two.key, j)))

    def turned(self) -> Iterator[Faulty]:
        """All the cores of two terminals of a switch on each other's: beyond single cores, where one holds several."""
        for _, accessory, switch in self.wiring.switches():
            made = {accessory.terminal(t) for p in switch.positions for pair in p.joins for t in pair}
            points = [t for t in (accessory.terminal(k.name) for k in accessory.kind.terminals) if t in made]
            for a, b in combinations(points, 2):
                ends = {t: self.ends.get(t, []) for t in (a, b)}
                if len(ends[a]) == len(ends[b]) == 1 or not (ends[a] or ends[b]):
                    continue
                moves = [Land(_end(core, i), to.name) for t, to in ((a, b), (b, a)) for core, i in ends[t]]
                says = (f"{accessory.name} is wired the wrong way round: what belongs on {self.circuit.label(a)} is on "
                        f"{self.circuit.label(b)}, and the other way about.")
                yield self._made(Fault.TURNED, says, f"{self.circuit.terminals((a, b))} exchanged",
                                 f"Look at {accessory.name} beside the drawing.", (accessory.name,), *moves)

    def switches(self) -> Iterator[Faulty]:
        """A switch that stays in one position, or of which one contact never closes."""
        for name, accessory, switch in self.wiring.switches():
            called, place = self.circuit.part(name), accessory.name
            for position in switch.positions:
                at = self.circuit.position(name, position.name)
                yield self._part(Fault.STUCK, f"The switch {called} is stuck: {at}, however it stands.",
                                 f"{called} stuck {at}", "", place,
                                 stuck(self.wiring, place, switch.name, position.name))
            pairs = dict.fromkeys(pair for p in switch.positions for pair in p.joins)
            for pair in pairs if len(pairs) > 1 else ():
                a, b = (self.circuit.label(accessory.terminal(t)) for t in pair)
                yield self._part(Fault.NEVER_MAKES, f"In the switch {called} the contact from {a} to {b} never closes.",
                                 f"{called} never makes {a}\N{EN DASH}{b}", "", place,
                                 never_makes(self.wiring, place, switch.name, pair))

    def touching(self) -> Iterator[Faulty]:
        """Two cores of one cable that meet, where that joins anything."""
        for cable in self.wiring.cables:
            for one, two in combinations(cable.cores, 2):
                for i in (0, 1):
                    a, b = one.ends[i].node, two.ends[i].node
                    if a is not None and b is not None and a != b:
                        both = joined((self.circuit.core(one), self.circuit.core(two)))
                        made = self._made(
                            Fault.TOUCHING, f"{_capital(both)} touch.", f"{one} and {two.label} touch",
                            f"Look where {cable.name} is cut back, at {joined(dict.fromkeys(cable.ends))}.",
                            cable.ends, AddLink(a.accessory, a.name, b.name, ""))
                        yield replace(made, touching=(one, two))
                        break


def lamp_place(circuit: Circuit, load: str) -> str:
    """Where a lamp is, as a person says it: the rose from which it hangs, else its own name."""
    return circuit.loads[load][0].hangs_from or circuit.part(load)


def _end(core: Core, i: int) -> End:
    return core.key, i


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]

