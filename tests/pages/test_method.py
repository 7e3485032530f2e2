"""The method page: the sentence, its evidence, and what could be fitted where, as the reading has them."""

from __future__ import annotations

from dataclasses import replace

import pytest
from pages.jobs import NAMES, blocks_of, example, job_of, says, tables

from sheetgen.model.page import Heading, Table
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import compose
from sheetgen.pipeline import wiring_of


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
    assert rows["Front switch"][3] == "yes" and rows["Front light"][1] == "no"
    (table,) = tables(compose(Lookup(example("one-way-loop-in")))[0])
    rows = {name: row for row in table.rows for name in row[0].split(", ")}
    assert rows["Door"][3] == "no" and rows["Door"][6] == (
        "A dimmer or timer that needs no neutral; nothing that needs a neutral")


def test_strappers_are_named_for_they_are_line_in_some_settings() -> None:
    """Plain words need no key, and no one takes 'no line' for dead where a strapper comes."""
    at = {**at_each("three-switches"), **at_each("two-strappers-conduit")}
    assert at["Kitchen"][1:3] == ("no", "strapper") and at["Yard door"][1:3] == ("yes", "strapper")
    assert not {"\N{BLACK CIRCLE}", "\N{WHITE CIRCLE}"} & {cell for row in at.values() for cell in row}


def test_the_last_point_is_where_no_neutral_goes_on() -> None:
    last = {name: row[5] for name, row in at_each("by-method").items()}
    assert last == {"Hall plate": "no", "Landing switch": "no", "Landing": "yes", "Porch": "yes"}
    last = {name: row[5] for name, row in at_each("bungalow").items()}
    assert [name for name, cell in last.items() if cell == "yes"] == ["Bedroom 2"]
    assert set(last.values()) == {"yes", "no", "\N{EN DASH}"}, "no cell is blank"


def at_each(name: str) -> dict[str, tuple]:
    (table,) = tables(compose(Lookup(example(name)))[0])
    return {accessory: row for row in table.rows for accessory in row[0].split(", ")}


@pytest.mark.parametrize("lacking", ["Ze", "all"])
def test_what_could_not_be_judged_has_a_heading_of_its_own(lacking: str) -> None:
    job = example("one-way-loop-in")
    board = replace(job.wiring.board, ze=None)
    bare = job_of(replace(job.wiring, board=board, cables=job.wiring.cables if lacking == "Ze" else tuple(
        replace(cable, length=None) for cable in job.wiring.cables)))
    quiet = replace(bare, reading=replace(bare.reading, findings=()))
    (page,) = [page for page in job_to_pages(quiet) if page.kind == "method"]
    blocks = list(blocks_of(page.blocks))
    (at,) = [i for i, b in enumerate(blocks) if isinstance(b, Heading) and b.text.startswith("Could not be judged")]
    assert isinstance(blocks[at - 1], Table) and blocks[at - 1].head[0] == "Accessory"
    below = says(replace(page, blocks=tuple(blocks[at + 1:])))
    assert "zs over the limit of the device" in below.casefold() and "ot known: " in below


def test_no_dimmer_is_thought_of_where_a_switch_works_a_fan() -> None:
    """A dimmer harms the motor: manufacturers' instructions. The same switch with a lamp may have one."""
    text = """job: Bath
colours: current
accessories: {Wall: {kind: one-way switch}, Fan: {kind: fan, room: Bath}}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Fan, cores: {BN: [L, nothing], BU: [N, N], cpc: [E, E]}}
  W2: {type: single 1.0, from: way 1, to: Wall, cores: {BN: [L, COM]}}
  W3: {type: single 1.0, from: Wall, to: Fan, cores: {BN: [L1, L]}}
"""
    for kind, lamp in (("fan", False), ("light fitting", True)):
        page, *_ = compose(Lookup(job_of(wiring_of(text.replace("kind: fan", f"kind: {kind}")))))
        (row,) = [row for table in tables(page) for row in table.rows if "Wall" in str(row[0])]
        assert ("A dimmer or timer that needs no neutral" in str(row[6])) == lamp
        assert ("No dimmer and no two-wire timer: a fan's motor is worked here" in str(row[6])) == (not lamp)
