"""An accessory too large for a sheet is drawn in parts: the same strip again, each time with some of its cables."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from sheetgen.circuit.names import cables_in_order
from sheetgen.draw.layout.through import whole
from sheetgen.model.accessory import Accessory, AccessoryKind
from sheetgen.model.layout import AccessoryPlace, CoreEndPlace, Layout, SheathEnd, SheathPlace, Sheet
from sheetgen.model.style import Style
from sheetgen.model.wiring import Cable, CoreEnd, Wiring


@dataclass(frozen=True)
class Division:
    """How many parts some accessories are drawn in, and which part stands for which accessory."""

    counts: Mapping[str, int]
    whole: Mapping[str, str]  # name of a part -> name of the accessory

    def further(self, name: str) -> Division:
        """The accessory that a part stands for in more parts."""
        name = self.whole.get(name, name)
        count = self.counts.get(name, 1)
        return replace(self, counts={**self.counts, name: count + max(1, count // 2)})


SHARE = 60  # per cent of a sheet's width that the conductors of one accessory may take side by side


def first_parting(wiring: Wiring, style: Style, width: int) -> Division:
    """Accessories whose conductors, all side by side, would surely crowd a sheet of this width, in parts."""
    need: dict[str, int] = {}
    for cable in wiring.cables:
        for end in cable.ends:
            taken = len(cable.cores) * style.measures["pitch"] + style.measures["end gap"]
            need[end] = need.get(end, 0) + taken
    counts = {name: -(-taken * 100 // (width * SHARE)) for name, taken in need.items()}
    return Division({name: count for name, count in counts.items() if count > 1}, {})


def may_be_parted(wiring: Wiring, parting: Division, name: str) -> bool:
    """Whether there is anything left of the accessory to be shared out among more parts."""
    name = parting.whole.get(name, name)
    accessory = wiring.accessory(name)
    shares = sum(name in cable.ends for cable in wiring.cables) + len(accessory.kind.terminals)
    return parting.counts.get(name, 1) < shares


def in_parts(wiring: Wiring, parting: Division) -> tuple[Wiring, Division]:
    """The wiring with each part as an accessory of its own, under a name of its own."""
    whole: dict[str, str] = {}
    for name, count in parting.counts.items():
        names = _names(wiring, name, count)
        whole |= dict.fromkeys(names, name)
        wiring = _parted(wiring, name, names)
    return wiring, replace(parting, whole=whole)


def _names(wiring: Wiring, name: str, count: int) -> list[str]:
    taken = {a.name for a in wiring.accessories}
    names = []
    for number in range(1, count + 1):
        part = f"{name}, part {number} of {count}"
        while part in taken:
            part += "'"
        names.append(part)
    return names


def _parted(wiring: Wiring, name: str, names: list[str]) -> Wiring:
    cables = [cable for cable in cables_in_order(wiring.cables) if name in cable.ends]
    order = {single: i for i, single in enumerate(dict.fromkeys(whole(cable.name) for cable in cables))}
    share = {cable.name: names[order[whole(cable.name)] * len(names) // len(order)] for cable in cables}
    renamed = tuple(
        _at_part(cable, name, share[cable.name]) if cable.name in share else cable for cable in wiring.cables
    )
    ways = tuple(replace(way, accessory=part, number=(way.number + part.removeprefix(name)).lstrip(", "))
                 for way in wiring.board.ways if way.accessory == name for part in names)
    accessories: list[Accessory] = []
    for accessory in wiring.accessories:
        if accessory.name == name:
            kinds = _kinds(accessory.kind, [_landed(renamed, part) for part in names])
            accessories += [replace(accessory, name=p, kind=kind) for p, kind in zip(names, kinds, strict=True)]
        elif accessory.hangs_from == name:
            holder = next((share[c.name] for c in cables if accessory.name in c.ends), names[0])
            accessories.append(replace(accessory, hangs_from=holder))
        else:
            accessories.append(accessory)
    board = replace(wiring.board, ways=(*wiring.board.ways, *ways))
    return replace(wiring, accessories=tuple(accessories), cables=renamed, board=board)


def _at_part(cable: Cable, name: str, part: str) -> Cable:
    def moved(end: CoreEnd) -> CoreEnd:
        return replace(end, accessory=part) if end.accessory == name else end

    a, b = cable.ends
    cores = tuple(replace(core, ends=(moved(core.ends[0]), moved(core.ends[1]))) for core in cable.cores)
    return replace(cable, ends=(part if a == name else a, part if b == name else b), cores=cores)


def _landed(cables: tuple[Cable, ...], part: str) -> frozenset[str]:
    """The terminals on which something is landed in a part."""
    ends = (end for cable in cables if part in cable.ends for core in cable.cores for end in core.ends)
    return frozenset(end.terminal for end in ends if end.accessory == part and end.terminal is not None)


def _kinds(kind: AccessoryKind, landed: list[frozenset[str]]) -> list[AccessoryKind]:
    """The kind with the terminals that each part shows.

    A part shows what is landed in it and all that the same switch or load joins; the terminals of no part are shared
    out evenly.
    """
    groups = _joined(kind)
    shown = [{t for group in groups if group & used for t in group} for used in landed]
    rest = [group for group in groups if not any(group & names for names in shown)]
    for i, group in enumerate(rest):
        shown[i * len(shown) // len(rest)] |= group
    return [
        replace(
            kind, terminals=tuple(t for t in kind.terminals if t.name in names),
            face=tuple(row for row in kind.face if names.issuperset(row)),
        )
        for names in shown
    ]


def _joined(kind: AccessoryKind) -> list[set[str]]:
    """Terminals that must be seen together: of one switch, of one load, of one row of the face."""
    groups = [{t.name} for t in kind.terminals]
    together = [{t for p in s.positions for pair in p.joins for t in pair} for s in kind.switches]
    together += [{load.a, load.b} for load in kind.loads] + [set(row) for row in kind.face]
    for names in together:
        met = [group for group in groups if group & names]
        groups = [group for group in groups if not group & names]
        groups.append(set().union(*met))
    order = {t.name: i for i, t in enumerate(kind.terminals)}
    return sorted((g for g in groups if g), key=lambda group: min(order[name] for name in group))


def under_their_names(layout: Layout, parting: Division) -> Layout:
    """The layout with every part under the name of its accessory; what is written in it stays."""
    if not parting.whole:
        return layout
    return replace(layout, sheets=tuple(_renamed(sheet, parting.whole) for sheet in layout.sheets))


def _renamed(sheet: Sheet, whole: Mapping[str, str]) -> Sheet:
    def place(p: AccessoryPlace) -> AccessoryPlace:
        return replace(p, name=whole.get(p.name, p.name))

    def core_end(p: CoreEndPlace) -> CoreEndPlace:
        return replace(p, accessory=whole.get(p.accessory, p.accessory))

    def sheath_end(end: SheathEnd) -> SheathEnd:
        return replace(end, accessory=whole.get(end.accessory, end.accessory))

    def sheath(p: SheathPlace) -> SheathPlace:
        return replace(p, sheath_ends=tuple(sheath_end(end) for end in p.sheath_ends))

    return replace(
        sheet, accessories=tuple(map(place, sheet.accessories)), core_ends=tuple(map(core_end, sheet.core_ends)),
        sheaths=tuple(map(sheath, sheet.sheaths)),
        passing=tuple(replace(p, accessory=whole.get(p.accessory, p.accessory)) for p in sheet.passing),
    )
