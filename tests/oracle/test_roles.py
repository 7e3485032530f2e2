"""Roles, each typed out beside its circuit, and what the oracle says of the same core.

A core that carries current from the line to a lamp is a line, one that carries it on to the neutral a neutral; one that
takes it to earth is a danger and never a cpc. What only shows a potential through a lamp is not made a neutral by it.
"""

from __future__ import annotations

import pytest

from oracle.compare import judged
from sheetgen.model.reading import Gravity, Standing
from sheetgen.pipeline import understood, wiring_of

BOARD = """\
job: A light
board:
  earthing: TN-S
  ways:
    1: {serves: Lights, device: type B 6 A, rcd: 30 mA}
"""
EARTH_RETURN = BOARD + """\
colours: current
accessories:
  Switch: {kind: one-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, COM], BU: [nothing, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Light, cores: {BN: [L1, L], BU: [E, N], cpc: [nothing, nothing]}}
"""
NO_LINE = BOARD + """\
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [nothing, loop], BK: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
"""
BROKEN_SWITCH_WIRE = BOARD + """\
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
  Second: {kind: batten lampholder}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [L, loop], BK: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [nothing, L1], cpc: [E, E]}, sleeved: [BK]}
  W3: {type: twin and earth 1.0, from: Rose, to: Second, cores: {RD: [SL, L], BK: [N, N], cpc: [E, E]}}
"""
NEUTRAL_DIVIDED = BOARD + """\
colours: legacy
accessories:
  Switch: {kind: one-way switch, connectors: [joint]}
  Isolator: {kind: double-pole switch}
  Light: {kind: light fitting}
  Fan: {kind: fan}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {RD: [L, COM], BK: [N, joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Light, cores: {RD: [L1, L], BK: [joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Switch, to: Isolator, cores: {RD: [COM, L in], BK: [joint, N in], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Isolator, to: Fan, cores: {RD: [L out, L], BK: [N out, E], cpc: [E, E]}}
  W5: {type: unsheathed single 1.0, from: Light, to: Light, cores: {BK: [N, E]}, in: the box}
"""
BROKEN_NEUTRAL = BOARD + """\
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [L, loop], BK: [nothing, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
"""
BROKEN_BOTH = BOARD + """\
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
  Next: {kind: ceiling rose, lamp: 8 W}
  Next switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [L, loop], BK: [nothing, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
  W3: {type: twin and earth 1.0, from: Rose, to: Next, cores: {RD: [nothing, loop], BK: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Next, to: Next switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
"""
BEHIND_A_MAIN_SWITCH = BOARD + """\
colours: legacy
accessories:
  Main: {kind: double-pole switch}
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Main, cores: {RD: [L, L in], BK: [N, N in], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Main, to: Rose, cores: {RD: [L out, loop], BK: [N out, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {RD: [loop, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}
"""
NEUTRAL_TO_EARTH = BOARD + """\
colours: current
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: three-core and earth 1.0, from: way 1, to: Rose,
       cores: {BN: [L, loop], BK: [N, N], GY: [nothing, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch,
       cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: unsheathed single 1.0, in: the box, from: Rose, to: Rose, cores: {BU: [N, E]}}
"""
EARTH_RETURN_DIVIDED = BOARD + """\
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {RD: [L, N], BK: [E, loop], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Foot,
       cores: {RD: [loop, L1], BK: [SL, L2], cpc: [E, E]}, sleeved: [BK]}
  W3: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {RD: [COM, COM], YE: [L1, L1], BU: [L2, L2], cpc: [E, E]}, sleeved: [YE, BU]}
  W4: {type: unsheathed single 1.0, from: Rose, to: Foot, cores: {RD: [loop, L2]}, in: conduit}
"""
RELAY = BOARD + """\
colours: current
accessories:
  Relay: {kind: relay module}
  Switch: {kind: one-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Relay, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Relay, to: Switch,
       cores: {BN: [L, COM], BU: [S, L1], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Relay, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
"""
LOOSE_SIGNAL = BOARD + """\
colours: current
accessories:
  Relay: {kind: relay module}
  Switch: {kind: one-way switch, connectors: [S2]}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Relay, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Relay, to: Switch,
       cores: {BN: [S, COM], BU: [nothing, L1], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Relay, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
"""


