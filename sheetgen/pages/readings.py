"""What a meter should read at each terminal in each setting: dead with the lamps out, and live."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction

from sheetgen.circuit.outages import when
from sheetgen.circuit.shorts import in_short, shorting
from sheetgen.circuit.stays_live import loose_end, loose_ends, loose_here
from sheetgen.circuit.via import via
from sheetgen.model.accessory import Terminal
from sheetgen.model.page import Block, Cell, Heading, Table, Words
from sheetgen.model.reading import Gravity
from sheetgen.model.solution import Condition, Group, Potential, Row
from sheetgen.model.words import capital, joined, plain
from sheetgen.pages.lookup import Lookup

MOST_SETTINGS = 4  # settings shown of one group, unless it takes more to have everything at line once
HEADING, UNCHANGED, SINGLE = "Every terminal", "Whatever the switches do", "Switches that are off and on"
SOME = "{} of {} settings{}: between them everything that can be at line is at line"
TICK = "\N{BALLOT BOX}"
NOT_OPENED = "not opened: treat every terminal as live"
NOT_TRACED = "not known: treat as live"
TO_TICK = f"{TICK}\N{NO-BREAK SPACE}"
DEAD_FIRST = "Dead first, with the lamps out; live, with them in, only where a dead test cannot tell."
DEAD_ALONE = "Dead tests alone, with the lamps out."
TICKED = "Tick what reads as it should."
TICKED_AS_FOUND = ("{}, with its faults. Tick what reads as shown: that proves this record, not the circuit; make the "
                   "sheet anew when it is put right.")
SHORT = "short"
NOT_LIVE = "With {} the line of {} is shorted: read nothing of it live then; find the short by dead test."
BUT = "but not while a line is shorted"


def expected(condition: Condition, voltage: Fraction, through: str = "lamp") -> str:
    """What stands in the table for a condition. `through`: the kind of load that it comes by where it is not solid."""
    share = plain((condition.fraction or 0) * voltage, 0)
    match condition.potential:
        case Potential.FLOATING:
            return "floating"
        case Potential.NOT_KNOWN:
            return NOT_TRACED
        case Potential.LINE:
            return f"line {share} V"
        case Potential.NEUTRAL | Potential.EARTH:
            return f"{condition.potential} 0 V" if condition.solid else f"{through} 0 V"
        case _:
            return f"{through} {share} V"


def meanings(used: Collection[str], voltage: Fraction) -> Table:
    """What each word of the tables stands for, those that occur: dead with lamps out, live to neutral and to earth.

    That LED lamps and electronics leave tens of volts on a line that is off: from memory, common experience.
    """
    full = plain(voltage)
    known = {
        "line": ("low ohms to line, open to neutral and earth", f"{full} V", f"{full} V"),
        "neutral": ("low ohms to neutral, open to line", "0 V", "0 V, or a few volts"),
        "earth": ("low ohms to earth", "0 V, or a few volts", "0 V"),
        "lamp": ("open with the lamps out; live, LED lamps can shift it by tens of volts", "as shown", "as shown"),
        "fan": ("open with the fan disconnected", "as shown", "as shown"),
        "electronics": ("open with them disconnected; live, can differ by tens of volts", "as shown", "as shown"),
        "load": ("open with lamps, fan and electronics all out; live, can differ by tens of volts", "as shown",
                 "as shown"),
        SHORT: ("low ohms to line, and to the neutral or earth it is shorted to", "read nothing live",
                "read nothing live"),
        "floating": ("open to everything", "0 V to tens of volts", "0 V to tens of volts"),
        "not": ("find what it is joined to", "treat as live", "treat as live"),
    }
    rows = tuple(("not known" if word == "not" else word, *reads) for word, reads in known.items() if word in used)
    return Table(("Expected", "Dead, lamps out", "Live, to neutral", "Live, to earth"), rows, (0.8, 3.6, 1.7, 1.7))


def readings(lookup: Lookup) -> tuple[tuple[Block, ...], list[tuple[Block, ...]]]:
    """What the words of the tables mean; the tables: of groups of several switches, of single switches, of what no
    switch changes."""
    several: list[tuple[Block, ...]] = []
    single: list[tuple[str, ...]] = []
    used: set[str] = set()
    for group in lookup.job.solution.groups:
        changing = [t for i, t in enumerate(group.terminals)
                    if not lookup.circuit.out_of_reach(t) and len({row.conditions[i] for row in group.rows}) > 1]
        if not changing:
            continue
        rows = _telling(group, changing, lookup.wiring.board.voltage)
        used |= {_expected(lookup, t, group, row).split()[0] for row in rows for t in changing}
        changing.sort(key=lookup.order)
        if _off_and_on(lookup, group):
            single += [(lookup.switches[group.switches[0]], *row) for row in _rows(lookup, group, rows, changing)]
        else:
            solved = "" if group.complete else " worked out"
            fewer = SOME.format(len(rows), len(group.rows), solved) if len(rows) < len(group.rows) else ""
            several.append((Heading(_title(lookup, group), 3, fewer), _table(lookup, group, rows, changing)))
    tables = several
    if single:
        head = ("Switch", "Terminals", "Off", "On")
        once = _once(_folded(single))
        tables.append((Heading(SINGLE, 3), Table(head, once, (1.3, 2.6, 1.2, 1.2), joined=1)))
    constant, always = _constant(lookup)
    shorted = _shorted(lookup)
    if constant:
        tables.append((Heading(UNCHANGED, 3, BUT if shorted else ""), Table(("Terminals", "At"), constant, (1.6, 2.4))))
    if not tables:
        return (), []
    explained = (Heading("What the words mean", 3), meanings(used | always, lookup.wiring.board.voltage))
    return explained, [(Heading(HEADING, 2, _ticked(lookup)), *shorted, *tables[0]), *tables[1:]]


def _ticked(lookup: Lookup) -> str:
    """What a tick proves; with faults, one of which is a danger, all is tested dead alone."""
    if not lookup.job.reading.miswired:
        return f"{TICKED} {DEAD_FIRST}"
    danger = any(f.gravity is Gravity.DANGER for f in lookup.job.reading.findings)
    return f"{TICKED_AS_FOUND.format(capital(lookup.as_it_is))} {DEAD_ALONE if danger else DEAD_FIRST}"


def _shorted(lookup: Lookup) -> list[Words]:
    """The settings in which nothing can be read live of a way."""
    return [Words(NOT_LIVE.format(when(lookup.circuit, o), lookup.circuit.way(o.way)), "danger", "Short.")
            for o in shorting(lookup.circuit)]


def _telling(group: Group, changing: Sequence[Terminal], voltage: Fraction) -> Sequence[Row]:
    """All settings where they are few; else some, no two that read alike, in which every terminal is at line that can
    be, and after that as many of the other readings and positions as there is room for; none with a short."""
    if len(group.rows) <= MOST_SETTINGS:
        return group.rows
    sound = [row for row in group.rows if not row.shorts] or list(group.rows)
    places = [group.terminals.index(t) for t in changing]
    said = {c: expected(c, voltage) for c in {c for row in group.rows for c in row.conditions}}
    reads = {tuple(said[row.conditions[i]] for i in places): row for row in reversed(sound)}
    lines = {column: {i for i, text in enumerate(column) if text.startswith("line ")} for column in reads}
    shows = {column: {*enumerate(column), *enumerate(row.setting)} for column, row in reads.items()}
    turn = {row.setting: number for number, row in enumerate(group.rows)}
    chosen: list[Row] = []
    while reads:
        best = max(reads, key=lambda column: (len(lines[column]), len(shows[column]), -turn[reads[column].setting]))
        seen_lines, seen = lines[best], shows[best]
        if len(chosen) >= MOST_SETTINGS and not seen_lines:
            break
        chosen.append(reads.pop(best))
        lines = {column: lines[column] - seen_lines for column in reads}
        shows = {column: shows[column] - seen for column in reads}
    return tuple(sorted(chosen, key=lambda row: turn[row.setting]))


def _off_and_on(lookup: Lookup, group: Group) -> bool:
    """Whether a group is one switch that is off and on."""
    return (len(group.switches) == 1
            and [lookup.mark(group.switches[0], row.setting[0]) for row in group.rows] == ["off", "on"])


def _title(lookup: Lookup, group: Group) -> str:
    return capital(joined(lookup.switches[s] for s in group.switches)) or "Not switched"


def _rows(
    lookup: Lookup, group: Group, rows: Sequence[Row], changing: Sequence[Terminal]
) -> Iterator[tuple[str, ...]]:
    """A terminal and what is expected at it in each setting, with a box to tick; then the loose ends joined to them."""
    loose = ((accessory, end, at) for accessory, end, at in _live_loose(lookup) if at in changing)
    for accessory, label, terminal in (*((t.accessory, lookup.label(t), t) for t in changing), *loose):
        reads = (_expected(lookup, terminal, group, row) for row in rows)
        boxed = (text if text == NOT_TRACED else f"{TICK} {text}" for text in reads)  # what nobody knows reads no way
        yield (lookup.wiring.printed(accessory), label, *boxed)


def _live_loose(lookup: Lookup) -> Iterator[tuple[str, str, Terminal]]:
    """The ends of cores on nothing that are live in some setting: where, their name, the terminal they read as."""
    for accessory in lookup.wiring.accessories:
        for core, at in loose_here(lookup.circuit, accessory):
            if any(condition.live for condition in lookup.job.solution.conditions(at)):
                yield accessory.name, loose_end(core), at


def _expected(lookup: Lookup, terminal: Terminal, group: Group | None = None, row: Row | None = None) -> str:
    """What stands in the table for a terminal, in a setting or where no switch changes it."""
    condition = (row.conditions[group.terminals.index(terminal)] if group and row
                 else lookup.job.solution.conditions(terminal)[0])
    if in_short(lookup.circuit, condition, row):
        return SHORT
    through = "" if condition.solid else via(lookup.circuit, terminal, group, row)
    return expected(condition, lookup.wiring.board.voltage, through)


def _folded(rows: Sequence[tuple[str, ...]]) -> tuple[tuple[str, ...], ...]:
    """Rows of a switch with the same readings become one; the terminals of an accessory name it once."""
    alike: dict[tuple[str, ...], dict[str, list[str]]] = {}
    for switch, accessory, terminal, *reads in rows:
        alike.setdefault((switch, *reads), {}).setdefault(accessory, []).append(terminal)
    return tuple((switch, joined(f"{accessory} {joined(terminals)}" for accessory, terminals in at.items()), *reads)
                 for (switch, *reads), at in alike.items())


def _once(rows: Sequence[tuple[str, ...]]) -> tuple[tuple[Cell, ...], ...]:
    """Rows of which each says in its first column only what is not as in the row above."""
    above = ("", *(row[0] for row in rows))
    return tuple((row[0] if row[0] != last else "", *row[1:]) for row, last in zip(rows, above, strict=False))


def _table(lookup: Lookup, group: Group, rows: Sequence[Row], changing: Sequence[Terminal]) -> Table:
    head = ("Terminals", *(capital(lookup.setting(group, row.setting)) for row in rows))
    alike = _folded([("", *row) for row in _rows(lookup, group, rows, changing)])
    return Table(head, tuple(row[1:] for row in alike), (1.6, *(1.0 for _ in rows)))


def _constant(lookup: Lookup) -> tuple[tuple[tuple[Cell, ...], ...], set[str]]:
    """Terminals with a conductor on them and live loose ends that no switch changes; accessories with the same ones
    share a row."""
    at: dict[str, dict[str, list[str]]] = {}
    used: set[str] = set()
    landed = ((t.accessory, lookup.label(t), t) for t in lookup.wiring.nodes() if lookup.landed(t))
    for accessory, label, terminal in (*landed, *_live_loose(lookup)):
        if len(lookup.job.solution.conditions(terminal)) > 1 or lookup.wiring.way(accessory):
            continue
        reads = _expected(lookup, terminal)
        used.add(reads.split()[0])
        at.setdefault(accessory, {}).setdefault(reads, []).append(label)
    alike: dict[str, list[str]] = {}
    if closed := lookup.closed():
        alike[NOT_OPENED] = [accessory.name for accessory in closed]
    for place in lookup.wiring.accessories:
        if loose := loose_ends(lookup.circuit, place):
            alike.setdefault(f"{loose} {NOT_TRACED}", []).append(place.name)
    for name, found in at.items():
        says = "; ".join(f"{joined(terminals)} {reads}" for reads, terminals in found.items())
        alike.setdefault(says, []).append(f"{TO_TICK if found.keys() - {NOT_TRACED} else ''}{name}")
    return tuple((says, ", ".join(names)) for says, names in alike.items()), used
