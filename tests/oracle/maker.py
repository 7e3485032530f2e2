"""Descriptions of random lighting circuits, as an electrician would write them down: right, and with mistakes.

The same seed always gives the same text. Terminal names are typed out here; nothing is asked of the catalogue.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass, field

Ends = tuple[str | None, str | None]
COLOURS = {
    "legacy": {"twin and earth": ("RD", "BK", "cpc"), "twin": ("RD", "BK"),
               "three-core and earth": ("RD", "YE", "BU", "cpc"),
               "three-core": ("RD", "YE", "BU"), "single": ("RD",), "unsheathed single": ("RD",)},
    "current": {"twin and earth": ("BN", "BU", "cpc"), "twin": ("BN", "BU"),
                "three-core and earth": ("BN", "BK", "GY", "cpc"),
                "three-core": ("BN", "BK", "GY"), "single": ("BN",), "unsheathed single": ("BN",),
                "two-core flex": ("BN", "BU"), "three-core flex": ("BN", "BU", "GNYE")},
}
NEUTRAL = {"legacy": "BK", "current": "BU"}
TERMINALS = {  # of each kind used here, the earth terminal apart
    "way": ("L", "N"), "ceiling rose": ("loop", "N", "SL"), "batten lampholder": ("L", "N"),
    "light fitting": ("L", "N"),
    "one-way switch": ("COM", "L1"), "two-way switch": ("COM", "L1", "L2"),
    "intermediate switch": ("L1", "L2", "L3", "L4"), "pull-cord switch": ("COM", "L1"), "dimmer": ("L", "load"),
    "sensor": ("L", "N", "SL"), "relay module": ("L", "N", "SL", "S"), "fan": ("L", "N"), "timer fan": ("SL", "L", "N"),
    "fan isolator": ("L in", "L out", "SL in", "SL out", "N in", "N out"),
    "double-pole switch": ("L in", "L out", "N in", "N out"),
    "emergency luminaire": ("L", "SL", "N"), "joint box": ("L", "N", "SL"), "plate": (),
}


@dataclass
class Run:
    """One cable: its ends, and for each core its colour and two terminals."""

    type: str
    a: str
    b: str
    cores: list[tuple[str, Ends]]
    colours: str
    sleeved: tuple[str, ...] = ()
    inside: str = ""


@dataclass
class Plan:
    """A description in the making."""

    colours: str = "current"
    ways: list[str] = field(default_factory=list)
    accessories: dict[str, dict[str, object]] = field(default_factory=dict)
    runs: dict[str, Run] = field(default_factory=dict)
    made: list[str] = field(default_factory=list)  # what was built and what was spoilt, for the reader of a report

    def put(self, name: str, kind: str, **options: object) -> str:
        """An accessory; a name that is taken gets a number."""
        self.accessories[name] = {"kind": kind, **options}
        return name

    def run(self, type: str, a: str, b: str, *pairs: Ends, sleeved: str = "", colours: str = "", inside: str = "",
            core_colours: tuple[str, ...] = ()) -> str:
        """A cable; its cpc, if any, goes to E at both ends. `sleeved` numbers the cores with a line sleeve."""
        colours = colours or self.colours
        own = core_colours or COLOURS[colours][type]
        earths: list[Ends] = [("E", "E")] * (len(own) - len(pairs))
        name = f"W{max((int(n[1:]) for n in self.runs), default=0) + 1}"
        self.runs[name] = Run(type, a, b, list(zip(own, [*pairs, *earths], strict=True)), colours,
                              tuple(own[int(i) - 1] for i in sleeved), inside)
        return name

    def terminals(self, place: str) -> list[str]:
        """The terminals of an accessory, its earth included."""
        if place in self.ways:
            return ["L", "N", "E"]
        about = self.accessories[place]
        kind = str(about["kind"])
        if kind == "plate":
            gangs = about["gangs"]
            assert isinstance(gangs, dict)
            names = [f"{g}.{t}" for g, what in gangs.items() for t in TERMINALS[f"{what} switch"]]
        else:
            names = list(TERMINALS[kind])
        connectors = about.get("connectors", ())
        assert isinstance(connectors, (list, tuple))
        return [*names, *connectors, "E"]

    def places(self) -> list[str]:
        """Everything that has terminals."""
        return [*self.ways, *self.accessories]

    def text(self) -> str:
        """The description, as YAML."""
        lines = ["job: A random circuit", "board:", "  earthing: TN-S", "  ways:"]
        way = "{serves: Lights, device: type B 6 A, rcd: 30 mA}"
        lines += [f"    {w.removeprefix('way ')}: {way}" for w in self.ways]
        lines += [f"colours: {self.colours}", "accessories:" if self.accessories else "accessories: {}"]
        lines += [f"  {name}: {_flow(about)}" for name, about in self.accessories.items()]
        lines.append("cables:" if self.runs else "cables: {}")
        for name, r in self.runs.items():
            size = "0.75" if r.type.endswith("flex") else "1.0"
            about = {"type": f"{r.type} {size}", "from": r.a, "to": r.b,
                     "cores": {colour: [a or "nothing", b or "nothing"] for colour, (a, b) in r.cores}}
            if r.colours != self.colours:
                about["colours"] = r.colours
            if r.sleeved:
                about["sleeved"] = list(r.sleeved)
            if r.inside:
                about["in"] = r.inside
            lines.append(f"  {name}: {_flow(about)}")
        return "\n".join(lines) + "\n"


def _flow(value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {_flow(v)}" for k, v in value.items()) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(map(_flow, value)) + "]"
    return str(value)


@dataclass(frozen=True)
class Feed:
    """Where a room takes its supply from, and the cable that has a cpc or has none."""

    place: str
    line: str = "L"
    neutral: str = "N"


Room = Callable[[Plan, random.Random, Feed, str], Feed]


def _lamp(p: Plan, r: random.Random, name: str) -> str:
    kind = r.choice(("batten lampholder", "light fitting", "light fitting"))
    options: dict[str, object] = {"lamp": f"{r.choice((6, 8, 10, 40))} W"}
    if kind == "light fitting" and r.random() < 0.5:
        options["class"] = "II"
    return p.put(name, kind, **options)


def loop_in(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A loop-in rose and its switch."""
    rose = p.put(f"{room} rose", "ceiling rose", lamp="8 W")
    switch = p.put(f"{room} switch", r.choice(("one-way switch", "pull-cord switch")))
    p.run("twin and earth", feed.place, rose, (feed.line, "loop"), (feed.neutral, "N"))
    p.run("twin and earth", rose, switch, ("loop", "COM"), ("SL", "L1"), sleeved="2" if r.random() < 0.7 else "")
    if r.random() < 0.2:
        second = _lamp(p, r, f"{room} second")
        p.run("twin and earth", rose, second, ("SL", "L"), ("N", "N"))
    return Feed(rose, "loop")


