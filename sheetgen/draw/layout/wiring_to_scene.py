"""From the wiring to strips, entries and lampholders that hang: what stands on one sheet, not yet where."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from sheetgen.circuit.names import cables_in_order
from sheetgen.draw.layout.devices import device_columns
from sheetgen.draw.layout.scene import (
    BOTTOM,
    CEILING,
    GUTTER,
    TOP,
    WALL,
    CableEntry,
    Enclosure,
    Pendant,
    Scene,
    SheetPlace,
    TerminalRows,
    Termination,
    Title,
)
from sheetgen.draw.layout.through import whole
from sheetgen.draw.layout.titles import UNDER_LAMP, UNDER_LAMP_WIDER, broken, titles_of
from sheetgen.draw.typeface import text_width
from sheetgen.model.accessory import Accessory, Level
from sheetgen.model.style import Style
from sheetgen.model.wiring import Cable, Wiring

MARKS = 10**6
TALL = 18  # rows of terminals


def row_of(accessory: Accessory) -> str:
    """The row of the drawing in which an accessory stands."""
    return WALL if accessory.kind.level is Level.WALL else CEILING


def pendants_of(wiring: Wiring) -> dict[str, str]:
    """Lampholder -> rose, for those that can hang beneath it: one flex to that rose and nothing else."""
    found: dict[str, str] = {}
    taken: set[str] = set()
    by_name = {a.name: a for a in wiring.accessories}
    cables_at: dict[str, list[Cable]] = {}
    for cable in wiring.cables:
        for end in dict.fromkeys(cable.ends):
            cables_at.setdefault(end, []).append(cable)
    for accessory in wiring.accessories:
        host = by_name.get(accessory.hangs_from)
        cables = cables_at.get(accessory.name, [])
        if accessory.kind.level is not Level.PENDANT or host is None or len(cables) != 1 or cables[0].single:
            continue
        standing = row_of(host) == CEILING and host.kind.level is not Level.PENDANT
        if standing and host.name in cables[0].ends and host.name not in taken:
            found[accessory.name] = host.name
            taken.add(host.name)
    return found


def termination(cable: Cable, index: int, end: int, style: Style) -> Termination:
    """One end of a cable's core, labelled; a single carries its cable's name too, for it has no tag."""
    core = cable.cores[index]
    label = f"{core.label} {whole(cable.name)}" if cable.single else core.label
    return Termination(core.key, end, core.ends[end].terminal, label, text_width(label, style.letterings["code"]))


def runs_of(wiring: Wiring) -> dict[tuple[str, ...], list[Cable]]:
    """Cables that go together: each by itself, but singles with the same two ends in one conduit together."""
    runs: dict[tuple[str, ...], list[Cable]] = {}
    for cable in cables_in_order(wiring.cables):
        if not cable.link:
            alone = len(cable.cores) > 1
            runs.setdefault((cable.name,) if alone else ("", cable.run_in, *sorted(cable.ends)), []).append(cable)
    return runs


class IndexedWiring:
    """A wiring with what every band of its layout looks up, worked out once."""

    def __init__(self, wiring: Wiring):
        self.wiring = wiring
        self.hanging = pendants_of(wiring)
        self.rank = {a.name: i for i, a in enumerate(wiring.accessories)}
        self.by_name = {a.name: a for a in wiring.accessories}
        self.links: dict[str, list[Cable]] = {}
        for cable in cables_in_order(c for c in wiring.cables if c.link):
            self.links.setdefault(cable.ends[0], []).append(cable)
        self._runs = list(runs_of(wiring).values())
        self._runs_at: dict[str, list[int]] = {}
        for i, cables in enumerate(self._runs):
            for name in cables[0].ends:
                self._runs_at.setdefault(name, []).append(i)

    def runs_at(self, names: Iterable[str]) -> list[list[Cable]]:
        """The runs that have an end at one of these accessories, in the order of all runs."""
        return [self._runs[i] for i in sorted({i for name in names for i in self._runs_at.get(name, ())})]


def wiring_to_scene(
    indexed: IndexedWiring, style: Style, places: Mapping[str, SheetPlace], here: SheetPlace, marks: Mapping[str, int],
    width: int, beside: bool = False,
) -> Scene:
    """The scene of one band of one sheet.

    Requires: `places` gives every accessory's place (a hanging lampholder's is its rose's), `marks` the number of
    the continuation mark of every run (named by its first cable) that is cut. `beside`: lampholders stand beside the
    drops of their roses, in the wall row, not under them.
    Ensures: an enclosure for every accessory of the band, for every cut run's mark, and a gutter for every run that
    goes on in another band of the sheet; every core end of the band is a termination of exactly one entry or link.
    """
    wiring, hanging, by_name, rank = indexed.wiring, indexed.hanging, indexed.by_name, indexed.rank
    hung = {} if beside else hanging
    own = {name: a for name, a in by_name.items() if places[name] == here}
    entries: dict[str, list[CableEntry]] = {name: [] for name in own}

    def row(name: str) -> str:
        return WALL if beside and name in hanging else row_of(by_name[name])

    enclosures: dict[str, Enclosure] = {}
    for cables in indexed.runs_at(own):
        ends = cables[0].ends
        for end in (0, 1):
            if ends[end] not in own:
                continue
            other = ends[1 - end]
            cut, parted = places[other].sheet != here.sheet, places[other] != here
            key = f"mark {marks[cables[0].name]}" if cut else f"gutter {cables[0].name}" if parted else other
            here_row, other_row = row(ends[end]), row(other)
            if parted and _tall(by_name[ends[end]]):
                other_row = here_row
            edge = BOTTOM if (here_row, other_row) == (CEILING, WALL) else TOP
            entry = _entry(cables, ends[end], key, edge, style)
            if hung.get(other) == ends[end]:
                entry = replace(entry, edge=BOTTOM, hangs=True)
            entries[ends[end]].append(entry)
            if cut:
                level = WALL if WALL in (here_row, other_row) else CEILING
                known = enclosures.get(key) or mark_of(
                    key, marks[cables[0].name], places[other].sheet, here.sheet, level, style)
                enclosures[key] = with_run(known, entry, ends[end])
            elif parted:
                left = any(by_name[at].kind.level is Level.BOARD for at in ends)
                enclosures[key] = gutter_of(key, entry, ends[end], left, up=places[other].band < here.band)
    for name, accessory in own.items():
        if name in hanging and beside:
            enclosures[name] = _lampholder(accessory, rank[name], entries[name][0], wiring, style)
        elif name not in hung:
            enclosures[name] = _enclosure(
                accessory, rank[name], tuple(entries[name]), indexed.links.get(name, ()), wiring, style
            )
    for lamp, rose in hung.items():
        if lamp in own:
            enclosures[rose] = replace(enclosures[rose], pendant=_pendant(own[lamp], entries[lamp][0], wiring, style))
    return Scene(number=here.sheet, style=style, width=width, enclosures=enclosures)


def gutter_of(key: str, entry: CableEntry, partner: str, left: bool, up: bool) -> Enclosure:
    """Where a run goes up or down beside the rows to another band of the sheet."""
    end = replace(entry, partner=partner, edge=BOTTOM if up else TOP)
    return Enclosure(key, GUTTER, 0, entries=(end,), gutter=-1 if left else 1)


def _lampholder(accessory: Accessory, rank: int, entry: CableEntry, wiring: Wiring, style: Style) -> Enclosure:
    """A lampholder that stands by itself in the wall row."""
    return Enclosure(accessory.name, WALL, rank, entries=(replace(entry, edge=TOP),), accessory=accessory,
                     pendant=_pendant(accessory, entry, wiring, style))


def _tall(accessory: Accessory) -> bool:
    """Too tall to have a row of marks under it."""
    return sum(t.rows for t in accessory.kind.terminals) > TALL


def _entry(cables: Sequence[Cable], at: str, partner: str, edge: str, style: Style) -> CableEntry:
    terminations = tuple(
        termination(cable, i, 0 if cable.ends[0] == at else 1, style)
        for cable in cables for i in range(len(cable.cores))
    )
    tagged = len(cables[0].cores) > 1
    tag = text_width(cables[0].name, style.letterings["tag"]) + 2 * style.measures["tag pad"] if tagged else 0
    names = tuple(c.name for c in cables)
    sheathed = len(terminations) > 1 or bool(cables[0].single and cables[0].run_in)
    return CableEntry(cables[0].name, names, partner, edge, terminations, sheathed, tag, flex=cables[0].flex)


def mark_of(
    key: str, number: int, sheet: int, here: int, row: str, style: Style, what: str = "sheet"
) -> Enclosure:
    """The continuation mark of runs that go on on another sheet of the same kind."""
    onward = sheet > here
    lines = [Title(str(number), "mark", text_width(str(number), style.letterings["mark"]))]
    lines += broken(f"{'to' if onward else 'from'} {what} {sheet}", "mark words", style)
    rank = MARKS + number if onward else number - MARKS
    return Enclosure(key, row, rank, titles=tuple(lines), mark=(number, sheet, onward))


def with_run(mark: Enclosure, entry: CableEntry, partner: str) -> Enclosure:
    """The mark with one run more; singles are written in it, for they have no tag."""
    terminations = tuple(s._replace(terminal=None) for s in entry.terminations)
    back = replace(entry, partner=partner, edge=TOP, terminations=terminations)
    lines = () if entry.tag else tuple(Title(s.label, "code", s.width) for s in entry.terminations)
    return replace(mark, entries=(*mark.entries, back), titles=(*mark.titles, *lines))


def _enclosure(
    accessory: Accessory, rank: int, entries: tuple[CableEntry, ...], within: Sequence[Cable], wiring: Wiring,
    style: Style,
) -> Enclosure:
    links = tuple(
        (termination(cable, i, 0, style), termination(cable, i, 1, style))
        for cable in within
        for i in range(len(cable.cores))
    )
    if links:
        links = tuple((_named(a, wiring, style), _named(b, wiring, style)) for a, b in links)
    kind = accessory.kind
    split = not links and _splits(accessory, entries)
    names = [text_width(accessory.printed_label(t.name), style.letterings["terminal"]) for t in kind.terminals]
    board = kind.level is Level.BOARD
    return Enclosure(
        key=accessory.name, row=row_of(accessory), rank=rank - (10**5 if board else 0),
        groups=_groups(accessory, split), entries=entries, links=links, titles=titles_of(accessory, wiring, style),
        name_width=max(names, default=0), devices=device_columns(kind), split=split, accessory=accessory,
    )


def _named(termination: Termination, wiring: Wiring, style: Style) -> Termination:
    """A link has no tag: its cores carry its name, as a single's do."""
    cable = termination.core.rpartition("/")[0]
    label = termination.label if termination.label.endswith(f" {cable}") else f"{termination.label} {cable}"
    return termination._replace(label=label, width=text_width(label, style.letterings["code"]))


