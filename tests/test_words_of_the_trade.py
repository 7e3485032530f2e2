"""What people call things: kinds, terminals as printed, sleeves written with the colour, devices; true suggestions."""

from __future__ import annotations

from fractions import Fraction

import pytest

from sheetgen.model.problems import Refused, nearest
from sheetgen.pipeline import wiring_of
from sheetgen.read.description_to_text import description_to_text
from sheetgen.read.text_to_description import text_to_description

TRADE = """\
job: Words of the trade
status: as found
board:
  ways:
    1: {device: 6A MCB, rcd: none, off: yes}
    2: {device: 5 A fuse, rcd: unknown}
colours: legacy
accessories:
  Rose:  {kind: 3 plate rose, lamp: 8 W}
  Relay: {kind: relay, inputs: 2, in: Rose}
  Hall:  {kind: 2 gang 2 way}
  Inter: {kind: intermediate}
  Fan:   {kind: timer fan, labels: {SL: 4, L: 5, N: 6}}
  Iso:   {kind: fan isolator, opened: no}
  Top:   {kind: two-way switch, labels: {COM: L1, L1: L2, L2: L3}}
  Spur:  {kind: FCU, fuse: 5 A}
  Flood: {kind: sensor floodlight}
  Plug:  {kind: socket}
  One:   {kind: one-way switch}
  Block: {kind: terminal block, terminals: 3}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Hall,
       cores: {red: [Relay.S1, COM1], black (taped red): [Relay.S2, L11], cpc: [E, E]}}
  W3: {type: single 1.0, from: Relay, to: Rose, cores: {RD: [L, loop]}}
  W6: {type: single 1.0, from: way 1, to: Iso, cores: {RD: [L, 1in]}}
  W7: {type: single 1.0, from: Iso, to: Fan, cores: {RD: [1out, 5]}}
  W8: {type: single 1.0, from: Hall, to: Top, cores: {RD: [L22, L3]}}
  W9: {type: twin 1.0, from: way 1, to: One, cores: {RD: [L, L1], BK: [nothing, L2]}}
  W10: {type: single 1.0, from: Inter, to: Top, cores: {RD: [4, L1]}}
  W11: {type: twin and earth 1.0, at: Rose, cores: {red: loop, black: ?, cpc: E}}
"""


def ends(cable: str, core: int = 0, text: str = TRADE) -> list[tuple[str, str | None]]:
    return [(end.accessory, end.terminal) for end in wiring_of(text).cable(cable).cores[core].ends]


def test_terminals_are_known_by_the_names_printed_on_them() -> None:
    assert ends("W2") == [("Rose", "Relay.S1"), ("Hall", "1.COM")]
    assert ends("W2", 1) == [("Rose", "Relay.S2"), ("Hall", "1.L1")]
    assert ends("W6") == [("way 1", "L"), ("Iso", "L in")]
    assert ends("W7") == [("Iso", "L out"), ("Fan", "L")]
    assert ends("W8") == [("Hall", "2.L2"), ("Top", "L2")]
    assert ends("W10") == [("Inter", "L4"), ("Top", "COM")]


def test_labels_are_printed_and_the_terminals_stay_what_they_are() -> None:
    top = wiring_of(TRADE).accessory("Top")
    assert [(t.name, top.label(t.name)) for t in top.kind.terminals][:3] == [("COM", "L1"), ("L1", "L2"), ("L2", "L3")]
    assert wiring_of(TRADE).accessory("Fan").label("SL") == "4"


def test_two_contacts_marked_l1_and_l2_are_the_two_of_a_one_way_switch() -> None:
    assert ends("W9") == [("way 1", "L"), ("One", "L1")]
    assert ends("W9", 1) == [("way 1", None), ("One", "COM")]
    with_common = TRADE.replace("RD: [L, L1], BK: [nothing, L2]", "RD: [L, COM], BK: [nothing, L2]")
    assert ends("W9", 1, with_common)[1] == ("One", "L1")


def test_a_sleeve_may_be_written_with_the_colour() -> None:
    red, black, _ = wiring_of(TRADE).cable("W2").cores
    assert [end.sleeve for end in black.ends] == ["RD", "RD"] and black.colour == "BK" and black.mark == ""
    assert [end.sleeve for end in red.ends] == [None, None]
    bracketed = TRADE.replace("black (taped red)", "black (red sleeve)")
    assert [end.sleeve for end in wiring_of(bracketed).cable("W2").cores[1].ends] == ["RD", "RD"]


