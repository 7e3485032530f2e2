"""The tests page: expected readings from the solution, figures from the lengths, boxes to write in."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from circuits import Circuit, loop_in, strappers
from hypothesis import given, settings
from kept_houses import houses, one_process
from pages.jobs import NAMES, blocks_of, example, job_of, says, tables, words

from sheetgen.model.page import Form, Heading
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.readings import expected
from sheetgen.pipeline import wiring_of

READS = (r"(.+?) (line \d+ V|neutral 0 V|earth 0 V|(?:lamp|fan|electronics|load) \d+ V|floating|"
         r"not known: treat as live|short)")


def page_of(job):
    """The page."""
    (page,) = job_to_pages(job, ("tests",))
    return page


def readings(job) -> dict[tuple[str, str], list[str]]:
    """(accessory, terminal) -> what is expected there, one for each setting shown."""
    found: dict[tuple[str, str], list[str]] = {}
    names = sorted((a.name for a in job.wiring.accessories), key=len, reverse=True)
    for table in tables(page_of(job)):
        rows = [[words(cell) for cell in row] for row in table.rows]
        if table.head[:2] == ("Switch", "Terminals") or (table.head[0] == "Terminals" and table.head[1] != "At"):
            for row in rows:
                said, *cells = row[table.head.index("Terminals"):]
                at = ""
                for part in re.split(r", | and ", said):
                    at = next((n for n in names if part.startswith(f"{n} ")), at)
                    found[at, part.removeprefix(f"{at} ")] = [cell.removeprefix("☐ ") for cell in cells]
        elif table.head == ("Terminals", "At"):
            for said, places in rows:
                for one in places.split(", "):
                    for part in said.split("; "):
                        terminals, reads = re.fullmatch(READS, part).groups()
                        for terminal in re.split(r", | and ", terminals):
                            found[one.removeprefix("☐\xa0"), terminal] = [reads]
    return found


@one_process
@settings(max_examples=25, deadline=None, derandomize=True)
@given(houses())
def test_every_terminal_with_a_conductor_has_its_reading(wiring):
    job = job_of(wiring)
    look = Lookup(job)
    found = readings(job)
    for terminal in wiring.nodes():
        if wiring.way(terminal.accessory) or not look.landed(terminal):
            continue
        shown = found[terminal.accessory, look.label(terminal)]
        possible = {expected(c, wiring.board.voltage, kind) for c in job.solution.conditions(terminal)
                    for kind in ("lamp", "fan", "electronics", "load")}
        shorts = any(row.shorts for group in job.solution.groups for row in group.rows) or job.solution.shorts
        assert set(shown) <= (possible | {"short"} if shorts else possible)
        if "short" in shown:
            assert any(text.startswith("line") for text in possible), "at line in name alone"
        elif not shorts:
            assert any(text.startswith("line") for text in shown) == any(text.startswith("line") for text in possible)
        if len(job.solution.conditions(terminal)) == 1:
            assert len(set(shown)) == 1


def test_what_hangs_behind_a_line_that_is_off_is_named_and_how_far_a_meter_may_be_off():
    """A sensor is fed by the switch, and while it is triggered the floodlights hang on the same line."""
    found = readings(example("outbuildings"))
    assert found["Yard switch", "L1"][:2] == ["electronics 0 V", "load 0 V"]
    words = {row[0]: row[1:] for table in tables(page_of(example("outbuildings"))) if table.head[0] == "Expected"
             for row in table.rows}
    assert words["lamp"][0] == "open with the lamps out; live, LED lamps can shift it by tens of volts"
    assert words["load"][0] == "open with lamps, fan and electronics all out; live, can differ by tens of volts"


@pytest.mark.parametrize("name", ["one-way-loop-in", "outbuildings"])
def test_ze_is_measured_with_the_main_switch_off_and_the_earthing_conductor_parted_and_put_back(name):
    """Only the means of earthing is measured then, not what lies parallel to it; and nobody leaves it parted."""
    text = says(page_of(example(name)))
    live = text[text.index("Live tests"):]
    assert live.index("main switch locked off") < live.index("earthing conductor parted") < live.index(
        "Put it back and see that it is tight before the main switch goes on") < live.index("Zs at every point")


def test_a_point_within_a_fan_is_nothing_to_put_a_probe_on():
    """The motor is joined to the timer inside; no table has it as a terminal, though the fan's motor is a load."""
    job = example("outbuildings")
    assert ("Fan", "SL") in readings(job) and ("Fan", "motor") not in readings(job)
    heads = [cell for page in job_to_pages(job, ("operation",)) for table in tables(page) for cell in table.head]
    assert any("Fan SL" in head for head in heads) and heads.count("Fan motor") == 1  # the load's own column


