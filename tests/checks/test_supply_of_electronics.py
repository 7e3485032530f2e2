"""Fans and sensors without supply, or with their lines exchanged: sentences typed out, and each cure done by hand.

What a sensor needs to trigger, and which conductor of a fan does what: common practice.
"""

from __future__ import annotations

import pytest
from pages.as_text import as_text

from sheetgen.model.reading import Finding, Gravity
from sheetgen.pages import PAGES
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, findings_of, job_of, judged

HEAD = """\
job: A light
board: {earthing: TN-S, ze: 0.3 ohm, ways: {1: {serves: Lights, device: type B 6 A, rcd: 30 mA}}}
colours: current
"""
QUIET = {"harmed_by_test"}


def found(text: str) -> dict[str, Finding]:
    return {f.rule: f for f in reversed(findings_of(HEAD + text)) if f.rule not in QUIET}


def method(text: str) -> list[str]:
    return [c.method for c in judged(HEAD + text)[1].circuits]


def pages(text: str) -> str:
    kinds = tuple(kind.name for kind in PAGES if kind.name != "symptoms")
    return as_text(job_to_pages(job_of(HEAD + text, Look(), "job.yaml"), kinds))


FAN = """\
accessories:
  Bathroom: {kind: batten lampholder, loop: yes, lamp: 10 W}
  Cord: {kind: pull-cord switch}
  Isolator: {kind: fan isolator}
  Fan: {kind: timer fan}
cables:
  W5: {type: twin and earth 1.0, from: way 1, to: Bathroom, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W6: {type: twin and earth 1.0, from: Bathroom, to: Cord, cores: {BN: [loop, COM], BU: [L, L1], cpc: [E, E]},
       sleeved: [BU]}
  W7: {type: three-core and earth 1.0, from: Bathroom, to: Isolator,
       cores: {BN: [loop, L in], BK: [L, SL in], GY: [N, N in], cpc: [E, E]}, sleeved: {BK: BN, GY: BU}}
  W8: {type: three-core and earth 1.0, from: Isolator, to: Fan,
       cores: {BN: [%s], BK: [%s], GY: [%s], cpc: [E, E]}, sleeved: {BK: BN, GY: BU}}
"""
SOUND_FAN = FAN % ("L out, L", "SL out, SL", "N out, N")
EXCHANGED_FAN = FAN % ("L out, SL", "SL out, L", "N out, N")
CROSSED_POLES = FAN % ("L out, L", "N out, SL", "SL out, N")


def test_a_fan_with_its_lines_exchanged_behind_an_isolator():
    every = found(EXCHANGED_FAN)
    assert set(every) == {"lines_exchanged"}
    assert every["lines_exchanged"].says == "The permanent line is on Fan SL and the switched line on Fan L."
    assert every["lines_exchanged"].cure == "Exchange W8 BN on Fan SL and W8 BK on Fan L."
    assert found(SOUND_FAN) == {}


def test_poles_of_an_isolator_exchanged_are_one_finding():
    (one,) = found(CROSSED_POLES).values()
    assert one.gravity is Gravity.DANGER
    assert one.cure == ("Exchange the black core of W8 on Isolator N out and the grey core of W8 on Isolator SL out "
                        "(worked out, not tried on site).")


NEUTRAL_SWITCHED = """\
accessories:
  Switch: {kind: one-way switch, connectors: [L]}
  Thing: {kind: emergency luminaire}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, L], BU: [N, COM], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Thing, cores: {BN: [L, L], BU: [L1, N], cpc: [E, E]}}
"""


def test_where_the_permanent_line_is_there_it_is_the_neutral_that_is_wanted():
    every = findings_of(HEAD + NEUTRAL_SWITCHED)
    (one,) = [f for finding in every for f in (finding, *finding.also) if f.rule == "no_permanent_line"]
    assert one.cure == "Bring a neutral that no switch parts to Thing N."


SENSOR = """\
accessories:
  Yard switch: {kind: one-way switch, connectors: [N joint]}
  Sensor: {kind: sensor}
  Flood: {kind: light fitting, class: I, lamp: 100 W}
cables:
  W1: {type: twin and earth 1.5, from: way 1, to: Yard switch, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.5, from: Yard switch, to: Sensor, cores: {BN: [L1, %s], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.5, from: Sensor, to: Flood, cores: {BN: [%s, L], BU: [N, N], cpc: [E, E]}}
"""


def test_a_sensor_with_its_lines_exchanged_behind_a_switch():
    (one,) = found(SENSOR % ("SL", "L")).values()
    assert (one.rule, one.gravity) == ("lines_exchanged", Gravity.PUT_RIGHT)
    assert one.says == "The supply of Sensor comes to Sensor SL, not to Sensor L."
    assert one.means == "Sensor can never trigger: it has no supply while idle. So Flood is never lit."
    assert one.cure == "Exchange W2 BN on Sensor SL and W3 BN on Sensor L."
    assert method(SENSOR % ("SL", "L")) == ["Flood is never lit: Sensor never triggers, for want of supply while idle."]


def test_a_sensor_behind_a_switch_that_is_connected_as_it_should_be_is_a_note():
    (one,) = found(SENSOR % ("L", "SL")).values()
    assert (one.rule, one.gravity) == ("no_permanent_line", Gravity.NOTE)
    assert "never lit" not in method(SENSOR % ("L", "SL"))[0]


