"""A fault for a class to find: the sheets give nothing away, the answers lead to the fault."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import networkx as nx
import pytest
from commands.runs import files_in, run
from finding.person import joined
from pypdfium2 import PdfDocument

from sheetgen.find.faults import faults_of
from sheetgen.pipeline import circuit_of
from sheetgen.teach.fault_tasks import fault_tasks

CONVERSION = Path(__file__).parents[2] / "examples" / "two-way-conversion.yaml"


@pytest.fixture(scope="module")
def circuit():
    return circuit_of(CONVERSION.read_text(encoding="utf-8"))


def test_one_seed_gives_the_same_faults_and_each_version_another(circuit) -> None:
    tasks = fault_tasks(circuit, 2, 1)
    assert tasks[0].fault == fault_tasks(circuit, 1, 1)[0].fault
    assert [t.name for t in tasks] == ["A", "B"] and len({t.fault for t in tasks}) == 2
    assert tasks[0].fault != fault_tasks(circuit, 1, 2)[0].fault
    assert all(t.seen for t in tasks), "what a lamp does not show is no task"


def test_the_first_fault_by_hand(circuit) -> None:
    """An open strapper of the conversion: with the L1s apart the lamp is lit only where L1 feeds the lamp's L2."""
    (task,) = fault_tasks(circuit, 1, 1)
    assert task.fault == ("The black core of W3 is open between Bottom L1 and Top L1: off its terminal at one end, or "
                          "broken.")
    assert task.seen == ("Stairs lamp on only with Bottom at L1, Top at L2: lit in 1 of 4", "nothing trips")
    assert task.fit == ("W3 BK open", "Bottom never makes COM–L2", "Top never makes COM–L1")
    assert len(task.path) == 1


def test_the_table_of_what_a_meter_reads_is_that_of_the_faulty_circuit(circuit) -> None:
    (task,) = fault_tasks(circuit, 1, 1)
    wiring = next(f.wiring for f in faults_of(circuit) if f.suspect.says == task.fault)
    for said, groups in task.joined:
        setting = {"Bottom": "L1", "Top": "L1"}
        for part in said.split(", "):
            if " at " in part:
                name, position = part.split(" at ")
                setting[name] = position
        graph = joined(wiring, setting) if said != "as at first" else joined(wiring, {"Bottom": "L1", "Top": "L1"})
        together = [set(g.replace(" and ", ", ").split(", ")) for g in groups.split("; ")]
        for a, b in combinations(sorted(circuit.landed), 2):
            closed = any({circuit.terminal(a), circuit.terminal(b)} <= group for group in together)
            assert closed == nx.has_path(graph, a, b), (said, a, b)


def test_what_is_kept_lies_in_a_file_of_its_own(tmp_path: Path) -> None:
    result = run("handout", CONVERSION, "--fault", "--versions", "2", "-o", tmp_path)
    names = ["two-way-conversion-fault-handout-answers.pdf", "two-way-conversion-fault-handout.pdf"]
    assert result.exit_code == 0 and files_in(tmp_path) == names
    answers, sheets = ([" ".join(p.get_textpage().get_text_range().split()) for p in PdfDocument(tmp_path / name)]
                       for name in names)
    assert ["Find the fault" in p for p in sheets] == [False, True, True]
    assert ["Answers: the fault" in p for p in answers] == [True, True]
    assert not any("is open between" in p or "exchanged:" in p or "Answers" in p for p in sheets)
    assert "What a meter reads" in answers[0]
    counts = "All that is tried for continuity at one accessory, with the switches as they stand, is one reading"
    assert counts in answers[0] and counts in sheets[1]
    assert "At first every switch stands off, at L1, straight." in answers[0]


def test_a_fault_to_find_has_no_harder_form(tmp_path: Path) -> None:
    result = run("handout", CONVERSION, "--fault", "--harder", "-o", tmp_path)
    assert result.exit_code == 2 and "a fault to find has none: give one of them" in result.output
    assert files_in(tmp_path) == []


def test_nothing_trips_is_handed_out_where_the_answer_rests_on_it() -> None:
    """A short that has tripped shows a dead lamp as well: 14 faults of a dead study light are without a short."""
    one_way = circuit_of(CONVERSION.with_name("one-way-loop-in.yaml").read_text(encoding="utf-8"))
    (task,) = fault_tasks(one_way, 1, 1)
    assert task.seen == ("Study lamp dead", "nothing trips")
    assert len(task.fit) == 14 and not any("touch" in fault for fault in task.fit)


def test_a_lamp_that_two_switches_light_is_not_handed_out_as_dead() -> None:
    """Line comes to the pantry through the kitchen switch: with both on it is lit."""
    boxes = circuit_of(CONVERSION.with_name("joint-boxes.yaml").read_text(encoding="utf-8"))
    (task,) = fault_tasks(boxes, 1, 1)
    assert task.fault == "At Box 1 two cores are exchanged: the red core of W1 is on SL, the red core of W3 on L."
    assert task.seen == ("Pantry on only with Kitchen door on, Pantry door on: lit in 1 of 4", "nothing trips")
    assert task.fit == ("W1 RD and W3 RD exchanged at Box 1",)
