"""Findings each on a description that a person would write: the sentence typed out, and a sound twin without it.

What the trade calls each mistake: common practice.
"""

from __future__ import annotations

import pytest

from sheetgen.judge.cures import _said
from sheetgen.judge.figures.spurs import fuses_before
from sheetgen.judge.judging import case_of
from sheetgen.model.accessory import Terminal
from sheetgen.model.reading import AddLink, Exchange, Finding, Fit, Gravity, Land, TakeOff, TakeOutLink
from sheetgen.pipeline import findings_of, judged, style_of

BOARD = """\
job: A light
board:
  earthing: {earthing}
  ze: {ze}
  ways:
    1: {{serves: Lights, device: type B 6 A, rcd: {rcd}}}
    2: {{serves: Upstairs, device: type B 6 A, rcd: 30 mA}}
colours: current
"""


def found(text: str, earthing: str = "TN-S", ze: str = "0.3", rcd: str = "30 mA") -> dict[str, Finding]:
    board = BOARD.format(earthing=earthing, ze=ze, rcd=rcd)
    return {f.rule: f for f in reversed(findings_of((board + text).encode()))}  # of several the gravest


RETURN = """\
accessories:
  Switch: {kind: one-way switch, connectors: [N]}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, COM], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Light, cores: {BN: [L1, L], BU: [%s, N], cpc: [E, E]}}
"""


def test_a_light_that_returns_through_earth():
    one = found(RETURN % "E")["earth_return"]
    assert one.gravity is Gravity.DANGER and one.setting == "Switch on"
    assert one.says == "The current of Light returns through earth, from Light N, and not through a neutral."
    assert one.cure == "Move the blue core of W2 from Switch E to Switch N (worked out, not tried on site)."
    assert "earth_return" not in found(RETURN % "N")


FLEX = """\
accessories:
  Box: {kind: joint box, terminals: [L, N, E]}
  Light: {kind: light fitting, class: %s}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Box, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: two-core flex 0.75, from: Box, to: Light, cores: {BN: [L, L], BU: [N, N]}}
"""


def test_a_class_I_light_on_a_flex_without_cpc():
    one = found(FLEX % "I")["no_cpc"]
    assert one.gravity is Gravity.DANGER and one.says == "No cpc is joined to Light E, whose metal needs one."
    assert "no_cpc" not in found(FLEX % "II")


METAL = """\
accessories:
  Switch: {kind: one-way switch, metal: %s}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, COM], BU: [N, E], cpc: [nothing, nothing]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Light, cores: {BN: [L1, L], BU: [E, N], cpc: [nothing, nothing]}}
"""


def test_metal_on_the_neutral_is_a_danger_and_plastic_is_put_right():
    one = found(METAL % "yes")["earth_terminal_live"]
    assert (one.gravity, one.says) == (Gravity.DANGER, "The earth terminal Switch E is at neutral.")
    assert "becomes live when the neutral is lost" in one.means
    assert found(METAL % "no")["earth_terminal_live"].gravity is Gravity.PUT_RIGHT


ONWARD = """\
accessories:
  Hall: {kind: ceiling rose, lamp: 8 W}
  Hall switch: {kind: one-way switch}
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Stairs switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Hall, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Hall, to: Hall switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
  W3: {type: twin and earth 1.0, from: Hall, to: Stairs, cores: {BN: [%s, loop], BU: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Stairs, to: Stairs switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
"""


def test_an_onward_line_from_a_switched_line():
    one = found(ONWARD % "SL")["onward_line"]
    assert one.gravity is Gravity.PUT_RIGHT
    assert one.says == ("Stairs lamp works only while Hall switch is on: its line is taken from the switched line of "
                        "Hall lamp.")
    assert one.cure == "Move the brown core of W3 from Hall SL to Hall loop (worked out, not tried on site)."
    assert found(ONWARD % "loop") == {}


FAN = """\
accessories:
  Switch: {kind: one-way switch, connectors: [N]}
  Fan: {kind: timer fan}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, COM], BU: [N, N], cpc: [E, E]}}
  W2: {type: three-core and earth 1.0, from: Switch, to: Fan,
       cores: {BN: [COM, %s], BK: [L1, %s], GY: [N, N], cpc: [E, E]}, sleeved: {BK: BN, GY: BU}}
"""


