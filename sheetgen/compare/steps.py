"""The steps from one wiring to another, and what each does to the wiring.

Cables that are there stay where the wanted wiring has one of their type between the same accessories; their cores are
used so that the fewest ends have to be moved. Every step can be done on a dead circuit and leaves every core end on a
terminal that is there, or in nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from sheetgen.catalogue.colours import CODES
from sheetgen.compare.keeping import Kept, Spoils, kept_cables
from sheetgen.model.accessory import Accessory, SwitchKind, TerminalKind
from sheetgen.model.comparison import ChangeStep, Does
from sheetgen.model.reading import Sleeve, Standing
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring
from sheetgen.model.words import cable_words, joined

Printed = Callable[[str], str]  # an accessory's name as it is read

def steps_between(before: Wiring, wanted: Wiring, renew: bool = False,
                  spoils: Spoils = lambda have, want: False) -> tuple[tuple[ChangeStep, ...], Wiring]:
    """The steps but the sleeves, and the wiring they lead to. `wanted` is in the names of `before`.

    With `renew` cables of another colour set are not kept. `spoils` is explained where cables are kept.
    """
    steps: list[ChangeStep] = []
    wiring = before

    def do(new: Iterable[ChangeStep]) -> None:
        nonlocal wiring
        for step in new:
            steps.append(step)
            wiring = apply(wiring, step)

    kept, added = kept_cables(before, wanted, renew, spoils)
    gone = [c for c in before.cables if c.name not in kept]
    do(ChangeStep(Does.TAKE_OUT_CABLE, f"Take out {_called(c, before.printed)}.", cable=c) for c in gone)
    do(_accessories(wiring, wanted))
    do(_added({c.name for c in before.cables}, added, before.printed))
    do(_moves(wiring, kept))
    do(_tidied(wiring, wanted))
    return tuple(steps), wiring


def _called(cable: Cable, printed: Printed) -> str:
    if cable.link:
        return f"{cable.name}, the link inside {cable.ends[0]}"
    return f"{cable.name}, {cable.type}, from {printed(cable.ends[0])} to {printed(cable.ends[1])}"


def _accessories(wiring: Wiring, wanted: Wiring) -> Iterable[ChangeStep]:
    there = {a.name: a for a in wiring.accessories}
    for accessory in wanted.accessories:
        old = there.get(accessory.name)
        if old is None:
            hung = f" hung from {accessory.hangs_from}" if accessory.hangs_from else ""
            room = f" in {accessory.room}" if accessory.room and not hung else ""
            yield ChangeStep(Does.FIT, f"Fit {_a(accessory.kind.name)}{hung}{room}: {accessory.name}.", accessory)
            continue
        old_connectors = [t for t in old.kind.terminals if t.connector]
        own = {t.name for t in accessory.kind.terminals}
        both = with_terminals(accessory, [t for t in old_connectors if t.name not in own])
        if not _same_but_connectors(old, accessory):
            says = f"Exchange {old.name}: {_a(accessory.kind.name)} in place of the {old.kind.name}."
            yield ChangeStep(Does.EXCHANGE, says, both)
        elif new := [t.name for t in accessory.kind.terminals if t.connector and t not in old_connectors]:
            yield ChangeStep(Does.CONNECTORS, f"Put a connector in {old.name}: {joined(new)}." if len(new) == 1 else
                       f"Put {len(new)} connectors in {old.name}: {joined(new)}.", both)


def _a(words: str) -> str:
    return f"an {words}" if words[:1] in "aeiou" and not words.startswith("one") else f"a {words}"


def _same_but_connectors(a: Accessory, b: Accessory) -> bool:
    def facts(accessory: Accessory) -> tuple[tuple[str, ...], tuple[SwitchKind, ...]]:
        return (tuple(t.name for t in accessory.kind.terminals if not t.connector), accessory.kind.switches)

    return facts(a) == facts(b)


def with_terminals(accessory: Accessory, more: Iterable[TerminalKind]) -> Accessory:
    """The accessory with further connectors in it."""
    kind, new = accessory.kind, tuple(more)
    return replace(accessory, kind=replace(
        kind, terminals=(*kind.terminals, *new), face=(*kind.face, *((t.name,) for t in new))))


def _added(taken: set[str], added: list[Cable], printed: Printed) -> Iterable[ChangeStep]:
    """New cables, under names that no cable has or had."""
    for cable in added:
        name = _free_name(cable, taken)
        taken.add(name)
        new = replace(cable, name=name, cores=tuple(replace(core, cable=name) for core in cable.cores))
        landed = joined(
            f"{core.label} on {joined(_end(end, new, printed) for end in core.ends)}" for core in new.cores)
        also = _sleeves_on(new)
        length = f", {float(cable.length):g} m" if cable.length else ""
        where = f"inside {new.ends[0]}" if new.link else f"from {printed(new.ends[0])} to {printed(new.ends[1])}"
        says = f"Run {name}, {cable_words(cable)}{length}, {where}: {landed}.{also}"
        yield ChangeStep(Does.ADD_CABLE, says, cable=new)


def _sleeves_on(cable: Cable) -> str:
    """The sleeves of a new cable's cores; that of its cpc goes without saying."""
    colours: dict[str, list[str]] = {}
    for core in cable.cores:
        if core.ends[0].sleeve and not core.cpc:
            colours.setdefault(core.ends[0].sleeve, []).append(core.label)
    return "".join(f" Sleeve {joined(cores)} {CODES[colour]} at both ends." for colour, cores in colours.items())


