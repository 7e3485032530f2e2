"""What a test read, as it is typed in the file under `readings`."""

from __future__ import annotations

import json
from collections.abc import Collection, Sequence

from sheetgen.model.finding_out import Means, Outcome, PlanStep, Spot, Trial

Pair = tuple[Spot, Spot]
READS = {Means.DEAD: ("closed", "open"), Means.LIVE: ("voltage", "no voltage")}
WORKED = ("changes", "stays open")
RESERVED = frozenset(",:[]{}#&*!|>'\"%@`?")


def typed_outcome(step: PlanStep) -> Outcome | None:
    """The reading that shows most of how it is typed: with pairs that close and pairs that do not, where there is one.

    None of a test without instrument.
    """
    if step.trial.means not in READS or not step.trial.pairs:
        return None
    both = [o for o in step.outcomes if 0 < len(o.closed) < len(step.trial.pairs)]
    return (both or list(step.outcomes))[0]


def typed(trial: Trial, closed: Collection[Pair]) -> tuple[str, ...]:
    """One entry for the pairs that close, one for those that do not."""
    parts = [[pair for pair in trial.pairs if (pair in closed) is made] for made in (True, False)]
    words = WORKED if trial.worked else READS[trial.means]
    return tuple(_entry(trial, part, reads) for part, reads in zip(parts, words, strict=True) if part)


def _entry(trial: Trial, pairs: Sequence[Pair], reads: str) -> str:
    said = [f"joined: {_list(trial, trial.joined)}"] if trial.joined else []
    said += [f"between: {_list(trial, pairs)}", f"reads: {reads}"]
    said += [f"off: {_safe(trial.place)}"] if trial.off else []
    if trial.setting:
        said.append("with: {" + ", ".join(f"{_safe(name)}: {_safe(at)}" for name, at in trial.setting) + "}")
    return "{" + ", ".join(said) + "}"


def _list(trial: Trial, pairs: Sequence[Pair]) -> str:
    between = "/" if trial.cores else " "
    return "[" + ", ".join(_safe(f"{a[0]}{between}{a[1]} + {b[0]}{between}{b[1]}") for a, b in pairs) + "]"


def _safe(text: str) -> str:
    """Quoted where YAML would read it otherwise."""
    return json.dumps(text, ensure_ascii=False) if RESERVED & set(text) or text.startswith("-") else text
