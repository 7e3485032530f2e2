"""The card: what the chart at the board must say, what stays live, which notices hang beside it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import Circuit, conversion, loop_in
from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import NAMES, blocks_of, example, faulty, job_of, says, tables, words

from sheetgen.circuit.feeds import fed_by
from sheetgen.circuit.stays_live import stays_live
from sheetgen.model.page import Heading, Items, Words
from sheetgen.model.solution import LampState, Potential
from sheetgen.model.wiring import Device
from sheetgen.model.words import MIXED_COLOURS
from sheetgen.pages.card import conductors
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import wiring_of


def card(job):
    """The page, without that of a small drawing."""
    return job_to_pages(job, ("card",))[0]


def facts(job, way: int = 0) -> dict[str, str]:
    """The chart of one way."""
    charts = [t for t in tables(card(job)) if t.plain]
    return {words(label): words(text) for label, text in charts[way].rows}


def test_the_chart_says_what_each_way_serves_and_how():
    chart = facts(example("two-way-line-at-switch"))
    assert chart["Device"] == "type B 6 A, RCD 30 mA"
    assert chart["Isolate by"] == "Switch off circuit 4."
    assert chart["Lights"] == "Landing lamp (8 W) and Bedroom lamp (8 W); 2 points, 16 W together"
    assert chart["Switches"] == "Hall, Top and Bed switch"
    assert "10 \N{MULTIPLICATION SIGN} single 1.0 mm² (4 of them cpc)" in chart["Conductors"]
    assert "1 \N{MULTIPLICATION SIGN} three-core and earth 1.0 mm², cpc 1.0 mm²" in chart["Conductors"]
    assert chart["Fault protection"] == "automatic disconnection of supply (ADS), TN-C-S"


def test_where_two_ways_meet_the_chart_of_each_says_to_isolate_both():
    job = example("landing-borrowed-neutral")
    both = "Switch off circuits 5 and 6. They meet at Landing and Landing lamp."
    assert [facts(job, way)["Isolate by"] for way in (0, 1)] == [both, both]


def test_the_steps_of_isolation_are_those_of_the_guidance():
    """HSG85 and GS38; to a known earth: common practice; the parted neutral: a
    certification body's article on borrowed neutrals."""
    text = says(card(example("one-way-loop-in")))
    for step in (
        "Switch off circuit 2.",
        "Lock it off, and hang a notice.",
        "Prove a two-pole voltage indicator (BS EN 61243-3) on a proving unit or a known live source.",
        "At the place of work test line to neutral, line to earth and neutral to earth, and each of them to a known "
        "earth, every terminal, with every switch of the circuit in each of its positions.",
        "Prove the indicator again.",
        "Only now start work. A neutral that proved dead can go live when it is parted, while another circuit is on.",
    ):
        assert step in text


def test_fuses_are_withdrawn_and_a_tt_supply_takes_both_poles():
    job = example("one-way-loop-in")
    (way,) = job.wiring.board.ways
    board = replace(job.wiring.board, earthing="TT", ways=(replace(way, device=Device("BS 3036", Fraction(5))),))
    text = says(card(job_of(replace(job.wiring, board=board))))
    assert "Withdraw the fuse of circuit 2, and take it with you." in text and "Switch off circuit 2." not in text
    assert "For work inside the board itself switch off the main switch. Its incoming terminals" in says(card(job))
    assert "Inside the board itself the incoming terminals of the main switch stay live." in text
    assert "breaking the line alone" not in says(card(job))


FUSE_OUT = "Switch off the main switch, then withdraw the fuse of circuit 2, and take it with you."


@pytest.mark.parametrize(("device", "off"), [
    (Device("BS 3036", Fraction(5)), FUSE_OUT),
    (Device("BS 1361", Fraction(5)), FUSE_OUT),
    (None, "Switch off circuit 2, or withdraw its fuse with the main switch off."),
    (Device("B", Fraction(6)), "Switch off circuit 2."),
])
def test_no_fuse_is_withdrawn_before_the_main_switch_is_off(device, off):
    job = example("one-way-loop-in")
    (way,) = job.wiring.board.ways
    job = job_of(replace(job.wiring, board=replace(job.wiring.board, ways=(replace(way, device=device),))))
    assert facts(job)["Isolate by"] == off and off in says(card(job)).split("Safe isolation")[1]


