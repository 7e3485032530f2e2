"""`--colours both`: the circuit in red and black, then in brown and blue; what colours change is asked in each."""

from __future__ import annotations

from pathlib import Path

import pytest
from commands.runs import files_in, run
from pypdfium2 import PdfDocument

from sheetgen.pipeline import Look, style_of
from sheetgen.pipeline.handout import handout_of

EXAMPLES = Path(__file__).parents[2] / "examples"
CONVERSION = EXAMPLES / "two-way-conversion.yaml"
OLD, NEW = "legacy (red, black)", "current (brown, blue)"


def sheets(folder: Path, name: str) -> list[str]:
    """What each sheet of a PDF says."""
    pdf = PdfDocument((folder / f"{name}.pdf").read_bytes())
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in pdf]


def test_the_circuit_is_drawn_in_one_set_after_the_other_and_asked_about_in_both(tmp_path: Path) -> None:
    assert run("handout", CONVERSION, "--colours", "both", "-o", tmp_path).exit_code == 0
    old, new, questions = sheets(tmp_path, "two-way-conversion-handout")
    assert f"Draw it, {OLD}" in old and "RD loop to L1, BK SL to L2" in old and "BN loop" not in old
    assert f"Draw it, {NEW}" in new and "BN loop to L1, BU SL to L2" in new and "RD loop" not in new
    assert questions.count("State table") == 1
    before, after = questions.split(f"Colours: {NEW}")
    assert f"Colours: {OLD}" in before and "(red)" in before and "(brown)" not in before
    assert "(brown)" in after and "(red)" not in after and "on or off then" not in after
    answers = sheets(tmp_path, "two-way-conversion-handout-answers")
    assert [f"Answers: the drawing, {title}" in sheet for title, sheet in zip((OLD, NEW), answers, strict=False)] == [
        True, True]


def test_the_second_set_asks_about_other_cores_than_the_first() -> None:
    handout = handout_of(CONVERSION.read_bytes(), Look("both"), style_of())
    first, second = ([q for q in side.versions[0].questions if q.kind in ("conductor", "exchange")]
                     for side in (handout, handout.also))
    assert first and second and {q.about for q in first}.isdisjoint({q.about for q in second})
    assert {q.kind for q in handout.also.versions[0].questions} == {"conductor", "sleeves", "exchange"}


@pytest.mark.parametrize(("name", "said"), [
    ("two-way-conversion", f"COLOURS NOT AS FOUND: {OLD}"), ("two-strappers-conduit", f"COLOURS NOT AS FOUND: {NEW}"),
    ("old-meets-new", "COLOURS NOT AS FOUND"), ("by-method", ""),
])
def test_every_sheet_says_which_colours_were_not_found(name: str, said: str, tmp_path: Path) -> None:
    assert run("handout", EXAMPLES / f"{name}.yaml", "--colours", "both", "-o", tmp_path).exit_code == 0
    for file in (f"{name}-handout", f"{name}-handout-answers"):
        for sheet in sheets(tmp_path, file):
            assert (said in sheet) if said else ("FOUND" not in sheet)
            assert said.endswith(")") or "FOUND: " not in sheet


def test_a_fault_is_the_same_one_in_both_sets(tmp_path: Path) -> None:
    assert run("handout", CONVERSION, "--fault", "--colours", "both", "-o", tmp_path).exit_code == 0
    old, new = sheets(tmp_path, "two-way-conversion-fault-handout-answers")
    assert "the red core of W3 is on L1, the yellow core of W3 on COM" in old and OLD in old
    assert "the brown core of W3 is on L1, the black core of W3 on COM" in new and NEW in new
    drawn = sheets(tmp_path, "two-way-conversion-fault-handout")
    assert [f"as it should be, {title}" in sheet for title, sheet in zip((OLD, NEW), drawn, strict=False)] == [
        True, True]


@pytest.mark.parametrize("command", ["job", "draw", "compare"])
def test_only_a_handout_is_in_both(command: str, tmp_path: Path) -> None:
    done = run(command, CONVERSION, *(("at the switch",) if command == "compare" else ()), "--colours", "both",
               "-o", tmp_path)
    assert done.exit_code == 2 and "Give one of them here: current or legacy." in done.output
    assert files_in(tmp_path) == []


FLEX = """
job: Flex alone
accessories: {Rose: {kind: rose}, Pull: {kind: switch}}
cables:
  F1: {type: two-core flex 0.75, colours: current, from: way 1, to: Rose, cores: {BN: [L, loop], BU: [N, N]}}
  F2: {type: two-core flex 0.75, colours: current, from: Rose, to: Pull, cores: {BN: [loop, COM], BU: [SL, L1]}}
"""


def test_where_both_are_the_same_it_is_refused(tmp_path: Path) -> None:
    file = tmp_path / "flex.yaml"
    file.write_text(FLEX, encoding="utf-8")
    done = run("handout", file, "--colours", "both", "-o", tmp_path / "out")
    assert done.exit_code == 2 and "E413 No core of this circuit has another colour" in done.output
    assert not (tmp_path / "out").exists()