LINES, NEUTRALS = "permanent line, switched line, strapper", "neutral, switched neutral"
CUT = ", cut off"  # it may also be said that no supply reaches it
ROLES = [  # circuit, core, the roles that can be said of it
    pytest.param(EARTH_RETURN, "W1/1", "permanent line", id="line to a light that returns through earth"),
    pytest.param(EARTH_RETURN, "W2/1", "switched line", id="switched line of a light that returns through earth"),
    pytest.param(NO_LINE, "W2/1", LINES + CUT, id="feed of a switch, its line broken at the board"),
    pytest.param(NO_LINE, "W2/2", "switched line" + CUT, id="switch wire, the line broken at the board"),
    pytest.param(BROKEN_SWITCH_WIRE, "W2/2", "switched line", id="broken switch wire"),
    pytest.param(BROKEN_SWITCH_WIRE, "W3/1", "switched line" + CUT, id="light beyond a broken switch wire"),
    pytest.param(BROKEN_SWITCH_WIRE, "W3/2", "neutral", id="neutral of a light beyond a broken switch wire"),
    pytest.param(BROKEN_NEUTRAL, "W1/2", "neutral" + CUT, id="broken neutral, live through the lamp"),
    pytest.param(BROKEN_NEUTRAL, "W2/2", "switched line", id="switch wire of a lamp without neutral"),
    pytest.param(BEHIND_A_MAIN_SWITCH, "W2/1", "permanent line", id="line behind a double-pole switch"),
    pytest.param(BEHIND_A_MAIN_SWITCH, "W2/2", "neutral", id="neutral behind a double-pole switch"),
    pytest.param(BEHIND_A_MAIN_SWITCH, "W3/2", "switched line", id="switch wire behind a double-pole switch"),
    pytest.param(NEUTRAL_TO_EARTH, "W1/1", "permanent line", id="line beside a neutral that is joined to earth"),
    pytest.param(NEUTRAL_TO_EARTH, "W1/2", "neutral", id="unmarked neutral that is joined to earth"),
    pytest.param(NEUTRAL_DIVIDED, "W4/2", "neutral, return through earth", id="a neutral led on to an earth terminal"),
    *(pytest.param(EARTH_RETURN_DIVIDED, core, "return through earth", id=f"a return beside the switches, {core}")
      for core in ("W1/2", "W2/1", "W3/1", "W3/2", "W3/3", "W4/1")),
    pytest.param(RELAY, "W2/2", "switched line", id="signal core of a relay"),
    pytest.param(LOOSE_SIGNAL, "W2/1", LINES + ", signal", id="signal core of a relay, its line not connected"),
    *(
        pytest.param(BROKEN_BOTH, core, LINES + CUT, id=f"{what}, line and neutral both broken")
        for core, what in (("W3/1", "red core to the next rose"), ("W4/1", "red core of the drop"),
                           ("W4/2", "sleeved switch wire"), ("Flex 2/1", "brown core of the flex"))
    ),
    pytest.param(BROKEN_BOTH, "W3/2", "neutral" + CUT, id="neutral to the next rose, line and neutral both broken"),
]


@pytest.mark.parametrize(("text", "core", "roles"), ROLES)
def test_role(text: str, core: str, roles: str):
    assert understood(text)[2].roles[core].value in roles.split(", ")


@pytest.mark.parametrize(("text", "core", "side"), [
    (EARTH_RETURN, "W1/1", "line"), (EARTH_RETURN, "W2/1", "line"), (EARTH_RETURN, "W2/2", "earth"),
    (EARTH_RETURN, "W1/3", "earth"), (NO_LINE, "W1/2", ""), (BROKEN_NEUTRAL, "W1/2", ""),
    (BEHIND_A_MAIN_SWITCH, "W1/1", "line"), (BEHIND_A_MAIN_SWITCH, "W2/2", "neutral"),
    (NEUTRAL_TO_EARTH, "W1/2", "neutral and earth"), (NEUTRAL_TO_EARTH, "W1/4", "neutral and earth"),
    (NEUTRAL_DIVIDED, "W4/2", "neutral and earth"), (EARTH_RETURN_DIVIDED, "W3/2", "earth"),
    (RELAY, "W2/1", ""), (RELAY, "W3/1", "line"), (RELAY, "W3/2", "neutral"),
])
def test_what_a_core_carries_by_the_oracle(text: str, core: str, side: str):
    assert judged(wiring_of(text)).duties[core].carries == ({side} if side else set())


def test_the_return_through_earth_is_no_cpc_and_gets_no_protective_sleeve():
    reading = understood(EARTH_RETURN)[2]
    assert reading.roles["W2/2"].value != "cpc"
    assert [s for s in reading.sleeves if s.core == "W2/2" and s.colour == "GNYE"] == []


@pytest.mark.parametrize("text", [EARTH_RETURN, NEUTRAL_TO_EARTH])
def test_a_return_through_earth_is_a_danger(text: str):
    assert [f for f in understood(text)[2].findings if f.gravity is Gravity.DANGER]


def test_sleeves_beyond_a_break_stay_right():
    sleeves = understood(BROKEN_BOTH)[2].sleeves
    assert {(s.core, s.colour, s.standing) for s in sleeves if s.core in ("W3/1", "W4/1", "W4/2")} == {
        ("W4/2", "RD", Standing.FITTED)}


@pytest.mark.parametrize(("text", "core"), [
    (NO_LINE, "W2/2"), (BROKEN_NEUTRAL, "W2/2"), (BEHIND_A_MAIN_SWITCH, "W3/2")])
def test_the_sleeve_of_a_switch_wire_stays_right_with_a_rail_away(text: str, core: str):
    assert [(s.end, s.colour, s.standing) for s in understood(text)[2].sleeves if s.core == core] == [
        (0, "RD", Standing.FITTED), (1, "RD", Standing.FITTED)]
