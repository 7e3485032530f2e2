"""What the check noticed, most serious first: where, what it means for a person, what would cure it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping

from sheetgen.judge.rules import RULES
from sheetgen.model.page import Block, Cell, Page, Table, Words
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.words import count, joined
from sheetgen.pages.lacking import why_not_judged
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

ORDER = tuple(Gravity)
MARKS = {
    Gravity.DANGER: "\N{WARNING SIGN} DANGER",
    Gravity.PUT_RIGHT: "\N{BLACK SQUARE} Put right",
    Gravity.NOTE: "\N{WHITE CIRCLE} Note",
}
FROM_DESCRIPTION = (
    "The circuit was solved in every setting of its switches from the description alone; the installation itself was "
    "not inspected."
)
FROM_MEMORY = "from memory"  # a clause that is not confirmed stays in the code
HEAD = ("", "What was noticed", "What it means", "What would cure it", "Done, by")
SHARES = (1.05, 3.3, 3.0, 3.0, 1.0)


def compose(look: Lookup) -> tuple[Page, ...]:
    """One page, whether anything was noticed or not."""
    findings = sorted(look.job.reading.findings, key=lambda f: ORDER.index(f.gravity))
    missing = {rule: why_not_judged(lacking) for rule, lacking in look.job.reading.unjudged.items()}
    blocks = [*(_noticed(findings) if findings else _nothing(missing)), *_not_judged(missing)]
    return (Page("findings", "Findings", tuple(blocks), follows=True),)


def summary(findings: Iterable[Finding]) -> str:
    """'1 danger and 3 notes'; "" where nothing was noticed."""
    counted = Counter(f.gravity for f in findings)
    words = {Gravity.DANGER: ("danger", ""), Gravity.PUT_RIGHT: ("thing to put right", "things to put right"),
             Gravity.NOTE: ("note", "")}
    return joined(count(counted[g], *words[g]) for g in ORDER if counted[g])


def _noticed(findings: list[Finding]) -> list[Block]:
    rows = tuple(_finding(f) for f in findings)
    return [Words(f"{summary(findings)}. {FROM_DESCRIPTION}"), Table(HEAD, rows, SHARES, boxes=(4,))]


def _finding(finding: Finding) -> tuple[Cell, ...]:
    heavy = "plain" if finding.gravity is Gravity.NOTE else "strong"
    where = f" ({finding.setting})" if finding.setting else ""
    confirmed = finding.clause if FROM_MEMORY not in finding.clause else ""
    clause = f" [{confirmed}]" if confirmed else ""
    mark, says = Words(MARKS[finding.gravity], heavy), Words(finding.says + where, heavy)
    return mark, says, finding.means + clause, finding.cure, ""


def _nothing(missing: Mapping[str, str]) -> list[Block]:
    """What was looked for. What could not be judged at all or everywhere stands apart, with the reason."""
    judged = "; ".join(rule.looks_for for rule in RULES if rule.name not in missing)
    lead = "Nothing was found in what could be judged." if missing else "Nothing was found."
    return [Words(FROM_DESCRIPTION, lead=lead), Words(f"{judged}.", lead="Looked for and not met:")]


def _not_judged(missing: Mapping[str, str]) -> list[Block]:
    """Rules that lack the same stand together."""
    alike: dict[str, list[str]] = {}
    for rule in RULES:
        if rule.name in missing:
            alike.setdefault(missing[rule.name], []).append(rule.looks_for)
    if not alike:
        return []
    rows = tuple(("; ".join(looked_for), because) for because, looked_for in alike.items())
    return [Table(("Could not be judged, or not everywhere", "Because"), rows, (1.0, 1.6))]


ENTRY = PageKind("findings", "what the check noticed, most serious first, and what would cure it", compose)
