"""What was seen and read, in the words of a person: 'Hall L1, Top L2: Landing on', 'Landing dead', 'way 4 trips'.

A lamp is called by its own name, by that of the rose it hangs from, or by its room; a switch by its name or its room.
Nothing is guessed: a lamp that is 'on' needs the switches with which it was, or 'always'.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from sheetgen.catalogue.colours import read_core_name
from sheetgen.model.accessory import Accessory
from sheetgen.model.description import ReadingText
from sheetgen.model.finding_out import Seen, Settings, Sight, Spot, TakenReading
from sheetgen.model.problems import Mark, Problem, nearest
from sheetgen.model.wiring import Cable, Wiring
from sheetgen.read.description_to_wiring.accessories import find_terminal
from sheetgen.read.description_to_wiring.board import way_name
from sheetgen.read.description_to_wiring.ledger import Ledger, folded

STATES = {
    Sight.ALWAYS: ("always on", "stays on", "never off", "never goes off", "on all the time", "does not go off",
                   "cannot be switched off", "always lit"),
    Sight.DEAD: ("dead", "never on", "never lights", "never lit", "does not light", "does not work", "not working",
                 "always off", "stays off", "no light", "does not come on", "never runs"),
    Sight.WORKS: ("works", "is fine", "works as it should", "ok", "all right", "works normally", "work"),
    Sight.IDLE: ("does nothing", "has no effect", "does not do anything"),
    Sight.TRIPS: ("trips", "blows the fuse", "blows", "goes bang", "trips the device", "trips the rcd"),
    Sight.DIM: ("dim", "half lit", "glows", "is dim", "faint", "runs slowly or hums", "runs slowly",
                "hums"),
    Sight.DARK: ("off", "dark", "out", "is off", "is dark", "not lit"),
    Sight.LIT: ("on", "lit", "lights", "is on", "bright", "is lit", "alight", "runs"),
}
HOLDS = ("nothing trips", "does not trip", "no trip", "it holds", "nothing blows")
REST = ("the rest", "rest", "everything else", "all else", "the others", "others", "all others", "every other lamp")
NUMBERS = {
    "none": 0, "never": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
}
WRITE = "Write it as in: Landing dead; Hall L1, Top L2: Landing on; Landing on in 1 of 4; trips; the rest works."
READS = {
    "closed": True, "open": False, "voltage": True, "no voltage": False, "none": False, "changes": True,
    "stays open": False, "stays closed": True,
}
_COUNTED = re.compile(r"(?P<who>.+?) (?:is )?(?:on|lit) in (?P<lit>\w+) (?:out )?of (?:the |all )?(?P<all>\w+)"
                      r"(?: settings?)?")
_BY = re.compile(r"(?P<lamp>.+?) (?:is )?worked (?:by|from) (?P<by>.+)")
_WORKS = re.compile(r"(?P<by>.+?) (?:works?|operates?|switch(?:es)?) (?P<lamp>.+)")


class SaysNothing(Exception):
    """Words that mean nothing here; `hint` says what to write."""

    def __init__(self, message: str, hint: str = ""):
        self.message, self.hint = message, hint
        super().__init__(message)


def seen_of(words: str, wiring: Wiring) -> tuple[Seen, ...]:
    """What a sentence says was seen; SaysNothing where it says nothing that can be used."""
    return tuple(replace(seen, says=" ".join(words.split())) for seen in _SeenReader(wiring).seen(words))


def taken_of(text: ReadingText, wiring: Wiring) -> tuple[TakenReading, ...]:
    """A reading as written: one for each pair tried."""
    return tuple(_SeenReader(wiring).taken(text))


class _SeenReader:
    """Finds the things of a wiring by the names that people use."""

    def __init__(self, wiring: Wiring):
        self.wiring = wiring
        self.switches = {name: (a, switch) for name, a, switch in wiring.switches()}
        self.loads = {name: a for name, a, _ in wiring.loads()}

    # Things by name

    def _loads(self, word: str) -> tuple[str, ...]:
        wanted = folded(word.removeprefix("the "))
        for called in (
            lambda name, a: (name, name.replace(".", " ")),
            lambda name, a: (a.name,),
            lambda name, a: (a.hangs_from, f"{a.name} lamp", f"{a.name} light", f"{a.hangs_from} light"),
            lambda name, a: (self._room(a), f"{self._room(a)} light", f"{self._room(a)} lamp"),
        ):
            found = tuple(name for name, a in self.loads.items() if wanted in map(folded, called(name, a)))
            if found:
                return found
        return ()

    def _room(self, accessory: Accessory) -> str:
        return accessory.room or (self.wiring.accessory(accessory.hangs_from).room if accessory.hangs_from else "")

    def _switches(self, word: str) -> tuple[str, ...]:
        wanted = folded(word.removeprefix("the "))
        wanted = wanted.removesuffix(" switch") or wanted
        for called in (
            lambda name, a: (name, name.replace(".", " "), name.removesuffix(" switch")),
            lambda name, a: (a.name, a.name.removesuffix(" switch")),
            lambda name, a: (a.room,),
        ):
            found = tuple(name for name, (a, _) in self.switches.items() if wanted in map(folded, called(name, a)))
            if found:
                return found
        return ()

    def _way(self, word: str) -> str | None:
        board = tuple(a for a in self.wiring.accessories if a.kind.rails)
        return way_name(word, board)

    def _named(self, word: str, kinds: str = "lamp") -> tuple[str, ...]:
        known = self.loads if kinds == "lamp" else self.switches
        found = self._loads(word) if kinds == "lamp" else self._switches(word)
        if not found:
            rooms = (self._room(a) for a in self.loads.values()) if kinds == "lamp" else ()
            raise SaysNothing(f"There is no {kinds} called '{word}'.",
                                nearest(word, dict.fromkeys(n for n in (*known, *rooms) if n)))
        return found

    # What was seen

    def seen(self, words: str) -> Iterator[Seen]:
        """Each clause of a sentence, with the setting before its colon."""
        before, colon, after = words.rpartition(":")
        setting = self.setting(before) if colon else ()
        clauses = [c.strip() for c in re.split(r"[,;]", after) if c.strip()]
        if not clauses:
            raise SaysNothing(f"'{words.strip()}' does not say what was seen.", WRITE)
        for clause in clauses:
            yield self._clause(" ".join(clause.split()), setting)

    def _clause(self, clause: str, setting: Settings) -> Seen:
        low = clause.casefold()
        if low in HOLDS:
            return Seen(Sight.HOLDS, (), setting)
        if low in STATES[Sight.TRIPS] or low in ("it trips", "everything trips"):
            return Seen(Sight.TRIPS, (), setting)
        if found := _COUNTED.fullmatch(low):
            lit, most = (self._number(found[key], clause) for key in ("lit", "all"))
            return Seen(Sight.COUNTED, self._named(clause[:found.end("who")]), setting, lit=lit, settings=most)
        if found := _BY.fullmatch(clause):
            return Seen(Sight.WORKED_BY, self._named(found["lamp"]), setting, by=self._all_switches(found["by"]))
        for sight, phrases in STATES.items():
            for phrase in sorted(phrases, key=len, reverse=True):
                if low.endswith(f" {phrase}"):
                    return self._state(clause[:-len(phrase)].strip(), sight, setting)
        if found := _WORKS.fullmatch(clause):
            return Seen(Sight.WORKED_BY, self._named(found["lamp"]), setting, by=self._all_switches(found["by"]))
        raise SaysNothing(f"'{clause}' does not say what was seen.", WRITE)

    def _state(self, who: str, sight: Sight, setting: Settings) -> Seen:
        if who.casefold() in REST:
            if sight is not Sight.WORKS:
                raise SaysNothing(f"'{who}' can only be said to work.", "Name the lamps.")
            return Seen(sight, (), setting)
        if sight is Sight.TRIPS or (self._way(who) and not self._loads(who)):
            way = self._way(who)
            if way is None:
                return Seen(Sight.TRIPS, (), setting or self.setting(who))
            if sight in (Sight.DEAD, Sight.DARK):
                return Seen(Sight.DEAD, (way,), setting)
            return Seen(sight, (way,), setting)
        if sight is Sight.IDLE:
            return Seen(sight, self._named(who, "switch"), setting)
        loads = self._named(who)
        if sight in (Sight.LIT, Sight.DIM) and not setting and self.switches:
            raise SaysNothing(
                f"'{who} {sight.value}' does not say how the switches stood.",
                f"Write the switches first, as in 'Hall on: {who} {sight.value}'; or '{who} always on'.")
        if sight is Sight.DARK and not setting:
            sight = Sight.DEAD
        return Seen(sight, loads, setting)

    def _number(self, word: str, clause: str) -> int:
        if word.isdecimal() and len(word) < 5:
            return int(word)
        if word in NUMBERS:
            return NUMBERS[word]
        raise SaysNothing(f"'{word}' in '{clause}' is no number.", "Write it as in: Landing on in 1 of 4.")

    def _all_switches(self, words: str) -> tuple[str, ...]:
        if folded(words) in ("nothing", "no switch"):
            return ()
        named = [w.strip() for w in re.split(r",| and |\+", words) if w.strip()]
        return tuple(dict.fromkeys(s for word in named for s in self._named(word, "switch")))

    # Settings

    def setting(self, words: str | Mapping[str, str]) -> Settings:
        """'Hall L1, Top at L2' or {Hall: L1}: the switches named and their positions."""
        if not isinstance(words, str):
            pairs = [(self._one_switch(name), position) for name, position in words.items()]
        else:
            parts = [p.strip() for p in re.split(r"[,;]| and ", words) if p.strip()]
            pairs = [self._switch_and_rest(part) for part in parts]
        return tuple((switch, self._position(switch, position)) for switch, position in pairs)

    def _one_switch(self, word: str) -> str:
        found = self._named(word, "switch")
        if len(found) > 1:
            raise SaysNothing(f"'{word}' has several switches.", nearest("", found))
        return found[0]

    def _switch_and_rest(self, words: str) -> tuple[str, str]:
        parts = words.split()
        for i in range(len(parts) - 1, 0, -1):
            if self._switches(" ".join(parts[:i])):
                return self._one_switch(" ".join(parts[:i])), " ".join(parts[i:])
        raise SaysNothing(f"'{words}' does not begin with a switch, or lacks its position.",
                            nearest(words, self.switches))

    def _position(self, switch: str, word: str) -> str:
        accessory, kind = self.switches[switch]
        wanted = folded(re.sub(r"^(is |in |at |to |put to |position )+", "", word.casefold()))
        labels = dict(accessory.labels)
        for position in kind.positions:
            stands = f"{kind.name}.{position.name}" if kind.name else position.name
            if wanted in (folded(position.name), folded(labels.get(stands, position.name))):
                return position.name
        known = [labels.get(p.name, p.name) for p in kind.positions]
        raise SaysNothing(f"'{switch}' does not stand at '{word}'.", nearest(word, known))

    # Readings

    def taken(self, text: ReadingText) -> Iterator[TakenReading]:
        """The pairs of a reading, the first spot with each of the others."""
        reads = " ".join(text.reads.casefold().split())
        if reads not in READS:
            raise SaysNothing(f"A reading is not '{text.reads}'.", nearest(text.reads, READS))
        setting = self.setting(text.with_)
        links = tuple((a[1], b[1]) for a, b in self._pairs(
            text.joined, "Joined are at least two spots.", "Write it as in: joined: [W5/red, W5/black]."))
        for (word, first), (other_word, other) in self._pairs(
                text.between, "A reading lies between two spots.", "Write it as in: between: [Hall COM, Hall L1]."):
            says = f"{self._read(word, first)} to {self._read(other_word, other)} {reads}"
            yield TakenReading((first, other), READS[reads], setting, links, text.live or "voltage" in reads,
                               _worked(reads), self._off(text.off, (first, other)), says)

    def _read(self, word: str, spot: Spot) -> str:
        """A spot as it is read: in the user's words, but of the board as on every page."""
        return f"{self.wiring.printed(spot[0])} {spot[1]}" if self.wiring.way(spot[0]) else word

    def _pairs(self, words: Sequence[str], problem: str, hint: str) -> list[tuple[tuple[str, Spot], tuple[str, Spot]]]:
        """'a, b, c' is the first with each of the others; 'a + b, c + d' are sets by themselves."""
        groups = [[w.strip() for w in word.split("+")] for word in words]
        if all(len(group) == 1 for group in groups):
            groups = [[word for group in groups for word in group]] if groups else []
        if any(len(group) < 2 or not all(group) for group in groups):
            raise SaysNothing(problem, hint)
        found = [[(word, self.spot(word)) for word in group] for group in groups]
        return [(first, other) for first, *others in found for other in others]

    def _off(self, word: str, spots: tuple[Spot, Spot]) -> str:
        """Where the cores were off; it has to be said of a cable whose two ends are known."""
        cables = [self.wiring.cable(name) for name, _ in spots if self._cable(name)]
        if not word:
            whole = next((c for c in cables if not c.at_one_end), None)
            if whole:
                raise SaysNothing(f"At which end were the cores of {whole.name} off their terminals?",
                                    f"Write it as in: off: {whole.ends[0]}.")
            return ""
        accessory = self._accessory(word)
        if accessory is None or not cables or any(accessory.name not in c.ends for c in cables):
            raise SaysNothing(f"'{word}' is not where a cable that was read ends.",
                                nearest(word, (name for c in cables for name in c.ends)))
        return accessory.name

    def spot(self, word: str) -> Spot:
        """'Hall COM' or 'W5/red'."""
        name, slash, core = word.partition("/")
        if slash and (cable := self._cable(name)) is not None:
            return cable.name, self._core(cable, core)
        parts = word.split()
        for i in range(len(parts) - 1, 0, -1):
            name, rest = " ".join(parts[:i]), " ".join(parts[i:])
            if (accessory := self._accessory(name)) is not None:
                return accessory.name, self._terminal(accessory, rest)
            if (cable := self._cable(name)) is not None:
                return cable.name, self._core(cable, rest)
        raise SaysNothing(f"'{word}' is neither a terminal nor a core.", "Write it as in: Hall COM, or W5/red.")

    def _accessory(self, word: str) -> Accessory | None:
        found = next((a for a in self.wiring.accessories if folded(a.name) == folded(word)), None)
        way = self._way(word) if found is None else None
        return self.wiring.accessory(way) if way else found

    def _cable(self, word: str) -> Cable | None:
        return next((c for c in self.wiring.cables if folded(c.name) == folded(word)), None)

    def _terminal(self, accessory: Accessory, word: str) -> str:
        for name, label in accessory.labels:
            if folded(label) == folded(word):
                return name
        found = find_terminal(accessory.kind, word)
        if found is None:
            raise SaysNothing(f"'{accessory.name}' has no terminal '{word}'.",
                                nearest(word, (t.name for t in accessory.kind.terminals)))
        return found

    def _core(self, cable: Cable, word: str) -> str:
        name = read_core_name(word)
        for core in cable.cores:
            own = ("cpc" if core.cpc and not core.colour else core.colour), core.mark
            if name == own or (core.cpc and name == ("cpc", "")):
                return "cpc" if core.cpc and not core.colour else core.label
        raise SaysNothing(f"'{cable.name}' has no core '{word}'.", nearest(word, (c.label for c in cable.cores)))