@pytest.mark.parametrize(("device", "shown", "asked"), [
    ("5 A fuse", "fuse 5 A, type ............", "Needed for the figures left out: type of the device of circuit 1."),
    ("BS 3036 30 A", "BS 3036 30 A", "The tables used here give no Zs limit of BS 3036 30 A."),
])
def test_the_type_of_a_device_is_asked_for_and_has_room_where_nobody_told_it(device, shown, asked):
    job = job_of(wiring_of(f"""
job: A light
board: {{earthing: TN-S, ze: 0.3, ways: {{1: {{serves: Light, device: {device}, rcd: none}}}}}}
accessories: {{Light: {{kind: batten lampholder}}}}
cables:
  W1: {{type: twin and earth 1.0, from: way 1, to: Light, length: 4 m, method: C,
       cores: {{BN: [L, L], BU: [N, N], cpc: [E, E]}}}}
"""))
    (board,) = [t for t in tables(page_of(job)) if "80 per cent" in t.head]
    assert words(board.rows[0][1]) == shown and asked in says(page_of(job))


def test_a_switch_in_a_sound_light_reads_as_the_trade_knows():
    found = readings(example("one-way-loop-in"))
    rose = next(a for a, t in found if t == "loop")
    switch = next(a for a, t in found if t == "COM")
    assert found[rose, "loop"] == ["line 230 V"]
    assert found[switch, "COM"] == ["line 230 V"]
    assert found[switch, "L1"] == ["lamp 0 V", "line 230 V"]
    assert found[rose, "N"] == ["neutral 0 V"] and found[rose, "E"] == ["earth 0 V"]


def test_of_eight_settings_those_are_shown_in_which_the_fan_is_fed():
    found = readings(example("outbuildings"))
    assert "line 230 V" in found["Isolator", "SL out"] and "line 230 V" in found["Fan", "SL"]
    (fan,) = [t for t in tables(page_of(example("outbuildings"))) if "timer" in t.head[1]]
    columns = list(zip(*(row[1:] for row in fan.rows), strict=True))
    assert len(columns) == len(set(columns)) == 4, "no two settings read alike"


@pytest.mark.parametrize("switches", [3, 6])
def test_of_many_switches_four_settings_put_everything_to_line(switches):
    c = Circuit()
    strappers(c, c.way(), "Study", switches)
    job = job_of(c.wiring())
    (table,) = [t for t in tables(page_of(job)) if len(t.head) > 3 and t.head[0] == "Terminals"]
    columns = list(zip(*(row[1:] for row in table.rows), strict=True))
    assert len(columns) == len(set(columns)) == 4
    assert all("\N{BALLOT BOX} line 230 V" in row for row in table.rows)


@pytest.mark.parametrize("name", NAMES)
def test_every_word_of_the_readings_is_explained_and_no_other(name):
    job = example(name)
    used = {text.split()[0] for texts in readings(job).values() for text in texts}
    (meanings,) = [t for t in tables(page_of(job)) if t.head[0] == "Expected"]
    assert {words(row[0]) for row in meanings.rows} == used


@pytest.mark.parametrize("name", NAMES)
def test_every_point_and_way_has_its_boxes_and_limits(name):
    job = example(name)
    look = Lookup(job)
    (points,) = [t for t in tables(page_of(job)) if t.head[0] == "Point"]
    assert [words(row[0]) for row in points.rows] == [p.accessory for p in look.figures.points]
    for row, point in zip(points.rows, look.figures.points, strict=True):
        assert words(row[4]) == ("" if point.r1_r2 is None else f"{point.r1_r2:.2f} \N{OHM SIGN}")
    assert points.boxes == (4, 5, 6)  # expected, with room beside it
    (form,) = [b for b in blocks_of(page_of(job).blocks) if isinstance(b, Form)]
    assert {"Date", "Tested by", "Signature"} <= set(form.labels)


def test_without_lengths_no_figure_is_invented_and_the_lengths_are_asked_for():
    job = example("two-way-line-at-switch")
    bare = job_of(replace(
        job.wiring, cables=tuple(replace(c, length=None) for c in job.wiring.cables),
        board=replace(job.wiring.board, ze=None, ways=tuple(replace(w, device=None) for w in job.wiring.board.ways)),
    ))
    (points,) = [t for t in tables(page_of(bare)) if t.head[0] == "Point"]
    for row in points.rows:
        assert words(row[4]) == "" and words(row[6]) == ""
    text = says(page_of(bare))
    assert "length of W1" in text and "device of circuit 4" in text and "Ze" in text


