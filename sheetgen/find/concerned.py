"""What of a house a single fault may be in: the circuits of which something is not as it should be.

Accessories that no cable joins, not even through others, have nothing to do with one another: a fault at one leaves
the lamps of the other as they are. What shows at some lamps is sought among what is joined to them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.find.bench import Bench
from sheetgen.find.fits import Witness, agrees_with
from sheetgen.find.shown import Showing, solver_of_many
from sheetgen.model.finding_out import Seen, TakenReading
from sheetgen.model.problems import Problem, Refused
from sheetgen.model.wiring import Wiring
from sheetgen.solve.joined import Joined

MOST_TRIALS = 140_000  # single faults, each tried on so many accessories, that are looked through
MOST_WATCHINGS = 300_000  # likewise, of the loads of one group in all its settings


def concerned(circuit: Circuit, seen: Sequence[Seen], readings: Sequence[TakenReading]) -> Circuit:
    """The part of a circuit that holds every single fault that may fit, all of it where nothing tells; in the settings
    that anybody watches."""
    wiring, solver = circuit.wiring, solver_of_many()
    sound = circuit_of(wiring, solver)
    away = set(_not_as_it_should_be(sound, seen, readings))
    if not away or "" in away:
        return sound
    names = {name for together in _joined(wiring) if together & away for name in together}
    return sound if len(names) == len(wiring.accessories) else circuit_of(_part(wiring, names), solver)


def joined_parts(circuit: Circuit) -> tuple[Circuit, ...]:
    """The parts of a circuit that no cable joins, those with a cable, in the order of the description; in the settings
    that anybody watches."""
    found, solver = [names for names in _joined(circuit.wiring) if len(names) > 1], solver_of_many()
    if len(found) < 2:
        return (circuit_of(circuit.wiring, solver),)
    return tuple(circuit_of(_part(circuit.wiring, names), solver) for names in found)


def whole_description(wiring: Wiring) -> None:
    """Refused where an end is not known: a fault is looked for in a circuit that is known."""
    missing = [Problem(c.at, "E332", f"Where {c.name} goes is not known yet.") for c in wiring.cables if c.at_one_end]
    ends = {end.accessory for core, end in wiring.unknown_ends if not wiring.cable(core.cable).at_one_end}
    closed = {a.name for a in wiring.accessories if a.seen and not a.opened}
    missing += [Problem(wiring.accessory(name).at, "E332", f"What is in {name} is not known yet.")
                for name in sorted(ends | closed)]
    if missing:
        hint = "Find it out first: `sheetgen identify`."
        raise Refused([replace(p, hint=hint) for p in missing])


def not_too_large(parts: Sequence[tuple[Circuit, int]]) -> None:
    """Refused where looking through all single faults of some parts, whose numbers are given, would take too long."""
    accessories = [a for part, _ in parts for a in part.wiring.accessories]
    if sum(faults * len(part.wiring.accessories) for part, faults in parts) > MOST_TRIALS:
        says = (f"{len(accessories)} accessories, joined as they are, may have {sum(n for _, n in parts):,} single "
                "faults: too many to look through.")
        alone = "Describe the part of the circuit that does not work, and what feeds it, alone."
        raise Refused([Problem(accessories[0].at, "E335", says, alone)])
    for part, faults in parts:
        for group in part.solution.groups:
            if faults * len(group.settings) * len(group.lamps) > MOST_WATCHINGS:
                says = (f"{len(group.switches)} switches and {len(group.lamps)} loads depend on one another: with "
                        f"{faults:,} single faults too many to look through.")
                sound = "Describe the circuit as it is when sound: has each light its own line and neutral?"
                first = next((part.switches[name][0] for name in group.switches), accessories[0])
                raise Refused([Problem(first.at, "E336", says, sound)])


def _joined(wiring: Wiring) -> list[set[str]]:
    """The accessories that cables join, also through others."""
    number = {a.name: i for i, a in enumerate(wiring.accessories)}
    joined = Joined(len(number))
    for cable in wiring.cables:
        for other in cable.ends[1:]:
            joined.join(number[cable.ends[0]], number[other])
    found: dict[int, set[str]] = {}
    for name, i in number.items():
        found.setdefault(joined.find(i), set()).add(name)
    return list(found.values())


def _part(wiring: Wiring, names: set[str]) -> Wiring:
    """Some accessories, with the cables that join them."""
    return replace(
        wiring, accessories=tuple(a for a in wiring.accessories if a.name in names),
        cables=tuple(c for c in wiring.cables if c.ends[0] in names),
        board=replace(wiring.board, ways=tuple(w for w in wiring.board.ways if w.accessory in names)))


def _not_as_it_should_be(
    sound: Circuit, seen: Sequence[Seen], readings: Sequence[TakenReading]
) -> Iterator[str]:
    """The accessories of what the sound circuit does not do; "" where that may be anywhere."""
    witness = Witness(sound, tuple(seen))
    showing = Showing(sound.wiring, witness.loads)
    for sight in seen:
        for one in [replace(sight, of=(name,)) for name in sight.of] or [sight]:
            if not witness.agrees(one, showing):
                yield from _places(sound, (*one.of, *one.by)) if one.of else ("",)
    bench, cables = Bench(sound.wiring), sound.cables
    for taken in readings:
        places = [spot[0] for spot in taken.between]
        if not cables.keys().isdisjoint(places):
            yield from (end for name in places if name in cables for end in cables[name].ends)
        elif not agrees_with([taken], bench, showing, witness.base):
            yield from places


def _places(circuit: Circuit, names: Iterable[str]) -> Iterator[str]:
    """The accessories of loads, switches and ways."""
    for name in names:
        parts = circuit.loads if name in circuit.loads else circuit.switches
        yield parts[name][0].name if name in parts else name


def of_part(seen: Sequence[Seen], part: Circuit) -> tuple[Seen, ...]:
    """What was seen, as far as it speaks of a part of the house."""
    here = {*part.loads, *part.switches, *part.board}
    found = (replace(s, of=tuple(name for name in s.of if name in here)) for s in seen)
    return tuple(new for new, old in zip(found, seen, strict=True) if new.of or not old.of)


def readings_of(readings: Sequence[TakenReading], part: Circuit) -> tuple[TakenReading, ...]:
    """The readings that were taken within a part of the house."""
    here = {*part.accessories, *part.cables}
    touched = ((r, {place for pair in (r.between, *r.joined) for place, _ in pair}) for r in readings)
    return tuple(reading for reading, places in touched if places <= here)
