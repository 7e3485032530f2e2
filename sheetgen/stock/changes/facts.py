"""What is told of each thing of a description, so that two descriptions can be laid beside each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from fractions import Fraction

from sheetgen.circuit import Circuit
from sheetgen.model.accessory import Accessory
from sheetgen.model.reading import Reading
from sheetgen.model.solution import LIT, Group
from sheetgen.model.wiring import Cable, CoreEnd, Wiring
from sheetgen.model.words import NOT_GIVEN, joined, metres, plain, size_words
from sheetgen.pages.what_switches_do import changes
from sheetgen.stock.dwelling import Dwelling

Facts = Mapping[str, str]  # what -> how it is, in words
Things = Mapping[str, Facts]  # name -> its facts
NOTHING, NO_CIRCUIT = "nothing", "none"  # what is known to be so, where "" is not given


def head_facts(wiring: Wiring) -> Things:
    """The description itself; a name of "" for it."""
    report = wiring.report
    return {"": {
        "job": wiring.job, "place": wiring.place, "status": wiring.status.value if wiring.status else NOT_GIVEN,
        "drawn by": wiring.drawn_by, "drawn on": wiring.drawn_on, "colours": wiring.colours,
        "report": report.number, "date of the report": report.date, "next due": report.next_due,
        "notes": " / ".join(wiring.notes),
    }}


def board_facts(wiring: Wiring, dwelling: Dwelling) -> Things:
    """The board, then each way."""
    board = wiring.board
    things: dict[str, Facts] = {"": {
        "name": board.name, "where": board.where, "earthing": board.earthing,
        "Ze": f"{plain(board.ze)} \N{OHM SIGN}" if board.ze is not None else "", "voltage": f"{plain(board.voltage)} V",
    }}
    for way, kept in zip(board.ways, dwelling.ways, strict=True):
        things[way.accessory] = {"serves": way.serves, "device": kept.device, "RCD": kept.rcd,
                                 "isolated by": way.isolated_by, "stands": "off" if way.off else "on"}
    return things


def accessory_facts(circuit: Circuit) -> Things:
    """Every accessory that is not a way."""
    return {a.name: _accessory(circuit, a) for a in circuit.wiring.accessories if not a.kind.rails}


def _accessory(circuit: Circuit, accessory: Accessory) -> Facts:
    kind = accessory.kind
    switches = ", ".join(f"{s.name} {s.what}".strip() for s in kind.switches)
    return {
        "kind": kind.name + (f" ({switches})" if switches and len(kind.switches) > 1 else ""), "room": accessory.room,
        "terminals": ", ".join(accessory.label(t.name) for t in kind.terminals if not t.inner),
        "made": ", ".join(sorted(kind.flags)),
        "fuse": f"{plain(kind.fuse)} A" if kind.fuse is not None else "",
        "opened": "yes" if accessory.opened else "no", "holds": ", ".join(accessory.holds), "note": accessory.note,
    }


def cable_facts(circuit: Circuit, names: Mapping[str, str]) -> Things:
    """Every cable, core by core; accessories by the names given for them, where they have another now."""
    return {_called(circuit, cable, names): dict(_cable(circuit, cable, names)) for cable in circuit.wiring.cables}


def _called(circuit: Circuit, cable: Cable, names: Mapping[str, str]) -> str:
    """A pendant's own flex is numbered by the program, in the order of the description: it goes by its pendant."""
    hung = next((end for end in cable.ends if circuit.accessories[end].hangs_from in cable.ends), "")
    return f"flex of {names.get(hung, hung)}" if hung and cable.flex else cable.name


def _cable(circuit: Circuit, cable: Cable, names: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    yield "type", f"{cable.type} {size_words(cable.size)}" if cable.size else cable.type
    yield "runs", " \N{EN DASH} ".join(names.get(end, end) for end in cable.ends)
    yield "length", metres(cable.length)
    yield "method", cable.method
    yield "in", cable.run_in
    yield "note", cable.note
    for core in cable.cores:
        ends = (_end(circuit, end, names) for end in core.ends)
        yield f"core {core.label}", " \N{EN DASH} ".join(ends)


def _end(circuit: Circuit, end: CoreEnd, names: Mapping[str, str]) -> str:
    at = names.get(end.accessory, end.accessory)
    where = f"{at} {circuit.label(end.node)}" if end.node else f"{at}, {'not known' if end.unknown else 'nothing'}"
    return where + (f", {circuit.colour(end.sleeve)} sleeve" if end.sleeve else "")


def load_facts(circuit: Circuit, reading: Reading) -> Things:
    """Every lamp and other load: what it takes, what feeds it, what works it, when it is lit, how it is wired."""
    groups = {name: (group, i) for group in circuit.solution.groups for i, name in enumerate(group.lamps)}
    worked = {name: found for group in circuit.solution.groups
              for name, found in zip(group.lamps, changes(group), strict=True)}
    wired = {name: c for c in reading.circuits for name in c.lamps}
    things = {}
    for name, (_, load) in circuit.loads.items():
        group, i = groups.get(name, (None, 0))
        found = wired.get(name)
        things[circuit.part(name)] = {
            "load": _watts(load.watts), "ways": (circuit.all_ways(found.ways) or NO_CIRCUIT) if found else "",
            "worked by": _worked_by(circuit, group, worked[name]) if group else "",
            "on": _on(group, i) if group else "", "does": joined(sorted(circuit.states.get(name, ()))),
            "wired": found.method if found else "",
        }
    return things


def _watts(watts: Fraction) -> str:
    return f"{plain(watts)} W"


def _worked_by(circuit: Circuit, group: Group, found_of: list[tuple[int, int]]) -> str:
    found = sorted(circuit.part(s) for s, (changed, _) in zip(group.switches, found_of, strict=True) if changed)
    return joined(found) or NOTHING


def _on(group: Group, lamp: int) -> str:
    lit = sum(row.lamps[lamp].state in LIT for row in group.rows)
    if lit in (0, len(group.rows)) and group.complete:
        return "in every setting" if lit else "in no setting"
    return f"in {lit} of {len(group.rows)} settings"


def ends_of(wiring: Wiring) -> Mapping[str, tuple[tuple[str, str], ...]]:
    """Accessory -> (core, terminal) of every core end in it: by this one that has another name now is known again."""
    found: dict[str, list[tuple[str, str]]] = {}
    for core in wiring.cores():
        for end in core.ends:
            found.setdefault(end.accessory, []).append((core.key, end.terminal or ""))
    return {name: tuple(sorted(ends)) for name, ends in found.items()}


def renamed(before: Things, after: Things, also: Iterable[Mapping[str, object]] = ()) -> dict[str, str]:
    """Old name -> new name, of things of which one is gone and just one came that is the same in all else."""
    more = tuple(also)
    gone, came = [n for n in before if n not in after], [n for n in after if n not in before]

    def alike(old: str, new: str) -> bool:
        return before[old] == after[new] and (not more or more[0].get(old) == more[1].get(new))

    found = {old: [new for new in came if alike(old, new)] for old in gone}
    taken = [new for news in found.values() for new in news]
    return {old: news[0] for old, news in found.items() if len(news) == 1 and taken.count(news[0]) == 1}


def pendants_of(names: Mapping[str, str], before: Wiring, after: Wiring) -> dict[str, str]:
    """Old name -> new name, of what hangs from accessories that have another name now."""
    hung = {a.hangs_from: a.name for a in after.accessories if a.hangs_from}
    return {a.name: hung[names[a.hangs_from]] for a in before.accessories
            if a.hangs_from in names and names[a.hangs_from] in hung}
