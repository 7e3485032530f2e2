"""The sheet of a search for what is there: what is certain already, and the plan of tests that tells the rest."""

from __future__ import annotations

from sheetgen.model.drawing import Drawing
from sheetgen.model.finding_out import Identified
from sheetgen.model.page import Block, Columns, Heading, Page, Picture, Table, Words
from sheetgen.model.reading import Role
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import CAUTION_SHORT, capital, count
from sheetgen.pages.plan_of_tests import ROWS, least_and_most, plan_blocks

TITLE = "Which is which"
APART = (
    "Open every accessory on this sheet, photograph it, write every core and its terminal down, then take every core "
    "off its terminal and keep it apart until the plan has ended. An end that closes is the other end of a cable whose "
    "cores were joined."
)
AT_ROSE = (
    "Photograph the rose and write every core down before anything is taken off. Every core stays apart until the plan "
    "has ended."
)
GOES_BACK = (
    "Line on the core that is coloured as neutral: stop. It comes exchanged from the other end of that cable or from "
    "before it; put that right there, and test again. "
    "At the end: the line core of every cable goes to the loop terminal; the other core of the switch drop, sleeved as "
    "line, to the switched-line terminal; the other core of every other cable to neutral. The reading written in the "
    "file, sheetgen identify draws it."
)
NOTHING_FITS = (
    "No way of joining these ends fits what was seen and read: something was written down, seen or read wrongly, or "
    "what is taken for granted here does not hold."
)
ONE = "Only one way is left. sheetgen identify FILE --write NEW.yaml writes it out as a full description."
MORE = "Take this reading, write it in the file under readings, and run it again: it goes on from there."


def compose(found: Identified, wiring: Wiring, drawings: tuple[Drawing, ...] = ()) -> tuple[Page, ...]:
    """The plan, which may run on; where one way is left that way, with its drawings."""
    known = [s.says for s in wiring.seen] + [t.says for t in wiring.readings]
    blocks: list[Block] = [Words("; ".join(dict.fromkeys(known)) or "nothing yet", lead="Seen and read:")]
    if found.assumed:
        blocks.append(Words(f"{'; '.join(found.assumed)}.", "quiet", "Taken for granted:"))
    if found.all and not found.candidates:
        return (Page("identify", TITLE, (*blocks, Words(NOTHING_FITS, "danger", "Nothing fits."))),)
    if found.stop:
        return (Page("identify", TITLE, (*blocks, Words(f"{found.stop}.", "danger"),
                                         Words(CAUTION_SHORT, "caution", "Caution."))),)
    blocks.append(Words(how_many(found), lead="So far:"))
    if found.pairs is not None:
        drawn = "How it goes back" if found.at_rose else "How it is"
        return (Page("identify", TITLE, (*blocks, *_one(found), Words(CAUTION_SHORT, "caution", "Caution."))),
                *(Page("identify", drawn, (Picture(drawing),)) for drawing in drawings))
    if found.figures and found.plan:
        blocks.append(Words(f"{least_and_most(found.figures.mean_tests, found.figures.worst_tests)}.", "quiet",
                            "Steps to the end:"))
    blocks += _certain(found)
    blocks.append(Words(before(found)))
    says = dict(enumerate(found.short or found.says))
    if found.at_rose:
        blocks.append(Words(GOES_BACK))
    if not found.told_apart:
        blocks.append(Words(MORE, "notice"))
    blocks += plan_blocks(found.plan, says, dict(found.standings), not found.told_apart,
                          ROWS - 2 * ((len(found.certain) + 2) // 3))
    return (Page("identify", TITLE, tuple(blocks)),)


def _one(found: Identified) -> list[Block]:
    """The only way that is left."""
    blocks: list[Block] = [Words(ONE)]
    if found.pairs:
        blocks.append(Table(("End", "is the same cable as"), found.pairs))
    blocks += [Words(f"{says}.", "strong") for says in found.says if not found.pairs]
    return blocks


def before(found: Identified) -> str:
    """What is done before the first step."""
    return AT_ROSE if found.at_rose else APART


def how_many(found: Identified) -> str:
    """How many ways fit, and whether that is all of them."""
    if not found.all:
        return ("There are too many ways to list: some of them were looked at, and the next step is the one that tells "
                "most among those.")
    what = "of telling these cables apart" if found.at_rose else "of joining these ends"
    return f"{count(found.candidates, 'way')} {what} {'fits' if found.candidates == 1 else 'fit'}."


def _beginning(role: str) -> str:
    """A role at the head of a cell; cpc is written small wherever it stands."""
    return role if role == Role.CPC else capital(role)


def _certain(found: Identified) -> list[Block]:
    if not found.certain:
        return []
    rows = [(c.end, c.core, _beginning(c.role)) for c in found.certain]
    third = (len(rows) + 2) // 3
    tables = tuple((Table(("End", "Core", "Is"), tuple(part), (1.2, 0.9, 2.4)),)
                   for part in (rows[:third], rows[third:2 * third], rows[2 * third:]) if part)
    return [Heading("Certain already, whichever way it is", 3), Columns(tables, 3)]
