"""A bare core used as a strapper: named at both its ends, and no green-and-yellow sleeve is imagined on a contact."""

from __future__ import annotations

from pages.jobs import says

from sheetgen.judge.in_danger import in_danger
from sheetgen.model.job import Job
from sheetgen.pages.connections import compose as connections
from sheetgen.pages.lookup import Lookup
from sheetgen.pipeline import findings_of, style_of, understood

STAIRS = """\
job: Stairs light
board: {earthing: TN-S, ways: {2: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: current
accessories:
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Bottom: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 2, to: Stairs, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Stairs, to: Bottom,
       cores: {BN: [loop, L1], BU: [SL, L2], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Bottom, to: Top,
       cores: {BN: [COM, COM], BU: [L1, L1], cpc: [L2, L2]}, sleeved: [BU]}
"""


def lookup() -> Lookup:
    return Lookup(Job(*understood(STAIRS.encode()), sets=style_of().sets, source="stairs.yaml", fingerprint="0123abcd"))


def test_both_its_ends_are_named_and_marked() -> None:
    found = lookup()
    (misused,) = [f for f in found.job.reading.findings if f.rule == "protective_misused"]
    assert misused.says == "The bare core of W3 is used as switched line at Bottom L2 and Top L2."
    assert in_danger(found.job.reading, found.wiring) == {"Bottom", "Top"}
    text = " ".join(says(page) for page in connections(found))
    assert text.count("Danger. The bare core of W3 is used as switched line at Bottom L2 and Top L2.") == 2


def test_no_sleeve_is_taken_to_be_on_it_and_none_is_asked_for() -> None:
    found = lookup()
    assert {s.core for s in found.job.reading.sleeves if s.colour == "GNYE"} == {"W1/3", "W2/3"}
    text = " ".join(says(page) for page in connections(found))
    assert "W3 bare" in text and "W3 bare (GNYE)" not in text and "W1 bare (GNYE)" in text


def test_a_sleeve_that_is_told_of_stays_as_it_was_seen() -> None:
    told = STAIRS.replace("[L2, L2]}, sleeved: [BU]", "[L2, L2]}, sleeved: [BU, cpc]")
    wiring, *_ = understood(told.encode())
    assert [end.sleeve for end in wiring.cable("W3").cores[2].ends] == ["GNYE", "GNYE"]


def test_of_a_cpc_on_a_neutral_terminal_it_is_not_said_that_its_sleeve_is_missing() -> None:
    crossed = STAIRS.replace("BU: [N, N], cpc: [E, E]", "BU: [N, N], cpc: [E, N]")
    crossed = crossed.replace("cpc: [L2, L2]", "cpc: [E, E]")
    assert "unmarked" not in {f.rule for f in findings_of(crossed.encode())}
