"""What every lamp and terminal does in every setting: state tables, what each switch does to it, the diagram."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.circuit.outages import told
from sheetgen.circuit.triggers import kept_dark, on_without_electronics
from sheetgen.circuit.via import via
from sheetgen.model.geometry import MM
from sheetgen.model.page import Block, Cell, Columns, Heading, Page, Picture, Table, Words
from sheetgen.model.reading import MethodFound
from sheetgen.model.solution import Group, LampState, Potential, Short
from sheetgen.model.solution import Row as State
from sheetgen.model.words import FLOATING, TRACE, VIA, capital, condition, joined, lamp, most_alike, state_of
from sheetgen.pages.live_paths import diagram_of, explained, lit_path
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import evidence
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.what_switches_do import operated_once, what_holds

MOST_ROWS = 16  # a table of more settings than this gives way to what holds over all of them
NO_LOAD = (Potential.FLOATING, Potential.NOT_KNOWN, Potential.BETWEEN)  # no load is named beside these
MOST_NETS = 6  # columns of terminals
COLUMN = 135  # millimetres that a diagram may have in a column of the sheet
MOST_SIMPLE = 4  # circuits of one switch that are drawn each by itself; more stand in a table
AS_FOUND = "what is shown is what the circuit does {}, with its faults. Make the sheet anew when it is put right."
ROCKER = "L1: usually rocker down; check yours."
TREAT_AS_LIVE = "What happens there cannot be told. Treat every conductor as live."
SIMPLY = "lit with it on and out with it off"
MOST_NAMES = 8  # of loads or switches in a title
FROM_THE_FIRST = (
    "Settings shown: all switches in their first position, all in their last, and each operated once from the first "
    "where that changes anything."
)
DRAWN = 3  # blocks of a circuit of one switch: its name, what it is, and the diagram; then what is said of it
NARROW = 6  # a table of so many columns stands in half the width of the sheet


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page for all groups; those of one switch and nothing to puzzle over share columns."""
    groups = [g for g in lookup.job.solution.groups if g.lamps or g.switches]
    if not groups:
        return ()
    flow: list[Block] = []
    narrow: list[tuple[Block, ...]] = []
    simple = [group for group in groups if _simple(group) and diagram_of(lookup, group) is not None]
    if len(simple) > MOST_SIMPLE:
        groups = [group for group in groups if group not in simple]
    unknown = [group for group in groups if not group.known and not _nets(lookup, group)]
    flow += _not_known(lookup, unknown) if unknown else []
    groups = [group for group in groups if group not in unknown]
    for group in groups:
        if _wide(lookup, group):
            flow += _group(lookup, group)
        else:
            narrow.append(tuple(_group(lookup, group)))
    if len(simple) > MOST_SIMPLE:
        flow += _simply_switched(lookup, simple)
    if len(narrow) == 1 and simple:  # beside its diagram, what is said of it
        narrow = [narrow[0][:DRAWN], narrow[0][DRAWN:]]
    if narrow:
        flow.append(Columns(tuple(filter(None, narrow))))
    return (Page("operation", "Operation", (*_notes(lookup, groups), *flow), follows=True),)


def _narrow(lookup: Lookup, group: Group) -> bool:
    """Whether the table of a group stands in half the width of the sheet."""
    return len(_nets(lookup, group)) + len(group.switches) + len(group.lamps) <= NARROW


def _wide(lookup: Lookup, group: Group) -> bool:
    """Whether a group needs the whole width of the sheet."""
    diagram = diagram_of(lookup, group)
    if diagram is None:
        return not _narrow(lookup, group)
    return not _simple(group) or diagram.drawing.width > COLUMN * MM


def _simple(group: Group) -> bool:
    """One switch of two positions, in one of which every lamp of the group is on and in the other every one off."""
    if len(group.rows) != 2 or len(group.switches) != 1 or not (group.lamps and group.known and group.complete):
        return False
    seen = [{lamp.state for lamp in row.lamps} for row in group.rows]
    return sorted(map(len, seen)) == [1, 1] and {LampState.ON} in seen and {LampState.OFF} in seen


