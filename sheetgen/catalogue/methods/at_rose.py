"""Line and neutral loop in and out at the ceiling roses; one drop from the rose to the switch."""

from __future__ import annotations

from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import LINE, NEUTRAL, End, Feed, Join, Loop, Wanted


def lay(wanted: Wanted, feed: Feed, plan: Plan) -> Feed:
    """Feed to the first rose, drop to the switch, on from the last rose (in conduit: line from the first)."""
    first, last, joined = wanted.lights[0], wanted.lights[-1], wanted.join.lay(wanted.seats)
    along = wanted.goes_on and not wanted.conduit and first != last
    for light in wanted.lights:
        plan.light(light, loop=along or light == first)
    plan.switches(wanted, joined)
    plan.feed(feed, End(first.accessory, LINE), End(first.accessory, NEUTRAL))
    plan.drop(first.accessory, wanted, joined)
    plan.hops(wanted, joined)
    plan.lights(wanted.lights, line=along)
    return Feed(End((last if along else first).accessory, LINE), End(last.accessory, NEUTRAL), last.accessory
                if along else first.accessory)


def warns(join: Join, conduit: bool) -> str:
    """In cable only what goes down and comes back by the same drop."""
    if join.two_ends and not conduit:
        return (f"Looped at the rose in sheathed cable, '{join.name}' would send line down one drop and bring the "
                "switched line back by another: a wide loop around which line and neutral run apart. Join the switches "
                "by conversion, or wire it with singles in conduit.")
    return ""


LOOP = Loop("at the rose", "line and neutral looped at the rose", lay, lambda join, conduit: "",
            lambda found: found.at_light and not found.at_switch and not found.at_joint_box,
            ("rose", "loop-in", "loop in", "looped in at the rose", "three-plate", "at the ceiling rose"),
            warns, taught="The feed runs from rose to rose; down to the switches go line and switched line, but no "
                          "neutral.",
            without_rose="line and neutral looped at the light")