def test_circuits_that_meet_have_a_box_for_the_insulation_between_them_and_others_have_none():
    (table,) = [t for t in tables(page_of(example("landing-borrowed-neutral"))) if t.head[0] == "Circuits"]
    assert table.rows == (("5 and 6", "Landing", ""),) and table.boxes == (2,)
    assert "to L and N of the other joined" in says(page_of(example("landing-borrowed-neutral")))
    assert "of the other joined" not in says(page_of(example("large-house")))


def test_insulation_is_tested_in_the_settings_that_were_solved_for():
    job = example("two-way-line-at-switch")
    (table,) = [t for t in tables(page_of(job)) if t.head[0] == "Switches at"]
    assert len(table.rows) == len(Lookup(job).figures.insulation.settings)
    assert "Bed switch on" in words(table.rows[0][0])


def test_on_a_tt_supply_the_limit_is_that_of_the_rcd_and_no_share_of_it_is_taken():
    """BS 7671 411.5.3: 50 V over the rated residual current; 50 / 0.1 is 500."""
    page = page_of(example("stock/mill-cottage"))
    (table,) = [t for t in tables(page) if "80 per cent" in t.head]
    assert [words(cell) for cell in table.rows[0][:5]] == [
        "1", "BS 3036 5 A", "500.00 \N{OHM SIGN}: 50 V / 100 mA", "\N{EN DASH}", "100 mA"]
    job = example("one-way-loop-in")
    page = page_of(job_of(replace(job.wiring, board=replace(job.wiring.board, earthing="TT"))))
    assert "compare it with 50 V over the rated current of the RCD, which has to open on a TT supply." in says(page)
    assert "compare it with 80 per cent of the table." in says(page_of(example("one-way-loop-in")))


def test_each_circuit_that_reaches_a_point_has_its_row_and_each_circuit_its_insulation():
    page = page_of(example("landing-borrowed-neutral"))
    (points,) = [t for t in tables(page) if t.head[0] == "Point"]
    rows = [[words(cell) for cell in row] for row in points.rows]
    assert [row[:3] for row in rows if row[0] == "Landing"] == [["Landing", "5", "SL"], ["Landing", "6", "loop"]]
    assert [row[5] for row in rows if row[0] == "Landing"] == ["\N{EN DASH}", ""]  # the neutral is that of circuit 6
    (table,) = [t for t in tables(page) if t.head[:2] == ("Circuit", "Switches at")]
    assert [[words(cell) for cell in row] for row in table.rows] == [
        ["5", "Hall light on, Hall landing at L1, Top at L1", "", ""],
        ["5", "Hall light on, Hall landing at L2, Top at L2", "", ""],
        ["6", "no switch to set", "", ""],
    ]
    assert table.boxes == (2, 3)


def test_links_are_for_dead_tests_and_zs_is_measured_without_them():
    text = says(page_of(example("outbuildings")))
    assert ("Links: take every one out again before the circuit is switched on. Measure Zs at Flood 1 and Flood 2 "
            "while Sensor is on by itself, or work it out as Ze + R1+R2.") in text


def test_nothing_is_asked_of_a_cpc_where_there_is_none():
    text = says(page_of(example("stock/mill-cottage")))
    assert "No cpc reaches Parlour and Parlour switch: no R1+R2 and no Zs can be measured there." in text
    assert "Continuity of line and neutral to every point." in text and "Zs at every point" not in text
    assert not [t for t in tables(page_of(example("stock/mill-cottage"))) if t.head[0] == "Point"]


@pytest.mark.parametrize("name", ["half-known", "opened-rose"])
def test_where_the_way_to_no_point_is_known_only_what_can_be_tested_then_is_asked(name):
    text = says(page_of(example(f"finding-out/{name}")))
    assert "Continuity of the cpc to every accessory, with a wander lead: R2." in text
    assert "write down what it works" in text and "against the operation sheet" not in text
    assert text.index("Live tests, when every core end is known") < text.index("Zs at every point")


def test_a_point_without_a_cpc_has_no_boxes_beside_those_that_have_one():
    c = Circuit()
    feed = loop_in(c, c.way(), "Study")
    c.put("Loft", "one-way switch")
    c.single(feed.accessory, feed.line, "Loft", "COM")
    page = page_of(job_of(c.wiring()))
    (points,) = [t for t in tables(page) if t.head[0] == "Point"]
    assert "Loft" not in [words(row[0]) for row in points.rows] and len(points.rows) == 2
    text = says(page)
    assert "Continuity of the cpc to every point that has one:" in text
    assert "Zs at every point that has a cpc" in text
    assert "No cpc reaches Loft: no R1+R2 and no Zs can be measured there." in text


