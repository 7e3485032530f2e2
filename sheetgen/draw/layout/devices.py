"""Contacts and loads of an accessory are shown beside its terminal names: which of them stand side by side."""

from __future__ import annotations

from sheetgen.model.accessory import AccessoryKind


def device_columns(kind: AccessoryKind) -> tuple[int | None, ...]:
    """For every switch, then every load, its column: those that span the same terminals stand beside one another.

    None where a terminal of it is not shown.
    """
    names = dict.fromkeys([name for row in kind.face for name in row] + [t.name for t in kind.terminals])
    place = {name: i for i, name in enumerate(names)}
    joined = [[t for p in s.positions for pair in p.joins for t in pair] for s in kind.switches]
    joined += [[load.a, load.b] for load in kind.loads]
    columns: list[list[tuple[int, int]]] = []
    found: list[int | None] = []
    for terminals in joined:
        if not all(t in place for t in terminals):
            found.append(None)
            continue
        span = [place[t] for t in terminals]
        low, high = min(span, default=0), max(span, default=0)
        free = [i for i, column in enumerate(columns) if all(high < a or b < low for a, b in column)]
        if not free:
            free = [len(columns)]
            columns.append([])
        columns[free[0]].append((low, high))
        found.append(free[0])
    return tuple(found)
