"""What may be seen of a circuit and what it then can be: single faults, by their symptom. Only where asked for."""

from __future__ import annotations

from sheetgen.model.finding_out import Symptom
from sheetgen.model.page import Block, Page, Table, Words
from sheetgen.model.problems import Refused
from sheetgen.model.words import CAUTION_SHORT, capital
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

MOST_NAMED = 30  # faults of one symptom
HEAD = (
    "Work the switches, watch every lamp, and look here. Each row is one thing that may be seen and the single faults "
    "that give it, likeliest first by assumed weights{}. What is not here is {}two faults, or something else."
)
ALL = ("", "")
LIKELIEST = (f", {MOST_NAMED} at most", "one of the less likely, ")
UNSEEN = "nothing: every lamp does as it should"
NEXT = "sheetgen fault with what was seen gives the shortest plan of tests."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page; where the description is not whole or too large, why there is none."""
    from sheetgen.find.symptoms import symptoms_of

    try:
        symptoms = symptoms_of(lookup.circuit)
    except Refused as refused:
        says = " ".join(dict.fromkeys(p.message for p in refused.problems))
        return (Page("symptoms", "Symptoms", (Words(f"{says} So what a fault would show cannot be said."),)),)
    rows = tuple((capital("; ".join(s.says) or UNSEEN), _faults(s)) for s in symptoms)
    cut = any(len(s.suspects) > MOST_NAMED for s in symptoms)
    head = HEAD.format(*(LIKELIEST if cut else ALL))
    blocks: tuple[Block, ...] = (Words(f"{head} {NEXT}"), Table(("What is seen", "What it can be"), rows, (3.4, 7)),
                                 Words(CAUTION_SHORT, "caution", "Caution."))
    return (Page("symptoms", "Symptoms", blocks),)


def _faults(symptom: Symptom) -> str:
    named = [s.short for s in symptom.suspects[:MOST_NAMED]]
    more = len(symptom.suspects) - len(named)
    return capital("; ".join(named)) + (f"; {more} more" if more else "") + "."


ENTRY = PageKind("symptoms", "what may be seen, and the single faults that give it; only where asked for", compose,
                 asked=True)
