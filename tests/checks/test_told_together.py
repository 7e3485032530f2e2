"""What is told with another finding, and with that one's own, counts wherever it is."""

from __future__ import annotations

from dataclasses import replace

from pages.jobs import example

from sheetgen.judge.in_danger import in_danger
from sheetgen.judge.miswired import miswired, with_findings
from sheetgen.model.reading import Finding, Gravity, Place
from sheetgen.pages.lookup import Lookup

EARTH = Finding("no_cpc", Gravity.DANGER, "No cpc.", accessory="Door")
CROSSED = Finding("off_but_live", Gravity.DANGER, "Out.", accessory="Study", also=(EARTH,))
ALL = (Finding("wrong_terminal", Gravity.DANGER, "Wrong.", accessory="Study", also=(CROSSED,)),)


def test_a_danger_told_two_deep_is_marked_where_it_is() -> None:
    lookup = Lookup(example("one-way-loop-in"))
    reading = replace(lookup.job.reading, findings=ALL)
    assert {"Study", "Door"} <= in_danger(reading, lookup.wiring)
    assert [f.rule for f in miswired(ALL)] == ["wrong_terminal", "off_but_live"]


def test_nothing_is_fitted_to_metal_whose_missing_earth_is_told_with_another_finding() -> None:
    place = Place("Door", True, False, False, False, None, (), ("a dimmer",), (), takes_fitting=True)
    told = Finding("zs_limit", Gravity.NOTE, "High.", also=(EARTH,))
    (found,) = with_findings((place,), Lookup(example("one-way-loop-in")).circuit, (told,))
    assert found.fits == ()
