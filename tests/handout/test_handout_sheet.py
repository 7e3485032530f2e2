"""The sheets: questions first, answers on sheets of their own under the same numbers, nothing given away before."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from pdfminer.high_level import extract_text

from sheetgen.model.drawing import Line, Text
from sheetgen.model.page import Columns, Page, Picture, Table, Words
from sheetgen.pages.handout import compose
from sheetgen.pipeline import Look, style_of
from sheetgen.pipeline.handout import enlarged, handout_of, handout_sheet

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
TEXT = (EXAMPLES / "two-way-conversion.yaml").read_bytes()


def tables(pages: list[Page]) -> list[Table]:
    found = []
    for page in pages:
        for block in page.blocks:
            if isinstance(block, Table):
                found.append(block)
            if isinstance(block, Columns):
                found += [b for group in block.groups for b in group if isinstance(b, Table)]
    return found


@pytest.fixture(scope="module")
def handout():
    return handout_of(TEXT, Look(), style_of(Look()), versions=2)


def test_questions_come_before_answers_under_the_same_numbers(handout):
    pages = list(compose(handout))
    first = next(i for i, page in enumerate(pages) if page.title.startswith("Answers"))
    assert all(page.title.startswith("Answers") for page in pages[first:])
    asked = [t for t in tables(pages[:first]) if "Question" in t.head]
    told = [t for t in tables(pages[first:]) if "Question" in t.head]
    assert len(asked) == len(told) == 2
    for questions, answers, version in zip(asked, told, handout.versions, strict=True):
        assert questions.boxes == (2,) and all(row[2] == "" for row in questions.rows)
        assert [row[:2] for row in questions.rows] == [row[:2] for row in answers.rows]
        assert [row[0] for row in questions.rows] == [str(i) for i in range(1, len(questions.rows) + 1)]
        assert [row[2] for row in answers.rows] == [Words(q.answer, "strong") for q in version.questions]


def test_the_state_table_is_blank_for_the_class_and_filled_in_the_answers(handout):
    pages = list(compose(handout))
    blank, *_, filled = [t for t in tables(pages) if "Stairs lamp" in t.head]
    assert blank.boxes == (2,) and [row[2] for row in blank.rows] == [""] * 4
    assert [row[2] for row in filled.rows] == ["○ off", "● on", "○ off", "● on"]
    assert [row[:2] for row in blank.rows] == [row[:2] for row in filled.rows]


def test_the_open_drawing_has_terminals_and_cables_but_no_conductor_or_colour(handout):
    for drawing, whole in zip(handout.open_drawings, handout.job.drawings, strict=True):
        assert not [s for s in drawing.shapes if isinstance(s, Line) and s.role.startswith("conductor")]
        said = {s.text for s in drawing.shapes if isinstance(s, Text)}
        assert {"COM", "L1", "L2", "loop", "SL", "W1", "W2", "W3"} <= said and not said & {"BN", "BU", "BK", "GY"}
        assert (drawing.width, drawing.height) == (whole.width, whole.height)


def test_it_is_the_same_bytes_twice_and_says_the_questions():
    pdf = handout_sheet(TEXT, Look(mono=True), versions=2, seed=3, source="x.yaml")
    assert pdf == handout_sheet(TEXT, Look(mono=True), versions=2, seed=3, source="x.yaml")
    text = extract_text(io.BytesIO(pdf))
    assert "Questions A" in text and "Questions B" in text and "What to do." in text


def test_large_text_is_large():
    style = style_of(Look())
    large = enlarged(style)
    assert all(large.letterings[role].size >= 1.28 * style.letterings[role].size for role in style.letterings)
    handout = handout_of(TEXT, Look(), large)
    pictures = [b for page in compose(handout) for b in page.blocks if isinstance(b, Picture)]
    assert pictures and handout_sheet(TEXT, Look(), large=True).startswith(b"%PDF")


@pytest.mark.parametrize("name", ["three-switches", "two-way-line-at-switch"])
def test_the_questions_keep_to_one_sheet(name: str):
    text = extract_text(io.BytesIO(handout_sheet((EXAMPLES / f"{name}.yaml").read_bytes(), Look())))
    assert "Questions" in text and "Questions, continued" not in text


ALL_BLACKS_TOGETHER = """
job: All blacks together
colours: legacy
accessories:
  Bedroom: {kind: rose, lamp: 60 W}
  Door: {kind: switch}
cables:
  W1: {type: t&e 1.0, from: way 1, to: Bedroom, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: t&e 1.0, from: Bedroom, to: Door, cores: {red: [loop, COM], black: [N, L1], cpc: [E, E]}}
"""


def test_a_core_on_a_wrong_terminal_is_no_lesson():
    """The black of the switch drop lies in the neutral block: that it is a neutral there is not what a class learns."""
    asked = [q for seed in range(4) for v in handout_of(ALL_BLACKS_TOGETHER, Look(), style_of(Look()), 4, seed).versions
             for q in v.questions]
    abouts = [dict(q.about) for q in asked]
    assert any(about.get("core") == "W2/1" for about in abouts)
    assert all(about.get("core") != "W2/2" and about.get("cable") != "W2" for about in abouts)
    assert "method" not in {q.kind for q in asked}


def test_a_question_sheet_does_not_tell_of_a_danger():
    text = extract_text(io.BytesIO(handout_sheet(ALL_BLACKS_TOGETHER, Look())))
    assert "Questions" in text and "DANGER" not in text
