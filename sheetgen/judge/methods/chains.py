"""The switches of each group in a row, first to last, with their nets: what the signs of a join are read from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import NamedTuple

from sheetgen.catalogue.methods.ports import Chain
from sheetgen.judge.methods.paths import Conductors, Walk
from sheetgen.model.accessory import Accessory, SwitchKind, Terminal
from sheetgen.model.solution import Group, Potential
from sheetgen.model.wiring import Core
from sheetgen.model.words import joined


@dataclass(frozen=True)
class Seat:
    """One switch of a group: its contacts by port."""

    name: str  # as in the state table
    accessory: str
    ports: tuple[tuple[str, Terminal], ...]
    sort: str  # "one-way", "two-way", "intermediate", "" where it is none of these
    what: str = ""  # as the catalogue of accessories calls it: "one-way", "dimmer", "sensor", ...

    def at(self, port: str) -> Terminal | None:
        """The terminal behind a port, or None."""
        return dict(self.ports).get(port)

    @property
    def terminals(self) -> tuple[Terminal, ...]:
        """Its contacts."""
        return tuple(t for _, t in self.ports)


@dataclass(frozen=True)
class SwitchRow:
    """The switches and lamps of one group, in a row where they make one, and how line and neutral reach them."""

    group: Group
    seats: tuple[Seat, ...]
    chain: Chain | None  # None where the switches make no row
    why_not: str  # why they make none
    live: tuple[Terminal, ...]  # the contact of each lamp that is not its neutral
    neutral: tuple[Terminal | None, ...]  # its other contact, None where neither contact is on a neutral
    ways: tuple[str, ...]
    rooms: tuple[str, ...]
    lights: tuple[str, ...]  # accessories that hold the lamps, and those from which they hang
    line_walk: Walk | None = None  # board to the first contact that line reaches
    neutral_walk: Walk | None = None  # board to the nearest lamp
    switched_walk: Walk | None = None  # contact to the nearest lamp
    line_walks: tuple[Walk, ...] = ()  # the same, with no switch to every lamp
    neutral_walks: tuple[Walk, ...] = ()  # board to every lamp
    switched_walks: tuple[Walk, ...] = ()  # contact to every lamp


def rows_of(conductors: Conductors) -> list[SwitchRow]:
    """A row for every group that has a lamp or a switch of the user's."""
    return [row_of(group, conductors) for group in conductors.solution.groups if group.lamps or group.switches]


def row_of(group: Group, conductors: Conductors) -> SwitchRow:
    """The row of a group."""
    seats = [_seat(*conductors.circuit.switches[name]) for name in group.switches]
    seats, why_not = in_order(seats, conductors)
    live, neutral, lights, rooms = _lamps(group, conductors)
    contacts = [t for seat in seats for t in seat.terminals] or list(live)
    lines = [t for t in contacts if conductors.constant(conductors.net(t)) is Potential.LINE]
    boards = {pole: [t for t, rail in conductors.circuit.rails.items() if rail == pole] for pole in ("line", "neutral")}
    line_walk = conductors.walk(boards["line"], lines)
    own = [t for t in boards["neutral"] if line_walk and t.accessory == line_walk.terminals[0].accessory]
    known = [t for t in neutral if t]
    neutral_walk = conductors.walk(own, known) or conductors.walk(boards["neutral"], known)
    lamp_nets = {conductors.net(t) for t in live}
    switched = [t for t in contacts if conductors.net(t) in lamp_nets]
    switched_walk = conductors.walk(live, switched)
    rails = [w.terminals[0].accessory for w in (line_walk, neutral_walk) if w]
    feeding = [way for at in group.rows for lamp in at.lamps for way in lamp.ways]  # past no switch: one in the neutral
    ways = tuple(dict.fromkeys([*rails, *lines_of(contacts, conductors)] or feeding))
    row = SwitchRow(
        group, tuple(seats), None, why_not, live, neutral, ways, rooms, lights, line_walk, neutral_walk, switched_walk,
        line_walks=conductors.walks(boards["line"], line_walk.terminals[-1:] if seats and line_walk else lines),
        neutral_walks=conductors.walks(own, known) or conductors.walks(boards["neutral"], known),
        switched_walks=conductors.walks(switched, live),
    )
    return row if why_not else with_chain(row, seats, conductors)


