"""Whether a circuit, sound or with a fault, agrees with what was seen and with the readings that were taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from itertools import product

from sheetgen.circuit import Circuit
from sheetgen.find.bench import Bench
from sheetgen.find.shown import Showing, Shown, base_setting, seen_loads, settings_of, solver_of_many
from sheetgen.judge.work import worked_by
from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Seen, Settings, Sight, TakenReading
from sheetgen.solve.solve import Solver

GLOWS = (Sight.LIT, Sight.DIM)
SAME = {Sight.LIT: (Sight.LIT,), Sight.DIM: (Sight.DIM,), Sight.DARK: (Sight.DARK, Sight.DIM)}


def was_seen(seen: Seen, does: Sequence[Sight]) -> bool:
    """What was seen of a load is what it does over these settings; dark may be dim, which is not always noticed."""
    match seen.sight:
        case Sight.DEAD:
            return all(d in SAME[Sight.DARK] for d in does)
        case Sight.ALWAYS:
            return all(d in GLOWS for d in does)
        case Sight.COUNTED:
            return sum(d in GLOWS for d in does) * seen.settings == seen.lit * len(does)
    return any(d in SAME[seen.sight] for d in does)
"""What a lamp may do that is said to be so: an LED lamp on part of its voltage may be dark."""
MOST_TRIED = 1024  # settings, where a sentence names switches of several groups


@dataclass(frozen=True)
class Witness:
    """What was seen of one circuit; `sound` is the circuit as described."""

    sound: Circuit
    seen: tuple[Seen, ...]
    solver: Solver = field(default_factory=solver_of_many, compare=False, repr=False)

    @cached_property
    def loads(self) -> tuple[str, ...]:
        """Those that a person sees."""
        return seen_loads(self.sound)

    @cached_property
    def complete(self) -> bool:
        """Every setting of the sound circuit is thought of."""
        return all(group.complete for group in self.sound.solution.groups)

    @cached_property
    def base(self) -> Settings:
        """Every switch in its first position."""
        return base_setting(self.sound)

    @cached_property
    def settings(self) -> tuple[Settings, ...]:
        """Each group in turn in all its settings."""
        return tuple(dict.fromkeys([self.base, *(s for _, s in settings_of(self.sound))]))

    @cached_property
    def _as_it_should(self) -> dict[Settings, Shown]:
        showing = Showing(self.sound.wiring, self.loads, self.solver)
        return {setting: showing.shown(setting) for setting in self.settings}

    def fits(self, showing: Showing) -> bool:
        """Nothing that was seen contradicts it."""
        return all(self.agrees(seen, showing) for seen in self.seen)

    def agrees(self, seen: Seen, showing: Showing) -> bool:
        """One thing seen may be so."""
        match seen.sight:
            case Sight.TRIPS:
                found = any(set(seen.of) <= set(trips) and trips
                            for trips, _ in (showing.shown(s) for s in self._with(seen.setting, ())))
                return found or (not self.complete and showing.may_trip)
            case Sight.HOLDS:
                settings = [*self._with(seen.setting, ()), *(() if seen.setting else showing.own_settings())]
                return not any(showing.shown(s)[0] for s in settings)
            case Sight.IDLE:
                return all(self._idle(switch, showing) for switch in seen.of)
            case Sight.WORKED_BY:
                worked = worked_by(showing.circuit)
                by = frozenset(seen.by)
                known = ((worked.get(load, frozenset()), complete_of(showing.circuit, load)) for load in seen.of)
                return all(here == by if complete else here <= by for here, complete in known)
            case Sight.WORKS:
                return all(self._works(load, showing) for load in self._of(seen))
        return all(self._does(seen, load, showing) for load in self._of(seen))

    def _of(self, seen: Seen) -> tuple[str, ...]:
        """The loads a sentence speaks of: of a way all it feeds, of the rest those that no other names."""
        if not seen.of:
            named = {load for s in self.seen for load in self._named(s) if s is not seen}
            return tuple(load for load in self.loads if load not in named)
        return self._named(seen)

    def _named(self, seen: Seen) -> tuple[str, ...]:
        return tuple(load for name in seen.of
                     for load in (self.fed_by(name) if name in self.sound.board else (name,)) if load in self.loads)

    @cached_property
    def _fed(self) -> dict[str, tuple[str, ...]]:
        return {}

    def fed_by(self, way: str) -> tuple[str, ...]:
        """The loads that go out with a way."""
        if way not in self._fed:
            self._fed[way] = tuple(self._out_with(way))
        return self._fed[way]

    def _out_with(self, way: str) -> Iterator[str]:
        whole = Showing(self.sound.wiring, self.loads, self.solver)
        dark = whole.without((way,))
        yield from (
            load for i, load in enumerate(self.loads)
            if any(whole.shown(s)[1][i] in GLOWS for s in self.settings)
            and not any(dark.shown(s)[1][i] in GLOWS for s in self.settings))

    def _does(self, seen: Seen, load: str, showing: Showing) -> bool:
        settings = self._with(seen.setting, (load,))
        if seen.sight is Sight.DEAD and not seen.setting:
            settings += showing.own_settings(load)
        found = (showing.does(load, s) for s in settings)
        if seen.sight is Sight.DEAD:  # that it lights in one setting is enough to tell
            return all(d is None or d in SAME[Sight.DARK] for d in found)
        if seen.sight is Sight.COUNTED and not complete_of(self.sound, load):
            return True  # of how many settings cannot be said
        does = list(found)
        if None in does:
            return True
        return was_seen(seen, [d for d in does if d is not None])

    @cached_property
    def _meant(self) -> dict[tuple[Settings, tuple[str, ...]], tuple[Settings, ...]]:
        return {}

    def _with(self, partly: Settings, loads: tuple[str, ...]) -> tuple[Settings, ...]:
        """The settings that a sentence may mean: those that it names, and of the loads' own switches all others."""
        if (partly, loads) not in self._meant:
            self._meant[partly, loads] = tuple(self._found(partly, loads))
        return self._meant[partly, loads]

    def _found(self, partly: Settings, loads: tuple[str, ...]) -> list[Settings]:
        own = [g for g in self.sound.solution.groups if set(loads) & set(g.lamps)]
        switches = {s for g in own for s in g.switches} if own else {s for s, _ in self.base}
        named = dict(partly)
        kept = [s for s in self.settings if named.items() <= dict(s).items()
                and all(at in self.base for at in s if at[0] not in switches and at[0] not in named)]
        if kept:
            return kept
        return [tuple({**dict(self.base), **chosen, **named}.items()) for chosen in self._others(switches - set(named))]

    def _others(self, switches: set[str]) -> Iterator[dict[str, str]]:
        ordered = sorted(switches)
        positions = [[p.name for p in self.sound.switches[s][1].positions] for s in ordered]
        for n, chosen in enumerate(product(*positions)):
            if n == MOST_TRIED:
                return
            yield dict(zip(ordered, chosen, strict=True))

    def _works(self, load: str, showing: Showing) -> bool:
        i = self.loads.index(load)
        group = [g for g in self.sound.solution.groups if load in g.lamps]
        own = {s for g in group for s in g.switches}
        for setting in self.settings:
            if all(at in self.base for at in setting if at[0] not in own):
                shown, right = showing.shown(setting), self._as_it_should[setting]
                if None not in (shown[1][i], right[1][i]) and (shown[1][i] != right[1][i] or shown[0] != right[0]):
                    return False
        return True

    def _idle(self, switch: str, showing: Showing) -> bool:
        """No load changes as the switch is worked, whatever the others of its group do."""
        seen: dict[Settings, Shown] = {}
        for setting in self._with((), self.sound.solution.group_of_switch(switch).lamps):
            others = tuple(at for at in setting if at[0] != switch)
            if seen.setdefault(others, showing.shown(setting)) != showing.shown(setting):
                return False
        return True


