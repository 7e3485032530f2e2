"""What the commands print, whole, on examples: a golden for each, so that a change of wording is seen and read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from commands.runs import ROOT, run

from sheetgen.cli import COMMANDS

EXAMPLES = Path("examples")  # from the root of the project, so that what is printed names no other place
BORROWED, OUT = EXAMPLES / "landing-borrowed-neutral.yaml", EXAMPLES / "finding-out"
CONVERSION = EXAMPLES / "two-way-conversion.yaml"
RUNS = {
    "check": ["check", BORROWED, EXAMPLES / "large-house.yaml", EXAMPLES / "one-way-loop-in.yaml"],
    "check-csv": ["check", BORROWED, "--format", "csv"],
    "check-json": ["check", BORROWED, "--format", "json"],
    "states": ["states", EXAMPLES / "three-switches.yaml"],
    "states-half-known": ["states", OUT / "half-known.yaml"],
    "states-csv": ["states", BORROWED, "--format", "csv"],
    "states-json": ["states", CONVERSION, "--format", "json"],
    "identify-rose": ["identify", OUT / "opened-rose.yaml", "--print"],
    "identify-half-known": ["identify", OUT / "half-known.yaml", "--print"],
    "identify-json": ["identify", OUT / "box-in-the-loft.yaml", "--format", "json"],
    "fault-dead": ["fault", OUT / "dead-light.yaml", "--print"],
    "fault-trips": ["fault", OUT / "trips-on-the-cord.yaml", "--print"],
    "fault-json": ["fault", OUT / "dead-light.yaml", "--format", "json"],
    "compare-method": ["compare", CONVERSION, "line carried through", "--print"],
    "compare-refused": ["compare", CONVERSION, "two strappers", "--print"],
    "compare-files": ["compare", EXAMPLES / "old-meets-new.yaml", EXAMPLES / "joint-boxes.yaml", "--print"],
    "changes": ["changes", EXAMPLES / "old-meets-new.yaml", EXAMPLES / "joint-boxes.yaml"],
    "new": ["new", "--light", "Landing", "--switch", "Hall", "--switch", "Top", "--print"],
    "new-full": ["new", "--light", "Landing", "--switch", "Hall", "--switch", "Top", "--full", "--print"],
    **{f"list-{what}": ["list", what] for what in ("accessories", "cables", "colours", "methods")},
}


@pytest.mark.parametrize("name", RUNS)
def test_what_is_printed(name: str, golden: Callable[[str, str], None], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    result = run(*RUNS[name])
    golden(f"printed-{name}.txt", f"exit status {result.exit_code}\n{result.output}")


def test_every_help(golden: Callable[[str, str], None]) -> None:
    every = [(), *((name,) for name in COMMANDS)]
    golden("printed-help.txt", "".join(run(*command, "--help").output for command in every))
