"""What is said of the sleeves of a job, counted by hand from the descriptions."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pages.jobs import example, faulty

from sheetgen.model.job import Job
from sheetgen.model.wiring import Status
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit


@pytest.mark.parametrize(("job", "says", "proposed"), [
    # yellow and blue of W3 and its bare cpc, at both ends
    (example("two-way-line-at-switch"), "None to fit. 6 fitted.", "6 to fit: 4 red and 2 green-and-yellow."),
    # blue of W7 at the switch, blue and brown of W12 at both ends
    (faulty("sparks"), "5 to fit: 3 green-and-yellow and 2 blue. Where cores are not traced: not known yet. 29 fitted.",
     "34 to fit: 32 green-and-yellow and 2 blue. Where cores are not traced: not known yet."),
    # black of W14 and red of W15 carry their own colour at both ends
    (faulty("old-farmhouse"), "10 to fit: 4 black, 4 red and 2 brown. Where cores are not traced: not known yet. 19 "
     "fitted. 4 not needed.", "29 to fit: 17 green-and-yellow, 6 red, 4 black and 2 brown. Where cores are not traced: "
     "not known yet. 4 not needed."),
], ids=lambda given: given.source if isinstance(given, Job) else "")
def test_how_many_sleeves_are_to_fit_and_how_many_are_there(job: Job, says: str, proposed: str) -> None:
    """On a proposal none is there yet, and all that are needed are to fit."""
    assert sleeves_to_fit(Lookup(job)) == says
    planned = replace(job, wiring=replace(job.wiring, status=Status.PROPOSED))
    assert sleeves_to_fit(Lookup(planned)) == proposed
