"""The sheets of a fault to be found by a class: the drawing and what is seen; apart from them plan and answers."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.model.handout import FaultTask
from sheetgen.model.job import Job
from sheetgen.model.page import Block, Form, Heading, Items, Page, Picture, Table, Words
from sheetgen.model.words import CAUTION_SHORT, capital, count
from sheetgen.pages.handout import WHOSE

ROWS = 8  # for the readings that a class asks for
COUNTS = (
    "All that is tried for continuity at one accessory, with the switches as they stand, is one reading; so it is with "
    "a long lead from another accessory."
)
TASK = (
    "One thing is wrong in this circuit. Look at the drawing: which faults show what is seen? Then ask for readings, "
    "one at a time: continuity between the terminals that you name, supply off, lamps out, with the switches as you "
    f"say. {COUNTS} Find the fault with as few readings as you can."
)
RULE = (
    "Answer from this table: terminals in one group read closed to one another, all others open. At first every switch "
    f"stands off, at L1, straight. {COUNTS} Watching a lamp is free; looking into a terminal counts as no reading."
)


Side = tuple[str, Job, Sequence[FaultTask]]  # title of the colour set where there are several; the same tasks in each


def compose(sides: Sequence[Side]) -> tuple[tuple[Page, ...], tuple[Page, ...]]:
    """The sheets of every version, and the sheets of their answers."""
    drawn = [Page("handout", _in_colours("The circuit as it should be", colours), (Picture(drawing),))
             for colours, job, _ in sides for drawing in job.drawings]
    answered = [_answered(task, colours) for same in zip(*(tasks for _, _, tasks in sides), strict=True)
                for (colours, _, _), task in zip(sides, same, strict=True)]
    return (*drawn, *(_asked(task) for task in sides[0][2])), tuple(answered)


def _in_colours(title: str, colours: str) -> str:
    return f"{title}, {colours}" if colours else title


def _asked(task: FaultTask) -> Page:
    rows = tuple((str(i), "", "", "", "") for i in range(1, ROWS + 1))
    return Page("handout", f"Find the fault {task.name}".strip(), (
        WHOSE, Heading("What is seen", 3), Items(_sentences(task)), Words(TASK, lead="What to do."),
        Table(("No.", "Switches", "Between", "It reads", "What is left"), rows, (0.4, 2.4, 2.4, 1.2, 4),
              boxes=(1, 2, 3, 4)),
        Form(("The fault, and how to put it right", "Readings used"), (6, 1)),
        Words(CAUTION_SHORT, "caution", "Caution."),
    ), roomy=True)


def _answered(task: FaultTask, colours: str) -> Page:
    steps = tuple((str(i), at, capital(do), reads) for i, (at, do, reads) in enumerate(task.path, 1))
    blocks: list[Block] = [
        Words(task.fault, "strong"),
        Words(f"{capital('; '.join(task.fit))}.",
              lead=f"{count(len(task.fit), 'fault')} {'shows' if len(task.fit) == 1 else 'show'} what is seen:"),
    ]
    if steps:
        blocks += [Heading("The shortest way", 3),
                   Table(("Step", "Switches", "Do this", "It reads"), steps, (0.5, 2, 5, 2.4))]
    blocks += [Heading("What a meter reads", 3), Words(RULE),
               Table(("Switches", "Closed to one another"), task.joined, (1.6, 8))]
    return Page("handout", _in_colours(f"Answers: the fault {task.name}".strip(), colours), tuple(blocks))


def _sentences(task: FaultTask) -> tuple[str, ...]:
    return tuple(capital(f"{says}.") for says in task.seen)
