"""What is listed, and a description made by answering questions."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from commands.runs import run

from sheetgen.cli import main


@pytest.mark.parametrize(("topic", "line"), [
    ("accessories", "pendant lampholder       L and N, hung by a flex; options: lamp, cap, hangs from"),
    ("accessories", "                         also: rose, ceiling-rose, pendant rose"),
    ("cables", "bare single                   also: bare cpc, bare earth, bare wire"),
    ("colours", "legacy   line RD, neutral BK, earth GNYE  legacy (red, black)"),
    ("codes", "BK    black"),
    ("methods", "loop: where line and neutral loop"),
    ("methods", "  at the rose           line and neutral looped at the rose"),
    ("methods", "join: how the switches are joined"),
    ("pages", "card"),
])
def test_what_is_listed_stands_in_columns(topic: str, line: str) -> None:
    lines = run("list", topic).output.split("\n")
    assert line in lines
    assert topic.upper() not in lines


def test_a_device_is_listed_with_its_ratings() -> None:
    """Ratings of circuit breakers below 32 A as wholesalers list them: common practice."""
    (line,) = (line for line in run("list", "devices").output.splitlines() if line.startswith("B  "))
    assert line.split("  ")[0] == "B" and " 3 A, 6 A, 10 A, 16 A, 20 A, 32 A  " in line
    assert line.endswith("  circuit breaker or RCBO of type B: type B 6 A")


def test_sizes_of_both_systems_are_listed() -> None:
    last = run("list", "cables").output.splitlines()[-1]
    assert last.startswith("sizes: 0.5, 0.75, 1.0, 1.5, 2.5") and " mm2; old: " in last and "3/.029" in last


def test_the_whole_list_has_every_topic_but_the_schema() -> None:
    said = run("list").output
    heads = [block.splitlines()[0] for block in said.split("\n\n")]
    assert heads == ["ACCESSORIES", "CABLES", "DEVICES", "COLOURS", "CODES", "METHODS", "PAGES"]
    assert run("list", "nothing").exit_code == 2


def answer(*answers: str, options: tuple[str, ...] = ()) -> Result:
    return CliRunner().invoke(main, ["new", "--print", *options], input="\n".join(answers) + "\n")


def test_the_usual_answers_are_taken_by_a_bare_return() -> None:
    done = answer("", "", "", "", "", "", "")
    assert done.exit_code == 0
    for line in ("job: Landing light", "lights: [Landing]", "switches: [Hall, Landing]", "colours: current",
                 "method: {loop: at the rose, switching: two-way, join: conversion, wired: sheathed cable}"):
        assert line in done.output.splitlines()


def test_other_answers() -> None:
    done = answer("Porch, Drive", " Hall ", "2", "1", "2", "Outside: lights")
    assert done.exit_code == 0
    lines = done.output.splitlines()
    assert any(line.endswith('job: "Outside: lights"') for line in lines)
    for line in ("lights: [Porch, Drive]", "switches: [Hall]", "colours: legacy"):
        assert line in lines
    (method,) = (line for line in lines if line.startswith("method: "))
    assert "switching: one-way" in method and "wired: singles in conduit" in method
    assert "Number" in done.output and "  2  singles in conduit" in lines


def test_what_the_options_say_is_not_asked() -> None:
    options = ("--light", "Attic", "--wired", "sheathed cable", "--loop", "at the rose", "--colours", "legacy",
               "--job", "Attic", "--place", "Mill")
    done = answer("Hall", options=options)
    assert done.exit_code == 0
    assert "Rooms with a switch" in done.output and "Rooms with a light" not in done.output
    assert not any(question in done.output for question in ("Wired in", "Line and neutral loop:", "Colours:", "called"))
    assert "lights: [Attic]" in done.output and "colours: legacy" in done.output and "place: Mill" in done.output


def test_a_full_description_is_called_after_its_source(tmp_path: Path) -> None:
    made = run("new", "--light", "A", "--switch", "B", "-o", tmp_path)
    assert made.exit_code == 0 and (tmp_path / "A light.yaml").is_file()
    full = run("new", "--from", tmp_path / "A light.yaml", "-o", tmp_path)
    assert full.exit_code == 0 and full.stdout == f"{tmp_path}/A light-full.yaml\n"
    assert run("check", tmp_path / "A light-full.yaml").exit_code == 0
    missing = run("new", "--from", tmp_path / "none.yaml", "--print")
    assert missing.exit_code == 2 and missing.stderr.startswith(f"{tmp_path}/none.yaml: E001")


def test_an_answer_may_be_a_name_and_a_wrong_one_is_asked_again() -> None:
    done = answer("Porch", "Hall", "SINGLES in conduit", "9", "0", "at the roze", "line at the switches", "Legacy", "")
    assert done.exit_code == 0
    said = done.output
    assert "'9' is neither a number from 1 to " in said and "'0' is neither a number" in said
    assert "'at the roze' is neither a number from 1 to " in said
    assert "loop: line at the switches" in said and "wired: singles in conduit" in said and "colours: legacy" in said
    assert "The switches are joined by" not in said  # one switch: there is nothing to choose


def test_every_number_of_a_list_is_its_own_answer() -> None:
    joins = [answer("", "", "1", "1", number, "1", "").output for number in ("1", "2")]
    assert "join: conversion" in joins[0] and "join: line carried through" in joins[1]
    assert "\nLine and neutral loop:\n  1  at the rose\n" in joins[0]
    assert "The switches are joined by:\n  1  conversion\n  2  line carried through\n" in joins[0]


def test_what_was_answered_is_written_and_nothing_else_was() -> None:
    options = ("--light", "Attic", "--switch", "Stairs", "--switch", "Attic")
    asked = CliRunner().invoke(main, ["new", "--print", *options])
    assert asked.exit_code == 0
    assert "method: {loop: at the rose, switching: two-way, join: conversion, wired: sheathed cable}" in (
        asked.output.splitlines())
    assert "job: Attic light" in asked.output and "1: {serves: Attic light}" in asked.output