MAIN_FIRST = "Switch off the main switch and lock it off: on a TT supply breaking the line alone does not isolate."


def test_on_a_tt_supply_the_main_switch_comes_first_wherever_it_is_said_how_to_isolate():
    job = example("stock/mill-cottage")
    assert facts(job)["Isolate by"] == f"{MAIN_FIRST} Withdraw the fuse of circuit 1, and take it with you."
    (steps,) = [b.items for b in blocks_of(card(job).blocks) if isinstance(b, Items) and b.numbered]
    assert steps[1] == MAIN_FIRST
    assert steps[2:4] == ("Withdraw the fuse of circuit 1, and take it with you.", "Hang a notice at the board.")
    (way,) = job.wiring.board.ways
    told = replace(job.wiring.board, ways=(replace(way, isolated_by="The switch by the meter"),))
    assert facts(replace(job, wiring=replace(job.wiring, board=told)))["Isolate by"] == (
        "The switch by the meter. On a TT supply switch off the main switch and lock it off first, unless that breaks "
        "line and neutral.")


NO_DEVICE = """job: Kitchen
board: {earthing: TN-S, ways: {1: {serves: Kitchen, device: none, rcd: none}}}
colours: legacy
accessories:
  Kitchen: {kind: batten lampholder, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Kitchen, cores: {RD: [L, L], BK: [nothing, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: way 1, to: Door, cores: {RD: [nothing, nothing], BK: [N, COM], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Door, to: Kitchen, cores: {RD: [nothing, nothing], BK: [L1, N], cpc: [E, E]}}
"""


def test_a_circuit_without_a_device_is_isolated_at_the_main_switch_and_a_switch_in_the_neutral_is_named():
    wanted = "Switch off the main switch and lock it off: circuit 1 has no device of its own."
    job = job_of(wiring_of(NO_DEVICE))
    told = facts(job)
    assert told["Isolate by"] == wanted
    assert (told["Switches"], told["Method"]) == ("Door", "Switched in the neutral, not in the line.")
    (steps,) = [block.items for block in blocks_of(card(job).blocks) if isinstance(block, Items)]
    assert steps[1:3] == (wanted, "Hang a notice at the board.")
    assert steps[-1] == "Inside the board itself the incoming terminals of the main switch stay live."


def test_where_nobody_told_the_earthing_it_may_be_tt():
    first = "If the supply is TT, first switch off the main switch and lock it off: breaking the line alone"
    assert f"{first} does not isolate." in says(card(example("finding-out/half-known")))
    assert "If the supply is TT" not in says(card(example("one-way-loop-in")), card(example("stock/mill-cottage")))


LOCKED = ("Lock the main switch off, or fit a blank that can be locked in place of the fuse before it goes on again: "
          "an empty fuseway has a live contact. Hang a notice at the board.")


@pytest.mark.parametrize("devices, locking", [
    (("type B",), "Lock it off, and hang a notice."),
    (("type B", "type C"), "Lock them off, and hang a notice."),
    (("BS 3036",), LOCKED),
    (("BS 3036", "BS 3036"), LOCKED),
    (("type B", "BS 3036"), f"Lock off what is switched off. {LOCKED}"),
    (("type B", None), "Lock it off, and hang a notice. If it is a fuse, keep it with you, and lock the main switch "
     "off, or fit a blank that can be locked in place of the fuse before it goes on again: an empty fuseway has a live "
     "contact."),
])
def test_a_fuse_is_kept_and_a_device_is_locked_and_neither_is_said_twice(devices, locking):
    job = example("landing-borrowed-neutral")
    first, *others = job.wiring.board.ways
    pairs = zip((first, *others), devices, strict=False)
    ways = tuple(replace(way, device=Device(kind, Fraction(5)) if kind else None) for way, kind in pairs)
    job = job_of(replace(job.wiring, board=replace(job.wiring.board, ways=ways)))
    assert [line for line in says(card(job)).splitlines() if line.startswith(("Lock", "Hang"))] == [locking]


