"""Arrangements that are no method of the catalogue, in an electrician's words; '' where there are none for them."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

from sheetgen.catalogue import methods
from sheetgen.circuit.circuit import Circuit
from sheetgen.circuit.names import Names
from sheetgen.judge.methods.chains import Seat, SwitchRow, in_order, with_chain
from sheetgen.judge.methods.joins import join_of
from sheetgen.judge.methods.paths import Conductors
from sheetgen.judge.methods.switching_alone import CLOSED
from sheetgen.judge.methods.when_lit import Closed, closed_at, in_series, lit_with, said, stays_dark, why_dark
from sheetgen.model.accessory import Terminal
from sheetgen.model.finding_out import Sight
from sheetgen.model.solution import Potential
from sheetgen.model.words import capital, count, joined

NUMBERS = ("", "one", "two", "three", "four", "five", "six")
MOST_NAMED = 2  # exchanges, each of which alone would make it a known method


def not_known(row: SwitchRow, circuit: Circuit) -> str:
    """Circuits that a conductor whose end nobody knows may reach: no more is said than that, and what was seen."""
    if told := _told(row, circuit):
        return f"{told}, as was seen. How they are wired is not known: core ends are not known."
    seats, lamps = joined(name_of(seat) for seat in row.seats), joined(n.replace(".", " ") for n in row.group.lamps)
    if not seats:
        return f"What works {lamps} is not known: core ends are not known."
    verb = "does" if len(row.seats) == 1 else "do"
    return f"What {seats} {verb}{f' for {lamps}' if lamps else ''} is not known: core ends are not known."


def _told(row: SwitchRow, circuit: Circuit) -> str:
    """'Hall and Top work Landing lamp', for lamps or switches of this circuit, where somebody has seen it."""
    here = {*row.group.lamps, *row.group.switches, *(seat.name for seat in row.seats)}
    told: dict[str, list[str]] = {}
    for one in circuit.wiring.seen:
        if one.sight is Sight.WORKED_BY and here & {*one.of, *one.by}:
            verb = "works" if len(one.by) == 1 else "work"
            told.setdefault(f"{joined(map(circuit.part, one.by))} {verb}", []).extend(map(circuit.part, one.of))
    return "; ".join(f"{by} {joined(dict.fromkeys(lamps))}" for by, lamps in told.items())


def unswitched(row: SwitchRow, conductors: Conductors) -> str:
    """Lamps that no switch of the circuit changes."""
    if not row.group.lamps:
        return "No lamp."
    if dark := stays_dark(row.group, conductors):
        return _dark(row, dark, conductors)
    circuit = joined(map(conductors.wiring.printed, row.ways)) or "its circuit"
    loads = {load.what for name, _, load in conductors.wiring.loads() if name in row.group.lamps}
    lit = "lit" if loads == {"lamp"} else "on"
    passed = [core for walk in (row.line_walk, row.neutral_walk) if walk for core in walk.cores]
    isolators = tuple(dict.fromkeys(core.ends[0].accessory for core in passed if core.colour == CLOSED))
    if isolators:
        the, it = ("isolator", "it") if len(isolators) == 1 else ("isolators", "they")
        return f"No switch but the {the} {joined(isolators)}: {lit} as long as {it} and {circuit} are on."
    return f"No switch: {lit} as long as {circuit} is on."


def faulty(row: SwitchRow, conductors: Conductors) -> str:
    """What is so wrong that no method can be named: no lamp, never lit, switched in the neutral, in series."""
    group, seats = row.group, joined(name_of(seat) for seat in row.seats)
    if not group.lamps:
        verb, makes = ("switches", "makes") if len(row.seats) == 1 else ("switch", "make")
        return f"{seats} {verb} no lamp{f', but {makes} a short' if any(r.shorts for r in group.rows) else ''}."
    if dark := stays_dark(group, conductors):
        return _dark(row, dark, conductors)
    if shorted := [r for r in group.rows if r.shorts]:
        names = conductors.circuit
        stands = zip(group.switches, shorted[0].setting, strict=True)
        put = (f"{names.part(s)} {names.position(s, p)}" for s, p in stands)
        more = f" and in {count(len(shorted) - 1, 'more setting')}" if len(shorted) > 1 else ""
        return f"A short with {', '.join(put)}{more}; no method until that is put right."
    if None not in row.neutral:
        return ""
    if in_series(group):
        return "Lamps in series: they share the voltage."
    fixed = [conductors.solution.constant.get(conductors.net(t)) for seat in row.seats for t in seat.terminals]
    rails = {c.potential for c in fixed if c and c.solid}
    if {Potential.LINE, Potential.NEUTRAL} <= rails:
        return "Line and neutral are both taken to the switches."
    if Potential.NEUTRAL in rails:
        return "Switched in the neutral, not in the line."
    return ""


def _dark(row: SwitchRow, dark: tuple[str, ...], conductors: Conductors) -> str:
    why: dict[str, list[str]] = {}
    for lamp in dark:
        why.setdefault(why_dark(row.group, lamp, conductors), []).append(lamp.replace(".", " "))
    return " ".join(
        f"{capital(joined(lamps))} {'is' if len(lamps) == 1 else 'are'} never lit: "
        f"{reason if len(lamps) == 1 else reason.replace(' it', ' them')}." for reason, lamps in why.items())


def name_of(seat: Seat) -> str:
    """'Hall', 'Plate a'."""
    gang = seat.name.removeprefix(seat.accessory).lstrip(".")
    return f"{seat.accessory} {gang}".strip()


def exchanged(row: SwitchRow, conductors: Conductors) -> str:
    """'two-way by conversion, but COM and L1 are exchanged at Top': where that alone keeps it from being known."""
    name, wrong = exchanges(row, conductors)
    if not wrong:
        return ""
    told = [(joined(sorted(map(Names(conductors.wiring).short_label, pair))), name_of(seat)) for pair, seat in wrong]
    where = ", or ".join(f"{labels} at {place}" for labels, place in told)
    if len(told) == 1:
        where = f"{told[0][0]} are exchanged at {told[0][1]}"
    several = ", are exchanged" if len(told) > 1 else ""
    return f"{methods.switching_of(len(row.seats))}{_briefly(name)}, but {where}{several}"


def exchanges(row: SwitchRow, conductors: Conductors) -> tuple[str, list[tuple[tuple[Terminal, Terminal], Seat]]]:
    """The join that the switches would be, and the two terminals of a switch each of whose exchanges makes it that."""
    found: dict[str, list[tuple[tuple[Terminal, Terminal], Seat]]] = {}
    for i, seat in enumerate(row.seats):
        for (a, one), (b, two) in combinations(seat.ports, 2):
            ports = {**dict(seat.ports), a: two, b: one}
            seats = [*row.seats[:i], replace(seat, ports=tuple(ports.items())), *row.seats[i + 1:]]
            if name := _known(row, seats, conductors):
                found.setdefault(name, []).append(((one, two), seat))
    if not found or len(row.seats) < 2:
        return "", []
    name, wrong = min(found.items(), key=lambda item: len(item[1]))
    return (name, wrong) if len(wrong) <= MOST_NAMED else ("", [])


def _briefly(name: str) -> str:
    join = methods.find_join(name)
    return join.briefly if join else ""


def _known(row: SwitchRow, seats: list[Seat], conductors: Conductors) -> str:
    """The join that the switches would be, with their ports so."""
    ordered, why_not = in_order(seats, conductors)
    return "" if why_not else join_of(with_chain(row, ordered, conductors)).name


def by_law(row: SwitchRow, conductors: Conductors) -> str:
    """Switches that just open and close: 'two switches one after the other: lit with A and B on'."""
    closed = closed_at(conductors.wiring, row.group)
    if closed is None:
        return ""
    laws: dict[tuple[Closed, ...], list[str]] = {}
    for lamp in row.group.lamps:
        terms = lit_with(row.group, lamp, closed)
        if terms is None or len(terms) > 3:
            return ""
        laws.setdefault(terms, []).append(lamp.replace(".", " "))
    names = {seat.name: name_of(seat) for seat in row.seats}
    told = (f"{'' if len(laws) == 1 else joined(lamps) + ' '}lit {said(row.group, terms, closed, names)}"
            for terms, lamps in laws.items())
    return f"{_kind(row, tuple(laws))}: {'; '.join(told)}"


def _kind(row: SwitchRow, laws: tuple[tuple[Closed, ...], ...]) -> str:
    """What the trade calls it."""
    number = NUMBERS[len(row.seats)] if len(row.seats) < len(NUMBERS) else str(len(row.seats))
    sensors = {seat.name for seat in row.seats if seat.what in ("sensor", "timer", "relay")}
    if sensors and sensors < set(names := row.group.switches):
        if all(any(not term & sensors for term in terms) and any(term & sensors for term in terms) for terms in laws):
            return "a sensor with an override switch beside it"
        return f"a sensor and {'a switch' if len(names) - len(sensors) == 1 else 'switches'}"
    if len(laws) == 1 and len(laws[0]) == 1 and len(laws[0][0]) == len(row.seats):
        return f"{number} switches one after the other"
    if len(laws) == 1 and len(laws[0]) == len(row.seats) and all(len(term) == 1 for term in laws[0]):
        return f"{number} switches side by side"
    if sum(len(terms) for terms in laws) == len(laws):
        return f"{number} switches, one fed from the other"
    return f"{number} switches"


def unusual(row: SwitchRow, conductors: Conductors) -> str:
    """How the switches are joined, where no join of the catalogue is it."""
    if None in row.neutral:
        return ""
    return exchanged(row, conductors) if row.chain else by_law(row, conductors)

