"""The sheets: questions and answers are files of their own, under the same numbers; the questions give nothing away."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from pdfminer.high_level import extract_text

from sheetgen.model.drawing import Line, Text
from sheetgen.model.page import Columns, Page, Picture, Table, Words
from sheetgen.model.problems import Refused
from sheetgen.pages.handout import compose
from sheetgen.pipeline import Look, style_of
from sheetgen.pipeline.handout import Wish, enlarged, handout_of, handout_sheets
from sheetgen.print.pdf.columns import ColumnFlow, FilledColumns
from sheetgen.print.pdf.fewest import fewest_sheets
from sheetgen.print.pdf.frames import paper_of
from sheetgen.print.pdf.placing import place_pages
from sheetgen.print.pdf.tables import PlacedTable
from sheetgen.print.pdf.typesetting import Typesetting

EXAMPLES = Path(__file__).parent.parent.parent / "examples"
TEXT = (EXAMPLES / "two-way-conversion.yaml").read_bytes()
USUAL = Wish()


def tables(pages: list[Page]) -> list[Table]:
    found = []
    for page in pages:
        for block in page.blocks:
            if isinstance(block, Table):
                found.append(block)
            if isinstance(block, Columns):
                found += [b for group in block.groups for b in group if isinstance(b, Table)]
    return found


def asked(text: bytes | str, wish: Wish = USUAL) -> str:
    """All that the sheets for the class say."""
    return extract_text(io.BytesIO(handout_sheets(text, Look(), wish)[0]))


@pytest.fixture(scope="module")
def handout():
    return handout_of(TEXT, Look(), style_of(Look()), Wish(versions=2))


def test_questions_and_answers_stand_apart_under_the_same_numbers(handout):
    questions, answers = compose(handout)
    assert not [page for page in questions if page.title.startswith("Answers")]
    assert all(page.title.startswith("Answers") for page in answers)
    asked = [t for t in tables(questions) if "Question" in t.head]
    told = [t for t in tables(answers) if "Question" in t.head]
    assert len(asked) == len(told) == 2
    for questions, answers, version in zip(asked, told, handout.versions, strict=True):
        assert questions.boxes == (2,) and all(row[2] == "" for row in questions.rows)
        assert [row[:2] for row in questions.rows] == [row[:2] for row in answers.rows]
        assert [row[0] for row in questions.rows] == [str(i) for i in range(1, len(questions.rows) + 1)]
        assert [row[2] for row in answers.rows] == [Words(q.answer, "strong") for q in version.questions]


def test_boxes_to_write_in_take_the_room_that_is_left_and_no_sheet_more(handout):
    questions, _ = compose(handout)
    style = style_of(Look())
    plain = place_pages(questions, Typesetting(style), paper_of(style))
    roomy, _ = fewest_sheets(questions, style, paper_of(style))
    assert len(roomy) == len(plain) == 4  # for each of two versions the drawing, and cables with questions
    assert roomy[3].filled > plain[3].filled
    least = [min(row.height for table in boxed(sheets) for row in table.rows) for sheets in (plain, roomy)]
    assert least[1] > 1.25 * least[0]


def boxed(sheets) -> list[PlacedTable]:
    """The tables with boxes to write in."""
    return [piece for sheet in sheets for _, _, flow in sheet.placed if isinstance(flow, ColumnFlow | FilledColumns)
            for column in flow.columns for group in column for piece in group.pieces
            if isinstance(piece, PlacedTable) and piece.boxes]


def test_a_class_writes_its_names_on_the_drawing_too():
    drawing, questions = extract_text(io.BytesIO(handout_sheets(TEXT, Look(), USUAL)[0])).split("\f")[:2]
    assert "Draw it" in drawing and "Name" in drawing.splitlines()
    assert "Questions" in questions and "Name" in questions.splitlines()


def test_the_state_table_is_blank_for_the_class_and_filled_in_the_answers(handout):
    blank, *_, filled = [t for pages in compose(handout) for t in tables(pages) if "Stairs lamp" in t.head]
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
    sheets = handout_sheets(TEXT, Look(mono=True), Wish(versions=2, seed=3), source="x.yaml")
    assert sheets == handout_sheets(TEXT, Look(mono=True), Wish(versions=2, seed=3), source="x.yaml")
    asked, answered = (extract_text(io.BytesIO(pdf)) for pdf in sheets)
    assert all(words in asked for words in ("Questions A", "Questions B", "What to do."))
    assert "Answers: the drawing" in answered and "Answers" not in asked and "What to do." not in answered


def test_large_text_is_large():
    style = style_of(Look())
    large = enlarged(style)
    assert all(large.letterings[role].size >= 1.28 * style.letterings[role].size
               for role in style.letterings if role != "unknown")
    assert large.letterings["unknown"].size == style.letterings["unknown"].size, "it would be struck by its disc"
    handout = handout_of(TEXT, Look(), large)
    pictures = [b for pages in compose(handout) for page in pages for b in page.blocks if isinstance(b, Picture)]
    assert pictures and all(pdf.startswith(b"%PDF") for pdf in handout_sheets(TEXT, Look(), Wish(large=True)))


@pytest.mark.parametrize("name", ["three-switches", "two-way-line-at-switch"])
def test_the_questions_keep_to_one_sheet(name: str):
    text = asked((EXAMPLES / f"{name}.yaml").read_bytes())
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
    handouts = [handout_of(ALL_BLACKS_TOGETHER, Look(), style_of(Look()), Wish(4, seed)) for seed in range(4)]
    asked = [q for handout in handouts for v in handout.versions for q in v.questions]
    abouts = [dict(q.about) for q in asked]
    assert any(about.get("core") == "W2/1" for about in abouts)
    assert all(about.get("core") != "W2/2" and about.get("cable") != "W2" for about in abouts)
    assert "method" not in {q.kind for q in asked}


def test_a_question_sheet_does_not_tell_of_a_danger():
    text = asked(ALL_BLACKS_TOGETHER)
    assert "Questions" in text and "DANGER" not in text


HARDER = Wish(versions=3, harder=True)


def test_the_harder_form_asks_for_the_circuit_and_says_what_it_is_to_do():
    text = " ".join(asked(TEXT, HARDER).split())
    assert "Stairs lamp: worked by Bottom and Top. Line and neutral looped at the rose; two-way, three wires" in text
    assert "With Bottom at L1, Top at L1: Stairs lamp off." in text
    assert "BN, BK, GY, bare" in text


@pytest.mark.parametrize("name", ["two-way-conversion", "by-method", "joint-boxes", "two-strappers-conduit"])
def test_the_harder_form_never_tells_where_a_core_ends(name: str):
    """No sentence names a core of a cable together with a terminal; no terminal shows how many conductors it takes."""
    handout = handout_of((EXAMPLES / f"{name}.yaml").read_bytes(), Look(), style_of(Look()), HARDER)
    for drawing in handout.open_drawings:
        assert not [s for s in drawing.shapes if isinstance(s, Line) and s.role == "row line"]
    questions, answers = compose(handout)
    given = [row for t in tables(questions) if "Cores" in t.head for row in t.rows]
    codes = {"BN", "BU", "BK", "GY", "RD", "YE", "bare", "GNYE"}
    assert given and all({core.split()[0] for core in row[2].split(", ")} <= codes for row in given)
    assert not [row for row in given if " to " in row[2]]
    asks = [row[1] for t in tables(questions) if "Question" in t.head for row in t.rows]
    assert asks and not [ask for ask in asks if re.search(r"\bon .+: what is|exchanged|are at line|wiring method", ask)]
    assert [row[1] for t in tables(answers) if "Question" in t.head for row in t.rows] == asks


def test_the_harder_form_is_refused_where_an_end_is_not_known():
    with pytest.raises(Refused) as refused:
        handout_sheets((EXAMPLES / "finding-out" / "half-known.yaml").read_bytes(), Look(), HARDER)
    assert {p.code for p in refused.value.problems} == {"E332"}
