"""What each choice writes, typed out; and that it is refused where it cannot be."""

from __future__ import annotations

import pytest

from sheetgen.desk.asked import Mistaken
from sheetgen.desk.changes import changed
from sheetgen.desk.computing import judged_now
from sheetgen.desk.view import view_of

TEXT = """\
job: Landing light
colours: legacy
accessories:
  Rose:  {kind: ceiling rose, room: Landing}   # the old one
  Hall:  {kind: two-way switch, room: Hall}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: three-core 1.0, at: Hall, cores: {RD: COM, YE: L1, BU: ?}, sleeved: [YE]}
"""


def cable(text: str, name: str) -> str:
    """The line of a cable, or its lines as one."""
    lines = text.splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith(f"  {name}:"))
    found = lines[start].strip()
    for line in lines[start + 1:]:
        if not line.startswith("       "):
            break
        found += f" {line.strip()}"
    return found


DONE = [
    ({"do": "land", "name": "W2", "core": "BU", "end": "0", "terminal": "L2"}, "W2",
     "W2: {type: three-core 1.0, at: Hall, cores: {RD: COM, YE: L1, BU: L2}, sleeved: [YE]}"),
    ({"do": "land", "name": "W1", "core": "cpc", "end": "1", "terminal": "nothing"}, "W1",
     "W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], "
     "cpc: [E, nothing]}}"),
    ({"do": "sleeve", "name": "W2", "core": "BU", "end": "both", "colour": "RD"}, "W2",
     "W2: {type: three-core 1.0, at: Hall, cores: {RD: COM, YE: L1, BU: ?}, sleeved: [YE, BU]}"),
    ({"do": "sleeve", "name": "W2", "core": "YE", "end": "both", "colour": ""}, "W2",
     "W2: {type: three-core 1.0, at: Hall, cores: {RD: COM, YE: L1, BU: ?}}"),
    ({"do": "sleeve", "name": "W1", "core": "black", "end": "1", "colour": "blue"}, "W1",
     "W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}, "
     "sleeved: {black: [nothing, BU]}}"),
    ({"do": "sleeve", "name": "W1", "core": "cpc", "end": "both", "colour": ""}, "W1",
     "W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}, "
     "bare: [cpc]}"),
    ({"do": "goes to", "name": "W2", "end": "1", "value": "Rose"}, "W2",
     "W2: {type: three-core 1.0, from: Hall, to: Rose, cores: {RD: [COM, ?], YE: [L1, ?], BU: [?, ?]}, sleeved: [YE]}"),
    ({"do": "goes to", "name": "W1", "end": "0", "value": ""}, "W1",
     "W1: {type: twin and earth 1.0, at: Rose, cores: {red: loop, black: N, cpc: E}}"),
    ({"do": "cable", "name": "W2", "field": "colours", "value": "current"}, "W2",
     "W2: {type: three-core 1.0, colours: current, at: Hall, cores: {BN: COM, BK: L1, GY: ?}}"),
    ({"do": "cable", "name": "W2", "field": "type", "value": "three-core and earth 1.5"}, "W2",
     "W2: {type: three-core and earth 1.5, at: Hall, cores: {RD: COM, YE: L1, BU: ?, cpc: ?}}"),
    ({"do": "call core", "name": "W2", "core": "YE", "value": "WH"}, "W2",
     "W2: {type: three-core 1.0, at: Hall, cores: {RD: COM, WH: L1, BU: ?}, sleeved: [WH]}"),
    ({"do": "rename accessory", "name": "Rose", "value": "Landing"}, "W1",
     "W1: {type: twin and earth 1.0, from: way 1, to: Landing, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}"),
    ({"do": "add cable", "type": "twin and earth 1.0", "from": "Rose", "to": "Hall", "length": "4 m"}, "W3",
     "W3: {type: twin and earth 1.0, from: Rose, to: Hall, length: 4 m, cores: {RD: [?, ?], BK: [?, ?], cpc: [?, ?]}}"),
    ({"do": "add cable", "type": "single 1.5", "from": "Rose", "core": "green-and-yellow"}, "W3",
     "W3: {type: single 1.5, at: Rose, cores: {GNYE: ?}}"),
    ({"do": "add cable", "type": "twin brown 1.5", "from": "Rose", "colours": "current"}, "W3",
     "W3: {type: twin brown 1.5, colours: current, at: Rose, cores: {BN 1: ?, BN 2: ?}}"),
    ({"do": "add accessory", "kind": "2 gang 2 way", "room": "Hall"}, "Hall 2",
     "Hall 2: {kind: 2 gang 2 way, room: Hall}"),
    ({"do": "add accessory", "kind": "plate", "name": "P", "gangs": "stairs: two-way, porch: one-way"}, "P",
     "P: {kind: plate, gangs: {stairs: two-way, porch: one-way}}"),
    ({"do": "accessory", "name": "Rose", "field": "ways", "value": "N: 4, loop: 2"}, "Rose",
     "Rose:  {kind: ceiling rose, room: Landing, ways: {N: 4, loop: 2}}   # the old one"),
]


