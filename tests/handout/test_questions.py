"""Every answer of a handout is worked out again here, from the solution or by solving anew, for several circuits."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from method_catalogue import Combination

from sheetgen.catalogue.colours import CODES
from sheetgen.model.accessory import Meant, Terminal
from sheetgen.model.handout import Question, Version
from sheetgen.model.job import Job
from sheetgen.model.reading import Standing
from sheetgen.model.solution import Group, LampState, Potential
from sheetgen.model.wiring import Wiring
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import understood
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.teach import versions_of

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
NAMES = ("two-way-conversion", "landing-borrowed-neutral", "two-way-line-at-switch", "three-switches", "joint-boxes",
         "two-strappers-conduit", "loop-at-switch")
KINDS = {"method": 1, "conductor": 3, "sleeves": 2, "live": 2, "lamp": 2, "exchange": 2, "place": 1}


def look_of(text: bytes | str) -> Lookup:
    wiring, solution, reading = understood(text)
    return Lookup(Job(wiring, solution, reading))


def example(name: str) -> Lookup:
    return look_of((EXAMPLES / f"{name}.yaml").read_bytes())


def versions(look: Lookup, number: int = 1, seed: int = 1) -> tuple[Version, ...]:
    return versions_of(look, wiring_to_solution, number, seed)


@pytest.mark.parametrize("name", NAMES)
def test_every_answer_is_right(name: str):
    look = example(name)
    asked = [q for version in versions(look, 4, seed=7) for q in version.questions]
    assert {q.kind for q in asked} == set(KINDS) - ({"sleeves"} if name == "two-strappers-conduit" else set())
    for question in asked:
        CHECKS[question.kind](look, question, dict(question.about))


def check_method(look: Lookup, question: Question, about: dict[str, str]) -> None:
    circuit = next(c for c in look.job.reading.circuits if " ".join(c.lamps) == about["lamps"])
    assert question.answer == circuit.method


def check_conductor(look: Lookup, question: Question, about: dict[str, str]) -> None:
    core = next(c for c in look.wiring.cores() if c.key == about["core"])
    assert question.answer.lower() == look.job.reading.roles[core.key]
    end = core.ends[int(about["end"])]
    assert f"{core} ({CODES[core.colour]}) on {end.accessory.replace('way ', 'circuit ')} " in question.asks


def check_sleeves(look: Lookup, question: Question, about: dict[str, str]) -> None:
    cable = look.wiring.cable(about["cable"])
    needing = {s.core: s.colour for s in look.job.reading.sleeves if s.standing in (Standing.FITTED, Standing.MISSING)}
    for core in cable.cores:
        said = [part for part in question.answer.rstrip(".").split("; ")
                if core.label.lower() in part.lower().split(":")[0].replace(" and ", ", ").split(", ")]
        assert bool(said) is (core.key in needing)
        assert all(part.endswith(CODES[needing[core.key]]) for part in said)


def group_and_row(look: Lookup, about: dict[str, str]) -> tuple[Group, dict[str, str]]:
    group = next(g for g in look.job.solution.groups if g.switches and all(s in about for s in g.switches))
    return group, {s: about[s] for s in group.switches}


def check_live(look: Lookup, question: Question, about: dict[str, str]) -> None:
    group, setting = group_and_row(look, about)
    row, place = group.row(setting), about["accessory"]
    at_line = []
    for terminal in look.accessories[place].kind.terminals:
        node = Terminal(place, terminal.name)
        own = next((g for g in look.job.solution.groups if node in g.terminals), None)
        if node in group.terminals:
            found = row.conditions[group.terminals.index(node)]
        elif own:  # in every setting that agrees with what the question says, the same
            agree = [r for r in own.rows
                     if all(about.get(s, p) == p for s, p in zip(own.switches, r.setting, strict=True))]
            (solid,) = {c.solid for c in (r.conditions[own.terminals.index(node)] for r in agree)}
            (potential,) = {r.conditions[own.terminals.index(node)].potential for r in agree}
            if terminal.meant is not Meant.EARTH and solid and potential is Potential.LINE:
                at_line.append(look.label(node))
            continue
        else:
            (found,) = look.job.solution.conditions(node)
        if terminal.meant is not Meant.EARTH and found.potential is Potential.LINE and found.solid:
            at_line.append(look.label(node))
    said = question.answer.rstrip(".").split(";")[0].replace(" and ", ", ").split(", ")
    assert [word.lower() for word in said] == ([word.lower() for word in at_line] or ["none"])


def check_lamp(look: Lookup, question: Question, about: dict[str, str]) -> None:
    group, setting = group_and_row(look, about)
    for i in map(int, about["order"].split()):
        switch, positions = group.switches[i], group.positions[i]
        setting[switch] = positions[1 - positions.index(setting[switch])]
    state = group.row(setting).lamps[group.lamps.index(about["lamp"])].state
    assert question.answer.startswith({LampState.ON: "On.", LampState.OFF: "Off."}[state])
    words = look.setting(group, tuple(setting[s] for s in group.switches))
    assert question.answer.endswith(f"stand {words}.")


def check_exchange(look: Lookup, question: Question, about: dict[str, str]) -> None:
    wrong = with_ends_exchanged(look.wiring, *(about[key].split() for key in ("one", "two")))
    solution = wiring_to_solution(wrong)
    named = {name for group in look.job.solution.groups for name in group.lamps
             if look.loads[name] in question.answer.split(": in ")[0]} if ": in " in question.answer else set()
    core = next(c for c in look.wiring.cores() if c.key == about["one"].split()[0])
    touched = {n for g in look.job.solution.groups for n in g.lamps if g.switches
               and any(e.node in g.terminals for c in (core, *_cores(look, about["two"])) for e in c.ends)}
    for lamp in named or touched:
        group = solution.group_of_lamp(lamp)
        i = group.lamps.index(lamp)
        lit = sum(row.lamps[i].state in (LampState.ON, LampState.DIM) for row in group.rows)
        says = [m for m in re.findall(r"([^;]*): (in (?:none|all|the same|\d+ of).*?)(?=; \w[^;]*: in |$)",
                                      question.answer) if look.loads[lamp] in m[0]] if named else []
        part = (says[0][1] if says else question.answer).lower()
        if part.startswith("in none"):
            assert lit == 0
        elif part.startswith("in all"):
            assert lit == len(group.rows)
        elif part.startswith("in the same"):
            before = look.job.solution.group_of_lamp(lamp)
            k = before.lamps.index(lamp)
            assert [r.lamps[i].state for r in group.rows] == [r.lamps[k].state for r in before.rows]
        elif not part.startswith("line and neutral"):
            assert part.startswith(f"in {lit} of {len(group.rows)}: ") and touched
        else:
            assert solution.shorts
    shorting = any(row.shorts for group in solution.groups for row in group.rows)
    assert (shorting or bool(solution.shorts)) is ("the device opens" in question.answer)


def _cores(look: Lookup, about: str):
    return [c for c in look.wiring.cores() if c.key == about.split()[0]]


def with_ends_exchanged(wiring: Wiring, one: list[str], two: list[str]) -> Wiring:
    """Through the text of the wiring's cores, not through the code under test."""
    from dataclasses import replace

    at = {(c.key, str(i)): c.ends[i].terminal for c in wiring.cores() for i in (0, 1)}
    at[tuple(one)], at[tuple(two)] = at[tuple(two)], at[tuple(one)]
    return replace(wiring, cables=tuple(replace(cable, cores=tuple(
        replace(c, ends=(replace(c.ends[0], terminal=at[c.key, "0"]), replace(c.ends[1], terminal=at[c.key, "1"])))
        for c in cable.cores)) for cable in wiring.cables))


