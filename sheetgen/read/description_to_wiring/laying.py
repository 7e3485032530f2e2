"""From a plan in ports to the words of a description: terminals, colours, sleeves, names of cables, comments."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction

from sheetgen.catalogue import accessories as catalogue
from sheetgen.catalogue.accessories.board_way import KIND as BOARD_WAY
from sheetgen.catalogue.accessories.entry import BadOption
from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import NEUTRAL, Loop, Run, Wanted, Wire
from sheetgen.model.accessory import AccessoryKind
from sheetgen.model.description import AccessoryText, ByMethod, CableText, Path
from sheetgen.model.problems import Mark
from sheetgen.model.quantities import written
from sheetgen.model.style import ColourSet
from sheetgen.read.description_to_wiring.accessories import find_terminal
from sheetgen.read.description_to_wiring.ledger import Ledger

CABLES = {1: "twin and earth", 2: "twin and earth", 3: "three-core and earth", 4: "four-core and earth"}
EARTH, EARTH_JOINT = "E", "E joint"
JOINT_WAYS = 6  # of a lone connector


@dataclass(frozen=True)
class Request:
    """One circuit as asked for, with the path at which it stands in the description."""

    text: ByMethod
    path: Path
    wanted: Wanted
    loop: Loop
    size: str


@dataclass(frozen=True)
class Laid:
    """What methods have laid, in the words of a description, with a comment for each cable."""

    accessories: dict[str, AccessoryText] = field(default_factory=dict)
    cables: dict[str, CableText] = field(default_factory=dict)
    widened: dict[str, AccessoryText] = field(default_factory=dict)  # written accessories with connectors added
    comments: dict[str, str] = field(default_factory=dict)  # cable -> what it is
    sections: dict[str, str] = field(default_factory=dict)  # first cable of a circuit -> what the circuit is
    marks: dict[Path, Mark] = field(default_factory=dict)


class Laying:
    """Writes the runs of a plan out as cables, circuit by circuit."""

    def __init__(self, ledger: Ledger, colours: ColourSet):
        self.ledger, self.colours = ledger, colours
        self.laid = Laid()
        self.written = ledger.description.content.accessories
        self.kinds: dict[str, AccessoryKind | None] = {}
        self.number = 0
        self.refused: set[tuple[str, str]] = set()

    def lay(self, plan: Plan, runs: Iterable[Run], request: Request) -> None:
        """The cables of one circuit."""
        mark = self.ledger.mark(request.path) if request.path else self.ledger.mark(("method",))
        for name in plan.items:
            if name not in self.written:
                self.laid.marks.setdefault(("accessories", name), mark)
            self.kinds[name] = self._kind(plan, name)  # anew: a plate may have got a gang more
        first = True
        for run in runs:
            for cable, says in self._cables(run, plan, request):
                self.laid.marks[("cables", cable)] = mark
                if says:
                    self.laid.comments[cable] = says
                if first:
                    self.laid.sections[cable] = _what(request)
                    first = False

    def finish(self, plan: Plan) -> Laid:
        """The accessories, once every connector is known; terminals with too many conductors relieved or refused."""
        self._relieve_earths(plan)
        for name, item in plan.items.items():
            connectors = plan.joints.get(name, [])
            if name in self.written:
                text = self.written[name]
                more = [c for c in connectors if c not in text.connectors]
                update = {"connectors": [*text.connectors, *more], "room": text.room or item.room}
                self.laid.widened[name] = text.model_copy(update=update)
                continue
            words = {"kind": item.kind, "room": item.room, **item.words, "connectors": connectors}
            self.laid.accessories[name] = AccessoryText.model_validate(words)
        self._check_ways(plan)
        return self.laid

    def _kind(self, plan: Plan, name: str) -> AccessoryKind | None:
        if name in self.written:
            text = self.written[name]
            word, options = text.kind, {k: v for k, v in (text.model_extra or {}).items() if k != "lamp"}
        else:
            item = plan.items[name]
            word, options = item.kind, {k: v for k, v in item.words.items() if k != "lamp"}
        entry = catalogue.find(word)
        try:
            kind = entry.build(options) if entry else None
        except BadOption:
            return None  # said where the accessory itself is read
        return with_ways(kind, self.written[name].ways) if kind and name in self.written else kind

    def _terminal(self, accessory: str, port: str, plan: Plan, request: Request) -> str:
        """The terminal behind a port; a connector is its own port. A problem where a written accessory lacks it."""
        if accessory.startswith("way ") and accessory not in plan.items:
            return BOARD_WAY.port(port)
        kind = self.kinds.get(accessory)
        if port in plan.joints.get(accessory, ()) or kind is None:
            return port
        try:
            return kind.port(port)
        except KeyError:
            if (accessory, port) not in self.refused:
                self.refused.add((accessory, port))
                path = ("accessories", accessory) if accessory in self.written else request.path
                self.ledger.note(path, "E409", f"'{accessory}' ({kind.name}) has no terminal for the {_plain(port)} "
                                 "that this method lands there.", "Give it another kind, or leave it to the method.")
            return "nothing"

    def _cables(self, run: Run, plan: Plan, request: Request) -> Iterable[tuple[str, str]]:
        """One cable, or a single for every wire."""
        lengths = request.text.lengths or self.ledger.description.content.lengths
        length = getattr(lengths, run.stretch) if lengths else None
        ends = {w: [self._terminal(run.start, w.a, plan, request), self._terminal(run.end, w.b, plan, request)]
                for w in run.wires}
        link = run.start == run.end
        base = {"from": run.start, "to": run.end, **({"length": length} if length and not link else {})}
        if request.wanted.conduit or link:
            base |= {"type": f"unsheathed single {request.size}", "in": "the box" if link else "conduit"}
            for i, (core, terminals) in enumerate(self._singles(run, ends)):
                yield self._add({**base, "cores": {core: terminals}}), "" if i else run.says
            return
        colours = dict(zip(run.wires, self._colours(run.wires), strict=True))
        cores = {colours[w]: ends[w] for w in sorted(run.wires, key=lambda w: self._place(colours[w], len(run.wires)))}
        sleeved = self._sleeves(colours)
        cores |= {core: ["nothing", "nothing"] for core in self._spare(cores) if len(run.wires) == 1}
        words = {**base, "type": f"{CABLES[len(run.wires)]} {request.size}", "cores": {**cores, "cpc": [EARTH, EARTH]}}
        yield self._add(words | ({"sleeved": sleeved} if sleeved else {})), run.says

    def _spare(self, cores: Collection[str]) -> list[str]:
        return [c for c in self.colours.cores[CABLES[1]] if c not in cores and c not in ("", "GNYE", "bare")]

    def _singles(self, run: Run, ends: dict[Wire, list[str]]) -> Iterable[tuple[str, list[str]]]:
        """Singles of one run that look alike are told apart by a number."""
        lines = [w for w in run.wires if w.does != NEUTRAL]
        for wire in run.wires:
            colour = self.colours.neutral if wire.does == NEUTRAL else self.colours.line
            mark = f" {lines.index(wire) + 1}" if wire in lines and len(lines) > 1 else ""
            yield f"{colour}{mark}", ends[wire]
        if run.cpc:
            yield self.colours.protective, [EARTH, EARTH]

    def _add(self, words: dict[str, object]) -> str:
        self.number += 1
        while f"W{self.number}" in self.ledger.description.content.cables:
            self.number += 1
        name = f"W{self.number}"
        order = ("type", "in", "from", "to", "length", "cores", "sleeved")
        self.laid.cables[name] = CableText.model_validate({k: _words(words[k]) for k in order if k in words})
        return name

    def _place(self, colour: str, count: int) -> int:
        return self.colours.cores[CABLES[count]].index(colour)

    def _colours(self, wires: tuple[Wire, ...]) -> list[str]:
        """Neutral in its own colour or, in a three-core, on the last core; the lines on the others in order."""
        free = [c for c in self.colours.cores[CABLES[len(wires)]] if c not in ("", "GNYE", "bare")]
        neutral = self.colours.neutral if self.colours.neutral in free and len(free) != 3 else free[-1]
        if any(w.does == NEUTRAL for w in wires):
            free.remove(neutral)
        return [neutral if w.does == NEUTRAL else free.pop(0) for w in wires]

    def _sleeves(self, colours: dict[Wire, str]) -> list[str] | dict[str, str]:
        """Every core whose colour does not say what it does; as a list where all are sleeved as lines."""
        wanted = {}
        for wire, colour in colours.items():
            right = self.colours.neutral if wire.does == NEUTRAL else self.colours.line
            if colour != right:
                wanted[colour] = right
        return list(wanted) if all(c == self.colours.line for c in wanted.values()) else wanted

    def _relieve_earths(self, plan: Plan) -> None:
        """Where an earth terminal takes fewer cpcs than arrive, they are joined in a connector with a lead to it."""
        arriving: dict[str, list[tuple[str, int]]] = {}
        for name, cable in self.laid.cables.items():
            for core, ends in cable.cores.items():
                for i, accessory in enumerate((cable.from_, cable.to)):
                    if core in ("cpc", self.colours.protective) and ends[i] == EARTH:
                        arriving.setdefault(accessory, []).append((name, i))
        for accessory, cpcs in arriving.items():
            kind = self.kinds.get(accessory)
            if kind is None or len(cpcs) <= next((t.ways for t in kind.terminals if t.name == EARTH), 99):
                continue
            for start in range(0, len(cpcs), JOINT_WAYS - 1):
                joint = plan.joint(accessory, f"{EARTH_JOINT} {start // (JOINT_WAYS - 1) + 1}"
                                   if len(cpcs) >= JOINT_WAYS else EARTH_JOINT)
                self._to_joint(accessory, cpcs[start:start + JOINT_WAYS - 1], joint)

    def _to_joint(self, accessory: str, ends: list[tuple[str, int]], joint: str) -> None:
        for name, i in ends:
            cable = self.laid.cables[name]
            cores = {
                core: [joint if k == i and core in ("cpc", self.colours.protective) else t for k, t in enumerate(pair)]
                for core, pair in cable.cores.items()
            }
            self.laid.cables[name] = cable.model_copy(update={"cores": cores})
        size = self.laid.cables[ends[0][0]].type.split()[-1]
        lead = self._add({"type": f"unsheathed single {size}", "in": "the box", "from": accessory, "to": accessory,
                          "cores": {self.colours.protective: [joint, EARTH]}})
        self.laid.comments[lead] = "earth lead from the connector"
        self.laid.marks[("cables", lead)] = self.laid.marks[("cables", ends[0][0])]

    def _check_ways(self, plan: Plan) -> None:
        """A terminal that would take more conductors than it has room for is refused, not overfilled."""
        count: Counter[tuple[str, str]] = Counter()
        for cable in self.laid.cables.values():
            for ends in cable.cores.values():
                count.update(((cable.from_, ends[0]), (cable.to, ends[1])))
        for (accessory, terminal), number in count.items():
            kind = self.kinds.get(accessory) or (BOARD_WAY if accessory not in plan.items else None)
            room = next((t.ways for t in kind.terminals if t.name == terminal), JOINT_WAYS) if kind else 99
            if kind and kind.name.startswith("ceiling rose") and terminal in ("N", "SL"):
                number += 1  # the flex
            if number > room:
                self.ledger.note(("accessories", accessory), "E410", f"'{accessory}' {terminal} would take {number} "
                                 f"conductors and has room for {room}.", "Put fewer circuits on one way or plate.")


def with_ways(kind: AccessoryKind, ways: Mapping[str, int]) -> AccessoryKind:
    """The kind with room for as many conductors as is written."""
    room = {find_terminal(kind, word): count for word, count in ways.items()}
    return replace(kind, terminals=tuple(replace(t, ways=room.get(t.name, t.ways)) for t in kind.terminals))


def _plain(port: str) -> str:
    return port.rpartition(".")[2]


def _words(value: object) -> object:
    return f"{written(value)} m" if isinstance(value, Fraction) else value


def _what(request: Request) -> str:
    wanted = request.wanted
    name = getattr(request.text, "name", "") or " and ".join(light.accessory for light in wanted.lights)
    says = [request.loop.says, wanted.join.says]
    return f"{name}: {'; '.join(says)}"
