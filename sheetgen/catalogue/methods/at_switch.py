"""Line and neutral loop at the switches, the neutrals in a connector behind each; the light has only its own cable."""

from __future__ import annotations

from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import NEUTRAL, SWITCHED, End, Feed, Join, JoinLaid, Loop, Wanted, Wire


def lay(wanted: Wanted, feed: Feed, plan: Plan) -> Feed:
    """Feed to the first switch; in cable the neutral goes along to the switch from which the light is fed."""
    joined = wanted.join.lay(wanted.seats)
    for light in wanted.lights:
        plan.light(light)
    plan.switches(wanted, joined)
    first = wanted.seats[0].accessory
    joint = feed.neutral.port if feed.neutral.accessory == first else plan.neutral_joint(first)
    line, neutral = End(first, joined.line[1]), End(first, joint)
    plan.feed(feed, line, neutral)
    _on_to_the_light(wanted, joined, joint, plan)
    plan.lights(wanted.lights)
    return Feed(line, neutral, first)


def _on_to_the_light(wanted: Wanted, joined: JoinLaid, joint: str, plan: Plan) -> None:
    light, (k, port) = wanted.lights[0].accessory, joined.switched
    out, neutral = Wire(SWITCHED, port, SWITCHED), Wire(NEUTRAL, joint, NEUTRAL)
    first, last = wanted.seats[0].accessory, wanted.seats[k].accessory
    says = "to the light: switched line and neutral"
    if k == 0:
        plan.hops(wanted, joined)
        plan.run(first, light, (out, neutral), "drop", says)
    elif wanted.conduit:
        plan.hops(wanted, joined)
        plan.run(last, light, (out,), "drop", "switched line to the light")
        plan.run(first, light, (neutral,), "drop", "neutral to the light", cpc=False)
    else:
        along = {first: joint}
        for seat in wanted.seats:
            along[seat.accessory] = along.get(seat.accessory) or plan.neutral_joint(seat.accessory)
        _hops_with_neutral(wanted, joined, tuple(along[seat.accessory] for seat in wanted.seats), plan)
        plan.run(last, light, (out, Wire(NEUTRAL, along[last], NEUTRAL)), "drop", says)


def _hops_with_neutral(wanted: Wanted, joined: JoinLaid, along: tuple[str, ...], plan: Plan) -> None:
    """The neutral runs with the strappers, so that line and neutral are never apart."""
    hops = tuple(
        (*wires, Wire(NEUTRAL, a, b)) for wires, a, b in zip(joined.hops, along, along[1:], strict=False)
    )
    plan.hops(wanted, JoinLaid(joined.line, joined.switched, hops))


def refuses(join: Join, conduit: bool) -> str:
    """Every join can be fed here."""
    return ""


LOOP = Loop("at the switch", "line and neutral looped at the switches", lay, refuses,
            lambda found: found.at_switch,
            ("switch", "looped at the switch", "loop at the switch", "at the switches"),
            taught="The feed runs from switch to switch, so that permanent line and neutral are both in the box of a "
                   "switch; to the light go switched line and neutral.")