def test_volt_drops_near_their_limit_are_told_and_the_others_together():
    assert ("4.14 V at Flood 2 with Yard switch on, Sensor triggered, where at most 6.90 V is allowed; at every other "
            "load less than half of what is allowed.") in says(page_of(example("outbuildings")))


def test_ends_in_nothing_whose_other_end_nobody_has_seen_are_among_what_is_live():
    said = says(page_of(example("finding-out/opened-rose")))
    assert "loose ends of a, b, c and d not known: treat as live" in said
    assert "which reach every core but those named there" in said and "a RD" in said


@pytest.mark.parametrize(("name", "first"), [
    ("landing-borrowed-neutral", "every danger in the findings is put right and every dead test is good"),
    ("finding-out/half-known", "every core end is known and every dead test is good"),
    ("bungalow", "every dead test is good"),
])
def test_nothing_is_tested_live_while_it_must_stay_off(name, first):
    (page,) = job_to_pages(example(name), ("tests",))
    heads = [b.text for b in blocks_of(page.blocks) if isinstance(b, Heading) and b.text.startswith("Live tests")]
    assert heads == [f"Live tests, when {first}"]


TWO_CIRCUITS = """job: Plate
board: {earthing: TN-S, ways: {1: {device: type B 6 A, rcd: none}, 2: {device: type B 6 A, rcd: none}}}
colours: current
accessories:
  Hall:    {kind: batten lampholder, lamp: 10 W}
  Landing: {kind: batten lampholder, lamp: 10 W}
  Plate:   {kind: 2 gang 1 way}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Plate, cores: {BN: [L, 1 COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Plate, to: Hall, cores: {BN: [1 L1, L], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: way 2, to: Plate, cores: {BN: [L, 2 COM], BU: [N, N2 joint], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Plate, to: Landing, cores: {BN: [2 L1, L], BU: [N2 joint, N], cpc: [E, E]}}
"""
TWO_CIRCUITS = TWO_CIRCUITS.replace("kind: 2 gang 1 way", "kind: 2 gang 1 way, connectors: [N joint, N2 joint]")


def link(a: str, b: str) -> str:
    """A link of the plate."""
    return TWO_CIRCUITS + f"  W5: {{type: single 1.0, from: Plate, to: Plate, cores: {{BN: [{a}, {b}]}}}}\n"


ALWAYS = "However the switches stand circuit 1 reads a short to circuit 2 until that is put right."


@pytest.mark.parametrize(("text", "says"), [
    (TWO_CIRCUITS, ""),
    (link("1 COM", "2 COM"), ALWAYS),
    (link("N joint", "N2 joint"), ALWAYS),
    (link("1 COM", "N2 joint"), ALWAYS),
    (link("1 COM", "2 L1"), "With Plate 2 on circuit 1 reads a short to circuit 2 until that is put right."),
])
def test_between_two_circuits_that_are_joined_the_insulation_test_reads_nothing(text, says):
    said = says_of(text)
    assert "Lowest between them, M\N{OHM SIGN}" in said
    assert (says in said) if says else "reads a short to" not in said


def says_of(text: str) -> str:
    """All of the tests page."""
    return says(page_of(job_of(wiring_of(text))))


LOOSE = """job: Store
board: {earthing: TN-S, ways: {3: {device: type B 6 A, rcd: none}}}
colours: current
accessories:
  Store: {kind: batten lampholder, lamp: 10 W}
  Door:  {kind: one-way switch}
  Shed:  {kind: joint box, terminals: [L, N, E]}
cables:
  W1: {type: twin and earth 1.0, from: way 3, to: Door, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Door, to: Store, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: three-core and earth 1.0, from: Door, to: Shed,
       cores: {BN: [COM, nothing], BK: [L1, nothing], GY: [N joint, nothing], cpc: [E, E]}}
""".replace("{kind: one-way switch}", "{kind: one-way switch, connectors: [N joint]}")


def test_the_live_ends_of_cores_that_end_in_nothing_are_read_as_their_other_ends():
    found = readings(job_of(wiring_of(LOOSE)))
    assert found["Shed", "loose end of W3 BN"] == ["line 230 V"]
    assert found["Shed", "loose end of W3 BK"] == found["Door", "L1"] == ["lamp 0 V", "line 230 V"]
    assert ("Shed", "loose end of W3 GY") not in found, "one at neutral alone is not live"
