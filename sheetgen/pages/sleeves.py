"""Sleeves to fit and to take along, counted by colour and named by core end."""

from __future__ import annotations

from collections import Counter

from sheetgen.catalogue.colours import CODES
from sheetgen.judge.sleeves import NEVER_OVERMARKED, taken_as_fitted
from sheetgen.model.reading import Role, Sleeve, Standing
from sheetgen.model.words import joined
from sheetgen.pages.lookup import Lookup

BEFORE = " before the findings are put right."


def some_wait(lookup: Lookup, ends: frozenset[tuple[str, int]] | None = None) -> bool:
    """Whether what one of these core ends (None: of all) needs is not said before the findings are put right, or a
    cure of them has a sleeve fitted there that is not to be fitted yet."""
    waits = lookup.sleeves_that_wait
    return bool(waits if ends is None else waits & ends)


def not_known_yet(lookup: Lookup, ends: frozenset[tuple[str, int]] | None = None) -> bool:
    """Whether a sleeve may be needed at one of these core ends (None: of all) that nobody can tell of: it has none, on
    a terminal or loose, and what its core carries is not known."""
    return any(
        not end.unknown and end.sleeve is None and (ends is None or (core.key, i) in ends)
        for core in lookup.wiring.cores() if core.colour not in NEVER_OVERMARKED
        and lookup.job.reading.roles.get(core.key) is Role.NOT_KNOWN
        for i, end in enumerate(core.ends)
    )


def by_colour(sleeves: tuple[Sleeve, ...]) -> str:
    """'4 brown, 2 green-and-yellow'; the most first."""
    counted = Counter(s.colour for s in sleeves)
    return joined(f"{n} {CODES[colour]}" for colour, n in sorted(counted.items(), key=lambda c: (-c[1], c[0])))


def where(lookup: Lookup, sleeve: Sleeve) -> str:
    """A sleeve's place: 'W3 BU at Top L2'."""
    core = lookup.cores[sleeve.core]
    return f"{core} at {lookup.end(core.ends[sleeve.end])}"


def sleeves_to_fit(lookup: Lookup, ends: frozenset[tuple[str, int]] | None = None) -> str:
    """How many sleeves are to be fitted at these core ends (None: at all), of which colours, and what is there."""
    here = [s for s in lookup.job.reading.sleeves if ends is None or (s.core, s.end) in ends]
    wanted = tuple(s for s in lookup.to_fit if ends is None or (s.core, s.end) in ends)
    there = [s for s in here if s.standing is Standing.FITTED and s not in wanted]
    taken = sum(taken_as_fitted(lookup.cores[s.core], lookup.wiring) for s in there)
    needless = sum(s.standing is Standing.NEEDLESS for s in here)
    waits = some_wait(lookup, ends)
    says = f"{len(wanted)} to fit: {by_colour(wanted)}." if wanted else "None to fit."
    if waits:
        says = f"{says[:-1]}; no others{BEFORE}" if wanted else f"None to fit{BEFORE}"
    if not_known_yet(lookup, ends):
        says = f"{says} Where cores are not traced: not known yet." if wanted or waits else "To fit: not known yet."
    fitted = len(there) - taken
    if there:
        said = (f"{fitted} fitted" if fitted else "", f"{taken} assumed fitted" if taken else "")
        says += f" {', '.join(filter(None, said))}."
    if needless:
        says += f" {needless} not needed."
    if off := sum(s.comes_off and s not in lookup.job.reading.waiting for s in here):
        says += f" {off} to come off."
    return says
