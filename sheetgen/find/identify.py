"""Which end belongs to which: the candidates that fit, what is certain already, and the shortest plan to the one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.circuit.names import Names
from sheetgen.find.across import core_word
from sheetgen.find.ends import Pairing, in_words
from sheetgen.find.one_step import next_step
from sheetgen.find.pair_plan import first_step, whole_plan
from sheetgen.find.pair_trials import PairTrials
from sheetgen.find.pairing import MOST_SETTINGS, SOME_SETTINGS, Search, Sieve
from sheetgen.find.plan import figures_of
from sheetgen.judge.roles import nets_of, roles_of
from sheetgen.model.finding_out import Certain, Identified, Seen
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring

MOST_PLANNED = 300  # candidates: for more the next step alone is planned
MOST_COMPARED = 120  # candidates whose roles are compared
SOUND = "nothing shorts in any setting, the lines of two circuits do not meet, and every lamp can be on and off"
NOT_KNOWN = "not known"
OPENED = "every accessory that these cables reach is in the description and was opened"

MEETS = ("two ends that read closed are the two ends of one cable, and not of two that meet in a place not opened: "
         "open it to be sure")


def identify(wiring: Wiring, sets: Mapping[str, ColourSet], seen: Sequence[Seen] = ()) -> Identified:
    """Where it stands with what is known. Refused where no cable end is waiting for its other end."""
    search = Search(wiring, wiring.readings)
    if not search.ends:
        raise Refused([Problem(Mark(), "E333", "Both ends of every cable are known: there is nothing to identify.",
                               "A cable seen at one accessory is written with 'at:'.")])
    assumed = (SOUND, MEETS) if search.loose else (SOUND, OPENED)
    listed = search.everything()
    sieve = Sieve(wiring, search.ends, seen)
    fitting, whole = sieve.all_of(listed, MOST_SETTINGS) if listed is not None else ([], False)
    some = listed or []
    if not whole and not fitting:
        some = search.some()
        fitting, _ = sieve.all_of(some, SOME_SETTINGS)
    trials = PairTrials(search.ends, wiring.printed)
    base = tuple((name, kind.positions[0].name) for name, _, kind in wiring.switches())
    standings = tuple(Names(wiring).standings.items())
    found = Identified(len(fitting), whole, (), None, None, base, standings, assumed=assumed)
    if not whole:
        pairings = [p for p, _ in fitting] or some
        return replace(found, plan=next_step(trials, search, pairings), told_apart=False, certain=_fixed(search))
    if not fitting:
        return found
    return _told(found, trials, [p for p, _ in fitting], [c for _, c in fitting], search, sets)


def _told(found: Identified, trials: PairTrials, pairings: list[Pairing], circuits: list[Circuit], search: Search,
          sets: Mapping[str, ColourSet]) -> Identified:
    weights = [1] * len(pairings)
    whole = len(pairings) <= MOST_PLANNED
    plan, figures = None, None
    if whole:
        plan, planners = whole_plan(trials, pairings)
        figures = figures_of(plan, weights, planners)
    else:
        plan = first_step(trials, pairings)
    certain = _certain(search, circuits[:MOST_COMPARED], sets) if len(circuits) <= MOST_COMPARED else ()
    one = pairings[0] if len(pairings) == 1 else None
    return replace(
        found, certain=certain, plan=plan, figures=figures, told_apart=whole,
        says=tuple(in_words(search.ends, p) for p in pairings) if whole else (),
        pairs=tuple((search.ends[i].name, search.ends[j].name) for i, j in one.pairs) if one else None,
    )


def the_one(wiring: Wiring, seen: Sequence[Seen] = ()) -> tuple[Search, Pairing] | None:
    """The only candidate, where there is but one."""
    search = Search(wiring, wiring.readings)
    fitting, whole = Sieve(wiring, search.ends, seen).all_of(search.everything() or (), MOST_SETTINGS)
    return (search, fitting[0][0]) if whole and len(fitting) == 1 else None


def _certain(search: Search, circuits: Sequence[Circuit], sets: Mapping[str, ColourSet]) -> tuple[Certain, ...]:
    """The role of every core at every end, where it is the same whichever candidate is true."""
    at: dict[tuple[str, int], set[str]] = {}
    for circuit in circuits:
        roles = roles_of(circuit, nets_of(circuit), sets)
        of_spot = {}
        for core in circuit.wiring.cores():
            for end in core.ends:
                if end.node is not None:
                    of_spot[end.node, core.colour, core.mark] = roles[core.key].value
        for cable in search.ends:
            for core in cable.cores:
                node = core.ends[0].node
                if node is not None:
                    at.setdefault((cable.name, core.index), set()).add(
                        of_spot.get((node, core.colour, core.mark), NOT_KNOWN))
    words = {(c.name, core.index): core_word(core)
             for c in search.ends for core in c.cores}
    return tuple(Certain(end, words[end, i], next(iter(roles))) for (end, i), roles in at.items()
                 if len(roles) == 1 and roles != {NOT_KNOWN})


def _fixed(search: Search) -> tuple[Certain, ...]:
    """Ends of which the readings leave one partner."""
    return tuple(Certain(search.ends[i].name, "", f"one cable with {search.ends[next(iter(d))].name}")
                 for i, d in enumerate(search.domains) if len(d) == 1 and min(d) >= 0)
