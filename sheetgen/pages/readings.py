"""What a meter should read at each terminal in each setting: dead with the lamps out, and live."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from sheetgen.model.accessory import Terminal
from sheetgen.model.page import Block, Cell, Columns, Heading, Table
from sheetgen.model.solution import Condition, Group, Potential, Row
from sheetgen.model.words import capital, joined, plain
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.what_switches_do import operated_once

MOST_SETTINGS = 4  # settings shown of one group: all of them, or the first and each switch operated once
HEADING, UNCHANGED = "Every terminal", "Whatever the switches do"
SHORT = 16  # letters of a name that a third of the width has room for
WIDE = 2  # a table of more settings than this takes the whole width of the sheet


def expected(condition: Condition, voltage: Fraction) -> str:
    """What stands in the table for a condition."""
    share = plain((condition.fraction or 0) * voltage, 0)
    match condition.potential:
        case Potential.FLOATING:
            return "floating"
        case Potential.NOT_KNOWN:
            return "not known: treat as live"
        case Potential.LINE:
            return f"line {share} V"
        case Potential.NEUTRAL | Potential.EARTH:
            return f"{condition.potential} 0 V" if condition.solid else "lamp 0 V"
        case _:
            return f"lamp {share} V"


def meanings(conditions: Iterable[Condition], voltage: Fraction) -> Table:
    """What each word of the tables stands for, those that occur: dead with lamps out, live to neutral and to earth."""
    full = plain(voltage)
    known = {
        "line": ("low ohms to line of its way, open to neutral and earth", f"{full} V", f"{full} V"),
        "neutral": ("low ohms to neutral, open to line", "0 V", "0 V, or a few volts"),
        "earth": ("low ohms to earth", "0 V, or a few volts", "0 V"),
        "lamp": ("open with the lamps out", "as shown, through a lamp", "as shown, through a lamp: carries no current"),
        "floating": ("open to everything", "0 V to tens of volts on a sensitive meter", "the same: joined to nothing"),
        "not": ("find what it is joined to", "treat as live", "treat as live"),
    }
    used = {expected(c, voltage).split()[0] for c in conditions}
    rows = tuple(("not known" if word == "not" else word, *reads) for word, reads in known.items() if word in used)
    return Table(("Expected", "Dead test, way off, lamps out", "Live, to neutral", "Live, to earth"), rows,
                 (0.8, 2.6, 2.1, 2.4), tuple("" for _ in rows))


def readings(look: Lookup) -> tuple[tuple[Block, ...], list[Block]]:
    """What the words of the tables mean; the tables of every group, then what no switch changes."""
    wide: list[Block] = []
    narrow: list[tuple[Block, ...]] = []
    used: list[Condition] = []
    for group in look.job.solution.groups:
        rows = group.rows if len(group.rows) <= MOST_SETTINGS else operated_once(group)
        changing = [t for i, t in enumerate(group.terminals) if len({row.conditions[i] for row in group.rows}) > 1]
        if not changing:
            continue
        used += [row.conditions[group.terminals.index(t)] for row in rows for t in changing]
        part = (Heading(_title(look, group), 3), _table(look, group, rows, changing))
        if len(rows) > WIDE:
            wide += part
        else:
            narrow.append(part)
    constant, always = _constant(look)
    tables: list[Block] = [*wide]
    if flow := (*narrow, *constant):
        tables.append(Columns(flow, 3 if _short_names(look) else 2, loose=True))
    if not tables:
        return (), []
    explained = (Heading("What the words mean", 2), meanings([*used, *always], look.wiring.board.voltage))
    return explained, [Heading(HEADING, 2), *tables]


def _short_names(look: Lookup) -> bool:
    """Whether the tables are narrow enough for three columns."""
    return all(len(name) <= SHORT for a in look.wiring.accessories for name in (a.name, *(t for _, t in a.labels)))


def _title(look: Lookup, group: Group) -> str:
    return capital(joined(look.switches[s] for s in group.switches)) or "Not switched"


def _table(look: Lookup, group: Group, rows: Sequence[Row], changing: list[Terminal]) -> Table:
    settings = [capital(look.setting(group, row.setting)) for row in rows]
    head = ("At", "Terminal", *(h for s in settings for h in (s, "Read")))
    body: list[tuple[Cell, ...]] = []
    last = ""
    for terminal in sorted(changing, key=look.order):
        i = group.terminals.index(terminal)
        cells = [c for row in rows for c in (expected(row.conditions[i], look.wiring.board.voltage), "")]
        body.append(("" if terminal.accessory == last else terminal.accessory, look.label(terminal), *cells))
        last = terminal.accessory
    boxes = tuple(range(3, len(head), 2))
    return Table(head, tuple(body), (1.35, 0.95, *(1.45, 0.8) * len(rows)), boxes=boxes, joined=1)


def _constant(look: Lookup) -> tuple[tuple[tuple[Block, ...], ...], list[Condition]]:
    """Terminals with a conductor on them that no switch changes."""
    rows: list[tuple[Cell, ...]] = []
    used: list[Condition] = []
    last = ""
    for terminal in look.wiring.nodes():
        conditions = look.job.solution.conditions(terminal)
        if len(conditions) > 1 or not look.landed(terminal) or look.wiring.way(terminal.accessory):
            continue
        used += conditions
        at = "" if terminal.accessory == last else terminal.accessory
        rows.append((at, look.label(terminal), expected(conditions[0], look.wiring.board.voltage), "", ""))
        last = terminal.accessory
    head = ("At", "Terminal", "Expected", "Dead", "Live")
    table = Table(head, tuple(rows), (1.5, 0.95, 1.4, 0.9, 0.9), boxes=(3, 4), joined=1)
    return (((Heading(UNCHANGED, 3), table),) if rows else ()), used
