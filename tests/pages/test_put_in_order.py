"""What a sheet says where conductors are not connected as they should be: it is not taken for sound."""

from __future__ import annotations

import pytest
from pages.jobs import FAULTY, NAMES, blocks_of, example, faulty, job_of, says, tables, words

from sheetgen.circuit import circuit_of
from sheetgen.judge.methods import what_is_where
from sheetgen.judge.miswired import OF_CONNECTIONS
from sheetgen.judge.roles import nets_of, roles_of, ways_of
from sheetgen.judge.rules import RULES
from sheetgen.model.job import Job
from sheetgen.model.page import Heading
from sheetgen.model.reading import Gravity
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import compose
from sheetgen.pipeline import style_of, wiring_of

PAIR = """job: Stairs
colours: current
accessories:
  Rose: {kind: ceiling rose, room: Stairs, lamp: 8 W}
  Top: {kind: two-way switch}
  Foot: {kind: two-way switch}
  Porch: {kind: batten lampholder, lamp: 6 W}
  Door: {kind: one-way switch, connectors: [N joint]}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Foot, sleeved: [BU],
       cores: {BN: [loop, %s], BU: [SL, L2], cpc: [E, E]}}
  W3: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
  W4: {type: twin and earth 1.0, from: Rose, to: Door, cores: {BN: [loop, COM], BU: [N, N joint], cpc: [E, E]}}
  W5: {type: twin and earth 1.0, from: Door, to: Porch, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
"""
ROSE = """job: Study
colours: current
accessories:
  Study: {kind: ceiling rose, room: Study, lamp: 10 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Study, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Study, to: Door, cores: {BN: [%s, COM], BU: [%s, L1], cpc: [E, E]}}
%s"""
FLEX = "  W3: {type: two-core flex 0.75, from: Study, to: Study lamp, cores: {BN: [loop, L], BU: [SL, N]}}\n"
SHORTED = ROSE % ("N", "SL", FLEX)
SHORT_WITH_DOOR_ON = ROSE % ("loop", "N", "")
FIRST = "Nothing before it is put in order: see the findings"


PROVES = "Tick what reads as shown: that proves this record, not the circuit; make the sheet anew when it is put right."


def read(text: str) -> Job:
    return job_of(wiring_of(text.encode()))


def could(job: Job) -> dict[str, str]:
    """Accessory -> what could be fitted there, as printed."""
    (table,) = [t for t in tables(compose(Lookup(job))[0]) if t.head[0] == "Accessory"]
    return {name: words(row[-1]) for row in table.rows for name in words(row[0]).split(", ")}


def test_nothing_is_fitted_to_a_set_of_switches_that_does_not_always_work_and_elsewhere_it_is():
    """Line on a common of a conversion: two of four settings are bypassed, and so would a dimmer be."""
    sound, wrong = could(read(PAIR % "L1")), could(read(PAIR % "COM"))
    assert "One two-way dimmer for the whole set" in sound["Top"] and "One two-way dimmer" in sound["Foot"]
    assert [wrong[name] for name in ("Top", "Foot", "Rose")] == [FIRST] * 3
    assert wrong["Door"] == sound["Door"] != FIRST and wrong["Porch"] == sound["Porch"] != FIRST


def test_nothing_is_fitted_in_a_short_that_no_switch_makes():
    assert could(read(SHORTED))["Door"] == FIRST


def test_nothing_is_fitted_to_metal_that_lacks_its_earth_and_what_it_works_is_as_it_was():
    metal = (PAIR % "L1").replace("kind: one-way switch,", "kind: one-way switch, metal: yes,")
    cut = could(read(metal.replace("BU: [N, N joint], cpc: [E, E]", "BU: [N, N joint], cpc: [E, nothing]").replace(
        "BU: [N joint, N], cpc: [E, E]", "BU: [N joint, N], cpc: [nothing, E]")))
    assert cut["Door"] == FIRST != could(read(metal))["Door"]
    assert cut["Porch"] != FIRST and cut["Top"] != FIRST


def test_nothing_is_fitted_where_a_lamp_has_no_neutral():
    cut = PAIR.replace("BU: [N joint, N]", "BU: [nothing, N]")
    found = could(read(cut % "L1"))
    assert found["Porch"] == found["Door"] == FIRST and found["Top"] != FIRST


