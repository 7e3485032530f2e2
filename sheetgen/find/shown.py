"""What a person sees of a circuit without any instrument: the lamps in a setting of the switches, and what trips.

Where a setting shorts a way, its device opens and the lamps are as they are without it. A way with an RCD also opens
where its line returns through earth, and where neutral meets earth while it is on (common practice).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.find.faulty import without_line
from sheetgen.model.finding_out import Settings, Sight
from sheetgen.model.solution import Group, LampState, Meeting, Potential, Row
from sheetgen.model.wiring import Wiring

AS_SEEN = {
    LampState.ON: Sight.LIT, LampState.DIM: Sight.DIM, LampState.OFF: Sight.DARK, LampState.OFF_BUT_LIVE: Sight.DARK,
    LampState.SHORT: Sight.DARK, LampState.TRACE: Sight.DIM,  # an electronic lamp may glow
}
Shown = tuple[tuple[str, ...], tuple[Sight | None, ...]]
"""The ways that trip, and every load that can be seen; None where the solution does not say."""


def seen_loads(circuit: Circuit) -> tuple[str, ...]:
    """The loads of which a person sees or hears whether they work."""
    return tuple(name for name, (_, load) in circuit.loads.items() if load.what != "electronics")


def sight_word(circuit: Circuit, load: str, sight: Sight) -> str:
    """What a load does, in a word; a motor is not dim."""
    return "runs slowly or hums" if sight is Sight.DIM and circuit.loads[load][1].what != "lamp" else sight.value


def base_setting(circuit: Circuit) -> Settings:
    """Every switch in its first position: off, at L1, straight."""
    return tuple((name, kind.positions[0].name) for name, (_, kind) in circuit.switches.items())


def settings_of(circuit: Circuit) -> Iterator[tuple[Group, Settings]]:
    """Every setting of each group in turn, with the switches of the others in their first positions."""
    base = dict(base_setting(circuit))
    for group in circuit.solution.groups:
        if group.switches:
            for row in group.rows:
                yield group, tuple({**base, **dict(zip(group.switches, row.setting, strict=True))}.items())


@dataclass(frozen=True)
class Showing:
    """A wiring as its lamps show it. `loads`: those looked at, whether or not the wiring still has them."""

    wiring: Wiring
    loads: tuple[str, ...]

    @cached_property
    def circuit(self) -> Circuit:
        """The wiring, solved."""
        return circuit_of(self.wiring)

    def own_settings(self, load: str = "") -> tuple[Settings, ...]:
        """Every setting of the switches that a load depends on in this very wiring; of none named, of each group."""
        return tuple(setting for group, setting in settings_of(self.circuit) if not load or load in group.lamps)

    @cached_property
    def _without(self) -> dict[tuple[str, ...], Showing]:
        return {}

    @cached_property
    def _seen(self) -> dict[Settings, Shown]:
        return {}

    @cached_property
    def _groups(self) -> Mapping[str, Group]:
        return {lamp: group for group in self.circuit.solution.groups for lamp in group.lamps}

    @cached_property
    def _rows(self) -> tuple[tuple[Group, Mapping[tuple[str, ...], Row]], ...]:
        return tuple((g, {row.setting: row for row in g.rows}) for g in self.circuit.solution.groups)

    def row(self, group: Group, setting: Mapping[str, str]) -> Row | None:
        """The row of a group for a setting of all switches; None where that was not solved."""
        found = next(rows for g, rows in self._rows if g is group)
        return found.get(tuple(setting[s] for s in group.switches))

    def shown(self, setting: Settings) -> Shown:
        """What is seen with every switch as it stands."""
        if setting not in self._seen:
            self._seen[setting] = self._shown(setting)
        return self._seen[setting]

    def _shown(self, setting: Settings) -> Shown:
        at = dict(setting)
        tripped: tuple[str, ...] = ()
        here = self
        while more := here.trips(at):
            tripped = tuple(sorted({*tripped, *more}))
            here = self.without(tripped)
        return tripped, tuple(here.load(name, at) for name in self.loads)

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
            self._without[ways] = Showing(without_line(self.wiring, ways), self.loads)
        return self._without[ways]

    def trips(self, setting: Mapping[str, str]) -> frozenset[str]:
        """The ways whose device opens in a setting, all of them still on."""
        rows = [row for g, _ in self._rows if (row := self.row(g, setting))]
        shorts = [*self.circuit.solution.shorts, *(short for row in rows for short in row.shorts)]
        found = {short.rails[0].accessory for short in shorts}
        meetings = [*self.circuit.solution.meetings, *(m for row in rows for m in row.meetings)]
        leaking = {way for m in meetings if self._to_earth(m) for way in {rail.accessory for rail in m.rails}}
        leaking |= self._through_earth(setting)
        return frozenset(found | (leaking & self._with_rcd & self._on))

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
        found: set[str] = set()
        for group, _ in self._rows:
            row = self.row(group, setting)
            if row is None or row.shorts:
                continue
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                if lamp.fraction:
                    ends = [self.circuit.condition(group, row, t) for t in self.circuit.contacts[name]]
                    if any(c.potential is Potential.EARTH for c in ends):
                        found |= {way for c in ends if c.potential is Potential.LINE for way in c.ways}
        return frozenset(found)
