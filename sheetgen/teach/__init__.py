"""Job -> questions and answers for a class, every answer from the solution.

The same seed gives the same versions; versions differ in what they ask about, not in how many questions of each kind.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from hashlib import sha256
from itertools import islice, zip_longest

from sheetgen.model.handout import Question, Version
from sheetgen.model.solution import Solution
from sheetgen.model.wiring import Wiring
from sheetgen.pages.lookup import Lookup
from sheetgen.teach.questions import HARDER, KINDS, OF_COLOURS, Candidate, Kind

MOST_VERSIONS = 26  # named by letters


def versions_of(lookup: Lookup, solve: Callable[[Wiring], Solution], number: int, seed: int,
                kinds: Sequence[Kind] = KINDS, after: int = 0) -> tuple[Version, ...]:
    """So many versions, after so many others. A kind of question that has nothing to ask about in this circuit is left
    out of all of them."""
    asked = {kind: (count, _asked(_ranked(kind, find(lookup, solve), seed), (number + after) * count))
             for kind, count, find in kinds}
    return tuple(
        Version(chr(ord("A") + v), tuple(
            question
            for count, questions in asked.values()
            for question in _turn(questions, count, v + after)
        ))
        for v in range(number)
    )


def _ranked(kind: str, candidates: list[Candidate], seed: int) -> list[Candidate]:
    """In an order that the seed decides, the sorts of candidate by turns so that no sheet asks the same thing twice."""
    def rank(candidate: Candidate) -> bytes:
        return sha256(f"{seed}/{kind}/{candidate.key}".encode()).digest()

    sorts: dict[str, list[Candidate]] = {}
    for candidate in sorted(candidates, key=rank):
        sorts.setdefault(candidate.sort, []).append(candidate)
    return [c for by_turns in zip_longest(*sorts.values()) for c in by_turns if c is not None]


def _asked(candidates: list[Candidate], enough: int) -> list[Question]:
    """The first so many that can be asked."""
    return list(islice(filter(None, (candidate.build() for candidate in candidates)), enough))


def _turn(questions: list[Question], count: int, version: int) -> list[Question]:
    """The questions of one version: where the one before left off, round and round."""
    count = min(count, len(questions))
    start = version * count
    return [questions[(start + i) % len(questions)] for i in range(count)]


__all__ = ["HARDER", "KINDS", "MOST_VERSIONS", "OF_COLOURS", "versions_of"]
