"""A single that passes boxes uncut is laid out stretch by stretch, in the conduit that it shares, and joined again.

In each box that it passes both its stretches are landed on a row of the strip that stands for no terminal: it is placed
where the fewest conductors cross, as a loose connector is. When all is laid out the row goes, and the two become one
conductor.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from sheetgen.circuit.conduit import passed_by, stretches
from sheetgen.model.accessory import Accessory, TerminalKind
from sheetgen.model.layout import (
    AccessoryPlace,
    ConductorPlace,
    CoreEndPlace,
    Layout,
    MarkPlace,
    PassingPlace,
    SheathEnd,
    SheathPlace,
    Sheet,
    Tag,
)
from sheetgen.model.wiring import Cable, CoreEnd, Wiring

STRETCH = "\x1f"  # between the name of a single and the number of its stretch: no name that is read can hold it


def whole(name: str) -> str:
    """The single that a stretch is of; any other name as it is."""
    return name.partition(STRETCH)[0]


def in_stretches(wiring: Wiring) -> Wiring:
    """The wiring with every single that passes boxes as one from box to box."""
    passed = passed_by(wiring)
    if not passed:
        return wiring
    rows: dict[str, list[str]] = {}
    for name, boxes in passed.items():
        for box in boxes:
            rows.setdefault(box, []).append(_row(name))
    accessories = tuple(_with_rows(a, rows[a.name]) if a.name in rows else a for a in wiring.accessories)
    cables = tuple(
        part for cable in wiring.cables
        for part in (_stretches(cable, stretches(cable, passed)) if cable.name in passed else (cable,)))
    return replace(wiring, accessories=accessories, cables=cables)


def _row(single: str) -> str:
    return STRETCH + single


def _with_rows(accessory: Accessory, rows: Iterable[str]) -> Accessory:
    kinds = tuple(TerminalKind(row, connector=True) for row in rows)
    kind = replace(accessory.kind, terminals=(*accessory.kind.terminals, *kinds))
    return replace(accessory, kind=kind, labels=(*accessory.labels, *((row, "") for row in rows)))


def _stretches(cable: Cable, ways: list[tuple[str, str]]) -> Iterator[Cable]:
    row = _row(cable.name)
    for number, way in enumerate(ways):
        name = f"{cable.name}{STRETCH}{number}"
        first, last = number == 0, number == len(ways) - 1
        cores = tuple(
            replace(core, cable=name, ends=(
                core.ends[0] if first else CoreEnd(way[0], row), core.ends[1] if last else CoreEnd(way[1], row)))
            for core in cable.cores)
        yield replace(cable, name=name, ends=way, cores=cores)


def joined(layout: Layout) -> Layout:
    """The layout with every single whole again."""
    return replace(layout, sheets=tuple(map(_joined, layout.sheets)))


def _joined(sheet: Sheet) -> Sheet:
    passing: dict[tuple[str, str], list[CoreEndPlace]] = {}
    ends: list[CoreEndPlace] = []
    for end in sheet.core_ends:
        if (end.terminal or "").startswith(STRETCH):
            passing.setdefault((end.accessory, whole_core(end.core)), []).append(end)
        else:
            ends.append(replace(end, core=whole_core(end.core)))
    pieces = {(piece.core, end): piece for piece in sheet.conductors for end in piece.ends}
    through: list[ConductorPlace] = []
    taken: set[tuple[str, int]] = set()
    for (_, core), (one, other) in passing.items():
        taken |= {(one.core, one.end), (other.core, other.end)}
        points = (*pieces[one.core, one.end].points[::-1], *pieces[other.core, other.end].points)
        through.append(ConductorPlace(core, (), points, (len(points), 0)))
    conductors = tuple(
        replace(piece, core=whole_core(piece.core)) for piece in sheet.conductors
        if not any((piece.core, end) in taken for end in piece.ends))
    return replace(
        sheet, accessories=tuple(map(_accessory, sheet.accessories)), conductors=(*conductors, *through),
        core_ends=tuple(ends), sheaths=tuple(map(_sheath, sheet.sheaths)), tags=tuple(map(_tag, sheet.tags)),
        marks=tuple(map(_mark, sheet.marks)),
        passing=tuple(PassingPlace(core, at, one.code) for (at, core), (one, _) in passing.items()),
    )


def whole_core(key: str) -> str:
    """The key of the core that one of a stretch is of."""
    cable, _, index = key.rpartition("/")
    return f"{whole(cable)}/{index}"


def _accessory(place: AccessoryPlace) -> AccessoryPlace:
    return replace(place, terminals=tuple(t for t in place.terminals if not t.terminal.startswith(STRETCH)))


def _sheath(place: SheathPlace) -> SheathPlace:
    def end(at: SheathEnd) -> SheathEnd:
        return replace(at, cable=whole(at.cable))

    return replace(place, cable=whole(place.cable), trunk=tuple(map(whole, place.trunk)),
                   sheath_ends=tuple(map(end, place.sheath_ends)))


def _tag(tag: Tag) -> Tag:
    return replace(tag, cable=whole(tag.cable))


def _mark(mark: MarkPlace) -> MarkPlace:
    return replace(mark, cables=tuple(map(whole, mark.cables)))
