"""Findings with their cures. A cure is offered only when it has been carried out and the circuit judged again.

Proven means: the finding is gone; no danger and nothing to put right is new or graver, on any way; every load is still
worked by the switches that worked it; no switch is left with nothing to do that had something; no line is shorted
that was not. Sleeves that the changed cores then need are part of the cure.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.circuit.edits import edited
from sheetgen.judge.case import Case
from sheetgen.judge.methods import exchanged_at, recognise
from sheetgen.judge.remedies import OF_EARTH, remedies
from sheetgen.judge.work import fully_worked_by, worked_by
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import (
    AddLink,
    Cure,
    Edit,
    End,
    Exchange,
    Finding,
    Fit,
    Gravity,
    Land,
    Role,
    Standing,
    TakeOff,
    TakeOutLink,
)
from sheetgen.model.solution import Group, LampState, Solution
from sheetgen.model.words import capital, joined

MOST_CURES = 3  # of one finding
MOST_SETTINGS = 128  # of one group: beyond, no cure is tried
MOST_WORK = 3_000  # settings solved in all while cures are looked for, as if each change left the groups as they are
SMALL = 8  # loads in a group; with more of them a setting takes longer, and more settings have to be solved
MOST_SOLVED = 16_000  # settings solved in all: a change may join groups, and their settings then multiply
MOST_TRIES = 120  # changes carried out in all
MOST_JUDGED = 40  # of them judged again
MOST_PROVEN = 12  # of one finding, of which the best are kept
MOST_ALSO = 3  # other findings that are told with the one whose cure mends them
CURABLE = (
    "short", "earth_return", "switched_neutral", "off_but_live", "loose_core", "never_lit", "never_off", "multiway",
    "wrong_terminal", "neutral_earth", "alternate_polarity", "borrowed_neutral", "linked_lines", "screw_outer_line",
    "line_on_earth_terminal", "earth_terminal_live", "onward_line", "bridged_switch", "protective_misused",
    *OF_EARTH,
)
OF_SLEEVES = ("unmarked", "wrong_sleeve")  # told by themselves, where they do not wait: see `waiting.py`
BEFORE_LANDING = ("alternate_polarity", "neutral_earth")  # a switch between line and neutral; neutral joined to earth
WAITS_FOR = {  # finding -> those until which it has no cure at all
    "loose_core": BEFORE_LANDING, "neutral_earth": BEFORE_LANDING[:1], "earth_terminal_live": BEFORE_LANDING[:1],
    "wrong_terminal": BEFORE_LANDING[1:],
}
RANK = {gravity: i for i, gravity in enumerate(Gravity)}


def with_cures(case: Case, findings: tuple[Finding, ...], case_of: Callable[[Circuit], Case],
               noticed: Callable[[Case], Iterable[Finding]]) -> tuple[Finding, ...]:
    """The findings, each with its proven cures; what one cure mends at once is one finding, the gravest of them."""
    curable = [f for f in findings if f.rule in CURABLE]
    if not curable or not _can_be_tried(case.solution):
        return findings
    trial = _CureTrial(case, findings, case_of, noticed)
    left = list(findings)
    for finding in sorted(curable, key=lambda f: (RANK[f.gravity], f.rule not in OF_EARTH, not f.core)):
        if finding in left and _comes_first(finding, case, findings):
            proofs = trial.cures(finding)
            if proofs:
                gone = [f for f in left if f != finding and all(_key(f) not in p.after for p in proofs)]
                gone = [f for f in gone if RANK[f.gravity] >= RANK[finding.gravity] and f.rule not in OF_SLEEVES]
                left = [_with_proofs(f, proofs, gone) if f == finding else f for f in left if f not in gone]
    return tuple(left)


def _comes_first(finding: Finding, case: Case, findings: tuple[Finding, ...]) -> bool:
    """Whether nothing is wrong that has to be mended before."""
    if case.solution.shorts:
        return finding.rule == "short"
    return not any(f.rule in WAITS_FOR.get(finding.rule, ()) for f in findings)


def _with_proofs(finding: Finding, proofs: tuple[_Proof, ...], gone: list[Finding]) -> Finding:
    """The finding with its cures; what else they mend is told with it."""
    told = dict.fromkeys([finding.means, *(capital(f.says) for f in gone[:MOST_ALSO])])
    return replace(finding, means=" ".join(told), cures=tuple(p.cure for p in proofs), also=tuple(gone))


def _can_be_tried(solution: Solution) -> bool:
    return all(group.complete and len(group.rows) <= MOST_SETTINGS for group in solution.groups)


Key = tuple[str, str, str, str, tuple[str, ...]]


def _key(finding: Finding) -> Key:
    """What makes two findings the same thing noticed, whatever figures stand in the words.

    An earth terminal at line is not the same as one at line through a lamp.
    """
    rule = finding.says if finding.rule == "earth_terminal_live" else finding.rule
    return rule, finding.accessory, finding.terminal, finding.core, finding.lamps


def _graves(findings: Iterable[Finding]) -> dict[Key, int]:
    """Every finding that is more than a note -> its rank, the gravest where there are several."""
    found: dict[Key, int] = {}
    for finding in findings:
        if finding.gravity is not Gravity.NOTE:
            found[_key(finding)] = min(found.get(_key(finding), RANK[Gravity.NOTE]), RANK[finding.gravity])
    return found


@dataclass(frozen=True)
class _Proof:
    """A cure, and what is still noticed after it."""

    cure: Cure
    after: frozenset[Key]
    leaves: tuple[int, ...]  # findings above notes, circuits of no known method, sleeves to fit, switches of loads
    odd_lines: int


class _CureTrial:
    """Candidate changes carried out on one case; counts what it solves, so that the search ends."""

    def __init__(self, case: Case, findings: tuple[Finding, ...], case_of: Callable[[Circuit], Case],
                 noticed: Callable[[Case], Iterable[Finding]]):
        self.case, self.findings = case, findings
        self.case_of, self.noticed = case_of, noticed
        rows = sum(len(group.rows) for group in case.solution.groups)
        self.left = min(MOST_TRIES, MOST_WORK // max(1, rows))
        self.solved, self.judged = MOST_SOLVED, MOST_JUDGED
        self.before = _graves(findings)
        self.tried: dict[tuple[Edit, ...], Circuit | None] = {}
        self.uncertain = {f.rule for f in findings} & {*BEFORE_LANDING}

    @cached_property
    def work(self) -> Mapping[str, frozenset[str]]:
        """Every load -> the switches that change it, as things are."""
        return worked_by(self.case)

    @cached_property
    def fully(self) -> Mapping[str, frozenset[str]]:
        """The same, past no other load in series: what a cure has to leave."""
        return fully_worked_by(self.case)

    def cures(self, finding: Finding) -> tuple[_Proof, ...]:
        """The proven cures with the fewest changes."""
        found: list[_Proof] = []
        fewest = 0
        offered: set[tuple[Edit, ...]] = set()
        for edits in remedies(self.case, finding):
            if edits in offered:
                continue  # a link between two accessories can be taken out at either
            offered.add(edits)
            if self._lands_loose(edits) and self.uncertain - {finding.rule}:
                continue  # nobody can tell where a core belongs while it is uncertain which rail is which
            spent = min(self.left, self.solved, self.judged) <= 0
            whole = not self._lands_loose(edits) and any(
                p.leaves[:2] == (0, 0) and self._lands_loose(p.cure.edits) for p in found)
            if spent or len(found) == MOST_PROVEN or (found and len(edits) > fewest) or whole:
                break
            proof = self._proof(finding, edits)
            if proof is not None:
                found.append(proof)
                fewest = len(edits)
        least = min((p.leaves for p in found), default=())
        best = sorted((p for p in found if p.leaves == least), key=lambda p: p.odd_lines)
        return tuple(self._where_said(finding, best)[:MOST_CURES])

    def _where_said(self, finding: Finding, proofs: list[_Proof]) -> list[_Proof]:
        """Of several cures those at the switch where the method is said to have two terminals exchanged."""
        places = exchanged_at(self.case, finding.lamps) if len(proofs) > 1 else frozenset()
        return [p for p in proofs if p.cure.accessory in places] or proofs

    def _lands_loose(self, edits: tuple[Edit, ...]) -> bool:
        """It joins what is parted, and moves nothing: where that leaves a sound circuit, nothing else need be tried."""
        match edits[0]:
            case Land((core, end), _):
                return self.case.cores[core].ends[end].nothing
        return False

    def _proof(self, finding: Finding, edits: tuple[Edit, ...]) -> _Proof | None:
        circuit = self._solved(edits)
        if circuit is None or not self._promising(finding, circuit):
            return None
        self.judged -= 1
        case = self.case_of(circuit)
        sleeves = tuple(self._sleeves(case, edits))
        if any(fit.colour == "GNYE" and not case.cores[fit.end[0]].cpc for fit in sleeves):
            return None  # a coloured core would become a cpc
        if sleeves:
            case = self.case_of(Circuit(edited(circuit.wiring, sleeves), circuit.solution))  # sleeves join nothing
        after: list[Finding] = []
        for other in self.noticed(case):
            if _key(other) == _key(finding) or self._harms(other):
                return None
            after.append(other)
        says = joined(_all_said(self.case, (*edits, *sleeves)))
        strange = sum(not found.names for found in recognise(case))
        pairs = sum(map(len, worked_by(case).values()))
        return _Proof(Cure((*edits, *sleeves), says, *_place(self.case, edits)), frozenset(map(_key, after)),
                      (len(_graves(after)), strange, len(sleeves), pairs), _odd_lines(case))

    def _solved(self, edits: tuple[Edit, ...]) -> Circuit | None:
        if edits not in self.tried:
            self.left -= 1
            circuit = circuit_of(edited(self.case.wiring, edits))
            self.solved -= sum(len(group.rows) * _weight(group) for group in circuit.solution.groups)
            self.tried[edits] = circuit
        return self.tried[edits]

    def _promising(self, finding: Finding, circuit: Circuit) -> bool:
        """What the states alone tell: no new short or joining of rails, and every load worked as before or better."""
        if _shorts(circuit.solution) > _shorts(self.case.solution):
            return False
        if finding.rule == "short" and _shorts(circuit.solution) == _shorts(self.case.solution):
            return False
        if _meetings(circuit.solution) > _meetings(self.case.solution):
            return False
        work = worked_by(circuit)
        if any(not self._kept(finding, load, switches, work) for load, switches in self.fully.items()):
            return False
        for load in finding.lamps:
            states = circuit.states.get(load, frozenset())
            if LampState.ON not in states or states - {LampState.ON, LampState.OFF, LampState.TRACE}:
                return False
            if finding.rule in ("never_lit", "short", "never_off") and self._idle(self.work) and not work[load]:
                return False
        return True

    def _kept(self, finding: Finding, load: str, before: frozenset[str], work: Mapping[str, frozenset[str]]) -> bool:
        """The switches that worked a load still do; what is fed from another light's switch is freed of that one, and
        electronics that the finding is about of those that took their supply."""
        now = work.get(load, frozenset())
        electronics = self.case.loads[load][1].what == "electronics"
        freed = (finding.rule == "onward_line" or electronics) and load in finding.lamps
        return before <= now or (freed and bool(now) and now < before)

    def _idle(self, work: Mapping[str, frozenset[str]]) -> frozenset[str]:
        """Switches that change nothing."""
        busy = frozenset(s for switches in work.values() for s in switches)
        return frozenset(self.case.switches) - busy

    def _harms(self, after: Finding) -> bool:
        """A danger or thing to put right that is new, or graver than it was."""
        return RANK[after.gravity] < self.before.get(_key(after), RANK[Gravity.NOTE])

    def _sleeves(self, case: Case, edits: tuple[Edit, ...]) -> Iterator[Fit]:
        """The sleeves that are missing or wrong after the change and were not before."""
        had = {(s.core, s.end): (s.standing, s.colour) for s in self.case.sleeves}
        for sleeve in case.sleeves:
            lacking = sleeve.standing in (Standing.MISSING, Standing.WRONG)
            if lacking and had.get((sleeve.core, sleeve.end)) != (sleeve.standing, sleeve.colour):
                yield Fit((sleeve.core, sleeve.end), sleeve.colour)


def _weight(group: Group) -> int:
    """How much longer than in a small group a setting of this one takes to solve."""
    return max(1, len(group.lamps) ** 4 // SMALL ** 4)


def _odd_lines(case: Case) -> int:
    """Permanent lines in a cable that has a core of the line colour, and which are not that core."""
    odd = 0
    for cable in case.wiring.cables:
        line = case.sets[cable.colours].line
        if any(core.colour == line for core in cable.cores):
            odd += sum(case.roles[core.key] is Role.PERMANENT_LINE and core.colour != line for core in cable.cores)
    return odd


def _shorts(solution: Solution) -> int:
    return len(solution.shorts) * 1000 + sum(len(row.shorts) for group in solution.groups for row in group.rows)


def _meetings(solution: Solution) -> int:
    """Rails of two ways, or a neutral and an earth, that meet: by conductors alone weighs more than in some setting."""
    return len(solution.meetings) * 1000 + sum(len(row.meetings) for group in solution.groups for row in group.rows)


def _all_said(case: Case, edits: tuple[Edit, ...]) -> Iterator[str]:
    """The changes in words; what is done alike at both ends of a core is said once."""
    left = list(edits)
    while left:
        edit = left.pop(0)
        twin = next((other for other in left if _alike(case, edit, other)), None)
        if twin is None:
            yield _said(case, edit)
        else:
            left.remove(twin)
            yield _said_of_both(case, edit, twin)


def _alike(case: Case, one: Edit, two: Edit) -> bool:
    """The same done at the two ends of one core."""
    match one, two:
        case Fit((a, _), first), Fit((b, _), second):
            return a == b and first == second
        case TakeOff((a, _)), TakeOff((b, _)):
            return a == b
        case Land((a, i), _), Land((b, j), _):
            return a == b and case.cores[a].ends[i].nothing and case.cores[b].ends[j].nothing
    return False


def _said_of_both(case: Case, one: Edit, two: Edit) -> str:
    match one, two:
        case Fit((key, _), colour), _ if case.cores[key].colour == colour:
            return f"take the sleeve off {case.core(key)} at both ends"
        case Fit((key, _), colour), _:
            return f"sleeve {case.core(key)} {case.colour(colour)} at both ends"
        case TakeOff(end), TakeOff(other):
            off = joined([_where(case, end), _where(case, other)])
            return f"take {case.core(end[0])} off {off} (each end into a connector of its own)"
        case Land(end, there), Land(other, then):
            places = [case.terminal(_accessory(case, e, t)) for e, t in ((end, there), (other, then))]
            return f"put {case.core(end[0])} on {joined(places)}"
    raise AssertionError("only what is alike is said of both ends")


def _said(case: Case, edit: Edit) -> str:
    """A change in words, without a capital."""
    match edit:
        case Land(end, terminal):
            there = case.terminal(_accessory(case, end, terminal))
            here = case.cores[end[0]].ends[end[1]].node
            if here is None:
                return f"put {case.core(end[0])} on {there}"
            return f"move {case.core(end[0])} from {case.terminal(here)} to {there}"
        case TakeOff(end):
            return f"take {case.core(end[0])} off {_where(case, end)} and leave it in a connector of its own"
        case Exchange(one, two):
            return (f"exchange {case.core(one[0])} on {_where(case, one)} and "
                    f"{case.core(two[0])} on {_where(case, two)}")
        case Fit(end, colour):
            place = case.wiring.printed(case.cores[end[0]].ends[end[1]].accessory)
            if case.cores[end[0]].colour == colour:
                return f"take the sleeve off {case.core(end[0])} at {place}"
            return f"sleeve {case.core(end[0])} {case.colour(colour)} at {place}"
        case TakeOutLink(cable):
            a, b = map(case.wiring.printed, case.cables[cable].ends)
            return f"take out the link {cable} in {a}" if a == b else f"take out the single {cable} between {a} and {b}"
        case AddLink(accessory, a, b, _):
            first, second = (case.terminal(case.accessories[accessory].terminal(t)) for t in (a, b))
            return f"link {first} and {second}"


def _where(case: Case, end: End) -> str:
    return case.end(case.cores[end[0]].ends[end[1]])


def _accessory(case: Case, end: End, terminal: str) -> Terminal:
    return case.accessories[case.cores[end[0]].ends[end[1]].accessory].terminal(terminal)


def _place(case: Case, edits: tuple[Edit, ...]) -> tuple[str, str]:
    """The accessory at which the first change is made, and the core it touches."""
    match edits[0]:
        case Land(end, _) | TakeOff(end) | Exchange(end, _) | Fit(end, _):
            return case.cores[end[0]].ends[end[1]].accessory, end[0]
        case TakeOutLink(cable):
            return case.cables[cable].ends[0], case.cables[cable].cores[0].key
        case AddLink(accessory, _, _, _):
            return accessory, ""
