"""The forms of a survey: every accessory of a usual house, each on one sheet, and what a file knows filled in."""

from __future__ import annotations

import json
import re
from pathlib import Path

from commands.runs import SOUND, files_in, run
from pages.jobs import says
from pypdfium2 import PdfDocument

from sheetgen.catalogue.accessories import find
from sheetgen.pages.survey import SurveyForm, compose
from sheetgen.pipeline import wiring_of
from sheetgen.pipeline.survey import PACK

HALF_KNOWN = """\
job: Half of it known
board: {ways: {4: {serves: Upstairs lights, device: unknown, rcd: none, off: yes}}}
colours: legacy
accessories:
  Landing: {kind: ceiling rose, room: Landing}
  Hall: {kind: two-way switch, room: Hall, opened: no}
cables:
  W1: {type: twin and earth 1.0, from: way 4, to: Landing, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Landing, to: Hall, cores: {red: [loop, ?], black: [SL, ?], cpc: [E, ?]}}
  W5: {type: twin and earth 1.0, at: Landing, cores: {red: loop, black: N, cpc: E}}
"""


def sheets(pdf: Path) -> list[str]:
    return [" ".join(page.get_textpage().get_text_range().split()) for page in PdfDocument(pdf)]


def test_the_pack_has_a_sheet_for_each_accessory_of_a_usual_house(tmp_path: Path) -> None:
    result = run("survey", "-o", tmp_path)
    assert result.exit_code == 0 and files_in(tmp_path) == ["survey.pdf"]
    found = sheets(tmp_path / "survey.pdf")
    titles = ["before anything is touched", "Ceiling rose, three terminal blocks", "Ceiling rose, two terminal blocks",
              "One-way switch", "Two-way switch", "Intermediate switch", "Two-gang plate", "Three-gang plate",
              "Joint box, four terminals", "Light fitting", "Three-pole fan isolator", "Timer fan"]
    assert len(found) == len(titles)
    for sheet, title in zip(found, titles, strict=True):
        assert f"Survey: {title}" in sheet
        assert "Isolate, lock off and prove dead at every accessory" in sheet
    assert all("Photographs" in sheet for sheet in found)
    assert all(" Job " in sheet for sheet in found), "forms are torn apart: each has a box for the job"
    assert all("A connector that lies loose is a terminal too" in sheet for sheet in found[1:])
    assert " SL " in found[-1].split("In the file")[0], "the switched line of a fan"
    assert "motor" not in found[-1], "a point within the fan"
    assert found[7].count("Cable Core Terminal Sleeve") == 4, "three gangs have many cores"
    assert found[4].count("Cable Core Terminal Sleeve") == 2
    for terminal in ("N", "loop", "E", "SL"):
        assert f" {terminal} " in found[1]
    assert "loop" not in found[2].split("In the file")[0]
    assert "What works what" in found[0] and "How the switches stood" in found[0]


def test_the_columns_of_the_cores_are_in_the_order_of_the_file(tmp_path: Path) -> None:
    run("survey", "-o", tmp_path)
    assert "Cable Core Terminal Sleeve" in sheets(tmp_path / "survey.pdf")[1]


EXAMPLES = Path(__file__).parents[2] / "examples" / "finding-out"


def test_what_was_seen_of_a_lamp_stands_on_the_first_form_and_as_found_on_every_one(tmp_path: Path) -> None:
    text = (EXAMPLES / "half-known.yaml").read_text(encoding="utf-8") + "  - Landing works\n"
    file = tmp_path / "half.yaml"
    file.write_text(text, encoding="utf-8")
    assert run("survey", file, "-o", tmp_path).exit_code == 0
    found = sheets(tmp_path / "half-survey.pdf")
    assert "Landing lamp Hall and Top works" in found[0]
    assert len(found) == 2 and all("Bryony House, first floor · AS FOUND" in sheet for sheet in found)


def test_a_file_gets_forms_for_what_it_does_not_know(tmp_path: Path) -> None:
    file = tmp_path / "half.yaml"
    file.write_text(HALF_KNOWN, encoding="utf-8")
    assert run("survey", file, "-o", tmp_path / "out").exit_code == 0
    found = sheets(tmp_path / "out" / "half-survey.pdf")
    assert len(found) == 2, "the first sheet and the switch that was not opened: of the rose all is known"
    assert "Cables of which the other end was not found: W5 (twin and earth, seen at Landing)." in found[0]
    assert "4 Upstairs lights none yes" in found[0]
    assert "Survey: Hall" in found[1] and "W2 twin and earth 1.0 Landing" in found[1]
    assert "W2 RD W2 BK W2 bare" in found[1]


def test_a_whole_description_has_nothing_to_survey(tmp_path: Path) -> None:
    result = run("survey", SOUND, "-o", tmp_path)
    assert result.exit_code == 0 and "there is nothing to survey" in result.output and files_in(tmp_path) == []


def test_of_a_place_that_nobody_has_opened_the_sleeves_are_left_to_be_written_in(tmp_path: Path) -> None:
    """What is on the cores at Hall nobody can have seen, though their terminals are told."""
    file = tmp_path / "half.yaml"
    file.write_text(HALF_KNOWN.replace("red: [loop, ?]", "red: [loop, L1]"), encoding="utf-8")
    assert run("survey", file, "-o", tmp_path / "out").exit_code == 0
    (_, hall) = sheets(tmp_path / "out" / "half-survey.pdf")
    assert "W2 RD L1 W2 BK W2 bare" in hall


def test_the_line_to_be_typed_is_of_the_accessory_of_the_form() -> None:
    """Each is taken for a form of every kind of the pack, and a neutral bears no sleeve."""
    for word, options in PACK:
        entry = find(word)
        assert entry is not None
        (_, page) = compose([SurveyForm(entry.build(options))])
        line = re.search(r"In the file: (W1: .*?})\. Where", says(page))
        assert line, word
        kind = json.dumps({"kind": word, "room": "Landing", **options})
        text = f"job: A form\ncolours: legacy\naccessories:\n  Landing: {kind}\ncables:\n  {line[1]}\n"
        cable = wiring_of(text).cable("W1")
        ends = [(core.ends[0].terminal, bool(core.ends[0].sleeve)) for core in cable.cores[:2]]
        assert all(terminal for terminal, _ in ends), word
        assert not any(sleeved and terminal.startswith("N") for terminal, sleeved in ends)
    switch = compose([SurveyForm(find("one-way switch").build({}))])[1]
    assert "cores: {red: COM, black: L1, cpc: E}, sleeved: [black]}." in says(switch)
    rose = compose([SurveyForm(find("ceiling rose").build({}))])[1]
    assert "cores: {red: loop, black: N, cpc: E}}." in says(rose)
