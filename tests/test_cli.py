"""The commands, as a person at a terminal meets them."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from sheetgen.cli import COMMANDS, main

ROOT = Path(__file__).parents[1]
FIRST = ROOT / "examples" / "two-way-line-at-switch.yaml"
BORROWED = ROOT / "examples" / "landing-borrowed-neutral.yaml"
WRONG = ROOT / "tests" / "wrong" / "misspelt.yaml"
HEAVY = ("reportlab", "matplotlib", "schemdraw", "numpy", "pydantic", "yaml")


def run(*words: object):
    return CliRunner().invoke(main, [str(w) for w in words])


def test_help_names_every_command_in_a_sentence() -> None:
    said = run("--help").output
    for name in COMMANDS:
        assert f"  {name}" in said
        assert run(name, "--help").exit_code == 0


def test_a_job_sheet_is_written_where_asked_and_the_same_twice(tmp_path: Path) -> None:
    first, second = tmp_path / "a", tmp_path / "b"
    assert run("job", FIRST, "-o", first).exit_code == 0
    assert run("job", FIRST, "-o", second).exit_code == 0
    sheet = (first / f"{FIRST.stem}.pdf").read_bytes()
    assert sheet.startswith(b"%PDF")
    assert sheet == (second / f"{FIRST.stem}.pdf").read_bytes()
    assert [p.name for p in first.iterdir()] == [f"{FIRST.stem}.pdf"]


def test_one_bad_file_does_not_stop_the_others(tmp_path: Path) -> None:
    done = run("job", WRONG, FIRST, tmp_path / "none.yaml", "-o", tmp_path / "out")
    assert done.exit_code == 2
    assert [p.name for p in (tmp_path / "out").iterdir()] == [f"{FIRST.stem}.pdf"]
    assert "Did you mean 'two-way switch'?" in done.stderr
    assert "There is no such file" in done.stderr


def test_nothing_is_written_when_the_description_is_wrong(tmp_path: Path) -> None:
    for command in (["job"], ["draw"]):
        assert run(*command, WRONG, "-o", tmp_path / "out").exit_code == 2
    assert not (tmp_path / "out").exists()


def test_check_tells_a_danger_by_its_exit_status() -> None:
    assert run("check", BORROWED).exit_code == 1
    assert run("check", ROOT / "examples" / "one-way-loop-in.yaml").exit_code == 0
    assert run("check", WRONG).exit_code == 2


def test_check_names_both_ways_of_a_borrowed_neutral() -> None:
    said = run("check", BORROWED).output
    assert "danger" in said and "circuit 5" in said and "circuit 6" in said


def test_states_as_json() -> None:
    groups = json.loads(run("states", FIRST, "--format", "json").output)["groups"]
    stairs = next(g for g in groups if g["switches"] == ["Hall", "Top"])
    assert stairs["lamps"] == ["Landing lamp"]
    lit = [(r["switches"]["Hall"], r["switches"]["Top"]) for r in stairs["rows"]
           if r["lamps"]["Landing lamp"] == {"state": "on", "fraction": 1.0}]
    assert sorted(lit) == [("L1", "L2"), ("L2", "L1")]


@pytest.mark.parametrize("command", [["check"], ["states", "--format", "csv"], ["list", "schema"]])
def test_output_that_nobody_reads_on_ends_the_run_without_a_word(command: list[str]) -> None:
    many = [str(FIRST)] * (40 if command == ["check"] else 1) if command[0] != "list" else []
    made = subprocess.Popen([sys.executable, "-m", "sheetgen", *command, *many], stdout=subprocess.PIPE,
                            stderr=subprocess.PIPE)
    assert made.stdout is not None and made.stderr is not None
    made.stdout.close()
    said = made.stderr.read().decode()
    assert made.wait() == 141 and "fault" not in said and "Traceback" not in said


def test_states_as_csv_has_a_line_for_every_lamp_in_every_setting() -> None:
    lines = run("states", FIRST, "--format", "csv").output.splitlines()
    assert lines[0] == "group,setting,lamp,state,fraction,every setting shown,out also"
    assert len(lines) == 1 + 4 + 2
    assert "1,Hall=L1; Top=L2,Landing lamp,on,1,yes," in lines


@pytest.mark.parametrize("form", ["svg", "pdf", "png"])
def test_one_drawing(form: str, tmp_path: Path) -> None:
    assert run("draw", FIRST, "--format", form, "-o", tmp_path).exit_code == 0
    start = {"svg": b"<", "pdf": b"%PDF", "png": b"\x89PNG"}[form]
    assert (tmp_path / f"{FIRST.stem}.{form}").read_bytes().startswith(start)


def test_pages_can_be_chosen_by_name(tmp_path: Path) -> None:
    assert run("job", FIRST, "--pages", "card,operation", "-o", tmp_path).exit_code == 0
    wrong = run("job", FIRST, "--pages", "cart", "-o", tmp_path)
    assert wrong.exit_code == 2 and "Did you mean 'card'?" in wrong.output


def test_a_command_that_is_not_there() -> None:
    wrong = run("jop")
    assert wrong.exit_code == 2 and "Did you mean 'job'?" in wrong.output


@pytest.mark.parametrize("topic", ["accessories", "cables", "colours", "codes", "methods", "pages"])
def test_what_is_known_is_listed(topic: str) -> None:
    done = run("list", topic)
    assert done.exit_code == 0 and len(done.output.splitlines()) >= 2


def test_the_schema_comes_out_as_json() -> None:
    assert json.loads(run("list", "schema").output)["properties"]["job"]


def test_a_name_cannot_lead_out_of_the_folder() -> None:
    from sheetgen.commands.writing import safe_name

    assert "/" not in safe_name("../../etc/passwd") and not safe_name("..").startswith(".")


def test_starting_imports_nothing_heavy() -> None:
    assert imported_by("import sheetgen.cli", HEAVY) == []


def imported_by(code: str, modules: tuple[str, ...]) -> list[str]:
    """Which of the modules a fresh Python has imported after running the code."""
    tail = f"import sys, json; print(json.dumps([m for m in {modules!r} if m in sys.modules]))"
    command = [sys.executable, "-c", f"{code}; {tail}"]
    done = subprocess.run(command, capture_output=True, text=True, cwd=ROOT, check=True)
    return json.loads(done.stdout)


def test_a_description_is_solved_without_the_drawing_libraries() -> None:
    code = f"from sheetgen.pipeline import solution_of; solution_of(open({str(FIRST)!r}, 'rb').read())"
    assert imported_by(code, HEAVY[:4]) == []