def _simply_switched(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """Many lamps of one switch each: what is said of one is true of all, and the ways of line and neutral tell more."""
    rows: list[tuple[Cell, ...]] = []
    for group in groups:
        circuits = _circuits(lookup, group)
        lit = next(row for row in group.rows if row.lamps[0].state is LampState.ON)
        rows.append((
            Words(f"with {lookup.setting(group, lit.setting)}",
                  lead=capital(joined(lookup.loads[n] for n in group.lamps))),
            " ".join(circuit.method for circuit in circuits),
            " ".join(f"{capital(line)}." for circuit in circuits for line in circuit.evidence),
        ))
    return [Heading(f"Lamps with one switch each, {SIMPLY}"),
            Table(("Lamp, and what it is lit with", "Method", "Line and neutral"), tuple(rows), (1.5, 1.8, 6.5))]


def _not_known(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """Lamps and switches of which nothing can be told, all together; what was seen of them is said once."""
    names = [*(lookup.loads[name] for group in groups for name in group.lamps),
             *(lookup.switches[name] for group in groups for name in group.switches)]
    says = dict.fromkeys(circuit.method for g in groups for circuit in _circuits(lookup, g) if circuit.method)
    return [Heading(f"{capital(joined(names))}: wiring not known"), Words(f"{' '.join(says)} {TREAT_AS_LIVE}")]


def _circuits(lookup: Lookup, group: Group) -> list[MethodFound]:
    return [c for c in lookup.job.reading.circuits
            if set(c.switches) & set(group.switches) or set(c.lamps) & set(group.lamps)]


def _group(lookup: Lookup, group: Group) -> list[Block]:
    title, names = Heading(_title(lookup, group), 2), _names(lookup, group)
    circuits = _circuits(lookup, group)
    methods = [circuit.method for circuit in circuits if circuit.method]
    why = [block for circuit in circuits for block in evidence(circuit)] if "method" in lookup.kinds else []
    diagram = diagram_of(lookup, group)
    if diagram is not None and _simple(group):
        lit = next(row for row in group.rows if row.lamps[0].state is LampState.ON)
        with_it = f"Lit with {lookup.setting(group, lit.setting)}."
        says = " ".join([*methods, *([] if {*group.lamps} & kept_dark(lookup.circuit).keys() else [with_it])])
        return [title, Words(says), Picture(diagram.drawing), *(why or lit_path(diagram, lit.setting))]
    blocks: list[Block] = [*names, Words(" ".join([*methods, *what_holds(lookup, group)]))]
    tells = group.known or _nets(lookup, group)  # else it would have the positions alone
    if not group.complete:
        blocks.append(Words(FROM_THE_FIRST, "quiet"))
        table = [_short_table(lookup, group)] if tells else []
    else:
        rows = _rows(group)
        if len(rows) < len(group.rows):
            blocks.append(Words("Settings shown: all in the first position, then each switch operated once.", "quiet"))
        table = [_table(lookup, group, rows)] if tells else []
    if diagram is None:
        return [title, *blocks, *table, *why]
    return explained(lookup, group, diagram, [title, *blocks], [*table, *why], _narrow(lookup, group))


def _title(lookup: Lookup, group: Group) -> str:
    if not group.known:
        names = [*(lookup.loads[n] for n in group.lamps), *(lookup.switches[n] for n in group.switches)]
        return f"{capital(joined(names))}: wiring not known"
    lamps = capital(_listed([lookup.loads[n] for n in group.lamps], _loads_are(lookup, group))) or "No lamp"
    if not group.switches:
        return f"{lamps}, not switched"
    return f"{lamps}, switched at {_listed([lookup.switches[n] for n in group.switches], 'switches')}"


def _listed(names: list[str], what: str) -> str:
    """The names, or how many there are."""
    return f"{len(names)} {what}" if len(names) > MOST_NAMES else joined(names)


def _loads_are(lookup: Lookup, group: Group) -> str:
    return "lamps" if {*group.lamps} <= lookup.circuit.lamp_names else "loads"


def _names(lookup: Lookup, group: Group) -> list[Block]:
    """Those of which the title gives the number alone."""
    loads = [lookup.loads[n] for n in group.lamps], capital(_loads_are(lookup, group))
    switches = [lookup.switches[n] for n in group.switches], "Switches"
    return [Words(f"{joined(names)}.", lead=f"{what}.") for names, what in (loads, switches)
            if group.known and len(names) > MOST_NAMES]


def _rows(group: Group) -> Sequence[State]:
    """Every setting, or the first and each switch operated once where there are too many."""
    return group.rows if len(group.rows) <= MOST_ROWS else operated_once(group)


def _nets(lookup: Lookup, group: Group) -> list[tuple[str, int]]:
    """Terminals that no switch parts share a column: its heading, and the index of one of them in the group."""
    nets: dict[object, list[int]] = {}
    for i in group.changing:
        terminal = group.terminals[i]
        if not lookup.circuit.out_of_reach(terminal):
            nets.setdefault(lookup.job.solution.nets[terminal], []).append(i)
    found = [(_net_head(lookup, group, members), members[0]) for members in nets.values()]
    return found if len(found) <= MOST_NETS else []


def _net_head(lookup: Lookup, group: Group, members: list[int]) -> str:
    """The switch terminals of a net; else its first terminal."""
    at_switches = {lookup.accessory_of_switch(s) for s in group.switches}
    terminals = [group.terminals[i] for i in members]
    shown = [t for t in terminals if t.accessory in at_switches] or terminals[:1]
    return ", ".join(lookup.full(t) for t in shown[:3])


def _table(lookup: Lookup, group: Group, rows: Sequence[State]) -> Table:
    nets = _nets(lookup, group)
    head = (*(lookup.switches[s] for s in group.switches), *(lookup.loads[n] for n in group.lamps),
            *(h for h, _ in nets))
    cells: tuple[tuple[Cell, ...], ...] = tuple(
        (
            *(lookup.mark(s, p) for s, p in zip(group.switches, row.setting, strict=True)),
            *(Words(lamp(state), "strong" if state.state is LampState.ON else "plain") for state in row.lamps),
            *(_condition(lookup, group, row, i) for _, i in nets),
        )
        for row in rows
    )
    return Table(head, cells, tones=tuple("danger" if row.shorts else "" for row in rows))


def _short_table(lookup: Lookup, group: Group) -> Table:
    """Of very many switches: what each does, operated alone, where that changes anything; what is alike is a row."""
    nets, what = _nets(lookup, group), _loads_are(lookup, group)

    def does(row: State) -> tuple[str, ...]:
        states = [(lookup.loads[n], state_of(at)) for n, at in zip(group.lamps, row.lamps, strict=True)]
        lit = (capital(most_alike(states, what)),) if states else ()
        return *lit, *(_condition(lookup, group, row, i) for _, i in nets)

    first, *others = operated_once(group)
    last = group.row(dict(zip(group.switches, (positions[-1] for positions in group.positions), strict=True)))
    alike: dict[tuple[tuple[str, ...], str, bool], list[str]] = {}
    for row in others:
        place = next(i for i, (a, b) in enumerate(zip(row.setting, first.setting, strict=True)) if a != b)
        switch, position = group.switches[place], row.setting[place]
        found = does(row), lookup.position(switch, position), bool(row.shorts)
        alike.setdefault(found, []).append(lookup.switches[switch])
    rows = [(capital(lookup.setting(group, first.setting)), *does(first))]
    tones = ["danger" if first.shorts else ""]
    for (seen, stands, shorts), names in alike.items():
        if seen != does(first):
            which = "any one of them" if len(names) == len(group.switches) else joined(names, "or")
            rows.append((f"{capital(which)} {stands}, the others as in the first row", *seen))
            tones.append("danger" if shorts else "")
    rows.append((capital(lookup.setting(group, last.setting)), *does(last)))
    head = ("Setting", *((capital(what),) if group.lamps else ()), *(h for h, _ in nets))
    shares = (3.0, *((4.0,) if group.lamps else ()), *(1.5 for _ in nets))
    return Table(head, tuple(rows), shares, tones=(*tones, "danger" if last.shorts else ""))


def _condition(lookup: Lookup, group: Group, row: State, i: int) -> str:
    """What the terminals of a net are at."""
    return condition(row.conditions[i], _via(lookup, group, row, i))


def _via(lookup: Lookup, group: Group, row: State, i: int) -> str:
    """The kind of load through which a meter reads a terminal; "" where it is joined to a rail, or to nothing."""
    at = row.conditions[i]
    return "" if at.solid or at.potential in NO_LOAD else via(lookup.circuit, group.terminals[i], group, row)


def _notes(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """What the words of the tables mean, those that occur; and every short."""
    notes: list[Block] = []
    if lookup.job.reading.miswired:
        notes.append(Words(AS_FOUND.format(lookup.as_it_is), "strong", "Not a pattern to test by:"))
    for group in groups:
        for row in group.rows[:MOST_ROWS]:
            at = capital(lookup.setting(group, row.setting))
            notes += [Words(f"{at}: {_short(lookup, short)}.", "danger", "Short.") for short in row.shorts]
        notes += [Words(says, "danger", "Short elsewhere.") for says in told(lookup.circuit, group)]
    notes += _as_if(lookup, groups)
    tabled = [g for g in groups if not (_simple(g) and diagram_of(lookup, g) is not None)]
    floating = any(c.potential is Potential.FLOATING for g in tabled for seen in g.seen for c in seen)
    through = {_via(lookup, g, row, i) for g in tabled for _, i in _nets(lookup, g) for row in _rows(g)}
    meanings = [says for kind, says in VIA.items() if kind in through]
    meanings += [FLOATING] if floating else []
    if any(lamp.state is LampState.TRACE for g in groups for row in g.rows for lamp in row.lamps):
        meanings.append(TRACE)
    said = [ROCKER] if any(
        lookup.mark(s, p) == "L1" for g in groups for s, at in zip(g.switches, g.positions, strict=True) for p in at
    ) else []
    said += [f"{capital('; '.join(meanings))}."] if meanings else []
    return [*notes, *([Words(" ".join(said), "quiet", "In the tables.")] if said else [])]


def _as_if(lookup: Lookup, groups: list[Group]) -> list[Block]:
    """What of the settings shown does not come, or depends on what is within a fan."""
    notes: list[Block] = []
    shown = {switch for group in groups for switch in group.switches}
    idle = list(dict.fromkeys(name for by in kept_dark(lookup.circuit).values() for name in by if name in shown))
    if idle:
        verb, it_has = ("triggers", "it has") if len(idle) == 1 else ("trigger", "they have")
        names = joined(lookup.switches[name] for name in idle)
        notes.append(Words(f"as wired {it_has} no supply while idle. What is shown with {names} triggered does not "
                           "come about.", "strong", f"{names} never {verb}:"))
    fans = dict.fromkeys(name for group in groups for row in group.rows for name in on_without_electronics(
        lookup.circuit, dict(zip(group.lamps, row.lamps, strict=True))))
    for name in fans:
        notes.append(Words("it has line and neutral in settings in which the fan's electronics have no supply. Whether "
                           "it runs then depends on the fan.", "strong", f"{capital(lookup.loads[name])}:"))
    return notes


def _short(lookup: Lookup, short: Short) -> str:
    """'circuit 1 L is joined to circuit 1 N through Hall COM and Hall N'."""
    line, other = map(lookup.full, short.rails)
    between = joined(lookup.full(t) for t in short.through if t not in short.rails)
    return f"{line} is joined to {other}{f' through {between}' if between else ''}"


ENTRY = PageKind("operation", "what each lamp and terminal does in each setting of the switches", compose)