def _free_name(cable: Cable, taken: set[str]) -> str:
    if cable.name not in taken:
        return cable.name
    letter, number = cable.name.rstrip("0123456789") or "W", 1
    while f"{letter}{number}" in taken:
        number += 1
    return f"{letter}{number}"


def _end(end: CoreEnd, cable: Cable, printed: Printed) -> str:
    terminal = end.terminal if end.terminal is not None else "nothing"
    return terminal if cable.link else f"{printed(end.accessory)} {terminal}"


def _moves(wiring: Wiring, kept: Kept) -> Iterable[ChangeStep]:
    """Every end of a kept cable that is not yet on the terminal where it is wanted."""
    for cable in wiring.cables:
        wanted = dict(kept.get(cable.name, ()))
        for core in cable.cores:
            for i, end in enumerate(core.ends):
                target = wanted[core.key][i] if core.key in wanted else end.terminal
                if target != end.terminal:
                    at = wiring.printed(end.accessory)
                    came = f"from {end.terminal}" if end.terminal is not None else "which is on nothing"
                    goes = f"to {target}" if target is not None else "into a connector of its own: it is not used"
                    says = f"At {at} move {core} {came} {goes}." if end.terminal is not None else (
                        f"At {at} land {core}, {came}, on {target}.")
                    yield ChangeStep(Does.MOVE, says, core=core.key, end=i, terminal=target)


def _tidied(wiring: Wiring, wanted: Wiring) -> Iterable[ChangeStep]:
    """Connectors and accessories that nothing is left in."""
    final = {a.name: a for a in wanted.accessories}
    for accessory in reversed(wiring.accessories):
        if accessory.name not in final:
            if not accessory.kind.rails:
                yield ChangeStep(Does.TAKE_OUT, f"Take out {accessory.name}, {_a(accessory.kind.name)}.", accessory)
            continue
        own = {t.name for t in final[accessory.name].kind.terminals}
        empty = [t.name for t in accessory.kind.terminals if t.connector and t.name not in own]
        if empty:
            says = f"Take the empty {joined(empty)} out of {accessory.name}."
            yield ChangeStep(Does.TIDY, says, final[accessory.name])


