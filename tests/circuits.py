"""Wirings for tests: a small builder, sound rooms of the usual methods, mistakes, and hypothesis strategies of both.

`sound_wirings()` draws houses with nothing wrong in them; `wirings()` draws houses with and without mistakes.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import strategies as st

from sheetgen.catalogue.accessories import find
from sheetgen.catalogue.accessories.board_way import KIND as BOARD_WAY
from sheetgen.catalogue.accessories.entry import with_connectors
from sheetgen.catalogue.accessories.lamps import lampholder
from sheetgen.catalogue.cables import BY_NAME, cpc_size, read_size
from sheetgen.model.accessory import Accessory, Terminal
from sheetgen.model.wiring import Board, Cable, Core, CoreEnd, Device, Way, Wiring
from sheetgen.pipeline import Look, style_of

SETS = style_of(Look()).sets
Pair = tuple[str | None, str | None]


@dataclass(frozen=True)
class Feed:
    """Where the next room takes its line and neutral from."""

    accessory: str
    line: str = "L"
    neutral: str = "N"


class Circuit:
    """Puts a wiring together. Cores come in the order of the cable's colour set, the cpc last."""

    def __init__(self, colours: str = "current", **board):
        self.colours, self.board = colours, board
        self.accessories: list[Accessory] = []
        self.cables: list[Cable] = []
        self.ways: list[Way] = []

    def way(self, number: str = "1", **facts) -> Feed:
        """A way of the board: type B, 6 A, 30 mA unless said otherwise."""
        name = f"way {number}"
        self.accessories.append(Accessory(name, BOARD_WAY))
        given = {"device": Device("B", Fraction(6)), "rcd": Fraction(30), "serves": "Lights", **facts}
        self.ways.append(Way(name, number, **given))
        return Feed(name)

    def put(self, name: str, kind: str, room: str = "", connectors: Sequence[str] = (), **options) -> str:
        """An accessory of the catalogue."""
        built = with_connectors(find(kind).build(options), tuple(connectors))
        self.accessories.append(Accessory(name, built, room))
        return name

    def pendant(self, rose: str, watts: int = 8) -> str:
        """A lampholder hung from a rose by its flex."""
        name = f"{rose} lamp"
        self.accessories.append(Accessory(name, lampholder({"lamp": Fraction(watts)}), hangs_from=rose))
        self.cable("two-core flex", rose, name, ("SL", "L"), ("N", "N"), size="0.75", colours="current")
        return name

    def cable(
        self, kind: str, a: str, b: str, *pairs: Pair, sleeved: str = "", size: str = "1.0", colours: str = "",
        core_colours: Sequence[str] = (), name: str = "", **facts,
    ) -> str:
        """A cable from `a` to `b`, one pair of terminals for each core, cpc included.

        `sleeved` names the cores with a line sleeve at both ends, by number: "23".
        """
        colours = colours or self.colours
        name = name or f"W{len(self.cables) + 1}"
        cable_type, chosen, measured = BY_NAME[kind], SETS[colours], read_size(size)
        own = core_colours or chosen.cores[kind]
        cores = []
        for i, (pair, colour) in enumerate(zip(pairs, own, strict=True), 1):
            cpc = colour in ("", "GNYE", "GN")
            sleeve = chosen.line if str(i) in sleeved else None if colour else chosen.protective
            ends = tuple(CoreEnd(x, t, sleeve if t else None) for x, t in zip((a, b), pair, strict=True))
            cores.append(Core(name, i, colour, ends, cpc=cpc))
        self.cables.append(Cable(
            name, kind, measured, tuple(cores), (a, b), colours, cpc_size=cpc_size(cable_type, measured),
            sheath=cable_type.sheath, **facts,
        ))
        return name

    def single(self, a: str, at: str, b: str, bt: str, colour: str = "", **facts) -> str:
        """A single in conduit, in the line colour unless said otherwise."""
        colour = colour or SETS[self.colours].line
        facts = {"run_in": "conduit", **facts}
        return self.cable("unsheathed single", a, b, (at, bt), core_colours=[colour], **facts)

    def neutral(self, a: str, at: str, b: str, bt: str) -> str:
        """A single in conduit in the neutral colour."""
        return self.single(a, at, b, bt, SETS[self.colours].neutral)

    def earth(self, a: str, b: str) -> str:
        """A single in conduit in green-and-yellow, earth to earth."""
        return self.single(a, "E", b, "E", "GNYE")

    def twin(self, a: str, b: str, *pairs: Pair, **facts) -> str:
        """Twin and earth, its cpc on both earth terminals."""
        return self.cable("twin and earth", a, b, *pairs, ("E", "E"), **facts)

    def three(self, a: str, b: str, *pairs: Pair, **facts) -> str:
        """Three-core and earth, its cpc on both earth terminals."""
        return self.cable("three-core and earth", a, b, *pairs, ("E", "E"), **facts)

    def wiring(self) -> Wiring:
        """What has been put together."""
        board = Board(ways=tuple(self.ways), **self.board)
        return Wiring("A circuit", tuple(self.accessories), tuple(self.cables), board, colours=self.colours)


