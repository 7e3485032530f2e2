"""Accessory by accessory, terminal by terminal: which core, its sleeve, its cable, where it goes and what it does."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.catalogue.colours import CODES
from sheetgen.circuit.shorts import always_in_short
from sheetgen.model.accessory import Accessory, Terminal, TerminalKind
from sheetgen.model.page import Block, Cell, Columns, Heading, Page, Swatch, Table, Words
from sheetgen.model.reading import Role, Sleeve, Standing
from sheetgen.model.wiring import Cable
from sheetgen.model.words import CAUTION_SHORT, joined
from sheetgen.pages.isolating import together
from sheetgen.pages.lookup import Landing, Lookup
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.sleeves import sleeves_to_fit

NO_HEAD = ("",) * 4
FOUND_AT, END_NOT_SEEN = "Found at", "end not seen"
IN_SHORT = "in the short"
PASSES = "passes uncut"
EACH_LINE = "Each line: terminal, core with the sleeve on this end in brackets, where it goes, what it does."
TOGETHER = 34  # letters of the places where like cpcs go; with more each has a line of its own
SHORT = 14  # letters of the names of accessories and cables where three columns have room


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page for all accessories, in the order of the description."""
    boxed = not {"card", "tests"} <= lookup.kinds  # in a whole set the box stands on the sheets before and after
    opening: list[Block] = [Words(CAUTION_SHORT, "caution" if boxed else "plain", "Caution.")]
    if "wiring" not in lookup.kinds:
        opening.append(Words(sleeves_to_fit(lookup), lead="Sleeves."))
    if lookup.recoloured:
        opening.insert(0, Words(lookup.recoloured, "notice", "Colours are not as found."))
    opening.append(Words(EACH_LINE, "quiet"))
    groups = tuple(tuple(_accessory(lookup, a)) for a in lookup.wiring.accessories)
    columns = Columns(groups, 3 if _short_names(lookup) else 2, whole=True)
    return (Page("connections", "Connections", (*opening, columns), follows=True),)


def _short_names(lookup: Lookup) -> bool:
    names = (*lookup.accessories, *(c.name for c in lookup.wiring.cables))
    return all(len(name) <= SHORT for name in names)


def _accessory(lookup: Lookup, accessory: Accessory) -> list[Block]:
    note = ", ".join(dict.fromkeys(filter(None, (accessory.kind.name, accessory.room))))
    name = accessory.name
    way = lookup.wiring.way(accessory.name)
    if way:
        note = ", ".join(filter(None, (lookup.wiring.board.name, way.serves)))
        name = way.printed if way.number else way.titled
    if not accessory.seen:
        return [Heading(name, 3), _to_be_found(lookup.landings[accessory.name])]
    blocks: list[Block] = [Heading(name, 3, note)]
    blocks += [Words(f.says, "danger", "Danger.") for f in lookup.dangers.get(accessory.name, ())]
    if isolate := together(lookup, accessory):
        blocks.append(Words(isolate, "danger", "Several circuits."))
    rows: list[tuple[Cell, ...]] = []
    tones: list[str] = []
    unsure = any(end.here.unknown for end in lookup.landings[accessory.name])
    seen = lookup.wiring.looked_into(accessory)
    for terminal in accessory.kind.terminals:
        if terminal.inner:
            continue  # a point within the accessory, for no conductor
        node = accessory.terminal(terminal.name)
        landed = [end for end in lookup.landings[accessory.name] if end.here.node == node]
        found = _landed(lookup, lookup.label(node), landed)
        rows += found or [_empty(lookup, node, _why_empty(terminal, unsure, seen))]
        tones += [""] * len(found) or ["quiet"]
    loose = [end for end in lookup.landings[accessory.name] if end.here.node is None]
    rows += _landed(lookup, "on nothing", [end for end in loose if not end.here.unknown])
    rows += _landed(lookup, "not known", [end for end in loose if end.here.unknown])
    tones += ["strong"] * len(loose)
    through = [_passing(lookup, cable) for cable in lookup.passing_at(accessory.name)]
    rows += [(PASSES if i == 0 else "", *row) for i, row in enumerate(through)]
    tones += [""] * len(through)
    if rows:
        blocks.append(Table(NO_HEAD, tuple(rows), tones=tuple(tones), joined=1, plain=True))
    if accessory.note:
        blocks.append(Words(accessory.note, "quiet", "Note:"))
    return blocks


def _to_be_found(ends: Sequence[Landing]) -> Table:
    """Boxes for where the end of a cable that nobody has followed is found, and for the terminal of each core there."""
    head = (FOUND_AT, *(f"{end.core.label} on" for end in ends))
    return Table(head, (("",) * len(head),), (2.0, *(1.0 for _ in ends)), boxes=tuple(range(len(head))))