def check_place(look: Lookup, question: Question, about: dict[str, str]) -> None:
    roles = {look.job.reading.roles[c.key] for c in look.wiring.cores() for e in c.ends
             if e.accessory == about["accessory"]}
    ways = look.ways_of(about["accessory"])
    can = {"permanent line", "neutral"} <= roles and len(ways) == 1
    assert question.answer.startswith("Yes" if can else "No")


CHECKS = {"method": check_method, "conductor": check_conductor, "sleeves": check_sleeves, "live": check_live,
          "lamp": check_lamp, "exchange": check_exchange, "place": check_place}


def test_exchanges_known_from_the_trade():
    """A common exchanged with a strapper: lit in one setting of four with two strappers, in three with conversion."""
    for join, loop, conduit, lit in (("two strappers", "line at the switches", True, "In 1 of 4"),
                                     ("conversion", "at the rose", False, "In 3 of 4")):
        look = look_of(Combination(loop, join, 2, conduit).text())
        strap, common = Terminal("Hall switch", "L1"), Terminal("Hall switch", "COM")
        found = [q for v in versions(look, 12) for q in v.questions if q.kind == "exchange"]
        at = {(c.key, str(i)): c.ends[i].node for c in look.wiring.cores() for i in (0, 1)}
        between = [q for q in found if {at[tuple(dict(q.about)[k].split())] for k in ("one", "two")} == {strap, common}]
        assert between and any(q.answer.startswith(lit) for q in between)


def test_an_exchange_is_asked_about_with_the_names_of_its_lamps():
    """The house of the example has a lamp of two switches on the landing and one of one switch in the bedroom."""
    look = example("two-way-line-at-switch")
    asked = [q.asks for v in versions(look, 6) for q in v.questions if q.kind == "exchange"]
    assert asked and not [says for says in asked if "the lamp" in says]
    assert any(says.endswith("In which settings is Landing lamp lit then?") for says in asked)


