"""A run over many files: each stands alone, the end of it says what came of all."""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from pathlib import Path

import pytest
from commands.runs import BORROWED, FIRST, ROOT, SOUND, WRONG, chain_of_switches, copied, files_in, run

import sheetgen.pipeline
from sheetgen.model.problems import Mark, Problem, Refused


@pytest.fixture
def faulty(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that stops in the middle of every description that is called Faulty."""
    right = sheetgen.pipeline.wiring_of

    def wiring_of(text: bytes | str, to_teach: bool = False) -> object:
        if b"job: Faulty" in (text if isinstance(text, bytes) else text.encode()):
            raise KeyError("a\nfault \x1b[2J")
        return right(text, to_teach)

    monkeypatch.setattr(sheetgen.pipeline, "wiring_of", wiring_of)


def faulty_file(to: Path) -> Path:
    to.write_text("job: Faulty\n" + SOUND.read_text().split("\n", 1)[1])
    return to


def test_a_fault_of_the_program_stops_no_other_file(faulty: None, tmp_path: Path) -> None:
    done = run("job", faulty_file(tmp_path / "faulty.yaml"), SOUND, WRONG, BORROWED, "-o", tmp_path / "out")
    assert done.exit_code == 3
    assert files_in(tmp_path / "out") == [f"{BORROWED.stem}.pdf", f"{SOUND.stem}.pdf"]
    lines = done.stderr.splitlines()
    assert lines[0].startswith(f"{tmp_path}/faulty.yaml: This is a fault of the program, not of your file. "
                               "Please report this line: sheetgen ")
    assert "KeyError at sheetgen/pipeline/__init__.py:" in lines[0] and "in circuit_of" in lines[0]
    assert "a\\nfault \\x1b[2J" in lines[0] or "fault \\x1b[2J" in lines[0]
    assert "\x1b" not in done.stderr and "Traceback" not in done.stderr
    assert lines[-1] == "2 written, 1 not understood, 1 stopped by a fault of the program, 1 with a danger."


def test_a_long_fault_is_cut_short(monkeypatch: pytest.MonkeyPatch) -> None:
    def wiring_of(text: bytes | str, to_teach: bool) -> object:
        raise ValueError("x" * 301)

    monkeypatch.setattr(sheetgen.pipeline, "wiring_of", wiring_of)
    assert run("check", SOUND).stderr.endswith(f": {'x' * 300}...\n")


@pytest.mark.parametrize(("command", "more"), [
    ("job", ()), ("check", ()), ("states", ()), ("draw", ()), ("screen", ()), ("handout", ()),
    ("compare", (str(SOUND),)),
])
def test_every_command_says_a_fault_on_one_line(faulty: None, tmp_path: Path, command: str,
                                                more: tuple[str, ...]) -> None:
    output = () if command in ("check", "states") else ("-o", tmp_path / "out")
    done = run(command, faulty_file(tmp_path / "faulty.yaml"), *more, *output)
    assert done.exit_code == 3
    assert len(done.stderr.splitlines()) == 1 and "Please report this line: sheetgen" in done.stderr
    assert not (tmp_path / "out").exists()


def test_a_run_that_is_stopped_by_hand_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(text: bytes | str, to_teach: bool) -> object:
        raise KeyboardInterrupt

    monkeypatch.setattr(sheetgen.pipeline, "wiring_of", stopped)
    done = run("check", SOUND, BORROWED)
    assert done.exit_code == 130 and done.stderr == "Stopped.\n"


@pytest.mark.parametrize(("files", "status"), [
    ([SOUND], 0), ([BORROWED], 1), ([SOUND, BORROWED], 1), ([BORROWED, WRONG], 2), ([WRONG, SOUND], 2),
])
def test_the_highest_status_counts(files: list[Path], status: int) -> None:
    assert run("check", *files).exit_code == status


def test_a_danger_is_no_failure_of_the_sheet(tmp_path: Path) -> None:
    right = ROOT / "examples" / "old-meets-new.yaml"  # two things to put right, no danger
    done = run("job", BORROWED, SOUND, right, "-o", tmp_path)
    assert done.exit_code == 0
    assert done.stderr == "3 written, 1 with a danger.\n"


def test_one_file_needs_no_summary_and_a_pipe_no_bar(tmp_path: Path) -> None:
    assert run("job", SOUND, "-o", tmp_path).stderr == ""
    two = run("check", SOUND, WRONG)
    assert two.stderr.splitlines()[-1] == "1 checked, 1 not understood."
    assert "\x1b" not in two.output


@pytest.mark.skipif(os.name != "posix", reason="a terminal is needed")
def test_a_terminal_shows_how_far_a_run_is() -> None:
    import pty

    ours, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm", "COLUMNS": "40"}
    environment.pop("NO_COLOR", None)
    command = [sys.executable, "-m", "sheetgen", "check", str(BORROWED), str(SOUND)]
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=theirs, cwd=ROOT, env=environment)
    os.close(theirs)
    shown = b""
    while chunk := _read(ours):
        shown += chunk
    assert done.returncode == 1
    assert b"2/2" in shown and b"2 checked, 1 with a danger." in shown
    assert shown.count(b"1 with a danger") > 1, "the bar tells of dangers as well"
    assert b"\x1b" not in done.stdout and len(done.stdout.splitlines()) > 8


def _read(handle: int) -> bytes:
    try:
        return os.read(handle, 4096)
    except OSError:  # the other end is closed
        return b""


def test_names_that_meet_are_told_apart_by_their_folders(tmp_path: Path) -> None:
    one = copied(SOUND, tmp_path / "in/flat 1/up/hall.yaml")
    two = copied(FIRST, tmp_path / "in/flat 2/hall.yaml")
    three = copied(SOUND, tmp_path / "in/kitchen.yaml")
    done = run("job", one, two, three, "-o", tmp_path / "out", "--pages", "card")
    assert done.exit_code == 0
    assert files_in(tmp_path / "out") == ["flat 1/up/hall.pdf", "flat 2/hall.pdf", "kitchen.pdf"]
    alone = run("job", two, "-o", tmp_path / "alone", "--pages", "card")
    assert alone.exit_code == 0
    assert (tmp_path / "alone/hall.pdf").read_bytes() == (tmp_path / "out/flat 2/hall.pdf").read_bytes()


@pytest.mark.parametrize("names", [
    ("x.yaml", "x.yml"), ("flat:1.yaml", "flat_1.yaml"), ("Hall.yaml", "hall.yaml"),
    ("\u202e.yaml", "\u202d.yaml"), ("e\u0301.yaml", "\u00e9.yaml"),
])
def test_names_that_cannot_be_told_apart_are_refused_and_nothing_is_written(names: tuple[str, str],
                                                                           tmp_path: Path) -> None:
    one, two = (copied(SOUND, tmp_path / "in" / name) for name in names)
    done = run("job", one, two, "-o", tmp_path / "out")
    assert done.exit_code == 2
    lines = done.stderr.splitlines()
    assert len(lines) == 3 and lines[2] == "0 written, 2 not understood."
    assert all("E005 Its file would be called " in line for line in lines[:2])
    assert all(line.endswith(". Give one of them another name.") for line in lines[:2])
    assert not (tmp_path / "out").exists()


def test_those_that_meet_are_refused_before_the_others_are_written(tmp_path: Path) -> None:
    one, two = copied(SOUND, tmp_path / "x.yaml"), copied(SOUND, tmp_path / "x.yml")
    done = run("screen", SOUND, one, two, "-o", tmp_path / "out")
    assert done.exit_code == 2
    assert files_in(tmp_path / "out") == [f"{SOUND.stem}.html"]
    assert done.stderr.splitlines()[-1] == "1 written, 2 not understood."


def test_names_of_pictures_only_stay_apart(tmp_path: Path) -> None:
    files = [copied(SOUND, tmp_path / "in" / f"{name}.yaml") for name in ("\U0001f4a1", "\U0001f3e0")]
    assert run("handout", *files, "-o", tmp_path / "out").exit_code == 0
    assert files_in(tmp_path / "out") == [
        "\U0001f3e0-handout-answers.pdf", "\U0001f3e0-handout.pdf", "\U0001f4a1-handout-answers.pdf",
        "\U0001f4a1-handout.pdf"]


def test_a_file_named_twice_is_done_once(tmp_path: Path) -> None:
    copied(SOUND, tmp_path / "a.yaml")
    done = run("job", tmp_path / "a.yaml", tmp_path / "." / "a.yaml", tmp_path, "-o", tmp_path / "out")
    assert done.exit_code == 0 and done.stdout.splitlines() == [str(tmp_path / "out/a.pdf")]


def test_a_folder_stands_for_every_description_below_it_in_order(tmp_path: Path) -> None:
    for name in ("b/hall.yml", "a/hall.yaml", "a/Attic.YAML", "top.yaml"):
        copied(SOUND, tmp_path / "in" / name)
    for name in (".hidden.yaml", ".old/hall.yaml"):
        copied(BORROWED, tmp_path / "in" / name)
    (tmp_path / "in/a/notes.txt").write_text("not a description")
    done = run("job", tmp_path / "in", "-o", tmp_path / "out", "--pages", "card")
    assert done.exit_code == 0
    assert done.stdout.splitlines() == [
        f"{tmp_path}/out/{name}.pdf" for name in ("a/Attic", "a/hall", "b/hall", "top")]
    checked = run("check", tmp_path / "in")
    assert [line.split(":")[0] for line in checked.stdout.splitlines()] == [
        f"{tmp_path}/in/{name}" for name in ("a/Attic.YAML", "a/hall.yaml", "b/hall.yml", "top.yaml")]


def test_a_folder_without_a_description_is_refused(tmp_path: Path) -> None:
    done = run("job", tmp_path)
    assert done.exit_code == 2
    assert done.stderr == f"{tmp_path}: E002 No description lies in this folder: no file that ends in .yaml or .yml.\n"
    one_only = run("draw", SOUND.parent)
    assert one_only.exit_code == 2
    assert one_only.stderr == f"{SOUND.parent}: E002 This is a folder. Name a description file in it.\n"


@pytest.mark.parametrize("command", ["job", "check", "states", "draw", "screen", "handout"])
def test_what_is_no_description_is_refused_at_once(command: str, tmp_path: Path) -> None:
    large = tmp_path / "large.yaml"
    large.write_bytes(b"job: Large\n" + b"#" * 1_000_000)
    done = run(command, large)
    assert done.exit_code == 2
    assert done.stderr == (f"{large}: E004 The file holds more than 1 MB, too much for a description. "
                           "Describe one dwelling in a file.\n")
    device = run(command, "/dev/zero")
    assert device.exit_code == 2 and device.stderr == "/dev/zero: E003 This is a device, not a file of text.\n"
    missing = run(command, SOUND.parent / "one-way-lop-in.yaml")
    assert missing.exit_code == 2
    assert missing.stderr.endswith("E001 There is no such file. Did you mean 'one-way-loop-in.yaml'?\n")


def test_a_file_of_just_the_bound_is_read(tmp_path: Path) -> None:
    text = SOUND.read_bytes()
    full = tmp_path / "full.yaml"
    full.write_bytes(text + b"#" * (1_000_000 - len(text)))
    assert run("check", full).exit_code == 0


def test_each_side_of_a_comparison_has_its_own_problems(tmp_path: Path) -> None:
    bad_first = run("compare", WRONG, SOUND, "-o", tmp_path)
    assert bad_first.exit_code == 2
    assert all(line.startswith(f"{WRONG}:") for line in bad_first.stderr.splitlines())
    bad_second = run("compare", SOUND, WRONG, "-o", tmp_path)
    assert bad_second.exit_code == 2
    assert all(line.startswith(f"{WRONG}:") for line in bad_second.stderr.splitlines())
    both = run("compare", WRONG, tmp_path / "none.yaml", "-o", tmp_path)
    assert f"{WRONG}:2:1: E301" in both.stderr and f"{tmp_path}/none.yaml: E001" in both.stderr
    words = run("compare", SOUND, "at the moon", "-o", tmp_path)
    assert words.exit_code == 2 and words.stderr.startswith("'at the moon': E")
    assert files_in(tmp_path) == []


def test_a_refusal_passes_from_process_to_process() -> None:
    from sheetgen.draw.layout.sheets import DoesNotFit

    problems = [Problem(Mark(3, 4), "E101", "Wrong.", "Put right."), Problem(Mark(1, 2), "E102", "Also wrong.")]
    again = pickle.loads(pickle.dumps(Refused(problems)))
    assert type(again) is Refused
    assert again.problems == (problems[1], problems[0]) and str(again) == "E102 Also wrong.; E101 Wrong."
    (door,) = (a for a in sheetgen.pipeline.wiring_of(SOUND.read_bytes()).accessories if a.name == "Door")
    large = pickle.loads(pickle.dumps(DoesNotFit(door, "a4")))
    assert type(large) is DoesNotFit and large.accessory == "Door" and len(large.problems) == 1 and "Door" in str(large)


def test_a_group_that_is_not_solved_in_full_says_so_in_every_form(tmp_path: Path) -> None:
    long = tmp_path / "long.yaml"
    long.write_text(chain_of_switches(13))  # 8,192 settings; above 4,096 not all are solved
    rows = run("states", long, "--format", "csv").output.splitlines()
    assert rows[0] == "group,setting,lamp,state,fraction,every setting shown,out also"
    assert len(rows) == 1 + (1 + 13 + 78) + (1 + 13) and all(row.endswith(",no,") for row in rows[1:])
    assert '"complete": false' in run("states", long, "--format", "json").output
    assert "Too many switches for every setting" in run("states", long).output
    short = tmp_path / "short.yaml"
    short.write_text(chain_of_switches(3))
    assert all(row.endswith(",yes,") for row in run("states", short, "--format", "csv").output.splitlines()[1:])
