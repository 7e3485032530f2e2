"""How a file of the catalogue describes its kind: names people use, options, and how the options build the facts."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from sheetgen.model.accessory import AccessoryKind, Meant, TerminalKind
from sheetgen.model.problems import nearest


class BadOption(ValueError):
    """An option of an accessory that cannot be; the message is for the reader of the description."""


@dataclass(frozen=True)
class Entry:
    """One file of the catalogue.

    `build` takes the options as written in the description (text, numbers as text, lists, mappings) and returns the
    facts; it raises BadOption with a message for the reader. `options` names the options it takes.
    """

    name: str
    build: Callable[[Mapping[str, object]], AccessoryKind]
    also: tuple[str, ...] = ()
    options: tuple[str, ...] = ()
    says: str = ""  # one line for `sheetgen list`


EARTH = TerminalKind("E", Meant.EARTH, ways=4, aliases=("earth", "cpc", "PE", "CPC", "G"))
LINE = TerminalKind("L", Meant.LINE, aliases=("line", "live", "phase"))
NEUTRAL = TerminalKind("N", Meant.NEUTRAL, aliases=("neutral",))


Value = TypeVar("Value")


def choice(options: Mapping[str, object], name: str, known: Mapping[str, Value], default: str) -> Value:
    """The value of an option that has a few spellings; BadOption names the nearest known one."""
    word = str(options.get(name, default)).strip().casefold()
    if word not in known:
        raise BadOption(f"'{name}' cannot be '{word}'. {nearest(word, known)}")
    return known[word]


def with_connectors(kind: AccessoryKind, names: tuple[str, ...]) -> AccessoryKind:
    """The same accessory with lone connectors lying in its enclosure, each a terminal of its own."""
    taken = {t.name for t in kind.terminals}
    for name in names:
        if name in taken:
            raise BadOption(f"The connector '{name}' has the name of a terminal; give it another.")
        taken.add(name)
    extra = tuple(TerminalKind(name, Meant.ANY, ways=6, connector=True) for name in names)
    face = kind.face + tuple((name,) for name in names)
    return replace(kind, terminals=kind.terminals + extra, face=face)
