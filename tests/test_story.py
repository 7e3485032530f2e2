"""Every statement of a story against the solution, and every terminal that a sentence names against its facts."""

from __future__ import annotations

import itertools
import re

import pytest
from circuits import Circuit, conversion, wirings
from hypothesis import given, settings
from judged_circuit import conditions_of, flow_of
from layout.random_wirings import random_wirings
from pages.jobs import EXAMPLES, NAMES, example

from sheetgen.circuit import Circuit as Solved
from sheetgen.circuit import circuit_of
from sheetgen.model.accessory import Terminal
from sheetgen.model.solution import Potential
from sheetgen.pipeline import wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.tell.story import account_of, stories_of, tell
from sheetgen.tell.story.phrases import Phrases


class Truth:
    """What the solution and the wiring say of one setting, looked up independently of the story."""

    def __init__(self, wiring, solution, group, row):
        self.wiring, self.solution, self.group, self.row = wiring, solution, group, row
        self.setting = dict(zip(group.switches, row.setting, strict=True))
        self.lamps = dict(zip(group.lamps, row.lamps, strict=True))
        self.at = conditions_of(solution, group, row)
        self.cores = {core.key: {end.node for end in core.ends} for core in wiring.cores()}
        self.switches = {name: (accessory, switch) for name, accessory, switch in wiring.switches()}
        self.rails = {a.terminal(t): kind for a in wiring.accessories for t, kind in a.kind.rails}

    def made(self, switch: str) -> set[frozenset[Terminal]]:
        """The pairs of terminals that a switch joins in this setting."""
        accessory, kind = self.switches[switch]
        return {
            frozenset((accessory.terminal(a), accessory.terminal(b)))
            for position in kind.positions if position.name == self.setting[switch] for a, b in position.joins
        }

    def holds(self, fact) -> bool:
        """Whether a fact is so."""
        match fact.what:
            case "line at":
                return self.at[fact.terminal].potential is Potential.LINE
            case "neutral at":
                return self.at[fact.terminal].potential in (Potential.NEUTRAL, Potential.EARTH)
            case "no line at":
                return self.at[fact.terminal].potential is not Potential.LINE
            case "carries":
                same = self.at[fact.terminal].fraction == self.at[fact.other].fraction is not None
                return same and self.cores[fact.name] == {fact.terminal, fact.other}
            case "passes":
                pair = frozenset((fact.terminal, fact.other))
                return pair in self.made(fact.name) and self.at[fact.terminal].fraction == self.at[fact.other].fraction
            case "open":
                apart = frozenset((fact.terminal, fact.other)) not in self.made(fact.name)
                accessory, kind = self.switches[fact.name]
                pairs = [pair for position in kind.positions for pair in position.joins]
                known = {frozenset((accessory.terminal(a), accessory.terminal(b))) for a, b in pairs}
                return apart and frozenset((fact.terminal, fact.other)) in known
            case "position":
                return self.setting[fact.name] == fact.value
            case "lamp":
                return self.lamps[fact.name].state.value == fact.value
            case "short":
                shorts = (*self.solution.shorts, *self.row.shorts)
                return any(s.through[0] == fact.terminal and s.through[-1] == fact.other for s in shorts)
        raise AssertionError(fact.what)


def names(wiring) -> dict[str, Terminal]:
    """How a story names each terminal: 'L1 of Hall', 'COM of Hall (landing)'."""
    found = {}
    for accessory in wiring.accessories:
        for kind in accessory.kind.terminals:
            gang = next((s.name for s in accessory.kind.switches if s.name and kind.name.startswith(f"{s.name}.")), "")
            label = accessory.label(kind.name).removeprefix(f"{gang}." if gang else "")
            place = f"{accessory.name} ({gang})" if gang else accessory.name
            found[f"{label} of {place}"] = accessory.terminal(kind.name)
    return found


def check(wiring) -> int:
    """Every story of a wiring; how many facts were checked."""
    solution = wiring_to_solution(wiring)
    known = names(wiring)
    counted = 0
    for group in solution.groups:
        for row in group.rows[:16]:
            story = tell(Solved(wiring, solution), group, row)
            truth = Truth(wiring, solution, group, row)
            for fact in story.facts:
                assert truth.holds(fact), (fact, story.says)
                counted += 1
            spoken_of = {t for fact in story.facts for t in (fact.terminal, fact.other)}
            short = {t for s in (*solution.shorts, *row.shorts) for t in s.through}
            for name, terminal in known.items():
                if re.search(rf"(?<!\w){re.escape(name)}(?!\w| \()", story.says):
                    longer = [n for n in known if name != n and name in n and n in story.says]
                    assert terminal in spoken_of | short or longer, (name, story.says)
            told = {fact.name for fact in story.facts if fact.what == "lamp"}
            assert told == set(group.lamps) or short, story.says
            assert story.says.endswith(".") and story.says[0].isupper()
    return counted


@pytest.mark.parametrize("name", NAMES)
def test_every_statement_about_an_example_is_so(name):
    assert check(example(name).wiring) > 0


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
def test_every_statement_about_circuits_right_and_wrong_is_so(wiring):
    check(wiring)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(random_wirings())
def test_every_statement_about_wirings_without_sense_is_so(wiring):
    check(wiring)


