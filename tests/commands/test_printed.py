"""What the commands print, whole, on examples: a golden for each, so that a change of wording is seen and read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner
from commands.runs import ROOT, chain_of_switches, copied, files_in, run

from sheetgen.cli import COMMANDS, main

EXAMPLES = Path("examples")  # from the root of the project, so that what is printed names no other place
BORROWED, OUT = EXAMPLES / "landing-borrowed-neutral.yaml", EXAMPLES / "finding-out"
FAULTY = Path("tests") / "pages" / "faulty"
CONVERSION = EXAMPLES / "two-way-conversion.yaml"
RUNS = {
    "check": ["check", BORROWED, EXAMPLES / "large-house.yaml", EXAMPLES / "one-way-loop-in.yaml"],
    "check-csv": ["check", BORROWED, "--format", "csv"],
    "check-json": ["check", BORROWED, "--format", "json"],
    "states": ["states", EXAMPLES / "three-switches.yaml"],
    "states-half-known": ["states", OUT / "half-known.yaml"],
    "states-csv": ["states", BORROWED, "--format", "csv"],
    "states-json": ["states", CONVERSION, "--format", "json"],
    "states-faulty": ["states", FAULTY / "old-farmhouse.yaml"],
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


ONE, TWO, ROSE = ("one.yaml", "two.yaml", "opened-rose.yaml")
IN_A_FOLDER = (  # one after the other, in a folder with these files; what each does stays for the next
    ["check", "won.yaml"], ["check", "empty"], ["check", "."], ["check", "/dev/null"], ["check", "more"],
    ["job", ONE, "--short", "--pages", "card"], ["job", ONE, "--pages", "kard"], ["job", ONE, "--colours", "legasy"],
    ["job", ONE, "--colours", "both"], ["job", "a/same.yaml", "b/same.yml", "b/same.yaml", "--pages", "card"],
    ["handout", ONE, "--harder", "--fault"], ["draw", ONE, "--format", "svg"], ["states", "chain.yaml"],
    ["new", "--light", "A", "--switch", "B", "--bad-practice", "--full"],
    ["new", "--light", "A", "--switch", "B", "--switch", "C", "--loop", "at the rose", "--join", "two strappers"],
    ["new", "--light", "Attic", "--switch", "Hall"], ["new", "--light", "Attic", "--switch", "Hall"],
    ["new", "--light", "Attic", "--light", "Loft", "--switch", "Hall", "--force"],
    ["new", "--from", "Attic light.yaml"],
    ["identify", ROSE, "--write", "found.yaml"], ["identify", "half-known.yaml", "--write", "found.yaml"],
    ["identify", "read.yaml", "--write", "found.yaml"], ["identify", "read.yaml", "--write", "found.yaml"],
    ["identify", "misread.yaml", "--write", "nothing.yaml"],
    ["identify", ONE, "--print"], ["identify", "half-known.yaml", "--seen", "Landing is worked by Nobody", "--print"],
    ["compare", ONE, ONE, "--print"], ["compare", ONE, "other.yaml", "--print"], ["compare", ONE, "no method"],
    ["compare", "won.yaml", TWO], ["survey", ONE], ["survey", "half-known.yaml"], ["survey"],
    ["desk", "notes.txt"], ["desk", "no/such/house.yaml"], ["desk", ".hidden.yaml"],
    ["stock", "empty"], ["stock", ".", "--ask", "danger"], ["stock", ".", "--since", "2026-01-01"],
    ["fault", ONE], ["fault", "dead-light.yaml", "--seen", "trips"],
)


def test_what_is_refused_and_what_is_written(
    golden: Callable[[str, str], None], tmp_path: Path, monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    examples = {ONE: CONVERSION, TWO: EXAMPLES / "three-switches.yaml", "other.yaml": EXAMPLES / "joint-boxes.yaml",
                "a/same.yaml": CONVERSION, "b/same.yml": CONVERSION, "b/same.yaml": CONVERSION,
                **{name: OUT / name for name in ("dead-light.yaml", "half-known.yaml", ROSE)}}
    for name, example in examples.items():
        copied(ROOT / example, Path(name))
    Path("chain.yaml").write_text(chain_of_switches(13), encoding="utf-8")
    rose = Path(ROSE).read_text(encoding="utf-8") + "readings:\n  - {between: [c/red, c/black], reads: changes}\n"
    Path("read.yaml").write_text(rose + "  - {between: [b/red, b/cpc], reads: voltage}\n", encoding="utf-8")
    Path("misread.yaml").write_text(rose + "  - {between: [d/red, d/black], reads: changes}\n", encoding="utf-8")
    Path("empty").mkdir()
    Path("more").mkdir()
    Path("more", "large.yaml").write_bytes(b" " * 1_000_001)
    said = []
    for words in IN_A_FOLDER:
        result = run(*words)
        printed = result.output.replace(str(tmp_path), "HERE")
        said.append(f"$ {' '.join(words)}\nexit status {result.exit_code}\n{printed}")
    golden("printed-refused.txt", "\n".join([*said, *files_in(tmp_path)]) + "\n")


DIALOGS = {  # what is answered where nothing is told
    "two switches": ["Landing", "Hall, Landing", "sheathed", "2", "no such loop", "line at the switches", "0",
                     "conversion", "legacy", ""],
    "one switch in conduit": ["Porch, Yard,", "Porch", "2", "", "", "Outside"],
    "three switches": ["", "Hall, Stairs, Landing", "9", "1", "at the rose", "", "current", ""],
}


def test_what_is_asked(golden: Callable[[str, str], None]) -> None:
    said = [f"== {name}\n{CliRunner().invoke(main, ['new', '--print'], input=chr(10).join([*answers, ''])).output}"
            for name, answers in DIALOGS.items()]
    golden("printed-questions.txt", "\n".join(said))