def lines_of(contacts: Iterable[Terminal], conductors: Conductors) -> tuple[str, ...]:
    """The ways whose line is at one of the contacts in every setting."""
    found = [conductors.solution.constant.get(conductors.net(t)) for t in contacts]
    return tuple(dict.fromkeys(way for c in found if c and c.potential is Potential.LINE and c.solid for way in c.ways))


def with_chain(row: SwitchRow, seats: list[Seat], conductors: Conductors) -> SwitchRow:
    """The row with its switches so, from the one where line comes in."""
    lamp_nets = {conductors.net(t) for t in row.live}
    chain = _chain(seats, conductors, lamp_nets, row.line_walk, row.switched_walk)
    if _ends_swapped(chain):
        seats = [_turned(seat) for seat in reversed(seats)]
        chain = _chain(seats, conductors, lamp_nets, row.line_walk, row.switched_walk)
    return replace(row, seats=tuple(seats), chain=chain)


def _seat(accessory: Accessory, switch: SwitchKind) -> Seat:
    prefix = f"{switch.name}." if switch.name else ""
    contacts = {t for position in switch.positions for pair in position.joins for t in pair}
    ports = {port.removeprefix(prefix): accessory.terminal(t) for port, t in accessory.kind.ports
             if port.startswith(prefix) and t in contacts}
    if "line" in ports and "out" in ports and "common" not in ports:
        ports["common"] = ports.pop("line")  # a sensor or relay module
    sort = ""
    if {t.name for t in ports.values()} == contacts:
        if "straps in 1" in ports and "straps out 1" in ports:
            sort = "intermediate"
        elif "common" in ports and "strap 2" in ports:
            sort = "two-way"
        elif "common" in ports and "out" in ports:
            sort = "one-way"
    return Seat(accessory.switch_name(switch), accessory.name, tuple(ports.items()), sort, switch.what)


class _Lamps(NamedTuple):
    """Live contact, neutral contact, holding accessories and rooms of the lamps of a group."""

    live: tuple[Terminal, ...]
    neutral: tuple[Terminal | None, ...]
    lights: tuple[str, ...]
    rooms: tuple[str, ...]


def _lamps(group: Group, conductors: Conductors) -> _Lamps:
    live, lights, rooms = [], [], []
    neutral: list[Terminal | None] = []
    for name in group.lamps:
        accessory, load = conductors.circuit.loads[name]
        a, b = accessory.terminal(load.a), accessory.terminal(load.b)
        on_neutral = [conductors.constant(conductors.net(t)) is Potential.NEUTRAL for t in (a, b)]
        if on_neutral == [True, False]:
            a, b = b, a
        live.append(a)
        neutral.append(b if any(on_neutral) else None)
        lights += [accessory.name, *([accessory.hangs_from] if accessory.hangs_from else [])]
        rooms.append(accessory.room or accessory.name)
    return _Lamps(tuple(live), tuple(neutral), tuple(dict.fromkeys(lights)), tuple(dict.fromkeys(rooms)))


def in_order(seats: list[Seat], conductors: Conductors) -> tuple[list[Seat], str]:
    """The switches from one end of the row to the other; and why they make no row, where they do not."""
    if any(not seat.sort for seat in seats):
        odd = next(seat.name for seat in seats if not seat.sort)
        return seats, f"{odd} is no plain switch"
    if len(seats) < 2:
        return seats, "" if seats else "there is no switch"
    ends = [seat for seat in seats if seat.sort == "two-way"]
    if len(ends) != 2:
        sorts = Counter(seat.sort for seat in seats)
        said = joined(f"{number} {sort}" for sort, number in sorts.items())
        return seats, f"{len(seats)} switches joined ({said}), not a two-way switch at each end"
    return _from_end_to_end(seats, ends, conductors), ""


