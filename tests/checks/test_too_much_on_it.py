"""A workshop with more on its circuits than they bear, every sentence of it typed out.

8.7 A is 2000 W at 230 V, 26.09 A is 6000 W, 6.52 A is 1500 W (arithmetic); 15.5 A is a single of 1.0 mm2 in Table
4D1A, method C, 6 A a flex of 0.75 mm2 in Table 4F3A, 6.9 V 3 per cent of 230 V.
"""

from __future__ import annotations

from pathlib import Path

from sheetgen.model.reading import Finding
from sheetgen.pipeline import findings_of

TEXT = Path(__file__).parents[1] / "pages" / "texts" / "overloaded.yaml"


def of(rule: str) -> list[Finding]:
    return [f for f in findings_of(TEXT.read_bytes()) if f.rule == rule]


def test_what_overloads_a_cable_a_flex_and_a_device() -> None:
    assert [(f.gravity.value, f.says, f.means, f.advice) for f in of("coordination")] == [
        ("danger", "W4, W5 and W6 may carry 15.5 A, and no device is given for circuit 2 (Yard); the load of W4, W5 "
         "and W6 is up to 26.09 A.", "The cable overheats and nothing opens.",
         "Fit a device of a lower rating, or a larger cable."),
        ("danger", "The flex Flex 1 carries 6.52 A and may carry 6 A.", "It gets hot.",
         "Fit a larger flex, or a smaller lamp."),
        ("put right", "The lamps of circuit 1 (Workshop) take 8.7 A, its device is type B 6 A.",
         "The device opens when everything is on.", "Take lamps off the circuit, or lower their load."),
    ]


def test_volts_lost_on_the_way() -> None:
    """44 mV for each ampere and metre of 1.0 mm2 (BS 7671 Table 4D5) x 2000 W / 230 V x (80 + 60) / 2 m is 26.78 V."""
    (workshop, *others) = of("volt_drop")
    assert workshop.says == "26.78 V are lost on the way to Workshop with everything on; the limit is 6.9 V."
    assert workshop.advice == "Use a larger cable on the longest run, or take load off the circuit."
    assert workshop.means == "Lamps are dimmer and motors warmer than they should be."
    assert [f.accessory for f in others] == ["Yard", "Loft lamp"]
