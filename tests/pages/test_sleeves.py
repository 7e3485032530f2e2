"""What is said of the sleeves of a job, counted by hand from the descriptions."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pages.jobs import EXAMPLES, example, faulty, job_of, says, tables, words

from sheetgen.draw.wiring.legend import legend
from sheetgen.model.drawing import Drawing, Text
from sheetgen.model.job import Job
from sheetgen.model.wiring import Status
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.pipeline import style_of, wiring_of


@pytest.mark.parametrize(("job", "said", "proposed"), [
    # yellow and blue of W3 and its bare cpc, at both ends
    (example("two-way-line-at-switch"), "None to fit. 4 fitted, 2 assumed fitted.",
     "6 to fit: 4 red and 2 green-and-yellow."),
    # blue of W7 is on a neutral terminal, blue and brown of W12 on those of line and neutral crossed: they wait
    (faulty("sparks"), "None to fit before the findings are put right. Where cores are not traced: not known yet. 29 "
     "assumed fitted.",
     "29 to fit: 29 green-and-yellow; no others before the findings are put right. Where cores are not traced: not "
     "known yet."),
    # black of W14 and red of W15 carry their own colour at both ends; blue of W11 is a line between two commons, and
    # what is on neutral terminals as line, or at switches as neutral, waits; the bare core of W6 is a line
    (faulty("old-farmhouse"), "2 to fit: 2 red; no others before the findings are put right. Where cores are not "
     "traced: not known yet. 2 fitted, 15 assumed fitted. 4 not needed.", "19 to fit: 15 green-and-yellow and 4 red; "
     "no others before the findings are put right. Where cores are not traced: not known yet. 4 not needed."),
], ids=lambda given: given.source if isinstance(given, Job) else "")
def test_how_many_sleeves_are_to_fit_and_how_many_are_there(job: Job, said: str, proposed: str) -> None:
    """On a proposal none is there yet, and all that are needed are to fit."""
    assert sleeves_to_fit(Lookup(job)) == said
    planned = replace(job, wiring=replace(job.wiring, status=Status.PROPOSED))
    assert sleeves_to_fit(Lookup(planned)) == proposed


def test_on_a_proposal_every_sleeve_is_to_be_fitted_on_every_page() -> None:
    """Black and grey of both three-cores in brown, the bare cpcs of four cables, each at both ends: 8 and 8."""
    text = (EXAMPLES / "stock" / "porters-lodge.yaml").read_bytes()
    job = job_of(wiring_of(text))
    (cables,) = job_to_pages(job, ("cables",))
    for colour in ("brown", "green-and-yellow"):
        assert f"8 \N{MULTIPLICATION SIGN} {colour} sleeve" in says(cables)
    assert "sleeves on bare cpcs" not in says(cables)  # as assumed to be there
    drawn = words_of(legend(job.wiring, job.reading, style_of()))
    assert "sleeve of the proposal, to be fitted" in drawn and "fitted; " not in drawn.replace("to be fitted; ", "")
    found = job_of(wiring_of(text.replace(b"status: proposed", b"status: as found")))
    assert "sleeve, assumed fitted" in words_of(legend(found.wiring, found.reading, style_of()))
    assert "Sleeving needed" not in says(*job_to_pages(found, ("cables",)))


def words_of(drawing: Drawing) -> str:
    return "\n".join(shape.text for shape in drawing.shapes if isinstance(shape, Text))


def test_where_a_cure_alone_has_a_sleeve_fitted_it_is_not_said_that_none_is_to_be_fitted() -> None:
    """The switched blue of W2 is with the neutrals: as found it needs no sleeve, put on SL it needs brown."""
    job = job_of(wiring_of(ONE_LIGHT.format(blue="N", opened="yes", sleeved="")))
    assert any("sleeve the blue core of W2 brown at both ends" in cure.says
               for f in job.reading.findings for cure in f.cures)
    assert sleeves_to_fit(Lookup(job)) == "None to fit before the findings are put right. 4 assumed fitted."
    (cables,) = job_to_pages(job, ("cables",))
    assert "Sleeving needed" in says(cables) and "None before the findings are put right." in says(cables)
    sound = job_of(wiring_of(ONE_LIGHT.format(blue="SL", opened="yes", sleeved="sleeved: [BU],")))
    assert sleeves_to_fit(Lookup(sound)) == "None to fit. 2 fitted, 4 assumed fitted."


def test_no_sleeve_is_shown_counted_or_assumed_where_nobody_has_opened_the_accessory() -> None:
    """Of W1 and W2 the ends at the board and at the switch alone can have been seen."""
    job = job_of(wiring_of(ONE_LIGHT.format(blue="SL", opened="no", sleeved="sleeved: [BU],")))
    said = sleeves_to_fit(Lookup(job))
    assert said.endswith("1 fitted, 2 assumed fitted."), said
    (page,) = job_to_pages(job, ("connections",))
    rows = {tuple(words(cell) for cell in row) for t in tables(page) for row in t.rows}
    assert {row[1] for row in rows if "Door L1" in row[2]} == {"W2 BU blue"}
    assert {row[1] for row in rows if "Study SL" in row[2] and "W2" in row[1]} == {"W2 BU blue (BN)"}


ONE_LIGHT = """job: Study
board: {{earthing: TN-S, ways: {{2: {{device: type B 6 A, rcd: none}}}}}}
colours: current
accessories:
  Study: {{kind: ceiling rose, lamp: 10 W, opened: {opened}}}
  Door:  {{kind: one-way switch}}
cables:
  W1: {{type: twin and earth 1.0, from: way 2, to: Study, cores: {{BN: [L, loop], BU: [N, N], cpc: [E, E]}}}}
  W2: {{type: twin and earth 1.0, from: Study, to: Door, {sleeved}
       cores: {{BN: [loop, COM], BU: [{blue}, L1], cpc: [E, E]}}}}
"""
