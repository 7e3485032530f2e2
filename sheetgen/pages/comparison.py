"""The sheets of a comparison: the drawings side by side, the facts in a table, and what to change, step by step."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.model.comparison import Change, Comparison
from sheetgen.model.job import Job
from sheetgen.model.page import Block, Columns, Heading, Items, Page, Picture, SideBySide, Table, Words
from sheetgen.model.solution import Group
from sheetgen.model.words import CAUTION_SHORT, capital, lamp
from sheetgen.pages.isolating import steps
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.what_switches_do import operated_once

MOST_ROWS = 16  # of a state table; of a larger group the first setting and each switch operated once
MOST_BESIDE, MOST_COLUMNS, MOST_LETTERS = 16, 4, 34  # of state tables that stand beside the facts: lines, columns
BEFORE, AFTER = "Before", "After"


def compose(comparison: Comparison) -> tuple[Page, ...]:
    """Drawings, facts, steps."""
    pages = [*_drawings(comparison), _facts(comparison)]
    if comparison.change:
        pages.append(_steps(comparison, comparison.change))
    return tuple(pages)


def _sides(comparison: Comparison) -> tuple[tuple[str, Job], tuple[str, Job]]:
    return (BEFORE, comparison.before), (AFTER, comparison.after)


def _drawings(comparison: Comparison) -> list[Page]:
    caution = Words(CAUTION_SHORT, "caution", "Caution.")
    if comparison.beside:
        sides = zip(_sides(comparison), comparison.beside, strict=True)
        blocks = tuple(
            (Heading(side, 2, job.wiring.job), Words(_methods(job)), Picture(drawing)) for (side, job), drawing in sides
        )
        return [Page("comparison", "Side by side", (SideBySide(blocks), caution))]
    return [
        Page("comparison", f"{side}, {i} of {len(job.drawings)}" if len(job.drawings) > 1 else side,
             (Words(_methods(job), lead=f"{job.wiring.job}."), Picture(drawing), caution))
        for side, job in _sides(comparison) for i, drawing in enumerate(job.drawings, 1)
    ]


def _methods(job: Job) -> str:
    return " ".join(dict.fromkeys(c.method for c in job.reading.circuits if c.lamps and c.switches))


def _facts(comparison: Comparison) -> Page:
    rows = tuple((fact.what, capital(fact.before), capital(fact.after)) for fact in comparison.facts)
    tones = tuple("" if fact.before != fact.after else "quiet" for fact in comparison.facts)
    states = tuple(tuple(_states(side, job)) for side, job in _sides(comparison))
    same = Words("Lines in grey are the same on both sides.", "quiet")
    facts = Table(("", BEFORE, AFTER), rows, (2, 4, 4), tones), same
    if _small(states):
        return Page("comparison", "Compared", (SideBySide((facts, tuple(b for side in states for b in side)), (3, 1)),))
    return Page("comparison", "Compared", (*facts, Columns(states)))


def _small(states: Sequence[Sequence[Block]]) -> bool:
    """Whether what the lamps do has room in a column beside the facts."""
    tables = [block for side in states for block in side if isinstance(block, Table)]
    return sum(len(table.rows) + 2 for table in tables) <= MOST_BESIDE and all(
        sum(map(len, table.head)) <= MOST_LETTERS and len(table.head) <= MOST_COLUMNS for table in tables)


def _states(side: str, job: Job) -> list[Block]:
    lookup = Lookup(job)
    blocks: list[Block] = [Heading(f"{side}: what each lamp does")]
    for group in job.solution.groups:
        if group.lamps and group.switches:
            blocks.append(_table(lookup, group))
    return blocks


def _table(lookup: Lookup, group: Group) -> Table:
    rows = group.rows if len(group.rows) <= MOST_ROWS else operated_once(group)
    head = (*(lookup.switches[s] for s in group.switches), *(lookup.loads[n] for n in group.lamps))
    return Table(head, tuple(
        (*(lookup.mark(s, p) for s, p in zip(group.switches, row.setting, strict=True)), *map(lamp, row.lamps))
        for row in rows
    ))


def _steps(comparison: Comparison, change: Change) -> Page:
    lookup = Lookup(comparison.before)
    ways = dict.fromkeys(w for c in comparison.before.reading.circuits for w in c.ways)
    rows = tuple((str(i), step.says, "") for i, step in enumerate(change.steps, 1))
    blocks: list[Block] = [
        Words(CAUTION_SHORT, "caution", "Caution."),
        Heading("First make it dead", 3), Items(steps(lookup, ways), numbered=True),
        Heading("Then change it", 3),
        Table(("No.", "Step", "Done"), rows, (0.4, 9, 0.8), boxes=(2,)) if rows else
        Words(f"{change.nothing} {change.keeps}".strip()),
        *([Words(change.keeps)] if rows and change.keeps else []),
        Words(f"Solved after the last step: {'; '.join(change.proof)}.", "plain" if change.proven else "danger",
              "Proven." if change.proven else "Not proven: do not follow these steps."),
    ]
    if change.left:
        blocks += [Heading("Noticed afterwards", 3), Items(change.left)]
    blocks.append(Words("Inspect and test before it is put back into use; the steps are no certificate.", "quiet"))
    return Page("comparison", "What to change", tuple(blocks), follows=True, whole=True)