@pytest.mark.parametrize("job", [*map(example, NAMES), *map(faulty, FAULTY)], ids=[*NAMES, *FAULTY])
def test_of_every_accessory_something_is_said(job: Job):
    assert all(could(job).values())
    assert all((place.fits or place.lacks) for place in job.reading.places)


def test_a_light_without_its_neutral_lacks_it_in_words():
    """The reason stands in the place itself, whatever is found besides: never a blank cell."""
    wiring = wiring_of((PAIR.replace("BU: [N joint, N]", "BU: [nothing, N]") % "L1").encode())
    circuit = circuit_of(wiring)
    nets = nets_of(circuit)
    roles, ways = roles_of(circuit, nets, style_of().sets), ways_of(circuit, nets)
    (porch,) = [p for p in what_is_where(
        wiring, circuit.solution, roles, ways, {}, frozenset({"Porch"})) if p.accessory == "Porch"]
    assert porch.lacks == ("no light, sensor or fan: there is no neutral here",) and porch.fits == ()


def page_text(job: Job, kind: str) -> str:
    (page,) = job_to_pages(job, (kind,))
    return " ".join(says(page).split())


def headings(job: Job) -> dict[str, str]:
    """The headings of the tests sheet and what stands beside each."""
    (page,) = job_to_pages(job, ("tests",))
    return {b.text: b.note for b in blocks_of(page.blocks) if isinstance(b, Heading)}


def test_what_a_faulty_circuit_reads_is_not_taken_for_the_result_of_a_test():
    sound, wrong = read(PAIR % "L1"), read(PAIR % "COM")
    tests, operation = page_text(wrong, "tests"), page_text(wrong, "operation")
    heads = headings(wrong)
    assert heads["Every terminal"].startswith(f"As found, with its faults. {PROVES}")
    assert heads["Every point"] == "As found, with its faults: make the sheet anew when it is put right."
    assert "the operation sheet shows the circuit as found, with its faults." in tests
    assert "against the operation sheet" not in tests
    assert "what the circuit does as found, with its faults. Make the sheet anew when it is put right." in operation
    heads = headings(sound)
    assert heads["Every terminal"].startswith("Tick what reads as it should. Dead first") and not heads["Every point"]
    assert "against the operation sheet" in page_text(sound, "tests")
    assert "faults" not in page_text(sound, "operation")


def test_with_a_danger_nothing_is_read_live():
    dead = "Dead tests alone, with the lamps out."
    assert headings(read(SHORTED))["Every terminal"].endswith(dead)
    assert not headings(read(PAIR % "COM"))["Every terminal"].endswith(dead), "to put right, and no danger"


def test_a_proposal_is_not_called_found():
    proposed = read(f"status: proposed\n{PAIR % 'COM'}")
    assert headings(proposed)["Every terminal"].startswith(f"As described, with its faults. {PROVES}")
    assert "as found" not in page_text(proposed, "operation").casefold()


def test_a_thing_to_put_right_that_moves_no_conductor_leaves_the_tables_as_they_are():
    """A sleeve that is missing changes no reading."""
    unmarked = read((PAIR % "L1").replace(", sleeved: [BK, GY]", ""))
    assert [f for f in unmarked.reading.findings if f.gravity is not Gravity.NOTE]
    assert headings(unmarked)["Every terminal"].startswith("Tick what reads as it should.")


def constant(job: Job) -> dict[str, str]:
    """Accessory -> what stands for its terminals, whatever the switches do."""
    (page,) = job_to_pages(job, ("tests",))
    (table,) = [t for t in tables(page) if t.head == ("Terminals", "At")]
    return {name.removeprefix("\N{BALLOT BOX}\N{NO-BREAK SPACE}"): words(row[0])
            for row in table.rows for name in words(row[1]).split(", ")}


def test_in_a_short_that_no_switch_makes_there_is_nothing_to_be_read():
    """Line and neutral are one conductor: the neutral of the supply never stands at 230 V."""
    job = read(SHORTED)
    at = constant(job)
    assert at["Study"] == "N, loop and SL short; E earth 0 V" and at["Study lamp"] == "L and N short"
    assert "230 V" not in " ".join(at.values())
    (page,) = job_to_pages(job, ("tests",))
    (meanings,) = [t for t in tables(page) if t.head[0] == "Expected"]
    assert ("short", "low ohms to line, and to the neutral or earth it is shorted to", "read nothing live",
            "read nothing live") in meanings.rows
    connections = page_text(job, "connections")
    assert "in the short" in connections
    assert "permanent line" not in connections and "neutral" not in connections.split("Each line")[1].replace(
        "joined to neutral", "")


