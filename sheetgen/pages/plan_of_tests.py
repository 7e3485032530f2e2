"""A plan of tests on paper: what to do first, numbered steps with what each reading means, and where they end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sheetgen.model.finding_out import Means, NumberedStep, PlanEnd, Settings
from sheetgen.model.page import Block, Cell, Columns, Items, Table, Words
from sheetgen.model.words import CAUTION_SHORT, capital

MOST_AT_AN_END = 6  # candidates named at one end of a plan
SUPPLY = {Means.WATCH: "on", Means.LOOK: "off", Means.DEAD: "off", Means.LIVE: "ON"}
BEFORE = {
    Means.WATCH: "Watch the lamps first: work the switches and write down what is seen. Nothing is opened for that.",
    Means.LOOK: "Look before measuring: a core out of its terminal, a blackened contact or a lamp that fails elsewhere "
                "ends the search.",
    Means.DEAD: "Supply off: the way isolated, locked off and proved dead at every accessory that is opened; the "
                "neutral too where it is shared. For a lead at the board the main switch off as well: its incoming "
                "side stays live. Lamps out. Closed means less than 5 \N{OHM SIGN} beyond the leads.",
    Means.LIVE: "Supply on, only where the plan says ON and no dead test is left: every conductor made off in a "
                "connector, nobody touching anything, a two-pole voltage indicator proved before and after. What reads "
                "nothing is not live through any path in the description: it is never to be called safe.",
}
POSITIONS = (
    "Where a step names no switches, every switch stands in its first position: off, at L1, straight. Which way a "
    "two-way rocker stands at L1 is not marked on it: with the supply off it is at L1 while COM to L1 reads closed."
)
RUN_AGAIN = "write it in the file and run it again"
STRAY = ("A reading that is not in the list fits nothing that is known of: stop, read it again, and look again at what "
         "was written down.")
MOST_ON_ONE_SHEET = 90  # steps and readings
LONG = ("This plan takes more than one sheet: very many ways are left. Only the steps that the readings lead to are made; "
        "to have a plan on one sheet, make the first, write its reading in the file and run it again.")
NO_STEP = "No test is left to make."


def plan_blocks(steps: Sequence[NumberedStep], ends: Sequence[PlanEnd], says: Mapping[int, str],
                standings: Mapping[tuple[str, str], str], brief: bool = False) -> list[Block]:
    """`says`: what each candidate is, in a few words; `standings`: a switch in a position, in print; `brief`: the plan
    goes on later."""
    if not steps:
        return [Words(NO_STEP)]
    used = [means for means in Means if any(s.trial.means is means for s in steps)]
    blocks: list[Block] = [Words(CAUTION_SHORT, "caution", "Caution."), Items(tuple(BEFORE[m] for m in used))]
    if any(s.trial.setting for s in steps):
        blocks.append(Words(POSITIONS, "quiet"))
    ended = {end.letter: RUN_AGAIN if brief else _end(end, says) for end in ends}
    if sum(1 + len(step.ways) for step in steps) > MOST_ON_ONE_SHEET:
        blocks.append(Words(LONG, "notice"))
    return [*blocks, Columns(tuple(_step(step, ended, standings) for step in steps), 2), Words(STRAY, "quiet")]


def _step(
    step: NumberedStep, ended: Mapping[str, str], standings: Mapping[tuple[str, str], str]
) -> tuple[Block, ...]:
    """What to do, and a row with a box for each reading."""
    trial = step.trial
    stands = in_words(trial.setting, standings)
    does = f"supply {SUPPLY[trial.means]}{f', {stands}' if stands else ''}. {capital(trial.says)}."
    rows: list[tuple[Cell, ...]] = []
    for reads, goes_on in step.ways:
        rows.append(("", reads, ended[goes_on] if goes_on in ended else Words(goes_on, "strong")))
    return Words(does, lead=f"Step {step.number}:"), Table(("", "", ""), tuple(rows), (0.4, 3, 5), boxes=(0,), plain=True)


def _end(end: PlanEnd, says: Mapping[int, str]) -> str:
    named = [says[i] for i in end.left[:MOST_AT_AN_END]]
    more = len(end.left) - len(named)
    if len(named) == 1:
        return named[0]
    return f"one of {len(end.left)}: {'; '.join(named)}" + (f"; {more} more" if more else "")


def in_words(setting: Settings, standings: Mapping[tuple[str, str], str]) -> str:
    """'Hall at L2, Porch on'."""
    return ", ".join(standings[stands] for stands in setting)


def least_and_most(mean: float, worst: int) -> str:
    """'2.3 in the mean, 4 at the worst'."""
    return f"{mean:.1f} in the mean, {worst} at the worst"

