"""Every single fault of a circuit by what is seen of it, in words that say how that differs from what should be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.find.concerned import joined_parts, not_too_large, whole_description
from sheetgen.find.faults import faults_of
from sheetgen.find.fits import GLOWS, Witness, complete_of
from sheetgen.find.shown import Showing, Shown, base_setting, seen_loads, sight_word, solver_of_many
from sheetgen.model.finding_out import Fault, Settings, Sight, Suspect, Symptom
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import joined

MOST_NAMED = 2  # settings; of more the number is said


def symptoms_of(circuit: Circuit) -> tuple[Symptom, ...]:
    """What may be seen, likeliest first, each with the faults behind it; what no lamp shows is last.

    Refused where the description is not whole, or the circuit too large.
    """
    whole_description(circuit.wiring)
    parts = [(part, faults_of(part)) for part in joined_parts(circuit)]
    not_too_large([(part, len(faults)) for part, faults in parts])
    found: dict[tuple[str, ...], list[Suspect]] = {}
    for part, faults in parts:
        telling = Telling(part)
        for faulty in faults:
            if faulty.suspect.fault is not Fault.NONE:
                showing = telling.showing(faulty.wiring)
                found.setdefault(tuple(telling.says(showing)), []).append(faulty.suspect)
    ordered = sorted(found.items(), key=lambda item: (
        not item[0], -max(s.weight for s in item[1]), -sum(s.weight for s in item[1])))
    return tuple(Symptom(says, tuple(sorted(suspects, key=lambda s: -s.weight))) for says, suspects in ordered)


class Telling:
    """Says what is seen of one circuit, beside what should be."""

    def __init__(self, circuit: Circuit):
        self.solver = solver_of_many()
        self.circuit = circuit_of(circuit.wiring, self.solver)
        self.loads = seen_loads(circuit)
        self.base = base_setting(circuit)
        witness = Witness(self.circuit, (), self.solver)
        self.settings = witness.settings
        self.fed = {way: witness.fed_by(way) for way in circuit.accessories if way in circuit.board}
        self._settings_of: dict[str, list[Settings]] = {}
        self.sound = self.showing(circuit.wiring)
        self.right = {setting: self.sound.shown(setting) for setting in self.settings}

    def showing(self, wiring: Wiring) -> Showing:
        """A wiring, sound or with a fault, as its lamps show it."""
        return Showing(wiring, self.loads, self.solver)

    def says(self, showing: Showing) -> Iterator[str]:
        """Sentences without their stops, one for each thing that is not as it should be."""
        shown = {setting: showing.shown(setting) for setting in self.settings}
        yield from self._trips(shown if any(trips for trips, _ in shown.values()) else self._all_shown(showing))
        dead = self.dead(showing)
        said: set[str] = set()
        for way, fed in self.fed.items():
            if len(fed) > 1 and set(fed) <= set(dead) and not any(way in trips for trips, _ in shown.values()):
                yield f"everything on {self.circuit.way(way)} dead"
                said |= set(fed)
        for load in self.loads:
            if load in said:
                continue
            says = f"{self.circuit.part(load)} dead" if load in dead else self._load(load, shown, showing)
            if says and not self._away(load, shown):
                yield says

    def dead(self, showing: Showing) -> list[str]:
        """The loads that are dark in every setting, also of switches that are theirs only by the fault."""
        shown = {setting: showing.shown(setting) for setting in self.settings}
        return [load for i, load in enumerate(self.loads)
                if self._dead(load, shown) and not self._dead(load, self.right)
                and all(showing.shown(s)[1][i] is Sight.DARK for s in showing.own_settings(load))]

    def never_trips(self, showing: Showing) -> bool:
        """Nothing trips in any setting."""
        return not any(trips for trips, _ in self._all_shown(showing).values())

    def _all_shown(self, showing: Showing) -> dict[Settings, Shown]:
        return {setting: showing.shown(setting) for setting in (*self.settings, *showing.own_settings())}

    def _trips(self, shown: Mapping[Settings, Shown]) -> Iterator[str]:
        for way in dict.fromkeys(w for trips, _ in shown.values() for w in trips):
            at = [s for s, (trips, _) in shown.items() if way in trips]
            when = "at once" if len(at) == len(shown) else self._with(at, self._switches_of(way))
            yield f"{self.circuit.way(way)} trips {when}"

    def _switches_of(self, way: str) -> set[str]:
        """The switches that change what the loads of a way do."""
        return {s for g in self.circuit.solution.groups if set(self.fed[way]) & set(g.lamps) for s in g.switches}

    def _away(self, load: str, shown: Mapping[Settings, Shown]) -> bool:
        """Dark only because its way has tripped: that is said of the way."""
        i = self.loads.index(load)
        return any(trips for trips, _ in shown.values()) and all(
            does[i] == self.right[s][1][i] or bool(trips) for s, (trips, does) in shown.items())

    def _own(self, load: str) -> list[Settings]:
        """The settings of the switches that a load depends on, the others in their first positions."""
        if load not in self._settings_of:
            self._settings_of[load] = self._found(load)
        return self._settings_of[load]

    def _found(self, load: str) -> list[Settings]:
        group = next((g for g in self.circuit.solution.groups if load in g.lamps), None)
        switches = set(group.switches) if group else set()
        return [s for s in self.settings if all(at in self.base for at in s if at[0] not in switches)]

    def _does(self, load: str, shown: Mapping[Settings, Shown]) -> list[Sight | None]:
        i = self.loads.index(load)
        return [shown[s][1][i] for s in self._own(load)]

    def _dead(self, load: str, shown: Mapping[Settings, Shown]) -> bool:
        return all(d is Sight.DARK for d in self._does(load, shown))

    def _load(self, load: str, shown: Mapping[Settings, Shown], showing: Showing) -> str:
        """What a load that is not dead does amiss; "" where nothing.

        Where its own switches change nothing, those count that are its own by the fault.
        """
        does, right = self._does(load, shown), self._does(load, self.right)
        name = self.circuit.part(load)
        if does == right:
            return self._elsewhere(load, shown)
        at, own, counted = self._own(load), _switches(self.circuit, load), complete_of(self.circuit, load)
        beyond = _switches(showing.circuit, load)
        if len({d in GLOWS for d in does}) == 1 and not beyond <= own:
            i = self.loads.index(load)
            at, own, counted = list(showing.own_settings(load)), beyond, complete_of(showing.circuit, load)
            does, right = ([of.shown(s)[1][i] for s in at] for of in (showing, self.sound))
        lit = [s for s, d in zip(at, does, strict=True) if d in GLOWS]
        dim = [s for s, d in zip(at, does, strict=True) if d is Sight.DIM]
        if dim:
            says = f"{name} {sight_word(self.circuit, load, Sight.DIM)}"
            return f"{says} {self._with(dim, own)}" if len(dim) < len(at) else f"{says} always"
        if len(lit) == len(at):
            return f"{name} always on"
        if all((d in GLOWS) != (r in GLOWS) for d, r in zip(does, right, strict=True)):
            return f"{name} the wrong way round: on where it should be off"
        if not counted:
            return f"{name} on in some settings only"
        dark = [s for s in at if s not in lit]
        said = f"on only {self._with(lit, own)}" if len(lit) <= len(dark) else f"off only {self._with(dark, own)}"
        return f"{name} {said}: lit in {len(lit)} of {len(at)}"

    def _elsewhere(self, load: str, shown: Mapping[Settings, Shown]) -> str:
        """A load that changes with switches that are not its own."""
        i = self.loads.index(load)
        amiss = [s for s in self.settings if shown[s][1][i] != self.right[s][1][i] and not shown[s][0]]
        return f"{self.circuit.part(load)} not as it should be {self._with(amiss, set())}" if amiss else ""

    def _with(self, settings: Sequence[Settings], switches: set[str]) -> str:
        """'with Hall at L1, Top at L2'; of many only the number. Named are some switches, and those that are moved."""
        if len(settings) > MOST_NAMED:
            return f"in {len(settings)} settings"
        moved = {s for setting in settings for s, p in setting if (s, p) not in self.base}
        own = {s for g in self.circuit.solution.groups if moved & set(g.switches) for s in g.switches}
        own = own if own and (not switches or len(own) < len(switches)) else switches or own
        said = [", ".join(f"{self.circuit.part(s)} {self.circuit.position(s, p)}" for s, p in setting if s in own)
                for setting in settings]
        return f"with {joined(dict.fromkeys(said), 'or')}" if any(said) else "whatever the switches do"


def _switches(circuit: Circuit, load: str) -> set[str]:
    """Those of the group that a load is in."""
    return {s for g in circuit.solution.groups if load in g.lamps for s in g.switches}