def test_a_timer_fan_with_its_lines_exchanged():
    one = found(FAN % ("SL", "L"))["lines_exchanged"]
    assert one.gravity is Gravity.PUT_RIGHT
    assert one.says == "The permanent line is on Fan SL and the switched line on Fan L."
    assert "lines_exchanged" not in found(FAN % ("L", "SL"))


NO_LINE = """\
accessories:
  Switch: {kind: one-way switch, connectors: [N]}
  Thing: {kind: %s}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [%s, COM], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Thing, cores: {BN: [L1, L], BU: [N, N], cpc: [E, E]}}
"""


@pytest.mark.parametrize(("kind", "gravity", "means"), [
    ("timer fan", Gravity.PUT_RIGHT, "The fan has no run-on: it stops with the switch."),
    ("relay module", Gravity.PUT_RIGHT, "It does nothing while the switch is off, and may forget how it was set."),
    ("sensor", Gravity.NOTE, "It sees nothing while the switch is off, and needs a while after it is on again."),
])
def test_electronics_behind_a_wall_switch(kind: str, gravity: Gravity, means: str):
    one = found(NO_LINE % (kind, "L"))["no_permanent_line"]
    assert (one.gravity, one.means) == (gravity, means)
    assert one.says == "Thing has supply only with Switch on." and one.setting == "Switch off"
    assert one.cure == "Bring a permanent line to Thing L in place of W2 BN."


BRIDGED = """\
accessories:
  Switch: {kind: one-way switch, connectors: [N]}
  Light: {kind: batten lampholder, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Switch, cores: {BN: [L, COM], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Switch, to: Light, cores: {BN: [%s, L], BU: [N, N], cpc: [E, E]}}
"""


def test_a_switch_with_both_conductors_on_one_terminal():
    every = found(BRIDGED % "COM")
    assert every["bridged_switch"].says == "All conductors at Switch are on Switch COM: the switch does nothing."
    assert "from Switch COM to Switch L1 (worked out, not tried on site)." in every["bridged_switch"].cure
    assert "never_off" not in every  # one fault, one finding
    assert found(BRIDGED % "L1") == {}


DIMMED = """\
accessories:
  Dimmer: {kind: dimmer, connectors: [N]}
  Fan: {kind: fan}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Dimmer, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Dimmer, to: Fan, cores: {BN: [load, L], BU: [N, N], cpc: [E, E]}}
"""


def test_a_dimmer_on_a_fan():
    one = found(DIMMED)["dimmers"]
    assert one.says == "Dimmer is a dimmer and works Fan, which has a motor." and one.gravity is Gravity.PUT_RIGHT
    assert "dimmers" not in found(DIMMED.replace("kind: fan", "kind: light fitting"))


NO_RCD = "No RCD of 30 mA or less is given for circuit 1 (Lights)."


@pytest.mark.parametrize(("rcd", "says"), [
    ("none", "There is no RCD for circuit 1 (Lights)."),
    ("100 mA", f"{NO_RCD} Circuit 1 (Lights) has one of 100 mA, which guards against fire alone."),
    ("300 mA", f"{NO_RCD} Circuit 1 (Lights) has one of 300 mA, which guards against fire alone.")])
def test_an_rcd_of_more_than_30_mA_is_not_additional_protection(rcd: str, says: str):
    """BS 7671 411.3.4 asks for 30 mA; a larger one is no additional protection (facts, section 13)."""
    one = found(RETURN % "N", rcd=rcd)["no_rcd"]
    assert one.says == says
    assert "no_rcd" not in found(RETURN % "N")


def test_on_a_tt_supply_a_large_rcd_is_what_opens_at_a_fault_to_earth():
    """BS 7671 411.5.2: by an RCD. Of each rating over 30 mA its own sentence."""
    assert found(RETURN % "N", "TT", "20", "100 mA")["no_rcd"].says == (
        f"{NO_RCD} Circuit 1 (Lights) has one of 100 mA, which opens at a fault to earth, as a TT supply needs, but "
        "does not protect whoever touches a live part.")
    not_told = found(RETURN % "N", '""', rcd="100 mA")["no_rcd"].says
    assert not_told.endswith(
        "Circuit 1 (Lights) has one of 100 mA, which does not protect whoever touches a live part.")


