"""Where conductors are only joined: joint box, lone connector; and a place where cores are found loose."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace

from sheetgen.catalogue.accessories.entry import EARTH, BadOption, Entry
from sheetgen.model.accessory import AccessoryKind, Level, Meant, TerminalKind

MOST_TERMINALS = 24
PORTS = {"L": "line", "N": "neutral", "SL": "switched line", "E": "earth"}  # of terminals that are named for their use


def joint_box(options: Mapping[str, object]) -> AccessoryKind:
    """Terminals 1 to n, or named: `terminals: 4`, `terminals: [L, N, SL, E]`. No terminal is meant for anything."""
    given = options.get("terminals", "4")
    if isinstance(given, (list, tuple)):
        names = [str(n) for n in given]
    else:
        word = str(given).strip()
        if not re.fullmatch(r"[0-9]{1,9}", word):
            raise BadOption(f"'terminals' is a number or a list of names, not '{given}'.")
        if not 1 <= int(word) <= MOST_TERMINALS:
            raise BadOption(f"A joint box has 1 to {MOST_TERMINALS} terminals, not {word}.")
        names = [str(i) for i in range(1, int(word) + 1)]
    if not 1 <= len(names) <= MOST_TERMINALS:
        raise BadOption(f"A joint box has 1 to {MOST_TERMINALS} terminals, not {len(names)}.")
    if len(set(names)) < len(names):
        raise BadOption("Two terminals of a joint box have the same name.")
    terminals = tuple(
        replace(EARTH, ways=6) if n == "E" else TerminalKind(n, Meant.ANY, ways=6) for n in names
    )
    number = {4: "four", 3: "three", 5: "five", 6: "six"}.get(len(names), str(len(names)))
    return AccessoryKind(
        f"joint box, {number} terminals", Level.CEILING, terminals, tuple((n,) for n in names), letter="X",
        flags=frozenset({"joint box"}),
        ports=tuple((PORTS.get(n, f"joint {i}"), n) for i, n in enumerate(names, 1)),
    )


def connector(options: Mapping[str, object]) -> AccessoryKind:
    """One terminal, joined in free space."""
    return AccessoryKind(
        "lone connector", Level.CEILING,
        (TerminalKind("joint", Meant.ANY, ways=6, connector=True, aliases=("1", "connector")),), (("joint",),),
        letter="X", flags=frozenset({"joint box"}),
    )


def loose_end(options: Mapping[str, object]) -> AccessoryKind:
    """No terminals: cores end here in nothing."""
    return AccessoryKind("loose end", Level.WALL, (), (), letter="X", flags=frozenset({"loose end"}))


def not_seen(options: Mapping[str, object]) -> AccessoryKind:
    """No terminals: where a cable goes that was seen at its other end only. It may be any accessory."""
    return AccessoryKind("end not seen", Level.WALL, (), (), letter="X", flags=frozenset({"not seen"}))


JOINT_BOX = Entry(
    "joint box", joint_box,
    ("junction box", "jointbox", "jb", "box", "connection box", "terminal block", "terminal strip"), ("terminals",),
    "four terminals, any number, or named ones",
)
CONNECTOR = Entry(
    "lone connector", connector, ("connector", "choc block", "connector block", "wire connector"), (),
    "one joint in free space; inside another accessory write `connectors: [N]` there",
)
LOOSE_END = Entry(
    "loose end", loose_end, ("nowhere", "cut end", "blank plate"), (), "a place where cores end in nothing"
)
NOT_SEEN = Entry(
    "end not seen", not_seen, ("not seen", "unknown", "not known", "?"), (),
    "where a cable goes that nobody has followed; a cable with `at:` has one of its own",
)
