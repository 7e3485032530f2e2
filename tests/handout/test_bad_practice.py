"""Bad practice is taught with its warning on every sheet, and refused by all that could be taken for a job."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands.runs import files_in, run
from method_catalogue import Combination, refused
from pypdfium2 import PdfDocument

from sheetgen.model.problems import Refused
from sheetgen.model.solution import LampState
from sheetgen.pipeline import reading_of, wiring_of
from sheetgen.solve.wiring_to_solution import wiring_to_solution

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
BAND = "BAD PRACTICE, DRAWN ONLY TO BE TAUGHT: NEVER WIRE IT SO. THIS IS NO JOB SHEET."
WHY = "'two strappers' would send line down one drop and bring the switched line back by another: a wide loop"
ROSE = Combination("at the rose", "two strappers", 2, False)
WIDE = [("at the rose", join) for join in ("in first, out last", "two strappers")] + [
    ("at a joint box", join) for join in ("in first, out last", "two strappers")] + [
    ("line at the switches", join) for join in ("conversion", "in first, out last", "two strappers",
                                                "line carried through")]


def sheets(folder: Path) -> list[str]:
    """What each sheet in a folder says."""
    return [" ".join(page.get_textpage().get_text_bounded().split())
            for file in sorted(folder.glob("*.pdf")) for page in PdfDocument(file.read_bytes())]


@pytest.fixture
def rose(tmp_path: Path) -> Path:
    file = tmp_path / "rose.yaml"
    file.write_text(ROSE.text(), encoding="utf-8")
    return file


@pytest.mark.parametrize(("loop", "join"), WIDE)
def test_what_would_work_is_laid_to_be_taught_and_the_check_says_what_is_wrong_with_it(loop: str, join: str) -> None:
    text = Combination(loop, join, 2, False).text()
    with pytest.raises(Refused):
        wiring_of(text)
    wiring = wiring_of(text, to_teach=True)
    assert len(wiring.bad_practice) == 1 and "a wide loop" in wiring.bad_practice[0]
    solution = wiring_to_solution(wiring)
    (group,) = (g for g in solution.groups if g.lamps)
    assert sum(row.lamps[0].state is LampState.ON for row in group.rows) == 2
    assert any("run by separate routes" in f.says for f in reading_of(wiring, solution).findings)


def test_what_would_not_work_is_not_taught_either() -> None:
    others = [c for c, _ in refused() if c.conduit or (c.loop, c.join) not in WIDE]
    assert len(others) > 20
    for combination in others:
        if combination.loop == "line at the switches" and combination.join == "one-way" and combination.switches == 1:
            continue  # in cable: works, by separate routes
        with pytest.raises(Refused):
            wiring_of(combination.text(), to_teach=True)


@pytest.mark.parametrize("more", [(), ("--harder",), ("--fault",), ("--versions", "2", "--colours", "both")])
def test_every_sheet_has_the_warning(rose: Path, more: tuple[str, ...]) -> None:
    assert run("handout", rose, "--bad-practice", *more, "-o", rose.parent).exit_code == 0
    found = sheets(rose.parent)
    assert len(found) >= 3
    for said in found:
        assert BAND in said and "This is no record of any wiring: nothing is wired so." in said
        assert "This is a wiring record" not in said
    begun = [said for said in found if "continued" not in said and "The cables" not in said]
    assert len(begun) >= 2 and all("Bad practice: never wire it so." in said and WHY in said for said in begun)


def test_good_practice_has_no_warning(tmp_path: Path) -> None:
    file = tmp_path / "good.yaml"
    file.write_text(Combination("at the rose", "conversion", 2, False).text(), encoding="utf-8")
    assert run("handout", file, "--bad-practice", "-o", tmp_path).exit_code == 0
    assert sheets(tmp_path) and not any("BAD PRACTICE" in said or "no record" in said for said in sheets(tmp_path))


@pytest.mark.parametrize("words", [
    ("job",), ("draw",), ("states",), ("check",), ("screen",), ("handout",), ("handout", "--fault"), ("identify",),
    ("survey",), ("compare", "at the rose"), ("new", "--from")])
def test_nothing_else_takes_it(rose: Path, words: tuple[str, ...]) -> None:
    command, *more = words
    out = () if command in ("states", "check") else ("-o", rose.parent / "out")
    asked = (command, *more, rose, *out) if command == "new" else (command, rose, *more, *out)
    done = run(*asked)
    assert done.exit_code == 2 and WHY in done.stderr
    assert "For a class `sheetgen handout --bad-practice` draws it, with this warning on it." in done.stderr
    assert not (rose.parent / "out").exists()


ASKED = ("--light", "Landing", "--switch", "Hall", "--switch", "Top", "--loop", "at the rose", "--join",
         "two strappers", "--job", "Wide")


def test_new_writes_it_only_when_it_is_asked_for_to_be_taught(tmp_path: Path) -> None:
    refused_so = run("new", *ASKED, "-o", tmp_path)
    assert refused_so.exit_code == 2 and "To be taught with this warning it is written by --bad-practice." in (
        refused_so.stderr)
    full = run("new", *ASKED, "--bad-practice", "--full", "-o", tmp_path)
    assert full.exit_code == 2 and "taken for a job" in full.stderr and files_in(tmp_path) == []
    assert run("new", *ASKED, "--bad-practice", "-o", tmp_path).exit_code == 0
    text = (tmp_path / "Wide.yaml").read_text(encoding="utf-8")
    assert text.startswith("# Bad practice, to be taught only: Looped at the rose in sheathed cable,")
    assert max(map(len, text.splitlines())) <= 118
    assert wiring_of(text, to_teach=True).bad_practice


BORROWED = ("Landing lamp takes its line from circuit 5 (Downstairs lights) and returns its neutral to circuit 6 "
            "(Upstairs lights).")
UNSAFE = "Caution. Not all of this circuit is safe. It is here to be understood, not to be copied."


def test_a_dangerous_circuit_warns_the_class_and_tells_the_teacher_why(tmp_path: Path) -> None:
    assert run("handout", EXAMPLES / "landing-borrowed-neutral.yaml", "-o", tmp_path).exit_code == 0
    answers, asked = sorted(tmp_path.glob("*.pdf"))
    assert asked.stem + "-answers" == answers.stem
    given, told = ([" ".join(page.get_textpage().get_text_bounded().split()) for page in PdfDocument(f.read_bytes())]
                   for f in (asked, answers))
    assert all(UNSAFE in said for said in given if "Draw it" in said) and any("Draw it" in said for said in given)
    assert not any("danger" in said.lower() or BORROWED in said for said in given)
    assert sum(f"Danger: {BORROWED}" in said for said in told) == 1
    assert not any(UNSAFE in said for said in told)


def test_a_safe_circuit_warns_of_nothing(tmp_path: Path) -> None:
    assert run("handout", EXAMPLES / "two-way-conversion.yaml", "-o", tmp_path).exit_code == 0
    assert not any("Not all of this circuit" in said or "Danger" in said for said in sheets(tmp_path))
