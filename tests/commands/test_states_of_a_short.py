"""A switch that shorts its way puts out every light of the way: the state table says so beside the others' switches."""

from __future__ import annotations

import csv
import io
import json

from click.testing import CliRunner

from sheetgen.cli import main
from sheetgen.pipeline import understood

ROOMS = """job: Two rooms
board:
  earthing: TN-S
  ways:
    1: {serves: Lights, device: type B 6 A, rcd: 30 mA}
    2: {serves: Shed, device: type B 6 A, rcd: 30 mA}
colours: current
accessories:
  Hall: {kind: ceiling rose, lamp: 8 W}
  Hall switch: {kind: one-way switch}
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Stairs switch: {kind: one-way switch}
  Shed: {kind: batten lampholder, lamp: 8 W}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Hall, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Hall, to: Hall switch, cores: {BN: [loop, COM], BU: [N, L1], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Hall, to: Stairs, cores: {BN: [loop, loop], BU: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Stairs, to: Stairs switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
  W5: {type: twin and earth 1.0, from: way 2, to: Shed, cores: {BN: [L, L], BU: [N, N], cpc: [E, E]}}
"""
SAYS = ("With Hall switch on the line of circuit 1 (Lights) is shorted: then everything on it is out, whatever these "
        "switches do.")


def states(tmp_path, form: str) -> str:
    file = tmp_path / "rooms.yaml"
    file.write_text(ROOMS)
    result = CliRunner().invoke(main, ["states", str(file), "--format", form])
    assert result.exit_code == 0
    return result.output


def test_in_text_it_stands_below_the_table_of_the_other_room_alone(tmp_path):
    tables = [t for t in states(tmp_path, "text").split("\n\n") if SAYS in t]
    assert len(tables) == 1 and "Stairs switch" in tables[0]


def test_in_csv_and_json_it_stands_with_the_lights_of_the_way(tmp_path):
    rows = list(csv.DictReader(io.StringIO(states(tmp_path, "csv"))))
    assert {(r["lamp"], r["out also"]) for r in rows} == {("Stairs lamp", SAYS), ("Shed", ""), ("Hall lamp", "")}
    groups = json.loads(states(tmp_path, "json"))["groups"]
    assert {tuple(g["lamps"]): g["out also"] for g in groups if "Stairs lamp" in g["lamps"]} == {
        ("Stairs lamp",): [SAYS]}


def test_a_short_that_no_switch_makes_leaves_nothing_lit(tmp_path):
    file = tmp_path / "rooms.yaml"
    file.write_text(ROOMS.replace("W3: {type: twin and earth 1.0, from: Hall, to: Stairs, cores: {BN: [loop, loop], ",
                                  "W3: {type: twin and earth 1.0, from: Hall, to: Stairs, cores: {BN: [loop, N], "))
    rows = list(csv.DictReader(io.StringIO(CliRunner().invoke(main, ["states", str(file), "--format", "csv"]).output)))
    assert {r["state"] for r in rows if r["lamp"] != "Shed"} <= {"off", "short"}
    assert {r["state"] for r in rows if r["lamp"] == "Shed"} == {"on"}


def test_a_short_reaches_a_circuit_whose_line_another_switch_joins_to_it(tmp_path):
    """Found by the oracle: common practice, a fault current flows from every line that is joined to the short."""
    joined = ROOMS.replace("to: Shed, cores: {BN: [L, L]", "to: Shed, cores: {BN: [L, nothing]").replace(
        "  Shed: {", "  Porch switch: {kind: one-way switch}\n  Shed switch: {kind: one-way switch}\n  Shed: {")
    for number, (a, here, b, there) in enumerate([
            ("way 1", "L", "Porch switch", "COM"), ("way 2", "L", "Porch switch", "L1"),
            ("way 2", "L", "Shed switch", "COM"), ("Shed switch", "L1", "Shed", "L")], 6):
        cores = f"{{BN: [{here}, {there}]}}"
        joined += f"  W{number}: {{type: unsheathed single 1.0, from: {a}, to: {b}, cores: {cores}}}\n"
    file = tmp_path / "rooms.yaml"
    file.write_text(joined)
    result = CliRunner().invoke(main, ["states", str(file), "--format", "json"])
    (shed,) = [g for g in json.loads(result.output)["groups"] if g["lamps"] == ["Shed"]]
    assert shed["out also"] == [
        "With Porch switch on the line of circuit 2 (Shed) is joined to that of circuit 1 (Lights): while that one is "
        "shorted, everything on circuit 2 (Shed) is out too, whatever these switches do."]
    solution = understood(joined)[1]
    lit = {porch + " " + hall: solution.lamp("Shed", {
        "Porch switch": porch, "Hall switch": hall, "Stairs switch": "off", "Shed switch": "on"}).state.value
        for porch in ("off", "on") for hall in ("off", "on")}
    assert lit == {"off off": "on", "on off": "on", "off on": "on", "on on": "short"}
