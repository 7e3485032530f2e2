"""Rare findings, each whole and typed out: what is noticed, what it means, what to do, in houses with much wrong.

The figures: 250 ohm is given, 167 ohm is 50 V / 300 mA, 200 ohm is BS 7671 Table 41.5 note 2; 13.5 A is a
single of 1.0 mm2 in Table 4D1A, method B. Of type C 10 A Table 41.3 allows 2.19 ohm, of type B 6 A 7.28 ohm; 80 per
cent of them cold are 1.75 and 5.82 ohm. Store A is 16 m of 1.0 mm2 with a cpc of 1.0 mm2 away, 36.2 mohm/m together:
12 ohm + 0.58 ohm.
"""

from __future__ import annotations

import pytest
from pages.as_text import as_text
from pages.jobs import faulty

from sheetgen.pages.job_to_pages import job_to_pages

RARE = {
    ("circuits-that-meet", "linked_lines"): (
        "danger", "Lines of circuit 1 (Ground floor) and circuit 2 (First floor) reach Hall SL.",
        "With one of these circuits switched off its conductors can prove dead and yet go live from the other, when a "
        "switch is operated.",
        "Isolate circuit 1 (Ground floor) and circuit 2 (First floor) before work here, and part the two circuits.",
        "BS 7671 314.1(vi)"),
    ("circuits-that-meet", "borrowed_neutral"): (
        "danger", "The neutrals of circuit 3 (Loft) and circuit 4 (Porch) are joined, at Loft switch N.",
        "With one of them isolated its neutral still carries the current of the other, and can become live when it is "
        "parted. Conductors of circuit 3 (Loft) and circuit 4 (Porch) end in Loft, Loft switch, Porch and Porch "
        "switch. Line and neutral of circuit 3 (Loft) run by separate routes: the current in W6 and W11 comes back "
        "another way. Line and neutral of circuit 4 (Porch) run by separate routes: the current in W8 comes back "
        "another way.",
        "Isolate both circuits, find where the neutrals meet and part them.", "BS 7671 314.4"),
    ("circuits-that-meet", "cpc_of_another_way"): (
        "put right",
        "The cpc at Porch comes from circuit 5 (Garage), and its line from circuit 3 (Loft) and circuit 4 (Porch).",
        "Whoever takes circuit 5 (Garage) out of use takes the earth from circuit 3 (Loft) and circuit 4 (Porch) too.",
        "Bring a cpc of circuit 3 (Loft) and circuit 4 (Porch) with its lines.", ""),
    ("circuits-that-meet", "coordination"): (
        "put right", "W12, W13, W14 and W15 may carry 13.5 A, and the device of circuit 5 (Garage) is type C 20 A.",
        "An overload can overheat the cable before the device opens.",
        "Fit a device of a lower rating, or a larger cable.",
        "BS 7671 Table 4D1A: the most favourable method, as none is given (from memory)"),
    ("circuits-that-meet", "lampholder_device"): (
        "put right", "Circuit 5 (Garage) feeds lampholders and its device is type C 20 A.",
        "A fault in a lampholder can burn before a device of more than 16 A opens.",
        "Fit a device of 16 A or less; 6 A is usual.", "BS 7671 section 559"),
    ("altered-by-hand", "dimmers"): (
        "put right", "Lounge door and Lounge window are dimmers of the same lamps.",
        "Two dimmers on one set of switches disturb and can destroy one another.",
        "Keep one of them and fit a two-way switch in place of the other.", ""),
    ("altered-by-hand", "lines_exchanged"): (
        "put right", "The permanent line is on Fan SL and the switched line on Fan L.",
        "Line and switched line are exchanged: what should have supply all the time has it only while the "
        "switch is on.",
        "Exchange W7 BK on Fan SL and W7 BN on Fan L.", ""),
    ("altered-by-hand", "onward_line"): (
        "put right", "Shed works only while Porch switch is on: its line is taken from the switched line of Porch.",
        "Its own switch does nothing while the other is off.",
        "Find where the line of Shed leaves the switched line of Porch, and bring it from the permanent line.", ""),
    ("altered-by-hand", "multiway"): (
        "put right", "Stairs is lit in 1 of 8 settings, and not every operation of Foot and Top changes it.",
        "From some positions one of the switches does nothing.", "Follow each conductor at Foot and Top by test.", ""),
    ("altered-by-hand", "bridged_switch"): (
        "put right", "All conductors at Study switch are on Study switch COM: the switch does nothing.",
        "What it should switch is on whenever the circuit is.",
        "Find by test which of them is the switched line, and move it to the other contact of Study switch.", ""),
    ("altered-by-hand", "never_off"): (
        "put right", "Study spot is on in every setting: conductors bridge Study spot switch.",
        "It goes out only with the device at the board.", "Part them at Study spot switch.", ""),
    ("altered-by-hand", "no_permanent_line"): (
        "note", "Lawn has supply only with Porch switch on.",
        "It sees nothing while the switch is off, and needs a while after it is on again.",
        "Bring a permanent line to Lawn L in place of W19 BN.", ""),
    ("altered-by-hand", "loose_core"): (
        "danger", "The blue core of W2 from Lounge SL ends in nothing in Lounge door and can be live there.",
        "A bare live end lies loose in the box.",
        "Terminate it in an insulated connector, or take it off at Lounge SL; then find what it should join.", ""),
    ("old-farmhouse", "electrode"): (
        "put right", "The loop through the earth electrode measures 250 ohm.",
        "Above 200 ohm an electrode may not be stable: in a dry summer or a frost it may rise until the RCD no longer "
        "opens in time.", "Have the electrode improved, and measure again.", "BS 7671 Table 41.5"),
    ("old-farmhouse", "no_rcd"): (
        "put right", "There is no RCD for circuit 1 (Kitchen) and circuit 2 (Dairy), and the supply is TT.",
        "A fault to earth through the electrode seldom draws enough to open the device alone.",
        "Have circuit 1 and circuit 2 protected by an RCD.",
        "BS 7671 411.5.2 (clause from memory)"),
    ("old-farmhouse", "zs_limit"): (
        "put right", "Ze alone is 250 ohm, and circuit 3 (Barn) (RCD 300 mA) allows a Zs of 167 ohm.",
        "In a fault earthed metal may stay over 50 V without the RCD opening.", "Look into the earth electrode.",
        "BS 7671 Table 41.5"),
    ("old-farmhouse", "unsheathed"): (
        "put right", "W8 is an unsheathed single and no conduit or trunking is given.",
        "Their one layer of insulation is all there is between a damaged place and a hand.",
        "Run them in conduit or trunking, or use sheathed cable; if they are in one, write it into the "
        "description.", ""),
    ("old-farmhouse", "crowded_terminal"): (
        "put right", "The red core of W16 is on Old box S, which must stay empty.",
        "The accessory may be joined inside in a way that this record does not show.", "Take it off Old box S.", ""),
    ("old-farmhouse", "across_a_switch"): (
        "note", "Neon lies across Dairy switch.",
        "With Dairy switch off it glows, and what is switched is live through it and the lamps; electronic lamps there "
        "may glow or flicker.",
        "Leave it where it is meant as an indicator; isolate the circuit, never only Dairy switch.", ""),
    ("old-farmhouse", "protective_misused"): (
        "danger", "The bare core of W6 is used as switched line at Dairy switch L1 and Dairy N.",
        "A bare core is taken for earth by everyone who opens the box, and it can be live.",
        "Use another core or another cable; it may not be marked over.", "BS 7671 514.4.2"),
    ("unusual-joins", "zs_limit"): (
        "put right", "Zs is over the limit at every point: at Store A it is expected to be 12.58 ohm, and circuit 2 "
        "(Stores) (type C 10 A) allows 1.75 ohm measured cold.", "In a fault to earth the device may not open in time.",
        "Shorten the run or use a larger cpc, look into Ze, or have the circuit protected by an RCD.",
        "BS 7671 Table 41.3"),
    ("unusual-joins", "series_lamps"): (
        "put right", "Current goes through Cellar and Coal one after another.",
        "They share the voltage and come out dim (Cellar 50 % and Coal 50 % of it); electronic lamps flicker or stay "
        "dark.", "Give each lamp its own switched line and its own neutral.", ""),
}


