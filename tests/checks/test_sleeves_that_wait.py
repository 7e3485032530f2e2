"""No sleeve is told to be fitted that would be wrong once what is advised has been done."""

from __future__ import annotations

import pytest

from sheetgen.model.page import Columns, Heading, Items
from sheetgen.model.reading import Reading, Standing
from sheetgen.pages.cables import compose as cables
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.pipeline import judged, undrawn_job

HEAD = """\
job: A light
board: {earthing: TN-C-S, ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: %s
accessories:
"""

CROSSED_FEED = HEAD % "legacy" + """\
  Box: {kind: joint box, terminals: [L, N, SL, E]}
  Light: {kind: light fitting, class: II}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Box, cores: {RD: [L, %s], BK: [N, %s], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Door, cores: {RD: [L, COM], BK: [SL, L1], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Box, to: Light, cores: {RD: [SL, L], BK: [N, N], cpc: [E, E]}}
"""


def read(text: str) -> Reading:
    return judged(text)[1]


def to_fit(reading: Reading) -> set[str]:
    return {s.core for s in reading.sleeves if s.standing is not Standing.FITTED}


def told(reading: Reading) -> list[str]:
    return [f.says for f in reading.findings if f.rule in ("unmarked", "wrong_sleeve")]


def under_sleeving(text: str) -> list[str]:
    """What stands under 'Sleeving needed' of the schedule of cables."""
    (page,) = cables(Lookup(undrawn_job(text)))
    groups = [g for block in page.blocks if isinstance(block, Columns) for g in block.groups]
    own = [g for g in groups if isinstance(g[0], Heading) and g[0].text == "Sleeving needed"]
    lines = [block for group in own for block in group[1:]]
    return [line for block in lines for line in (block.items if isinstance(block, Items) else (block.text,))]


def test_a_crossed_feed_is_crossed_back_and_no_core_is_sleeved_for_what_it_is_only_while_crossed():
    wrong = CROSSED_FEED % ("N", "L")
    reading = read(wrong)
    (danger,) = [f for f in reading.findings if f.cures]
    assert danger.cure.startswith("Exchange the red core of W1 on Box N and the black core of W1 on Box L")
    assert told(reading) == [] and to_fit(reading) == set()
    assert sleeves_to_fit(Lookup(undrawn_job(wrong))).startswith("None to fit before the findings are put right.")
    assert under_sleeving(wrong) == ["None before the findings are put right."]


def test_what_the_drop_lacks_anyway_is_told_once_the_feed_is_right():
    right = CROSSED_FEED % ("L", "N")
    reading = read(right)
    assert told(reading) == ["The black core of W2 is a switched line and is not marked at Box SL and Door L1."]
    assert reading.waiting == ()
    assert sleeves_to_fit(Lookup(undrawn_job(right))).startswith("2 to fit: 2 red.")
    assert under_sleeving(right)[0] == "2 \N{MULTIPLICATION SIGN} red sleeve"


STRAPPER_AS_NEUTRAL = HEAD % "current" + """\
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
  Porch: {kind: light fitting, class: II}
cables:
  W1: {type: single 1.0, from: way 1, to: Foot, cores: {BN: [L, L1]}}
  W2: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}%s}
  W3: {type: single 1.0, from: Top, to: Light, cores: {BN: [L2, L]}}
  W4: {type: single 1.0, from: Top, to: Light, cores: {BU: [L1, N]}}
  W5: {type: twin and earth 1.0, from: Light, to: Porch, cores: {BN: [L, L], BU: [N, N], cpc: [nothing, nothing]}}
"""


@pytest.mark.parametrize("proven", [True, False])
def test_a_blue_on_a_neutral_terminal_is_not_sleeved_brown_because_a_strapper_was_taken_for_the_neutral(
        proven, monkeypatch):
    """By what is needed after the proven cure; and where there is none, because of the terminals it is on."""
    if not proven:
        monkeypatch.setattr("sheetgen.judge.cures.CURABLE", ())
    reading = read(STRAPPER_AS_NEUTRAL % ", sleeved: [BK, GY]")
    assert any(f.cures for one in reading.findings for f in (one, *one.also)) is proven
    assert told(reading) == []
    assert {s.core for s in reading.waiting} == {"W4/1", "W5/2"}


def test_a_sleeve_that_is_needed_before_and_after_is_told_beside_those_that_wait():
    text = STRAPPER_AS_NEUTRAL % ", sleeved: [BK]"
    reading = read(text)
    assert told(reading) == ["The grey core of W2 is a switched line and is not marked at Foot L2 and Top L2."]
    assert sleeves_to_fit(Lookup(undrawn_job(text))).startswith(
        "2 to fit: 2 brown; no others before the findings are put right.")
    assert under_sleeving(text)[-1] == "No others before the findings are put right."