def test_an_accessory_in_the_enclosure_of_another_is_part_of_it() -> None:
    wiring = wiring_of(TRADE)
    rose = wiring.accessory("Rose")
    assert rose.holds == ("Relay",) and "Relay" not in [a.name for a in wiring.accessories]
    assert [rose.switch_name(s) for s in rose.kind.switches] == ["Rose.Relay"]
    assert wiring.cable("W3").link and ends("W3") == [("Rose", "Relay.L"), ("Rose", "loop")]


def test_a_fused_connection_unit_has_a_fuse_of_its_own() -> None:
    kind = wiring_of(TRADE).accessory("Spur").kind
    assert (kind.fuse, kind.fuse_assumed) == (Fraction(5), False)
    assert [t.name for t in kind.terminals] == ["L in", "L out", "N in", "N out", "E"]


def test_devices_in_the_words_people_write() -> None:
    assert [str(way.device) for way in wiring_of(TRADE).board.ways] == ["MCB 6 A", "fuse 5 A"]


def test_all_of_it_is_written_back() -> None:
    again = description_to_text(text_to_description(TRADE).content)
    assert text_to_description(again).content == text_to_description(TRADE).content
    assert "off: yes" in again and "opened: no" in again and "at: Rose" in again and "status: as found" in again


def problems(text: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        wiring_of(text)
    return [p.text("f") for p in refused.value.problems]


def test_a_suggestion_is_a_true_one() -> None:
    assert nearest("way 7", ["way 1"]) == "Known: 'way 1'."
    assert "2.COM" not in nearest("COM1", ["1.COM", "2.COM"]).partition("Known")[0]
    assert nearest("Hal", ["Hall"]) == "Did you mean 'Hall'?"


def test_the_core_that_is_missing_is_named() -> None:
    said = problems(TRADE.replace("red: [L, loop], black: [N, N], cpc: [E, E]", "red: [L, loop], cpc: [E, E]"))
    assert len(said) == 1
    assert "E319 A twin and earth has 3 cores; only 2 are given: black is missing. Say what the others do" in said[0]


def test_another_colour_set_is_proposed_only_where_it_has_every_core() -> None:
    text = """\
job: Wrong colours
colours: legacy
accessories:
  Fan: {kind: fan}
cables:
  W1: {type: %s, from: way 1, to: Fan, cores: {%s: [L, L], %s: [N, N], cpc: [E, E]%s}}
"""
    (twin,) = problems(text % ("twin and earth", "brown", "blue", ""))
    assert twin.endswith("E320 brown and blue are no cores of a twin and earth in the legacy colours. "
                         "Write 'colours: current' on this cable.")
    (three,) = problems(text % ("three-core and earth", "red", "black", ", blue: [nothing, nothing]"))
    assert "Its cores are red, yellow, blue, cpc" in three and "current" not in three


def test_a_misspelt_colour_set_is_one_problem_beside_whatever_else_is_wrong() -> None:
    told = problems(TRADE.replace("colours: legacy", "colours: legcy"))
    assert told == ["f:7:1: E301 There is no colour set 'legcy'. Did you mean 'legacy'?"]


def test_an_accessory_whose_kind_is_misspelt_is_still_the_nearest_word_for_one() -> None:
    told = problems("job: J\naccessories:\n Door: {kind: one way swich}\ncables:\n"
                    " W1: {type: twin 1.0, from: way 1, to: Dor, cores: {brown: [L, COM], blue: [N, L1]}}\n")
    assert told[-1] == "f:5:36: E313 There is no accessory called 'Dor'. Did you mean 'Door'?"


@pytest.mark.parametrize(("written", "told"), [
    ("{type: one-way switch}",
     "E202 'kind' is missing in accessories Door. Say what it is, as in {kind: ceiling rose}."),
    ("one-way switch",
     "E206 'Door' should be 'key: value' lines in accessories. Say what it is, as in {kind: ceiling rose}."),
])
def test_an_accessory_without_a_kind_is_told_how_to_write_one(written: str, told: str) -> None:
    assert problems(f"job: J\naccessories:\n Door: {written}\n") == [f"f:3:2: {told}"]


@pytest.mark.parametrize(("device", "why"), [
    ("6 A tipe B", "."), ("MCB", ": its rating in amperes is missing."), ("6 A", ": its type is missing."),
    ("a switch", ": its type and rating are missing."),
])
def test_why_a_device_is_not_understood(device: str, why: str) -> None:
    (said,) = problems(TRADE.replace("5 A fuse", device))
    assert f"E303 The device '{device}' is not understood{why} Write it as in: type B 6 A." in said


def test_a_missing_colour_set_is_one_problem() -> None:
    (said,) = problems(TRADE.replace("colours: legacy\n", ""))
    assert "E324" in said and "the cores of 9 cables are not of the current one" in said
    assert "Write 'colours: legacy' at the head of the file" in said


@pytest.mark.parametrize(("right", "wrong", "code"), [
    ("in: Rose", "in: Ros", "E311"), ("in: Rose", "in: Relay", "E326"), ("fuse: 5 A", "fuse: 4 A", "E307"),
    ("SL: 4, L: 5", "SL: 4, L: 4", "E327"), ("{COM: L1,", "{CON: L1,", "E317"), ("6A MCB", "7A MCB", "E304"),
    ("6A MCB", "MCB", "E303"),
])
def test_what_cannot_be_is_refused(right: str, wrong: str, code: str) -> None:
    assert code in " ".join(problems(TRADE.replace(right, wrong)))


@pytest.mark.parametrize(("kind", "labels"), [
    ("timer fan", "labels: {SL: its number, L: its number, N: its number}"),
    ("fan", "labels: {L: its number, N: its number}"),
    ("fan isolator", "labels: {L in: its number, L out: its number, SL in: its number, SL out: its number}"),
])
def test_a_printed_number_has_no_one_meaning_and_is_told_by_labels(kind: str, labels: str) -> None:
    text = TRADE.replace("{kind: timer fan, labels: {SL: 4, L: 5, N: 6}}", f"{{kind: {kind}}}")
    with pytest.raises(Refused) as found:
        wiring_of(text)
    (problem,) = found.value.problems
    assert problem.code == "E317" and f"'Fan' ({wiring_kind(kind)}) has no terminal '5'." in problem.message
    assert "Printed numbers differ from maker to maker" in problem.hint and problem.hint.endswith(f"{labels}.")
    assert "'motor'" not in problem.hint, "a point within the fan is no terminal"


def wiring_kind(kind: str) -> str:
    return "three-pole fan isolator" if kind == "fan isolator" else kind


ROSE_TEXT = """\
job: Rose
colours: current
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.5, from: way 1, to: Rose, cores: {BN: [L, LOOP], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.5, from: Rose, to: Door, cores: {BN: [LOOP, COM], BU: [LIVE, L1], cpc: [E, E]}}
"""


def test_loop_and_live_on_one_rose_are_two_blocks() -> None:
    assert ends("W2", 0, ROSE_TEXT)[0] == ("Rose", "loop") and ends("W2", 1, ROSE_TEXT)[0] == ("Rose", "SL")
    assert wiring_of(ROSE_TEXT).accessory("Rose").label("SL") == "LIVE"


@pytest.mark.parametrize("text", [
    ROSE_TEXT.replace("LOOP", "LIVE").replace("[LIVE, L1]", "[SL, L1]"),  # two blocks, one of them called live
    ROSE_TEXT.replace("L, LOOP", "L, LIVE").replace("[LIVE, L1]", "[SL, L1]"),  # both words, and the other has its own
])
def test_live_is_the_looped_line_where_the_other_block_has_a_name_of_its_own(text: str) -> None:
    assert ends("W1", 0, text)[1] == ("Rose", "loop") and ends("W2", 1, text)[0] == ("Rose", "SL")


def test_which_of_three_contacts_is_the_common_is_asked() -> None:
    text = ROSE_TEXT.replace("one-way", "two-way").replace("LIVE, L1", "SL, L3")
    with pytest.raises(Refused) as refused:
        wiring_of(text)
    (problem,) = refused.value.problems
    assert (problem.code, problem.at.line) == ("E317", 8)
    assert problem.hint == (
        "Where a two-way switch is marked L1, L2 and L3, one of them is the common, mostly L1: find out which, and "
        "write it at 'Door', labels: {COM: L1, L1: L2, L2: L3}.")
