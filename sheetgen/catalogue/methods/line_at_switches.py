"""Line loops from switch to switch and neutral from light to light, all in one conduit; the oldest way with singles."""

from __future__ import annotations

from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import NEUTRAL, SWITCHED, End, Feed, Join, Loop, Wanted, Wire


def lay(wanted: Wanted, feed: Feed, plan: Plan) -> Feed:
    """Line to the first switch, neutral to the first light, the switched line from one to the other."""
    joined, light = wanted.join.lay(wanted.seats), wanted.lights[0]
    plan.switches(wanted, joined)
    for each in wanted.lights:
        plan.light(each)
    line = End(wanted.seats[joined.line[0]].accessory, joined.line[1])
    plan.feed(feed, line, End(light.accessory, NEUTRAL))
    plan.hops(wanted, joined)
    k, port = joined.switched
    plan.run(wanted.seats[k].accessory, light.accessory, (Wire(SWITCHED, port, SWITCHED),), "drop",
             "switched line to the light")
    plan.lights(wanted.lights)
    return Feed(line, End(wanted.lights[-1].accessory, NEUTRAL), line.accessory)


def warns(join: Join, conduit: bool) -> str:
    """Singles in one conduit only: in cable line and neutral would run by separate routes."""
    if not conduit:
        return ("Line at the switches and neutral at the lights, in sheathed cable, would lead line and neutral by "
                "separate routes: a wide loop. Loop both at the switch or at the rose, or wire it with singles in "
                "conduit.")
    return ""


LOOP = Loop("line at the switches", "line taken to the switches, neutral looped at the lights", lay,
            lambda join, conduit: "",
            lambda found: found.line_to_switches and not (found.at_switch or found.at_joint_box or found.at_light),
            ("line at the switches, neutral at the lights", "line at the switches and neutral at the lights",
             "neutral at the lights", "line at switch", "line at the switch"),
            warns, taught="The oldest way with singles: line goes from the board to the switches, neutral from "
                          "the board straight to the lights. Where the two do not lie in one conduit they make a wide "
                          "loop.")
