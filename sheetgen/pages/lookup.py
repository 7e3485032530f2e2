"""What several pages ask of a job: who is joined to whom, which way serves what, what is live; names as printed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sheetgen.circuit import Circuit
from sheetgen.circuit.conduit import passed_by
from sheetgen.circuit.feeds import fed_by, without_line
from sheetgen.judge.in_danger import dangers_at
from sheetgen.judge.sleeves import to_be_fitted
from sheetgen.model.accessory import Accessory, LoadKind, Terminal
from sheetgen.model.job import Job
from sheetgen.model.reading import Finding, Fit, Role, Sleeve, each
from sheetgen.model.reckoning import Reckoning
from sheetgen.model.solution import Group
from sheetgen.model.wiring import Cable, Core, CoreEnd, Status, Way, Wiring
from sheetgen.model.words import recoloured_words


@dataclass(frozen=True)
class Landing:
    """One core end in an accessory; `end` counts from 0."""

    cable: Cable
    core: Core
    end: int

    @property
    def here(self) -> CoreEnd:
        """The end itself."""
        return self.core.ends[self.end]

    @property
    def there(self) -> CoreEnd:
        """The core's other end."""
        return self.core.ends[1 - self.end]


class Lookup:
    """Answers about one job, each worked out once. `kinds`: of the pages that stand in one set with the page asking."""

    def __init__(self, job: Job, kinds: tuple[str, ...] = ()):
        self.job = job
        self.kinds = frozenset(kinds)
        self.wiring: Wiring = job.wiring
        self.circuit = Circuit(job.wiring, job.solution)

    @property
    def figures(self) -> Reckoning:
        """Every figure from lengths, sizes and devices."""
        return self.job.reading.figures

    def way_number(self, accessory: str) -> str:
        """The number of the way that an accessory stands for."""
        return self.circuit.way_number(accessory)

    @property
    def accessories(self) -> dict[str, Accessory]:
        """Accessories by name."""
        return self.circuit.accessories

    @property
    def cores(self) -> dict[str, Core]:
        """Cores by key."""
        return self.circuit.cores

    @cached_property
    def to_fit(self) -> tuple[Sleeve, ...]:
        """Sleeves that are needed and not there, or of another colour than needed; see `judge/sleeves.py`."""
        reading = self.job.reading
        return tuple(s for s in reading.sleeves if s not in reading.waiting and to_be_fitted(s, self.wiring))

    @cached_property
    def sleeves_that_wait(self) -> frozenset[tuple[str, int]]:
        """The core ends at which nothing is said of a sleeve before the findings are put right, or where a cure has one
        fitted that is not to be fitted yet."""
        now = {(s.core, s.end) for s in self.to_fit}
        advised = {edit.end for finding in each(self.job.reading.findings) for cure in finding.cures
                   for edit in cure.edits if isinstance(edit, Fit) and self.cores[edit.end[0]].colour != edit.colour}
        return frozenset(advised - now | {(s.core, s.end) for s in self.job.reading.waiting})

    @cached_property
    def passed(self) -> dict[str, tuple[str, ...]]:
        """The boxes that a single passes uncut in its conduit; only of those that pass any."""
        return passed_by(self.wiring)

    def passing_at(self, accessory: str) -> list[Cable]:
        """The singles that pass an accessory uncut."""
        return [cable for cable in self.wiring.cables if accessory in self.passed.get(cable.name, ())]

    @cached_property
    def landings(self) -> dict[str, tuple[Landing, ...]]:
        """Every core end, by the accessory it comes out in."""
        found: dict[str, list[Landing]] = {name: [] for name in self.accessories}
        for cable in self.wiring.cables:
            for core in cable.cores:
                for end in (0, 1):
                    found[core.ends[end].accessory].append(Landing(cable, core, end))
        return {name: tuple(ends) for name, ends in found.items()}

    @cached_property
    def switches(self) -> dict[str, str]:
        """The printed name of every switch, by its name in the solution."""
        return {name: self.circuit.part(name) for name in self.circuit.switches}

    @cached_property
    def loads(self) -> dict[str, str]:
        """The printed name of every load, by its name in the solution."""
        return {name: self.circuit.part(name) for name in self.circuit.loads}

    @property
    def contacts(self) -> dict[str, tuple[Terminal, Terminal]]:
        """The two terminals of every load, by its name in the solution."""
        return self.circuit.contacts

    @cached_property
    def sleeves(self) -> dict[tuple[str, int], Sleeve]:
        """Sleeves by core key and end."""
        return {(s.core, s.end): s for s in self.job.reading.sleeves}

    def line_from(self, way: Way, *terminals: Terminal) -> bool:
        """Whether the line of a way reaches one of some terminals in any setting."""
        return self.circuit.line_from(way, *terminals)

    def returning_to(self, way: Way) -> list[str]:
        """The loads that a way reaches but does not feed: they only return their neutral to it."""
        fed = fed_by(self.circuit, way)
        return [self.loads[a.load_name(load)] for a in self.reached_by(way) for load in a.kind.loads
                if (a, load) not in fed and not without_line(self.circuit, a.load_name(load), way)]

    def without_line(self, way: Way) -> list[tuple[Accessory, LoadKind]]:
        """The loads that return to a way and to which no line comes."""
        return [(a, load) for name, (a, load) in self.circuit.loads.items() if without_line(self.circuit, name, way)]

    @cached_property
    def drawn(self) -> tuple[frozenset[str], ...]:
        """The accessories on each wiring sheet."""
        return tuple(frozenset(name for shape in drawing.shapes for what, name in shape.about if what == "accessory")
                     for drawing in self.job.drawings)

    @cached_property
    def dangers(self) -> dict[str, list[Finding]]:
        """Accessory -> the dangers that bear on it: where the drawing has its marks."""
        return dangers_at(self.job.reading, self.wiring)

    @property
    def recoloured(self) -> str:
        """What to say where the colours are not as found; "" where they are."""
        return recoloured_words(self.wiring, self.job.sets)

    @property
    def as_it_is(self) -> str:
        """What a sheet shows of a circuit with faults: it as somebody found it, or only as somebody described it."""
        return "as described" if self.wiring.status in (Status.PROPOSED, Status.BY_METHOD) else "as found"

    @cached_property
    def _order(self) -> dict[Terminal, int]:
        return {node: i for i, node in enumerate(self.wiring.nodes())}

    def order(self, terminal: Terminal) -> int:
        """Where a terminal comes in the order of the description."""
        return self._order[terminal]

    def landed(self, terminal: Terminal) -> bool:
        """Whether any core ends on a terminal."""
        return any(end.here.node == terminal for end in self.landings[terminal.accessory])

    def closed(self) -> tuple[Accessory, ...]:
        """Accessories that nobody has opened, and of which no terminal is known to have a conductor on it."""
        return tuple(a for a in self.wiring.accessories if a.seen and not a.opened
                     and not any(end.here.node for end in self.landings[a.name]))

    def label(self, terminal: Terminal) -> str:
        """A terminal's name as printed beside its accessory: 'L1', on a plate 'landing L1'."""
        return self.circuit.label(terminal)

    def full(self, terminal: Terminal) -> str:
        """A terminal with its accessory: 'Hall L1'."""
        return self.circuit.terminal(terminal)

    def end(self, end: CoreEnd) -> str:
        """Where a core goes: 'Top L1', or that it ends in nothing, or that nobody knows."""
        return self.circuit.end(end)

    def on(self, end: CoreEnd) -> str:
        """What a core end is landed on, without its accessory: 'L1', 'landing L1'; or 'nothing', or 'not known'."""
        return self.label(end.node) if end.node else "not known" if end.unknown else "nothing"

    def setting(self, group: Group, setting: tuple[str, ...]) -> str:
        """A setting in words: 'Hall at L1, Porch on'."""
        return self.circuit.stand(tuple(zip(group.switches, setting, strict=True)))

    def position(self, switch: str, position: str) -> str:
        """A position in a sentence: 'on', 'crossed', 'at L1'."""
        return self.circuit.position(switch, position)

    def mark(self, switch: str, position: str) -> str:
        """A position as a table prints it: the user's name for the terminal the contact stands on, else its own."""
        return self.circuit.mark(switch, position)

    def accessory_of_switch(self, switch: str) -> str:
        """The accessory that a switch is a part of."""
        return self.circuit.switches[switch][0].name

    def ways_of(self, accessory: str) -> tuple[str, ...]:
        """The ways that reach an accessory, by the board accessories that stand for them."""
        return tuple(dict.fromkeys(w for end in self.landings[accessory] for w in self._ways_of_core(end.core)))

    def _ways_of_core(self, core: Core) -> tuple[str, ...]:
        """The ways that a core belongs to; a cpc belongs to none, earth being common to all."""
        cpc = core.cpc or self.job.reading.roles.get(core.key) is Role.CPC
        return () if cpc else self.job.reading.ways.get(core.key, ())

    def reached_by(self, way: Way) -> tuple[Accessory, ...]:
        """Accessories that a way reaches, in the order of the description."""
        others = (a for a in self.wiring.accessories if not self.wiring.way(a.name))
        return tuple(a for a in others if way.accessory in self.ways_of(a.name))

    def cables_of(self, way: Way) -> tuple[Cable, ...]:
        """Cables with a core that a way reaches; of those that none reaches, as a cpc by itself, all that end at it."""
        served = {a.name for a in self.reached_by(way)} | {way.accessory}
        return tuple(c for c in self.wiring.cables if way.accessory in self._reaching(c)
                     or (not self._reaching(c) and served & set(c.ends)))

    def _reaching(self, cable: Cable) -> set[str]:
        """The ways that reach a cable."""
        return {w for core in cable.cores for w in self._ways_of_core(core)}

    def not_traced(self, core: Core) -> bool:
        """Whether nobody knows where a core goes, or what it carries."""
        return self.job.reading.roles.get(core.key) is Role.NOT_KNOWN or any(end.unknown for end in core.ends)

    def of_no_way(self) -> tuple[Cable, ...]:
        """Cables that are on the chart of no way."""
        charted = {c.name for way in self.wiring.board.ways for c in self.cables_of(way)}
        return tuple(c for c in self.wiring.cables if c.name not in charted)
