"""A terminal carries the name that the user gave it, in the state table, in words, on the screen and in the diagram."""

from __future__ import annotations

import csv
import io
import json
import re

from runs import run

from sheetgen.draw.diagram.schematic import schematic_of
from sheetgen.pipeline import circuit_of
from sheetgen.pipeline.screen import screen_of, screen_sheet
from sheetgen.print.screen.table import table_of
from sheetgen.tell.story import tell

NUMBERED = """job: Workshop
board:
  earthing: TN-S
  ways:
    1: {serves: Lights, device: type B 6 A, rcd: 30 mA}
colours: current
accessories:
  Workshop: {kind: batten lampholder, lamp: 18 W}
  Yard: {kind: two-way switch, labels: {COM: common, L1: 1 way, L2: 2 way}}
  Store: {kind: two-way switch}
cables:
  W1: {type: single 1.5, from: way 1, to: Yard, cores: {BN: [L, common]}}
  W2: {type: single 1.5, from: Yard, to: Store, cores: {BN: [1 way, L1]}}
  W3: {type: single 1.5, from: Yard, to: Store, cores: {BN: [2 way, L2]}}
  W4: {type: single 1.5, from: Store, to: Workshop, cores: {BN: [COM, L]}}
  W5: {type: single 1.5, from: way 1, to: Workshop, cores: {BU: [N, N]}}
"""


def states(tmp_path, form: str, text: str = NUMBERED) -> str:
    file = tmp_path / "workshop.yaml"
    file.write_text(text)
    result = run("states", file, "--format", form)
    assert result.exit_code == 0, result.output
    return result.output


def test_the_state_table_has_the_positions_by_the_names_on_the_switch(tmp_path):
    table = [line.split() for line in states(tmp_path, "text").splitlines()]
    assert table[2:] == [["1", "way", "L1", "on"], ["1", "way", "L2", "off"], ["2", "way", "L2", "on"],
                         ["2", "way", "L1", "off"]]
    rows = list(csv.DictReader(io.StringIO(states(tmp_path, "csv"))))
    assert rows[0]["setting"] == "Yard=1 way; Store=L1"
    assert json.loads(states(tmp_path, "json"))["groups"][0]["rows"][1]["switches"] == {"Yard": "1 way", "Store": "L2"}


def test_a_short_is_told_in_the_same_names(tmp_path):
    crossed = NUMBERED.replace("from: Store, to: Workshop, cores: {BN: [COM, L]}",
                               "from: Store, to: Workshop, cores: {BN: [COM, N]}")
    said = [line for line in states(tmp_path, "text", crossed).splitlines() if line.startswith("SHORT")]
    assert said[0] == ("SHORT with Yard at 1 way, Store at L1: circuit 1 L - Yard common - Yard 1 way - Store L1 - "
                       "Store COM - Workshop N - circuit 1 N")


def test_the_words_of_a_setting_name_them(tmp_path):
    circuit = circuit_of(NUMBERED)
    group = circuit.solution.groups[0]
    says = [tell(circuit, group, row).says for row in group.rows]
    assert "to common of Yard and passes to 1 way" in says[0]
    assert "Yard stands at 1 way" in says[1]
    assert not any("L1 of Yard" in said or "COM of Yard" in said for said in says)


def test_the_screen_names_them():
    table = table_of(*screen_of(NUMBERED))
    assert table["switches"]["Yard"]["positions"] == {"L1": "at 1 way", "L2": "at 2 way"}
    assert [name for _, name, at, _ in table["terminals"] if at == "Yard"][:3] == ["common", "1 way", "2 way"]
    rows = re.findall("<tr data-group.*?</tr>", screen_sheet(NUMBERED), re.DOTALL)
    cells = [tuple(re.findall("<td>(.*?)</td>", row)) for row in rows]
    assert cells[1] == ("1 way", "L2", "off")


def test_the_diagram_names_them():
    circuit = circuit_of(NUMBERED)
    symbols = schematic_of(circuit, circuit.solution.groups[0]).symbols
    assert next(s.labels for s in symbols if s.switch == "Yard") == ("common", "1 way", "2 way")


def test_the_plan_for_a_fault_names_them(tmp_path):
    file = tmp_path / "workshop.yaml"
    file.write_text(NUMBERED + "seen: ['Yard 1 way, Store L1: Workshop dead']\n")
    said = run("fault", file, "--print").output
    assert "Yard at 2 way" in said
    assert "Yard at L2" not in said and "Yard L2" not in said
