"""The sheet of a search for a fault: what was seen, the faults that fit, and the plan that tells them apart."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.model.finding_out import Fault, FaultFound, Seen, Sight, Suspect, TakenReading
from sheetgen.model.page import Block, Columns, Page, Table, Words
from sheetgen.model.words import capital, count
from sheetgen.pages.plan_of_tests import ROWS, least_and_most, plan_blocks

SOUGHT = (Fault.OPEN, Fault.TOUCHING)
MOST_NAMED = 6  # suspects in the table at the head
NOTHING_FITS = (
    "Nothing that is known of gives this: either something was seen or read wrongly, or there are two faults. Look at "
    "each thing again; then take one of them away and see what is left."
)
ASSUMED = "The shares are from assumed weights: an order to look in, no measurement."
WITHIN = (
    "A lamp or a fan that is short within itself is not among these. Before the first step, supply off: take every "
    "lamp out, disconnect every fan, and measure across each: less than 5 \N{OHM SIGN} is a short. Then put them back."
)
TOO_MANY = "Too many faults fit for a whole plan: watch these settings, add what is seen, and run it again."


def compose(found: FaultFound, seen: Sequence[Seen], readings: Sequence[TakenReading]) -> tuple[Page, ...]:
    """One page kind; the plan may run on."""
    known = tuple(dict.fromkeys([*(s.says for s in seen), *(t.says for t in readings)]))
    blocks: list[Block] = [Words("; ".join(known) or "nothing yet", lead="Seen and read:")]
    if not found.suspects:
        return (Page("fault", "Finding the fault", (*blocks, Words(NOTHING_FITS, "danger", "Nothing fits."))),)
    fit = f"{count(len(found.suspects), 'fault')} of {found.tried} thought of. {ASSUMED}"
    blocks.append(Words(fit, lead="These fit:"))
    blocks.append(_suspects(found))
    blocks += [Words(WITHIN)] if it_trips(seen) else []
    if found.figures and found.plan:
        says = f"{least_and_most(found.figures.mean_tests, found.figures.worst_tests)}; readings by instrument: "
        says += least_and_most(found.figures.mean_readings, found.figures.worst_readings)
        blocks.append(Words(f"{says}.", "quiet", "Steps to the end:"))
    if not found.told_apart:
        blocks.append(Words(TOO_MANY, "notice"))
    ended = {i: capital(_ended(s)) if found.told_apart else capital(s.short) for i, s in enumerate(found.suspects)}
    blocks += plan_blocks(found.plan, ended, dict(found.standings), room=ROWS - 4)
    return (Page("fault", "Finding the fault", tuple(blocks)),)


def it_trips(seen: Sequence[Seen]) -> bool:
    """Something trips, so that a load may be short."""
    return any(s.sight is Sight.TRIPS for s in seen)


def _ended(suspect: Suspect) -> str:
    """What it is, and where to look for it where looking was not the last step."""
    return f"{suspect.short}. {suspect.look}".rstrip(". ") if suspect.fault in SOUGHT else suspect.short


def _suspects(found: FaultFound) -> Block:
    """The likeliest, in two columns."""
    rows = [(f"{suspect.share:.0%}", suspect.says) for suspect in found.suspects[:MOST_NAMED]]
    more = len(found.suspects) - len(rows)
    if more:
        rows.append(("", f"and {count(more, 'more', 'more')}, no likelier."))
    half = (len(rows) + 1) // 2
    parts = [part for part in (rows[:half], rows[half:]) if part]
    return Columns(tuple((Table(("Share", "Fault"), tuple(part), (0.7, 9)),) for part in parts), 2)
