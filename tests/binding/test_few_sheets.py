"""How many sheets a job takes: the aims that were set for paper, in the size of text that they cost."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.model.page import Page, Spare, Words
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, job_of, style_of
from sheetgen.print.pdf.fewest import fewest_sheets
from sheetgen.print.pdf.frames import paper_of

EXAMPLES = Path(__file__).parents[2] / "examples"
FAN = b"""
job: A bathroom fan
board: {earthing: TN-S, ze: 0.4 ohm, ways: {1: {serves: Bathroom, device: type B 6 A, rcd: 30 mA}}}
accessories:
  Bathroom: {kind: batten lampholder, loop: yes, room: Bathroom, lamp: 8 W}
  Cord: {kind: pull-cord switch, room: Bathroom}
  Isolator: {kind: fan isolator, room: Landing}
  Fan: {kind: timer fan, room: Bathroom}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Bathroom, length: 9 m, method: 100,
       cores: {brown: [L, loop], blue: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Bathroom, to: Cord, length: 3 m, method: C,
       cores: {brown: [loop, COM], blue: [L, L1], cpc: [E, E]}, sleeved: [blue]}
  W3: {type: three-core and earth 1.0, from: Bathroom, to: Isolator, length: 3 m, method: C,
       cores: {brown: [loop, L in], black: [L, SL in], grey: [N, N in], cpc: [E, E]},
       sleeved: {black: brown, grey: blue}}
  W4: {type: three-core and earth 1.0, from: Isolator, to: Fan, length: 2 m, method: C,
       cores: {brown: [L out, L], black: [SL out, SL], grey: [N out, N], cpc: [E, E]},
       sleeved: {black: brown, grey: blue}}
"""


def sheets_of(text: bytes, name: str = "") -> int:
    """The sheets of a whole job on A4, in colour."""
    style = style_of(Look())
    return len(fewest_sheets(job_to_pages(job_of(text, Look(), name)), style, paper_of(style))[0])


@pytest.mark.parametrize(("name", "most"), [
    ("large-house", 12), ("bungalow", 8), ("two-way-conversion", 5), ("two-way-line-at-switch", 5),
    ("two-way-line-at-switch-current", 5), ("two-strappers-conduit", 5), ("one-way-loop-in", 4),
])
def test_an_example_takes_no_more_sheets_than_was_aimed_at(name, most):
    assert sheets_of((EXAMPLES / f"{name}.yaml").read_bytes(), name) <= most


def test_a_bathroom_fan_alone_takes_five():
    assert sheets_of(FAN) <= 5


def test_what_is_said_elsewhere_too_is_left_out_only_to_do_without_a_sheet():
    style, drawn = style_of(Look()), Words("what is drawn")
    spare = Spare(tuple(Words("what the card says too") for _ in range(8)))
    fewer = 0
    for lines in range(20, 90):
        after = Page("operation", "Operation", tuple(Words("a line") for _ in range(lines)), follows=True)
        bare, _ = fewest_sheets((Page("wiring", "Wiring", (drawn,)), after), style, paper_of(style))
        fixed, _ = fewest_sheets((Page("wiring", "Wiring", (drawn, *spare.blocks)), after), style, paper_of(style))
        sheets, _ = fewest_sheets((Page("wiring", "Wiring", (drawn, spare)), after), style, paper_of(style))
        printed = len({id(piece) for sheet in sheets for _, _, piece in sheet.placed}) >= lines + 9
        assert len(sheets) == len(bare)
        assert printed == (len(fixed) == len(bare)), "printed wherever it costs no sheet"
        fewer += len(fixed) > len(bare)
    assert fewer, "some of these are a sheet fewer without"
