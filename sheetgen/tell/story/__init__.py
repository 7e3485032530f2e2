"""The solution in words: one or two sentences for a setting of a group, as they would be said to a learner.

Where line enters, through which terminals and conductors it passes, where it stops and why, or through which lamp it
returns. Every sentence is made from facts, and carries them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

from sheetgen.circuit import Circuit
from sheetgen.model.solution import Group, Row
from sheetgen.tell.story.facts import Account, Fact, account_of
from sheetgen.tell.story.telling import Story, story_of

NOT_TOLD = "What happens here cannot be told: core ends are not known. Treat them as live."

__all__ = ["Account", "Fact", "Story", "account_of", "stories_of", "tell"]


def tell(circuit: Circuit, group: Group, row: Row) -> Story:
    """What happens in one setting; that it cannot be told where core ends are not known."""
    if not row.known:
        return Story(row.setting, NOT_TOLD, ())
    return story_of(circuit, row, account_of(circuit, group, row))


def stories_of(
    circuit: Circuit, rows_of: Callable[[Group], Iterable[Row]] = lambda group: group.rows
) -> dict[tuple[str, ...], dict[tuple[str, ...], str]]:
    """The words for the chosen rows: switches of a group (its lamps where it has none) -> setting -> sentences."""
    return {
        group.switches or group.lamps: {
            row.setting: tell(circuit, group, row).says
            for row in rows_of(group)
        }
        for group in circuit.solution.groups
    }