def complete_of(circuit: Circuit, load: str) -> bool:
    """Every setting of the group that a load is in is thought of."""
    return all(group.complete for group in circuit.solution.groups if load in group.lamps)


def agrees_with(readings: Sequence[TakenReading], bench: Bench, showing: Showing | None, base: Settings) -> bool:
    """Every reading between terminals may be so on a wiring; what rests on what is beyond the board is left out."""
    cables = {cable.name for cable in bench.wiring.cables}
    for taken in readings:
        if cables & {taken.between[0][0], taken.between[1][0]}:
            continue
        setting = tuple({**dict(base), **dict(taken.setting)}.items())
        a, b = (Terminal(*spot) for spot in taken.between)
        if taken.live:
            reads = _voltage(showing, dict(setting), a, b) if showing else None
        else:
            reads = bench.closed(setting, a, b, [(Terminal(*x), Terminal(*y)) for x, y in taken.joined])
        if reads is not None and reads != taken.closed:
            return False
    return True


def _voltage(showing: Showing, setting: Mapping[str, str], a: Terminal, b: Terminal) -> bool | None:
    """Whether an indicator shows a voltage between two terminals; None where a lamp, or nothing, lies behind one."""
    found = []
    for terminal in (a, b):
        circuit = showing.circuit
        if terminal in circuit.solution.constant:
            found.append(circuit.solution.constant[terminal])
            continue
        group = circuit.group_of[terminal][0]
        row = showing.row(group, setting)
        if row is None:
            return None
        found.append(circuit.condition(group, row, terminal))
    if not all(c.solid and c.fraction is not None for c in found):
        return None
    return found[0].fraction != found[1].fraction
