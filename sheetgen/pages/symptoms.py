"""What may be seen of a circuit and what it then can be: every single fault, by its symptom. Only where asked for."""

from __future__ import annotations

from sheetgen.model.finding_out import Symptom
from sheetgen.model.page import Block, Page, Table, Words
from sheetgen.model.problems import Refused
from sheetgen.model.words import CAUTION_SHORT, capital
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.page_kind import PageKind

MOST_NAMED = 14  # faults of one symptom
HEAD = (
    "Work the switches, watch every lamp, and look here. Each row is one thing that may be seen and every single fault "
    "that gives it, likeliest first by assumed weights. What is not here is two faults, or something else."
)
UNSEEN = "nothing: every lamp does as it should"
NEXT = "`sheetgen fault` with what was seen gives the shortest plan of tests."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """One page; where the description is not whole, why there is none."""
    from sheetgen.find.fault_search import whole_description
    from sheetgen.find.symptoms import symptoms_of

    try:
        whole_description(lookup.wiring)
    except Refused as refused:
        says = " ".join(dict.fromkeys(p.message for p in refused.problems))
        return (Page("symptoms", "Symptoms", (Words(f"{says} So what a fault would show cannot be said."),)),)
    rows = tuple((capital("; ".join(s.says) or UNSEEN), _faults(s)) for s in symptoms_of(lookup.circuit))
    blocks: tuple[Block, ...] = (Words(f"{HEAD} {NEXT}"), Table(("What is seen", "What it can be"), rows, (3.4, 7)),
                                 Words(CAUTION_SHORT, "caution", "Caution."))
    return (Page("symptoms", "Symptoms", blocks),)


def _faults(symptom: Symptom) -> str:
    named = [s.short for s in symptom.suspects[:MOST_NAMED]]
    more = len(symptom.suspects) - len(named)
    return capital("; ".join(named)) + (f"; {more} more" if more else "") + "."


ENTRY = PageKind("symptoms", "what may be seen, and every single fault that gives it; only where asked for", compose,
                 asked=True)
