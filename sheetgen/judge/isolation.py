"""What to isolate before an accessory is opened: every way of which a conductor there is live, or can become so.

A conductor at a line is live from that way, and from each whose line meets it. A neutral can go live, once it is
parted, from each way whose loads return by it. Only what conductors at the accessory can do counts: a switch in the
line of a lamp whose neutral is borrowed is made dead by the way of its line.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sheetgen.catalogue.devices import device_type
from sheetgen.circuit.circuit import Circuit
from sheetgen.judge.roles import Net, net_of_core
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import Isolation
from sheetgen.model.solution import LampState, Meeting, Potential, Short
from sheetgen.model.wiring import Core, Told

# BS 7671 132.14.1 with 537.2.1.1: on a TT supply the neutral is to be broken too (a certification body's answer).
BOTH_POLES = "Switch off the main switch and lock it off: on a TT supply breaking the line alone does not isolate."
IF_TT = ("If the supply is TT, first switch off the main switch and lock it off: breaking the line alone does not "
         "isolate.")
UNLESS_BOTH = "On a TT supply switch off the main switch and lock it off first, unless that breaks line and neutral."

CARRIES = (LampState.ON, LampState.DIM, LampState.TRACE)  # a load with current through it, be it ever so little
KINDS = {"line": Potential.LINE, "neutral": Potential.NEUTRAL, "earth": Potential.EARTH}
RETURNS = (Potential.NEUTRAL, Potential.EARTH, Potential.BETWEEN)
Rail = tuple[str, Potential]  # a way and which of its conductors


def isolation_of(circuit: Circuit, nets: Mapping[Terminal, Net]) -> Isolation:
    """For every accessory, every way, and what the board's devices ask for."""
    board = circuit.wiring.board
    order = [way.accessory for way in board.ways]
    at = {name: tuple(w for w in order if w in found) for name, found in to_open(circuit, nets).items()}
    meets = {way: tuple(name for name, ways in at.items() if way in ways and len(ways) > 1) for way in order}
    with_way = {way: tuple(w for w in order if w == way or any(w in at[name] for name in meets[way])) for way in order}
    joined = tuple(tuple(w for w in order if w in group) for group in _joined_ways(circuit))
    fuses = tuple(w.accessory for w in board.ways if w.device and _is_fuse(w.device.type))
    none = tuple(w.accessory for w in board.ways if w.device_told is Told.NONE)
    not_known = tuple(w.accessory for w in board.ways if w.device is None and w.accessory not in none)
    return Isolation(at, meets, with_way, joined, fuses, not_known, none, BOTH_POLES if board.earthing == "TT" else "")


def to_open(circuit: Circuit, nets: Mapping[Terminal, Net]) -> dict[str, set[str]]:
    """Accessory -> the ways to isolate before it is opened; those of the board and those no way reaches left out."""
    live = _Live(circuit)
    found: dict[str, set[str]] = {}
    for core in circuit.wiring.cores():
        ways = live.ways(_rails(circuit, nets, core)) if not core.cpc else set()
        for name in {end.accessory for end in core.ends} - circuit.board if ways else ():
            found.setdefault(name, set()).update(ways)
    return {a.name: found[a.name] for a in circuit.wiring.accessories if a.name in found}


def _rails(circuit: Circuit, nets: Mapping[Terminal, Net], core: Core) -> set[Rail]:
    """The rails that reach a core; where only a load lies between, the way that may be either of its conductors."""
    net = net_of_core(core, circuit)
    conditions = nets[net].conditions if net is not None else ()
    solid = {(way, c.potential) for c in conditions if c.solid for way in c.ways}
    return solid or {(way, Potential.NEUTRAL) for c in conditions for way in c.ways}


class _Live:
    """From which ways a conductor of each rail can be live."""

    def __init__(self, circuit: Circuit):
        self.met: list[set[Rail]] = []
        for meeting in _meetings(circuit):
            pair = {(t.accessory, KINDS[circuit.rails[t]]) for t in meeting.rails}
            self.met = [*(s for s in self.met if not s & pair), pair.union(*(s for s in self.met if s & pair))]
        self.returning: dict[Rail, set[Rail]] = {}  # a neutral or an earth -> the lines of the loads that return by it
        for lines, returns in _of_loads(circuit):
            for rail in returns:
                self.returning.setdefault(rail, set()).update(lines)

    def ways(self, rails: set[Rail]) -> set[str]:
        """The ways themselves; those their rails meet; those whose loads return by any of these, and whom they meet."""
        reached = self._meeting(rails | {(way, Potential.EARTH) for way, _ in rails})
        feeding = self._meeting({line for rail in reached for line in self.returning.get(rail, ())})
        return {way for way, _ in reached | feeding}

    def _meeting(self, rails: set[Rail]) -> set[Rail]:
        return rails.union(*(s for s in self.met if s & rails))


def _is_fuse(kind: str) -> bool:
    found = device_type(kind)
    return found is not None and found.fuse


def _joined_ways(circuit: Circuit) -> list[set[str]]:
    """Sets of ways that are joined to one another, by their rails or by a load between them."""
    pairs = [*({m.rails[0].accessory, m.rails[1].accessory} for m in _meetings(circuit)),
             *({way for way, _ in lines | returns} for lines, returns in _of_loads(circuit))]
    found: list[set[str]] = []
    for pair in pairs:
        apart = [s for s in found if not s & pair]
        found = [*apart, pair.union(*(s for s in found if s & pair))]
    return [group for group in found if len(group) > 1]


def _meetings(circuit: Circuit) -> Iterator[Meeting | Short]:
    yield from circuit.solution.meetings
    yield from circuit.solution.shorts
    for group in circuit.solution.groups:
        for row in group.rows:
            yield from row.meetings
            yield from row.shorts


def _of_loads(circuit: Circuit) -> Iterator[tuple[set[Rail], set[Rail]]]:
    """Of each load that current goes through: the lines that it comes from, and where it may return.

    What lies between loads in series may be either.
    """
    for group, row, name, lamp in circuit.lamps():
        if lamp.state in CARRIES:
            at = [circuit.condition(group, row, t) for t in circuit.contacts[name]]
            lines = {(w, Potential.LINE) for c in at if c.potential in (Potential.LINE, Potential.BETWEEN)
                     for w in c.ways}
            returns = {(w, p) for c in at if c.potential in RETURNS for w in c.ways
                       for p in ([c.potential] if c.potential is not Potential.BETWEEN else RETURNS[:2])}
            yield lines, returns
