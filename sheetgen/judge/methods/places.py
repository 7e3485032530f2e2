"""What is at each accessory: permanent line, switched line, neutral, cpc; last on the run; what could be fitted."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping

from sheetgen.judge.work import worked_in
from sheetgen.model.accessory import Accessory, Level
from sheetgen.model.reading import Place, Role
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Core, Wiring
from sheetgen.model.words import joined

HAND_SWITCHES = ("one-way", "two-way", "intermediate", "dimmer")
NO_FITTING = {"joint box", "socket", "fused", "isolator", "double-pole"}  # flags and switches: only joins or isolates
NO_DIMMER = "no dimmer and no two-wire timer: a fan's motor is worked here"
NOT_KNOWN = "nothing can be said before every core here is traced"
BEYOND = "nothing can be said before every core is traced that those here are joined to"
FAR = 10_000  # cables; where no neutral arrives


def places_of(wiring: Wiring, solution: Solution, roles: Mapping[str, Role],
              ways: Mapping[str, tuple[str, ...]], to_isolate: Mapping[str, tuple[str, ...]],
              earthed: frozenset[str]) -> tuple[Place, ...]:
    """One for every accessory of the fixed wiring but the board. `to_isolate`: accessory -> every way, to open it;
    `earthed`: those that a cpc joins to the earth of the board."""
    runs, shorted = _Runs(wiring, roles), _shorted(solution)
    here: dict[str, list[Core]] = {accessory.name: [] for accessory in wiring.accessories}
    for core in wiring.cores():
        for end in core.ends:
            here[end.accessory].append(core)
    return tuple(
        _place(wiring, accessory, here[accessory.name], solution, roles, ways, to_isolate.get(accessory.name, ()), runs,
               shorted, accessory.name in earthed)
        for accessory in wiring.accessories
        if accessory.kind.level not in (Level.BOARD, Level.PENDANT) and accessory.kind.terminals
    )


def _place(wiring: Wiring, accessory: Accessory, here: list[Core], solution: Solution, roles: Mapping[str, Role],
           ways: Mapping[str, tuple[str, ...]], to_isolate: tuple[str, ...], runs: _Runs,
           shorted: frozenset[str], cpc: bool) -> Place:
    found = {roles[core.key] for core in here}
    line, neutral = Role.PERMANENT_LINE in found, Role.NEUTRAL in found
    switched = Role.SWITCHED_LINE in found
    reaching = tuple(dict.fromkeys(
        way for core in here if roles[core.key] is not Role.CPC for way in ways.get(core.key, ())))
    in_a_set = any(s.what == "two-way" for s in accessory.kind.switches) and bool(
        _mates(accessory, solution, wiring, "two-way") - {accessory.name})
    one_way = accessory.kind.level is Level.WALL and not (in_a_set and len(accessory.kind.switches) == 1)
    motor = (one_way or in_a_set) and _works_a_fan(accessory, solution, wiring)
    fits, lacks = _fits(accessory, line, switched, neutral, cpc, one_way, motor)
    if in_a_set and not motor:
        fits = (*fits, "one two-way dimmer for the whole set of switches, at this end or at the other")
    if len(reaching) > 1:
        here_too = joined(way.printed for way in wiring.board.ways if way.accessory in reaching)
        fits, lacks = (), (f"nothing before it is put in order: conductors of {here_too} are here", *lacks)
    elif len(to_isolate) > 1:
        either = joined(way.printed for way in wiring.board.ways if way.accessory in to_isolate)
        fits, lacks = (), (f"nothing before it is put in order: a conductor here can be live from {either}", *lacks)
    elif accessory.name in shorted:
        fits, lacks = (), ("nothing before it is put in order: line can be joined straight to neutral or earth here",)
    takes, strapper = _takes_fitting(accessory), Role.STRAPPER in found
    if not _known(accessory, here, roles):
        says = BEYOND if _all_seen(accessory, here) else NOT_KNOWN
        return Place(accessory.name, line, switched, neutral, cpc, None, reaching, (), (says,), False, takes, strapper)
    return Place(accessory.name, line, switched, neutral, cpc, runs.last(accessory), reaching,
                 fits, lacks, takes_fitting=takes, strapper=strapper)


def _takes_fitting(accessory: Accessory) -> bool:
    """Whether a switch, a light or a fan may take its place or hang from it."""
    return not NO_FITTING & {*accessory.kind.flags, *(switch.what for switch in accessory.kind.switches)}


def _known(accessory: Accessory, here: Iterable[Core], roles: Mapping[str, Role]) -> bool:
    """The accessory was opened, and every core end in it, and what each core does, is known."""
    return accessory.opened and all(
        roles[core.key] is not Role.NOT_KNOWN
        and not any(end.unknown for end in core.ends if end.accessory == accessory.name) for core in here)


def _all_seen(accessory: Accessory, here: Iterable[Core]) -> bool:
    """The accessory was opened, and of every core in it both ends are known."""
    return accessory.opened and not any(end.unknown for core in here for end in core.ends)


def _shorted(solution: Solution) -> frozenset[str]:
    """Accessories through which a short goes in some setting."""
    return frozenset(t.accessory for short in solution.every_short for t in short.through)


def _fits(accessory: Accessory, line: bool, switched: bool, neutral: bool,
          cpc: bool, one_way: bool, motor: bool) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """What could be fitted here, and what could not, each with its reason.

    `one_way`: a one-way dimmer or timer could take the place of a switch here: not of a pull-cord, nor of one of a
    two-way set, which it would end. `motor`: a switch here works a fan.
    """
    fits, lacks = [], []
    a_sensor = "" if "sensor" in accessory.kind.flags else "a sensor, "  # of what is one already nothing is said
    if any(switch.what in HAND_SWITCHES for switch in accessory.kind.switches):
        intermediate = all(switch.what == "intermediate" for switch in accessory.kind.switches)
        if motor:
            lacks.append(NO_DIMMER)
        elif intermediate:
            lacks.append("no dimmer: a two-way dimmer goes at one of the two ends of the set of switches")
        if line and neutral:
            fits.append("a sensor, timer or switch module that needs a neutral: permanent line and neutral are here")
        elif line:
            if one_way and not intermediate and not motor:
                fits.append("a dimmer or timer that needs no neutral: permanent line is here")
            lacks.append("nothing that needs a neutral: there is none at this switch")
        else:
            lacks.append("no sensor, timer or switch module: there is no permanent line at this switch")
    elif not _takes_fitting(accessory):
        lacks.append("no light, sensor or fan goes on it")
    else:
        if "fan" in accessory.kind.flags:  # what isolates it for work on it would part an emergency fitting too
            if line and neutral and switched:
                fits.append("a fan with run-on timer: permanent line, switched line and neutral are here")
            elif switched and neutral:
                fits.append("a fan without timer: switched line and neutral are here")
                lacks.append("no fan with run-on timer: there is no permanent line here")
            elif line and neutral:
                lacks.append("no fan with run-on timer: there is no switched line here")
        elif line and neutral and switched:
            fits.append(f"{a_sensor}an emergency fitting or a fan with run-on timer: permanent line, switched line and "
                        "neutral are here")
        elif line and neutral:
            fits.append(f"{a_sensor and 'a sensor or '}an emergency fitting: permanent line and neutral are here")
        elif switched and neutral:
            fits.append("a fitting or a fan without timer: switched line and neutral are here")
            lacks.append(f"no {'sensor, ' if a_sensor else ''}emergency fitting or fan with run-on timer: there is no "
                         "permanent line here")
    if not (fits or lacks):
        lacks.append(f"no light{a_sensor and ', sensor'} or fan: there is no {'line' if neutral else 'neutral'} here")
    if not cpc:
        lacks.append("nothing with exposed metal: there is no earth here")
    return tuple(fits), tuple(lacks)


class _Runs:
    """The neutral from accessory to accessory, and how many cables that carry it each is away from a board."""

    def __init__(self, wiring: Wiring, roles: Mapping[str, Role]):
        self.near: dict[str, dict[str, None]] = {}  # accessory -> those to which a neutral runs from there
        for cable in wiring.cables:
            if cable.link or cable.flex:
                continue
            if any(roles[core.key] is Role.NEUTRAL and _landed(core) for core in cable.cores):
                for a, b in (cable.ends, cable.ends[::-1]):
                    self.near.setdefault(a, {})[b] = None
        self.distance = {a.name: 0 for a in wiring.accessories if a.kind.rails}
        edge = deque(self.distance)
        while edge:
            here = edge.popleft()
            for there in self.near.get(here, ()):
                if there not in self.distance:
                    self.distance[there] = self.distance[here] + 1
                    edge.append(there)

    def last(self, accessory: Accessory) -> bool | None:
        """Whether the neutral that comes here goes on to nothing farther from the board.

        Every load has its neutral, so nothing is fed from the last point; a switch drop without neutral is on no run.
        """
        near = self.near.get(accessory.name, {})
        own = self.distance.get(accessory.name, FAR)
        if not any(self.distance.get(name, FAR) < own for name in near):
            return None
        return not any(self.distance[name] > own for name in near)


def _landed(core: Core) -> bool:
    return all(end.terminal is not None for end in core.ends)


def _works_a_fan(accessory: Accessory, solution: Solution, wiring: Wiring) -> bool:
    """Whether a switch of an accessory starts or stops the motor of a fan in some setting of the others."""
    own = {accessory.switch_name(switch) for switch in accessory.kind.switches}
    fans = {name for name, _, load in wiring.loads() if load.what == "fan"}
    return any(own & by for group in solution.groups if own & set(group.switches) and fans & set(group.lamps)
               for name, by in worked_in(group).items() if name in fans)


def _mates(accessory: Accessory, solution: Solution, wiring: Wiring, what: str = "") -> set[str]:
    """The accessories whose switches, all or those of one kind, belong to a set with one of this one's."""
    own = {accessory.switch_name(switch) for switch in accessory.kind.switches}
    return {
        a.name for group in solution.groups if own & set(group.switches)
        for name, a, switch in wiring.switches() if name in group.switches and what in ("", switch.what)
    }
