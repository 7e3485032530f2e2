"""Solution to Reading: roles, ways and sleeves."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from circuits import (
    SETS,
    Circuit,
    Feed,
    alternate,
    at_the_switch,
    box,
    bridge,
    conversion,
    core_at,
    loop_in,
    plate,
    series,
    strappers,
    switched_neutral,
    with_core,
    with_end,
)
from hypothesis import given, settings
from kept_houses import houses, judged, one_process, sound_houses

from sheetgen.catalogue.accessories import find
from sheetgen.judge.judging import in_order
from sheetgen.judge.roles import Net, role_of
from sheetgen.judge.sleeves import sleeves_of
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.reading import Finding, Gravity, Reading, Role, Standing
from sheetgen.model.solution import Condition, Potential
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring
from sheetgen.solve.wiring_to_solution import wiring_to_solution


def read(wiring: Wiring) -> Reading:
    return judged(wiring)[1]


def one_room(room, *more, colours: str = "current", **kw) -> Wiring:
    c = Circuit(colours)
    room(c, c.way(), "Study", *more, **kw)
    return c.wiring()


def roles(wiring: Wiring) -> dict[str, str]:
    """'W1/1' -> role, the cpcs left out: those have a test of their own."""
    found = read(wiring).roles
    return {core.key: found[core.key].value for core in wiring.cores() if not core.cpc}


def test_roles_of_a_loop_in():
    assert roles(one_room(loop_in)) == {
        "W1/1": "switched line", "W1/2": "neutral",  # the flex
        "W2/1": "permanent line", "W2/2": "neutral", "W3/1": "permanent line", "W3/2": "switched line"}


def test_roles_of_conversion_wiring():
    found = roles(one_room(conversion))
    assert [found[k] for k in ("W3/1", "W3/2")] == ["permanent line", "switched line"]
    assert [found[k] for k in ("W4/1", "W4/2", "W4/3")] == ["strapper", "permanent line", "switched line"]
    found = roles(one_room(conversion, 3))  # COM runs past the intermediate, which breaks the other two
    assert [found[k] for k in ("W4/1", "W4/2", "W4/3")] == ["strapper", "permanent line", "switched line"]
    assert [found[k] for k in ("W5/1", "W5/2", "W5/3")] == ["strapper"] * 3


def test_roles_of_two_strappers():
    found = roles(one_room(strappers))
    assert list(found.values()) == ["permanent line", "neutral", "strapper", "strapper", "switched line"]


def test_roles_when_the_neutral_is_switched():
    found = roles(one_room(switched_neutral))
    assert found == {"W1/1": "permanent line", "W1/2": "switched neutral", "W2/1": "permanent line",
                     "W2/2": "neutral", "W3/1": "neutral", "W3/2": "switched neutral"}


def test_roles_between_lamps_and_of_alternate_polarity():
    assert list(roles(one_room(series)).values()) == ["permanent line", "switched line", "between lamps", "neutral"]
    assert list(roles(one_room(alternate)).values())[-2:] == ["switched line", "switched line"]


@pytest.mark.parametrize("room", [loop_in, box, at_the_switch, conversion, strappers, plate])
def test_every_cpc_is_a_cpc(room):
    wiring = one_room(room)
    found = read(wiring).roles
    assert {found[c.key] for c in wiring.cores() if c.cpc} == {Role.CPC}


def test_a_core_in_nothing_at_both_ends_is_unused_and_one_at_a_dead_switch_too():
    c = Circuit()
    c.way()
    c.put("Door", "two-way switch")
    c.twin("way 1", "Door", (None, None), (None, "L2"))
    found = read(c.wiring())
    assert found.roles == {"W1/1": Role.UNUSED, "W1/2": Role.UNUSED, "W1/3": Role.CPC}
    assert [s.core for s in found.sleeves] == ["W1/3", "W1/3"]
    assert found.ways["W1/1"] == () and found.ways["W1/3"] == ("way 1",)


def test_beyond_a_break_a_core_is_cut_off_and_before_it_nothing_changes():
    wiring = one_room(loop_in)
    sound = roles(wiring)
    assert roles(with_end(wiring, core_at(wiring, "W2/2"), 1, None))["W1/2"] == "cut off"
    assert roles(with_end(wiring, core_at(wiring, "W3/2"), 0, None))["W1/1"] == "cut off"
    broken = roles(with_end(wiring, core_at(wiring, "W2/1"), 1, None))
    assert {broken[k] for k in ("W1/1", "W3/2")} == {"cut off"}  # no line comes to them
    assert {k: broken[k] for k in ("W2/2", "W1/2")} == {k: sound[k] for k in ("W2/2", "W1/2")}
    two_way = one_room(strappers)
    assert set(roles(with_end(two_way, core_at(two_way, "W1/1"), 1, None)).values()) == {
        "permanent line", "neutral", "cut off"}


def test_a_cpc_cut_off_is_still_a_cpc():
    wiring = one_room(loop_in)
    cut = with_end(wiring, core_at(wiring, "W2/3"), 0, None)
    assert read(cut).roles["W3/3"] is Role.CPC


def test_ways_of_a_borrowed_neutral():
    c = Circuit()
    c.way("5")
    c.way("6")
    c.put("Landing", "batten lampholder")
    c.put("Door", "one-way switch")
    c.single("way 5", "L", "Door", "COM")
    c.single("Door", "L1", "Landing", "L")
    c.neutral("Landing", "N", "way 6", "N")
    assert read(c.wiring()).ways == {"W1/1": ("way 5",), "W2/1": ("way 5",), "W3/1": ("way 6",)}


def sleeves(wiring: Wiring) -> dict[tuple[str, int], tuple[str, str]]:
    return {(s.core, s.end): (s.standing.value, s.colour) for s in read(wiring).sleeves}


@pytest.mark.parametrize(("colours", "line"), [("current", "BN"), ("legacy", "RD")])
def test_both_cores_of_a_switch_drop_are_line(colours, line):
    wiring = one_room(loop_in, colours=colours)
    found = sleeves(wiring)
    assert [found["W3/2", end] for end in (0, 1)] == [("fitted", line)] * 2
    assert ("W3/1", 0) not in found
    bare = with_core(wiring, replace(core_at(wiring, "W3/2"), ends=tuple(
        replace(e, sleeve=None) for e in core_at(wiring, "W3/2").ends)))
    assert [sleeves(bare)["W3/2", end] for end in (0, 1)] == [("missing", line)] * 2


def with_sleeves(wiring: Wiring, key: str, one: str | None, two: str | None) -> Wiring:
    core = core_at(wiring, key)
    ends = tuple(replace(e, sleeve=s) for e, s in zip(core.ends, (one, two), strict=True))
    return with_core(wiring, replace(core, ends=ends))


def test_the_line_colour_of_the_other_set_serves():
    wiring = with_sleeves(one_room(loop_in, colours="legacy"), "W3/2", "BN", "RD")
    assert [sleeves(wiring)["W3/2", end] for end in (0, 1)] == [("fitted", "BN"), ("fitted", "RD")]


def test_wrong_and_needless_sleeves():
    wiring = with_sleeves(one_room(loop_in), "W3/2", "BU", "GY")
    found = [s for s in read(wiring).sleeves if s.core == "W3/2"]
    assert [(s.standing, s.colour, s.has) for s in found] == [
        (Standing.WRONG, "BN", "BU"), (Standing.WRONG, "BN", "GY")]
    wiring = with_sleeves(one_room(loop_in), "W2/1", None, "BN")
    assert sleeves(wiring)["W2/1", 1] == ("needless", "BN") and ("W2/1", 0) not in sleeves(wiring)


def test_a_grey_core_as_neutral_is_sleeved_blue_and_a_black_one_as_cpc_green_and_yellow():
    c = Circuit()
    c.way()
    c.put("Porch", "light fitting")
    c.cable("three-core", "way 1", "Porch", ("L", "L"), ("E", "E"), ("N", "N"))
    assert sleeves(c.wiring()) == {
        ("W1/2", 0): ("missing", "GNYE"), ("W1/2", 1): ("missing", "GNYE"),
        ("W1/3", 0): ("missing", "BU"), ("W1/3", 1): ("missing", "BU")}


def test_a_bare_cpc_is_sleeved_and_a_green_and_yellow_core_is_never_over_marked():
    wiring = one_room(loop_in)
    assert sleeves(with_sleeves(wiring, "W2/3", None, "GN"))["W2/3", 0] == ("missing", "GNYE")
    assert sleeves(with_sleeves(wiring, "W2/3", None, "GN"))["W2/3", 1] == ("fitted", "GN")
    singles = one_room(strappers)
    earth = next(c for c in singles.cores() if c.colour == "GNYE")
    assert not [s for s in read(singles).sleeves if s.core == earth.key]
    as_line = with_end(with_end(singles, earth, 0, "L"), core_at(singles, earth.key), 1, "COM")
    as_line = with_end(as_line, core_at(as_line, earth.key), 0, "L")
    assert read(as_line).roles[earth.key] is Role.PERMANENT_LINE
    assert not [s for s in read(as_line).sleeves if s.core == earth.key]
    marked = with_sleeves(as_line, earth.key, "BN", "BN")
    assert {(s.standing, s.colour, s.has) for s in read(marked).sleeves if s.core == earth.key} == {
        (Standing.NEEDLESS, "BN", "")}


def test_flex_has_its_own_set():
    wiring = one_room(loop_in, colours="legacy")
    assert wiring.cables[0].colours == "current" and not [s for s in read(wiring).sleeves if s.core.startswith("W1/")]


def test_yellow_and_blue_singles_as_strappers_need_the_line_colour():
    c = Circuit("legacy")
    strappers(c, c.way(), "Study")
    wiring = c.wiring()
    for key, colour in (("W4/1", "YE"), ("W5/1", "BU")):
        wiring = with_core(wiring, replace(core_at(wiring, key), colour=colour))
    assert set(sleeves(wiring).values()) == {("missing", "RD")} and len(sleeves(wiring)) == 4


@one_process
@settings(deadline=None, max_examples=25, derandomize=True)
@given(sound_houses())
def test_sound_houses_need_no_sleeve_that_they_lack(wiring: Wiring):
    assert {s.standing for s in read(wiring).sleeves} <= {Standing.FITTED}


@one_process
@settings(deadline=None, max_examples=30, derandomize=True)
@given(houses())
def test_every_core_that_can_be_at_line_shows_it_at_every_terminal(wiring: Wiring):
    solution, reading = wiring_to_solution(wiring), read(wiring)
    shown = {(s.core, s.end): s.colour for s in reading.sleeves if s.standing is not Standing.NEEDLESS}
    for core in wiring.cores():
        for end, core_end in enumerate(core.ends):
            node = core_end.node
            if node is None or core.colour in ("", "GNYE"):
                continue
            groups = [g for g in solution.groups if node in g.terminals]
            sound = [r for g in groups for r in g.rows if not r.shorts]
            live = any(r.conditions[g.terminals.index(node)].potential is Potential.LINE
                       for g in groups for r in g.rows if r in sound)
            if node in solution.constant:
                live = solution.constant[node].potential is Potential.LINE
            if live:
                assert shown.get((core.key, end), core.colour) in {s.line for s in SETS.values()}


# One core, its role given: which sleeve stands how. Cable of the current set: line BN, neutral BU.
F, M, W, N = "fitted", "missing", "wrong", "needless"


@pytest.mark.parametrize(("colour", "role", "has", "standing", "wanted"), [
    ("BN", Role.PERMANENT_LINE, None, None, ""), ("BN", Role.PERMANENT_LINE, "BN", N, "BN"),
    ("BN", Role.PERMANENT_LINE, "RD", N, "RD"), ("BN", Role.PERMANENT_LINE, "BU", W, "BN"),
    ("BU", Role.SWITCHED_LINE, None, M, "BN"), ("BU", Role.SWITCHED_LINE, "BN", F, "BN"),
    ("BU", Role.SWITCHED_LINE, "RD", F, "RD"), ("BU", Role.SWITCHED_LINE, "BU", W, "BN"),
    ("GY", Role.STRAPPER, None, M, "BN"), ("GY", Role.STRAPPER, "GY", W, "BN"),
    ("BU", Role.NEUTRAL, None, None, ""), ("BU", Role.NEUTRAL, "BN", W, "BU"), ("BU", Role.NEUTRAL, "BK", N, "BK"),
    ("BN", Role.NEUTRAL, None, M, "BU"), ("BN", Role.NEUTRAL, "BU", F, "BU"), ("BN", Role.NEUTRAL, "BK", F, "BK"),
    ("GY", Role.NEUTRAL, "BN", W, "BU"),
    ("BU", Role.SWITCHED_NEUTRAL, None, None, ""), ("BU", Role.SWITCHED_NEUTRAL, "BN", F, "BN"),
    ("BU", Role.SWITCHED_NEUTRAL, "BU", F, "BU"),
    ("BN", Role.BETWEEN_LAMPS, None, None, ""), ("BU", Role.BETWEEN_LAMPS, None, M, "BN"),
    ("", Role.CPC, None, M, "GNYE"), ("", Role.CPC, "GNYE", F, "GNYE"), ("", Role.CPC, "GN", F, "GN"),
    ("", Role.CPC, "BN", W, "GNYE"), ("", Role.UNUSED, None, M, "GNYE"), ("", Role.UNUSED, "GNYE", F, "GNYE"),
    ("", Role.UNUSED, "BN", W, "GNYE"),
    ("", Role.NEUTRAL, None, None, ""), ("", Role.NEUTRAL, "GNYE", F, "GNYE"), ("", Role.NEUTRAL, "BU", N, "BU"),
    ("", Role.NEUTRAL, "BN", N, "BN"), ("", Role.PERMANENT_LINE, "BN", N, "BN"),
    ("GNYE", Role.CPC, None, None, ""), ("GNYE", Role.CPC, "GNYE", N, "GNYE"), ("GNYE", Role.CPC, "BN", W, "GNYE"),
    ("GNYE", Role.STRAPPER, None, None, ""), ("GNYE", Role.STRAPPER, "BN", N, "BN"),
    ("GNYE", Role.STRAPPER, "BU", N, "BU"), ("GNYE", Role.STRAPPER, "GNYE", F, "GNYE"),
    ("GNYE", Role.UNUSED, None, None, ""), ("GNYE", Role.UNUSED, "BN", N, "BN"),
    ("GN", Role.CPC, None, None, ""), ("GN", Role.SWITCHED_LINE, None, M, "BN"),
    ("BK", Role.CPC, None, M, "GNYE"), ("BK", Role.CPC, "GNYE", F, "GNYE"), ("BK", Role.CPC, "GN", F, "GN"),
    ("BK", Role.CPC, "BN", W, "GNYE"),
    ("BU", Role.UNUSED, None, None, ""), ("BU", Role.UNUSED, "BN", N, "BN"),
])
def test_every_kind_of_sleeve(colour, role, has, standing, wanted):
    core = Core("W1", 1, colour, (CoreEnd("A", "1", has), CoreEnd("B", None, has)), cpc=colour in ("", "GNYE"))
    box = Accessory("A", find("joint box").build({}))
    wiring = Wiring("x", (box,), (Cable("W1", "single", None, (core,), ("A", "B"), "current"),))
    found = sleeves_of(wiring, {"W1/1": role}, SETS)
    if standing is None:
        assert found == ()
    else:
        (sleeve,) = found  # none at the end that is in nothing
        assert (sleeve.core, sleeve.end, sleeve.standing.value, sleeve.colour) == ("W1/1", 0, standing, wanted)
        assert sleeve.has == (has if standing == W else "")


LINE = Condition(Potential.LINE, Fraction(1), ("way 1",))
NEUTRAL = Condition(Potential.NEUTRAL, Fraction(0), ("way 1",))
EARTH = Condition(Potential.EARTH, Fraction(0), ("way 1",))
VIA_NEUTRAL = replace(NEUTRAL, solid=False)
VIA_LINE = Condition(Potential.THROUGH_LOAD, Fraction(1), ("way 1",), solid=False)
BETWEEN = Condition(Potential.BETWEEN, Fraction(1, 2), ("way 1",), solid=False)
NOTHING = Condition(Potential.FLOATING, None, (), solid=False)
TWO = ("A", "B")


@pytest.mark.parametrize(("conditions", "changeovers", "feeds_lamp", "role"), [
    ((LINE,), (), False, "permanent line"), ((LINE,), TWO, True, "permanent line"),
    ((NEUTRAL,), (), True, "neutral"), ((EARTH,), (), False, "cpc"),
    ((LINE, NOTHING), TWO, False, "strapper"), ((LINE, NOTHING), TWO, True, "switched line"),
    ((LINE, NOTHING), ("A",), False, "switched line"), ((LINE, NOTHING), (), False, "switched line"),
    ((LINE, VIA_NEUTRAL), (), True, "switched line"), ((LINE, NEUTRAL), (), True, "switched line"),
    ((NEUTRAL, VIA_LINE), (), True, "switched neutral"), ((NEUTRAL, NOTHING), (), False, "switched neutral"),
    ((BETWEEN,), (), True, "between lamps"), ((BETWEEN, VIA_NEUTRAL), (), True, "between lamps"),
    ((VIA_LINE,), (), True, "cut off"), ((VIA_LINE, NOTHING), (), True, "cut off"),
    ((VIA_NEUTRAL,), (), True, "cut off"), ((VIA_NEUTRAL, NOTHING), TWO, False, "cut off"),
    ((NOTHING,), TWO, False, "unused"), ((EARTH, NOTHING), (), False, "cut off"),
])
def test_the_role_of_a_net(conditions, changeovers, feeds_lamp, role):
    assert role_of(Net(conditions, changeovers, feeds_lamp)).value == role


def test_where_rails_of_two_kinds_are_joined_the_colour_says_what_was_meant():
    wiring = one_room(loop_in)
    bad = replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal("Study", "loop"), Terminal("Study", "N"))))
    found = read(bad).roles
    assert [found[k].value for k in ("W2/1", "W2/2", "W3/1")] == ["permanent line", "neutral", "permanent line"]
    bad = replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal("Study", "E"), Terminal("Study", "N"))))
    found = read(bad).roles
    assert [found[k].value for k in ("W2/2", "W2/3", "W3/3", "W3/2")] == [
        "neutral", "return through earth", "cpc", "switched line"]
    marked = with_sleeves(bad, "W2/2", "BN", None)
    assert read(marked).roles["W2/2"] is Role.NEUTRAL  # it carries the current back, whatever it is marked as


def test_findings_come_by_gravity_then_by_place_then_by_rule():
    wiring = one_room(loop_in)
    given = [Finding("b", Gravity.NOTE, "x.", "m.", "c.", accessory="Study"),
             Finding("a", Gravity.PUT_RIGHT, "y.", "m.", "c.", accessory="Study door"),
             Finding("c", Gravity.PUT_RIGHT, "z.", "m.", "c.", accessory="Study"),
             Finding("d", Gravity.PUT_RIGHT, "v.", "m.", "c.", accessory="Study"),
             Finding("e", Gravity.PUT_RIGHT, "w.", "m.", "c.", accessory=""),
             Finding("f", Gravity.DANGER, "u.", "m.", "c.", accessory="Study door")]
    found = in_order(wiring, given)
    assert [f.rule for f in found] == ["f", "c", "d", "a", "e", "b"]
    assert {(f.means, f.cure) for f in found} == {("M.", "C.")} and found[0].says == "U."


def test_the_switched_line_between_a_one_way_and_a_two_way_switch_is_no_strapper():
    c = Circuit()
    feed = c.way()
    c.put("Master", "one-way switch")
    c.single(feed.accessory, "L", "Master", "COM")
    strappers(c, Feed("Master", "L1"), "Study")
    c.cables = [replace(x, cores=tuple(replace(k, ends=(CoreEnd("way 1", "N"), k.ends[1])) for k in x.cores))
                if x.cores[0].ends[0] == CoreEnd("Master", "N") else x for x in c.cables]
    c.cables = [x for x in c.cables if x.cores[0].colour != "BU"]
    assert list(roles(c.wiring()).values())[:2] == ["permanent line", "switched line"]


def test_a_rose_without_a_lamp_still_has_its_switched_line():
    wiring = one_room(conversion)
    bare = replace(wiring, accessories=tuple(a for a in wiring.accessories if a.name != "Study lamp"),
                   cables=wiring.cables[1:])
    assert roles(bare)["W4/3"] == "switched line"


def test_a_core_landed_at_one_end_only_has_the_role_of_that_end():
    wiring = one_room(loop_in)
    for end in (0, 1):
        loose = with_end(wiring, core_at(wiring, "W2/2"), end, None)
        assert read(loose).roles["W2/2"] is (Role.CUT_OFF, Role.NEUTRAL)[end]  # its loose end is end 0, then end 1
    spare = with_end(wiring, core_at(wiring, "W3/1"), 1, None)
    assert read(spare).roles["W3/1"] is Role.PERMANENT_LINE


def test_settings_with_a_short_say_nothing_of_roles_where_there_are_others():
    wiring = one_room(loop_in)
    shorted = replace(wiring, cables=(*wiring.cables, bridge("X1", Terminal("Study", "SL"), Terminal("Study", "E"))))
    assert read(shorted).roles["W3/2"] is Role.CPC  # at earth in the only setting that is no short


def test_behind_an_isolator_roles_are_those_of_its_closed_position():
    c = Circuit()
    c.way()
    c.put("Isolator", "double-pole switch")
    c.put("Door", "one-way switch", connectors=["N"])
    c.put("Study", "batten lampholder")
    c.twin("way 1", "Isolator", ("L", "L in"), ("N", "N in"))
    c.twin("Isolator", "Door", ("L out", "COM"), ("N out", "N"))
    c.twin("Door", "Study", ("L1", "L"), ("N", "N"))
    assert list(roles(c.wiring()).values()) == [
        "permanent line", "neutral", "permanent line", "neutral", "switched line", "neutral"]


def test_a_sleeve_at_the_second_end_is_read_where_the_first_is_in_nothing():
    core = Core("W1", 1, "BU", (CoreEnd("A", None), CoreEnd("B", "1", "BN")))
    wiring = Wiring("x", (), (Cable("W1", "single", None, (core,), ("A", "B"), "current"),))
    (sleeve,) = sleeves_of(wiring, {"W1/1": Role.SWITCHED_LINE}, SETS)
    assert (sleeve.end, sleeve.standing) == (1, Standing.FITTED)


def test_a_reading_carries_its_findings():
    wiring = one_room(switched_neutral)
    assert next(f.rule for f in read(wiring).findings) == "switched_neutral"
    assert read(one_room(loop_in)).findings == ()
