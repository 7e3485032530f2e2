"""What the description does not give and the program takes as usual is said, on the sheet too."""

from __future__ import annotations

import io

from pdfminer.high_level import extract_text

from sheetgen.pages.lookup import Lookup
from sheetgen.pages.sleeves import sleeves_to_fit
from sheetgen.pipeline import Look, job_of, job_sheet, judged

SHORT = """\
job: Short
colours: current
way: 1
method: {loop: at the rose}
lights: [Hall]
switches: [Hall]
"""
GIVEN = """\
job: Given
colours: current
accessories:
  Wall: {kind: light fitting, lamp: 20 W, class: II}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin, from: way 1, to: Door, cores: {BN: [L, COM], BU: [N, nothing]}}
  W2: {type: twin, from: Door, to: Wall, cores: {BN: [L1, L], BU: [nothing, N]}}
"""
CPCS = ("green-and-yellow sleeves on bare cpcs",
        "the size of each cpc by the cable's standard")


def test_what_is_not_given_is_told() -> None:
    assert judged(SHORT)[1].taken == ("the size and colours of Flex 1", "8 W for the lamp", *CPCS)
    two = SHORT.replace("lights: [Hall]", "lights: [Hall, Landing]")
    assert judged(two)[1].taken == ("the size and colours of Flex 1 and Flex 2", "8 W for 2 lamps", *CPCS)


def test_what_a_method_laid_is_not_taken_for_seen() -> None:
    """Nobody saw its sleeves: where a job is called as found, they are assumed, and no flex of a rose was told of."""
    found = job_of("status: as found\n" + SHORT, Look())
    laid = "which core goes where and every sleeve of W1 and W2, laid by the method and not traced"
    assert found.reading.taken[0] == laid
    assert sleeves_to_fit(Lookup(found)) == "None to fit. 6 assumed fitted."  # two cpcs and the switch wire


def test_what_is_given_is_not_told() -> None:
    assert judged(GIVEN)[1].taken == ()
    fan = GIVEN.replace("kind: light fitting, lamp: 20 W, class: II", "kind: fan")
    assert judged(fan)[1].taken == ("20 W for the fan",)
    spur = GIVEN.replace("  Door:", "  Spur: {kind: FCU}\n  Door:")
    assert judged(spur)[1].taken == ("a fuse of 3 A in Spur",)


def test_the_sheet_says_so() -> None:
    said = " ".join(extract_text(io.BytesIO(job_sheet(SHORT, Look()))).split())
    assert "Hall lamp (8 W assumed)" in said
    assert "Assumed, where the file does not say: the size and colours of Flex 1, 8 W for the lamp, " in said
    said = " ".join(extract_text(io.BytesIO(job_sheet(GIVEN, Look()))).split())
    assert "assumed" not in said and "aken as usual" not in said
