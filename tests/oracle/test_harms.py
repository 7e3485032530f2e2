"""The check of a cure, on changes whose harm is known beforehand."""

from __future__ import annotations

from dataclasses import replace

from circuits import Circuit, exchanged, loop_in, with_end

from oracle.compare import judged
from oracle.cures import harms
from oracle.run import judge_again
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Core, Wiring

FINDING = Finding("any", Gravity.PUT_RIGHT, "Something is not right.")


def core(wiring: Wiring, key: str) -> Core:
    return next(c for c in wiring.cores() if c.key == key)


def light() -> Wiring:
    """A loop-in light on way 1, way 2 beside it."""
    c = Circuit()
    feed = c.way("1")
    c.way("2")
    loop_in(c, feed, "Room")
    return c.wiring()


def told(before: Wiring, after: Wiring, finding: Finding = FINDING) -> set[str]:
    return {x.kind for x in harms(judged(before), after, finding, judge_again(before)[1], judge_again(after)[1])}


def test_no_change_harms_nothing():
    assert told(light(), light()) == set()


def test_a_cure_that_leaves_its_finding_is_told():
    broken = with_end(light(), core(light(), "W3/1"), 1, None)
    (finding, *_) = judge_again(broken)[1].findings
    assert f"cure of {finding.rule} leaves the finding" in told(broken, broken, finding)


def test_a_neutral_on_earth_is_a_new_danger():
    assert "cure of any makes a danger: return through earth" in told(
        light(), with_end(light(), core(light(), "W1/2"), 0, "E"))


def test_a_neutral_of_another_way_is_a_new_danger():
    wiring = light()
    feed = core(wiring, "W2/2")
    moved = replace(feed, ends=(replace(feed.ends[0], accessory="way 2"), feed.ends[1]))
    cables = tuple(replace(c, cores=tuple(moved if k.key == feed.key else k for k in c.cores)) for c in wiring.cables)
    assert "cure of any makes a danger: current of one way returns by another" in told(
        wiring, replace(wiring, cables=cables))


def test_line_and_neutral_exchanged_at_the_rose_switch_the_neutral():
    # the switch then stands in the neutral: off, the lamp stays at line
    after = exchanged(light(), ("W2/1", 1), ("W2/2", 1))
    assert {"cure of any makes a danger: off but live",
            "cure of any makes a danger: switched neutral"} <= told(light(), after)


def test_a_lamp_taken_from_its_switch_is_told():
    bridged = with_end(light(), core(light(), "W3/2"), 0, "loop")
    kinds = told(light(), bridged)
    assert "cure of any takes a lamp from a switch" in kinds
    assert "cure of any leaves a lamp dark" in kinds