def test_versions_differ_but_ask_as_many_of_each_kind():
    look = example("two-way-line-at-switch")
    a, b, c = versions(look, 3)
    assert [v.name for v in (a, b, c)] == ["A", "B", "C"]
    assert len({v.questions for v in (a, b, c)}) == 3
    for version in (a, b, c):
        assert Counter(q.kind for q in version.questions) == Counter({**KINDS, "sleeves": 1})  # it has one such cable
        assert len({q.asks for q in version.questions}) == len(version.questions)
    assert [q.kind for q in a.questions] == [q.kind for q in b.questions]


def test_the_seed_decides_and_nothing_else():
    look = example("two-way-conversion")
    assert versions(look, 2, seed=5) == versions(look, 2, seed=5)
    assert versions(look, 2, seed=5)[0] == versions(look, 1, seed=5)[0]
    assert versions(look, 2, seed=5) != versions(look, 2, seed=6)


def test_a_sheet_asks_about_different_conductors():
    (version,) = versions(example("two-way-line-at-switch"))
    answers = [q.answer for q in version.questions if q.kind == "conductor"]
    assert len(set(answers)) == 3


def test_after_an_exchange_only_lamps_are_lit_and_switches_that_change_nothing_are_not_named():
    """Of a bathroom with a timer fan: the timer never matters to the lamp."""
    look = example("outbuildings")
    found = {q.asks: q.answer for v in versions(look, 6) for q in v.questions if q.kind == "exchange"}
    of_bathroom = {asks: answer for asks, answer in found.items() if "is Bathroom lit then?" in asks}
    assert of_bathroom and not [asks for asks in found if "motor" in asks or "electronics lit" in asks]
    crossed = ("At Isolator, W7 GY on N in and W8 BN on L out are exchanged by mistake. In which settings is Bathroom "
               "lit then?")
    assert found[crossed] == "In 2 of 8: Cord on, Isolator off; the device opens with Isolator on."


def exchanges(name: str, seed: int = 1) -> dict[str, str]:
    """Every question about ends that are exchanged -> its answer."""
    return {q.asks.split(" are exchanged")[0]: q.answer for v in versions(example(name), 12, seed)
            for q in v.questions if q.kind == "exchange"}


@pytest.mark.parametrize(("name", "crossed", "answer"), [
    ("joint-boxes", "At Box 1, W2 BK on SL and W3 BK on N", "In none; the device opens with Kitchen door on."),
    ("by-method", "At Hall plate, W1 BU on N joint and W5 BN on porch L1",
     "In none; the device opens with Hall plate porch on."),
    ("three-switches", "At North, W2 BU on N and W3 BU on SL",
     "North lamp and South lamp: in none; the device opens with Porch at L1, Middle straight, Kitchen at L2 or with "
     "Porch at L1, Middle crossed, Kitchen at L1 or with Porch at L2, Middle crossed, Kitchen at L2 or with Porch at "
     "L2, Middle straight, Kitchen at L1."),
])
def test_a_switch_that_works_no_lamp_any_more_and_shorts_its_line_is_told(name: str, crossed: str, answer: str):
    """The neutral of the lamp and the switched line exchanged: the lamp is at neutral on both sides, and the switch
    joins line to neutral."""
    assert exchanges(name)[crossed] == answer


@pytest.mark.parametrize("seed", [1, 3])
@pytest.mark.parametrize("name", ["bungalow", "three-switches", "outbuildings"])
def test_no_answer_is_longer_than_a_class_can_find(name: str, seed: int):
    """Four settings at most, of sixteen; a setting is told from the next by a semicolon or an 'or'."""
    found = exchanges(name, seed)
    assert len(found) >= 8
    for answer in found.values():
        assert all(int(of) <= 16 for of in re.findall(r"in \d+ of (\d+)", answer.lower())), answer
        lit = re.findall(r"[Ii]n \d+ of \d+: (.*?)(?=; [^;]*: in |; but |; the device|$)", answer.rstrip("."))
        opens = re.findall(r"the device opens with ([^;]*)", answer)
        assert all(len(part.split("; ")) <= 4 for part in lit), answer
        assert all(len(part.split(" or with ")) <= 4 for part in opens), answer


def test_the_switches_of_another_plate_in_the_box_are_named_where_the_answer_hangs_on_them():
    """Hall has a plate of two switches, of two circuits: without landing nobody could say which landing terminal."""
    found = {q.asks: q.answer for v in versions(example("landing-borrowed-neutral"), 12) for q in v.questions
             if q.kind == "live"}
    assert found["Hall light on, Hall landing at L1, Top at L1: which terminals of Hall are at line?"] == (
        "Light COM, light L1, landing COM and landing L1.")
    assert not any(asks.startswith("Hall light on: which terminals of Hall are") for asks in found)