def joint_box(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A joint box with line, neutral and switched line."""
    box = p.put(f"{room} box", "joint box", terminals=["L", "N", "SL", "E"])
    light, switch = _lamp(p, r, f"{room} light"), p.put(f"{room} switch", "one-way switch")
    p.run("twin and earth", feed.place, box, (feed.line, "L"), (feed.neutral, "N"))
    p.run("twin and earth", box, light, ("SL", "L"), ("N", "N"))
    p.run("twin and earth", box, switch, ("L", "COM"), ("SL", "L1"), sleeved="2")
    return Feed(box)


def at_switch(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Looped at the switch or dimmer, its neutrals in a connector."""
    kind = r.choice(("one-way switch", "one-way switch", "dimmer"))
    com, out = ("L", "load") if kind == "dimmer" else ("COM", "L1")
    switch, light = p.put(f"{room} switch", kind, connectors=["joint"]), _lamp(p, r, f"{room} light")
    p.run("twin and earth", feed.place, switch, (feed.line, com), (feed.neutral, "joint"))
    p.run("twin and earth", switch, light, (out, "L"), ("joint", "N"))
    return Feed(switch, com, "joint")


def conversion(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Two-way by conversion, with or without an intermediate."""
    rose, first = p.put(f"{room} rose", "ceiling rose", lamp="8 W"), p.put(f"{room} foot", "two-way switch")
    p.run("twin and earth", feed.place, rose, (feed.line, "loop"), (feed.neutral, "N"))
    p.run("twin and earth", rose, first, ("loop", "L1"), ("SL", "L2"), sleeved="2")
    at, com, straps = first, "COM", ("L1", "L2")
    if r.random() < 0.3:
        mid = p.put(f"{room} mid", "intermediate switch", connectors=["joint"])
        p.run("three-core and earth", at, mid, (com, "joint"), (straps[0], "L1"), (straps[1], "L2"), sleeved="23")
        at, com, straps = mid, "joint", ("L3", "L4")
    last = p.put(f"{room} top", "two-way switch")
    p.run("three-core and earth", at, last, (com, "COM"), (straps[0], "L1"), (straps[1], "L2"),
          sleeved="23" if r.random() < 0.8 else "")
    return Feed(rose, "loop")


def strappers(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Two strappers in singles; at times crossed."""
    first, last = p.put(f"{room} foot", "two-way switch"), p.put(f"{room} top", "two-way switch")
    light = _lamp(p, r, f"{room} light")
    straps = [("L1", "L1"), ("L2", "L2")] if r.random() < 0.6 else [("L1", "L2"), ("L2", "L1")]
    for a, b, at, bt in ((feed.place, first, feed.line, "COM"), *((first, last, x, y) for x, y in straps),
                         (last, light, "COM", "L")):
        p.run("unsheathed single", a, b, (at, bt), inside="conduit")
    neutral = (NEUTRAL[p.colours],)
    p.run("unsheathed single", feed.place, light, (feed.neutral, "N"), inside="conduit", core_colours=neutral)
    for a, b in ((feed.place, first), (first, last), (last, light)):
        p.run("unsheathed single", a, b, ("E", "E"), inside="conduit", core_colours=("GNYE",))
    return feed


def plate(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Two lights from a plate of two gangs."""
    place = p.put(f"{room} plate", "plate", gangs={"a": "one-way", "b": "one-way"}, connectors=["joint"])
    p.run("twin and earth", feed.place, place, (feed.line, "a.COM"), (feed.neutral, "joint"))
    p.run("unsheathed single", place, place, ("a.COM", "b.COM"), inside="the box")
    for gang in "ab":
        light = _lamp(p, r, f"{room} light {gang}")
        p.run("twin and earth", place, light, (f"{gang}.L1", "L"), ("joint", "N"))
    return Feed(place, "a.COM", "joint")


def sensor(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A light worked by a sensor or relay, straight or behind a switch."""
    kind = r.choice(("sensor", "relay module"))
    device, light = p.put(f"{room} {kind}", kind), _lamp(p, r, f"{room} light")
    if r.random() < 0.5:
        switch = p.put(f"{room} switch", "one-way switch", connectors=["joint"])
        p.run("twin and earth", feed.place, switch, (feed.line, "COM"), (feed.neutral, "joint"))
        p.run("twin and earth", switch, device, ("L1", "L"), ("joint", "N"))
    else:
        p.run("twin and earth", feed.place, device, (feed.line, "L"), (feed.neutral, "N"))
        if kind == "relay module":
            switch = p.put(f"{room} switch", "one-way switch")
            p.run("twin and earth", device, switch, ("L", "COM"), ("S", "L1"), sleeved="2")
    p.run("twin and earth", device, light, ("SL", "L"), ("N", "N"))
    return feed


def run_on_fan(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A bathroom light on a cord, and a timer fan behind a three-pole isolator or without one."""
    rose, cord = p.put(f"{room} rose", "ceiling rose", lamp="8 W"), p.put(f"{room} cord", "pull-cord switch")
    fan = p.put(f"{room} fan", "timer fan")
    p.run("twin and earth", feed.place, rose, (feed.line, "loop"), (feed.neutral, "N"))
    p.run("twin and earth", rose, cord, ("loop", "COM"), ("SL", "L1"), sleeved="2")
    three = "three-core and earth"
    if r.random() < 0.6:
        iso = p.put(f"{room} isolator", "fan isolator")
        p.run(three, rose, iso, ("loop", "L in"), ("SL", "SL in"), ("N", "N in"), sleeved="2")
        p.run(three, iso, fan, ("L out", "L"), ("SL out", "SL"), ("N out", "N"), sleeved="2")
    else:
        p.run(three, rose, fan, ("loop", "L"), ("SL", "SL"), ("N", "N"), sleeved="2")
    return Feed(rose, "loop")


def plain_fan(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A fan behind a double-pole switch."""
    switch, fan = p.put(f"{room} switch", "double-pole switch"), p.put(f"{room} fan", "fan")
    p.run("twin and earth", feed.place, switch, (feed.line, "L in"), (feed.neutral, "N in"))
    p.run("twin and earth", switch, fan, ("L out", "L"), ("N out", "N"))
    return feed


def emergency(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """An emergency luminaire with a switch for its lamp."""
    light, switch = p.put(f"{room} exit", "emergency luminaire"), p.put(f"{room} switch", "one-way switch")
    p.run("twin and earth", feed.place, light, (feed.line, "L"), (feed.neutral, "N"))
    p.run("twin and earth", light, switch, ("L", "COM"), ("SL", "L1"), sleeved="2")
    return feed


def flex_fitting(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A fitting on flex from a joint box, with or without a cpc in the flex."""
    box = p.put(f"{room} box", "joint box", terminals=["L", "N", "SL", "E"])
    switch = p.put(f"{room} switch", "one-way switch")
    light = _lamp(p, r, f"{room} light")
    p.run("twin and earth", feed.place, box, (feed.line, "L"), (feed.neutral, "N"))
    p.run("twin and earth", box, switch, ("L", "COM"), ("SL", "L1"), sleeved="2")
    p.run(r.choice(("two-core flex", "three-core flex")), box, light, ("SL", "L"), ("N", "N"), colours="current")
    return Feed(box)


# Rooms wired wrongly by design.


def switched_neutral(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """The switch stands in the neutral."""
    rose, switch = p.put(f"{room} rose", "ceiling rose", lamp="8 W"), p.put(f"{room} switch", "one-way switch")
    p.run("twin and earth", feed.place, rose, (feed.line, "SL"), (feed.neutral, "loop"))
    p.run("twin and earth", rose, switch, ("loop", "COM"), ("N", "L1"))
    return Feed(rose, "SL", "loop")


def reds_to_line(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """The commonest mistake at a loop-in rose: reds to line, blacks to neutral."""
    rose, switch = p.put(f"{room} rose", "ceiling rose", lamp="8 W"), p.put(f"{room} switch", "one-way switch")
    p.run("twin and earth", feed.place, rose, (feed.line, "SL"), (feed.neutral, "N"))
    p.run("twin and earth", rose, switch, ("SL", "COM"), ("N", "L1"))
    return Feed(rose, "SL")


def series(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Two lamps in series behind one switch."""
    switch = p.put(f"{room} switch", "one-way switch")
    one, two = _lamp(p, r, f"{room} light a"), _lamp(p, r, f"{room} light b")
    p.run("unsheathed single", feed.place, switch, (feed.line, "COM"))
    p.run("unsheathed single", switch, one, ("L1", "L"))
    p.run("unsheathed single", one, two, ("N", "L"))
    p.run("unsheathed single", two, feed.place, ("N", feed.neutral), core_colours=(NEUTRAL[p.colours],))
    return feed


def earth_return(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """A light at a switch without neutral: its return is landed on the earth terminal."""
    switch, light = p.put(f"{room} switch", "one-way switch"), _lamp(p, r, f"{room} light")
    p.run("twin and earth", feed.place, switch, (feed.line, "COM"), (None, None))
    p.run("twin and earth", switch, light, ("L1", "L"), ("E", "N"))
    return Feed(feed.place, feed.line, feed.neutral)


def alternate(p: Plan, r: random.Random, feed: Feed, room: str) -> Feed:
    """Line on both L1s, neutral on both L2s, the lamp between the commons."""
    one, two = p.put(f"{room} foot", "two-way switch"), p.put(f"{room} top", "two-way switch")
    light = _lamp(p, r, f"{room} light")
    p.run("twin and earth", feed.place, one, (feed.line, "L1"), (feed.neutral, "L2"))
    p.run("three-core and earth", one, two, ("L1", "L1"), ("L2", "L2"), ("COM", None))
    p.run("unsheathed single", one, light, ("COM", "L"))
    p.run("unsheathed single", two, light, ("COM", "N"), core_colours=(NEUTRAL[p.colours],))
    return feed


SOUND: tuple[Room, ...] = (
    loop_in, loop_in, joint_box, at_switch, conversion, conversion, strappers, plate, sensor, run_on_fan, plain_fan,
    emergency, flex_fitting,
)
WRONG: tuple[Room, ...] = (switched_neutral, reds_to_line, series, earth_return, alternate)