def test_a_short_that_a_switch_makes_is_told_before_what_reads_whatever_the_switches_do():
    job = read(SHORT_WITH_DOOR_ON)
    text = page_text(job, "tests")
    assert ("With Door on the line of circuit 1 is shorted: read nothing of it live then; find the short by dead "
            "test.") in text
    assert headings(job)["Whatever the switches do"] == "but not while a line is shorted"
    assert "is shorted" not in page_text(read(PAIR % "L1"), "tests")


TWO_WAYS = """board: {ways: {1: {serves: Study}, 2: {serves: Hall}}}
"""
HALL = """  W7: {type: twin and earth 1.0, from: way 2, to: Hall, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
"""


@pytest.mark.parametrize("ways", [1, 2])
def test_insulation_is_tested_with_the_switch_that_shorts_kept_off_and_that_is_said(ways: int):
    text = SHORT_WITH_DOOR_ON
    if ways == 2:
        text = (text.replace("accessories:\n", f"{TWO_WAYS}accessories:\n  Hall: {{kind: batten lampholder}}\n") + HALL)
    job = read(text)
    (table,) = [t for t in tables(job_to_pages(job, ("tests",))[0]) if "L to N, M\N{OHM SIGN}" in t.head]
    stands = [words(row[table.head.index("Switches at")]) for row in table.rows]
    assert stands == ["Door off", "no switch to set"][:ways]
    said = page_text(job, "tests")
    name = "circuit 1 (Study)" if ways == 2 else "circuit 1"
    assert f"With Door on {name} reads a short until that is put right." in said


def test_of_a_short_that_no_switch_makes_the_insulation_test_says_what_it_reads():
    assert "However the switches stand circuit 1 reads a short until that is put right." in (
        page_text(read(SHORTED), "tests"))
    assert "reads a short" not in page_text(read(PAIR % "COM"), "tests")


def test_cores_of_one_terminal_are_tested_together_for_they_read_a_short_to_one_another():
    said = page_text(example("finding-out/half-known"), "tests")
    assert ("Except b RD with c RD; b BK with Flex 1 BU; c BK with Flex 1 BN; d RD with e YE; d BK with e BU; e RD; "
            "f RD; f YE; f BU. Those named with one another are joined: test them together, and all others each by "
            "itself, to earth and to every core that is not joined to them.") in said


def load(job: Job) -> str:
    said = page_text(job, "cables")
    return said[said.index("Load of the circuit:"):]


def lights(job: Job) -> str:
    (table,) = [t for t in tables(job_to_pages(job, ("card",))[0]) if any(words(r[0]) == "Lights" for r in t.rows)]
    return next(words(row[1]) for row in table.rows if words(row[0]) == "Lights")


def test_a_lamp_out_by_a_fault_keeps_its_lampholder_in_the_load():
    """Two lampholders of 100 W at 230 V take 0.87 A, whether the neutral of one is cut or not."""
    sound, cut = read(PAIR % "L1"), read(PAIR.replace("BU: [N joint, N]", "BU: [nothing, N]") % "L1")
    assert "2 points, 14 W together" in lights(sound) and "2 points, 14 W together" in lights(cut)
    assert "14 W, 0.06 A with the lamps that are fitted; 0.87 A at 100 W a lampholder" in load(sound)
    assert "8 W, 0.03 A with the lamps that can be on together, as found; 0.87 A at 100 W a lampholder" in load(cut)


def test_a_fan_in_the_load_is_called_no_lamp():
    page = job_to_pages(example("outbuildings"), ("cables",))[0]
    (head,) = [table.head for table in tables(page) if "Circuit" in table.head]
    assert head == ("Circuit", "Device", "Lamps and other loads fitted", "At 100 W a lampholder")


@pytest.mark.parametrize(("text", "shown"), [
    (SHORT_WITH_DOOR_ON, "Study lamp (10 W): no line reaches it"),
    (SHORTED, "Study lamp (10 W); 1 point, 10 W together"),
])
def test_a_lamp_that_no_line_reaches_is_on_the_card_of_the_circuit_it_returns_to(text: str, shown: str):
    job = read(text)
    assert lights(job) == shown
    assert "0 W, 0 A with the lamps that can be on together, as found; 0.43 A at 100 W a lampholder" in load(job)


