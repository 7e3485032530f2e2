"""Every way in which cable ends can belong together, from the board outwards, and those that fit what is known.

A branch is left as soon as conductors alone join a line to anything else. Taken for granted, and said: nothing shorts
in any setting, lines of two ways do not meet, and every lamp of which nothing else is said can be on and off.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from hashlib import sha256

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.find.across import Across, Taken
from sheetgen.find.ends import Pairing, may_be_one, open_ends, paired, with_orders
from sheetgen.find.fits import was_seen
from sheetgen.find.shown import AS_SEEN
from sheetgen.judge.work import worked_by
from sheetgen.model.finding_out import Seen, Sight, TakenReading
from sheetgen.model.solution import LIT, LampState
from sheetgen.model.wiring import Cable, Wiring
from sheetgen.solve.joined import Joined

MOST_LISTED = 14_000  # pairings; beyond, some are looked at
MOST_LOOKS = 400_000  # at ends, in the search for all of them: steps times ends
SOME = 3_000  # ends looked at where there are too many: pairings times ends
MOST_SETTINGS = 16_000  # worked out of all candidates together, some seconds; of more pairings some are looked at
SOME_SETTINGS = 3_000  # of those some
STEPS_FOR_ONE = 15  # of the search for one of some, for each end


@dataclass
class Search:
    """The ends of one wiring, and the partners that each may have after the readings."""

    wiring: Wiring
    readings: Sequence[TakenReading] = ()
    ends: tuple[Cable, ...] = field(init=False)
    domains: list[set[int]] = field(init=False)
    across: Across = field(init=False)
    taken: Taken = field(init=False)
    loose: bool = field(init=False)  # ends may go to accessories that nobody has opened

    def __post_init__(self) -> None:
        self.ends = open_ends(self.wiring)
        n = len(self.ends)
        self.domains = [{j for j in range(n) if may_be_one(self.ends[i], self.ends[j])} for i in range(n)]
        unopened = any(a.seen and not a.opened for a in self.wiring.accessories)
        self.loose = unopened or not _can_be_perfect(self.domains)
        if self.loose:
            for domain in self.domains:
                domain.add(-1)
        self.across = Across(self.ends)
        self.taken = Taken(self.across, self.readings)
        self.taken.narrow(self.domains)
        self._number = {t: i for i, t in enumerate(self.wiring.nodes())}
        self._rails = [(self._number[a.terminal(t)], kind, a.name) for a in self.wiring.accessories
                       for t, kind in a.kind.rails]

    # Listing

    def everything(self) -> list[Pairing] | None:
        """Every pairing that shorts nothing by conductors alone; None where there are too many."""
        found: list[Pairing] = []
        for n, pairing in enumerate(self._descend([-2] * len(self.ends), self._start(), None)):
            if n * len(self.ends) > MOST_LOOKS:
                return None
            if pairing is not None:
                found += self._read(pairing)
                if len(found) > MOST_LISTED:
                    return None
        return found

    def _read(self, pairing: Pairing) -> list[Pairing]:
        """A pairing with every order of cores of one colour, as far as the readings allow."""
        found = with_orders(self.ends, pairing)
        return [p for p in found if not self.readings or self.taken.agree(self.across.of(p))]

    def some(self) -> list[Pairing]:
        """A number of pairings, each found by a search of its own that begins elsewhere; always the same ones."""
        found: dict[Pairing, None] = {}
        for seed in range(max(20, SOME // max(1, len(self.ends)))):
            for n, pairing in enumerate(self._descend([-2] * len(self.ends), self._start(), seed)):
                if pairing is not None and (read := self._read(pairing)):
                    found.setdefault(read[0])
                    break
                if n > STEPS_FOR_ONE * len(self.ends):
                    break
        return list(found)

    def _start(self) -> Joined:
        joined = Joined(len(self._number))
        for core in self.wiring.cores():
            a, b = core.ends[0].node, core.ends[1].node
            if a is not None and b is not None:
                joined.join(self._number[a], self._number[b])
        return joined

    def _descend(self, partner: list[int], joined: Joined, seed: int | None) -> Iterator[Pairing | None]:
        """Each step of the search gives None, each pairing that is whole itself."""
        yield None
        free = [i for i, p in enumerate(partner) if p == -2]
        if not free:
            yield Pairing(tuple(partner))
            return
        i = min(free, key=lambda end: (self._choices(end, partner), self._far(end), _order(seed, end)))
        for j in sorted(self.domains[i], key=lambda j: (j < 0, _order(seed, j))):
            if j >= 0 and partner[j] != -2:
                continue
            after = self._joined(joined, i, j) if j >= 0 else joined
            if after is None:
                continue
            partner[i] = j
            if j >= 0:
                partner[j] = i
            yield from self._descend(partner, after, seed)
            partner[i] = -2
            if j >= 0:
                partner[j] = -2

    def _choices(self, end: int, partner: list[int]) -> int:
        return sum(1 for j in self.domains[end] if j < 0 or partner[j] == -2)

    def _far(self, end: int) -> bool:
        """Ends at the board come first."""
        return not self.wiring.accessory(self.ends[end].ends[0]).kind.rails

    def _joined(self, before: Joined, i: int, j: int) -> Joined | None:
        """The terminals joined with two ends one cable; None where a line meets what it must not."""
        after = before.copy()
        for core in self.ends[i].cores:
            same = [c for c in self.ends[j].cores if c.colour == core.colour and c.cpc == core.cpc]
            a, b = core.ends[0].node, same[0].ends[0].node
            if len(same) == 1 and a is not None and b is not None:
                after.join(self._number[a], self._number[b])
        lines: dict[int, str] = {}
        for rail, kind, _ in self._rails:
            root = after.find(rail)
            if lines.setdefault(root, kind) != kind:
                if "line" in (kind, lines[root]):
                    return None
                lines[root] = "neutral"
        return after


def _order(seed: int | None, end: int) -> int:
    """Another order for each seed; without one as written."""
    return end if seed is None else int.from_bytes(sha256(f"{seed} {end}".encode()).digest()[:4], "big")


def _can_be_perfect(domains: Sequence[set[int]]) -> bool:
    """Whether every end can have a partner; a quick search that gives up where it is hard, and then says yes."""
    steps = 0

    def place(taken: frozenset[int]) -> bool:
        nonlocal steps
        steps += 1
        free = [i for i in range(len(domains)) if i not in taken]
        if not free or steps * len(domains) > MOST_LOOKS:
            return True
        i = min(free, key=lambda end: sum(1 for j in domains[end] if j not in taken))
        return any(place(taken | {i, j}) for j in sorted(domains[i]) if j not in taken)

    return len(domains) % 2 == 0 and place(frozenset())


# What is known of a whole candidate


def is_sound(circuit: Circuit) -> bool:
    """No setting shorts a line or joins the lines of two ways."""
    solution = circuit.solution
    if solution.shorts or any(row.shorts for g in solution.groups for row in g.rows):
        return False
    meetings = [*solution.meetings, *(m for g in solution.groups for row in g.rows for m in row.meetings)]
    return not any(circuit.rails[rail] == "line" for m in meetings for rail in m.rails)


def lamps_switch(circuit: Circuit, seen: Sequence[Seen]) -> bool:
    """Every lamp of which nothing is said can be on and off, or rests on an end that is not known."""
    said = {load for s in seen if s.sight in (Sight.DEAD, Sight.ALWAYS) for load in s.of}
    for group in circuit.solution.groups:
        for i, name in enumerate(group.lamps):
            states = {row.lamps[i].state for row in group.rows}
            if name not in circuit.lamp_names or name in said or LampState.NOT_KNOWN in states:
                continue
            if not (states & set(LIT) and states - set(LIT)):
                return False
    return True


def agrees(seen: Seen, circuit: Circuit) -> bool:
    """One thing seen may be so; what rests on an end that is not known always may."""
    if seen.sight is Sight.WORKED_BY:
        work = worked_by(circuit)
        return all(_unknown(circuit, load) or work.get(load, frozenset()) == frozenset(seen.by) for load in seen.of)
    if seen.sight in (Sight.TRIPS, Sight.HOLDS, Sight.WORKS, Sight.IDLE):
        return True
    return all(_shows(seen, load, circuit) for load in seen.of if load in circuit.lamp_names)


def _unknown(circuit: Circuit, load: str) -> bool:
    return LampState.NOT_KNOWN.value in circuit.states.get(load, frozenset())


def _shows(seen: Seen, load: str, circuit: Circuit) -> bool:
    group = next((g for g in circuit.solution.groups if load in g.lamps), None)
    if group is None or _unknown(circuit, load):
        return group is not None or seen.sight in (Sight.DEAD, Sight.DARK)
    i = group.lamps.index(load)
    rows = [row for row in group.rows
            if all(dict(zip(group.switches, row.setting, strict=True)).get(s, p) == p for s, p in seen.setting)]
    does = [AS_SEEN[row.lamps[i].state] for row in rows]
    return was_seen(seen, does)


class Sieve:
    """Lets candidates through that nothing known speaks against. Those that join the same terminals are solved once."""

    def __init__(self, wiring: Wiring, ends: Sequence[Cable], seen: Sequence[Seen]):
        self.wiring, self.ends, self.seen = wiring, ends, seen
        self._solved: dict[frozenset[object], Circuit | None] = {}
        self.settings = 0  # worked out so far, over all candidates

    def all_of(self, pairings: Sequence[Pairing], most: int) -> tuple[list[tuple[Pairing, Circuit]], bool]:
        """Those that fit, and whether all were looked at before so many settings had been worked out."""
        most += self.settings
        found: list[tuple[Pairing, Circuit]] = []
        for pairing in pairings:
            if self.settings > most:
                return found, False
            circuit = self.leaves(pairing)
            if circuit is not None:
                found.append((pairing, circuit))
        return found, True

    def leaves(self, pairing: Pairing) -> Circuit | None:
        """The candidate, or one that joins the same by the same colours, solved; None where it does not fit."""
        wiring = paired(self.wiring, self.ends, pairing)
        key = _joins(wiring)
        if key not in self._solved:
            circuit = circuit_of(wiring)
            self.settings += sum(len(g.rows) for g in circuit.solution.groups)
            fits = is_sound(circuit) and lamps_switch(circuit, self.seen) and all(agrees(s, circuit) for s in self.seen)
            self._solved[key] = circuit if fits else None
        return self._solved[key]


def _joins(wiring: Wiring) -> frozenset[object]:
    """What cores join, how often and in which colour, whatever the cables are called."""
    counted = Counter((frozenset((end.accessory if end.terminal else "", end.terminal, end.unknown)
                                 for end in core.ends), core.colour, core.mark) for core in wiring.cores())
    return frozenset(counted.items())