@pytest.mark.parametrize("name", ["landing-borrowed-neutral", "circuits-that-meet", "old-farmhouse"])
def test_where_the_card_says_that_circuits_meet_connections_says_to_isolate_them_and_nowhere_else(name):
    job = example(name) if name in NAMES else faulty(name)
    (page,) = job_to_pages(job, ("connections",))
    several, at = {}, ""
    for block in blocks_of(page.blocks):
        if isinstance(block, Heading) and block.level == 3:
            at = block.text
        elif isinstance(block, Words) and block.lead == "Several circuits.":
            several[at] = block.text.removeprefix("Isolate circuits ").removesuffix(" before opening it.")
    for i, way in enumerate(job.wiring.board.ways):
        _, _, met = facts(job, i)["Isolate by"].partition(" They meet at ")
        places = met.removesuffix(".").replace(" and ", ", ").split(", ") if met else []
        assert places == [place for place, ways in several.items() if way.number in ways.replace(" and ", ", ")]


def test_only_where_conductors_of_both_circuits_meet_are_both_isolated_where_a_neutral_is_borrowed():
    text = says(job_to_pages(example("landing-borrowed-neutral"), ("connections",))[0])
    assert text.count("Isolate circuits 5 and 6 before opening it.") == 2  # at the landing, rose and lamp


def test_what_is_not_given_is_left_to_be_filled_in():
    job = example("two-way-line-at-switch")
    (way,) = job.wiring.board.ways
    board = replace(job.wiring.board, earthing="", ze=None, where="", ways=(replace(way, device=None, rcd=None),))
    bare = replace(job, wiring=replace(job.wiring, board=board, drawn_by="", drawn_on=""))
    chart = facts(bare)
    assert chart["Device"] == "............, RCD ............"
    assert chart["Fault protection"] == "cannot be said without the earthing of the supply and the device"
    text = says(card(bare))
    assert "230 V, earthing ............." in text and "Ze" not in text and "not given" not in text


def test_a_lamp_counts_for_the_way_of_its_line_only():
    job = example("landing-borrowed-neutral")
    assert "Landing lamp" in facts(job, 0)["Lights"]
    assert facts(job, 1)["Lights"] == "none; only the neutral of Landing lamp"
    assert facts(job, 1)["Switches"] == "none"


ISOLATION = (  # HSG85 and GS38 in the order of the trade; each to a known earth: facts, section 13
    "Look for a second circuit in the same box.",
    "Prove a two-pole voltage indicator (BS EN 61243-3) on a proving unit or a known live source.",
    "At the place of work test line to neutral, line to earth and neutral to earth, and each of them to a known earth, "
    "every terminal, with every switch of the circuit in each of its positions.",
    "Prove the indicator again.",
    "Only now start work. A neutral that proved dead can go live when it is parted, while another circuit is on.",
    "incoming terminals",
)


@pytest.mark.parametrize("name", NAMES)
def test_every_way_has_its_chart_and_every_step_of_isolation_is_there(name):
    job = example(name)
    text = says(card(job))
    for number, way in enumerate(job.wiring.board.ways):
        assert f"Circuit {way.number}" in text
        assert facts(job, number)["Device"].startswith(str(way.device or "device not given"))
    for step in ISOLATION:
        assert step in text


def test_the_loop_and_the_common_stay_live_at_a_one_way_light():
    circuit = Circuit()
    loop_in(circuit, circuit.way(), "Study")
    live = {x.accessory.name: (x.always, x.sometimes) for x in stays_live(Lookup(job_of(circuit.wiring())).circuit)}
    assert live == {"Study": (("loop",), ()), "Study door": (("COM",), ())}


def test_straps_can_be_live_with_the_lamp_out():
    circuit = Circuit()
    conversion(circuit, circuit.way(), "Stairs")
    live = {x.accessory.name: (x.always, x.sometimes) for x in stays_live(Lookup(job_of(circuit.wiring())).circuit)}
    assert live["Stairs 1"] == (("L1",), ("COM",))
    assert live["Stairs 2"] == (("L1",), ("COM",))


def is_live(condition):
    """At line, at it through a load, or nobody knows."""
    return condition.potential in (Potential.LINE, Potential.THROUGH_LOAD, Potential.BETWEEN, Potential.NOT_KNOWN)


