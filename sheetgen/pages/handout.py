"""The sheets of a handout: for each version the circuit to draw and the questions; apart from them every answer."""

from __future__ import annotations

from collections.abc import Iterator

from sheetgen.model.drawing import Drawing
from sheetgen.model.handout import Handout
from sheetgen.model.page import Block, Columns, Form, Heading, Items, Page, Picture, SideBySide, Spare, Table, Words
from sheetgen.model.solution import Group
from sheetgen.model.wiring import Cable
from sheetgen.model.words import CAUTION_SHORT, joined, lamp, state_of
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.what_switches_do import operated_once

MOST_ROWS = 16  # of a state table; of a larger group the first setting and each switch operated once
TASK = (
    "Draw every conductor inside the accessories from the mouth of its cable to its terminal, as the table says. Write "
    "its colour code beside it and draw a sleeve where it needs one. Then fill in the state table and answer the "
    "questions."
)
HARDER_TASK = (
    "Find out where every core has to go, and draw it inside the accessories from the mouth of its cable to its "
    "terminal, so that the circuit does what is wanted. Write its colour code beside it and draw a sleeve where it "
    "needs one. Then fill in the state table and answer the questions."
)
OTHER_WAYS = (
    "The drawing is one answer. Another is as right where strappers, or line and switched line at a switch, have "
    "changed places and the circuit still does what is wanted: the state table then stays the same."
)
HEAD, SHARES = ("No.", "Question", "Answer"), (0.5, 5, 4.5)
WHOSE = Form(("Name", "Class", "Date"), (3, 1, 1))
WORDS = "A conductor is a permanent line, a switched line, a strapper, a neutral or a cpc."


def compose(handout: Handout) -> tuple[tuple[Page, ...], tuple[Page, ...]]:
    """The question sheets of all versions, and the sheets of their answers."""
    several = len(handout.versions) > 1
    asked: list[Page] = []
    for i, version in enumerate(handout.versions):
        asked += _questions(handout, i, f" {version.name}" if several else "")
    return tuple(asked), tuple(_answers(handout, several))


def _sides(handout: Handout) -> Iterator[Handout]:
    """The handout in each of its colour sets."""
    side: Handout | None = handout
    while side:
        yield side
        side = side.also


def _in_colours(side: Handout) -> str:
    return f", {side.colours}" if side.colours else ""


def _questions(handout: Handout, number: int, letter: str) -> list[Page]:
    pages: list[Page] = []
    for side in _sides(handout):
        lookup, title = Lookup(side.job), f"Draw it{letter}{_in_colours(side)}"
        pages += [Page("handout", _numbered(title, i, side.open_drawings), (Picture(drawing), Spare((WHOSE,))),
                       roomy=True)
                  for i, drawing in enumerate(side.open_drawings, 1)]
        given = tuple(_given(lookup, side))
        pages.append(Page("handout", f"The cables{letter}{_in_colours(side)}", given, follows=True))
    groups = _state_tables(Lookup(handout.job), filled=False)
    pages.append(Page("handout", f"Questions{letter}", (
        WHOSE, Columns((*groups, *_asked(handout, number, answered=False)), loose=True),
    ), follows=True, roomy=True))
    return pages


def _numbered(title: str, number: int, drawings: tuple[Drawing, ...]) -> str:
    return f"{title}, {number} of {len(drawings)}" if len(drawings) > 1 else title


def _given(lookup: Lookup, side: Handout) -> Iterator[Block]:
    """What is to be drawn: every cable and the terminals its cores join; harder, only what the circuit is to do."""
    yield Words(HARDER_TASK if side.harder else TASK, lead="What to do.")
    if side.harder:
        yield Items(tuple(_wanted(lookup)))
    yield Columns(_halves(lookup, side.harder))


def _wanted(lookup: Lookup) -> Iterator[str]:
    """What each circuit is to do, by the name of its method where it has one."""
    for circuit in lookup.job.reading.circuits:
        if circuit.lamps and circuit.switches:
            lamps = joined(lookup.loads[name] for name in circuit.lamps)
            switches = joined(lookup.switches[name] for name in circuit.switches)
            wired = f" {circuit.method}" if circuit.names else ""
            yield f"{lamps}: worked by {switches}.{wired}{_first_setting(lookup, circuit.lamps)}"


