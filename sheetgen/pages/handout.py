"""The sheets of a handout: for each version the circuit to draw and the questions; then every answer."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.handout import Handout, Version
from sheetgen.model.page import Block, Columns, Form, Heading, Page, Picture, SideBySide, Table, Words
from sheetgen.model.solution import Group
from sheetgen.model.wiring import Cable
from sheetgen.model.words import CAUTION_SHORT, lamp
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.what_switches_do import operated_once

MOST_ROWS = 16  # of a state table; of a larger group the first setting and each switch operated once
TASK = (
    "Draw every conductor inside the accessories from the mouth of its cable to its terminal, as the table says. Write "
    "its colour code beside it and draw a sleeve where it needs one. Then fill in the state table and answer the "
    "questions."
)
HEAD, SHARES = ("No.", "Question", "Answer"), (0.5, 5, 4.5)
WORDS = "A conductor is a permanent line, a switched line, a strapper, a neutral or a cpc."


def compose(handout: Handout) -> tuple[Page, ...]:
    """Question sheets of all versions first, the answers after them on sheets of their own."""
    look = Lookup(handout.job)
    several = len(handout.versions) > 1
    pages: list[Page] = []
    for version in handout.versions:
        pages += _questions(look, handout, version, f" {version.name}" if several else "")
    pages += _answers(look, handout, several)
    return tuple(pages)


def _questions(look: Lookup, handout: Handout, version: Version, letter: str) -> list[Page]:
    pages = [
        Page("handout", _numbered(f"Draw it{letter}", i, handout.open_drawings), (Picture(drawing),))
        for i, drawing in enumerate(handout.open_drawings, 1)
    ]
    pages.append(Page("handout", f"The cables{letter}", _given(look), follows=True))
    rows = tuple((str(i), question.asks, "") for i, question in enumerate(version.questions, 1))
    asked = (Words(WORDS, "quiet"), Table(HEAD, rows, SHARES, boxes=(2,)))
    pages.append(Page("handout", f"Questions{letter}", (
        Form(("Name", "Class", "Date"), (3, 1, 1)),
        Columns((*_state_tables(look, filled=False), asked), loose=True),
    )))
    return pages


def _numbered(title: str, number: int, drawings: tuple[Drawing, ...]) -> str:
    return f"{title}, {number} of {len(drawings)}" if len(drawings) > 1 else title


def _given(look: Lookup) -> tuple[Block, ...]:
    """What is to be drawn: every cable and the terminals its cores join."""
    return (Words(TASK, lead="What to do."), Columns(_halves(look)))


def _halves(look: Lookup) -> tuple[tuple[Block, ...], ...]:
    rows = [(cable.name, f"{cable.ends[0]} to {cable.ends[1]}", _cores(look, cable))
            for cable in look.wiring.cables]
    middle = (len(rows) + 1) // 2
    return tuple(
        (Table(("Cable", "From, to", "Cores"), tuple(part), (0.7, 2.4, 4)),)
        for part in (rows[:middle], rows[middle:]) if part
    )


def _cores(look: Lookup, cable: Cable) -> str:
    """'BN L to loop, BU N to N, bare E to E'."""
    return ", ".join(f"{core.label} {' to '.join(map(look.on, core.ends))}" for core in cable.cores)


def _state_tables(look: Lookup, filled: bool) -> tuple[tuple[Block, ...], ...]:
    """A group of blocks for each set of switches and lamps."""
    groups = [g for g in look.job.solution.groups if g.switches and g.lamps]
    return tuple((Heading(f"State table: {', '.join(look.loads[n] for n in g.lamps)}", 3),
                  _state_table(look, g, filled)) for g in groups)


def _state_table(look: Lookup, group: Group, filled: bool) -> Table:
    rows = group.rows if len(group.rows) <= MOST_ROWS else operated_once(group)
    head = (*(look.switches[s] for s in group.switches), *(look.loads[n] for n in group.lamps))
    cells = tuple(
        (*(look.mark(s, p) for s, p in zip(group.switches, row.setting, strict=True)),
         *(lamp(state) if filled else "" for state in row.lamps))
        for row in rows
    )
    first = len(group.switches)
    boxes = () if filled else tuple(range(first, first + len(group.lamps)))
    return Table(head, cells, boxes=boxes)


def _answers(look: Lookup, handout: Handout, several: bool) -> list[Page]:
    drawings, caution = handout.job.drawings, (Words(CAUTION_SHORT, "caution", "Caution."),)
    pages = [
        Page("handout", _numbered("Answers: the drawing", i, drawings),
             (Picture(drawing), SideBySide(((Picture(legend),), caution))))
        for i, (drawing, legend) in enumerate(zip(drawings, handout.job.legends, strict=True), 1)
    ]
    groups = [*_state_tables(look, filled=True)]
    for version in handout.versions:
        rows = tuple((str(i), q.asks, Words(q.answer, "strong")) for i, q in enumerate(version.questions, 1))
        groups.append((Heading(f"Questions {version.name}" if several else "Questions", 3), Table(HEAD, rows, SHARES)))
    pages.append(Page("handout", "Answers", (Columns(tuple(groups), loose=True),)))
    return pages