def test_of_each_rating_of_an_rcd_over_30_mA_its_circuits():
    two = (BOARD.format(earthing="TN-S", ze="0.3", rcd="100 mA") + RETURN % "N").replace("rcd: 30 mA", "rcd: 300 mA")
    two = two.replace("cables:\n", "  Other: {kind: light fitting, class: II}\ncables:\n  W3: {type: twin and earth "
                      "1.0, from: way 2, to: Other, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}\n")
    (one,) = [f for f in findings_of(two.encode()) if f.rule == "no_rcd"]
    assert one.says.endswith("Circuit 1 (Lights) has one of 100 mA, which guards against fire alone. "
                             "Circuit 2 (Upstairs) has one of 300 mA, which guards against fire alone.")


def test_an_rcd_that_nobody_knows_of_is_not_taken_to_be_missing():
    assert "no_rcd" not in found(RETURN % "N", rcd="unknown")
    board = BOARD.format(earthing="TN-S", ze="0.3", rcd="unknown")
    assert judged(board + RETURN % "N")[1].unjudged["no_rcd"] == ("RCD of circuit 1",)


OTHER_CPC = """\
accessories:
  Light: {kind: light fitting, class: I}
cables:
  W1: {type: single 1.0, from: way 1, to: Light, cores: {BN: [L, L]}}
  W2: {type: single 1.0, from: way 1, to: Light, cores: {BU: [N, N]}}
  W3: {type: single 1.0, from: way %s, to: Light, cores: {GNYE: [E, E]}}
"""


def test_a_cpc_from_another_way():
    one = found(OTHER_CPC % 2)["cpc_of_another_way"]
    assert one.gravity is Gravity.PUT_RIGHT
    assert one.says == "The cpc at Light comes from circuit 2 (Upstairs), and its line from circuit 1 (Lights)."
    assert "cpc_of_another_way" not in found(OTHER_CPC % 1)


@pytest.mark.parametrize(("ze", "there"), [("200", False), ("201", True)])
def test_an_electrode_of_more_than_200_ohm(ze: str, there: bool):
    """BS 7671 Table 41.5, note 2: above 200 ohm it may not be stable."""
    assert ("electrode" in found(RETURN % "N", earthing="TT", ze=ze)) is there
    assert "electrode" not in found(RETURN % "N", earthing="TN-S", ze=ze)


SPUR = """\
job: A spur
board:
  earthing: TN-S
  ways:
    1: {serves: Sockets, device: type B 32 A, rcd: 30 mA}
colours: current
accessories:
  Spur: {kind: %s}
  Light: {kind: batten lampholder, lamp: 8 W}
cables:
  W1: {type: twin and earth 4.0, from: way 1, to: Spur, method: C, cores: {BN: [L, L in], BU: [N, N in], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Spur, to: Light, method: C,
       cores: {BN: [L out, L], BU: [N out, N], cpc: [E, E]}}
"""


def test_behind_the_fuse_of_a_spur_the_fuse_protects():
    fused = {f.rule for f in findings_of((SPUR % "fused connection unit, fuse: 3 A").encode())}
    assert not fused & {"coordination", "lampholder_device"}
    bare = {f.rule for f in findings_of((SPUR % "double-pole switch").encode())}
    assert {"coordination", "lampholder_device"} <= bare


CONDUIT = """\
accessories:
  Switch: {kind: one-way switch, metal: yes, connectors: [N]}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: single 1.0, from: way 1, to: Switch, in: %s, cores: {BN: [L, COM]}}
  W2: {type: single 1.0, from: way 1, to: Switch, in: %s, cores: {BU: [N, N]}}
  W3: {type: single 1.0, from: Switch, to: Light, in: %s, cores: {BN: [L1, L]}}
  W4: {type: single 1.0, from: Switch, to: Light, in: %s, cores: {BU: [N, N]}}
"""