def _from_end_to_end(seats: list[Seat], ends: list[Seat], conductors: Conductors) -> list[Seat]:
    first, last = ends
    row, left = [first], [seat for seat in seats if seat not in ends]
    facing = _nets(first, "strap", conductors)
    while left:
        following = max(left, key=lambda seat: max(
            len(facing & _nets(seat, side, conductors)) for side in ("straps in", "straps out")))
        turned = len(facing & _nets(following, "straps out", conductors)) > len(
            facing & _nets(following, "straps in", conductors))
        if turned:
            following = _turned(following)
        left = [seat for seat in left if seat.name != following.name]
        row.append(following)
        facing = _nets(following, "straps out", conductors)
    return [*row, last]


def _turned(seat: Seat) -> Seat:
    """A switch seen from its other side: of an intermediate the pairs change places."""
    other = {"straps in 1": "straps out 1", "straps in 2": "straps out 2"}
    other |= {b: a for a, b in other.items()}
    return replace(seat, ports=tuple((other.get(port, port), t) for port, t in seat.ports))


def _nets(seat: Seat, stem: str, conductors: Conductors) -> frozenset[Terminal]:
    return frozenset(conductors.net(t) for port, t in seat.ports if port in (f"{stem} 1", f"{stem} 2"))


def _chain(seats: list[Seat], conductors: Conductors, lamp_nets: set[Terminal], line: Walk | None,
           switched: Walk | None) -> Chain:
    def net(seat: Seat, port: str) -> Terminal | None:
        terminal = seat.at(port)
        return conductors.net(terminal) if terminal else None

    nets = {conductors.net(t) for seat in seats for t in seat.terminals}
    lines = frozenset(n for n in nets if conductors.constant(n) is Potential.LINE)
    straps = [_nets(s, "strap", conductors) for s in seats]
    return Chain(
        commons=tuple(net(s, "common") for s in seats),
        straps_in=tuple(_nets(s, "straps in", conductors) or own for s, own in zip(seats, straps, strict=True)),
        straps_out=tuple(_nets(s, "straps out", conductors) or own for s, own in zip(seats, straps, strict=True)),
        outs=tuple(_out(s, conductors, lines | lamp_nets) for s in seats),
        line=lines,
        switched=frozenset(lamp_nets - lines),
        line_at=_entry(line, seats, conductors),
        switched_at=_entry(switched, seats, conductors),
    )


def _out(seat: Seat, conductors: Conductors, used: Iterable[Terminal]) -> Terminal | None:
    """The net of the contact that a one-way switch, or a two-way switch used as one, is wired on."""
    contacts = [conductors.net(t) for port, t in seat.ports if port in ("out", "strap 1", "strap 2")]
    return next((n for n in contacts if n in used), contacts[0] if contacts else None)


def _entry(walk: Walk | None, seats: list[Seat], conductors: Conductors) -> int | None:
    """The switch whose enclosure a walk enters, when it comes to the row to stay.

    Followed back from its last contact it stays in the row as long as it keeps to enclosures of these switches and to
    cables that join their contacts too; a walk that only passes a plate of several gangs has not come to the row yet.
    """
    if walk is None:
        return None
    own = {t for seat in seats for t in seat.terminals}
    enclosures = {seat.accessory for seat in seats}
    entry = len(walk.terminals) - 1
    while entry > 0:
        before, core = walk.terminals[entry - 1], walk.cores[entry - 1]
        foreign = before in conductors.circuit.switch_terminals and before not in own
        if before.accessory not in enclosures or foreign or not _of_the_row(core, own, conductors):
            break
        entry -= 1
    there = walk.terminals[entry]
    ends_first = sorted(range(len(seats)), key=lambda i: i not in (0, len(seats) - 1))
    return next(i for i in ends_first if there in seats[i].terminals or (
        there not in own and there.accessory == seats[i].accessory))


def _of_the_row(core: Core, own: set[Terminal], conductors: Conductors) -> bool:
    """Singles and links may be; a cable is one of the row if another of its cores joins contacts of the row."""
    cable = conductors.wiring.cable(core.cable)
    if cable.single:
        return True
    nets = {conductors.net(t) for t in own}
    return any(other != core and other.ends[0].node and conductors.net(other.ends[0].node) in nets
               for other in cable.cores)


def _ends_swapped(chain: Chain) -> bool:
    """Line enters at the last switch: seen from the board it is the first."""
    return chain.last > 0 and chain.line_at == chain.last
