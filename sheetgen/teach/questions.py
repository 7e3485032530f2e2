"""What can be asked about a circuit: every candidate of each kind; its answer is worked out when it is chosen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import product

from sheetgen.catalogue.colours import CODES
from sheetgen.model.accessory import Level, Meant, Terminal
from sheetgen.model.handout import Question
from sheetgen.model.reading import Gravity, MethodFound, Place, Role, Standing
from sheetgen.model.solution import Condition, Group, Potential, Row, Solution
from sheetgen.model.wiring import Cable, Core, Wiring
from sheetgen.model.words import capital, joined, state_of
from sheetgen.pages.lookup import Lookup
from sheetgen.teach.exchange import exchange_questions

Solve = Callable[[Wiring], Solution]
NEEDED = (Standing.FITTED, Standing.MISSING, Standing.WRONG)
NOT_FOR_NEUTRAL = {Meant.LINE, Meant.LOOP, Meant.SWITCHED, Meant.CONTACT, Meant.EARTH}
NOT_FOR_LINE = {Meant.NEUTRAL, Meant.EARTH}
MOST_SETTINGS = 16  # of one group, to ask about


@dataclass(frozen=True)
class Candidate:
    """A question that could be asked. Candidates of different sorts take turns."""

    key: str
    sort: str
    build: Callable[[], Question | None]  # None: its answer is more than anybody can be asked for


# Its name, how many on a sheet, and where its candidates come from; kinds stand in the order of the sheet.
Kind = tuple[str, int, Callable[[Lookup, Solve], list[Candidate]]]


def groups_of(lookup: Lookup) -> list[Group]:
    """The groups that a class can work: with switches and lamps."""
    return [g for g in lookup.job.solution.groups if g.switches and g.lamps]


def method_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Name the method of a circuit."""
    def question(circuit: MethodFound) -> Question:
        lamps = joined(lookup.loads[name] for name in circuit.lamps)
        return Question("method", f"Name the wiring method of {lamps}: where do line and neutral loop, and how are the "
                        "switches joined?", circuit.method, (("lamps", " ".join(circuit.lamps)),))

    return [Candidate(c.lamps[0], c.method, partial(question, c))
            for c in lookup.job.reading.circuits if c.lamps and c.switches and c.names]


def conductor_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Name a conductor at a terminal. Wires between switches whose name is a matter of taste are not asked about."""
    found = []
    for cable in lookup.wiring.cables:
        for core in cable.cores:
            role = lookup.job.reading.roles[core.key]
            if cable.flex or core.cpc or role is Role.UNUSED or _matter_of_taste(lookup, cable, role) or (
                    misplaced(lookup, core)):
                continue
            for end in (0, 1):
                if core.ends[end].node:
                    found.append(Candidate(f"{core.key}/{end}", role.value,
                                           partial(_conductor, lookup, core, end)))
    return found


def misplaced(lookup: Lookup, core: Core) -> bool:
    """On a terminal meant for something else, or named by a danger: what it is there would teach a mistake."""
    role = lookup.job.reading.roles[core.key]
    nodes = [end.node for end in core.ends if end.node]
    meant = {lookup.accessories[n.accessory].kind.terminal(n.name).meant for n in nodes}
    wrong = NOT_FOR_NEUTRAL if role is Role.NEUTRAL else NOT_FOR_LINE
    return bool(meant & wrong) or any(f.core == core.key for f in lookup.job.reading.findings
                                      if f.gravity is Gravity.DANGER)


def _matter_of_taste(lookup: Lookup, cable: Cable, role: Role) -> bool:
    """A wire from switch to switch that is also a permanent or switched line may be called a strapper as well."""
    both = all(lookup.accessories[name].kind.switches for name in cable.ends)
    return both and role in (Role.PERMANENT_LINE, Role.SWITCHED_LINE)


def _conductor(lookup: Lookup, core: Core, end: int) -> Question:
    word = CODES.get(core.colour, "bare")
    return Question(
        "conductor", f"{core} ({word}) on {lookup.end(core.ends[end])}: what is this conductor?",
        capital(lookup.job.reading.roles[core.key].value), (("core", core.key), ("end", str(end))),
    )


def live_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Which terminals of an accessory are at line in a setting."""
    found = []
    for group in groups_of(lookup):
        places = dict.fromkeys(t.accessory for t in group.terminals)
        for place, row in product(places, group.rows[:MOST_SETTINGS]):
            kind = lookup.accessories[place].kind
            if kind.level not in (Level.PENDANT, Level.BOARD) and len(kind.terminals) > 1:
                found.append(Candidate(f"{place}/{'/'.join(row.setting)}", place,
                                       partial(_live, lookup, group, place, row)))
    return found


def _live(lookup: Lookup, group: Group, place: str, row: Row) -> Question:
    """Of a place with terminals of several groups every switch is named on whose position the answer hangs."""
    kind = lookup.accessories[place].kind
    terminals = [Terminal(place, t.name) for t in kind.terminals if t.meant is not Meant.EARTH]
    live = [lookup.label(t) for t in terminals if at_line(lookup.circuit.condition(group, row, t))]
    through = [lookup.label(t) for t in terminals
               if lookup.circuit.condition(group, row, t).potential in (Potential.THROUGH_LOAD, Potential.BETWEEN)]
    answer = capital(joined(live)) if live else "None"
    if through:
        answer += f"; and {joined(through)} through a lamp"
    others = [found for other in lookup.job.solution.groups if other is not group
              for found in _told_of(other, terminals)]
    also = "".join(f", {lookup.switches[name]} {lookup.position(name, position)}" for name, position in others)
    return Question(
        "live",
        f"{capital(lookup.setting(group, row.setting))}{also}: which terminals of {lookup.wiring.printed(place)} are "
        "at line?",
        f"{answer}.", (("accessory", place), *zip(group.switches, row.setting, strict=True), *others),
    )