@pytest.mark.parametrize(("house", "rule"), RARE)
def test_a_rare_finding_in_whole_sentences(house: str, rule: str) -> None:
    every = [(f.gravity.value, f.says, f.means, f.advice, f.clause) for f in faulty(house).reading.findings
             if f.rule == rule]
    assert RARE[house, rule] in every


METHODS = {
    "Office lamp": "No switch but the isolator Office switch: lit as long as it and circuit 4 are on.",
    "Porch": "Line and neutral looped at the switches; a sensor with an override switch beside it: lit with Porch PIR "
    "triggered, or with Porch switch on.",
    "Store A": "Line and neutral looped at the switches; three switches, one fed from the other: Store A lit "
    "with Store "
    "first and Store second on; Store B lit with Store first and Store third on.",
    "Desk": "Line and neutral are both taken to the switches.",
    "Cellar": "Lamps in series: they share the voltage.",
    "Vault": "Vault is never lit: no line reaches it.",
    "Wine": "Wine is never lit: no line and no neutral reach it.",
}


def test_arrangements_that_are_no_usual_method() -> None:
    told = {circuit.lamps[0]: circuit.method for circuit in faulty("unusual-joins").reading.circuits}
    assert {lamp: told[lamp] for lamp in METHODS} == METHODS


def test_a_short_is_told_by_its_two_ends_and_what_lies_between() -> None:
    page = as_text(job_to_pages(faulty("sparks"), ("operation",)))
    assert ("**Short.** Bench switch at L2: circuit 1 L is joined to circuit 1 N through Bench switch COM, Bench "
            "switch L2, Bench N and Bench switch N.\n") in page