def test_a_lamp_fed_by_another_circuit_returns_its_neutral_alone():
    said = page_text(example("landing-borrowed-neutral"), "card")
    assert "only the neutral of Landing lamp" in said and "no line reaches" not in said


def test_the_setting_kept_for_the_insulation_test_is_not_simply_the_first():
    job = read(SHORT_WITH_DOOR_ON.replace("one-way switch", "two-way switch"))
    assert [dict(setting) for setting in job.reading.figures.insulation.settings] == [{"Door": "L2"}]


def test_every_rule_of_connections_is_a_rule():
    assert {rule.name for rule in RULES} >= OF_CONNECTIONS


def plates(extra: str = "") -> str:
    """Two circuits in one plate, a lamp on each."""
    return f"""job: Plate
board: {{earthing: TN-S, ways: {{1: {{device: type B 6 A, rcd: none}}, 2: {{device: type B 6 A, rcd: none}}}}}}
colours: current
accessories:
  Hall:    {{kind: batten lampholder, lamp: 10 W}}
  Landing: {{kind: batten lampholder, lamp: 20 W}}
  Plate:   {{kind: 2 gang 1 way, connectors: [N joint, N2 joint]}}
cables:
  W1: {{type: twin and earth 1.0, from: way 1, to: Plate, cores: {{BN: [L, 1 COM], BU: [N, N joint], cpc: [E, E]}}}}
  W2: {{type: twin and earth 1.0, from: Plate, to: Hall, cores: {{BN: [1 L1, L], BU: [N joint, N], cpc: [E, E]}}}}
  W3: {{type: twin and earth 1.0, from: way 2, to: Plate, cores: {{BN: [L, 2 COM], BU: [N, N2 joint], cpc: [E, E]}}}}
  W4: {{type: twin and earth 1.0, from: Plate, to: Landing, cores: {{BN: [2 L1, L], BU: [N2 joint, N], cpc: [E, E]}}}}
{extra}"""


def test_what_the_joined_lines_of_two_circuits_feed_is_the_load_of_each() -> None:
    """10 W and 20 W: apart each its own, joined 30 W at either, which at 230 V is 0.13 A."""
    apart, joined = read(plates()), read(plates(
        "  W5: {type: single 1.0, from: Plate, to: Plate, cores: {BN: [1 COM, 2 COM]}}\n"))
    assert [words(row[2]) for row in loads(apart)] == ["10 W, 0.04 A", "20 W, 0.09 A"]
    assert [words(row[2]) for row in loads(joined)] == ["30 W, 0.13 A", "30 W, 0.13 A"]
    says_so = ("While the lines of circuits 1 and 2 are joined and one is off, the other carries all that they feed "
               "together, and its cables may carry more than is shown.")
    assert says_so in text_of(joined, "cables") and "are joined" not in text_of(apart, "cables")


def loads(job: Job):
    """The rows of the load of each circuit."""
    (page,) = job_to_pages(job, ("cables",))
    (table,) = [t for t in tables(page) if t.head[-1] == "At 100 W a lampholder"]
    return table.rows


def text_of(job: Job, kind: str) -> str:
    """All of one page."""
    (page,) = job_to_pages(job, (kind,))
    return says(page)


def test_nothing_goes_where_the_switches_of_a_lamp_are_that_borrows_a_neutral_and_elsewhere_it_may() -> None:
    """The landing lamp alone takes its line from one circuit and its neutral from the other."""
    found = could(example("landing-borrowed-neutral"))
    assert found["Hall"] == found["Top"] == FIRST and found["Hall rose"].startswith("A sensor")


SERIES = """job: Dining
board: {earthing: TN-S, ways: {4: {device: type B 6 A, rcd: none}}}
colours: legacy
accessories:
  Dining: {kind: batten lampholder, loop: yes, lamp: 60 W, connectors: [joint]}
  Hatch:  {kind: batten lampholder, lamp: 40 W}
  Door:   {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 4, to: Dining, cores: {RD: [L, loop], BK: [N, %s], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Dining, to: Door, cores: {RD: [loop, COM], BK: [L, L1], cpc: [E, E]},
       sleeved: [BK]}
  W3: {type: twin and earth 1.0, from: Dining, to: Hatch, cores: {RD: [%s, L], BK: [%s, N], cpc: [E, E]}}
"""