def test_what_a_fuse_protects_is_the_line_behind_it_alone():
    circuit, _ = judged(SPUR % "fused connection unit, fuse: 3 A")
    assert fuses_before(circuit) == {Terminal("Spur", "L out"): 3, Terminal("Light", "L"): 3}
    assert fuses_before(judged(SPUR % "double-pole switch")[0]) == {}


def test_steel_conduit_is_the_cpc():
    assert "no_cpc" not in found(CONDUIT % (("steel conduit",) * 4))
    assert found(CONDUIT % (("plastic conduit",) * 4))["no_cpc"].gravity is Gravity.DANGER


def test_an_old_size_as_good_as_one_square_millimetre():
    """1/.044 in is 0.98 mm2: on a type B breaker of 6 A it is protected (facts, section 13)."""
    text = RETURN.replace("1.0", "1/.044, method: C") % "N"
    assert "coordination" not in found(text)


SWITCHED_NEUTRAL_DIM = """\
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Second: {kind: light fitting, lamp: 8 W, class: II}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch, cores: {BN: [N, COM], BU: [SL, L1], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Rose, to: Second, cores: {BN: [SL, L], BU: [loop, N], cpc: [E, E]}}
"""


def test_a_switch_in_the_neutral_that_leaves_lamps_dim():
    one = found(SWITCHED_NEUTRAL_DIM)["switched_neutral"]
    assert one.gravity is Gravity.DANGER and one.says == "Switch switches the neutral of Second."


BOTH_ENDS = """\
accessories:
  Top: {kind: two-way switch}
  Foot: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
cables:
  W1: {type: single 1.0, from: way 1, to: Foot, in: conduit, cores: {BN: [L, L1]}}
  W2: {type: single 1.0, from: Foot, to: Top, in: conduit, cores: {BN: [COM, COM]}}
  W3: {type: single 1.0, from: Foot, to: Top, in: conduit, cores: {BN: [L2, L2]}}
  W4: {type: single 1.0, from: Top, to: Light, in: conduit, cores: {BN: [L1, L]}}
  W5: {type: single 1.0, from: way 1, to: Light, in: conduit, cores: {BU: [N, N]}}
  W6: {type: single 1.0, from: way 1, to: Foot, in: conduit, cores: {GNYE: [E, E]}}
  W7: {type: single 1.0, from: Foot, to: Top, in: conduit, cores: {GNYE: [E, E]}}
"""


def test_commons_exchanged_at_both_ends_take_two_exchanges():
    one = found(BOTH_ENDS)["multiway"]
    assert one.cure == (
        "Exchange the brown single W2 on Top COM and the brown single W4 on Top L1 and exchange the brown single W1 on "
        "Foot L1 and the brown single W2 on Foot COM (worked out, not tried on site).")


def test_many_missing_sleeves_are_one_finding_that_lists_the_ends():
    rooms = "".join(f"""\
  W{n}: {{type: twin and earth 1.0, from: Box, to: S{n}, cores: {{BN: [L, COM], BU: [s{n}, L1], cpc: [E, E]}}}}
""" for n in range(1, 5))
    text = ("accessories:\n  Box: {kind: joint box, terminals: [L, N, s1, s2, s3, s4, E]}\n"
            + "".join(f"  S{n}: {{kind: one-way switch}}\n" for n in range(1, 5))
            + "cables:\n  W0: {type: twin and earth 1.0, from: way 1, to: Box, "
              "cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}\n" + rooms)
    every = [f for f in findings_of((BOARD.format(earthing="TN-S", ze="0.3", rcd="30 mA") + text).encode())
             if f.rule == "unmarked"]
    assert [f.says for f in every] == [
        "4 cores have no brown sleeve: the blue core of W1 (switched line) at Box s1 and S1 L1; the blue core of W2 "
        "(switched line) at Box s2 and S2 L1; the blue core of W3 (switched line) at Box s3 and S3 L1; the blue core "
        "of W4 (switched line) at Box s4 and S4 L1."]
    assert [(f.means, f.advice, f.clause, f.accessory, f.terminal, f.core) for f in every] == [
        ("Their colours say that they are something else.", "Fit a brown sleeve at each of these ends.",
         "BS 7671 514.3 (clause from memory)", "Box", "s1", "W1/2")]


