"""The command `fault`: what it prints and writes, its exit status, and the shape of its JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commands.runs import SOUND, copied, files_in, run
from jsonschema import Draft202012Validator
from pages.jobs import example, says
from pypdfium2 import PdfDocument

from sheetgen.pages.lookup import Lookup
from sheetgen.pages.symptoms import compose as symptoms

CONVERSION = SOUND.with_name("two-way-conversion.yaml")


def test_it_names_the_faults_and_writes_one_sheet(tmp_path: Path) -> None:
    result = run("fault", SOUND, "--seen", "Study dead", "-o", tmp_path)
    assert result.exit_code == 0, result.output
    lines = result.output.splitlines()
    assert lines[0].startswith("24 of 41 faults fit.") and "assumed weights" in lines[0]
    assert lines[1].split("%")[1].strip().startswith("The lamp at Study has failed.")
    assert files_in(tmp_path) == ["one-way-loop-in-fault.pdf"]


def test_the_sheet_bears_the_status_of_the_file(tmp_path: Path) -> None:
    file = copied(SOUND, tmp_path / "study.yaml")
    file.write_text(f"status: as found\n{file.read_text(encoding='utf-8')}", encoding="utf-8")
    assert run("fault", file, "--seen", "Study dead", "-o", tmp_path).exit_code == 0
    said = " ".join(PdfDocument(tmp_path / f"{file.stem}-fault.pdf")[0].get_textpage().get_text_range().split())
    assert "3 Sorrel Row, ground floor · AS FOUND" in said and "on average" in said


def test_printed_the_plan_has_numbered_steps_and_the_caution(tmp_path: Path) -> None:
    result = run("fault", SOUND, "--seen", "Study dead", "--seen", "nothing trips", "--print", "-o", tmp_path)
    assert result.exit_code == 0 and files_in(tmp_path) == []
    assert "Isolate, lock off and prove dead at every accessory" in result.output
    assert "  1  Supply off: Look at the board: circuit 2." in result.output.splitlines()
    assert "       all on: step 2" in result.output.splitlines()


def test_what_fits_nothing_is_said_so(tmp_path: Path) -> None:
    result = run("fault", SOUND, "--seen", "Study dead", "--seen", "Study always on", "-o", tmp_path)
    assert result.exit_code == 1
    assert "either something was seen or read wrongly, or there are two faults" in result.output


@pytest.mark.parametrize(("words", "says"), [
    ("Stduy dead", "There is no lamp called 'Stduy'. Did you mean 'Study'?"),
    ("Door ajar: Study on", "'Door' does not stand at 'ajar'. Known: 'off', 'on'."),
    ("hello", "'hello' does not say what was seen. Write it as in: Landing dead;"),
    ("Study on", "'Study on' does not say how the switches stood."),
    ("", "'' does not say what was seen."),
])
def test_words_that_say_nothing_are_refused(words: str, says: str, tmp_path: Path) -> None:
    result = run("fault", SOUND, "--seen", words, "-o", tmp_path)
    assert result.exit_code == 2 and says in result.output
    assert files_in(tmp_path) == []


def test_the_file_says_the_same_as_the_option(tmp_path: Path) -> None:
    told, words = copied(SOUND, tmp_path / "told.yaml"), "Door on: Study off, nothing trips"
    told.write_text(f"{told.read_text(encoding='utf-8')}\nseen:\n  - {words}\n", encoding="utf-8")
    in_file = json.loads(run("fault", told, "--format", "json").output)
    by_option = json.loads(run("fault", SOUND, "--seen", words, "--format", "json").output)
    assert in_file == by_option and in_file["candidates"] == 14


@pytest.mark.parametrize("said", [["trips"], ["Stairs on in 1 of 4"], ["Stairs dead", "Stairs always on"]])
def test_json_has_the_shape_that_its_schema_says(said: list[str]) -> None:
    words = [w for s in said for w in ("--seen", s)]
    schema = json.loads(run("fault", CONVERSION, "--schema").output)
    Draft202012Validator.check_schema(schema)
    value = json.loads(run("fault", CONVERSION, *words, "--format", "json").output)
    Draft202012Validator(schema).validate(value)
    assert value["candidates"] == len(value["suspects"])
    if value["test"]:
        assert sum(o["candidates"] for o in value["test"]["outcomes"]) == value["candidates"]
        assert set(value["test"]["settings"]) == {"Bottom", "Top"}


def test_symptoms_are_bound_only_where_asked_for(tmp_path: Path) -> None:
    run("job", SOUND, "--pages", "symptoms", "-o", tmp_path / "asked")
    assert "Study lamp dead" in words_of(tmp_path / "asked" / "one-way-loop-in.pdf")
    assert "Door stuck off" in words_of(tmp_path / "asked" / "one-way-loop-in.pdf")
    assert "`" not in words_of(tmp_path / "asked" / "one-way-loop-in.pdf")
    run("job", SOUND, "-o", tmp_path / "all")
    assert "Door stuck off" not in words_of(tmp_path / "all" / "one-way-loop-in.pdf")


def test_a_row_of_symptoms_names_all_its_faults_or_the_page_says_that_it_does_not() -> None:
    """The description looped at the switch has a row of 16, and the bungalow one of 58."""
    (small,), (large,) = (symptoms(Lookup(example(name))) for name in ("loop-at-switch", "bungalow"))
    assert "more" not in says(small) and "by assumed weights. What is not here is two faults" in says(small)
    assert "; 28 more." in says(large)
    assert "by assumed weights, 30 at most. What is not here is one of the less likely, two faults" in says(large)


def words_of(pdf: Path) -> str:
    return " ".join(" ".join(page.get_textpage().get_text_range() for page in PdfDocument(pdf)).split())