# Sound rooms. Each is wired from `feed`, and says where the next room can be fed from.


def loop_in(c: Circuit, feed: Feed, room: str) -> Feed:
    """One light, one switch, looped in at the rose."""
    rose, door = c.put(room, "ceiling rose", room), c.put(f"{room} door", "one-way switch", room)
    c.pendant(rose)
    c.twin(feed.accessory, rose, (feed.line, "loop"), (feed.neutral, "N"))
    c.twin(rose, door, ("loop", "COM"), ("SL", "L1"), sleeved="2")
    return Feed(rose, "loop")


def box(c: Circuit, feed: Feed, room: str) -> Feed:
    """One light, one switch, joined in a joint box."""
    joint = c.put(f"{room} box", "joint box", room, terminals=["L", "N", "SL", "E"])
    light, door = c.put(room, "batten lampholder", room), c.put(f"{room} door", "one-way switch", room)
    c.twin(feed.accessory, joint, (feed.line, "L"), (feed.neutral, "N"))
    c.twin(joint, light, ("SL", "L"), ("N", "N"))
    c.twin(joint, door, ("L", "COM"), ("SL", "L1"), sleeved="2")
    return Feed(joint)


def at_the_switch(c: Circuit, feed: Feed, room: str) -> Feed:
    """Looped at the switch, the neutrals in a connector behind it."""
    door = c.put(f"{room} door", "one-way switch", room, connectors=["joint"])
    light = c.put(room, "light fitting", room)
    c.twin(feed.accessory, door, (feed.line, "COM"), (feed.neutral, "joint"))
    c.twin(door, light, ("L1", "L"), ("joint", "N"))
    return Feed(door, "COM", "joint")


def conversion(c: Circuit, feed: Feed, room: str, switches: int = 2) -> Feed:
    """Line on the L1s, lamp on the L2s, commons joined; intermediates in the L1 and L2 cores."""
    rose, first = c.put(room, "ceiling rose", room), c.put(f"{room} 1", "two-way switch", room)
    c.pendant(rose)
    c.twin(feed.accessory, rose, (feed.line, "loop"), (feed.neutral, "N"))
    c.twin(rose, first, ("loop", "L1"), ("SL", "L2"), sleeved="2")
    at, com, straps = first, "COM", ("L1", "L2")
    for i in range(2, switches):
        middle = c.put(f"{room} {i}", "intermediate switch", room, connectors=["joint"])
        c.three(at, middle, (com, "joint"), (straps[0], "L1"), (straps[1], "L2"), sleeved="23")
        at, com, straps = middle, "joint", ("L3", "L4")
    last = c.put(f"{room} {switches}", "two-way switch", room)
    c.three(at, last, (com, "COM"), (straps[0], "L1"), (straps[1], "L2"), sleeved="23")
    return Feed(rose, "loop")


def strappers(c: Circuit, feed: Feed, room: str, switches: int = 2, crossed: bool = False) -> Feed:
    """Singles in conduit: line to one common, two strappers, lamp from the other common."""
    first, light = c.put(f"{room} 1", "two-way switch", room), c.put(room, "batten lampholder", room)
    c.single(feed.accessory, feed.line, first, "COM")
    c.neutral(feed.accessory, feed.neutral, light, "N")
    c.earth(feed.accessory, first)
    at, straps = first, ("L1", "L2")
    for i in range(2, switches):
        middle = c.put(f"{room} {i}", "intermediate switch", room)
        _straps(c, at, straps, middle, ("L1", "L2"))
        at, straps = middle, ("L3", "L4")
    last = c.put(f"{room} {switches}", "two-way switch", room)
    _straps(c, at, straps, last, ("L2", "L1") if crossed else ("L1", "L2"))
    c.single(last, "COM", light, "L")
    c.earth(last, light)
    return feed