def test_a_cable_with_a_word_for_a_name_reads_as_one():
    one = found((RETURN % "E").replace("W2", "on"))["earth_return"]
    assert one.cure == "Move the blue core of the cable 'on' from Switch E to Switch N (worked out, not tried on site)."


NEUTRALS_BY_A_SWITCH = """\
accessories:
  Switch: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
  Other: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Light, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: way 2, to: Other, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
  W3: {type: single 1.0, from: Light, to: Switch, cores: {BU: [N, COM]}}
  W4: {type: twin 1.0, from: Other, to: Switch, cores: {BN: [%s, L1], BU: [N, L2]}}
"""


@pytest.mark.parametrize("other", ["N", "nothing"])
def test_neutrals_that_a_switch_joins_are_one_finding_however_many_settings_join_them(other: str):
    text = BOARD.format(earthing="TN-S", ze="0.3", rcd="30 mA") + NEUTRALS_BY_A_SWITCH % other
    says = [f.says for f in findings_of(text) if f.rule == "borrowed_neutral"]
    assert says == ["The neutrals of circuit 1 (Lights) and circuit 2 (Upstairs) are joined, at Light N."]



def test_every_kind_of_change_in_words():
    """What a cure says of each, on a rose with a link in it."""
    text = BOARD.format(earthing="TN-S", ze="0.3", rcd="30 mA") + """\
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Switch, cores: {BN: [loop, COM], BU: [nothing, L1], cpc: [E, E]}}
  W3: {type: single 1.0, from: Rose, to: Switch, cores: {BN: [SL, L1]}}
  W4: {type: single 1.0, from: Switch, to: Switch, cores: {BN: [COM, L1]}}
"""
    case = case_of(judged(text)[0], style_of().sets)
    assert [_said(case, edit) for edit in (
        Land(("W2/2", 0), "SL"), Land(("W2/1", 0), "N"), TakeOff(("W2/1", 1)), Exchange(("W1/1", 1), ("W1/2", 1)),
        Fit(("W2/2", 1), "BN"), Fit(("W2/2", 1), "BU"), TakeOutLink("W4"), TakeOutLink("W3"),
        AddLink("Rose", "loop", "SL", "BN"),
    )] == [
        "put the blue core of W2 on Rose SL", "move the brown core of W2 from Rose loop to Rose N",
        "take the brown core of W2 off Switch COM and leave it in a connector of its own",
        "exchange the brown core of W1 on Rose loop and the blue core of W1 on Rose N",
        "sleeve the blue core of W2 brown at Switch", "take the sleeve off the blue core of W2 at Switch",
        "take out the link W4 in Switch", "take out the single W3 between Rose and Switch",
        "link Rose loop and Rose SL",
    ]


def test_a_core_that_hangs_loose_at_the_board_is_put_back_there():
    every = found((RETURN % "N").replace("BU: [N, N], cpc: [E, E]}}\n  W2", "BU: [nothing, N], cpc: [E, E]}}\n  W2"))
    assert "Put the blue core of W1 on circuit 1 N (worked out, not tried on site)." in [f.cure for f in every.values()]


CONVERSION = """\
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Foot,
       cores: {BN: [loop, L1], BU: [SL, L2], cpc: [E, E]}, sleeved: [BU]}
  W3: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [COM, %s], BK: [L1, %s], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
"""


def test_of_two_cures_the_one_at_the_switch_that_the_method_names_is_given():
    text = (BOARD.format(earthing="TN-S", ze="0.3", rcd="30 mA") + CONVERSION % ("L1", "COM")).encode()
    assert "but COM and L1 are exchanged at Top." in judged(text)[1].circuits[0].method
    assert found(CONVERSION % ("L1", "COM"))["multiway"].cure == (
        "Exchange the brown core of W3 on Top L1 and the black core of W3 on Top COM (worked out, not tried on site).")
    assert "multiway" not in found(CONVERSION % ("COM", "L1"))


BLUES_TOGETHER = """\
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Door, cores: {BN: [loop, COM], BU: [%s, L1], cpc: [E, E]}}
"""