def check_what_stays_live(job):
    """Every terminal at line, straight or through a load, in some setting with every lamp off is on the card."""
    look = Lookup(job)
    listed = {(x.accessory.name, t) for x in stays_live(look.circuit) for t in (*x.always, *x.sometimes)}
    lamps = {name for name, _, load in job.wiring.loads() if load.what == "lamp"}
    lit = (LampState.ON, LampState.DIM)
    for terminal in job.wiring.nodes():
        within = job.wiring.accessory(terminal.accessory).kind.terminal(terminal.name).inner
        if within or job.wiring.way(terminal.accessory):
            continue
        if terminal in job.solution.constant:
            live = is_live(job.solution.constant[terminal])
        else:
            group = next(g for g in job.solution.groups if terminal in g.terminals)
            i = group.terminals.index(terminal)
            live = any(
                is_live(row.conditions[i]) for row in group.rows
                if not any(x.state in lit for n, x in zip(group.lamps, row.lamps, strict=True) if n in lamps)
            )
        assert not live or (terminal.accessory, look.label(terminal)) in listed, terminal
    for found in stays_live(look.circuit):
        for terminal in found.accessory.kind.terminals:
            node = found.accessory.terminal(terminal.name)
            if look.label(node) in found.always:
                assert all(is_live(c) for c in job.solution.conditions(node))


@one_process
@settings(max_examples=30, deadline=None, derandomize=True)
@given(houses())
def test_no_terminal_that_is_live_with_every_lamp_off_is_left_off_the_card(wiring):
    check_what_stays_live(job_of(wiring))


FAN_AND_SENSOR = """
job: Bath and porch
board: {ways: {5: {serves: Lights}}}
colours: legacy
accessories:
  Box:   {kind: joint box, terminals: [L, SL, N, E]}
  Cord:  {kind: pull-cord switch}
  Light: {kind: batten lampholder, lamp: 8 W}
  Iso:   {kind: fan isolator}
  Fan:   {kind: timer fan, load: 15 W}
  PIR:   {kind: sensor}
  Porch: {kind: batten lampholder, lamp: 10 W}
cables:
  W1: {type: twin and earth 1.0, from: circuit 5, to: Box, cores: {RD: [L, L], BK: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Cord, cores: {RD: [L, COM], BK: [SL, L1], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Box, to: Light, cores: {RD: [SL, L], BK: [N, N], cpc: [E, E]}}
  W4: {type: three-core and earth 1.0, from: Box, to: Iso,
       cores: {RD: [L, L in], YE: [SL, SL in], BU: [N, N in], cpc: [E, E]}}
  W5: {type: three-core and earth 1.0, from: Iso, to: Fan,
       cores: {RD: [L out, L], YE: [SL out, SL], BU: [N out, N], cpc: [E, nothing]}}
  W6: {type: twin and earth 1.0, from: Iso, to: PIR, cores: {RD: [L out, L], BK: [N out, N], cpc: [E, nothing]}}
  W7: {type: twin and earth 1.0, from: PIR, to: Porch, cores: {RD: [SL, L], BK: [N, N], cpc: [nothing, E]}}
"""


def test_the_loose_end_of_a_core_stays_live_as_its_other_end_does():
    loose = FAN_AND_SENSOR.replace("RD: [L, COM], BK: [SL, L1]", "RD: [L, nothing], BK: [SL, L1]").replace(
        "YE: [SL, SL in]", "YE: [SL, nothing]")
    live = {x.accessory.name: (x.always, x.sometimes) for x in stays_live(Lookup(job_of(wiring_of(loose))).circuit)}
    assert live["Cord"] == (("loose end of W2 RD",), ())
    assert live["Iso"] == (("L in",), ("L out",)), "SL is dead with the lamps off, and so is the core of W4 on it"
    loose = FAN_AND_SENSOR.replace("RD: [L out, L]", "RD: [L out, nothing]")
    live = {x.accessory.name: (x.always, x.sometimes) for x in stays_live(Lookup(job_of(wiring_of(loose))).circuit)}
    assert live["Fan"] == ((), ("loose end of W5 RD",)), "live while the isolator is on"


def test_a_fan_or_a_sensor_on_its_supply_is_no_lamp_that_must_be_off():
    job = job_of(wiring_of(FAN_AND_SENSOR))
    check_what_stays_live(job)
    live = {x.accessory.name: (x.always, x.sometimes) for x in stays_live(Lookup(job).circuit)}
    assert live["Box"] == (("L",), ()) and live["Cord"] == (("COM",), ())
    assert live["Iso"] == (("L in",), ("L out",))
    assert "L" in live["Fan"][1] and live["PIR"] == ((), ("L",))
    assert "Light" not in live and "Porch" not in live


