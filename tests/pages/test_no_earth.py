"""What a sheet says where a cpc lies in the box and reaches no earth: typed out, on examples with one core changed."""

from __future__ import annotations

import pytest
from pages.jobs import EXAMPLES, says, tables

from sheetgen.model.job import Job
from sheetgen.pages.card import compose as card
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.method import compose as method
from sheetgen.pipeline import style_of, understood

LOOP = ("to: Kitchen, length: 5 m, method: 101, cores: {BN: [loop, loop], BU: [N, N], cpc: [E, E]}",
        "to: Kitchen, length: 5 m, method: 101, cores: {BN: [loop, loop], BU: [N, N], cpc: [E, %s]}")
DROP = ("cores: {RD: [L, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}\n  W3",
        "cores: {RD: [L, COM], BK: [SL, L1], cpc: [E, %s]}, sleeved: [BK]}\n  W3")
BEYOND = ("Kitchen", "Kitchen switch", "Bathroom", "Bathroom cord", "Bedroom 1", "Bed 1 switch", "Bedroom 2",
          "Bed 2 switch")


def changed(name: str, change: tuple[str, str], end: str) -> Lookup:
    text = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    assert text.count(change[0]) == 1
    found = understood(text.replace(change[0], change[1] % end).encode())
    return Lookup(Job(*found, sets=style_of().sets, source=f"{name}.yaml", fingerprint="0123abcd"))


def at_each(lookup: Lookup) -> dict[str, tuple]:
    (table,) = tables(method(lookup)[0])
    return {accessory: row for row in table.rows for accessory in row[0].split(", ")}


def test_beyond_a_cpc_cut_in_the_loop_no_accessory_has_one() -> None:
    lookup = changed("bungalow", LOOP, "nothing")
    at = at_each(lookup)
    assert {name for name, row in at.items() if row[4] == "no"} == {*BEYOND}
    assert {name for name, row in at.items() if row[4] == "yes"} == {
        "Hall", "Front door", "Back hall", "Lounge", "Lounge switch"}
    assert all(row[6].endswith("; nothing with exposed metal") is (row[4] == "no") for row in at.values())
    named = f"{', '.join(BEYOND[:-1])} and {BEYOND[-1]}"
    assert f"NO EARTH No earthed cpc at {named}. Fit only class II luminaires and insulated switches there." in says(
        card(lookup)[0])


def test_a_switch_whose_cpc_lies_loose_in_its_box_has_none() -> None:
    lookup = changed("joint-boxes", DROP, "nothing")
    at = at_each(lookup)
    assert at["Kitchen door"][4] == "no" and at["Kitchen door"][6].endswith("; nothing with exposed metal")
    assert at["Pantry door"][4] == "yes" and "metal" not in at["Pantry door"][6]
    assert "NO EARTH No earthed cpc at Kitchen door. Fit" in says(card(lookup)[0])


@pytest.mark.parametrize(("name", "change"), [("bungalow", LOOP), ("joint-boxes", DROP)])
def test_where_every_cpc_reaches_the_board_there_is_no_notice(name: str, change: tuple[str, str]) -> None:
    lookup = changed(name, change, "E")
    assert {row[4] for row in at_each(lookup).values()} == {"yes"} and "NO EARTH" not in says(card(lookup)[0])


def test_of_a_cpc_whose_terminal_nobody_knows_it_is_not_said_that_there_is_none() -> None:
    lookup = changed("joint-boxes", DROP, "?")
    assert at_each(lookup)["Kitchen door"][4] == "? not known"
    text = says(card(lookup)[0])
    assert "EARTH NOT KNOWN Whether a cpc reaches Kitchen door is not known." in text and "NO EARTH" not in text