def test_nothing_goes_where_a_switch_works_lamps_in_series() -> None:
    """The line of the second lamp is the neutral side of the first."""
    sound, series = could(read(SERIES % ("N", "L", "N"))), could(read(SERIES % ("joint", "N", "joint")))
    assert sound["Door"].startswith("A dimmer") and sound["Hatch"].startswith("A fitting")
    assert series == {"Dining": FIRST, "Hatch": FIRST, "Door": FIRST}


WITH_SENSOR = """job: Utility
board: {earthing: TN-S, ways: {2: {device: type B 6 A, rcd: none}}}
colours: current
accessories:
  Utility: {kind: ceiling rose, lamp: 10 W}
  Eye:     {kind: sensor}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Utility, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: %s and earth 1.0, from: Utility, to: Eye, cores: {BN: [loop, L], %s}}
"""


def test_nothing_goes_on_a_rose_whose_sensor_has_its_neutral_through_the_cpc() -> None:
    sound, wrong = (could(read(WITH_SENSOR % w2)) for w2 in (
        ("three-core", "BK: [SL, SL], GY: [N, N], cpc: [E, E]"), ("twin", "BU: [SL, SL], cpc: [E, N]")))
    assert sound["Utility"].startswith("A sensor") and wrong["Utility"] == wrong["Eye"] == FIRST


BORROWED = """job: Bedrooms
board: {earthing: TN-S, ways: {6: {device: type B 6 A, rcd: none}, 5: {device: type B 6 A, rcd: none}}}
colours: current
accessories:
  Front switch: {kind: one-way switch, connectors: [N joint]}
  Front light:  {kind: light fitting, class: II, lamp: 12 W}
  Back switch:  {kind: one-way switch, connectors: [N joint]}
  Back light:   {kind: light fitting, class: II, lamp: 12 W}
cables:
  W1: {type: twin and earth 1.5, from: way 6, to: Front switch, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.5, from: Front switch, to: Front light,
       cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.5, from: Front switch, to: Back switch,
       cores: {BN: [COM, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W4: {type: twin and earth 1.5, from: Back switch, to: Back light, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W5: {type: twin and earth 1.5, from: way 5, to: Back switch,
       cores: {BN: [L, nothing], BU: [N, N joint], cpc: [E, nothing]}}
"""


def test_nothing_goes_where_a_cure_is_to_be_carried_out() -> None:
    """The free blue core of W3 takes the neutral from the front switch to the back one: both ends are to be put on."""
    job = read(BORROWED)
    assert any("the blue core of W3 on Front switch N joint" in cure.says
               for f in job.reading.findings for cure in f.cures)
    assert could(job)["Front switch"] == FIRST and could(job)["Front light"] != FIRST


TWO_DIMMERS = (PAIR % "L1").replace("Top: {kind: two-way switch}", "Top: {kind: dimmer, switching: two-way}")


def test_two_dimmers_of_one_set_are_to_be_put_in_order_before_another_goes_there() -> None:
    one, two = could(read(TWO_DIMMERS)), could(read(TWO_DIMMERS.replace(
        "Foot: {kind: two-way switch}", "Foot: {kind: dimmer, switching: two-way}")))
    assert one["Foot"] != FIRST and two["Foot"] == two["Top"] == FIRST
    assert two["Door"] == one["Door"] != FIRST and two["Rose"] == one["Rose"] != FIRST


def test_nothing_goes_on_a_circuit_that_no_device_opens_and_on_another_it_may() -> None:
    """TT, 50 ohm and a 6 A breaker without an RCD: 4.6 A flow to earth, and nothing opens; RCD: 30 mA do."""
    tt = plates().replace("earthing: TN-S", "earthing: TT, ze: 50 ohm").replace(
        "2: {device: type B 6 A, rcd: none}", "2: {device: type B 6 A, rcd: 30 mA}")
    found = could(read(tt.replace("to: Plate,", "to: Plate, length: 5 m,").replace(
        "to: Hall,", "to: Hall, length: 5 m,").replace("to: Landing,", "to: Landing, length: 5 m,")))
    assert found["Hall"] == FIRST and found["Landing"].startswith("A fitting")


def test_where_every_core_is_traced_what_is_not_known_lies_beyond() -> None:
    """One end of W3 at Top is not known: of the rose, that W1 and W2 alone come to, both ends of each are."""
    found = could(read((PAIR % "L1").replace("BK: [L1, L1]", "BK: [L1, '?']")))
    assert found["Rose"] == "Nothing can be said before every core is traced that those here are joined to"
    assert found["Foot"] == found["Top"] == "Nothing can be said before every core here is traced"
