"""Contacts and loads of an accessory are shown beside its terminal names: which of them stand side by side."""

from __future__ import annotations

from sheetgen.model.accessory import AccessoryKind


def slots(kind: AccessoryKind) -> tuple[int, ...]:
    """For every switch, then every load, its column: those that span the same terminals stand beside one another."""
    names = dict.fromkeys([name for row in kind.face for name in row] + [t.name for t in kind.terminals])
    place = {name: i for i, name in enumerate(names)}
    spans = [[place[t] for p in s.positions for pair in p.joins for t in pair] for s in kind.switches]
    spans += [[place[load.a], place[load.b]] for load in kind.loads]
    columns: list[list[tuple[int, int]]] = []
    found = []
    for span in spans:
        low, high = min(span, default=0), max(span, default=0)
        free = [i for i, column in enumerate(columns) if all(high < a or b < low for a, b in column)]
        if not free:
            free = [len(columns)]
            columns.append([])
        columns[free[0]].append((low, high))
        found.append(free[0])
    return tuple(found)