@pytest.mark.parametrize("name", NAMES)
def test_current_passes_every_core_and_contact_that_a_lit_lamp_is_said_to_have(name):
    job = example(name)
    for group in job.solution.groups:
        for row in group.rows:
            lit = [n for n, lamp in zip(group.lamps, row.lamps, strict=True) if lamp.fraction]
            flow = flow_of(job.wiring, job.solution, group, row)
            assert [path.load for path in flow.paths] == lit
            for path in flow.paths:
                steps = (*path.there, path.through, *path.back)
                assert all(a.end == b.start for a, b in itertools.pairwise(steps))
                rails = {a.terminal(t): kind for a in job.wiring.accessories for t, kind in a.kind.rails}
                assert rails[steps[0].start] == "line" and rails[steps[-1].end] == "neutral"


def told(circuit: Circuit, setting: tuple[str, ...] = ()) -> str:
    """The words for a setting of the first group."""
    wiring = circuit.wiring()
    solution = wiring_to_solution(wiring)
    group = next(g for g in solution.groups if g.lamps)
    row = next(r for r in group.rows if r.setting == setting)
    return tell(Solved(wiring, solution), group, row).says


def test_settings_that_differ_electrically_are_told_differently():
    circuit = Circuit()
    conversion(circuit, circuit.way(), "Stairs", 2)
    wiring = circuit.wiring()
    solution = wiring_to_solution(wiring)
    (group,) = [g for g in solution.groups if g.lamps]
    says = [tell(Solved(wiring, solution), group, row).says for row in group.rows]
    assert len(set(says)) == 4


def test_a_switch_in_the_neutral_is_told_as_a_danger():
    circuit = Circuit()
    way = circuit.way()
    circuit.put("Hall", "batten lampholder")
    circuit.put("Door", "one-way switch")
    circuit.cable("twin", way.accessory, "Hall", ("L", "L"), (None, None))
    circuit.cable("twin", way.accessory, "Door", (None, None), ("N", "COM"))
    circuit.cable("twin", "Door", "Hall", (None, None), ("L1", "N"))
    says = told(circuit, ("off",))
    assert "has no way to neutral: Door is open" in says
    assert "It is off, yet both its contacts are live." in says


def test_lamps_in_series_have_their_share():
    circuit = Circuit()
    way = circuit.way()
    circuit.put("One", "batten lampholder")
    circuit.put("Two", "batten lampholder")
    circuit.cable("twin", way.accessory, "One", ("L", "L"), (None, None))
    circuit.cable("twin", "One", "Two", ("N", "L"), (None, None))
    circuit.cable("twin", way.accessory, "Two", (None, None), ("N", "N"))
    says = told(circuit)
    assert "glows dimly on half of the voltage" in says and "in series" in says


@settings(deadline=None, max_examples=60, derandomize=True)
@given(wirings())
def test_neither_is_said_only_of_what_the_table_says_is_floating(wiring):
    """A contact that the table has at 'neutral via lamp' or 'line via lamp' is not said to have neither."""
    solution = wiring_to_solution(wiring)
    words = Phrases(Solved(wiring, solution))
    for group in solution.groups:
        for row in group.rows[:8]:
            told = tell(Solved(wiring, solution), group, row).says
            for dark in account_of(Solved(wiring, solution), group, row).dark:
                if f"{words.load(dark.lamp)} has neither".casefold() in told.casefold():
                    at = conditions_of(solution, group, row)
                    assert {at[contact].potential for contact in dark.contacts} == {Potential.FLOATING}


def test_a_charger_runs_and_electronics_run() -> None:
    text = """\
job: Exit and relay
colours: current
accessories:
  Exit: {kind: emergency luminaire}
  Relay: {kind: relay module}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Exit, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Exit, to: Relay, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
"""
    said = " ".join(story for told in stories_of(circuit_of(wiring_of(text))).values() for story in told.values())
    assert "the charger at Exit, which runs;" in said and "the electronics at Relay, which run;" in said


def test_nothing_is_told_twice_and_a_timer_keeps_no_line_from_a_lamp() -> None:
    (told,) = stories_of(circuit_of(wiring_of(
        (EXAMPLES / "finding-out" / "trips-on-the-cord.yaml").read_bytes()))).values()
    runs = ("Line from circuit 2 comes on W1 and W3 (brown) to L in of Iso and passes the closed contact to L out; W4 "
            "(brown) takes it on to 5 of Fan, where it passes to motor. From there it goes to the fan motor at Fan, "
            "which runs; the current returns on W4 (grey) through the contact of Iso on W3 (grey) and W1 (blue) to the "
            "neutral of circuit 2. The electronics at Fan are fed alongside from 5 of Fan and run too.")
    assert told["off", "on", "triggered"] == (
        f"{runs} Line from circuit 2 comes on W1 and W2 (brown) to COM of Cord. There it stops: Cord is open, so no "
        "line comes to the lamp at Bath: it is off.")
    assert told["off", "on", "idle"].endswith(
        "Line is at L out of Iso and goes on W4 (brown) to 5 of Fan; it is at COM of Cord too. There it stops: Cord is "
        "open and Fan (timer) stands idle, so no line comes to the fan motor at Fan: it is off.")
