"""One opened rose whose cores have been taken off: which cable is the feed, which the switch drop, which go on.

What lies at the far ends stands for "towards the board", "a switch" and "onwards to further lights". With everything
apart only the drop changes as the switch is worked, and only the feed has a voltage.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sheetgen.catalogue.colours import read_core_name
from sheetgen.find.across import core_word
from sheetgen.find.ends import may_be_one, open_ends
from sheetgen.find.plan import Option, Planner, Reads, figures_of
from sheetgen.find.weights import LIVE, SWITCH_ELSEWHERE
from sheetgen.model.accessory import Accessory
from sheetgen.model.finding_out import Identified, Means, Spot, TakenReading, Trial
from sheetgen.model.problems import Problem, Refused
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Cable, Core, Wiring
from sheetgen.model.words import joined

FEWEST = 3  # cables: feed, drop, and one that goes on; with two there is one question, and it is the same plan
APART = "every core at the rose is off its terminal and apart, and one of the cables goes to the switch"
STOP = "Stop: line and neutral are exchanged at the other end of {} or before it; put that right, and test again"
STOP_SHORT = "Stop: line and neutral exchanged at the other end of {}"


@dataclass(frozen=True)
class RoseParts:
    """Which cable plays which part; `line` is the place among the live cores of the feed of the one that is line."""

    feed: int
    drop: int
    line: int

    def onward(self, count: int) -> tuple[int, ...]:
        """The cables that go on to further lights."""
        return tuple(i for i in range(count) if i not in (self.feed, self.drop))


def taken_off(wiring: Wiring) -> tuple[Accessory, tuple[Cable, ...]] | None:
    """The accessory that all cables were seen at, their cores loose, and the cables; None where it is not so."""
    ends = open_ends(wiring)
    places = {end.ends[0] for end in ends}
    others = [c for c in wiring.cables if not c.at_one_end and not c.flex]
    if len(ends) < FEWEST or len(places) != 1 or others:
        return None
    if any(core.ends[0].terminal is not None for end in ends for core in end.cores):
        return None
    first = replace(ends[0], ends=("", ends[0].ends[1]))
    if not all(may_be_one(first, end) for end in ends) or len(live_cores(first)) != 2:
        return None
    return wiring.accessory(next(iter(places))), ends


def live_cores(cable: Cable) -> tuple[Core, ...]:
    """The cores that are no cpc."""
    return tuple(core for core in cable.cores if not core.cpc)


def which_part(wiring: Wiring, rose: Accessory, ends: tuple[Cable, ...], sets: Mapping[str, ColourSet]) -> Identified:
    """The parts that fit the readings, and the plan. Refused where the rose has nothing to loop the line on.

    Line on the core that is coloured as neutral tells nothing of the cables that go on, so that no core goes back yet.
    """
    loop_terminal(rose)
    _all_say_something(wiring.readings, ends)
    fitting = [p for p in _all_parts(len(ends)) if all(_agrees(taken, p, ends) for taken in wiring.readings)]
    weights = [4 if p.line == 0 else 1 for p in fitting]  # the line in the first colour; assumed
    found = Identified(len(fitting), True, (), None, None, (), assumed=(APART,), at_rose=True,
                       says=tuple(in_words(p, ends, rose, sets) for p in fitting),
                       short=tuple(_in_short(p, ends, sets) for p in fitting))
    if not fitting:
        return found
    feeds = {p.feed for p in fitting}
    if len(feeds) == 1 and all(_exchanged(p, ends, sets) for p in fitting):
        return replace(found, stop=STOP.format(ends[fitting[0].feed].name))
    planner = Planner(weights, [*_options(fitting, ends, rose.name)])
    plan = planner.step()
    figures = figures_of(plan, weights, [planner])
    return replace(found, plan=plan, figures=figures, pairs=() if len(fitting) == 1 else None)


def _exchanged(parts: RoseParts, ends: Sequence[Cable], sets: Mapping[str, ColourSet]) -> bool:
    """Line is on the neutral's colour, and the other live core of the feed has another."""
    feed = ends[parts.feed]
    live, neutral = live_cores(feed), sets[feed.colours].neutral
    return live[parts.line].colour == neutral != live[1 - parts.line].colour


def _all_say_something(readings: Sequence[TakenReading], ends: Sequence[Cable]) -> None:
    """Refused where a reading across the live cores of a cable does not say what it did as the switch was worked."""
    names = {end.name for end in ends}
    for taken in readings:
        if not taken.live and taken.worked is None and {cable for cable, _ in taken.between} <= names:
            says = f"'{taken.says}' does not say what it did as the switch was worked."
            raise Refused([Problem(taken.at, "E331", says, "Write changes, stays open or stays closed.")])


def the_parts(wiring: Wiring, ends: tuple[Cable, ...]) -> RoseParts | None:
    """The only parts that fit, where there is but one way."""
    fitting = [p for p in _all_parts(len(ends)) if all(_agrees(t, p, ends) for t in wiring.readings)]
    return fitting[0] if len(fitting) == 1 else None


def _all_parts(count: int) -> list[RoseParts]:
    """Every way of giving so many cables their parts."""
    return [RoseParts(feed, drop, line) for feed in range(count) for drop in range(count) if drop != feed
            for line in (0, 1)]