def _why_empty(terminal: TerminalKind, unsure: bool, seen: bool) -> str:
    """'empty', where that was seen. `unsure`: a core comes to the accessory of which nobody knows the terminal."""
    if not seen:
        return "not opened"
    if unsure:
        return "empty, or one of those not known"
    return "empty, and must stay so" if terminal.to_be_empty else "empty"


def _empty(lookup: Lookup, node: Terminal, says: str) -> tuple[Cell, ...]:
    return (lookup.label(node), says, "", "")


def _landed(lookup: Lookup, name: str, ends: list[Landing]) -> list[tuple[Cell, ...]]:
    rows = [_core(lookup, alike) for alike in _alike(lookup, ends)]
    return [(name if i == 0 else "", *row) for i, row in enumerate(rows)]


def _alike(lookup: Lookup, ends: list[Landing]) -> list[list[Landing]]:
    """The core ends of a terminal, each by itself; cpcs of one look, which go to terminals of one name, together."""
    groups: dict[tuple[str, ...], list[Landing]] = {}
    for end in ends:
        key: tuple[str, ...] = (end.core.key, str(end.end))
        if _role(lookup, end) == str(Role.CPC) and end.there.node and end.here.node and not end.cable.link:
            key = (end.core.colour, _look_of(lookup, end), lookup.label(end.there.node))
        groups.setdefault(key, []).append(end)
    return [part for group in groups.values()
            for part in ([group] if len(_places(lookup, group)) <= TOGETHER else [[end] for end in group])]


def _places(lookup: Lookup, ends: list[Landing]) -> str:
    return lookup.circuit.places(end.there.accessory for end in ends)


def _core(lookup: Lookup, ends: list[Landing]) -> tuple[Cell, ...]:
    """A row for one core end, or for several that look alike."""
    end = ends[0]
    core, there = end.core, end.there
    sleeve = lookup.sleeves.get((core.key, end.end))
    goes = lookup.label(there.node) + ", here" if end.cable.link and there.node else lookup.end(there)
    if not lookup.wiring.accessory(there.accessory).seen:
        goes = END_NOT_SEEN
    if len(ends) > 1 and there.node:
        goes = f"{lookup.label(there.node)} of {_places(lookup, ends)}"
    missing = sleeve is not None and sleeve.standing is Standing.MISSING
    shown = sleeve.colour if sleeve and missing else end.here.sleeve or ""
    wanted = sleeve is not None and sleeve.standing in (Standing.MISSING, Standing.WRONG)
    told = f"{joined(e.cable.name for e in ends)} {_look_of(lookup, end)}"
    return Swatch(core.colour, told, shown, missing, wanted), goes, _role(lookup, end)


def _passing(lookup: Lookup, cable: Cable) -> tuple[Cell, ...]:
    """A row for a single that passes uncut in its conduit: from where to where it goes."""
    (core,) = cable.cores
    ends = " to ".join(map(lookup.wiring.printed, cable.ends))
    told = f"{cable.name} {core.label}"
    return Swatch(core.colour, told, "", False, False), ends, str(lookup.job.reading.roles.get(core.key, ""))


def _role(lookup: Lookup, end: Landing) -> str:
    """What a core does; of one that is joined to a line and to what shorts it neither can be said."""
    if any(at.node and always_in_short(lookup.circuit, at.node) for at in end.core.ends):
        return IN_SHORT
    return str(lookup.job.reading.roles.get(end.core.key, ""))


def _look_of(lookup: Lookup, end: Landing) -> str:
    """A core's colour with the sleeve on this end, in words."""
    core = end.core
    explained = core.colour in ("", "GNYE") or "wiring" in lookup.kinds  # the legend of a drawing explains the codes
    words = core.label if explained else f"{core.label} {CODES[core.colour]}"
    return f"{words}{_sleeve(lookup.sleeves.get((core.key, end.end)), end)}"


def _sleeve(sleeve: Sleeve | None, end: Landing) -> str:
    """The sleeve in words, after those of the core: fitted, to fit, not needed, of the wrong colour."""
    if sleeve is None:
        return f" ({end.here.sleeve})" if end.here.sleeve else ""
    colour = sleeve.colour
    match sleeve.standing:
        case Standing.FITTED:
            return f" ({colour})"
        case Standing.MISSING:
            return f", {colour} sleeve to fit"
        case Standing.NEEDLESS:
            return f", {colour} sleeve not needed"
        case Standing.WRONG:
            return f", {sleeve.has} sleeve, {'to come off' if sleeve.comes_off else f'should be {colour}'}"


ENTRY = PageKind("connections", "each terminal: core, sleeve, where it goes, what it does", compose)
