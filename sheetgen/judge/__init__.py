"""Solution to Reading: the role of every core, the sleeves it needs, and what the check noticed."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from sheetgen.judge.figures import reckon
from sheetgen.judge.roles import nets_of, roles_of, ways_of
from sheetgen.judge.rules import RULES
from sheetgen.judge.rules.subject import Subject
from sheetgen.judge.sleeves import sleeves_of
from sheetgen.model.reading import Finding, Gravity, Reading
from sheetgen.model.solution import Solution
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Wiring
from sheetgen.model.words import capital


def solution_to_reading(wiring: Wiring, solution: Solution, sets: Mapping[str, ColourSet]) -> Reading:
    """Read a solved wiring."""
    nets = nets_of(wiring, solution)
    roles, ways = roles_of(wiring, solution, nets, sets), ways_of(wiring, solution, nets)
    sleeves = sleeves_of(wiring, roles, sets)
    reckoning = reckon(wiring, solution, ways)
    subject = Subject(wiring, solution, roles, ways, sleeves, sets, reckoning)
    findings = in_order(wiring, (finding for rule in RULES for finding in rule.check(subject)))
    return Reading(roles, ways, sleeves, findings)


def in_order(wiring: Wiring, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Most serious first, then by place in the order of the description; the rules' order breaks ties.

    A name that the user wrote small may begin a sentence: it gets its capital here.
    """
    gravity = {g: i for i, g in enumerate(Gravity)}
    place = {a.name: i for i, a in enumerate(wiring.accessories)}
    written = (replace(f, says=capital(f.says), means=capital(f.means), cure=capital(f.cure)) for f in findings)
    return tuple(sorted(written, key=lambda f: (gravity[f.gravity], place.get(f.accessory, len(place)))))
