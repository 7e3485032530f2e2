"""Mistakes, as they are made with a screwdriver; and a random house with some of them."""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import deepcopy

from .maker import NEUTRAL, SOUND, WRONG, Feed, Plan

Spot = tuple[str, int, int]  # cable, core, end


def landed(p: Plan, place: str = "") -> list[Spot]:
    """Every core end that is on a terminal, at one accessory or at all."""
    return [(name, i, end) for name, run in p.runs.items() for i, (_, ends) in enumerate(run.cores) for end in (0, 1)
            if ends[end] is not None and place in ("", (run.a, run.b)[end])]


def terminal_at(p: Plan, spot: Spot) -> str | None:
    """Where a core end is."""
    return p.runs[spot[0]].cores[spot[1]][1][spot[2]]


def place_of(p: Plan, spot: Spot) -> str:
    """The accessory a core end is in."""
    run = p.runs[spot[0]]
    return (run.a, run.b)[spot[2]]


def land(p: Plan, spot: Spot, terminal: str | None) -> None:
    """Move a core end."""
    name, i, end = spot
    colour, ends = p.runs[name].cores[i]
    p.runs[name].cores[i] = (colour, (terminal, ends[1]) if end == 0 else (ends[0], terminal))


def exchange(p: Plan, r: random.Random) -> None:
    """Two core ends of one accessory exchanged."""
    one = r.choice(landed(p))
    here = [s for s in landed(p, place_of(p, one)) if terminal_at(p, s) != terminal_at(p, one)]
    if here:
        two = r.choice(here)
        a, b = terminal_at(p, one), terminal_at(p, two)
        land(p, one, b)
        land(p, two, a)


def cross(p: Plan, r: random.Random) -> None:
    """Two live cores of one cable crossed at one of its ends."""
    name = r.choice(list(p.runs))
    live = [i for i, (colour, _) in enumerate(p.runs[name].cores) if colour not in ("cpc", "GNYE")]
    if len(live) > 1:
        i, j = r.sample(live, 2)
        end = r.randrange(2)
        a, b = terminal_at(p, (name, i, end)), terminal_at(p, (name, j, end))
        land(p, (name, i, end), b)
        land(p, (name, j, end), a)


def loosen(p: Plan, r: random.Random) -> None:
    """A core end out of its terminal."""
    land(p, r.choice(landed(p)), None)


def move(p: Plan, r: random.Random) -> None:
    """A core end in another terminal of the same accessory."""
    spot = r.choice(landed(p))
    land(p, spot, r.choice(p.terminals(place_of(p, spot))))


def lose(p: Plan, r: random.Random) -> None:
    """A cable forgotten."""
    if len(p.runs) > 1:
        del p.runs[r.choice(list(p.runs))]


def no_cpc(p: Plan, r: random.Random) -> None:
    """The cpc of a cable cut off at one end or both."""
    spots = [(n, i) for n, run in p.runs.items() for i, (colour, _) in enumerate(run.cores)
             if colour in ("cpc", "GNYE")]
    if spots:
        name, i = r.choice(spots)
        for end in r.choice(((0,), (1,), (0, 1))):
            land(p, (name, i, end), None)


def neutral_earth_link(p: Plan, r: random.Random) -> None:
    """Neutral and earth joined in an accessory."""
    places = [x for x in p.accessories if "N" in p.terminals(x) or "joint" in p.terminals(x)]
    if places:
        place = r.choice(places)
        p.run("unsheathed single", place, place, ("N" if "N" in p.terminals(place) else "joint", "E"), inside="the box",
              core_colours=(NEUTRAL[p.colours],))


def neutral_on_earth(p: Plan, r: random.Random) -> None:
    """A neutral landed on the earth terminal."""
    spots = [s for s in landed(p)
             if terminal_at(p, s) in ("N", "joint", "N out", "N in") and place_of(p, s) not in p.ways]
    if spots:
        land(p, r.choice(spots), "E")


def borrow(p: Plan, r: random.Random) -> None:
    """Line or neutral of a cable that leaves the board taken from another way."""
    if len(p.ways) < 2:
        return
    spots = [(n, end) for n, run in p.runs.items() for end in (0, 1) if (run.a, run.b)[end] in p.ways]
    neutrals = [x for x in p.accessories if "N" in p.terminals(x)]
    if not spots or not neutrals:
        return
    if r.random() < 0.5:
        one, two = r.sample(neutrals, 2) if len(neutrals) > 1 else (r.choice(p.ways), neutrals[0])
        p.run("unsheathed single", one, two, ("N", "N"), inside="conduit", core_colours=(NEUTRAL[p.colours],))
        return
    name, end = r.choice(spots)  # the neutral of one way comes back as a single, its own is taken off
    run = p.runs[name]
    for i, (_, ends) in enumerate(run.cores):
        if ends[end] == "N":
            other = r.choice([w for w in p.ways if w != (run.a, run.b)[end]])
            far, terminal = (run.a, run.b)[1 - end], ends[1 - end]
            land(p, (name, i, end), None)
            p.run("unsheathed single", other, far, ("N", terminal), inside="conduit",
                  core_colours=(NEUTRAL[p.colours],))
            return


def bridge(p: Plan, r: random.Random) -> None:
    """A single between any two terminals."""
    a, b = r.choice(p.places()), r.choice(p.places())
    at, bt = r.choice(p.terminals(a)), r.choice(p.terminals(b))
    if (a, at) != (b, bt):
        p.run("unsheathed single", a, b, (at, bt), inside="conduit")


def unsleeve(p: Plan, r: random.Random) -> None:
    """A cable without its sleeves, or sleeved where it needs none."""
    name = r.choice(list(p.runs))
    run = p.runs[name]
    live = [colour for colour, _ in run.cores if colour not in ("cpc", "GNYE", "RD", "BN")]
    run.sleeved = () if run.sleeved else tuple(live[-1:])


MISTAKES: tuple[Callable[[Plan, random.Random], None], ...] = (
    exchange, exchange, cross, cross, loosen, loosen, move, lose, no_cpc, neutral_earth_link, neutral_on_earth, borrow,
    bridge, unsleeve,
)


def house(seed: int) -> Plan:
    """A random house: one or two ways, one to three rooms, none to three mistakes."""
    r = random.Random(seed)
    p = Plan(r.choice(("current", "legacy")))
    feeds: dict[str, Feed] = {}
    for i in range(1, r.choice((1, 1, 2)) + 1):
        p.ways.append(f"way {i}")
        feeds[f"way {i}"] = Feed(f"way {i}")
    for number in range(1, r.choice((1, 1, 2, 2, 3)) + 1):
        room = r.choice(WRONG if r.random() < 0.12 else SOUND)
        way = r.choice(p.ways)
        p.made.append(f"{room.__name__} on {way}")
        feeds[way] = room(p, r, feeds[way], f"R{number}")
    for _ in range(r.choice((0, 1, 1, 1, 2, 3))):
        if not landed(p):
            break
        mistake = r.choice(MISTAKES)
        before = deepcopy(p.runs)
        mistake(p, r)
        if p.runs != before:
            p.made.append(mistake.__name__)
    return p
