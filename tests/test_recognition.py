"""The method of a circuit is read from its solved wiring: the inverse of laying, and right on what was found."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from circuits import Circuit as House
from circuits import bridge, strappers, wirings
from hypothesis import given, settings
from hypothesis import strategies as st
from method_catalogue import Combination, accepted

from sheetgen.catalogue import methods
from sheetgen.circuit import Circuit as Solved
from sheetgen.circuit import circuit_of
from sheetgen.judge.methods import of_the_house, recognise
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import MethodFound, Role
from sheetgen.model.solution import LampState, Potential, Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import reading_of, understood, wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution
from sheetgen.teach.exchange import exchanged

EXAMPLES = Path(__file__).parent.parent / "examples"
COMBINATIONS = list(accepted())


def known(wiring: Wiring) -> list[tuple[str, ...]]:
    return [c.names for c in recognise(circuit_of(wiring)) if c.lamps]


@pytest.mark.parametrize("combination", COMBINATIONS, ids=str)
def test_every_laid_circuit_is_recognised_as_itself(combination: Combination):
    for lights in (1, 2, 4):
        assert known(wiring_of(combination.text(lights))) == [combination.names]
    assert known(wiring_of(combination.text(3, "legacy"))) == [combination.names]


@given(st.sampled_from(COMBINATIONS), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=60, derandomize=True)
def test_neither_order_nor_names_nor_direction_matter(combination: Combination, random):
    """Accessories and cables shuffled and renamed, cables turned round: the method is the same."""
    wiring = wiring_of(combination.text(2))
    names = {a.name: a.name if a.kind.rails else f"X{i}" for i, a in enumerate(
        random.sample(wiring.accessories, len(wiring.accessories)))}
    accessories = [replace(a, name=names[a.name], hangs_from=names.get(a.hangs_from, "")) for a in wiring.accessories]
    cables = []
    for cable in wiring.cables:
        turn = -1 if random.random() < 0.5 else 1
        cores = tuple(replace(core, ends=tuple(
            replace(end, accessory=names[end.accessory]) for end in core.ends[::turn])) for core in cable.cores)
        cables.append(replace(cable, cores=cores, ends=tuple(names[n] for n in cable.ends[::turn])))
    random.shuffle(accessories)
    random.shuffle(cables)
    assert known(replace(wiring, accessories=tuple(accessories), cables=tuple(cables))) == [combination.names]


AS_FOUND = {
    "one-way-loop-in": [("at the rose", "one-way", "one-way")],
    "two-way-conversion": [("at the rose", "two-way", "conversion")],
    "three-switches": [("at the rose", "intermediate", "conversion")],
    "two-strappers-conduit": [("line at the switches", "two-way", "two strappers")],
    "two-way-line-at-switch": [("line at the switches", "two-way", "in first, out last"),
                               ("line at the switches", "one-way", "one-way")],
    "two-way-line-at-switch-current": [("line at the switches", "two-way", "in first, out last")],
    "loop-at-switch": [("at the switch", "one-way", "one-way")] * 2,
    "joint-boxes": [("at a joint box", "one-way", "one-way")] * 2,
    "landing-borrowed-neutral": [("at the rose", "one-way", "one-way"), ()],
    "old-meets-new": [("at the rose", "one-way", "one-way")] * 2,
}


@pytest.mark.parametrize(("name", "methods"), AS_FOUND.items(), ids=AS_FOUND)
def test_what_was_found_is_recognised(name: str, methods: list[tuple[str, ...]]):
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    assert known(wiring_of(text)) == methods
    for colours in ("legacy", "current"):
        assert [c.names for c in understood(text, colours)[2].circuits if c.lamps] == methods


def test_the_sentence_is_that_of_a_record():
    wiring = wiring_of((EXAMPLES / "two-way-line-at-switch.yaml").read_text(encoding="utf-8"))
    first, second = recognise(circuit_of(wiring))
    assert first.method == ("Line taken to the switches, neutral looped at the lights; two-way, three wires between "
                            "the switches, switched line out at the second switch.")
    assert (first.line_in, first.switched_out, first.part_at) == ("Hall", "Top", "way 4")
    assert of_the_house([first, second])[1] == (
        "Bedroom: line taken to the switches, neutral looped at the lights; one-way switching.")
    assert of_the_house([first]) == (first.method,)


ROLES = {"line": Role.PERMANENT_LINE, "neutral": Role.NEUTRAL, "switched line": Role.SWITCHED_LINE}


@pytest.mark.parametrize("combination", COMBINATIONS[::4], ids=str)
def test_the_evidence_names_conductors_that_do_what_it_says(combination: Combination):
    wiring, _, reading = understood(combination.text(2))
    cores = {str(core): core.key for core in wiring.cores()}
    (circuit,) = (c for c in reading.circuits if c.lamps)
    seen = set()
    for line in circuit.evidence:
        what, _, walk = line.partition(": ")
        if what in ROLES:
            named = re.findall(r"\b([WF]\d+ [A-Z]{2}(?: \d)?) to ", walk)
            assert named and all(reading.roles[cores[core]] is ROLES[what] for core in named)
            seen.add(what)
    assert seen == set(ROLES)


def toggles(solution: Solution, lamp: str) -> bool:
    """Each operation of any switch of its group changes the lamp between on and off."""
    group = solution.group_of_lamp(lamp)
    i = group.lamps.index(lamp)
    states = {row.setting: row.lamps[i].state for row in group.rows}
    if set(states.values()) != {LampState.ON, LampState.OFF}:
        return False
    return all(
        states[(*s[:k], p, *s[k + 1:])] is not states[s]
        for s in states for k, positions in enumerate(group.positions) for p in positions if p != s[k])


@given(st.sampled_from([c for c in COMBINATIONS if c.switches <= 3]), st.data())
@settings(deadline=None, max_examples=150, derandomize=True)
def test_what_is_recognised_works(combination: Combination, data):
    """Two core ends exchanged at an accessory: a method is named only if every switch still changes the lamp."""
    wiring = wiring_of(combination.text(1))
    place = data.draw(st.sampled_from([a.name for a in wiring.accessories if a.kind.level in ("wall", "ceiling")]))
    ends = [(core.key, i) for core in wiring.cores() for i in (0, 1)
            if core.ends[i].accessory == place and not core.cpc]
    one, two = data.draw(st.permutations(ends))[:2]
    mistaken = exchanged(wiring, one, two)
    solution = wiring_to_solution(mistaken)
    for circuit in recognise(Solved(mistaken, solution)):
        if circuit.names:
            assert all(toggles(solution, lamp) for lamp in circuit.lamps)
        elif circuit.lamps and circuit.switches:
            assert not circuit.method.endswith(tuple(f"{join.says}." for join in methods.JOINS))


@pytest.mark.parametrize(("combination", "ends", "says"), [
    (Combination("at the rose", "conversion", 2, False), (("W3/1", 1), ("W3/2", 1)),
     "two-way by conversion, but COM and L1 are exchanged at Landing switch."),
    (Combination("at the rose", "conversion", 2, False), (("W3/1", 1), ("W3/3", 1)),
     "two-way by conversion, but COM and L2 are exchanged at Landing switch."),
], ids=str)
def test_an_exchange_is_named_at_its_switch(combination: Combination, ends, says: str):
    wiring = wiring_of(combination.text())
    (circuit,) = lamps_of(exchanged(wiring, *ends))
    assert circuit.names == () and circuit.method.endswith(says)


def lamps_of(wiring: Wiring) -> list[MethodFound]:
    return [c for c in recognise(circuit_of(wiring)) if c.lamps]


def test_what_has_no_name_is_said_plainly_and_the_reason_is_in_the_evidence():
    """Switched line and line on the same common."""
    c = House()
    way = c.way()
    one, two, light = c.put("A", "two-way switch"), c.put("B", "two-way switch"), c.put("Lamp", "light fitting")
    c.single(way.accessory, "L", one, "COM")
    c.single(one, "L1", two, "L1")
    c.single(two, "COM", light, "L")
    c.neutral(way.accessory, "N", light, "N")
    (circuit,) = lamps_of(c.wiring())
    assert circuit.method == "Not one of the usual methods; see the drawing."
    assert any(line.startswith("unlike two strappers: no two strappers join") for line in circuit.evidence)


@pytest.mark.parametrize("crossed", [False, True])
def test_crossed_strappers_are_said_to_be_so(crossed: bool):
    c = House()
    strappers(c, c.way(), "Stairs", 2, crossed)
    (circuit,) = lamps_of(c.wiring())
    assert circuit.names == ("line at the switches", "two-way", "two strappers")
    assert circuit.method.endswith("strappers crossed (lit when the two switches differ).") is crossed
    assert ("crossed" in circuit.method) is crossed


SWITCHES_TOGETHER = {
    "two switches one after the other: lit with A and B on.": (("A", "L1", "B", "COM"), ("B", "L1", "Lamp", "L")),
    "two switches side by side: lit with A on, or with B on.": (
        ("A", "COM", "B", "COM"), ("A", "L1", "Lamp", "L"), ("B", "L1", "Lamp", "L")),
}


@pytest.mark.parametrize(("says", "wires"), SWITCHES_TOGETHER.items(), ids=["series", "parallel"])
def test_one_way_switches_together(says: str, wires):
    c = House()
    way = c.way()
    for name, kind in (("A", "one-way switch"), ("B", "one-way switch"), ("Lamp", "light fitting")):
        c.put(name, kind)
    c.single(way.accessory, "L", "A", "COM")
    c.neutral(way.accessory, "N", "Lamp", "N")
    for wire in wires:
        c.single(*wire)
    (circuit,) = lamps_of(c.wiring())
    assert circuit.method.endswith(says)


def at_rail(wiring: Wiring, solution: Solution, lamp: str, *potentials: Potential) -> bool:
    """A rail reaches a contact of the lamp in some setting."""
    ends = next((a.terminal(x.a), a.terminal(x.b)) for name, a, x in wiring.loads() if name == lamp)
    return any(c.potential in potentials and c.solid for end in ends for c in solution.conditions(end))


@given(wirings())
@settings(deadline=None, max_examples=150, derandomize=True)
def test_no_sentence_contradicts_the_solution(wiring: Wiring):
    """'Never lit', 'no line', 'no neutral', 'lit as long as' and 'lit with' are said only where they are so."""
    solution = wiring_to_solution(wiring)
    for circuit in recognise(Solved(wiring, solution)):
        states = {name: [row.lamps[g.lamps.index(name)].state for row in g.rows]
                  for g in solution.groups for name in g.lamps}
        for lamp in circuit.lamps:
            lit = [state in (LampState.ON, LampState.DIM) for state in states[lamp]]
            never = [part for part in circuit.method.split(". ") if "never lit" in part and lamp in part]
            assert bool(never) is not any(lit)
            if "no line" in "".join(never):
                assert not at_rail(wiring, solution, lamp, Potential.LINE)
            if "no neutral" in "".join(never):
                assert not at_rail(wiring, solution, lamp, Potential.NEUTRAL, Potential.EARTH)
            if "lit as long as" in circuit.method:
                assert all(lit)
        if ": lit with " in circuit.method:
            check_law(circuit, solution)


def check_law(circuit: MethodFound, solution: Solution) -> None:
    """'lit with A and B on, or with C on' against every row."""
    group = solution.group_of_lamp(circuit.lamps[0])
    terms = circuit.method.rstrip(".").partition(": lit with ")[2].split(", or with ")
    needed = [term.removesuffix(" on").replace(" and ", ", ").split(", ") for term in terms]
    for row in group.rows:
        closed = {s.replace(".", " ") for s, p in zip(group.switches, row.setting, strict=True) if p == "on"}
        assert all((state.state is LampState.ON) is any(set(term) <= closed for term in needed) for state in row.lamps)


@pytest.mark.parametrize("switches", [2, 3])
def test_the_switched_line_carried_back_is_the_same_method(switches: int):
    """The other way about: line on the first common, the third core brings the switched line back."""
    combination = Combination("at the rose", "line carried through", switches, False)
    wiring = wiring_of(combination.text())
    other = exchanged(wiring, ("W2/1", 1), ("W2/2", 1))
    assert other != wiring and known(other) == [combination.names]


NEUTRAL_AT_SWITCH = {
    "at the rose": False, "at the switch": True, "at a joint box": False, "line at the switches": False,
}


@pytest.mark.parametrize("combination", [c for c in COMBINATIONS if c.switches == 2], ids=str)
def test_what_is_at_each_accessory(combination: Combination):
    """Is there a neutral at my switch? Only where they loop at the switches; and a sensor fits only with both."""
    wiring, _solution, reading = understood(combination.text(2))
    places = {p.accessory: p for p in reading.places}
    assert set(places) == {a.name for a in wiring.accessories if a.kind.level in ("wall", "ceiling")}
    assert places["Hall switch"].neutral is NEUTRAL_AT_SWITCH[combination.loop]
    assert places["Hall switch"].permanent_line and places["Hall switch"].cpc
    for place in places.values():
        roles = {reading.roles[core.key] for core in wiring.cores() for end in core.ends
                 if end.accessory == place.accessory}
        assert place.permanent_line is (Role.PERMANENT_LINE in roles) and place.neutral is (Role.NEUTRAL in roles)
        sensor = any(words.startswith("a sensor") for words in place.fits)
        assert sensor is (place.permanent_line and place.neutral and not place.accessory.startswith("Box"))
    assert places["Room 2"].last_on_run is True


def test_last_on_the_run():
    text = ("job: Run\ncircuits:\n"
            "  - {lights: [A], switches: [A], method: {loop: at the rose}}\n"
            "  - {lights: [B], switches: [B], method: {loop: at the rose}}\n")
    places = {p.accessory: p.last_on_run for p in understood(text)[2].places}
    assert places == {"A": False, "B": True, "A switch": None, "B switch": None}


def test_the_last_point_is_where_the_neutral_ends_though_a_line_comes_there_the_shorter_way():
    """The neutral goes from the cellar on to the stairs, whose line comes straight from the board on another way."""
    text = (EXAMPLES / "stock" / "Teasel Court" / "stairs.yaml").read_bytes()
    places = {p.accessory: p.last_on_run for p in understood(text)[2].places}
    assert places == {"Cellar": False, "Stairs": True, "Cellar switch": None, "Stairs switch": None}


def test_in_place_of_a_fan_only_a_fan_is_offered():
    """Its isolator would part an emergency fitting from its supply."""
    places = {p.accessory: p for p in understood((EXAMPLES / "outbuildings.yaml").read_bytes())[2].places}
    assert places["Fan"].fits == ("a fan with run-on timer: permanent line, switched line and neutral are here",)
    assert "emergency fitting" in places["Bathroom"].fits[0]


def test_of_a_sensor_it_is_not_said_that_no_sensor_can_be_there():
    places = {p.accessory: p for p in understood((EXAMPLES / "outbuildings.yaml").read_bytes())[2].places}
    here = "there is no permanent line here"
    assert places["Sensor"].lacks == (f"no emergency fitting or fan with run-on timer: {here}",)
    assert places["Flood 2"].lacks == (f"no sensor, emergency fitting or fan with run-on timer: {here}",)


def test_where_two_ways_meet_nothing_is_offered():
    wiring, solution, _reading = understood((EXAMPLES / "landing-borrowed-neutral.yaml").read_bytes())
    landing = next(p for p in reading_of(wiring, solution).places if p.accessory == "Landing")
    assert landing.fits == () and "circuit 5" in landing.lacks[0] and "circuit 6" in landing.lacks[0]


def test_where_line_is_shorted_nothing_is_offered():
    """The black of the switch drop lies in the neutral block: the neutral at the switch is no neutral to use."""
    text = """