@pytest.mark.parametrize(("asked", "name", "line"), DONE, ids=[f"{d[0]['do']}-{i}" for i, d in enumerate(DONE)])
def test_a_choice_writes_this_line(asked, name, line):
    text, _ = changed(TEXT, asked)
    assert cable(text, name) == line
    assert "# the old one" in text


REFUSED = [
    ({"do": "add accessory", "kind": "two-way swich"}, "Did you mean 'two-way switch'?"),
    ({"do": "add accessory", "kind": ""}, "What it is is missing."),
    ({"do": "add accessory", "kind": "ceiling rose", "name": "way 4"}, "cannot be called 'way 4'"),
    ({"do": "add cable", "type": "twin and erth 1.0", "from": "Rose"}, "Did you mean 'twin and earth'?"),
    ({"do": "add cable", "type": "single 1.0", "from": "Rose", "core": "mauve"}, "'mauve' is not a colour."),
    ({"do": "drop accessory", "name": "Rose"}, "W1 still ends at Rose"),
    ({"do": "goes to", "name": "W2", "end": "0", "value": ""}, "take it away instead"),
    ({"do": "call core", "name": "W2", "core": "YE", "value": "RD"}, "Tell them apart by a mark"),
    ({"do": "add circuit", "lights": "Landing", "switches": ""}, "Say the room of each light and of each switch"),
    ({"do": "add circuit", "lights": "A", "switches": "B, C", "loop": "line at the switches", "join": "one-way"},
     "one switch"),
    ({"do": "accessory", "name": "Hall", "field": "cap", "value": "E27"}, "'cap' is not known for this accessory."),
]


@pytest.mark.parametrize(("asked", "said"), REFUSED, ids=[f"{r[0]['do']}-{i}" for i, r in enumerate(REFUSED)])
def test_what_cannot_be_is_said_and_nothing_is_written(asked, said):
    with pytest.raises(Mistaken) as refused:
        changed(TEXT, asked)
    assert said in str(refused.value)


def test_a_circuit_by_its_method_and_all_of_it_written_out():
    text, _ = changed("job: New\n", {"do": "add circuit", "lights": "Landing", "switches": "Hall, Landing",
                                     "loop": "at the rose", "join": "conversion", "length feed": "9 m"})
    assert text == ("job: New\ncircuits:\n  - {method: {loop: at the rose, join: conversion}, lights: [Landing], "
                    "switches: [Hall, Landing], lengths: {feed: 9 m}}\n")
    written, _ = changed(text, {"do": "write out", "sure": "yes"})
    assert "circuits:" not in written and written.count("cores:") == 3


def test_what_was_seen_is_kept_in_the_words_it_was_said_in():
    said = "Landing is worked by Hall\n\n Hall L1: Landing on "
    text, _ = changed(TEXT, {"do": "lines", "field": "seen", "value": said})
    assert text == TEXT + "\nseen:\n  - Landing is worked by Hall\n  - \"Hall L1: Landing on\"\n"
    assert changed(text, {"do": "lines", "field": "seen", "value": ""})[0] == TEXT + "\n"


def test_what_lies_in_another_accessory_is_shown_with_it_and_landed_by_its_full_name():
    text = TEXT.replace("cables:", "  Relay: {kind: relay, in: Hall}\ncables:").replace("at: Hall", "at: Relay")
    view = view_of(text, judged_now(text, {}))
    names = [terminal.name for row in view.plate("Relay").rows for terminal in row]
    assert view.plate("Relay") == view.plate("Hall") and "COM" in names
    inner = next(name for name in names if name.startswith("Relay."))
    after, _ = changed(text.replace("RD: COM, YE: L1", "RD: ?, YE: ?"), {
        "do": "land", "name": "W2", "core": "RD", "end": "0", "terminal": inner})
    assert not judged_now(after, {}).problems


def test_a_circuit_of_the_board_is_called_so():
    text, said = changed(TEXT, {"do": "add way", "way": "9", "serves": "Shed"})
    assert said == "Circuit 9 is added." and "9: {serves: Shed}" in text
    assert changed(text, {"do": "drop way", "way": "9"})[1] == "Circuit 9 is taken away."
