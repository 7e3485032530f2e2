"""Line and neutral loop from joint box to joint box; each switch and each light has a cable of its own from the box."""

from __future__ import annotations

from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import LINE, NEUTRAL, SWITCHED, End, Feed, Item, Join, Loop, Wanted, Wire


def lay(wanted: Wanted, feed: Feed, plan: Plan) -> Feed:
    """One box for each circuit, above its first light."""
    joined, light = wanted.join.lay(wanted.seats), wanted.lights[0]
    box = _box(light.room, plan)
    for each in wanted.lights:
        plan.light(each)
    plan.switches(wanted, joined)
    plan.feed(feed, End(box, LINE), End(box, NEUTRAL))
    plan.drop(box, wanted, joined)
    plan.hops(wanted, joined)
    out = (Wire(SWITCHED, SWITCHED, SWITCHED), Wire(NEUTRAL, NEUTRAL, NEUTRAL))
    plan.run(box, light.accessory, out, "lights", "to the light: switched line and neutral")
    plan.lights(wanted.lights)
    return Feed(End(box, LINE), End(box, NEUTRAL), box)


def _box(room: str, plan: Plan) -> str:
    number = 1 + sum(item.kind == "joint box" for item in plan.items.values())
    name = f"Box {number}"
    plan.items[name] = Item("joint box", f"above {room}" if room else "", {"terminals": ["L", "N", "SL", "E"]})
    return name


def refuses(join: Join, conduit: bool) -> str:
    """Cable only."""
    if conduit:
        return ("Singles in conduit are drawn from accessory to accessory; there is no joint box in the run. Loop them "
                "at the rose, at the switch, or line at the switches and neutral at the lights.")
    return ""


def warns(join: Join, conduit: bool) -> str:
    """Only joins that go down and come back by the same drop."""
    if join.two_ends:
        return (f"From a joint box, '{join.name}' would send line down one drop and bring the switched line back by "
                "another: a wide loop around which line and neutral run apart. Join the switches by conversion.")
    return ""


LOOP = Loop("at a joint box", "line and neutral looped at a joint box", lay, refuses,
            lambda found: found.at_joint_box and not found.at_switch,
            ("joint box", "joint boxes", "at the joint box", "at joint boxes", "junction box", "box"),
            warns, taught="Every joint is in the box above the light, which must stay within reach; the switch and the "
                          "light have a cable each from it.")
