"""The schedule of cables, the metres of each type, the sleeves and materials to take along."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from sheetgen.model.page import Block, Cell, Heading, Items, Page, Row, Table, Words
from sheetgen.model.wiring import Cable
from sheetgen.pages.kind import PageKind
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import to_fit, where
from sheetgen.words import NOT_GIVEN, cable_words, count, plain, size_words


def compose(look: Lookup) -> tuple[Page, ...]:
    """One page: the schedule, and below it the totals beside what to take along."""
    foot = Row(((Heading("Metres of each type", 2), _totals(look)), (Heading("To take along", 2), *_materials(look))))
    return (Page("cables", "Cables", (_schedule(look), foot), follows=True),)


def _schedule(look: Lookup) -> Table:
    head = ("Cable", "Type", "Size", "cpc", "From", "To", "Length", "Laid")
    return Table(head, tuple(_cable(look, cable) for cable in look.wiring.cables))


def _cable(look: Lookup, cable: Cable) -> tuple[Cell, ...]:
    size = size_words(cable.size) if cable.size else NOT_GIVEN
    cpc = size_words(cable.cpc_size) if cable.cpc_size else "\N{EN DASH}"
    return cable.name, cable.type, size, cpc, *cable.ends, metres(cable.length), laid(cable)


def metres(length: Fraction | None) -> str:
    """'4 m', or that it is not given."""
    return f"{plain(length)} m" if length is not None else NOT_GIVEN


def laid(cable: Cable) -> str:
    """How a cable is laid, in the words of BS 7671 appendix 4 where the method is given."""
    if cable.link:
        return "inside the accessory"
    parts = [f"in {cable.run_in}" if cable.run_in else "", f"method {cable.method}" if cable.method else ""]
    return ", ".join(filter(None, parts)) or ("flex" if cable.flex else NOT_GIVEN)


def _totals(look: Lookup) -> Table:
    kinds: dict[str, list[Cable]] = {}
    for cable in look.wiring.cables:
        kinds.setdefault(cable_words(cable), []).append(cable)
    rows = tuple((kind, str(len(cables)), total(c.length for c in cables)) for kind, cables in kinds.items())
    return Table(("Type", "Pieces", "Together"), rows)


def total(lengths: Iterable[Fraction | None]) -> str:
    """'12 m', '12 m and 2 lengths not given'."""
    listed = list(lengths)
    given = [length for length in listed if length is not None]
    lacking = len(listed) - len(given)
    if not given:
        return NOT_GIVEN
    return metres(sum(given, Fraction(0))) + (f" and {count(lacking, 'length')} {NOT_GIVEN}" if lacking else "")


def _materials(look: Lookup) -> list[Block]:
    wanted = to_fit(look)
    if not wanted:
        return [Words("No sleeve is missing.")]
    return [Items(tuple(f"{s.colour} sleeve for {where(look, s)}" for s in wanted))]


ENTRY = PageKind("cables", "schedule of cables, metres of each type, sleeves to take along", compose)
