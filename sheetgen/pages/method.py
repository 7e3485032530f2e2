"""The method of each circuit with its evidence; what is at each accessory, and so what could be fitted there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sheetgen.model.page import Block, Cell, Columns, Heading, Page, Table, Words
from sheetgen.model.reading import MethodFound, Place, Role
from sheetgen.model.words import capital, joined
from sheetgen.pages.findings import not_judged
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

HEAD = ("Accessory", "Line", "Switched line", "Neutral", "cpc", "Run ends here", "What could be fitted, as it is")
SHOWN = re.compile(r": (?:permanent line|switched line|there is no).*")  # a reason that the columns beside it show
NOT_KNOWN = "? not known"
MOST_SAID = 1500  # letters of a way from lamp to lamp
ELSEWHERE = "its conductors one by one are under Connections"
DASH = "\N{EN DASH}"
FOUND = "Worked out from what the conductors join, whatever they are called."
NONE = "No lamp and no switch is connected."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page for all circuits, which stand on the operation page where the set has it, and for all accessories."""
    circuits = lookup.job.reading.circuits
    blocks: list[Block] = []
    if not circuits:
        blocks.append(Words(NONE, "quiet"))
    elif "operation" not in lookup.kinds:
        blocks += [Words(FOUND, "quiet"), Columns(tuple(tuple(_circuit(lookup, c)) for c in circuits))]
    if lookup.job.reading.places:
        rows = tuple(_rows(lookup))
        if blocks:
            blocks.append(Heading("What is at each accessory", 3))
        blocks.append(Table(HEAD, rows))
    blocks += not_judged(lookup)
    title = "Method" if "operation" not in lookup.kinds else "What is at each accessory"
    return (Page("method", title, tuple(blocks), follows=True, early=True),)


def _circuit(lookup: Lookup, circuit: MethodFound) -> list[Block]:
    """The sentence for a record, and the conductors that make it so."""
    ways = joined(map(lookup.wiring.printed, circuit.ways))
    return [
        Heading(capital(worked(lookup, circuit)), 3, ways),
        Words(circuit.method, "plain" if circuit.names else "strong"),
        *evidence(circuit),
    ]


def worked(lookup: Lookup, circuit: MethodFound) -> str:
    """The lamps of a circuit; its switches, where they work none."""
    return joined(lookup.loads[name] for name in circuit.lamps) or joined(lookup.switches[s] for s in circuit.switches)


def evidence(circuit: MethodFound) -> list[Block]:
    """The conductors that make a circuit what it is; not those of very many lamps, one after the other."""
    lines = [line for line in circuit.evidence if len(line) <= MOST_SAID]
    lines += [ELSEWHERE] if len(lines) < len(circuit.evidence) else []
    return [Words(" ".join(f"{capital(line)}." for line in lines), "quiet")] if lines else []


def _rows(lookup: Lookup) -> Iterator[tuple[Cell, ...]]:
    """A row for each accessory; accessories of which the same holds share one."""
    alike: dict[tuple[Cell, ...], list[str]] = {}
    roles = lookup.job.reading.roles
    for place in lookup.job.reading.places:
        passing = {roles.get(core.key) for cable in lookup.passing_at(place.accessory) for core in cable.cores}
        alike.setdefault(_holds(place, Role.NEUTRAL in passing), []).append(place.accessory)
    return ((", ".join(names), *holds) for holds, names in alike.items())


def _holds(place: Place, passed_by_neutral: bool) -> tuple[Cell, ...]:
    run = {True: "yes", False: "no", None: DASH}  # a drop to a switch is on no run
    last = run[place.last_on_run] if place.known else NOT_KNOWN
    absent = "no" if place.known else NOT_KNOWN
    here = ((place.permanent_line, absent), (place.switched_line, "strapper" if place.strapper else absent),
            (place.neutral, "passes uncut" if passed_by_neutral else absent), (place.cpc, absent))
    could = "; ".join(SHOWN.sub("", says) for says in (*place.fits, *place.lacks))
    return (*("yes" if there else otherwise for there, otherwise in here), last, capital(could))


ENTRY = PageKind("method", "how each circuit is wired, with the evidence; what could be fitted where", compose)