def _told_of(group: Group, terminals: Sequence[Terminal]) -> list[tuple[str, str]]:
    """The switches of a group, in its first row, on whose positions the condition of one of the terminals hangs."""
    shown = [i for i, terminal in enumerate(group.terminals) if terminal in terminals]
    seen = {row.setting: [(row.conditions[i].potential, row.conditions[i].solid) for i in shown] for row in group.rows}
    first = group.rows[0].setting
    return [
        (switch, first[k]) for k, switch in enumerate(group.switches)
        if any(seen.get((*setting[:k], position, *setting[k + 1:]), told) != told
               for setting, told in seen.items() for position in group.positions[k])
    ]


def at_line(condition: Condition) -> bool:
    """Joined to line by conductors and closed contacts."""
    return condition.potential is Potential.LINE and condition.solid


def lamp_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Predict a lamp after some switches have been operated."""
    found = []
    for group in groups_of(lookup):
        times = max(len(group.switches), 3)
        for name, row in product(group.lamps, group.rows[:MOST_SETTINGS]):
            for first in range(len(group.switches)):
                order = [(first + i) % len(group.switches) for i in range(times)]
                key = f"{name}/{'/'.join(row.setting)}/{first}"
                found.append(Candidate(key, name, partial(_lamp, lookup, group, name, row, order)))
    return found


def _lamp(lookup: Lookup, group: Group, name: str, row: Row, order: list[int]) -> Question:
    setting = list(row.setting)
    for i in order:
        positions = group.positions[i]
        setting[i] = positions[(positions.index(setting[i]) + 1) % len(positions)]
    after = group.row(dict(zip(group.switches, setting, strict=True)))
    operated = [lookup.switches[group.switches[i]] for i in order]
    steps = ", then ".join(operated) if len(set(operated)) > 1 else f"{operated[0]} {len(operated)} times"
    state = after.lamps[group.lamps.index(name)]
    return Question(
        "lamp",
        f"Start with {lookup.setting(group, row.setting)}. Operate {steps}. Is {lookup.loads[name]} on or off then?",
        f"{capital(state_of(state))}. The switches then stand {lookup.setting(group, after.setting)}.",
        (("lamp", name), ("order", " ".join(map(str, order))), *zip(group.switches, row.setting, strict=True)),
    )


def sleeve_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Which cores of a cable need a sleeve."""
    return [Candidate(cable.name, cable.type, partial(_sleeves, lookup, cable))
            for cable in lookup.wiring.cables if not cable.flex and not cable.single
            and not any(misplaced(lookup, core) for core in cable.cores if not core.cpc)]


def _sleeves(lookup: Lookup, cable: Cable) -> Question:
    needed: dict[str, list[str]] = {}
    for core in cable.cores:
        ends = [s for s in lookup.job.reading.sleeves if s.core == core.key and s.standing in NEEDED]
        if ends:
            where = "" if len(ends) == 2 else f" at {lookup.wiring.printed(core.ends[ends[0].end].accessory)}"
            needed.setdefault(ends[0].colour, []).append(f"{core.label}{where}")
    said = (f"{joined(cores)}: {CODES[colour]}" for colour, cores in needed.items())
    return Question(
        "sleeves",
        f"Which cores of {cable.name} ({cable.type}, {' to '.join(map(lookup.wiring.printed, cable.ends))}) need a "
        "sleeve at their ends, and of which colour?",
        f"{capital('; '.join(said)) or 'None'}.", (("cable", cable.name),),
    )


def place_questions(lookup: Lookup, solve: Solve) -> list[Candidate]:
    """Whether something that needs permanent line and neutral could be fitted at an accessory."""
    def question(place: Place) -> Question:
        can = place.permanent_line and place.neutral and len(place.ways) == 1
        return Question(
            "place",
            f"A sensor needs permanent line and neutral. Could one be fitted at {place.accessory} without "
            "another cable? Why?",
            "Yes: permanent line and neutral are here." if can else f"No: {_why(lookup, place)}.",
            (("accessory", place.accessory),),
        )

    def sort(place: Place) -> str:
        return f"{place.permanent_line}{place.neutral}"

    return [Candidate(p.accessory, sort(p), partial(question, p)) for p in lookup.job.reading.places
            if p.takes_fitting]


def _why(lookup: Lookup, place: Place) -> str:
    here = {"permanent line": place.permanent_line, "neutral": place.neutral}
    absent = [word for word, there in here.items() if not there]
    if absent:
        return f"there is no {joined(absent, 'and no')} here"
    return f"conductors of {lookup.circuit.places(place.ways)} meet here, which must be put in order first"


def _exchanges(lookup: Lookup, solve: Solve) -> list[Candidate]:
    return [Candidate(*found) for found in exchange_questions(lookup, solve)]


KINDS: tuple[Kind, ...] = (
    ("method", 1, method_questions),
    ("conductor", 3, conductor_questions),
    ("sleeves", 2, sleeve_questions),
    ("live", 2, live_questions),
    ("lamp", 2, lamp_questions),
    ("exchange", 2, _exchanges),
    ("place", 1, place_questions),
)
# What tells neither the method nor where a core ends, and has one answer however the strappers are drawn.
HARDER: tuple[Kind, ...] = (
    ("sleeves", 2, sleeve_questions),
    ("lamp", 4, lamp_questions),
    ("place", 2, place_questions),
)
# What is another question in other colours.
OF_COLOURS = tuple(kind for kind in KINDS if kind[0] in ("conductor", "sleeves", "exchange"))
