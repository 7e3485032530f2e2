"""What the description would have to give for every figure to be worked out, and what cannot be judged without."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sheetgen.model.page import Block, Words
from sheetgen.model.reckoning import Figures
from sheetgen.model.words import count, joined

NO_TABLE = ("rating", "Zs limit")  # kinds of missing things that the user cannot give
NO_CPC = "a cpc at "  # begins what is missing in the wiring itself
MOST_NAMED = 4  # things of one kind named one by one where it must be short


@dataclass(frozen=True)
class Lacks:
    """What some figures lack, in words: what could be given; where no cpc comes; what no table at hand has."""

    given: tuple[str, ...]  # "length of W1 and W2", "Ze"
    cpc: tuple[str, ...]  # accessories
    tables: tuple[str, ...]  # "rating of single 1.0"


def lacks(missing: Iterable[str], short: bool = False) -> Lacks:
    """Things of one kind together; where it must be `short`, many are only counted."""
    things: dict[str, list[str]] = {}
    bare = []
    for thing in dict.fromkeys(missing):
        if thing.startswith(NO_CPC):
            bare.append(thing.removeprefix(NO_CPC))
            continue
        kind, _, of = thing.partition(" of ")
        things.setdefault(kind, []).append(of)
    tables = tuple(f"{kind} of {joined(things.pop(kind))}" for kind in NO_TABLE if kind in things)
    given = tuple(f"{kind} of {_named(of, short)}" if any(of) else kind for kind, of in things.items())
    return Lacks(given, tuple(bare), tables)


def _named(names: list[str], short: bool) -> str:
    return count(len(names), "cable") if short and len(names) > MOST_NAMED else joined(names)


def asked_for(figures: Iterable[Figures]) -> list[Block]:
    """Asks for what these figures lack; says where no cpc comes and which values no table at hand has."""
    found = lacks(m for f in figures for m in f.missing)
    said = (
        ("Needed for the figures left out:", "; ".join(found.given)),
        ("No cpc reaches", f"{joined(found.cpc)}: no R1+R2 and no Zs can be measured there" if found.cpc else ""),
        ("The tables used here give no", " and no ".join(found.tables)),
    )
    return [Words(f"{text}.", "quiet", lead) for lead, text in said if text]


def why_not_judged(missing: Iterable[str]) -> str:
    """What the reading names for a rule, in a sentence.

    'not known: Ze, length of W1 and W2; no cpc reaches Shed; the tables used here give no rating of W1'.
    """
    found = lacks(missing, short=True)
    said = (
        f"not known: {', '.join(found.given)}" if found.given else "",
        f"no cpc reaches {joined(found.cpc)}" if found.cpc else "",
        f"the tables used here give no {' and no '.join(found.tables)}" if found.tables else "",
    )
    return "; ".join(filter(None, said))
