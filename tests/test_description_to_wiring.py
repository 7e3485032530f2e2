"""Understanding: everyday words, aliases printed as given, defaults, sleeves, order without influence."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
import yaml

from sheetgen.catalogue.accessories import CATALOGUE, find
from sheetgen.catalogue.cables import TYPES, find_type, read_size
from sheetgen.catalogue.colours import CODES, read_core_name
from sheetgen.model.accessory import Level, Terminal
from sheetgen.model.problems import Mark
from sheetgen.pipeline import style_of, wiring_of

EXAMPLES = sorted(Path(__file__).parents[1].joinpath("examples").glob("*.yaml"))


def circuit(accessories: str, cables: str, head: str = "") -> str:
    return f"job: J\n{head}\naccessories:\n{accessories}\ncables:\n{cables}\n"


def one_cable(cable: str, kind: str = "two-way switch", head: str = ""):
    text = circuit(f"  Hall: {{kind: {kind}}}", f"  W1: {{from: way 1, to: Hall, {cable}}}", head)
    return wiring_of(text).cable("W1")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_core_of_an_example_ends_on_a_terminal_that_is_there(path: Path) -> None:
    wiring = wiring_of(path.read_bytes())
    nodes = set(wiring.nodes())
    for core in wiring.cores():
        for end, accessory in zip(core.ends, wiring.cable(core.cable).ends, strict=True):
            assert end.accessory == accessory
            assert end.node is None or end.node in nodes


def unmarked(wiring):
    """The wiring without the places in the text."""
    return replace(
        wiring,
        accessories=tuple(sorted((replace(a, at=Mark()) for a in wiring.accessories), key=lambda a: a.name)),
        cables=tuple(sorted((replace(c, at=Mark()) for c in wiring.cables), key=lambda c: c.name)),
        board=replace(wiring.board, ways=tuple(replace(w, at=Mark()) for w in wiring.board.ways)),
    )


def turned(value):
    """The same YAML value with every mapping in the opposite order."""
    if isinstance(value, dict):
        return {k: turned(v) for k, v in reversed(value.items())}
    return [turned(v) for v in value] if isinstance(value, list) else value


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_the_order_of_the_yaml_does_not_change_the_wiring(path: Path) -> None:
    text = path.read_text()
    value = yaml.load(text, yaml.BaseLoader)
    again = yaml.safe_dump(turned(value), sort_keys=False)
    one, other = unmarked(wiring_of(text)), unmarked(wiring_of(again))
    flexes = {c.name: c for c in other.cables if c.flex}
    if len(flexes) < 2:  # flexes are numbered in the order of their roses
        assert one == other


def test_cores_are_known_by_code_word_and_mark() -> None:
    assert read_core_name("brown") == ("BN", "")
    assert read_core_name("light blue") == ("BU", "")
    assert read_core_name("RD 1") == ("RD", "1")
    assert read_core_name("red (tape)") == ("RD", "tape")
    assert read_core_name("green and yellow") == ("GNYE", "")
    assert read_core_name("bare") == ("cpc", "")
    assert read_core_name("mauve") is None
    for code, word in CODES.items():
        assert read_core_name(code) == read_core_name(word) == (code, "")


def test_every_spelling_of_a_cable_means_one_type() -> None:
    for cable_type in TYPES:
        for word in (cable_type.name, *cable_type.also):
            assert find_type(word) is cable_type, word


@pytest.mark.parametrize("written", ["1", "1.0", "1.0 mm2", "1.0mm²", "1.0 mm"])
def test_a_metric_size_in_any_spelling(written: str) -> None:
    assert read_size(written).text == "1.0"


@pytest.mark.parametrize(("written", "text"), [("3/.029", "3/.029"), ("3/0.029", "3/.029"), ("7/.029", "7/.029")])
def test_an_imperial_size(written: str, text: str) -> None:
    size = read_size(written)
    assert (size.text, size.imperial) == (text, True)


def test_terminals_are_found_by_the_names_on_real_accessories_and_printed_as_given() -> None:
    wiring = wiring_of(circuit(
        "  Hall: {kind: 2-way}",
        "  W1: {type: twin 1.0, from: way 1, to: Hall, cores: {BN: [L, common], BU: [N, 1 way]}}"))
    assert [c.ends[1].terminal for c in wiring.cable("W1").cores] == ["COM", "L1"]
    assert wiring.accessory("Hall").label("COM") == "common"
    assert wiring.accessory("Hall").label("L2") == "L2"


def test_a_cpc_among_the_cores_makes_the_cable_an_earthed_one() -> None:
    cable = one_cable("type: twin 1.0, cores: {BN: [L, COM], BU: [N, L1], cpc: [E, E]}")
    assert (cable.type, cable.cpc_size.text) == ("twin and earth", "1.0")
    assert [c.label for c in cable.cores] == ["BN", "BU", "bare"]
    assert [e.sleeve for e in cable.cores[2].ends] == ["GNYE", "GNYE"]


def test_flat_cable_of_1_5_has_a_cpc_of_1_0() -> None:
    cable = one_cable("type: twin and earth 1.5, cores: {BN: [L, COM], BU: [N, L1], cpc: [E, E]}")
    assert (cable.size.text, cable.cpc_size.text) == ("1.5", "1.0")


def test_sleeves_are_in_the_line_colour_of_the_cables_set_unless_said() -> None:
    cable = one_cable("colours: legacy, type: three-core 1.0, sleeved: [YE, BU], "
                      "cores: {RD: [L, COM], YE: [nothing, L1], BU: [N, L2]}")
    assert [[e.sleeve for e in c.ends] for c in cable.cores] == [[None, None], [None, "RD"], ["RD", "RD"]]
    cable = one_cable("type: three-core 1.0, sleeved: {GY: blue, BK: [none, BN]}, "
                      "cores: {BN: [L, COM], BK: [N, L1], GY: [N, L2]}")
    assert [[e.sleeve for e in c.ends] for c in cable.cores] == [[None, None], [None, "BN"], ["BU", "BU"]]


def test_a_bare_cpc_found_without_sleeving() -> None:
    cable = one_cable("type: twin and earth 1.0, bare: [cpc], cores: {BN: [L, COM], BU: [N, L1], cpc: [E, nothing]}")
    assert [e.sleeve for e in cable.cores[2].ends] == [None, None]


def test_two_cores_of_one_colour_are_told_apart_by_their_mark() -> None:
    cable = one_cable("type: twin brown 1.0, cores: {BN 2: [N, L1], BN 1: [L, COM]}")
    assert [(c.label, c.ends[1].terminal) for c in cable.cores] == [("BN 1", "COM"), ("BN 2", "L1")]


def test_a_rose_with_a_lamp_has_a_flex_in_todays_colours_whatever_the_fixed_wiring() -> None:
    wiring = wiring_of(circuit(
        "  Landing: {kind: rose, lamp: 8 W}",
        "  W1: {type: twin 1.0, from: way 1, to: Landing, cores: {RD: [L, loop], BK: [N, N]}}", "colours: legacy"))
    lamp = wiring.accessory("Landing lamp")
    assert (lamp.kind.level, lamp.hangs_from, lamp.kind.loads[0].watts) == (Level.PENDANT, "Landing", Fraction(8))
    flex = wiring.cable("Flex 1")
    assert [c.colour for c in flex.cores] == ["BN", "BU"]
    assert flex.cores[0].ends[0].node == Terminal("Landing", "SL")


def test_a_lampholder_described_on_its_own_hangs_where_its_flex_comes_from() -> None:
    wiring = wiring_of(circuit(
        "  Rose: {kind: ceiling rose}\n  Lamp: {kind: lampholder}",
        "  F1: {type: flex 0.75, colours: legacy, from: Rose, to: Lamp, cores: {RD: [SL, L], BK: [N, N]}}"))
    assert wiring.accessory("Lamp").hangs_from == "Rose"


def test_a_plate_names_its_terminals_by_gang() -> None:
    wiring = wiring_of(circuit(
        "  Hall: {kind: plate, gangs: {Porch: one-way, Stairs: two-way}}",
        "  W1: {type: twin 1.0, from: way 1, to: Hall, cores: {BN: [L, Porch.COM], BU: [N, Stairs L2]}}"))
    assert [c.ends[1].terminal for c in wiring.cable("W1").cores] == ["Porch.COM", "Stairs.L2"]
    assert [name for name, _, _ in wiring.switches()] == ["Hall.Porch", "Hall.Stairs"]


def test_connectors_lie_in_an_accessory_under_a_name_of_their_own() -> None:
    wiring = wiring_of(circuit(
        "  Hall: {kind: one-way switch, connectors: [N joint]}",
        "  W1: {type: twin 1.0, from: way 1, to: Hall, cores: {BN: [L, COM], BU: [N, N joint]}}"))
    terminal = wiring.accessory("Hall").kind.terminal("N joint")
    assert terminal.connector
    assert wiring.accessory("Hall").kind.face[-1] == ("N joint",)


def test_an_accessory_of_ones_own() -> None:
    wiring = wiring_of(circuit(
        "  Relay: {kind: night relay}",
        "  W1: {type: twin 1.0, from: way 1, to: Relay, cores: {BN: [L, A], BU: [N, B]}}",
        "kinds:\n  Night relay: {terminals: [A, B], positions: {idle: [], pulled: [[A, B]]}, "
        "loads: [{from: A, to: B, load: 2 W, what: electronics}]}"))
    kind = wiring.accessory("Relay").kind
    assert [p.name for p in kind.switches[0].positions] == ["idle", "pulled"]
    assert kind.loads[0].watts == 2


def test_a_board_without_ways_has_one() -> None:
    wiring = wiring_of(circuit("  Hall: {kind: one-way switch}",
                               "  W1: {type: single 1.0, from: board, to: Hall, cores: {BN: [L, COM]}}"))
    assert wiring.cable("W1").ends == ("way 1", "Hall")


@pytest.mark.parametrize(("written", "device"), [
    ("type B 6 A", "type B 6 A"), ("B6", "type B 6 A"), ("MCB type C 10 A", "type C 10 A"),
    ("bs 3036 5A", "BS 3036 5 A"),
    ("rewireable fuse 5 A", "BS 3036 5 A"), ("BS1361 5 A", "BS 1361 5 A"), ("RCBO B 6A", "type B 6 A"),
    ("type B 6 A RCBO", "type B 6 A"), ("B6 RCBO", "type B 6 A"), ("6A type B RCBO 30mA", "type B 6 A"),
    ("10 A C curve", "type C 10 A"), ("BS 88-3 16 A", "BS 88-3 16 A"), ("BS 3036 rewireable fuse 15 A", "BS 3036 15 A"),
])
def test_a_device_in_everyday_spelling(written: str, device: str) -> None:
    text = circuit("  Hall: {kind: one-way switch}",
                   "  W1: {type: single 1.0, from: way 1, to: Hall, cores: {BN: [L, COM]}}",
                   f"board: {{ways: {{1: {{device: {written}}}}}}}")
    assert str(wiring_of(text).board.ways[0].device) == device


def test_every_colour_set_knows_every_type_of_cable() -> None:
    for colour_set in style_of().sets.values():
        for cable_type in TYPES:
            assert len(colour_set.cores[cable_type.name]) == cable_type.live + bool(cable_type.cpc)


@pytest.mark.parametrize(("written", "kind"), [
    ("2-way", "two-way switch"), ("two way switch", "two-way switch"), ("Two-Way Switch", "two-way switch"),
    ("1 way switch", "one-way switch"), ("light switch", "one-way switch"), ("Rose", "ceiling rose"),
    ("junction box", "joint box"), ("batten holder", "batten lampholder"), ("pull cord", "pull-cord switch"),
])
def test_kinds_in_everyday_spelling(written: str, kind: str) -> None:
    assert find(written).name == kind


def test_no_spelling_means_two_kinds() -> None:
    for entry in CATALOGUE:
        for word in (entry.name, *entry.also):
            assert find(word) is entry, word


def test_an_rcbo_named_in_the_device_gives_the_residual_current() -> None:
    text = circuit("  Hall: {kind: one-way switch}",
                   "  W1: {type: single 1.0, from: way 1, to: Hall, cores: {BN: [L, COM]}}",
                   "board: {ways: {1: {device: 6A type B RCBO 30mA}}}")
    assert wiring_of(text).board.ways[0].rcd == 30


def test_one_core_may_be_named_without_a_list() -> None:
    cable = one_cable("type: twin 1.0, sleeved: blue, cores: {BN: [L, COM], BU: [L, L1]}")
    assert [e.sleeve for e in cable.cores[1].ends] == ["BN", "BN"]
