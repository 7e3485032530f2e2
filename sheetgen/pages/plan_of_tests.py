"""A plan of tests on paper: what to do first, numbered steps with what each reading means, and where they end."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import ceil

from sheetgen.find.steps import first_steps, in_order, numbered
from sheetgen.find.typed import typed, typed_outcome
from sheetgen.model.finding_out import Means, NumberedStep, PlanEnd, PlanStep, Settings, Spot, Trial
from sheetgen.model.page import Block, Cell, Columns, Items, Table, Words
from sheetgen.model.words import CAUTION_SHORT, INSIDE, capital

MOST_TYPED = 12  # pairs in an example of how a reading is written
MOST_AT_AN_END = 6  # candidates named at one end of a plan
SUPPLY = {Means.WATCH: "on", Means.LOOK: "off", Means.DEAD: "off", Means.LIVE: "ON"}
BEFORE = {
    Means.WATCH: "Watch the lamps first: work the switches and write down what is seen. Nothing is opened for that.",
    Means.LOOK: "Look before measuring: a core out of its terminal, a blackened contact or a lamp that fails elsewhere "
                "ends the search.",
    Means.DEAD: "Supply off: the circuit isolated, locked off and proved dead at every accessory that is opened; the "
                f"neutral too where it is shared, and on a TT supply. {INSIDE} Lamps out. Closed means less than 5 "
                "\N{OHM SIGN} beyond the leads.",
    Means.LIVE: "Supply on, only where the plan says ON and no dead test is left: every conductor made off in a "
                "connector, nobody touching anything, a two-pole voltage indicator proved before and after. What reads "
                "nothing is not live through any path in the description: it is never to be called safe.",
}
POSITIONS = (
    "A switch that a step does not name stands in its first position: off, at L1, straight. Which way a two-way "
    "rocker stands at L1 is not marked on it: with the supply off it is at L1 while COM to L1 reads closed."
)
PUT_BACK = "Before the next step put back every core that a step took off."
UNDO = "Before the next step undo every join that a step made."
RUN_AGAIN = "write it in the file and run it again"
STRAY = ("A reading that is not in the list fits nothing that is known of: stop, read it again, and look again at what "
         "was written down.")
ROWS = 46.0  # of steps and readings that fit below the head of a sheet
WHOLE = 10.0  # rows more that a whole plan is given, since `_rows` reckons high
SHARES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.0)  # of them, tried where steps do not part well into two columns
ROW, READS_ROW, END_ROW = 75, 28, 54  # letters in a row of a column, and of its two cells
LONG = ("The whole plan is longer than this sheet: these are its first steps. Where it says so, write the readings in "
        "the file and run it again; it goes on from there.")
TICK = ("Tick the pairs that close, write those that do and those that do not in the file, under readings, and run it "
        "again: it goes on from there.")
WRITE = ("It can show too much to be listed here: write what is seen in the file, under seen, and run again: it goes "
         "on from there.")
NO_STEP = "No test is left to make."


def plan_blocks(plan: PlanStep | None, says: Mapping[int, str], standings: Mapping[tuple[str, str], str],
                brief: bool = False, room: float = ROWS) -> list[Block]:
    """`says`: what each candidate is, in a few words; `standings`: a switch in a position, in print; `brief`: the plan
    goes on later; `room`: rows that are left on the sheet, over two columns. What is more
    is planned when it is run again.
    """
    if plan is None:
        return [Words(NO_STEP)]
    if _rows(plan, says, brief) > room:
        return [*_before([plan.trial]), *_pairs_of(plan, standings), *_how_typed([(1, plan)]), Words(STRAY, "quiet")]
    shown = plan
    for share in () if _in_two_columns([_rows(s, says, brief) for s in in_order(plan)], (room + WHOLE) / 2) else SHARES:
        shown = first_steps(plan, lambda step: _rows(step, says, brief), room * share)
        if _in_two_columns([_rows(step, says, brief) for step in in_order(shown)], room / 2):
            break
    steps, ends = numbered(shown)
    blocks = _before([step.trial for step in steps])
    ended = {end.letter: RUN_AGAIN if brief or not end.left else _end(end, says) for end in ends}
    if shown != plan:
        blocks.append(Words(LONG, "notice"))
    return [*blocks, Columns(tuple(_step(step, ended, standings) for step in steps), 2),
            *_how_typed(list(enumerate(in_order(shown), 1))), Words(STRAY, "quiet")]


def _how_typed(steps: Sequence[tuple[int, PlanStep]]) -> list[Block]:
    says = how_typed(steps)
    return [Words(says, "quiet", "In the file:")] if says else []


def how_typed(steps: Sequence[tuple[int, PlanStep]]) -> str:
    """How a reading is written in the file, as of the first step by instrument; "" where there is none."""
    for number, step in steps:
        outcome = typed_outcome(step)
        if outcome is not None and len(step.trial.pairs) <= MOST_TYPED:
            entries = " and - ".join(typed(step.trial, outcome.closed))
            return f"under readings, where step {number} reads '{outcome.reads}': - {entries}"
    return ""


def _in_two_columns(heights: Sequence[float], column: float) -> bool:
    used, columns = 0.0, 1
    for height in heights:
        if used and used + height > column:
            used, columns = 0.0, columns + 1
        used += height
    return (columns <= 2 and used <= column) or len(heights) == 1


def rules_of(trials: Sequence[Trial]) -> tuple[str, ...]:
    """What holds for each step of a plan: the supply by the means, and what is undone before the next step."""
    rules = [BEFORE[means] for means in Means if any(trial.means is means for trial in trials)]
    rules += [PUT_BACK] if any(trial.off for trial in trials) else []
    return (*rules, UNDO) if any(trial.joined for trial in trials) else tuple(rules)


def _before(trials: Sequence[Trial]) -> list[Block]:
    blocks: list[Block] = [Words(CAUTION_SHORT, "caution", "Caution."), Items(rules_of(trials))]
    return [*blocks, Words(POSITIONS, "quiet")] if any(trial.setting for trial in trials) else blocks


def _pairs_of(step: PlanStep, standings: Mapping[tuple[str, str], str]) -> list[Block]:
    """A step that may read too much to be listed: a box for each pair that is tried."""
    trial = step.trial
    stands = in_words(trial.setting, standings)
    does = f"supply {SUPPLY[trial.means]}{f', {stands}' if stands else ''}. {capital(trial.says)}."
    if not trial.pairs:
        return [Words(f"{does} {WRITE}", lead="Step 1:")]
    rows = [("", f"{_spot(a)} to {_spot(b)}") for a, b in trial.pairs]
    third = ceil(len(rows) / 3)
    tables = [(Table(("", ""), tuple(rows[i:i + third]), (0.5, 6), boxes=(0,), plain=True),)
              for i in range(0, len(rows), third)]
    return [Words(f"{does} {TICK}", lead="Step 1:"),
            Columns(tuple(tables), 3)]


def _spot(spot: Spot) -> str:
    return f"{spot[0]}/{spot[1]}"


def _rows(step: PlanStep, says: Mapping[int, str], brief: bool) -> float:
    """How high a step is, in rows of a column, a little more rather than less."""
    found = 1.3 + len(step.trial.says) / ROW
    for outcome in step.outcomes:
        end = "" if outcome.then or brief else _end(PlanEnd("", outcome.left), says)
        found += max(1, ceil(len(outcome.reads) / READS_ROW), ceil(len(end) / END_ROW))
    return found


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
    table = Table(("", "", ""), tuple(rows), (0.4, 3, 5), boxes=(0,), plain=True)
    return Words(does, lead=f"Step {step.number}:"), table


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
    """'2.3 on average, 4 at most'."""
    return f"{mean:.1f} on average, {worst} at most"

