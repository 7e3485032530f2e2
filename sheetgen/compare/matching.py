"""Which accessory of one wiring is which of another, and the other wiring in the words of the first.

By name first, then by room and family. Where an accessory that is there can do the work of the wanted one (it has a
terminal for every port that is used), it stays, and the wanted wiring is said in its terminals.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from sheetgen.model.accessory import Accessory, AccessoryKind, Level
from sheetgen.model.wiring import Cable, CoreEnd, Wiring


class NoMatch(ValueError):
    """The two wirings are not of the same lights; the message is for the reader."""


def in_the_words_of(before: Wiring, after: Wiring) -> Wiring:
    """The wanted wiring with the names of what is there already. NoMatch where they are other circuits."""
    match = dict(_pairs(before, after))
    _same_circuit(before, after, match)
    names = _names(before, after, match)
    kept = {b: a for a, b in match.items() if _can_stay(before.accessory(b), after.accessory(a), after)}
    drop = _needless_lamps(before, after, match, kept)
    accessories = tuple(
        _accessory(a, names, before.accessory(match[a.name]) if match.get(a.name) in kept else None)
        for a in after.accessories if a.name not in drop
    )
    cables = tuple(
        _cable(c, names, {a: (before.accessory(b).kind, after.accessory(a).kind) for b, a in kept.items()})
        for c in after.cables if not drop & set(c.ends)
    )
    lamps, flexes = _own_pendants(before, after, kept)
    ways = tuple(replace(w, accessory=names[w.accessory]) for w in after.board.ways)
    board = replace(after.board, ways=ways)
    return replace(after, accessories=accessories + lamps, cables=cables + flexes, board=board)


def counterparts(before: Wiring, after: Wiring) -> dict[str, str]:
    """What is there already -> the accessory of the wanted wiring that is the same thing."""
    return {there: wanted for wanted, there in _pairs(before, after)}


def family(accessory: Accessory) -> str:
    """What sort of thing it is, for the purpose of finding its counterpart."""
    kind = accessory.kind
    if kind.level in (Level.BOARD, Level.PENDANT):
        return kind.level
    if kind.switches:
        return "switch"
    if "joint box" in kind.flags:
        return "joint box"
    return "light" if kind.loads or "switched line" in dict(kind.ports) else kind.name


def _pairs(before: Wiring, after: Wiring) -> Iterator[tuple[str, str]]:
    """(name after, name before), each name once."""
    free = {a.name: a for a in before.accessories if a.kind.level is not Level.PENDANT}
    wanted = [a for a in after.accessories if a.kind.level is not Level.PENDANT]
    lamps = {a.hangs_from: a.name for a in before.accessories if a.kind.level is Level.PENDANT}
    hung = {a.hangs_from: a.name for a in after.accessories if a.kind.level is Level.PENDANT}
    for same in (_same_name, _same_room, _only_one):
        for accessory in list(wanted):
            found = next((b for b in free.values() if same(accessory, b, after, before)), None)
            if found:
                wanted.remove(accessory)
                del free[found.name]
                yield accessory.name, found.name
                if accessory.name in hung and found.name in lamps:
                    yield hung[accessory.name], lamps[found.name]


def _same_name(a: Accessory, b: Accessory, after: Wiring, before: Wiring) -> bool:
    return a.name.casefold() == b.name.casefold() and family(a) == family(b)


def _same_room(a: Accessory, b: Accessory, after: Wiring, before: Wiring) -> bool:
    return bool(a.room) and a.room.casefold() == b.room.casefold() and family(a) == family(b)


def _only_one(a: Accessory, b: Accessory, after: Wiring, before: Wiring) -> bool:
    """Each side has only one way, or only one light."""
    def alone(accessory: Accessory, wiring: Wiring) -> bool:
        return sum(family(x) == family(accessory) for x in wiring.accessories) == 1

    return family(a) == family(b) and family(a) in (Level.BOARD, "light") and alone(a, after) and alone(b, before)


def _same_circuit(before: Wiring, after: Wiring, match: Mapping[str, str]) -> None:
    """At least one light and every way of the wanted wiring have their counterpart."""
    lights = {a.name for a in after.accessories if family(a) == "light"}
    if not lights & set(match):
        raise NoMatch("No light of the one is a light of the other, by name or by room.")
    for way in after.board.ways:
        if way.accessory not in match:
            raise NoMatch(f"There is no {way.accessory} on the other board; give the ways the same numbers.")


def _names(before: Wiring, after: Wiring, match: Mapping[str, str]) -> dict[str, str]:
    """The name each accessory of the wanted wiring is to have; a new one keeps its own unless that is taken."""
    names, taken = dict(match), {a.name for a in before.accessories}
    for accessory in after.accessories:
        if accessory.name not in names:
            name, number = accessory.name, 2
            while name in taken:
                name, number = f"{accessory.name} {number}", number + 1
            names[accessory.name] = name
            taken.add(name)
    return names


def _can_stay(there: Accessory, wanted: Accessory, after: Wiring) -> bool:
    """It has a terminal for all that is landed on the wanted one, with room for it, and the same switches."""
    if [(s.name, s.what) for s in there.kind.switches] != [(s.name, s.what) for s in wanted.kind.switches]:
        return False
    landed = [end.terminal for core in after.cores() for end in core.ends
              if end.accessory == wanted.name and end.terminal is not None]
    for terminal in dict.fromkeys(landed):
        name = _translated(terminal, there.kind, wanted.kind)
        if name is None:
            return False
        if name in {t.name for t in there.kind.terminals} and there.kind.terminal(name).ways < landed.count(terminal):
            return False
    return True


def _translated(terminal: str, there: AccessoryKind, wanted: AccessoryKind) -> str | None:
    """The terminal of what is there that does what a terminal of the wanted one does, by their ports."""
    if wanted.terminal(terminal).connector:
        return terminal
    ports = dict(there.ports)
    own = [port for port, name in wanted.ports if name == terminal]
    found = next((ports[port] for port in own if port in ports), None)
    if found is None and not own and terminal in {t.name for t in there.terminals}:
        return terminal
    return found


def _needless_lamps(before: Wiring, after: Wiring, match: Mapping[str, str], kept: Mapping[str, str]) -> set[str]:
    """Lamps on a flex that are not wanted, because the light that stays holds its lamp itself."""
    return {a.name for a in after.accessories if a.kind.level is Level.PENDANT
            and match.get(a.hangs_from) in kept and before.accessory(match[a.hangs_from]).kind.loads}


def _own_pendants(before: Wiring, after: Wiring,
                  kept: Mapping[str, str]) -> tuple[tuple[Accessory, ...], tuple[Cable, ...]]:
    """Lamps and flexes of roses that stay where the wanted light holds its lamp itself."""
    lamps = tuple(a for a in before.accessories if a.kind.level is Level.PENDANT
                  and a.hangs_from in kept and after.accessory(kept[a.hangs_from]).kind.loads)
    names = {a.name for a in lamps}
    return lamps, tuple(c for c in before.cables if names & set(c.ends))


def _accessory(wanted: Accessory, names: Mapping[str, str], there: Accessory | None) -> Accessory:
    """The wanted accessory under its name; what stays gets only the connectors that are wanted in it."""
    hangs = names.get(wanted.hangs_from, "")
    if there is None:
        return replace(wanted, name=names[wanted.name], hangs_from=hangs)
    own = tuple(t for t in there.kind.terminals if not t.connector)
    connectors = tuple(t for t in wanted.kind.terminals if t.connector)
    face = tuple(row for row in there.kind.face if not any(there.kind.terminal(n).connector for n in row))
    kind = replace(there.kind, terminals=own + connectors, face=face + tuple((t.name,) for t in connectors))
    return replace(there, kind=kind)


def _cable(cable: Cable, names: Mapping[str, str], kinds: Mapping[str, tuple[AccessoryKind, AccessoryKind]]) -> Cable:
    def end(e: CoreEnd) -> CoreEnd:
        terminal = e.terminal
        if terminal is not None and e.accessory in kinds:
            there, wanted = kinds[e.accessory]
            terminal = _translated(terminal, there, wanted)
        return replace(e, accessory=names[e.accessory], terminal=terminal)

    cores = tuple(replace(core, ends=(end(core.ends[0]), end(core.ends[1]))) for core in cable.cores)
    return replace(cable, cores=cores, ends=(names[cable.ends[0]], names[cable.ends[1]]))
