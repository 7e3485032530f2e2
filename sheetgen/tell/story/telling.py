"""From facts to sentences. Each phrase notes the facts it says; the wording varies only where the electricity does."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import Path
from sheetgen.circuit.graph import Step
from sheetgen.circuit.triggers import on_without_electronics
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import LampState, Potential, Row
from sheetgen.model.words import capital, joined
from sheetgen.tell.story.facts import Account, Dark, Fact, Stop
from sheetgen.tell.story.phrases import Phrases


@dataclass(frozen=True)
class Story:
    """The words for a setting, and every fact they state."""

    setting: tuple[str, ...]
    says: str
    facts: tuple[Fact, ...]


def story_of(circuit: Circuit, row: Row, account: Account) -> Story:
    """The words for a setting."""
    telling = _Teller(circuit, account)
    says = " ".join(capital(sentence) for sentence in telling.sentences(row))
    return Story(row.setting, says, tuple(dict.fromkeys(telling.facts)))


class _Teller:
    def __init__(self, circuit: Circuit, account: Account):
        self.circuit, self.account = circuit, account
        self.words = Phrases(circuit)
        self.facts: list[Fact] = []
        self.told: set[tuple[object, ...]] = set()  # how far line comes, of the lamps before
        self.walked: list[tuple[Step, ...]] = []  # the ways of the line that were told

    def note(self, what: str, terminal: Terminal | None = None, other: Terminal | None = None, **more: str) -> None:
        """Keep a fact that is being said."""
        self.facts.append(Fact(what, terminal, other, **more))

    def sentences(self, row: Row) -> list[str]:
        """All that is said of the setting."""
        shorts = (*self.circuit.solution.shorts, *row.shorts)
        if shorts:
            return [self._short(short.through) for short in shorts]
        paths = self.account.flow.paths
        said = [*self._path(paths[0]), *(self._alongside(paths[0], path) for path in paths[1:])] if paths else []
        return [*said, *self._dark()]

    def _short(self, through: Sequence[Terminal]) -> str:
        start, end = through[0], through[-1]
        self.note("short", start, end)
        between = [self.words.terminal(t) for t in through[1:-1]]
        way = f", by way of {joined(between)}," if between else ""
        return (f"{self.words.rail(start)} is joined straight to {self.words.rail(end)}{way} with no lamp between: a "
                "short. The protective device opens, and nothing on it lights until this is put right.")

    # lamps that are lit

    def _path(self, path: Path) -> list[str]:
        """From line to the last contact; from there through the lamp and back."""
        to_contact = max((n + 1 for n, step in enumerate(path.there) if step.kind == "contact"), default=0)
        start = path.there[0].start if path.there else path.through.start
        way = f"line from {self.words.way(start)}"
        rest = self._to_lamp(path, path.there[to_contact:])
        if not to_contact:
            return [f"{way}, past no switch, {rest}{self._back(path)}."]
        came = "it" if path.there[to_contact - 1].kind == "contact" else "line"
        onward = self._onward(path.there[:to_contact], "carries")
        self.walked.append(tuple(path.there[:to_contact]))
        return [f"{way}{onward}.", f"from there {came} {rest}{self._back(path)}."]

    def _to_lamp(self, path: Path, steps: Sequence[Step]) -> str:
        state = self.account.lamps[path.load]
        self.note("lamp", name=path.load, value=state.state.value)
        text = ""
        for kind, alike in groupby(steps, key=lambda step: step.kind):
            run = tuple(alike)
            if kind == "load":
                self.note("lamp", name=run[0].name, value=self.account.lamps[run[0].name].state.value)
                text += f" through {self.words.load(run[0].name)}"
            else:
                self._noted(run, "carries")
                text += f" {self.words.on(run)}"
        lamp = path.load in self.circuit.lamp_names
        runs = "run" if self.words.several(path.load) else "runs"
        if path.load in on_without_electronics(self.circuit, self.account.lamps):
            runs = "may run: that depends on the fan, whose electronics have no supply"
        lights = f"which {'lights' if lamp else runs}" if state.state is LampState.ON else (
            f"which {'glows dimly' if lamp else 'gets no more than'} "
            f"{'on ' if lamp else ''}{self.words.share(state.fraction)} of the voltage")
        return f"goes{text} to {self.words.load(path.load)}, {lights}"

    def _back(self, path: Path) -> str:
        """'; the current returns on F1 (blue) and W6 (black) to the neutral of way 4'."""
        text = "; the current returns"
        for kind, alike in groupby(path.back, key=lambda step: step.kind):
            run = tuple(alike)
            if kind == "core":
                self._noted(run, "carries")
                text += f" {self.words.on(run)}"
            elif kind == "contact":
                self._noted(run, "passes")
                text += f" through the contact of {self.words.switch(run[0].name)}"
            else:
                self.note("lamp", name=run[0].name, value=self.account.lamps[run[0].name].state.value)
                text += f" through {self.words.load(run[0].name)}, which is in series with it,"
        end = path.back[-1].end if path.back else path.through.end
        self.note("neutral at", end)
        return f"{text} to {self.words.rail(end)}"

    def _alongside(self, first: Path, path: Path) -> str:
        """Another lamp: from where its way leaves the first lamp's."""
        state = self.account.lamps[path.load]
        self.note("lamp", name=path.load, value=state.state.value)
        lamp = self.words.load(path.load)
        if state.state is LampState.DIM:
            too = "and glows dimly too" if path.load in self.circuit.lamp_names else "too"
            has = "have" if self.words.several(path.load) else "has"
            return f"{lamp} {has} {self.words.share(state.fraction)} of the voltage {too}."
        shared = 0
        while shared < min(len(first.there), len(path.there)) and first.there[shared] == path.there[shared]:
            shared += 1
        rest = path.there[shared:]
        at = rest[0].start if rest else path.through.start
        self.note("line at", at)
        text = ""
        for kind, alike in groupby(rest, key=lambda step: step.kind):
            run = tuple(alike)
            self._noted(run, "carries" if kind == "core" else "passes")
            contact = f" through the contact of {self.words.switch(run[0].name)}" if kind == "contact" else ""
            text += contact or f" {self.words.on(run)}"
        several = self.words.several(path.load)
        does = "lights" if path.load in self.circuit.lamp_names else "run" if several else "runs"
        if path.load in on_without_electronics(self.circuit, self.account.lamps):
            return (f"{lamp} is fed alongside from {self.words.terminal(at)}{text} and may run: that depends on the "
                    "fan, whose electronics have no supply.")
        return f"{lamp} {'are' if several else 'is'} fed alongside from {self.words.terminal(at)}{text} and {does} too."

    # along a path

    def _noted(self, run: Sequence[Step], what: str) -> None:
        if what == "line at":
            self.facts += [Fact(what, terminal) for terminal in (run[0].start, *(step.end for step in run))]
        else:
            self.facts += [Fact(what, step.start, step.end, name=step.name) for step in run]

    def _onward(self, steps: Sequence[Step], cores_say: str, comes: str = "comes") -> str:
        """' comes on W1 (red) to L1 of Hall and passes to COM; W3 (red) takes it on to COM of Top, where it ...'."""
        text, passed = "", False
        for kind, alike in groupby(steps, key=lambda step: step.kind):
            run = tuple(alike)
            if kind == "core":
                for part in self.words.at_switches(run):
                    self._noted(part, cores_say)
                    to = self.words.terminal(part[-1].end)
                    if passed:
                        take = "takes" if len(part) == 1 else "take"
                        text += f"; {self.words.cores_said(part)} {take} it on to {to}"
                    else:
                        text += f" {'and' if text else comes} {self.words.on(part)} to {to}"
            elif kind == "contact":
                for step in run:
                    self._noted((step,), "passes")
                    self.note("position", name=step.name, value=self.account.setting[step.name])
                    text += f"{', where it' if passed else ' and'} {self._through(step)}" if text else (
                        f" is at {self.words.terminal(step.start)} and {self._through(step)}")
                passed = True
            else:
                self.note("lamp", name=run[0].name, value=self.account.lamps[run[0].name].state.value)
                text += f"{';' if passed else ','} it goes through {self.words.load(run[0].name)}"
                passed = True
        return text

    def _through(self, step: Step) -> str:
        how = self.words.passing(step.name, self.account.setting[step.name])
        return f"{how} {self.words.label(step.end)}"

    # lamps that are not

    def _dark(self) -> list[str]:
        said: list[str] = []
        groups: dict[tuple[str, tuple[Stop, ...], LampState], list[Dark]] = {}
        for dark in self.account.dark:
            groups.setdefault((dark.lacks, dark.stops, dark.state), []).append(dark)
            self.note("lamp", name=dark.lamp, value=dark.state.value)
        tellers = {"line": self._no_line, "neutral": self._no_neutral, "both": self._cut_off, "neither": self._even}
        for (lacks, stops, _), darks in groups.items():
            said += tellers[lacks](darks, stops)
        if not self.account.lamps:
            fronts = self.account.fronts
            said += self._fronts(fronts, "") if fronts else []
            said.append("no lamp is joined to this.")
        return said

    def _no_line(self, darks: list[Dark], stops: tuple[Stop, ...]) -> list[str]:
        lamps, it_is = self._lamps(darks)
        for dark in darks:
            self.note("no line at", dark.contacts[0])
        outcome = f"no line comes to {lamps}: {it_is} off"
        fronts = stops or self.account.fronts
        return self._fronts(fronts, outcome) if fronts else [f"{outcome}."]

    def _lamps(self, darks: list[Dark]) -> tuple[str, str]:
        return self.words.loads([dark.lamp for dark in darks]), "it is" if self._single(darks) else "they are"

    def _single(self, darks: list[Dark]) -> bool:
        return len(darks) == 1 and not self.words.several(darks[0].lamp)

    def _fronts(self, stops: tuple[Stop, ...], outcome: str) -> list[str]:
        """How far line comes, and which contacts keep it there."""
        stop = stops[0]
        self.note("line at", stop.near)
        told = {t for step in stop.steps for t in (step.start, step.end)} | {stop.near}
        switches = {step.name for step in stop.steps if step.kind == "contact"} | {stop.switch}
        others = {o.switch: o for o in reversed(stops[1:]) if o.near not in told and o.switch not in switches}
        near = [other.near for other in reversed(others.values())]
        for terminal in near:
            self.note("line at", terminal)
        stops_there = f"there it stops: {self._stand(stops)}"
        key = (stop.steps, stop.near, *near, stops_there)
        if outcome and key in self.told:
            return [f"{outcome}."]
        self.told.add(key)
        text = self._to_stop(stop)
        text += f"; it is at {joined(self.words.terminal(t) for t in near)} too" if near else ""
        return [f"{text}.", f"{stops_there}{f', so {outcome}' if outcome else ''}."]

    def _to_stop(self, stop: Stop) -> str:
        """The way of the line to where it stops; what was told of it before is not told again."""
        told = max((n for n in range(len(stop.steps) + 1) for way in self.walked if way[:n] == stop.steps[:n]),
                   default=0)
        self.walked.append(stop.steps)
        rest = stop.steps[told:]
        if told and not rest:
            return f"line is at {self.words.terminal(stop.near)}"
        if told and any(step.kind == "contact" for step in stop.steps[:told]):
            start = rest[0].start
            self.note("line at", start)
            if rest[0].kind == "contact":
                return f"line{self._onward(rest, 'line at')}"
            return f"line is at {self.words.terminal(start)} and{self._onward(rest, 'line at', 'goes')}"
        text = f"line from {self.words.way(stop.steps[0].start if stop.steps else stop.near)}"
        return text + (self._onward(stop.steps, "line at") or f" is at {self.words.terminal(stop.near)}")

    def _stand(self, stops: Sequence[Stop]) -> str:
        """'Hall and Top stand at L1 and Middle stands straight'."""
        stood: dict[tuple[str, str], list[str]] = {}
        for stop in sorted(stops, key=lambda stop: self.words.order(stop.switch)):
            position = self.account.setting[stop.switch]
            self.note("open", stop.near, stop.far, name=stop.switch)
            self.note("position", name=stop.switch, value=position)
            names = stood.setdefault(self.words.standing(stop.switch, position), [])
            if self.words.switch(stop.switch) not in names:
                names.append(self.words.switch(stop.switch))
        return joined(f"{joined(names)} {one if len(names) == 1 else many}" for (one, many), names in stood.items())

    def _no_neutral(self, darks: list[Dark], stops: tuple[Stop, ...]) -> list[str]:
        said = []
        for dark in darks:
            live = dark.contacts[1]
            self.note("line at", live)
            why = f": {self._stand(stops)}" if stops else ""
            both = dark.state is LampState.OFF_BUT_LIVE
            lamp = self.words.load(dark.lamp)
            said.append(f"line is at {self.words.terminal(live)}, but {lamp} has no way to neutral{why}.")
            said.append(f"it is off, yet {'both its contacts are' if both else 'one of its contacts is'} live.")
        return said

    def _even(self, darks: list[Dark], stops: tuple[Stop, ...]) -> list[str]:
        said = []
        for dark in darks:
            live = self.account.at[dark.contacts[0]].live
            for contact in dark.contacts:
                self.note("line at" if live else "neutral at", contact)
            what = "at line: it is off, yet live" if live else "at neutral or earth: it is off"
            said.append(f"both contacts of {self.words.load(dark.lamp)} are {what}.")
        return said

    def _cut_off(self, darks: list[Dark], stops: tuple[Stop, ...]) -> list[str]:
        said: list[str] = []
        by_words: dict[str, list[Dark]] = {}
        for dark in darks:
            by_words.setdefault(self._via(dark), []).append(dark)
            for contact in dark.contacts:
                self.note("no line at", contact)
        for what, some in by_words.items():
            lamps, it_is = self._lamps(some)
            outcome = f"{lamps} {'has' if self._single(some) else 'have'} {what}: {it_is} off"
            fronts = stops or self.account.fronts
            said += self._fronts(fronts, outcome) if fronts else [f"{outcome}."]
        return said

    def _via(self, dark: Dark) -> str:
        """What a lamp cut off from both rails has of them: one of them through another load, or neither."""
        there = {self.account.at[contact].potential for contact in dark.contacts}
        if there & {Potential.NEUTRAL, Potential.EARTH}:
            return "neutral only through another load, and no line"
        if Potential.THROUGH_LOAD in there:
            return "line only through another load, and no neutral"
        if Potential.BETWEEN in there:
            return "only what comes through other loads"
        return "neither line nor neutral"