job: All blacks together
colours: legacy
accessories:
  Bedroom: {kind: rose, lamp: 60 W}
  Door: {kind: switch}
cables:
  W1: {type: t&e 1.0, from: way 1, to: Bedroom, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: t&e 1.0, from: Bedroom, to: Door, cores: {red: [loop, COM], black: [N, L1], cpc: [E, E]}}
"""
    reading = understood(text)[2]
    assert all(place.fits == () and "straight to neutral" in place.lacks[0] for place in reading.places)
    assert [c.method for c in reading.circuits] == [
        "Door switches no lamp, but makes a short.", "Bedroom lamp is never lit: no line reaches it."]


BATHROOM = """
job: Bathroom and porch
colours: current
accessories:
  Bath:     {kind: batten lampholder, loop: yes, room: Bathroom, lamp: 10 W}
  Cord:     {kind: pull-cord switch, room: Bathroom}
  Isolator: {kind: fan isolator, room: Bathroom}
  Fan:      {kind: timer fan, room: Bathroom}
  PIR:      {kind: sensor, room: Porch}
  Porch:    {kind: light fitting, room: Porch}
  Dim:      {kind: dimmer, room: Den}
  Den:      {kind: ceiling rose, room: Den, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Bath, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Bath, to: Cord, cores: {BN: [loop, COM], BU: [L, L1], cpc: [E, E]}}
  W3: {type: three-core and earth 1.0, from: Bath, to: Isolator,
       cores: {BN: [loop, L in], BK: [L, SL in], GY: [N, N in], cpc: [E, E]}}
  W4: {type: three-core and earth 1.0, from: Isolator, to: Fan,
       cores: {BN: [L out, L], BK: [SL out, SL], GY: [N out, N], cpc: [E, E]}}
  W5: {type: twin and earth 1.0, from: Isolator, to: PIR, cores: {BN: [L out, L], BU: [N out, N], cpc: [E, E]}}
  W6: {type: twin and earth 1.0, from: PIR, to: Porch, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
  W7: {type: twin and earth 1.0, from: way 1, to: Den, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W8: {type: twin and earth 1.0, from: Den, to: Dim, cores: {BN: [loop, L], BU: [SL, load], cpc: [E, E]}}
"""


def test_fans_isolators_sensors_and_dimmers_do_not_hide_the_method():
    bath, porch, den = recognise(circuit_of(wiring_of(BATHROOM)))
    assert (bath.names, bath.switches, bath.lamps) == (("at the rose", "one-way", "one-way"), ("Cord",), ("Bath",))
    assert porch.method == "Line and neutral looped at the switches; one-way switching by a sensor."
    assert "Isolator closed to Isolator L out" in porch.evidence[0]
    assert den.method == "Line and neutral looped at the rose; one-way switching by a dimmer."


def evidence(name: str) -> tuple[str, ...]:
    """What is said of the first circuit of an example."""
    return understood((EXAMPLES / f"{name}.yaml").read_bytes())[2].circuits[0].evidence


def test_line_and_neutral_are_followed_to_every_lamp() -> None:
    """By the descriptions: one lamp hangs from the rose and the other is looped on from it."""
    said = evidence("two-way-line-at-switch-current")
    assert ("neutral: circuit 4 N, W4 BU to Landing N, Flex 1 BU to Landing lamp N; "
            "from Landing N, W5 BU to Box room N" in said)
    assert ("switched line: Top L2, W3 BN to Landing SL, Flex 1 BN to Landing lamp L; "
            "from Landing SL, W6 BN to Box room L" in said)
    assert ("switched line: Porch L2, W3 BU to North SL, Flex 1 BN to North lamp L; from North SL, W2 BN to South SL, "
            "Flex 2 BN to South lamp L" in evidence("three-switches"))


def test_a_long_walk_leaves_out_no_cable() -> None:
    bedroom = next(c for c in understood((EXAMPLES / "bungalow.yaml").read_bytes())[2].circuits
                   if c.switches == ("Bed 2 switch",))
    assert bedroom.evidence[0] == (
        "line: circuit 1 L, W1 BN, W2 BN and W3 BN by Hall and Lounge to Kitchen loop, W4 BN to Bathroom loop, "
        "W5 BN to Bedroom 1 loop, W6 BN to Bedroom 2 loop, W13 BN to Bed 2 switch COM")


def fitted(name: str, accessory: str) -> tuple[str, ...]:
    """What could and could not be fitted at an accessory of an example."""
    place = next(p for p in understood((EXAMPLES / f"{name}.yaml").read_bytes())[2].places if p.accessory == accessory)
    return *place.fits, *place.lacks


def test_a_dimmer_is_offered_at_the_ends_of_a_set_alone() -> None:
    """A two-way dimmer has three terminals and an intermediate switch four."""
    assert fitted("three-switches", "Middle") == (
        "no dimmer: a two-way dimmer goes at one of the two ends of the set of switches",
        "nothing that needs a neutral: there is none at this switch")
    assert "one two-way dimmer for the whole set of switches, at this end or at the other" in fitted(
        "three-switches", "Kitchen")


@pytest.mark.parametrize(("name", "accessory"), [("joint-boxes", "Box 1"), ("outbuildings", "Isolator")])
def test_nothing_is_offered_on_what_only_joins_or_isolates(name: str, accessory: str) -> None:
    assert fitted(name, accessory) == ("no light, sensor or fan goes on it",)


def test_no_rose_is_named_where_line_and_neutral_loop_at_another_light() -> None:
    house = House()
    house.put("Shed", "batten lampholder", loop=True)
    house.put("Shed switch", "one-way switch")
    house.twin(house.way().accessory, "Shed", ("L", "loop"), ("N", "N"))
    house.twin("Shed", "Shed switch", ("loop", "COM"), ("L", "L1"))
    (found,) = recognise(circuit_of(house.wiring()))
    assert found.method == "Line and neutral looped at the light; one-way switching."
    assert found.names == ("at the rose", "one-way", "one-way")


def test_a_switch_that_makes_a_short_in_one_position_is_called_by_no_method() -> None:
    changeover = House()
    changeover.put("Door", "two-way switch", connectors=["N"])
    changeover.put("Light", "light fitting")
    changeover.twin(changeover.way().accessory, "Door", ("L", "COM"), ("N", "N"))
    changeover.twin("Door", "Light", ("L1", "L"), ("N", "N"))
    wiring = changeover.wiring()
    (sound,) = recognise(circuit_of(wiring))
    assert sound.names[1:] == ("one-way", "one-way")
    across = bridge("X1", Terminal("Door", "L2"), Terminal("Door", "N"))
    (short,) = recognise(circuit_of(replace(wiring, cables=(*wiring.cables, across))))
    assert short.method == "A short with Door at L2; no method until that is put right." and not short.names
