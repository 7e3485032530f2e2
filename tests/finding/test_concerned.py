"""What of a house is searched for a fault: all that holds a fault which fits; and how large it may be."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from commands.runs import run
from houses import house, house_without
from pypdfium2 import PdfDocument

from sheetgen.circuit import Circuit
from sheetgen.find.concerned import concerned, joined_parts, of_part, readings_of
from sheetgen.find.fault_search import fitting
from sheetgen.find.faults import faults_of
from sheetgen.find.fits import Witness
from sheetgen.find.shown import Showing
from sheetgen.find.trials import FaultTrials
from sheetgen.model.finding_out import Fault, Seen, Sight, TakenReading
from sheetgen.pipeline import circuit_of as read
from sheetgen.pipeline.finding_out import fault_search
from sheetgen.read.description_to_wiring.seen import problems_of

EXAMPLES = Path(__file__).parents[2] / "examples"


def example(name: str) -> str:
    return (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")


def seen_in(circuit: Circuit, said: Sequence[str]) -> tuple[Seen, ...]:
    seen, problems = problems_of(said, circuit.wiring)
    assert not problems
    return tuple(seen)


@pytest.mark.parametrize(("name", "said"), [
    ("large-house", ["Larder dead"]),
    ("large-house", ["Hall lamp always on", "the rest works"]),
    ("large-house", ["way 2 trips"]),
    ("large-house", ["Porch dead", "nothing trips"]),
    ("large-house", ["way 3 dead"]),
    ("landing-borrowed-neutral", ["Hall rose dead"]),
    ("outbuildings", ["trips"]),
])
def test_in_a_part_of_the_house_the_same_faults_fit_as_in_all_of_it(name: str, said: list[str]) -> None:
    circuit = read(example(name))
    everywhere = fitting(FaultTrials(circuit), faults_of(circuit), seen_in(circuit, said), ())
    found = fault_search(example(name), said).found
    assert [s.says for s in found.suspects] == [c.faulty.suspect.says for c in everywhere]
    assert found.suspects


def test_only_the_circuit_of_a_lamp_that_is_dead_is_searched() -> None:
    """The large house has three circuits that no cable joins; the Larder is on the first."""
    circuit = read(example("large-house"))
    part = concerned(circuit, seen_in(circuit, ["Larder dead"]), ())
    assert part.board == {"way 1"} and "Larder" in part.accessories
    assert [set(p.board) for p in joined_parts(circuit)] == [{"way 1"}, {"way 2"}, {"way 3"}]
    assert sum(len(p.accessories) for p in joined_parts(circuit)) == len(circuit.accessories)
    two = concerned(circuit, (*seen_in(circuit, ["Larder dead"]), Seen(Sight.TRIPS, ("way 3",))), ())
    assert two.board == {"way 1", "way 3"}


@pytest.mark.parametrize("said", [[], ["Larder works"], ["trips"], ["Larder works", "nothing trips"]])
def test_what_may_be_anywhere_is_sought_everywhere(said: list[str]) -> None:
    circuit = read(example("large-house"))
    assert concerned(circuit, seen_in(circuit, said), ()).accessories.keys() == circuit.accessories.keys()


def test_what_was_seen_of_other_circuits_is_left_to_them() -> None:
    """The Front bed lamp is on circuit 2: that it works, and in which setting, says nothing of the Larder's circuit."""
    alone = fault_search(example("large-house"), ["Larder dead"]).found
    others = ["Front bed lamp works", "Front plate on: Front bed lamp on"]
    found = fault_search(example("large-house"), ["Larder dead", *others]).found
    assert [s.says for s in found.suspects] == [s.says for s in alone.suspects]
    assert found.tried == alone.tried < len(faults_of(read(example("large-house"))))


def test_of_a_sentence_that_speaks_of_two_circuits_each_has_its_own() -> None:
    circuit = read(example("large-house"))
    part = concerned(circuit, seen_in(circuit, ["Larder dead"]), ())
    idle = Seen(Sight.IDLE, ("Kitchen door", "Front plate"))
    assert of_part([idle, Seen(Sight.HOLDS)], part) == (Seen(Sight.IDLE, ("Kitchen door",)), Seen(Sight.HOLDS))


def test_readings_tell_what_is_searched_and_those_of_other_circuits_are_left_out() -> None:
    circuit = read(example("large-house"))
    ours = TakenReading((("way 1", "L"), ("Kitchen box", "L")), closed=False)  # the loop line of circuit 1 is open
    theirs = TakenReading((("way 2", "L"), ("way 2", "E")), closed=False)
    part = concerned(circuit, (), (ours, theirs))
    assert part.board == {"way 1"}
    assert readings_of((ours, theirs), part) == (ours,)
    assert concerned(circuit, (), (theirs,)).board == circuit.board


def test_a_circuit_that_is_too_large_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    """A hundred rooms on one circuit; and twenty rooms that share one lost neutral."""
    for text, code, says in (
        (house(100), "E335", "301 accessories, joined as they are, may have 4,595 single faults: too many to look"),
        (house_without("BU", 20, 1), "E336", "20 switches and 20 loads depend on one another: with 913 single faults"),
    ):
        file = tmp_path / f"{code}.yaml"
        file.write_text(text, encoding="utf-8")
        result = run("fault", file, "--seen", "Rose 3 lamp dead", "-o", tmp_path / "out")
        assert result.exit_code == 2 and f"{code} {says}" in result.output
        assert run("handout", file, "--fault", "-o", tmp_path / "out").exit_code == 2
        assert not (tmp_path / "out").exists()
        assert run("job", file, "--pages", "symptoms", "-o", tmp_path / "sheets").exit_code == 0
        page = PdfDocument(tmp_path / "sheets" / f"{code}.pdf")[0].get_textpage().get_text_range()
        assert f"{says.split(': ')[1]}" in " ".join(page.split())


def test_of_eight_switches_no_true_fault_is_thrown_out_for_a_setting_that_was_not_thought_of() -> None:
    """Nine rooms without their neutral: what trips, counts and works them is not ruled out by 20 settings of 512."""
    circuit = read(house_without("BU", 9, 1))
    group = max(circuit.solution.groups, key=lambda g: len(g.switches))
    lamp = group.lamps[0]
    part = concerned(circuit, (), ())
    witness = Witness(part, ())
    sound = Showing(part.wiring, witness.loads, witness.solver)
    assert group.complete and not witness.complete and not sound.may_trip
    assert witness.agrees(Seen(Sight.COUNTED, (lamp,), lit=1, settings=512), sound)
    assert witness.agrees(Seen(Sight.WORKED_BY, (lamp,), by=group.switches), sound)
    assert not witness.agrees(Seen(Sight.TRIPS), sound)
    touching = [f for f in faults_of(part) if f.suspect.fault is Fault.TOUCHING]
    shorted = [Showing(f.wiring, witness.loads, witness.solver) for f in touching]
    assert {s.may_trip for s in shorted} == {True, False}
    assert all(witness.agrees(Seen(Sight.TRIPS), s) == s.may_trip for s in shorted)
    of_one_setting = Witness(part, ())
    of_one_setting.__dict__["settings"] = (witness.base,)  # nothing else is thought of
    later = [s for s in shorted if s.may_trip and not s.shown(witness.base)[0]]
    assert later and all(of_one_setting.agrees(Seen(Sight.TRIPS), s) for s in later)
