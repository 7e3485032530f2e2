"""How long a change at the desk takes in a warm worker: judged, and drawn anew."""

from __future__ import annotations

from pathlib import Path

import pytest
from houses import house

from sheetgen.desk.changes import changed
from sheetgen.desk.computing import drawn_now, judged_now
from sheetgen.desk.view import view_of

BUNGALOW = (Path(__file__).parents[2] / "examples" / "bungalow.yaml").read_text(encoding="utf-8")
CASES = {"bungalow": (BUNGALOW, ("W7", "W9", "W10", "W11", "W12")),
         "60 accessories": (house(20), ("D3", "D4", "D5", "D6"))}


@pytest.mark.parametrize("name", CASES)
def test_a_core_landed_elsewhere(benchmark, name: str) -> None:
    text, cables = CASES[name]
    judged_now(text, {})
    drawn_now(text, {})
    turn = 0

    def once() -> int:
        nonlocal text, turn
        turn += 1
        cable = cables[min((turn & -turn).bit_length() - 1, len(cables) - 1)]  # a wiring that is not known already
        terminal = "N" if _lands_on_earth(text, cable) else "E"
        text = changed(text, {"do": "land", "name": cable, "core": "BU", "end": "0", "terminal": terminal})[0]
        view_of(text, judged_now(text, {}))
        return len(drawn_now(text, {}).sheets)

    assert benchmark(once) > 0


def _lands_on_earth(text: str, cable: str) -> bool:
    (line,) = (line for line in text.splitlines() if line.strip().startswith(f"{cable}:"))
    return "BU: [E" in line