def _splits(accessory: Accessory, entries: Sequence[CableEntry]) -> bool:
    """Whether contacts lie between a left and a right terminal, and every run stays on one side of them."""
    shown = {t.name for t in accessory.kind.terminals}
    whole = {row[0] for row in accessory.kind.face if len(set(row)) == 1}
    contacts = {t for s in accessory.kind.switches for p in s.positions for pair in p.joins for t in pair} & shown
    if not contacts or contacts & whole:
        return False
    left = {row[0] for row in accessory.kind.face if len(set(row)) == 2}
    right = {row[1] for row in accessory.kind.face if len(set(row)) == 2}
    for entry in entries:
        used = {s.terminal for s in entry.terminations}
        if used & left and used & right:
            return False
    return True


def _groups(accessory: Accessory, split: bool) -> tuple[TerminalRows, ...]:
    """The strip from top to bottom; rows with two sides only where `split`, else column by column."""
    kind = accessory.kind
    groups: list[TerminalRows] = []
    waiting: list[str] = []
    face = kind.face or tuple((t.name,) for t in kind.terminals)

    def one(name: str) -> TerminalRows:
        t = kind.terminal(name)
        return TerminalRows(name, name, t.rows, t.connector)

    for row in face:
        two = len(set(row)) == 2
        if waiting and not (two and _gang(row[0]) == _gang(waiting[0])):
            groups += [one(n) for n in waiting]
            waiting = []
        if two and split:
            groups.append(TerminalRows(row[0], row[1], max(kind.terminal(n).rows for n in row)))
        else:
            groups.append(one(row[0]))
            waiting += row[1:]
    groups += [one(n) for n in waiting]
    shown = {n for g in groups for n in g[:2]}
    groups += [one(t.name) for t in kind.terminals if t.name not in shown]
    return (*groups, TerminalRows(None, None, 0))


def _gang(terminal: str) -> str:
    """The gang of a plate to which a terminal belongs; "" where it has none."""
    return terminal.rpartition(".")[0]


def _pendant(accessory: Accessory, entry: CableEntry, wiring: Wiring, style: Style) -> Pendant:
    slots: list[tuple[str | None, Termination | None]] = []
    for terminal in accessory.kind.terminals:
        landed = [s for s in entry.terminations if s.terminal == terminal.name]
        slots += [(terminal.name, s) for s in landed] or [(terminal.name, None)]
    slots += [(None, s) for s in entry.terminations if s.terminal is None]
    widths = [s.width for s in entry.terminations]
    lettering = style.letterings["terminal"]
    widths += [text_width(accessory.printed_label(t.name), lettering) for t in accessory.kind.terminals]
    titles = broken(accessory.name, "lamp", style, UNDER_LAMP, UNDER_LAMP_WIDER)
    pitch = max(max(widths) + 80, style.measures["pitch"] * 2)
    return Pendant(accessory, entry, tuple(slots), pitch, titles, bool(accessory.kind.loads))
