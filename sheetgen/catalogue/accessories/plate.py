"""A plate of several gangs in any mix: `gangs: [two-way, one-way]`, or by name, `gangs: {Porch: one-way}`."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from sheetgen.catalogue.accessories.entry import EARTH, BadOption, Entry
from sheetgen.catalogue.accessories.switches import PARTS, SPELLINGS
from sheetgen.model.accessory import AccessoryKind, Level, Position, SwitchKind
from sheetgen.model.problems import nearest

GANG_WORDS = {word: what for what, words in SPELLINGS.items() for word in (what, *words)}


def _gangs(options: Mapping[str, object]) -> list[tuple[str, str]]:
    given = options.get("gangs")
    if isinstance(given, str) and re.fullmatch(r"[1-9]|1[0-2]", given.strip()):
        given = [options.get("switching", "one-way")] * int(given)
    if isinstance(given, Mapping):
        pairs = [(str(name), str(what)) for name, what in given.items()]
    elif isinstance(given, (list, tuple)):
        pairs = [(str(i), str(what)) for i, what in enumerate(given, 1)]
    else:
        raise BadOption("A plate needs its gangs: gangs: [two-way, one-way]; or gangs: 2, switching: two-way.")
    if not pairs:
        raise BadOption("A plate has at least one gang.")
    for name, what in pairs:
        if what.strip().casefold() not in GANG_WORDS:
            raise BadOption(f"Gang {name} cannot be '{what}'. {nearest(what, PARTS)}")
        if "." in name:
            raise BadOption(f"A gang's name has no full stop in it: '{name}'.")
    return [(name, GANG_WORDS[what.strip().casefold()]) for name, what in pairs]


def _printed(terminal: str, number: int) -> tuple[str, ...]:
    """As printed on plates of several gangs: COM1, L11 and L12 of the first, COM2, L21 and L22 of the second."""
    return (f"COM{number}", f"C{number}") if terminal == "COM" else (f"L{number}{terminal.removeprefix('L')}",)


def build(options: Mapping[str, object]) -> AccessoryKind:
    """Terminals are named 'gang.terminal' ('2.COM'); ports likewise."""
    terminals, switches, face, ports = [], [], [], []
    gangs = _gangs(options)
    for number, (gang, what) in enumerate(gangs, 1):
        parts, positions, rows, gang_ports = PARTS[what]
        terminals += [
            replace(t, name=f"{gang}.{t.name}",
                    aliases=(*(f"{gang}.{a}" for a in t.aliases), *_printed(t.name, number))) for t in parts
        ]
        switches.append(
            SwitchKind(
                tuple(
                    Position(p.name, tuple((f"{gang}.{a}", f"{gang}.{b}") for a, b in p.joins)) for p in positions
                ),
                name=gang,
                what=what,
            )
        )
        face += [tuple(f"{gang}.{t}" for t in row) for row in rows]
        ports += [(f"{gang}.{port}", f"{gang}.{t}") for port, t in gang_ports]
    count = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}.get(len(gangs), str(len(gangs)))
    return AccessoryKind(
        name=f"{count}-gang plate",
        level=Level.WALL,
        terminals=(*terminals, EARTH),
        face=(*face, ("E",)),
        switches=tuple(switches),
        ports=(*ports, ("earth", "E")),
        letter="Q",
    )


ENTRY = Entry(
    "plate", build, ("switch plate", "grid plate", "gang plate", "gang switch", "plate switch"), ("gangs", "switching"),
    "several switches on one plate, in any mix",
)
