"""Situations from old houses, played through as a new user would: what is written, what comes back, where it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from commands.runs import copied, run
from pypdfium2 import PdfDocument

EXAMPLES = Path(__file__).parents[2] / "examples"
FINDING_OUT = Path(__file__).parents[2] / "examples" / "finding-out"
CONVERSION = FINDING_OUT.parent / "two-way-conversion.yaml"


def add(file: Path, *lines: str) -> None:
    file.write_text(file.read_text(encoding="utf-8") + "\n".join(lines) + "\n", encoding="utf-8")


def test_a_rose_with_its_cores_off_is_put_back(tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "opened-rose.yaml", tmp_path / "rose.yaml")
    assert "24 ways of telling these cables apart fit." in run("identify", file, "--print").output
    add(file, "readings:", "  - {between: [c/red, c/black], reads: changes}")
    after = run("identify", file, "--print").output
    assert "6 ways of telling these cables apart fit." in after and "Supply ON" in after
    add(file, "  - {between: [b/red, b/cpc], reads: voltage}")
    done = run("identify", file, "-o", tmp_path, "--write", tmp_path / "back.yaml")
    assert done.exit_code == 0 and "b is the feed, c the switch drop, a and d go on." in done.output
    assert run("job", tmp_path / "back.yaml", "-o", tmp_path).exit_code == 0


def test_a_half_known_landing_light_becomes_a_full_description(tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "half-known.yaml", tmp_path / "half.yaml")
    assert "15 ways of joining these ends fit." in run("identify", file, "--print").output
    add(file, "readings:", "  - {joined: [a/red, a/black], between: [b/red, b/black], reads: closed}",
        "  - {joined: [c/red, c/black], between: [d/red, d/black], reads: closed}")
    assert "2 ways of joining these ends fit." in run("identify", file, "--print").output
    add(file, "  - {joined: [e/red, e/yellow], between: [f/red, f/yellow], reads: closed}")
    done = run("identify", file, "--write", tmp_path / "full.yaml")
    assert done.exit_code == 0 and (tmp_path / "full.yaml").exists(), done.output
    states = run("states", tmp_path / "full.yaml").output
    assert states.count(" on") == 2 and states.count(" off") == 2


@pytest.mark.parametrize(("readings", "says"), [
    ([], "8 of 89 faults fit."),
    (["  - {between: [Porch L, Box SL], reads: open, with: {Porch door: on}}"], "2 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch door COM], reads: open}"], "1 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch door COM], reads: closed}",
      "  - {between: [Porch door COM, Porch door L1], reads: open, with: {Porch door: on}}"], "1 of 89 faults fit."),
    (["  - {between: [way 3 L, Porch N], reads: closed}"], "either something was seen or read wrongly"),
])
def test_a_dead_porch_light(readings: list[str], says: str, tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "dead-light.yaml", tmp_path / "porch.yaml")
    add(file, *readings)
    lamp_is_good = ["--seen", "the rest works"]
    assert says in run("fault", file, *lamp_is_good, "--print").output


def test_the_plan_of_the_dead_light_fits_on_one_sheet(tmp_path: Path) -> None:
    run("fault", FINDING_OUT / "dead-light.yaml", "-o", tmp_path)
    sheets = PdfDocument(tmp_path / "dead-light-fault.pdf")
    text = " ".join(sheets[0].get_textpage().get_text_range().split())
    assert len(sheets) == 1
    assert "For work inside the board itself switch off the main switch. Its incoming terminals stay live." in text
    assert "With a long lead from circuit 3 L" in text or "circuit 3 L to Box L closed" in text, "not 'way 3'"
    assert "way 3" not in text
    assert "Take the lamp at Porch out; supply on, try it in a holder that works." in text
    assert text.index("Take the lamp at Porch") < text.index("With a long lead"), "looking before measuring"


@pytest.mark.parametrize(("command", "name"), [
    ("fault", "trips-on-the-cord"), ("identify", "opened-rose"), ("identify", "half-known"),
    ("identify", "box-in-the-loft")])
def test_every_plan_keeps_to_one_sheet(tmp_path: Path, command: str, name: str) -> None:
    run(command, FINDING_OUT / f"{name}.yaml", "-o", tmp_path)
    sheets = PdfDocument(tmp_path / f"{name}-{command}.pdf")
    assert len(sheets) == 1
    assert "longer than this sheet" not in sheets[0].get_textpage().get_text_range()


def test_a_plan_that_is_longer_says_so_on_its_one_sheet(tmp_path: Path) -> None:
    """Nothing is seen yet, so that every fault is possible."""
    run("fault", EXAMPLES / "one-way-loop-in.yaml", "-o", tmp_path)
    sheets = PdfDocument(tmp_path / "one-way-loop-in-fault.pdf")
    text = " ".join(sheets[0].get_textpage().get_text_range().split())
    assert len(sheets) == 1 and "these are its first steps" in text and "write it in the file" in text


def test_three_cables_in_a_box_in_the_loft_are_told_apart_by_one_test(tmp_path: Path) -> None:
    file = copied(FINDING_OUT / "box-in-the-loft.yaml", tmp_path / "box.yaml")
    found = json.loads(run("identify", file, "--format", "json").output)
    assert found["candidates"] == 6 and found["test"]["dead"]
    assert [(c["candidates"], c["then"]) for c in found["test"]["outcomes"]] == [(1, None)] * 6
    assert found["test"]["joined"] == [["a/red", "a/black"], ["e/red", "e/cpc"]]
    findings = run("check", file).output
    assert "ends in nothing" not in findings and "No cpc" not in findings, "nothing is wrong with ends not seen yet"
    add(file, "readings:", "  - {joined: [a/red, a/black], between: [b/red, b/black], reads: closed}",
        "  - {joined: [c/red, c/black], between: [e/red, e/black], reads: open}")
    done = run("identify", file, "-o", tmp_path, "--write", tmp_path / "full.yaml")
    for cable in ("a and b are one cable.", "c and f are one cable.", "d and e are one cable."):
        assert cable in done.output
    assert run("states", tmp_path / "full.yaml").output.split() == [
        "Door", "Back", "----", "----", "off", "off", "on", "on"]
    assert "The black core of the cable 'c' is a switched line and is not marked" in run(
        "check", tmp_path / "full.yaml").output


def test_a_bathroom_that_trips_on_the_cord(tmp_path: Path) -> None:
    """A black and a grey that touch where the fan's cable is cut back: behind the isolator, so open it and look."""
    file = copied(FINDING_OUT / "trips-on-the-cord.yaml", tmp_path / "bath.yaml")
    first = run("fault", file, "--print").output
    assert "12 of 106 faults fit." in first
    watch = first.index("Watch Bath lamp")
    assert watch < first.index("From Bath N to loop"), "what can be watched comes before what must be opened"
    iso_off = run("fault", file, "--seen", "Cord on, Iso off: Bath on", "--print").output
    assert "4 of 106 faults fit." in iso_off and "The black core of W4 and the grey core of W4 touch." in iso_off
    add(file, "  - \"Cord on, Iso off: Bath on\"", "readings:",
        "  - {between: [Iso N out, Iso SL out], reads: closed}")
    assert "1 of 106 faults fit." in run("fault", file, "-o", tmp_path).output
    text = " ".join(PdfDocument(tmp_path / "bath-fault.pdf")[0].get_textpage().get_text_range().split())
    assert "The black core of W4 and the grey core of W4 touch." in text