NO_NEUTRAL = """\
accessories:
  Utility: {kind: ceiling rose, lamp: 10 W}
  Sensor: {kind: sensor}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Utility, cores: {brown: [L, loop], blue: [N, N], cpc: [E, E]}}
  W2: {type: %s and earth 1.0, from: Utility, to: Sensor,
       cores: {brown: [loop, L], %s: [SL, SL], %scpc: [E, %s]}, sleeved: [%s]}
"""
WANTED = "none comes to Sensor, the nearest is at Utility. Or fit a switch in place of Sensor: it needs none."


def test_a_sensor_to_which_no_neutral_comes():
    text = NO_NEUTRAL % ("twin", "blue", "", "E", "blue")
    one = found(text)["off_but_live"]
    assert one.cure == f"Bring a neutral to Sensor N: {WANTED}"
    assert one.means.endswith("Sensor can never trigger: it has no supply while idle. So Utility lamp is never lit.")
    assert method(text) == ["Utility lamp is never lit: Sensor never triggers, for want of supply while idle."]


OVERRIDE = """\
accessories:
  Box: {kind: joint box, terminals: [L, N, SL, E]}
  Sensor: {kind: sensor}
  Override: {kind: one-way switch}
  Light: {kind: light fitting, class: II, lamp: 10 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Box, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Box, to: Sensor, cores: {BN: [L, L], BU: [SL, SL], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Box, to: Override, cores: {BN: [L, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
  W4: {type: twin and earth 1.0, from: Box, to: Light, cores: {BN: [SL, L], BU: [N, N], cpc: [E, E]}}
"""


def test_a_lamp_that_an_override_lights_is_not_said_to_stay_dark():
    assert all("never lit" not in said for said in method(OVERRIDE))
    assert all("can never trigger" not in f.means for f in found(OVERRIDE).values())


def test_a_sensor_whose_cpc_is_its_neutral():
    one = found(NO_NEUTRAL % ("twin", "blue", "", "N", "blue"))["earth_return"]
    assert one.cure == f"Bring a neutral to Sensor N in place of the earth: {WANTED}"


@pytest.mark.parametrize("grey", ["grey: [nothing, N], ", "grey: [nothing, nothing], "])
def test_where_a_core_could_be_the_neutral_it_is_not_said_that_none_comes(grey: str):
    text = NO_NEUTRAL % ("three-core", "black", grey, "E", "black")
    assert all("none comes" not in f.cure for f in found(text).values())


def test_a_sensor_that_never_triggers_is_told_beside_what_is_shown_of_it():
    text = pages(NO_NEUTRAL % ("twin", "blue", "", "E", "blue"))
    assert "What is shown with Sensor triggered does not come about." in text
    assert "Lit with Sensor triggered" not in text
    assert "Work Zs out at Utility as Ze + R1+R2: Sensor never triggers." in text


@pytest.mark.parametrize(("text", "said"), [(EXCHANGED_FAN, True), (SOUND_FAN, False)])
def test_whether_a_fan_runs_without_its_electronics_depends_on_the_fan(text: str, said: bool):
    sheets = pages(text)
    assert ("may run: that depends on the fan, whose electronics have no supply" in sheets) is said
    assert ("Whether it runs then depends on the fan." in sheets) is said


PAIR = """\
accessories:
  First: {kind: ceiling rose, lamp: 10 W}
  Second: {kind: light fitting, class: II, lamp: 12 W}
  Bottom: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: First, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: First, to: Bottom, cores: {BN: [loop, L1], BU: [SL, L2], cpc: [E, E]},
       sleeved: [BU]}
  W3: {type: three-core and earth 1.0, from: Bottom, to: Top,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
  W4: {type: twin and earth 1.0, from: First, to: Second, cores: {BN: [SL, L], BU: [%s, N], cpc: [E, nothing]}}
"""


def test_the_method_of_a_lamp_that_lights_is_told_beside_one_that_does_not():
    assert method(PAIR % "nothing") == [
        "First lamp: line and neutral looped at the rose; two-way, three wires between the switches, line in and "
        "switched line out at the first switch. Second is never lit: no neutral reaches it."]
    assert "First lamp" not in method(PAIR % "N")[0]


def test_an_isolator_has_a_pole_for_each_conductor_of_the_fan():
    kinds = {"fan": "BN: [L1, L], BU: [N, N]", "timer fan": "BN: [COM, L], BK: [L1, SL], GY: [N, N]"}
    cures = {}
    for kind, cores in kinds.items():
        cable = "twin" if kind == "fan" else "three-core"
        cures[kind] = found(f"""\
accessories:
  Switch: {{kind: one-way switch, connectors: [N]}}
  Fan: {{kind: {kind}}}
cables:
  W1: {{type: twin and earth 1.0, from: way 1, to: Switch, cores: {{BN: [L, COM], BU: [N, N], cpc: [E, E]}}}}
  W2: {{type: {cable} and earth 1.0, from: Switch, to: Fan, cores: {{{cores}, cpc: [E, E]}}}}
""")["fan_isolation"].cure
    assert cures == {
        "fan": "Fit a two-pole isolator for line and neutral near the fan.",
        "timer fan": "Fit a three-pole isolator for line, switched line and neutral near the fan."}
