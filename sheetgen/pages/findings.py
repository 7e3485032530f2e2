"""What the check noticed, most serious first: where, what it means for a person, what would cure it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from sheetgen.circuit.edits import places_of
from sheetgen.judge.rules import RULES
from sheetgen.model.page import Block, Cell, Heading, Page, Table, Words
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import capital, count, joined
from sheetgen.pages.isolating import parting
from sheetgen.pages.lacking import why_not_judged
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

ORDER = tuple(Gravity)
DANGEROUS = "\N{WARNING SIGN} Dangerous: leave it off until an electrician has made it safe"
ELECTRICIAN = "\N{BLACK SQUARE} Have an electrician look"
WHEN_WORKING = "\N{WHITE CIRCLE} Mind, or improve, when work is done here"
SAFE = "\N{WHITE CIRCLE} Safe to leave"
HEADINGS = (DANGEROUS, ELECTRICIAN, WHEN_WORKING, SAFE)
FROM_DESCRIPTION = (
    "The circuit was worked out for every setting of its switches from the description alone; the installation itself "
    "was not inspected."
)
AS_FAR_AS_KNOWN = (
    "The circuit was worked out from the description alone, as far as its core ends are known; the installation itself "
    "was not inspected."
)
NOTHING, NOTHING_JUDGED = "Nothing was found.", "Nothing was found in what could be judged."
SAID_THERE = frozenset({"card"})  # pages that say so where nothing was noticed
FROM_MEMORY = "from memory"  # a clause that is not confirmed stays in the code
NOT_JUDGED = "Could not be judged, or not everywhere"
FEW = 4  # rules that lack the same and stand in a cell; more are a paragraph
HEAD = ("What was noticed", "What it means", "What would cure it", "Done, by")
SHARES = (3.3, 3.0, 3.0, 1.0)


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page; none where nothing was noticed and other sheets of the set say so."""
    findings = sorted(lookup.job.reading.findings, key=lambda f: ORDER.index(f.gravity))
    missing = _missing(lookup)
    if not findings and lookup.kinds >= SAID_THERE:
        return ()
    blocks = [*(_noticed(lookup, findings) if findings else _nothing(missing, lookup.wiring)), *_not_judged(missing)]
    return (Page("findings", "Findings", tuple(blocks), follows=True, on_card=True),)


def not_judged(lookup: Lookup) -> list[Block]:
    """What could not be judged, where nothing was noticed and that is no page of its own."""
    if lookup.job.reading.findings or not lookup.kinds >= SAID_THERE:
        return []
    return _not_judged(_missing(lookup))


def _missing(lookup: Lookup) -> dict[str, str]:
    return {rule: why_not_judged(lacking) for rule, lacking in lookup.job.reading.unjudged.items()}


def none_noticed(lookup: Lookup) -> str:
    """'Nothing was found: 40 kinds of fault were looked for.', where that is so."""
    kinds = len(RULES) - len(lookup.job.reading.unjudged)
    said = (NOTHING_JUDGED if lookup.job.reading.unjudged else NOTHING).rstrip(".")
    return f"{said}: {kinds} kinds of fault were looked for, from the description alone."


def summary(findings: Iterable[Finding]) -> str:
    """'1 danger and 3 notes'; "" where nothing was noticed."""
    counted = Counter(f.gravity for f in findings)
    words = {Gravity.DANGER: ("danger", ""), Gravity.PUT_RIGHT: ("thing to put right", "things to put right"),
             Gravity.NOTE: ("note", "")}
    return joined(count(counted[g], *words[g]) for g in ORDER if counted[g])


def _how_worked_out(wiring: Wiring) -> str:
    return FROM_DESCRIPTION if wiring.all_seen else AS_FAR_AS_KNOWN


def _noticed(lookup: Lookup, findings: list[Finding]) -> list[Block]:
    """Under each heading its findings, in a table of their own."""
    blocks: list[Block] = [Words(f"{summary(findings)}. {_how_worked_out(lookup.wiring)}")]
    for heading in HEADINGS:
        rows = tuple(_finding(lookup, f) for f in findings if _under(f) == heading)
        blocks += [Heading(heading, 3), Table(HEAD, rows, SHARES, boxes=(3,))] if rows else []
    return blocks


