"""Nothing is found in sound circuits, and the check survives any wrong one."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from circuits import SETS, SOUND_ROOMS, Circuit, conversion, loop_in
from hypothesis import given, settings
from kept_houses import houses, judged, one_process, sound_houses

from sheetgen.judge import rules as checks
from sheetgen.judge.rules import RULES
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import wiring_of

EXAMPLES = Path(__file__).parents[2] / "examples"
# What the author of an example meant to show, or what the trade would note about it.
INTENDED = {
    "landing-borrowed-neutral": {"borrowed_neutral", "two_ways", "loose_core"},
    "joint-boxes": {"no_rcd"},  # as it was wired then
    "old-meets-new": {"unmarked", "two_colour_sets", "no_rcd"},
    "outbuildings": {"harmed_by_test", "no_permanent_line"},  # a switch that puts the sensor out of use
    "two-strappers-conduit": {"no_rcd"},
    "two-way-line-at-switch": {"wide_loop"},  # singles that are not in conduit
    "two-way-line-at-switch-current": {"wide_loop"},
}


def findings(wiring: Wiring) -> tuple[Finding, ...]:
    return judged(wiring)[1].findings


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda p: p.stem)
def test_examples_have_the_findings_they_are_meant_to_have_and_no_others(path):
    found = findings(wiring_of(path.read_bytes()))
    assert {f.rule for f in found} == INTENDED.get(path.stem, set())


@one_process
@settings(deadline=None, max_examples=60, derandomize=True)
@given(sound_houses())
def test_sound_houses_are_free_of_findings(wiring: Wiring):
    assert [f.says for f in findings(wiring) if f.rule != "two_ways"] == []


@pytest.mark.parametrize("colours", ["current", "legacy"])
@pytest.mark.parametrize("room", SOUND_ROOMS, ids=lambda r: r.__name__)
def test_every_sound_room_is_free_of_findings_with_lengths_too(room, colours):
    c = Circuit(colours, ze=Fraction("0.3"), earthing="TN-S")
    room(c, c.way(), "Study")
    wiring = c.wiring()
    through = {x.name for x in wiring.cables if x.single and x.cores[0].colour == SETS[colours].neutral}
    wiring = replace(wiring, cables=tuple(
        x if x.flex else replace(x, length=Fraction(32 if x.name in through else 8), method="C")
        for x in wiring.cables))  # a neutral in conduit goes the way of its line, past every switch
    assert findings(wiring) == ()


def test_old_cable_with_modern_flex_is_no_mixture():
    c = Circuit("legacy")
    loop_in(c, c.way(), "Study")
    assert {x.colours for x in c.cables} == {"legacy", "current"}
    assert findings(c.wiring()) == ()


def test_a_black_core_joined_to_a_red_on_a_switched_line_is_sound():
    c = Circuit("legacy")
    conversion(c, c.way(), "Study")  # the sleeved black of the drop and the blue of the three-core meet on L2
    assert findings(c.wiring()) == ()


def test_a_grey_core_as_a_neutral_sleeved_blue_is_sound():
    c = Circuit()
    c.way()
    c.put("Box", "joint box", terminals=["L", "N", "SL", "E"])
    c.put("Door", "one-way switch")
    c.put("Light", "light fitting", **{"class": "II"})
    c.twin("way 1", "Box", ("L", "L"), ("N", "N"))
    c.twin("Box", "Door", ("L", "COM"), ("SL", "L1"), sleeved="2")
    c.cable("three-core and earth", "Box", "Light", (None, None), ("SL", "L"), ("N", "N"), ("E", "E"), sleeved="2")
    grey = c.cables[-1].cores[2]
    blue = tuple(replace(e, sleeve="BU") for e in grey.ends)
    cores = tuple(replace(k, ends=blue) if k.key == grey.key else k for k in c.cables[-1].cores)
    c.cables[-1] = replace(c.cables[-1], cores=cores)
    assert [f.rule for f in findings(c.wiring())] == ["loose_core"]  # the spare brown, as a note
    assert findings(c.wiring())[0].gravity is Gravity.NOTE


def test_every_file_of_the_check_is_in_the_index_under_its_name():
    files = {p.stem for p in Path(checks.__file__).parent.glob("*.py")}
    helpers = {"__init__", "rule", "toggling", "unjudged"}
    assert files - helpers == {rule.name for rule in RULES}
    assert len({rule.name for rule in RULES}) == len(RULES)
    assert all(rule.looks_for and rule.check.__module__ == f"sheetgen.judge.rules.{rule.name}" for rule in RULES)


@one_process
@settings(deadline=None, max_examples=60, derandomize=True)
@given(houses())
def test_findings_of_any_house_are_whole_sentences_in_order(wiring: Wiring):
    found = findings(wiring)
    order = list(Gravity)
    assert [order.index(f.gravity) for f in found] == sorted(order.index(f.gravity) for f in found)
    names = {a.name for a in wiring.accessories}
    keys = {core.key for core in wiring.cores()}
    for f in found:
        assert f.rule in {rule.name for rule in RULES}
        for sentence in (f.says, f.means, f.cure):
            assert (sentence[0].isupper() or sentence[0].isdigit()) and sentence.endswith(".") and "  " not in sentence
        assert f.accessory in names
        assert f.core == "" or f.core in keys
        if f.terminal:
            assert f.terminal in {t.name for t in wiring.accessory(f.accessory).kind.terminals}