def _agrees(taken: TakenReading, parts: RoseParts, ends: Sequence[Cable]) -> bool:
    number = {end.name: i for i, end in enumerate(ends)}
    (cable, one), (other, two) = taken.between
    if cable != other or cable not in number:
        return True
    i = number[cable]
    if taken.live:
        words = [core_word(core) for core in live_cores(ends[i])]
        spots = [w for w in (one, two) if _same(w, words)]
        if i != parts.feed:
            return not taken.closed
        if len(spots) == 2:
            return taken.closed
        return not spots or taken.closed == _same(spots[0], [words[parts.line]])
    if taken.worked is None:
        return True
    return taken.worked == (i == parts.drop)


def _same(word: str, words: Sequence[str]) -> bool:
    """A core by its word or its code."""
    return read_core_name(word) in [read_core_name(w) for w in words]


def _options(candidates: Sequence[RoseParts], ends: Sequence[Cable], place: str) -> Iterator[Option]:
    names = joined(end.name for end in ends)
    pairs = [tuple(_spot(end, core) for core in live_cores(end)) for end in ends]
    says = f"Between the two live cores of each cable in turn, {names}, while somebody works the switch"
    trial = Trial(Means.DEAD, place, says, SWITCH_ELSEWHERE + len(ends), pairs=tuple((a, b) for a, b in pairs),
                  cores=True, worked=True)
    yield Option(trial, tuple(Reads(f"{ends[c.drop].name} changes", (_two(pairs[c.drop]),)) for c in candidates))
    tried = sorted({c.feed for c in candidates})
    for drop in (None, *range(len(ends))):
        yield _live([i for i in tried if i != drop], drop, candidates, ends, place)


def _live(tried: Sequence[int], drop: int | None, candidates: Sequence[RoseParts], ends: Sequence[Cable],
          place: str) -> Option:
    """Which core has a voltage, of the cables but the drop, where that is known."""
    links = {i: [(_spot(ends[i], core), _earth(ends[i])) for core in live_cores(ends[i])] for i in tried}
    says = (f"Every core in a connector of its own, nobody touching anything: with the two-pole indicator each live "
            f"core of {joined(ends[i].name for i in tried)} to the cpc of its cable")
    trial = Trial(Means.LIVE, place, says, LIVE + 2 * len(tried), pairs=tuple(link for i in tried for link in links[i]),
                  cores=True)
    return Option(trial, tuple(
        Reads(f"voltage on {core_word(live_cores(ends[c.feed])[c.line])} of {ends[c.feed].name} alone",
              (links[c.feed][c.line],)) if c.feed in links and drop in (None, c.drop) else None for c in candidates))


def _two(spots: tuple[Spot, ...]) -> tuple[Spot, Spot]:
    return spots[0], spots[1]


def _spot(end: Cable, core: Core) -> Spot:
    return end.name, core_word(core)


def _earth(end: Cable) -> Spot:
    cpc = next((core for core in end.cores if core.cpc), None)
    return _spot(end, cpc) if cpc else (end.name, "a known earth")


def loop_terminal(rose: Accessory) -> str:
    """Where the line is looped: its own terminal, or a connector lying in the rose. Refused where there is neither."""
    ports = dict(rose.kind.ports)
    spare = [t.name for t in rose.kind.terminals if t.connector]
    if "line" not in ports and not spare:
        raise Refused([Problem(rose.at, "E334", f"'{rose.name}' has no terminal for a looped line.",
                               "Write the connector that lies in it: connectors: [loop].")])
    return ports.get("line") or spare[0]


def landings(parts: RoseParts, ends: Sequence[Cable], rose: Accessory) -> dict[tuple[str, str], str]:
    """(cable, core) -> the terminal on which it goes back."""
    loop, ports = loop_terminal(rose), dict(rose.kind.ports)
    found = {}
    for i, end in enumerate(ends):
        live = live_cores(end)
        line, other = live[parts.line], live[1 - parts.line]
        found[end.name, core_word(line)] = loop
        found[end.name, core_word(other)] = ports["switched line"] if i == parts.drop else ports["neutral"]
        for core in end.cores:
            if core.cpc:
                found[end.name, core_word(core)] = ports["earth"]
    return found


def in_words(parts: RoseParts, ends: Sequence[Cable], rose: Accessory, sets: Mapping[str, ColourSet]) -> str:
    """What each cable is, and how its cores go back; or why they do not yet."""
    if _exchanged(parts, ends, sets):
        return STOP.format(ends[parts.feed].name)
    onward = [ends[i].name for i in parts.onward(len(ends))]
    drop = ends[parts.drop]
    goes = landings(parts, ends, rose)
    line, other = (live_cores(drop)[k] for k in (parts.line, 1 - parts.line))
    neutral = [ends[i].name for i in range(len(ends)) if i != parts.drop]
    says = f"{ends[parts.feed].name} is the feed, {drop.name} the switch drop"
    says += f", {joined(onward)} {'goes' if len(onward) == 1 else 'go'} on" if onward else ""
    return (f"{says}. {core_word(line)} of every cable to {rose.label(goes[drop.name, core_word(line)])}; "
            f"{core_word(other)} of {joined(neutral)} to {rose.label(dict(rose.kind.ports)['neutral'])}; "
            f"{core_word(other)} of {drop.name}, sleeved as line, to {rose.label(goes[drop.name, core_word(other)])}")


def _in_short(parts: RoseParts, ends: Sequence[Cable], sets: Mapping[str, ColourSet]) -> str:
    if _exchanged(parts, ends, sets):
        return STOP_SHORT.format(ends[parts.feed].name)
    drop = ends[parts.drop]
    line = core_word(live_cores(drop)[parts.line])
    return f"{ends[parts.feed].name} is the feed, {drop.name} the switch drop; the line is {line}"