def test_sleeves_at_both_ends_of_a_core_are_told_once():
    assert found(BLUES_TOGETHER % "N")["short"].cure == (
        "Move the blue core of W2 from Rose N to Rose SL and sleeve the blue core of W2 brown at both ends "
        "(worked out, not tried on site).")


LOOPED_AT_SWITCHES = """\
accessories:
  Front: {kind: one-way switch, connectors: [N joint]}
  Front light: {kind: light fitting, class: II}
  Back: {kind: one-way switch, connectors: [N joint]}
  Back light: {kind: light fitting, class: II}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Front, cores: {BN: [L, COM], BU: [N, N joint], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Front, to: Front light, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Front, to: Back, cores: {BN: [COM, COM], BU: [%s, %s], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Back, to: Back light, cores: {BN: [L1, L], BU: [N joint, N], cpc: [E, E]}}
  W5: {type: twin and earth 1.0, from: way 2, to: Back, cores: {BN: [nothing, nothing], BU: [%s, %s], cpc: [E, E]}}
"""


def test_a_borrowed_neutral_is_put_right_with_the_lights_own_neutral_that_lies_free_at_both_ends():
    one = found(LOOPED_AT_SWITCHES % ("nothing", "nothing", "N", "N joint"))["borrowed_neutral"]
    assert one.cure == (
        "Take the blue core of W5 off Back N joint and circuit 2 N (each end into a connector of its own) and put the "
        "blue core of W3 on Front N joint and Back N joint (worked out, not tried on site).")
    assert "The blue core of W3 is connected at neither end, in Front and Back." in one.means
    after = found(LOOPED_AT_SWITCHES % ("N joint", "N joint", "nothing", "nothing"))
    assert {f.gravity for f in after.values()} == {Gravity.NOTE}


STRAPPER_AS_NEUTRAL = """\
accessories:
  Foot: {kind: two-way switch}
  Top: {kind: two-way switch}
  Light: {kind: light fitting, class: II}
  Porch: {kind: light fitting, class: II}
cables:
  W1: {type: single 1.0, from: way 1, to: Foot, in: conduit, cores: {BN: [L, L1]}}
  W2: {type: three-core and earth 1.0, from: Foot, to: Top,
       cores: {BN: [COM, COM], BK: [L1, L1], GY: [L2, L2], cpc: [E, E]}, sleeved: [BK, GY]}
  W3: {type: single 1.0, from: Top, to: Light, in: conduit, cores: {BN: [L2, L]}}
  W4: {type: single 1.0, from: %s, to: Light, in: conduit, cores: {BU: [%s, N]}}
  W5: {type: single 1.0, from: Light, to: Porch, in: conduit, cores: {BN: [L, L]}}
  W6: {type: single 1.0, from: Light, to: Porch, in: conduit, cores: {BU: [N, N]}}
  W7: {type: single 1.0, from: way 1, to: Foot, in: conduit, cores: {GNYE: [E, E]}}
"""


def grave(text: str) -> list[Finding]:
    board = BOARD.format(earthing="TN-S", ze="0.3", rcd="30 mA")
    return [f for f in findings_of((board + text).encode()) if f.rule in (
        "off_but_live", "never_lit", "wrong_terminal", "short", "switched_neutral")]


def test_a_strapper_taken_for_the_neutral_of_two_lights_is_one_fault_with_one_cure():
    """Out with it, and a neutral in: then nothing is left to be said, as the twin shows."""
    (one,) = grave(STRAPPER_AS_NEUTRAL % ("Top", "L1"))
    assert one.says == "Light and Porch are out while both contacts of each are live."
    assert one.cure == (
        "Take out the single W4 between Top and Light, and bring the neutral of circuit 1 to Light N (worked out, not "
        "tried on site).")
    assert one.means == (
        "It looks safe and is not: either contact gives the full voltage to earth. There is line on Light N. Light is "
        "on in no setting: no neutral reaches it. Porch is on in no setting: no neutral reaches it.")
    assert {f.rule for f in one.also} == {"off_but_live", "never_lit", "wrong_terminal"}
    assert grave(STRAPPER_AS_NEUTRAL % ("way 1", "N")) == []