def sleeve_steps(wiring: Wiring, sleeves: Iterable[Sleeve]) -> tuple[ChangeStep, ...]:
    """Sleeves to fit, to change and to take off, one step for each core."""
    cores = {core.key: core for core in wiring.cores()}
    wrong: dict[str, list[Sleeve]] = {}
    for sleeve in sleeves:
        if sleeve.standing is not Standing.FITTED:
            wrong.setdefault(sleeve.core, []).append(sleeve)
    steps = []
    for key, found in wrong.items():
        after = [end.sleeve for end in cores[key].ends]
        for sleeve in found:
            after[sleeve.end] = None if _to_come_off(cores[key], sleeve) else sleeve.colour
        says = _sleeve_words(cores[key], found, wiring.printed)
        steps.append(ChangeStep(Does.SLEEVE, says, core=key, sleeves=(after[0], after[1])))
    return tuple(steps)


def _to_come_off(core: Core, sleeve: Sleeve) -> bool:
    """Nothing is needed in its place: not at all, or because the core itself has the colour that is right now."""
    return sleeve.standing is Standing.NEEDLESS or sleeve.colour == core.colour


def _sleeve_words(core: Core, found: list[Sleeve], printed: Printed) -> str:
    where = "at both ends" if len(found) == 2 else f"at {printed(core.ends[found[0].end].accessory)}"
    if _to_come_off(core, found[0]):
        return f"Take the {CODES[found[0].has or found[0].colour]} sleeve off {core} {where}."
    instead = f" in place of the {CODES[found[0].has]} one" if found[0].standing is Standing.WRONG else ""
    return f"Put a {CODES[found[0].colour]} sleeve on {core} {where}{instead}."


def apply(wiring: Wiring, step: ChangeStep) -> Wiring:
    """The wiring after a step."""
    match step:
        case ChangeStep(does=Does.TAKE_OUT_CABLE, cable=Cable(name=name)):
            return replace(wiring, cables=tuple(c for c in wiring.cables if c.name != name))
        case ChangeStep(does=Does.ADD_CABLE, cable=Cable() as cable):
            return replace(wiring, cables=(*wiring.cables, cable))
        case ChangeStep(does=Does.FIT, accessory=Accessory() as accessory):
            return replace(wiring, accessories=(*wiring.accessories, accessory))
        case ChangeStep(does=Does.TAKE_OUT, accessory=Accessory(name=name)):
            return replace(wiring, accessories=tuple(a for a in wiring.accessories if a.name != name))
        case ChangeStep(does=Does.EXCHANGE | Does.CONNECTORS | Does.TIDY, accessory=Accessory() as accessory):
            return _with_accessory(wiring, accessory)
        case ChangeStep(does=Does.MOVE | Does.SLEEVE):
            return replace(wiring, cables=tuple(_with_core(c, step) for c in wiring.cables))
    raise AssertionError(f"a step that lacks what it changes: {step}")


def _with_accessory(wiring: Wiring, accessory: Accessory) -> Wiring:
    """The accessory in its place; ends on terminals that it lacks are on nothing now."""
    names = {t.name for t in accessory.kind.terminals}

    def end(e: CoreEnd) -> CoreEnd:
        lost = e.accessory == accessory.name and e.terminal is not None and e.terminal not in names
        return replace(e, terminal=None, sleeve=e.sleeve) if lost else e

    return replace(
        wiring,
        accessories=tuple(accessory if a.name == accessory.name else a for a in wiring.accessories),
        cables=tuple(replace(c, cores=tuple(replace(k, ends=(end(k.ends[0]), end(k.ends[1]))) for k in c.cores))
                     for c in wiring.cables),
    )


def _with_core(cable: Cable, step: ChangeStep) -> Cable:
    def changed(core: Core) -> Core:
        if core.key != step.core:
            return core
        if step.does is Does.SLEEVE:
            return core.with_ends(lambda i, end: replace(end, sleeve=step.sleeves[i]))
        return core.with_ends(lambda i, end: replace(end, terminal=step.terminal) if i == step.end else end)

    return replace(cable, cores=tuple(changed(core) for core in cable.cores))
