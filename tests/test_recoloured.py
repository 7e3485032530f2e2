"""Redrawing in another colour set: by what each core joins, sleeves fitted, nothing else changed."""

from __future__ import annotations

from pathlib import Path

import pytest

from sheetgen.model.reading import Standing
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import style_of, understood
from sheetgen.solve.wiring_to_solution import wiring_to_solution

EXAMPLES = sorted(Path(__file__).parents[1].joinpath("examples").glob("*.yaml"))


def joins(wiring: Wiring):
    return {core.key: tuple(end.node for end in core.ends) for core in wiring.cores()}


@pytest.mark.parametrize("colours", ["legacy", "current"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_cores_keep_their_ends_and_have_the_colours_of_the_set(path: Path, colours: str) -> None:
    found, solution, reading = understood(path.read_bytes())
    drawn, same, again = understood(path.read_bytes(), colours)
    assert joins(drawn) == joins(found)
    assert same == solution == wiring_to_solution(drawn)
    assert again.roles == reading.roles
    chosen = style_of().sets[colours]
    for cable in drawn.cables:
        if cable.flex and cable.colours != colours:
            continue
        if not cable.single:
            assert sorted(c.colour for c in cable.cores) == sorted(chosen.cores[cable.type])


@pytest.mark.parametrize("colours", ["legacy", "current"])
@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_a_sleeve_that_is_needed_is_fitted_unless_it_was_found_missing(path: Path, colours: str) -> None:
    lacking = {(s.core, s.end) for s in understood(path.read_bytes())[2].sleeves if s.standing is Standing.MISSING}
    for sleeve in understood(path.read_bytes(), colours)[2].sleeves:
        wanted = Standing.MISSING if (sleeve.core, sleeve.end) in lacking else Standing.FITTED
        assert sleeve.standing is wanted, sleeve


def test_a_redrawn_sheet_does_not_hide_missing_sleeves() -> None:
    text = (EXAMPLES[0].parent / "old-meets-new.yaml").read_bytes()
    for colours in ("", "legacy", "current"):
        missing = {(s.core, s.end) for s in understood(text, colours)[2].sleeves if s.standing is Standing.MISSING}
        assert missing == {("W2/2", 0), ("W2/2", 1), ("W2/3", 0), ("W2/3", 1)}


@pytest.mark.parametrize(("sleeve", "redrawn"), [("BU", "BK"), ("GNYE", "GNYE")])
def test_a_redrawn_sheet_does_not_hide_a_wrong_sleeve(sleeve: str, redrawn: str) -> None:
    text = (EXAMPLES[0].parent / "one-way-loop-in.yaml").read_text()
    text = text.replace("sleeved: [blue]", f"sleeved: {{blue: {sleeve}}}")
    found, again = understood(text)[2], understood(text, "legacy")[2]
    assert [(s.has, s.standing) for s in found.sleeves if s.core == "W2/2"] == [(sleeve, Standing.WRONG)] * 2
    assert [(s.has, s.standing) for s in again.sleeves if s.core == "W2/2"] == [(redrawn, Standing.WRONG)] * 2


def test_what_is_in_a_colour_set_already_is_shown_as_found() -> None:
    text = (EXAMPLES[0].parent / "one-way-loop-in.yaml").read_bytes()
    assert understood(text, "current")[0] == understood(text)[0]
    assert understood(text, "legacy")[0].recoloured == "legacy"


def test_the_drop_of_a_loop_in_rose_in_old_colours() -> None:
    """Common practice: red from the loop to the common, black back as switched line, sleeved red."""
    drawn, _, _ = understood((EXAMPLES[0].parent / "one-way-loop-in.yaml").read_bytes(), "legacy")
    drop = {core.ends[0].terminal: core for core in drawn.cable("W2").cores}
    assert (drop["loop"].colour, drop["loop"].ends[0].sleeve) == ("RD", None)
    assert (drop["SL"].colour, drop["SL"].ends[0].sleeve, drop["SL"].ends[1].sleeve) == ("BK", "RD", "RD")


def test_three_wires_between_switches_in_either_set() -> None:
    """Common practice: the common takes the line colour; the other two are sleeved."""
    text = (EXAMPLES[0].parent / "two-way-conversion.yaml").read_bytes()
    for colours, line in (("legacy", "RD"), ("current", "BN")):
        drawn, _, _ = understood(text, colours)
        cores = {core.ends[0].terminal: core for core in drawn.cable("W3").cores}
        assert cores["COM"].colour == line
        assert {cores["L1"].ends[0].sleeve, cores["L2"].ends[1].sleeve} == {line}
