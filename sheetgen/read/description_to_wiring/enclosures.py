"""Two accessories in one enclosure are one: the terminals of the inner one stand beside the outer's, as 'Relay.S1'.

So layout, solution and pages need no second notion, as with the lone connectors that lie in a box.
"""

from __future__ import annotations

from dataclasses import replace

from sheetgen.model.accessory import Accessory, AccessoryKind, Level, TerminalKind
from sheetgen.model.problems import nearest
from sheetgen.read.description_to_wiring.ledger import Ledger, folded

NOT_WITHIN = (Level.BOARD, Level.PENDANT)


def enclosed(ledger: Ledger, accessories: tuple[Accessory, ...]) -> tuple[Accessory, ...]:
    """The accessories, each that lies in another taken into it."""
    texts = ledger.description.content.accessories
    by_name = {folded(a.name): a for a in accessories}
    inner: dict[str, str] = {}  # name -> the accessory it lies in
    for accessory in accessories:
        word = texts[accessory.name].in_ if accessory.name in texts else ""
        if not word:
            continue
        outer = by_name.get(folded(word))
        path = ("accessories", accessory.name, "in")
        if outer is None:
            ledger.note(path, "E311", f"There is no accessory called '{word}'.",
                        nearest(word, (a.name for a in accessories)))
        elif outer is accessory or texts.get(outer.name) is None or texts[outer.name].in_ or (
                {outer.kind.level, accessory.kind.level} & set(NOT_WITHIN)):
            ledger.note(path, "E326", f"'{accessory.name}' cannot lie in '{outer.name}'.",
                        "Name the rose, switch or box in whose enclosure it is.")
        elif "." in accessory.name:
            ledger.note(path, "E326", f"'{accessory.name}' has a full stop, so 'Name.terminal' cannot be read.",
                        "Give it another name.")
        else:
            inner[accessory.name] = outer.name
    hosts = {name: name for name in inner.values()}
    return tuple(
        _holding(a, tuple(other for other in accessories if inner.get(other.name) == a.name)) if a.name in hosts else a
        for a in accessories if a.name not in inner)


def _holding(outer: Accessory, held: tuple[Accessory, ...]) -> Accessory:
    kind = outer.kind
    for accessory in held:
        kind = _joined(kind, accessory.name, accessory.kind)
    labels = tuple((f"{a.name}.{t}", f"{a.name}.{label}") for a in held for t, label in a.labels)
    return replace(outer, kind=kind, labels=(*outer.labels, *labels), holds=tuple(a.name for a in held))


def _joined(outer: AccessoryKind, name: str, kind: AccessoryKind) -> AccessoryKind:
    def within(word: str) -> str:
        return f"{name}.{word}"

    def terminal(each: TerminalKind) -> TerminalKind:
        return replace(each, name=within(each.name), aliases=tuple(map(within, each.aliases)))

    def part(word: str) -> str:
        return f"{name} {word}".strip()

    return replace(
        outer, name=f"{outer.name}, with a {kind.name} in it",
        terminals=(*outer.terminals, *map(terminal, kind.terminals)),
        face=(*outer.face, *(tuple(map(within, row)) for row in kind.face)),
        switches=(*outer.switches, *(replace(s, name=part(s.name), positions=tuple(
            replace(p, joins=tuple((within(a), within(b)) for a, b in p.joins)) for p in s.positions))
            for s in kind.switches)),
        loads=(*outer.loads, *(replace(each, a=within(each.a), b=within(each.b), name=part(each.name))
                               for each in kind.loads)),
        ports=(*outer.ports, *((within(p), within(t)) for p, t in kind.ports)),
        flags=outer.flags | (kind.flags - {"joint box", "class II", "class I"}),
    )
