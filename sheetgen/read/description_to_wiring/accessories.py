"""The accessories: each word of the description becomes a kind with its options applied."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from sheetgen.catalogue import accessories as catalogue
from sheetgen.catalogue.accessories.entry import BadOption, with_connectors
from sheetgen.catalogue.accessories.lamps import DEFAULT_WATTS, NO_LAMP, lampholder
from sheetgen.catalogue.cables import find_type, read_size, split_type
from sheetgen.model.accessory import (
    Accessory,
    AccessoryKind,
    Level,
    LoadKind,
    Meant,
    Position,
    SwitchKind,
    TerminalKind,
)
from sheetgen.model.description import YES_OR_NO, AccessoryText, KindText
from sheetgen.model.problems import nearest
from sheetgen.model.wiring import Cable, Core, CoreEnd
from sheetgen.read.description_to_wiring.enclosures import enclosed
from sheetgen.read.description_to_wiring.ledger import Ledger, folded

COMMON_OPTIONS = ("kind", "room", "note", "connectors", "ways", "metal", "opened", "in", "labels")
NO_LAMP_WORDS = ("none", "no", "no lamp", "nothing", "out")


def accessories_of(ledger: Ledger, ways: tuple[Accessory, ...]) -> tuple[tuple[Accessory, ...], tuple[Cable, ...]]:
    """Every accessory, the ways first, each rose followed by the lamp that hangs from it; and the flexes."""
    made: list[Accessory] = list(ways)
    flexes: list[Cable] = []
    taken = {folded(w.name): w.name for w in ways}
    for name, text in ledger.description.content.accessories.items():
        if folded(name) in taken:
            ledger.note(("accessories", name), "E305", f"'{name}' and '{taken[folded(name)]}' read alike.",
                        "Give one of them another name.")
            continue
        taken[folded(name)] = name
        kind = _kind(ledger, name, text)
        if kind is None:
            continue
        accessory = Accessory(name, kind, text.room, note=text.note, at=ledger.mark(("accessories", name)),
                              opened=text.opened, labels=_labels(ledger, name, kind, text.labels))
        extra = text.model_extra or {}
        if kind.level is Level.PENDANT:
            accessory = replace(accessory, hangs_from=str(extra.get("hangs from", "")))
        made.append(accessory)
        if kind.name.startswith("ceiling rose") and _has_lamp(ledger, accessory, extra):
            lamp, flex = _pendant(ledger, accessory, extra, len(flexes) + 1)
            made.append(lamp)
            flexes.append(flex)
    return enclosed(ledger, _hung(ledger, tuple(made))), tuple(flexes)


def _labels(ledger: Ledger, name: str, kind: AccessoryKind, words: Mapping[str, str]) -> tuple[tuple[str, str], ...]:
    """The terminals as printed on the real thing: canonical name, printed name; each printed name once."""
    found: dict[str, str] = {}
    for word, printed in words.items():
        path = ("accessories", name, "labels", word)
        terminal = find_terminal(kind, word)
        if terminal is None:
            ledger.note(path, "E317", f"'{name}' ({kind.name}) has no terminal '{word}'.",
                        nearest(word, (t.name for t in kind.terminals)))
        elif not printed.strip() or folded(printed) in map(folded, found.values()):
            ledger.note(path, "E327", f"'{printed}' cannot be printed at '{word}'.",
                        "Each terminal has a name of its own.")
        else:
            found[terminal] = printed.strip()
    return tuple((t.name, found[t.name]) for t in kind.terminals if t.name in found)


def _kind(ledger: Ledger, name: str, text: AccessoryText) -> AccessoryKind | None:
    path = ("accessories", name)
    own = {folded(k): (k, v) for k, v in ledger.description.content.kinds.items()}
    extra = dict(text.model_extra or {})
    options: tuple[str, ...]
    kind: AccessoryKind | None
    if folded(text.kind) in own:
        entry, options = None, ()
        kind = _own_kind(ledger, *own[folded(text.kind)])
    else:
        entry, said = catalogue.understood(text.kind)
        extra = {**said, **extra}
        if entry is None:
            if text.kind not in ledger.description.broken:
                ledger.note((*path, "kind"), "E306", f"There is no accessory called '{text.kind}'.",
                            nearest(text.kind, (*ledger.description.content.kinds, *catalogue.names())))
            return None
        options = entry.options
        kind = None
    for option in list(extra):
        if option not in options and option not in COMMON_OPTIONS:
            ledger.note((*path, option), "E201", f"'{option}' is not known for a {text.kind}.",
                        nearest(option, (*options, *COMMON_OPTIONS)))
            del extra[option]
    if "lamp" in extra:
        extra["lamp"] = _lamp(ledger, extra["lamp"], (*path, "lamp"))
    try:
        kind = entry.build(extra) if entry else kind
        if kind is None:
            return None
        kind = with_connectors(kind, tuple(text.connectors))
    except BadOption as bad:
        ledger.note(path, "E307", str(bad))
        return None
    metal = YES_OR_NO.get(str(extra.get("metal", "no")).strip().casefold())
    if metal is None:
        ledger.note((*path, "metal"), "E209", f"'metal': '{extra['metal']}' is neither yes nor no.", "Write yes or no.")
    if metal:
        kind = replace(kind, flags=kind.flags | {"metal"})
    return _with_ways(ledger, kind, text.ways, path)


def _with_ways(ledger: Ledger, kind: AccessoryKind, ways: dict[str, int], path: tuple[str, ...]) -> AccessoryKind:
    for word, count in ways.items():
        name = find_terminal(kind, word)
        if name is None or not 0 <= count <= 12:
            ledger.note((*path, "ways", word), "E308", f"'ways' says how many conductors a terminal takes: "
                        f"{{N: 4}}, not {{{word}: {count}}}.", nearest(word, (t.name for t in kind.terminals)))
            continue
        kind = replace(kind, terminals=tuple(
            replace(t, ways=count, rows=min(count, 4) if t.rows > 1 else 1, to_be_empty=count == 0)
            if t.name == name else t for t in kind.terminals))
    return kind


def find_terminal(kind: AccessoryKind, word: str) -> str | None:
    """The canonical name of the terminal a word means, or None. Canonical names win over aliases."""
    tidy = word.strip()
    for same in (str, _without_signs, _run_together):
        for terminal in kind.terminals:
            if same(tidy) == same(terminal.name):
                return terminal.name
        for terminal in kind.terminals:
            if any(same(tidy) == same(alias) for alias in terminal.aliases):
                return terminal.name
    return None


def _without_signs(word: str) -> str:
    return folded(word).replace(" ", ".").replace("/", ".")


def _run_together(word: str) -> str:
    """'1in' and 'L in' as people run them together."""
    return folded(word).replace(" ", "")


def _own_kind(ledger: Ledger, name: str, text: KindText) -> AccessoryKind | None:
    """An accessory defined in the description: its terminals, positions and loads."""
    path = ("kinds", name)
    known = tuple(dict.fromkeys(text.terminals))

    def terminal(word: str, *where: str | int) -> str:
        if word not in known:
            ledger.note((*path, *where), "E309", f"'{name}' has no terminal '{word}'.", nearest(word, known))
        return word

    positions = []
    for position, joins in text.positions.items():
        pairs = [j for j in joins if len(j) == 2 and j[0] != j[1]]
        if len(pairs) < len(joins):
            ledger.note((*path, "positions", position), "E310", "A position joins terminals in pairs of two: [[A, B]].")
        positions.append(Position(position, tuple(
            (terminal(a, "positions", position), terminal(b, "positions", position)) for a, b in pairs)))
    for i, load in enumerate(text.loads):
        if load.from_ == load.to:
            ledger.note((*path, "loads", i), "E310",
                        f"A load lies between two terminals, not from '{load.to}' to itself.")
    loads = tuple(
        LoadKind(terminal(load.from_, "loads", i, "from"), terminal(load.to, "loads", i, "to"),
                 ledger.quantity(load.load, "W", "8 W", (*path, "loads", i, "load")) or Fraction(8),
                 name=str(i + 1) if len(text.loads) > 1 else "", what=load.what)
        for i, load in enumerate(text.loads))
    meant = {"E": Meant.EARTH, "N": Meant.NEUTRAL, "L": Meant.LINE}
    return AccessoryKind(
        name, Level(text.level), tuple(TerminalKind(t, meant.get(t, Meant.ANY)) for t in known),
        tuple((t,) for t in known),
        (SwitchKind(tuple(positions), what="own"),) if positions else (), loads, letter="E" if loads else "Q",
    )


def _pendant(ledger: Ledger, rose: Accessory, extra: Mapping[str, object], number: int) -> tuple[Accessory, Cable]:
    """The lampholder and flex that `lamp:` of a rose stands for."""
    lamp_name = f"{rose.name} lamp"
    path = ("accessories", rose.name)
    try:
        kind = lampholder({**({"lamp": _lamp(ledger, extra["lamp"], (*path, "lamp"))} if "lamp" in extra else {}),
                           **({"cap": extra["cap"]} if "cap" in extra else {})})
    except BadOption as bad:
        ledger.note(path, "E307", str(bad))
        kind = lampholder({})
    colours = ledger.colour_set(str(extra.get("flex", "")), "accessories", rose.name, "flex") or "current"
    line, neutral = ledger.sets[colours].cores["two-core flex"]
    name, cables = f"Flex {number}", ledger.description.content.cables
    while name in cables:
        number += 100
        name = f"Flex {number}"
    ends = (rose.name, lamp_name)
    flex = Cable(
        name, "two-core flex", read_size("0.75"), sheath="flex", colours=colours, ends=ends, at=rose.at, assumed=True,
        cores=(
            Core(name, 1, line, (CoreEnd(rose.name, "SL"), CoreEnd(lamp_name, "L"))),
            Core(name, 2, neutral, (CoreEnd(rose.name, "N"), CoreEnd(lamp_name, "N"))),
        ),
    )
    lamp = Accessory(lamp_name, kind, rose.room, hangs_from=rose.name, at=rose.at, assumed="lamp" not in extra)
    return lamp, flex


def _lamp(ledger: Ledger, word: object, path: tuple[str, ...]) -> Fraction | str:
    """A lamp's watts, or that there is none in its holder."""
    if str(word).strip().casefold() in NO_LAMP_WORDS:
        return NO_LAMP
    return ledger.quantity(word, "W", "8 W", path) or DEFAULT_WATTS