def test_what_is_no_lamp_is_no_point():
    chart = facts(job_of(wiring_of(FAN_AND_SENSOR)))
    assert chart["Lights"] == "Light (8 W) and Porch (10 W); 2 points, 18 W together"
    assert "Fan motor (15 W)" in chart["Other loads"] and "PIR" in chart["Other loads"]
    assert "Other loads" not in facts(example("bungalow"))


def in_series() -> Circuit:
    """Two lamps one after the other, a third beside them."""
    circuit = Circuit()
    way = circuit.way()
    for name in ("First", "Second", "Third"):
        circuit.put(name, "batten lampholder", lamp=Fraction(10))
    circuit.single(way.accessory, "L", "First", "L")
    circuit.single("First", "N", "Second", "L")
    circuit.neutral("Second", "N", way.accessory, "N")
    circuit.twin(way.accessory, "Third", ("L", "L"), ("N", "N"))
    return circuit


def test_lamps_in_series_are_a_point_each():
    assert facts(job_of(in_series().wiring()))["Lights"].endswith("3 points, 30 W together")


@one_process
@settings(max_examples=40, deadline=None, derandomize=True)
@given(houses())
def test_every_lamp_that_lights_is_a_point_of_some_way(wiring):
    job = job_of(wiring)
    look = Lookup(job)
    fed = {a.load_name(load) for way in wiring.board.ways for a, load in fed_by(look.circuit, way)}
    for group in job.solution.groups:
        for row in group.rows:
            for name, lamp in zip(group.lamps, row.lamps, strict=True):
                assert lamp.state not in (LampState.ON, LampState.DIM) or name in fed


@one_process
@settings(max_examples=40, deadline=None, derandomize=True)
@given(houses())
def test_every_cable_is_on_a_chart_or_named_as_reached_by_no_way(wiring):
    look = Lookup(job_of(wiring))
    charted = {c.name for way in wiring.board.ways for c in look.cables_of(way)}
    apart = {c.name for c in look.of_no_way()}
    assert charted | apart == {c.name for c in wiring.cables} and not charted & apart


@pytest.mark.parametrize("name", [n for n in NAMES if len(example(n).wiring.board.ways) == 1])
def test_the_chart_of_one_way_counts_cables_as_the_cables_page_does(name):
    look = Lookup(example(name))
    (way,) = look.wiring.board.ways
    counted = [int(part.split()[0]) for part in conductors(look, way).split("; ")]
    assert sum(counted) == sum(total.cables for total in look.figures.totals) == len(look.wiring.cables)


def test_what_the_methods_of_a_way_have_in_common_is_said_once():
    says_ = facts(example("two-way-line-at-switch"))["Method"]
    assert says_.count("neutral looped at the lights") == 1
    assert "Landing lamp two-way" in says_ and "Bedroom lamp one-way" in says_
    assert facts(example("one-way-loop-in"))["Method"] == "Line and neutral looped at the rose; one-way switching."


def test_where_a_way_is_wired_by_several_methods_each_names_its_lamps():
    assert facts(example("landing-borrowed-neutral"))["Method"].startswith(
        "Hall rose lamp: line and neutral looped at the rose; one-way switching. Landing lamp, borrowed neutral: line "
        "from circuit 5, neutral back to circuit 6; two-way, ")
    assert facts(example("large-house"))["Method"].endswith(
        "Dining lamp one-way switching. Porch: line and neutral looped at the switches; one-way switching. Kitchen and "
        "Larder: line and neutral looped at a joint box; one-way switching. Cloakroom: line and neutral looped at the "
        "light; one-way switching.")


@pytest.mark.parametrize("earthing, device, rcd, says_", [
    ("TN-S", True, None, "automatic disconnection of supply (ADS), TN-S"),
    ("TT", True, Fraction(30), "automatic disconnection of supply (ADS), TT"),
    ("TT", True, None, "cannot be said without an RCD, which a TT supply needs to disconnect"),
    ("", True, Fraction(30), "cannot be said without the earthing of the supply"),
    ("TN-S", False, Fraction(30), "cannot be said without the device"),
])
def test_fault_protection_names_what_is_missing_and_nothing_else(earthing, device, rcd, says_):
    job = example("two-way-line-at-switch")
    (way,) = job.wiring.board.ways
    way = replace(way, rcd=rcd, device=way.device if device else None)
    board = replace(job.wiring.board, earthing=earthing, ways=(way,))
    assert facts(replace(job, wiring=replace(job.wiring, board=board)))["Fault protection"] == says_


