"""The tests that a person can make to find a fault, each with what it reads under every fault that still fits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.edits import edited
from sheetgen.find.bench import Bench
from sheetgen.find.faults import Faulty, lamp_place
from sheetgen.find.plan import Option, Reads
from sheetgen.find.shown import Showing, base_setting, seen_loads, settings_of, sight_word, solver_of_many
from sheetgen.find.weights import AT_ONE_PLACE, LONG_LEAD, LOOKING, OPENING, SWITCH_ELSEWHERE, TAKING_OFF, WATCHING
from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Fault, Means, Settings, Sight, Spot, Trial
from sheetgen.model.reading import TakeOff
from sheetgen.model.wiring import Cable, Core, Wiring
from sheetgen.model.words import joined

CLOSED, OPEN = "closed", "open"
MOST_FOR_ALL_LEADS = 24  # faults that fit: of more, only leads from the board are thought of
MOST_NAMED = 3  # lamps to be watched
MOST_STANDINGS = 48  # settings in which continuity is read: those with the fewest switches moved
MOST_TOUCHED = 4  # terminals of a place of which every pair is tried in one go


@dataclass(frozen=True)
class FaultCase:
    """A fault with everything that is asked of it."""

    faulty: Faulty
    showing: Showing
    bench: Bench


@dataclass(frozen=True)
class Visit:
    """What is tried at one place; `far`: with a long lead from another."""

    place: str
    pairs: tuple[tuple[Terminal, Terminal], ...]
    far: bool = False


class FaultTrials:
    """Tests on one circuit; `sound` is the circuit as described, in the settings that anybody watches."""

    def __init__(self, sound: Circuit):
        self.solver = solver_of_many()
        self.sound = circuit_of(sound.wiring, self.solver)
        self.loads = seen_loads(sound)
        self.base = base_setting(sound)
        self._benches: dict[tuple[int, str, int], tuple[Wiring, Bench]] = {}

    @cached_property
    def settings(self) -> tuple[Settings, ...]:
        """Every setting that is tried: of each group in turn, the others in their first positions.

        Nobody can hold what a sensor or a timer closes, least of all with the supply off: it stands at rest.
        """
        found = dict.fromkeys([self.base, *(setting for _, setting in settings_of(self.sound))])
        return tuple(setting for setting in found if self.by_hand(setting))

    def by_hand(self, setting: Settings) -> bool:
        """Hands alone can bring it about."""
        return all(self.sound.switches[name][1].by_hand for name, _ in self.from_base(setting))

    def from_base(self, setting: Settings) -> Settings:
        """The switches that do not stand in their first positions."""
        return tuple(at for at in setting if at not in self.base)

    def case(self, faulty: Faulty) -> FaultCase:
        """A fault made ready to be asked."""
        return FaultCase(faulty, Showing(faulty.wiring, self.loads, self.solver), Bench(faulty.wiring))

    # Watching and looking

    def watching(self, cases: Sequence[FaultCase], tripped: bool = False) -> Iterator[Option]:
        """Every setting, and what is seen in it. What has tripped is not switched on to a fault again."""
        for setting in self.settings:
            shown = [case.showing.shown(setting) for case in cases]
            if len(set(shown)) > 1 and not (tripped and any(trips for trips, _ in shown)):
                telling = {name for i, name in enumerate(self.loads) if len({loads[i] for _, loads in shown}) > 1}
                which = f"Watch {joined(self.sound.part(name) for name in self.loads if name in telling)}"
                which = which if 0 < len(telling) <= MOST_NAMED else "Watch every lamp"
                trial = Trial(Means.WATCH, "", f"{which}{self._at_rest(telling)}", WATCHING, self.from_base(setting))
                yield Option(trial, tuple(
                    None if None in loads else Reads(self._in_words(trips, loads, telling)) for trips, loads in shown))

    def _at_rest(self, loads: set[str]) -> str:
        """What must not be set off meanwhile; a timer is left out, which follows the switch that is moved."""
        names = {name for group in self.sound.solution.groups if loads & set(group.lamps) for name in group.switches}
        rest = [self.sound.part(name) for name, (_, kind) in self.sound.switches.items()
                if name in names and not kind.by_hand and kind.what != "timer"]
        return f" while nothing sets off {joined(rest, 'or')}" if rest else ""

    def _in_words(self, trips: tuple[str, ...], loads: Sequence[Sight | None], telling: set[str]) -> str:
        """'Landing on, Hall off', of the loads that may differ; where a way trips only that."""
        if trips:
            return joined(f"{self.sound.way(way)} trips" for way in trips)
        lit = [(self.sound.part(name), sight_word(self.sound, name, sight))
               for name, sight in zip(self.loads, loads, strict=True)
               if sight is not None and name in telling]
        if not lit:
            return "nothing trips"
        if len({sight for _, sight in lit}) == 1:
            return f"all {lit[0][1]}" if len(lit) > 1 else lit[0][1]
        return ", ".join(f"{name} {sight}" for name, sight in lit)

    def looking(self, cases: Sequence[FaultCase]) -> Iterator[Option]:
        """The board; a lamp tried elsewhere, and another in its place; a terminal that may have come apart."""
        board = [c.faulty.suspect for c in cases if c.faulty.suspect.fault in (Fault.WAY_DEAD, Fault.RCD_TRIPPED)]
        if board:
            ways = self.sound.places(way for s in board for way in s.places)
            trial = Trial(Means.LOOK, "board", f"Look at the board: {ways}", LOOKING)
            yield Option(trial, tuple(
                Reads(c.faulty.suspect.short if c.faulty.suspect in board else "all on") for c in cases))
        for name in self.loads:
            if self.sound.loads[name][1].what != "lamp":
                continue
            here = [_of_lamp(c, self.sound.loads[name][0].name) for c in cases]
            for fault, says, yes, no in (
                (Fault.LAMP, "Take the lamp at {} out; supply on, try it in a holder that works",
                 "stays dark", "lights"),
                (Fault.HOLDER, "Bend up the contacts of the lampholder at {}, put the lamp in; supply on, work the "
                               "switches", "lights now", "as before"),
            ):
                if fault in here:
                    trial = Trial(Means.LOOK, self.sound.loads[name][0].name, says.format(lamp_place(self.sound, name)),
                                  WATCHING)
                    yield Option(trial, tuple(Reads(yes if f is fault else no) for f in here))

        parted = [c.faulty.suspect for c in cases if c.faulty.suspect.fault is Fault.PARTED]
        for suspect in parted:
            trial = Trial(Means.LOOK, suspect.places[0], suspect.look.rstrip("."), LOOKING + OPENING)
            yield Option(trial, tuple(
                Reads("come apart" if c.faulty.suspect is suspect else "holds its cores, or all but one")
                for c in cases))

    # Continuity

    def readings(self, cases: Sequence[FaultCase]) -> Iterator[Option]:
        """Continuity from each terminal that a fault may concern to the others there, then with a long lead."""
        places = self.concerned(cases)
        touching = [s for s in self.settings if self._touches(s, places)]
        first = sorted(touching, key=lambda s: len(self.from_base(s)))[:MOST_STANDINGS]
        settings = [s for s in touching if s in first]
        for visit in self._visits(places, all_leads=len(cases) <= MOST_FOR_ALL_LEADS):
            for setting in settings:
                yield from self._reading(cases, setting, visit)
        yield from self._taken_off(cases)

    def _visits(self, places: tuple[str, ...], all_leads: bool) -> Iterator[Visit]:
        """At one place from one terminal, then between all; with a lead from another, then from line and neutral.

        Without `all_leads` the long lead comes from the board alone.
        """
        for place in places:
            here = self._terminals(place)
            for held in here:
                yield Visit(place, tuple((held, t) for t in here if t != held))
            if 2 < len(here) <= MOST_TOUCHED:
                yield Visit(place, tuple(combinations(here, 2)))
        for place in places:
            here = self._terminals(place)
            for other in places:
                if other != place and (all_leads or other in self.sound.board):
                    for held in self._terminals(other):
                        yield Visit(place, tuple((held, t) for t in here), far=True)
            for way in sorted(self.sound.board - {place}):
                if len(here) <= MOST_TOUCHED:
                    both = [t for t in self._terminals(way) if self.sound.rails[t] != "earth"]
                    yield Visit(place, tuple((held, t) for held in both for t in here), far=True)

    def _taken_off(self, cases: Sequence[FaultCase]) -> Iterator[Option]:
        """Between two cores that may touch, those of their cable taken off at one end: what is left is the cable."""
        tried = {c.faulty.touching: c for c in cases if c.faulty.touching}
        for pair in tried:
            cable = self.sound.cables[pair[0].cable]
            for end, place in enumerate(cable.ends):
                if any(core.ends[end].node is None for core in pair):
                    continue
                closed = [self.apart(c, cable, end, pair) for c in cases]
                spots = ((cable.name, pair[0].label), (cable.name, pair[1].label))
                at, two = self.sound.wiring.printed(place), joined(core.label for core in pair)
                says = f"Take the cores of {cable.name} off at {at}, measure between {two}, and put them back"
                trial = Trial(Means.DEAD, place, says, AT_ONE_PLACE + TAKING_OFF, pairs=(spots,),
                              cores=True, off=True)
                if len(set(closed)) > 1:
                    yield Option(trial, tuple(_reads(("",), (spots,), (reads,)) for reads in closed))

    def apart(self, case: FaultCase, cable: Cable, end: int, pair: tuple[Core, ...]) -> bool | None:
        """Whether two cores of a cable are joined with all its cores off at one end."""
        if case.faulty.touching == pair:
            return True
        mine = case.faulty.touching and case.faulty.touching[0].cable == cable.name
        wiring = self.sound.wiring if mine else case.faulty.wiring
        cores = {core.key: core for core in wiring.cores()}
        far = [cores[core.key].ends[1 - end].node for core in pair]
        if far[0] is None or far[1] is None:
            return False
        return self._off(wiring, cable, end).closed(self.base, far[0], far[1])

    def _off(self, wiring: Wiring, cable: Cable, end: int) -> Bench:
        """A wiring with all cores of a cable off at one end, kept for its next pair of cores."""
        key = id(wiring), cable.name, end
        if key not in self._benches:
            self._benches[key] = wiring, Bench(edited(wiring, [TakeOff((core.key, end)) for core in cable.cores]))
        return self._benches[key][1]

    def concerned(self, cases: Iterable[FaultCase]) -> tuple[str, ...]:
        """The accessories at which the faults are, and the board, in the order of the description."""
        found = {p for c in cases for p in c.faulty.suspect.places} | self.sound.board
        return tuple(a.name for a in self.sound.wiring.accessories if a.name in found)

    def _terminals(self, place: str) -> list[Terminal]:
        accessory = self.sound.accessories[place]
        used = {t for t in self.sound.landed if t.accessory == place}
        used |= {accessory.terminal(t) for s in accessory.kind.switches for p in s.positions
                 for pair in p.joins for t in pair}
        return [t for t in (accessory.terminal(k.name) for k in accessory.kind.terminals if not k.inner) if t in used]

    def _touches(self, setting: Settings, places: tuple[str, ...]) -> bool:
        """The first setting, and those of groups of which a switch or a lamp is among the places."""
        moved = {name for name, _ in self.from_base(setting)}
        if not moved:
            return True
        groups = [g for g in self.sound.solution.groups if moved & set(g.switches)]
        near = {self.sound.switches[s][0].name for g in groups for s in g.switches}
        near |= {self.sound.loads[x][0].name for g in groups for x in g.lamps}
        near |= {t.accessory for g in groups for t in g.terminals}
        return bool(near & set(places))

    def _reading(self, cases: Sequence[FaultCase], setting: Settings, visit: Visit) -> Iterator[Option]:
        """Only the pairs on which the faults differ are tried."""
        rows = [[c.bench.closed(setting, a, b) for c in cases] for a, b in visit.pairs]
        telling = [i for i, row in enumerate(rows) if len(set(row) - {None}) > 1]
        clear = [i for i in telling if None not in rows[i]]
        for kept in (clear, telling) if len(clear) < len(telling) else (telling,):
            if kept:
                yield self._option(setting, replace(visit, pairs=tuple(visit.pairs[i] for i in kept)),
                                   [rows[i] for i in kept])

    def _option(self, setting: Settings, visit: Visit, rows: Sequence[Sequence[bool | None]]) -> Option:
        moved = self.from_base(setting)
        elsewhere = any(self.sound.switches[name][0].name != visit.place for name, _ in moved)
        cost = LONG_LEAD if visit.far else SWITCH_ELSEWHERE if elsewhere else AT_ONE_PLACE
        held = list(dict.fromkeys(a for a, _ in visit.pairs))
        one, there = len(held) == 1, self.sound.wiring.printed(visit.place)
        labels = [self.sound.label(b) if one else f"{self.sound.label(a)}\N{EN DASH}{self.sound.label(b)}"
                  for a, b in visit.pairs]
        start = "With a long lead from" if visit.far else "From"
        if one or visit.far:
            says = f"{start} {self.sound.terminals(held)} to {there if visit.far else ''} " + joined(
                dict.fromkeys(self.sound.label(b) for _, b in visit.pairs))
        else:
            says = f"At {there} between {joined(labels)}"
        if not one and visit.far and len(visit.pairs) < len(held) * len({b for _, b in visit.pairs}):
            says = f"{start} {self.sound.wiring.printed(held[0].accessory)} to {there}: {joined(labels)}"
        spots = tuple((_spot(a), _spot(b)) for a, b in visit.pairs)
        trial = Trial(Means.DEAD, visit.place, " ".join(says.split()), cost + len(spots), moved, pairs=spots)
        return Option(trial, tuple(_reads(labels, spots, column) for column in zip(*rows, strict=True)))


def _reads(labels: Sequence[str], pairs: Sequence[tuple[Spot, Spot]], closed: Sequence[bool | None]) -> Reads | None:
    """What a reading of several pairs says; None where one of them is no reading."""
    if None in closed:
        return None
    made = [label for label, is_closed in zip(labels, closed, strict=True) if is_closed]
    if len(labels) == 1:
        says = CLOSED if made else OPEN
    else:
        says = f"{joined(made)} closed" if 0 < len(made) < len(labels) else "all closed" if made else "all open"
    return Reads(says, tuple(pair for pair, is_closed in zip(pairs, closed, strict=True) if is_closed))


def _spot(terminal: Terminal) -> Spot:
    return terminal.accessory, terminal.name


def _of_lamp(case: FaultCase, place: str) -> Fault | None:
    """The fault, where it is of the lamp or the holder at a place."""
    suspect = case.faulty.suspect
    return suspect.fault if suspect.fault in (Fault.LAMP, Fault.HOLDER) and suspect.places == (place,) else None

