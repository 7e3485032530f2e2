"""What a person sees of a circuit without any instrument: the lamps in a setting of the switches, and what trips.

Where a setting shorts a way, its device opens and the lamps are as they are without it. A way with an RCD also opens
where its line returns through earth, and where neutral meets earth while it is on (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.find.faulty import without_line
from sheetgen.model.finding_out import Settings, Sight
from sheetgen.model.solution import Condition, Group, LampState, Meeting, Potential, Row, Rows
from sheetgen.model.wiring import Wiring
from sheetgen.solve.joined import Joined
from sheetgen.solve.network import network_of
from sheetgen.solve.solve import Solver

MOST_WATCHED = 128  # settings of a group that are all thought of: nobody watches more
AT_ONCE = 16  # settings of a group that are solved at once, and kept for the next fault
AS_SEEN = {
    LampState.ON: Sight.LIT, LampState.DIM: Sight.DIM, LampState.OFF: Sight.DARK, LampState.OFF_BUT_LIVE: Sight.DARK,
    LampState.SHORT: Sight.DARK, LampState.TRACE: Sight.DIM,  # an electronic lamp may glow
}
Shown = tuple[tuple[str, ...], tuple[Sight | None, ...]]
"""The ways that trip, and every load that can be seen; None where the solution does not say."""


def solver_of_many() -> Solver:
    """For one circuit with each of its faults."""
    return Solver(MOST_WATCHED, 0, AT_ONCE)


def seen_loads(circuit: Circuit) -> tuple[str, ...]:
    """The loads of which a person sees or hears whether they work."""
    return tuple(name for name, (_, load) in circuit.loads.items() if load.what != "electronics")


def sight_word(circuit: Circuit, load: str, sight: Sight) -> str:
    """What a load does, in a word; a motor is not dim."""
    return "runs slowly or hums" if sight is Sight.DIM and circuit.loads[load][1].what != "lamp" else sight.value


def base_setting(circuit: Circuit) -> Settings:
    """Every switch in its first position: off, at L1, straight."""
    return tuple((name, kind.positions[0].name) for name, (_, kind) in circuit.switches.items())


def settings_of(circuit: Circuit, load: str = "") -> Iterator[tuple[Group, Settings]]:
    """Every setting of each group in turn, or of the one that a load is in, with the switches of the others in their
    first positions."""
    base = dict(base_setting(circuit))
    for group in circuit.solution.groups:
        if group.switches and (not load or load in group.lamps):
            for setting in group.settings:
                yield group, tuple({**base, **dict(zip(group.switches, setting, strict=True))}.items())


@dataclass(frozen=True)
class Showing:
    """A wiring as its lamps show it. `loads`: those looked at, whether or not the wiring still has them."""

    wiring: Wiring
    loads: tuple[str, ...]
    solver: Solver = field(default_factory=solver_of_many, compare=False, repr=False)

    @cached_property
    def circuit(self) -> Circuit:
        """The wiring, solved."""
        return circuit_of(self.wiring, self.solver)

    def own_settings(self, load: str = "") -> tuple[Settings, ...]:
        """Every setting of the switches that a load depends on in this very wiring; of none named, of each group."""
        return tuple(setting for _, setting in settings_of(self.circuit, load))

    @cached_property
    def _without(self) -> dict[tuple[str, ...], Showing]:
        return {}

    @cached_property
    def _seen(self) -> dict[Settings, Shown]:
        return {}

    @cached_property
    def _left(self) -> dict[Settings, tuple[tuple[str, ...], Showing]]:
        return {}

    @cached_property
    def _groups(self) -> Mapping[str, Group]:
        return {lamp: group for group in self.circuit.solution.groups for lamp in group.lamps}

    @staticmethod
    def row(group: Group, setting: Mapping[str, str]) -> Row | None:
        """The row of a group for a setting of all switches; None where that was not solved."""
        try:
            return group.row(setting)
        except KeyError:
            return None

    def shown(self, setting: Settings) -> Shown:
        """What is seen with every switch as it stands."""
        if setting not in self._seen:
            self._seen[setting] = self._shown(setting)
        return self._seen[setting]

    def _shown(self, setting: Settings) -> Shown:
        tripped, left = self._when_tripped(setting)
        at = dict(setting)
        return tripped, tuple(left.load(name, at) for name in self.loads)

    def does(self, load: str, setting: Settings) -> Sight | None:
        """What one load does with every switch as it stands, as `shown` has it."""
        return self._when_tripped(setting)[1].load(load, dict(setting))

    def _when_tripped(self, setting: Settings) -> tuple[tuple[str, ...], Showing]:
        """The ways that trip, and the circuit without them."""
        if setting not in self._left:
            at, here = dict(setting), self
            tripped: tuple[str, ...] = ()
            while more := here.trips(at):
                tripped = tuple(sorted({*tripped, *more}))
                here = self.without(tripped)
            self._left[setting] = tripped, here
        return self._left[setting]

    def load(self, name: str, setting: Mapping[str, str]) -> Sight | None:
        """What a load does in a setting that trips nothing; one that is not there is dark."""
        group = self._groups.get(name)
        if group is None:
            return Sight.DARK
        row = self.row(group, setting)
        return AS_SEEN.get(row.lamps[group.lamps.index(name)].state) if row else None

    def without(self, ways: tuple[str, ...]) -> Showing:
        """The same with some ways off."""
        if ways not in self._without:
            self._without[ways] = Showing(without_line(self.wiring, ways), self.loads, self.solver)
        return self._without[ways]

    def trips(self, setting: Mapping[str, str]) -> frozenset[str]:
        """The ways whose device opens in a setting, all of them still on."""
        rows = [row for g in self._may_trip if (row := self.row(g, setting))]
        shorts = [*self.circuit.solution.shorts, *(short for row in rows for short in row.shorts)]
        found = {short.rails[0].accessory for short in shorts}
        meetings = [*self.circuit.solution.meetings, *(m for row in rows for m in row.meetings)]
        leaking = {way for m in meetings if self._to_earth(m) for way in {rail.accessory for rail in m.rails}}
        leaking |= self._through_earth(setting)
        return frozenset(found | (leaking & self._with_rcd & self._on))

    @cached_property
    def _may_trip(self) -> tuple[Group, ...]:
        """The groups of which a setting may open a device: not those that were solved and do nothing of the kind."""
        return tuple(group for group in self.circuit.solution.groups if isinstance(group.rows, Rows) or any(
            row.shorts or row.meetings or any(self._to_earth_in(group, row)) for row in group.rows))

    @property
    def may_trip(self) -> bool:
        """Whether a device might open in some setting: with the contacts of all positions closed at once, rails of two
        kinds would meet, or a load would be at earth."""
        network = network_of(self.wiring)
        joined = Joined(len(network.net))
        for a, b in (pair for contacts in network.contacts for pairs in contacts.joins for pair in pairs):
            joined.join(a, b)
        kinds: dict[int, set[str]] = {}
        for net, rails in network.rails.items():
            kinds.setdefault(joined.find(net), set()).update(rail.kind for rail in rails)
        at_earth = any("earth" in kinds.get(joined.find(net), ()) for load in network.loads for net in (load.a, load.b))
        return at_earth or any(len(found) > 1 for found in kinds.values())

    @cached_property
    def _with_rcd(self) -> frozenset[str]:
        return frozenset(w.accessory for w in self.wiring.board.ways if w.rcd is not None)

    @cached_property
    def _on(self) -> frozenset[str]:
        return frozenset(rail.accessory for rail, kind in self.circuit.rails.items() if kind == "line")

    def _to_earth(self, meeting: Meeting) -> bool:
        return {self.circuit.rails[rail] for rail in meeting.rails} == {"neutral", "earth"}

    def _through_earth(self, setting: Mapping[str, str]) -> frozenset[str]:
        """The ways whose line goes through a load to earth."""
        rows = [(group, row) for group in self._may_trip if (row := self.row(group, setting)) and not row.shorts]
        return frozenset(way for group, row in rows for ends in self._to_earth_in(group, row)
                         for c in ends if c.potential is Potential.LINE for way in c.ways)

    def _to_earth_in(self, group: Group, row: Row) -> Iterator[tuple[Condition, ...]]:
        """What is at both contacts of each load through which current goes to earth in a setting."""
        for name, lamp in zip(group.lamps, row.lamps, strict=True):
            if lamp.fraction:
                ends = tuple(self.circuit.condition(group, row, t) for t in self.circuit.contacts[name])
                if any(c.potential is Potential.EARTH for c in ends):
                    yield ends