def _straps(c: Circuit, a: str, out: tuple[str, str], b: str, into: tuple[str, str]) -> None:
    for x, y in zip(out, into, strict=True):
        c.single(a, x, b, y)
    c.earth(a, b)


def plate(c: Circuit, feed: Feed, room: str) -> Feed:
    """Two lights on a plate of two gangs, the line looped at the plate, neutrals in a connector."""
    gangs = c.put(f"{room} plate", "plate", room, connectors=["joint"], gangs={"a": "one-way", "b": "one-way"})
    c.twin(feed.accessory, gangs, (feed.line, "a.COM"), (feed.neutral, "joint"))
    c.single(gangs, "a.COM", gangs, "b.COM", run_in="the box")
    for gang in ("a", "b"):
        light = c.put(f"{room} {gang}", "batten lampholder", room)
        c.twin(gangs, light, (f"{gang}.L1", "L"), ("joint", "N"))
    return Feed(gangs, "a.COM", "joint")


def long_conversion(c: Circuit, feed: Feed, room: str) -> Feed:
    """Conversion wiring with two intermediates."""
    return conversion(c, feed, room, 4)


def long_strappers(c: Circuit, feed: Feed, room: str) -> Feed:
    """Strappers with one intermediate."""
    return strappers(c, feed, room, 3)


SOUND_ROOMS: tuple[Callable[[Circuit, Feed, str], Feed], ...] = (
    loop_in, box, at_the_switch, conversion, strappers, plate, long_conversion, long_strappers,
)


# Rooms that are wrong by design.


def series(c: Circuit, feed: Feed, room: str) -> Feed:
    """Two lamps in series behind one switch."""
    door = c.put(f"{room} door", "one-way switch", room)
    one, two = (c.put(f"{room} {i}", "batten lampholder", room, lamp=Fraction(w)) for i, w in (("a", 60), ("b", 40)))
    c.single(feed.accessory, feed.line, door, "COM")
    c.single(door, "L1", one, "L")
    c.single(one, "N", two, "L")
    c.neutral(two, "N", feed.accessory, feed.neutral)
    return feed


def switched_neutral(c: Circuit, feed: Feed, room: str) -> Feed:
    """The switch stands in the neutral."""
    rose, door = c.put(room, "ceiling rose", room), c.put(f"{room} door", "one-way switch", room)
    c.pendant(rose)
    c.twin(feed.accessory, rose, (feed.line, "SL"), (feed.neutral, "loop"))
    c.twin(rose, door, ("loop", "COM"), ("N", "L1"))
    return Feed(rose, "SL", "loop")


def alternate(c: Circuit, feed: Feed, room: str) -> Feed:
    """Line on both L1s, neutral on both L2s, the lamp between the commons."""
    one, two = c.put(f"{room} 1", "two-way switch", room), c.put(f"{room} 2", "two-way switch", room)
    light = c.put(room, "batten lampholder", room)
    for switch in (one, two):
        c.single(feed.accessory, feed.line, switch, "L1")
        c.neutral(feed.accessory, feed.neutral, switch, "L2")
    c.single(one, "COM", light, "L")
    c.single(two, "COM", light, "N")
    return feed


WRONG_ROOMS = (series, switched_neutral, alternate)
FROM_THE_BOARD = (strappers, long_strappers, series, alternate)  # their singles would crowd the terminals of a room


# Mistakes: each changes a wiring a little. `draw` is hypothesis's.


def _landed(wiring: Wiring) -> list[tuple[Core, int]]:
    return [(core, i) for core in wiring.cores() for i in (0, 1) if core.ends[i].terminal is not None]


def with_end(wiring: Wiring, core: Core, end: int, terminal: str | None) -> Wiring:
    """The same wiring with one core end landed elsewhere in the same accessory, or on nothing."""
    ends = list(core.ends)
    ends[end] = CoreEnd(ends[end].accessory, terminal, ends[end].sleeve if terminal else None)
    return with_core(wiring, replace(core, ends=tuple(ends)))


def with_core(wiring: Wiring, changed: Core) -> Wiring:
    """The same wiring with one core replaced."""
    cables = tuple(
        replace(c, cores=tuple(changed if k.key == changed.key else k for k in c.cores)) for c in wiring.cables
    )
    return replace(wiring, cables=cables)


