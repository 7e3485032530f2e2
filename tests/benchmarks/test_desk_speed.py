"""How long a change at the desk takes in a warm worker: judged, and drawn anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from houses import house

from sheetgen.desk.changes import changed
from sheetgen.desk.computing import drawn_now, judged_now
from sheetgen.desk.view import view_of

BUNGALOW = (Path(__file__).parents[2] / "examples" / "bungalow.yaml").read_text(encoding="utf-8")
CASES = {"bungalow": (BUNGALOW, "W7"), "60 accessories": (house(20), "D3")}


@pytest.mark.parametrize("name", CASES)
def test_a_core_landed_elsewhere(benchmark, name: str) -> None:
    text, cable = CASES[name]
    asked = {"do": "land", "name": cable, "core": "BU", "end": "0", "terminal": "E"}
    judged_now(text, {})
    drawn_now(text, {})
    turn = 0

    def once() -> int:
        nonlocal turn
        turn += 1
        after = changed(text, asked)[0] + f"# {turn}\n"  # new each time, so that nothing is known of it already
        view_of(after, judged_now(after, {}))
        return len(drawn_now(after, {}).sheets)

    assert benchmark(once) > 0