def _first_setting(lookup: Lookup, lamps: tuple[str, ...]) -> str:
    """How the lamps are in the first setting, where that is not the same however the strappers are joined."""
    group = lookup.job.solution.group_of_lamp(lamps[0])
    if len(group.switches) < 2:
        return ""
    row = group.rows[0]
    states = joined(f"{lookup.loads[name]} {state_of(state)}"
                    for name, state in zip(group.lamps, row.lamps, strict=True) if name in lamps)
    return f" With {lookup.setting(group, row.setting)}: {states}."


def _halves(lookup: Lookup, harder: bool) -> tuple[tuple[Block, ...], ...]:
    cores = _colours if harder else _cores
    rows = [(cable.name, " to ".join(map(lookup.wiring.printed, cable.ends)), cores(lookup, cable))
            for cable in lookup.wiring.cables]
    middle = (len(rows) + 1) // 2
    return tuple(
        (Table(("Cable", "From, to", "Cores"), tuple(part), (0.7, 2.4, 4)),)
        for part in (rows[:middle], rows[middle:]) if part
    )


def _cores(lookup: Lookup, cable: Cable) -> str:
    """'BN L to loop, BU N to N, bare E to E'."""
    return ", ".join(f"{core.label} {' to '.join(map(lookup.on, core.ends))}" for core in cable.cores)


def _colours(lookup: Lookup, cable: Cable) -> str:
    """'BN, BU, bare': not where they end."""
    return ", ".join(core.label for core in cable.cores)


def _state_tables(lookup: Lookup, filled: bool) -> tuple[tuple[Block, ...], ...]:
    """A group of blocks for each set of switches and lamps."""
    groups = [g for g in lookup.job.solution.groups if g.switches and g.lamps]
    return tuple((Heading(f"State table: {', '.join(lookup.loads[n] for n in g.lamps)}", 3),
                  _state_table(lookup, g, filled)) for g in groups)


def _state_table(lookup: Lookup, group: Group, filled: bool) -> Table:
    rows = group.rows if len(group.rows) <= MOST_ROWS else operated_once(group)
    head = (*(lookup.switches[s] for s in group.switches), *(lookup.loads[n] for n in group.lamps))
    cells = tuple(
        (*(lookup.mark(s, p) for s, p in zip(group.switches, row.setting, strict=True)),
         *(lamp(state) if filled else "" for state in row.lamps))
        for row in rows
    )
    first = len(group.switches)
    boxes = () if filled else tuple(range(first, first + len(group.lamps)))
    return Table(head, cells, boxes=boxes)


def _asked(handout: Handout, number: int, answered: bool) -> Iterator[tuple[Block, ...]]:
    """The questions of one version in each of its colour sets, numbered right through; with the answers, or boxes."""
    before = 0
    for side in _sides(handout):
        version = side.versions[number]
        rows = tuple((str(i), q.asks, Words(q.answer, "strong") if answered else "")
                     for i, q in enumerate(version.questions, before + 1))
        before += len(rows)
        if not rows:
            continue
        blocks: list[Block] = [Heading(f"Colours: {side.colours}", 3)] if side.colours else []
        if not answered and side is handout and any(q.kind == "conductor" for q in version.questions):
            blocks.append(Words(WORDS, "quiet"))
        yield (*blocks, Table(HEAD, rows, SHARES, boxes=() if answered else (2,)))


def _answers(handout: Handout, several: bool) -> Iterator[Page]:
    caution = (Words(CAUTION_SHORT, "caution", "Caution."),)
    for side in _sides(handout):
        drawings, title = side.job.drawings, f"Answers: the drawing{_in_colours(side)}"
        for i, (drawing, legend) in enumerate(zip(drawings, side.job.legends, strict=True), 1):
            yield Page("handout", _numbered(title, i, drawings),
                       (Picture(drawing), SideBySide(((Picture(legend),), caution))))
    groups = [*_state_tables(Lookup(handout.job), filled=True)]
    if handout.job.wiring.bad_practice:
        found = tuple(finding.says for finding in handout.job.reading.findings)
        groups.insert(0, (Heading("What the check finds", 3), Items(found)))
    if handout.harder:
        groups.insert(0, (Words(OTHER_WAYS, lead="Other drawings."),))
    for i, version in enumerate(handout.versions):
        heading = Heading(f"Questions {version.name}" if several else "Questions", 3)
        first, *more = _asked(handout, i, answered=True)
        groups += [(heading, *first), *more]
    yield Page("handout", "Answers", (Columns(tuple(groups), loose=True),))