def _worked(reads: str) -> bool | None:
    return True if reads == "changes" else False if reads.startswith("stays") else None


def with_what_was_seen(wiring: Wiring, seen: Sequence[str], readings: Sequence[ReadingText],
                       note: Ledger) -> Wiring:
    """The wiring with what its description says was seen and read; what is not understood is noted."""
    found: list[Seen] = []
    taken: list[TakenReading] = []
    for i, words in enumerate(seen):
        try:
            found += (replace(s, at=note.mark(("seen", i))) for s in seen_of(words, wiring))
        except SaysNothing as error:
            note.note(("seen", i), "E330", error.message, error.hint)
    for i, text in enumerate(readings):
        try:
            taken += (replace(t, at=note.mark(("readings", i))) for t in taken_of(text, wiring))
        except SaysNothing as error:
            note.note(("readings", i), "E331", error.message, error.hint)
    return replace(wiring, seen=tuple(found), readings=tuple(taken))


def problems_of(said: Iterable[str], wiring: Wiring) -> tuple[tuple[Seen, ...], tuple[Problem, ...]]:
    """What sentences from the command line say, and what is wrong with those that say nothing."""
    found: list[Seen] = []
    problems: list[Problem] = []
    for words in said:
        try:
            found += seen_of(words, wiring)
        except SaysNothing as error:
            problems.append(Problem(Mark(), "E330", error.message, error.hint))
    return tuple(found), tuple(problems)