def core_at(wiring: Wiring, key: str) -> Core:
    """The core with that key."""
    return next(c for c in wiring.cores() if c.key == key)


def exchanged(wiring: Wiring, a: tuple[str, int], b: tuple[str, int]) -> Wiring:
    """Two core ends (key, end) in one accessory exchanged."""
    one, two = core_at(wiring, a[0]), core_at(wiring, b[0])
    at, bt = one.ends[a[1]].terminal, two.ends[b[1]].terminal
    wiring = with_end(wiring, one, a[1], bt)
    return with_end(wiring, core_at(wiring, b[0]), b[1], at)


def _exchange(draw, wiring: Wiring) -> Wiring:
    core, end = draw(st.sampled_from(_landed(wiring)))
    place = core.ends[end].accessory
    here = [(k, i) for k, i in _landed(wiring) if k.ends[i].accessory == place and k.key != core.key]
    if not here:
        return wiring
    other, far = draw(st.sampled_from(here))
    return exchanged(wiring, (core.key, end), (other.key, far))


def _loosen(draw, wiring: Wiring) -> Wiring:
    core, end = draw(st.sampled_from(_landed(wiring)))
    return with_end(wiring, core, end, None)


def _move(draw, wiring: Wiring) -> Wiring:
    core, end = draw(st.sampled_from(_landed(wiring)))
    kind = wiring.accessory(core.ends[end].accessory).kind
    return with_end(wiring, core, end, draw(st.sampled_from([t.name for t in kind.terminals])))


def _lose_cable(draw, wiring: Wiring) -> Wiring:
    if len(wiring.cables) < 2:
        return wiring
    lost = draw(st.sampled_from([c.name for c in wiring.cables if not c.name.startswith("X")] or [""]))
    return replace(wiring, cables=tuple(c for c in wiring.cables if c.name != lost))


def _bridge(draw, wiring: Wiring) -> Wiring:
    nodes = list(wiring.nodes())
    a, b = draw(st.sampled_from(nodes)), draw(st.sampled_from(nodes))
    number = 1 + sum(cable.name.startswith("X") for cable in wiring.cables)
    return replace(wiring, cables=(*wiring.cables, bridge(f"X{number}", a, b, wiring.colours)))


def bridge(name: str, a: Terminal, b: Terminal, colours: str = "current") -> Cable:
    """A single in conduit between two terminals."""
    core = Core(name, 1, SETS[colours].line, (CoreEnd(*a), CoreEnd(*b)))
    return Cable(name, "unsheathed single", read_size("1.0"), (core,), (a.accessory, b.accessory), colours,
                 sheath="unsheathed", run_in="conduit")


def _strip_sleeves(draw, wiring: Wiring) -> Wiring:
    core = draw(st.sampled_from(list(wiring.cores())))
    return with_core(wiring, replace(core, ends=tuple(replace(e, sleeve=None) for e in core.ends)))


MISTAKES = (_exchange, _loosen, _move, _lose_cable, _bridge, _strip_sleeves)


@st.composite
def sound_wirings(draw, max_rooms: int = 3) -> Wiring:
    """Houses with nothing wrong in them."""
    return _house(draw, SOUND_ROOMS, max_rooms)


@st.composite
def wirings(draw, max_rooms: int = 3, max_mistakes: int = 3) -> Wiring:
    """Houses right and wrong."""
    wiring = _house(draw, SOUND_ROOMS + WRONG_ROOMS, max_rooms)
    for mistake in draw(st.lists(st.sampled_from(MISTAKES), max_size=max_mistakes)):
        if list(wiring.cores()) and _landed(wiring):
            wiring = mistake(draw, wiring)
    return wiring


def _house(draw, rooms: Sequence[Callable[[Circuit, Feed, str], Feed]], most: int) -> Wiring:
    c = Circuit(draw(st.sampled_from(["current", "legacy"])))
    feeds = [c.way(str(i)) for i in range(1, draw(st.integers(1, 2)) + 1)]
    ways = list(feeds)
    for i, room in enumerate(draw(st.lists(st.sampled_from(rooms), min_size=1, max_size=most)), 1):
        which = draw(st.integers(0, len(feeds) - 1))
        after = room(c, ways[which] if room in FROM_THE_BOARD else feeds[which], f"Room {i}")
        feeds[which] = feeds[which] if room in FROM_THE_BOARD else after
    return c.wiring()