def _has_lamp(ledger: Ledger, rose: Accessory, extra: Mapping[str, object]) -> bool:
    """A lamp hangs from a rose, unless it says `lamp: none` or the description has a flex or a lampholder at it."""
    if "lamp" in extra:
        return str(extra["lamp"]).strip().casefold() not in NO_LAMP_WORDS
    content = ledger.description.content
    flexes = any(
        folded(rose.name) in (folded(cable.from_), folded(cable.to)) and _is_flex(cable.type)
        for cable in content.cables.values())
    hung = any(folded(str((text.model_extra or {}).get("hangs from", ""))) == folded(rose.name)
               for text in content.accessories.values())
    return not (flexes or hung)


def _is_flex(words: str) -> bool:
    cable_type = find_type(split_type(words)[0])
    return cable_type is not None and cable_type.sheath == "flex"


def _hung(ledger: Ledger, accessories: tuple[Accessory, ...]) -> tuple[Accessory, ...]:
    """Lampholders described on their own hang from the accessory they name, or the one their flex comes from."""
    names = {folded(a.name): a.name for a in accessories}
    cables = ledger.description.content.cables
    hung = []
    for accessory in accessories:
        if accessory.kind.level is Level.PENDANT:
            asked = accessory.hangs_from
            partners = [c.to if folded(c.from_) == folded(accessory.name) else c.from_ for c in cables.values()
                        if folded(accessory.name) in (folded(c.from_), folded(c.to))]
            holder = names.get(folded(asked or (partners[0] if partners else "")), "")
            if asked and not holder:
                ledger.note(("accessories", accessory.name, "hangs from"), "E311",
                            f"There is no accessory called '{asked}'.", nearest(asked, names.values()))
            accessory = replace(accessory, hangs_from=holder)
        hung.append(accessory)
    return tuple(hung)
