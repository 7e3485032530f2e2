"""What laying writes into: accessories, lone connectors and runs, in the order in which they are laid."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

from sheetgen.catalogue.methods.ports import (
    LINE,
    NEUTRAL,
    SWITCHED,
    End,
    Feed,
    Item,
    JoinLaid,
    Light,
    Run,
    SwitchPlace,
    Wanted,
    Wire,
)

NEUTRAL_JOINT = "N joint"
COUNT = {2: "two", 3: "three"}


@dataclass
class Plan:
    """A job as laid so far. A run whose ends are one accessory is a link inside it."""

    items: dict[str, Item] = field(default_factory=dict)
    joints: dict[str, list[str]] = field(default_factory=dict)  # accessory -> lone connectors in it
    runs: list[Run] = field(default_factory=list)

    def light(self, light: Light, loop: bool = False) -> None:
        """A rose with its lamp; with `loop` it has a terminal for the permanent line."""
        options = {} if loop else {"blocks": "two"}
        self.items[light.accessory] = Item("ceiling rose", light.room, options, lamp=light.lamp)

    def switch(self, seat: SwitchPlace) -> None:
        """A switch of one gang, or one gang more on its plate."""
        if not seat.gang:
            self.items[seat.accessory] = Item(f"{seat.what} switch", seat.room)
            return
        before = self.items.get(seat.accessory)
        gangs = before.gangs if before else {}
        self.items[seat.accessory] = Item("plate", seat.room, gangs={**gangs, seat.gang: seat.what})

    def switches(self, wanted: Wanted, joined: JoinLaid) -> None:
        """Every switch of a circuit, and the connectors that its joining needs."""
        for seat in wanted.seats:
            self.switch(seat)
        for i, name in joined.joints:
            self.joint(wanted.seats[i].accessory, name)

    def joint(self, accessory: str, name: str) -> str:
        """A lone connector in an accessory; its port is its name."""
        names = self.joints.setdefault(accessory, [])
        if name not in names:
            names.append(name)
        return name

    def neutral_joint(self, accessory: str) -> str:
        """A connector for neutrals at a switch; a new one each time, so that neutrals never meet by two routes."""
        names = self.joints.get(accessory, ())
        number = 1 + sum(name.startswith(NEUTRAL_JOINT) for name in names)
        return self.joint(accessory, NEUTRAL_JOINT if number == 1 else f"{NEUTRAL_JOINT} {number}")

    def run(self, start: str, end: str, wires: tuple[Wire, ...], stretch: str, says: str, cpc: bool = True) -> None:
        """A cable, or singles in conduit; a link where both ends are in one accessory."""
        if start == end:
            cpc, wires, says = False, tuple(w for w in wires if w.a != w.b), "from gang to gang on the plate"
        if wires:
            self.runs.append(Run(start, end, wires, stretch, says, cpc))

    def feed(self, feed: Feed, line: End, neutral: End) -> None:
        """Line and neutral of a circuit, in one run where they come from and go to the same accessories."""
        start = feed.line.accessory
        first = start.startswith("way ")
        stretch, says = ("feed", "feed from the board") if first else ("on", "on from the circuit before")
        wires = (Wire(LINE, feed.line.port, line.port), Wire(NEUTRAL, feed.neutral.port, neutral.port))
        if (start, line.accessory) == (feed.neutral.accessory, neutral.accessory):
            self.run(start, line.accessory, wires, stretch, says)
            return
        self.run(start, line.accessory, wires[:1], stretch, f"line: {says}", cpc=start == feed.earth)
        self.run(feed.neutral.accessory, neutral.accessory, wires[1:], stretch, f"neutral: {says}", cpc=False)

    def drop(self, start: str, wanted: Wanted, joined: JoinLaid) -> None:
        """Line down to the switches and the switched line back: by one drop, or by two where it leaves at another."""
        (i, line), (k, switched) = joined.line, joined.switched
        down, back = Wire(LINE, LINE, line), Wire(SWITCHED, SWITCHED, switched)
        if i == k:
            self.run(start, wanted.seats[i].accessory, (down, back), "drop",
                     "drop to the switch: line down, switched line back")
            return
        self.run(start, wanted.seats[i].accessory, (down,), "drop", "line down to the first switch")
        self.run(start, wanted.seats[k].accessory, (back,), "drop", "switched line back from the last switch",
                 cpc=False)

    def hops(self, wanted: Wanted, joined: JoinLaid) -> None:
        """The runs from switch to switch."""
        for here, there, wires in zip(wanted.seats, wanted.seats[1:], joined.hops, strict=False):
            lines = sum(wire.does != NEUTRAL for wire in wires)
            says = f"{COUNT[lines]} wires from switch to switch, all of them line"
            if lines < len(wires):
                says += "; and the neutral"
            self.run(here.accessory, there.accessory, wires, "switches", says)

    def lights(self, lights: tuple[Light, ...], line: bool = False) -> None:
        """From light to light: switched line and neutral, with `line` the permanent line too."""
        for here, there in itertools.pairwise(lights):
            wires: tuple[Wire, ...] = (Wire(SWITCHED, SWITCHED, SWITCHED), Wire(NEUTRAL, NEUTRAL, NEUTRAL))
            says = "on to the next light: switched line and neutral"
            if line:
                wires, says = (Wire(LINE, LINE, LINE), *wires), "on to the next light, the line along for the loop"
            self.run(here.accessory, there.accessory, wires, "lights", says)