def test_the_notice_of_two_colour_versions_is_for_fixed_wiring_only():
    assert MIXED_COLOURS in says(card(example("old-meets-new")))
    for name in ("two-way-line-at-switch", "bungalow"):  # old cable with modern flex; one set throughout
        assert MIXED_COLOURS not in says(card(example(name)))


def test_the_notice_of_two_colour_versions_goes_when_all_is_redrawn_in_one():
    assert MIXED_COLOURS not in says(card(example("old-meets-new", "current")))


def test_accessories_without_a_cpc_are_named_in_a_notice():
    circuit = Circuit()
    way = circuit.way()
    circuit.put("Shed", "batten lampholder")
    circuit.cable("twin", way.accessory, "Shed", ("L", "L"), ("N", "N"))
    assert "No earthed cpc at Shed." in says(card(job_of(circuit.wiring())))
    assert "earthed cpc" not in says(card(example("bungalow")))


@pytest.mark.parametrize(("run_in", "bare"), [("steel conduit", False), ("plastic conduit", True), ("", True)])
def test_where_steel_conduit_is_the_cpc_no_notice_says_that_there_is_none(run_in, bare):
    """BS 7671 543.2.1: conduit of metal may be a protective conductor. (number from memory)"""
    circuit = Circuit()
    way = circuit.way()
    circuit.put("Shed", "batten lampholder")
    circuit.cable("twin", way.accessory, "Shed", ("L", "L"), ("N", "N"))
    wiring = circuit.wiring()
    wiring = replace(wiring, cables=tuple(replace(cable, run_in=run_in) for cable in wiring.cables))
    assert ("No earthed cpc at Shed." in says(card(job_of(wiring)))) is bare


def test_loads_are_added_exactly():
    circuit = Circuit()
    way = circuit.way()
    for i in range(3):
        circuit.put(f"Lamp {i}", "batten lampholder", lamp=Fraction(1, 3))
        circuit.twin(way.accessory, f"Lamp {i}", ("L", "L"), ("N", "N"))
    assert facts(job_of(circuit.wiring()))["Lights"].endswith("3 points, 1 W together")


def test_a_cable_that_nobody_has_traced_is_never_said_to_be_reached_by_no_circuit():
    text = says(card(example("finding-out/half-known")))
    assert "Cables not traced yet, treat as live: a, b, c, d, e and f." in text
    assert "Cables whose feed is not known, treat as live: Flex 1." in text
    assert "Cables that no circuit reaches" not in text
    circuit = Circuit()
    loop_in(circuit, circuit.way(), "Study")
    circuit.put("Shed", "batten lampholder")
    circuit.put("Shed door", "one-way switch")
    circuit.twin("Shed", "Shed door", ("L", "COM"), ("N", "L1"))
    text = says(card(job_of(circuit.wiring())))
    assert "Cables that no circuit reaches: W" in text and "not traced" not in text


def test_a_cable_that_two_circuits_share_is_counted_once_and_named_with_the_other():
    look = Lookup(example("landing-borrowed-neutral"))
    first, second = (conductors(look, way) for way in look.wiring.board.ways)
    assert first.endswith("2 \N{MULTIPLICATION SIGN} two-core flex 0.75 mm²")
    assert second == ("1 \N{MULTIPLICATION SIGN} twin and earth 1.0 mm², cpc 1.0 mm²; "
                      "counted with circuit 5: Flex 2")


def test_the_card_says_what_was_seen_and_that_a_circuit_that_trips_stays_off():
    assert ("Porch dead. Nothing trips. The rest works. The circuit is shown as it is drawn: where that differs, "
            "something is wrong.") in says(card(example("finding-out/dead-light")))
    (tripping,) = [b for b in blocks_of(card(example("finding-out/trips-on-the-cord")).blocks)
                   if isinstance(b, Words) and b.lead == "What was seen:"]
    assert tripping.tone == "danger"
    assert tripping.text.startswith("Cord on: trips. Cord off, Iso on: nothing trips. Leave it off: it trips. Test its "
                                    "insulation before it is switched on again.")
    assert "What was seen:" not in says(card(example("one-way-loop-in")))


def test_what_is_not_traced_yet_is_named_where_there_is_one_circuit_for_it():
    text = says(card(example("finding-out/half-known")))
    assert "Lights\nnot traced yet: Landing lamp\n" in text
    assert "Switches\nnot traced yet: Hall, Top and Bedroom\n" in text