def _under(finding: Finding) -> str:
    """The heading it stands under; a note that says what to do can wait until work is done."""
    if finding.gravity is Gravity.NOTE:
        return WHEN_WORKING if finding.cure else SAFE
    return DANGEROUS if finding.gravity is Gravity.DANGER else ELECTRICIAN


def _finding(lookup: Lookup, finding: Finding) -> tuple[Cell, ...]:
    heavy = "plain" if finding.gravity is Gravity.NOTE else "strong"
    where = f" ({finding.setting})" if finding.setting else ""
    confirmed = finding.clause if FROM_MEMORY not in finding.clause else ""
    clause = f" [{confirmed}]" if confirmed else ""
    hand = _before_a_hand(lookup, finding) if finding.gravity is Gravity.DANGER else ""
    return Words(finding.says + where, heavy), f"{finding.means}{clause} {hand}".strip(), finding.cure, ""


def _before_a_hand(lookup: Lookup, finding: Finding) -> str:
    """'Before a hand goes into Top, or another box of circuit 4: switch off circuit 4. Then prove it dead.'

    What cures it may lie in another box, so that every way is named that has to be off anywhere on these.
    """
    isolation = lookup.job.reading.isolation
    places = [place for place in _worked_in(lookup.wiring, finding) if isolation.at.get(place)]
    here = {way for place in places for way in isolation.at[place]}
    if not here:
        return ""
    ways = [way for way in isolation.with_way if any(way in isolation.with_way[w] for w in here)]
    off = " ".join(parting(lookup, ways))
    named = lookup.circuit.circuits(ways) if all(map(lookup.way_number, ways)) else "the circuit"
    place = joined(map(lookup.wiring.printed, places), last="or")
    return (f"Before a hand goes into {place}, or another box of {named}: {off[:1].lower()}{off[1:]} "
            "Then prove it dead.")


def _worked_in(wiring: Wiring, finding: Finding) -> list[str]:
    """Where the proven cures are carried out, the rose that a pendant hangs from in its place; else where it is."""
    hosts = {a.name: a.hangs_from for a in wiring.accessories if a.hangs_from}
    board = {way.accessory for way in wiring.board.ways}
    cures = finding.cures or [cure for other in finding.also for cure in other.cures]
    found = dict.fromkeys(hosts.get(place, place) for cure in cures for edit in cure.edits
                          for place in places_of(wiring, edit) if place not in board)
    return list(found) or [finding.accessory]


def _nothing(missing: Mapping[str, str], wiring: Wiring) -> list[Block]:
    """What was looked for. What could not be judged at all or everywhere stands apart, with the reason."""
    judged = "; ".join(rule.looks_for for rule in RULES if rule.name not in missing)
    lead = NOTHING_JUDGED if missing else NOTHING
    return [Words(_how_worked_out(wiring), lead=lead), Words(f"{judged}.", lead="Looked for and not met:")]


def _not_judged(missing: Mapping[str, str]) -> list[Block]:
    """Rules that lack the same stand together."""
    alike: dict[str, list[str]] = {}
    for rule in RULES:
        if rule.name in missing:
            alike.setdefault(missing[rule.name], []).append(rule.looks_for)
    if not alike:
        return []
    blocks: list[Block] = [Heading(NOT_JUDGED, 3)]
    for because in [why for why, looked_for in alike.items() if len(looked_for) > FEW]:
        blocks.append(Words(f"{'; '.join(alike.pop(because))}.", lead=f"{capital(because)}:"))
    rows = tuple(("; ".join(looked_for), because) for because, looked_for in alike.items())
    if len(rows) == 1:
        blocks.append(Words(f"{capital(': '.join(rows[0]))}."))
    elif rows:
        blocks.append(Table(("Looked for", "Because"), rows, (1.0, 1.6)))
    return blocks


ENTRY = PageKind("findings", "what the check noticed, most serious first, and what would cure it", compose)
