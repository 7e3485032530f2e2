"""The method page: the sentence, its evidence, and what could be fitted where, as the reading has them."""

from __future__ import annotations

import pytest
from pages.jobs import NAMES, example, says, tables

from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import compose


@pytest.mark.parametrize("name", NAMES)
def test_every_circuit_and_every_accessory_is_said(name: str) -> None:
    job = example(name)
    (page,) = compose(Lookup(job))
    text = says(page).casefold()
    for circuit in job.reading.circuits:
        if circuit.lamps and circuit.switches:
            assert circuit.method.casefold() in text
            assert all(line.casefold() in text for line in circuit.evidence)
    (table,) = tables(page)
    named = [name for row in table.rows for name in row[0].split(", ")]
    assert sorted(named) == sorted(place.accessory for place in job.reading.places)


def test_a_neutral_at_the_switch_is_seen_at_a_glance() -> None:
    (table,) = tables(compose(Lookup(example("loop-at-switch")))[0])
    rows = {name: row for row in table.rows for name in row[0].split(", ")}
    assert rows["Front switch"][3] == "●" and rows["Front light"][1] == "○"
    (table,) = tables(compose(Lookup(example("one-way-loop-in")))[0])
    rows = {name: row for row in table.rows for name in row[0].split(", ")}
    assert rows["Door"][3] == "○" and rows["Door"][6] == (
        "A dimmer or timer that needs no neutral; nothing that needs a neutral")
