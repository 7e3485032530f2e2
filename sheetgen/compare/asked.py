"""Another method for the rooms of a circuit that is there: the description of what is wanted."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from sheetgen.catalogue import methods
from sheetgen.model.accessory import Level
from sheetgen.model.description import DescriptionText
from sheetgen.model.problems import Mark, Problem, Refused, nearest
from sheetgen.model.reading import MethodFound
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import joined

TWO_WAY = ("two-way", "2-way", "two way", "2 way")
JOINS = joined((f"'{join.name}'" for join in methods.JOINS if join.name != "one-way"), "or")
HOW_JOINED = f"Say how the switches are joined: {JOINS}."
WIRED = ("sheathed cable", "singles in conduit")


def asked_for(words: str, wiring: Wiring, circuits: Sequence[MethodFound],
              colours: Collection[str]) -> DescriptionText | str:
    """The short description: the method in words, the rooms and the way of the one circuit; or only a colour set, which
    goes for any number of circuits. Refused with every problem."""
    asked = _understood(words, colours)
    if set(asked) == {"colours"}:
        return asked["colours"]
    if len(circuits) != 1:
        names = {name: wiring.accessory(a.hangs_from or a.name).name for name, a, _ in wiring.loads()}
        said = "; ".join(joined(dict.fromkeys(names[lamp] for lamp in c.lamps)) for c in circuits)
        raise Refused([Problem(
            Mark(), "E411", f"A method is compared with one circuit, and here are {len(circuits)}"
            f"{f' (the lights {said})' if said else ''}.",
            "Put the one that is to change into a file by itself, or write what is wanted of them all into a second "
            f"file. A colour set alone, {joined(sorted(colours), 'or')}, goes for all of them.")])
    (circuit,) = circuits
    ways = {w.number: {"serves": w.serves} for w in wiring.board.ways if w.number}
    way = next((w.number for w in wiring.board.ways if w.accessory in circuit.ways), "")
    return DescriptionText.model_validate({
        "job": f"{wiring.job}, {words}", "place": wiring.place, "board": {"ways": ways}, "way": way,
        "colours": asked.pop("colours", "current"), "method": asked,
        "lights": _rooms_of_lights(wiring, circuit), "switches": _rooms_of_switches(wiring, circuit),
    })


def _understood(words: str, colours: Collection[str]) -> dict[str, str]:
    known = {
        **{w: ("loop", loop.name) for loop in methods.LOOPS for w in (loop.name, *loop.also)},
        **{w: ("join", join.name) for join in methods.JOINS for w in (join.name, *join.also)},
        **{w: ("wired", w) for w in WIRED}, **{w: ("colours", w) for w in colours},
    }
    asked: dict[str, str] = {}
    problems = []
    for part in _parts(words, known):
        if part.casefold() not in known:
            hint = HOW_JOINED if part.casefold().startswith(TWO_WAY) else nearest(part, known)
            problems.append(Problem(Mark(), "E412", f"'{part}' is no part of a method.", hint))
            continue
        what, name = known[part.casefold()]
        asked[what] = name
    if problems:
        raise Refused(problems)
    return asked


def _parts(words: str, known: dict[str, tuple[str, str]]) -> list[str]:
    """Split at commas; a name with a comma in it ('in first, out last') is one part."""
    rest = [part.strip() for part in words.split(",") if part.strip()]
    parts = []
    while rest:
        pair = ", ".join(rest[:2])
        taken = 2 if pair.casefold() in known else 1
        parts.append(", ".join(rest[:taken]))
        rest = rest[taken:]
    return parts


def _rooms_of_lights(wiring: Wiring, circuit: MethodFound) -> list[str]:
    names = [a for name, a, _ in wiring.loads() if name in circuit.lamps]
    holders = [wiring.accessory(a.hangs_from) if a.kind.level is Level.PENDANT and a.hangs_from else a for a in names]
    return [a.room or a.name for a in holders]


def _rooms_of_switches(wiring: Wiring, circuit: MethodFound) -> list[str]:
    found = {name: (a, s) for name, a, s in wiring.switches()}
    rooms = []
    for name in circuit.switches:
        accessory, switch = found[name]
        room = (accessory.room or accessory.name).replace(".", " ")
        rooms.append(f"{room}.{switch.name}" if switch.name else room)
    return rooms