def test_what_has_tripped_is_not_switched_on_to_the_fault_again() -> None:
    """Common practice: a device that tripped is not closed onto a fault that is still there."""
    watched = json.loads(run("fault", FINDING_OUT / "trips-on-the-cord.yaml", "--format", "json").output)["test"]
    steps, on = [watched], 0
    while steps:
        step = steps.pop()
        assert not any("trips" in outcome["reads"] for outcome in step["outcomes"]), step["says"]
        on += step["says"].startswith("Watch")
        steps += [outcome["then"] for outcome in step["outcomes"] if outcome["then"]]
    assert on, "some lamps are watched, in settings that cannot trip"


def test_stairs_that_light_from_one_of_four_settings_only(tmp_path: Path) -> None:
    """One of four lit: a parted strapper or a contact that never closes; one look at a switch tells the three apart."""
    file = copied(CONVERSION, tmp_path / "stairs.yaml")
    dark = (("L1", "L1"), ("L1", "L2"), ("L2", "L2"))
    add(file, "seen:", "  - \"Bottom L2, Top L1: Stairs on\"",
        *(f"  - \"Bottom {bottom}, Top {top}: Stairs off\"" for bottom, top in dark), "  - nothing trips")
    first = run("fault", file, "--print").output
    assert "3 of 73 faults fit." in first and "  1  Supply off, Top at L2: From Top COM to L1 and L2." in first
    assert "  2  " not in first, "one step is enough"
    add(file, "readings:", "  - {between: [Top COM, Top L2], reads: open, with: {Top: L2}}",
        "  - {between: [Top COM, Top L1], reads: closed, with: {Top: L2}}")
    assert "1 of 73 faults fit." in (last := run("fault", file, "--print").output)
    assert "In the switch Top the contact from COM to L2 never closes." in last
