"""What is not known can be written, and stays told apart from what is not connected, not there, and not given."""

from __future__ import annotations

from fractions import Fraction

import pytest
from pypdfium2 import PdfDocument

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.judge.rules import RULES
from sheetgen.judge.rules.unjudged import REST_ON_ENDS
from sheetgen.model.accessory import Terminal
from sheetgen.model.page import Columns, Heading, Swatch, Table
from sheetgen.model.problems import Refused
from sheetgen.model.reading import Gravity, Reading
from sheetgen.model.wiring import CoreEnd, Status, Told
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pipeline import Look, findings_of, job_of, job_sheet, judged, wiring_of
from sheetgen.read.style_from_yaml import load_style

SEEN = """\
job: What is seen at an open rose
status: as found
board:
  ways:
    4: {device: unknown, rcd: none, off: yes}
    5: {device: none, rcd: unknown}
    6: {device: type B 6 A, rcd: 30 mA}
    7:
colours: legacy
accessories:
  Rose: {kind: ceiling rose, room: Landing}
  Hall: {kind: one-way switch, opened: no}
cables:
  W1: {type: twin and earth 1.0, from: way 4, to: Rose, cores: {red: [L, loop], black: [N, nothing], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Hall, cores: {red: [loop, ?], black: [SL, ? ], cpc: [E, unknown]}}
  W5: {type: twin and earth 1.0, at: Rose, cores: {red: loop, black: N, cpc: ?}, sleeved: [black]}
"""


def refused(text: str) -> list[tuple[int, str, str]]:
    with pytest.raises(Refused) as found:
        wiring_of(text)
    return [(p.at.line, p.code, p.message) for p in found.value.problems]


def test_an_end_that_nobody_knows_is_not_an_end_in_nothing() -> None:
    wiring = wiring_of(SEEN)
    red, black, cpc = wiring.cable("W2").cores
    assert red.ends == (CoreEnd("Rose", "loop"), CoreEnd("Hall", None, unknown=True))
    assert [end.unknown for end in (*black.ends, *cpc.ends)] == [False, True, False, True]
    assert not red.ends[1].nothing and red.ends[1].node is None
    cut_back = wiring.cable("W1").cores[1].ends[1]
    assert cut_back.nothing and not cut_back.unknown
    assert [(core.key, end.accessory) for core, end in wiring.unknown_ends] == [
        ("W2/1", "Hall"), ("W2/2", "Hall"), ("W2/3", "Hall"), ("W5/1", "W5, end not seen"),
        ("W5/2", "W5, end not seen"), ("W5/3", "Rose"), ("W5/3", "W5, end not seen")]


def test_a_question_mark_stays_one_in_every_form_of_yaml() -> None:
    inside = SEEN.replace("job: What is seen at an open rose", "job: Which is which?").replace(
        "  W5: {type: twin and earth 1.0, at: Rose, cores: {red: loop, black: N, cpc: ?}, sleeved: [black]}\n",
        "  W5:\n    type: twin and earth 1.0\n    at: Rose\n    note: \"?\"\n    cores:\n      red: ?   # taped up\n"
        "      black: [?]\n      cpc:\n        - ?\n")
    wiring = wiring_of(inside)
    assert wiring.job == "Which is which?"
    assert wiring.cable("W5").note == "?"
    assert [core.ends[0].unknown for core in wiring.cable("W5").cores] == [True, True, True]


def test_a_cable_seen_at_one_accessory_goes_on_to_one_that_stands_for_any() -> None:
    wiring = wiring_of(SEEN)
    cable = wiring.cable("W5")
    assert cable.at_one_end and not wiring.cable("W2").at_one_end
    assert cable.ends == ("Rose", "W5, end not seen")
    assert not wiring.accessory("W5, end not seen").seen and wiring.accessory("Hall").seen
    assert [core.ends[0].terminal for core in cable.cores] == ["loop", "N", None]
    assert cable.cores[1].ends[0].sleeve == "RD" and cable.cores[1].ends[1].sleeve is None
    assert cable.cores[2].ends[1].sleeve is None, "whether a cpc that nobody has seen is sleeved, nobody knows"


def test_what_protects_a_way_is_given_or_none_or_unknown() -> None:
    ways = wiring_of(SEEN).board.ways
    assert [(w.number, w.device_told, w.rcd_told, w.off) for w in ways] == [
        ("4", Told.UNKNOWN, Told.NONE, True), ("5", Told.NONE, Told.UNKNOWN, False),
        ("6", Told.GIVEN, Told.GIVEN, False), ("7", Told.UNKNOWN, Told.UNKNOWN, False)]
    assert ways[2].rcd == Fraction(30)


def test_an_accessory_that_was_not_opened_says_so() -> None:
    wiring = wiring_of(SEEN)
    assert not wiring.accessory("Hall").opened and wiring.accessory("Rose").opened


def test_a_job_is_as_found_or_proposed_or_does_not_say() -> None:
    assert wiring_of(SEEN).status is Status.AS_FOUND
    assert wiring_of(SEEN.replace("as found", "proposed")).status is Status.PROPOSED
    assert wiring_of(SEEN.replace("status: as found\n", "")).status is None


def test_a_rose_has_a_lamp_unless_it_says_none() -> None:
    wiring = wiring_of(SEEN)
    lamp = wiring.accessory("Rose lamp")
    assert lamp.assumed and lamp.kind.loads[0].assumed and lamp.kind.loads[0].watts == 8
    told = wiring_of(SEEN.replace("room: Landing", "lamp: 40 W")).accessory("Rose lamp")
    assert not told.assumed and not told.kind.loads[0].assumed and told.kind.loads[0].watts == 40
    without = wiring_of(SEEN.replace("room: Landing", "lamp: none"))
    assert [a.name for a in without.accessories if a.kind.loads] == []


@pytest.mark.parametrize("kind", ["batten lampholder", "light fitting", "pendant lampholder"])
def test_a_lamp_out_of_its_holder_is_no_load(kind: str) -> None:
    text = SEEN.replace("{kind: one-way switch, opened: no}", f"{{kind: {kind}, lamp: none}}")
    hall = wiring_of(text).accessory("Hall")
    assert hall.kind.loads == () and "no lamp" in hall.kind.flags


def test_a_lampholder_of_ones_own_is_the_lamp_of_its_rose() -> None:
    text = SEEN.replace("  Hall:", "  Bulb: {kind: lampholder, lamp: 60 W, hangs from: Rose}\n  Hall:")
    assert [a.name for a in wiring_of(text).accessories if a.kind.loads] == ["Bulb"]


def test_nodes_and_keys_are_made_once() -> None:
    core = wiring_of(SEEN).cable("W1").cores[0]
    assert core.ends[0].node is core.ends[0].node and core.ends[0].node == Terminal("way 4", "L")
    assert core.key is core.key and core.key == "W1/1"


def test_what_cannot_be_is_refused() -> None:
    assert refused(SEEN.replace("opened: no", "opened: not yet"))[0][:2] == (12, "E209")
    assert refused(SEEN.replace("rcd: none", "rcd: nome"))[0][:2] == (5, "E203")
    assert refused(SEEN.replace("at: Rose", "at: Rose, to: Hall"))[0][:2] == (16, "E323")
    assert refused(SEEN.replace("red: loop", "red: [loop, L]"))[0][:2] == (16, "E205")
    assert refused(SEEN.replace("from: Rose, to: Hall", "from: Rose"))[0][:2] == (15, "E202")
    assert refused(SEEN.replace("as found", "as fond"))[0][:2] == (2, "E204")


HALF_WRITTEN = """
job: Half of it
colours: current
accessories:
  Study: {kind: ceiling rose, lamp: 8 W}
  Door: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Study, cores: {BN: [L, loop], BU: [N, N], cpc: [?, ?]}}
  W2: {type: twin and earth 1.0, from: Study, to: Door, cores: {BN: [?, ?], BU: [?, L1], cpc: [E, ?]}}
"""


def test_a_description_that_is_half_written_is_not_called_wrong() -> None:
    """A core that may be anywhere puts no line on an earth terminal and no lamp out, and is no cpc misused."""
    said = {finding.rule for finding in findings_of(HALF_WRITTEN)}
    assert not said & {"earth_terminal_live", "protective_misused", "never_lit"}


def test_two_reds_that_nothing_tells_apart_are_numbered_where_one_end_was_seen() -> None:
    line = SEEN.splitlines()[-1]
    two = SEEN.replace(line, "  W5: {type: twin 1.0, at: Rose, cores: {red: loop, red: N}}")
    cores = wiring_of(two).cable("W5").cores
    assert [(core.label, core.ends[0].terminal) for core in cores] == [("RD 1", "loop"), ("RD 2", "N")]
    both_ends = SEEN.replace(
        line, "  W5: {type: twin 1.0, from: Rose, to: Rose, cores: {red: [loop, ?], red: [N, ?]}}")
    assert [code for _, code, _ in refused(both_ends)] == ["E104"]


KNOWN = """\
job: A rose and its switch
status: as found
board: {ways: {1: {device: type B 6 A, rcd: 30 mA}}}
colours: legacy
accessories:
  Rose: {kind: ceiling rose, lamp: 8 W}
  Hall: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Rose, cores: {red: [L, loop], black: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Rose, to: Hall, cores: {red: [loop, COM], black: [SL, L1], cpc: [e, e]},
       sleeved: [black]}
"""


def changed(*pairs: tuple[str, str]) -> str:
    text = KNOWN
    for old, new in pairs:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def reading_of(text: str) -> Reading:
    return judged(text)[1]


def words_of_pages(text: str) -> str:
    """All words of the job sheet in small letters."""
    sheets = PdfDocument(job_sheet(text, Look(), "known.yaml"))
    return " ".join(" ".join(sheet.get_textpage().get_text_range().split()) for sheet in sheets).casefold()


def said_of(text: str) -> list[tuple[str, str]]:
    return [(finding.rule, finding.says) for finding in findings_of(text)]


@pytest.mark.parametrize(("old", "new"), [
    ("cpc: [e, e]", "cpc: [e, ?]"),  # no_cpc
    ("cpc: [E, E]", "cpc: [?, E]"),  # cpc_interrupted
    ("cpc: [E, E]", "cpc: [E, ?]"),
    ("red: [L, loop]", "red: [?, loop]"),  # no_supply, never_lit
    ("black: [N, N]", "black: [N, ?]"),  # off_but_live, never_lit
    ("black: [N, N]", "black: [?, N]"),
    ("red: [loop, COM], black: [SL, L1], cpc: [e, e]", "red: [loop, ?], black: [SL, ?], cpc: [e, ?]"),  # loose_core
    ("{kind: one-way switch}", "{kind: one-way switch, opened: no}"),
])
def test_nothing_is_found_wrong_that_rests_on_an_end_nobody_knows(old: str, new: str) -> None:
    assert said_of(KNOWN) == []
    assert said_of(changed((old, new))) == []
    broken = new.replace("?", "nothing")
    if broken != new:
        assert said_of(changed((old, broken))), "the same core known to end in nothing is found"


def test_an_end_in_nothing_that_nobody_has_looked_at_is_not_known() -> None:
    cut = ("red: [loop, COM], black: [SL, L1], cpc: [e, e]", "red: [loop, nothing], black: [SL, nothing], cpc: [e, e]")
    assert "loose_core" in {rule for rule, _ in said_of(changed(cut))}
    assert said_of(changed(cut, ("{kind: one-way switch}", "{kind: one-way switch, opened: no}"))) == []


def test_a_core_seen_to_end_in_nothing_whose_other_end_is_not_known_is_said_so_and_to_be_treated_as_live() -> None:
    (found,) = findings_of(changed(("red: [loop, COM]", "red: [nothing, ?]")))
    assert found.says == "The red core of W2 ends in nothing in Rose, and its other end is not known."
    assert found.means == "Treat it as live." and found.gravity is Gravity.PUT_RIGHT
    off = changed(("red: [loop, COM], black: [SL, L1], cpc: [e, e]",
                   "red: [nothing, ?], black: [nothing, ?], cpc: [e, ?]"))
    assert said_of(off) == [
        ("loose_core", "2 cores, of W2, end in nothing in Rose, and their other ends are not known."),
        ("never_lit", "Rose lamp is on in no setting: no line reaches it.")]


def test_a_way_that_is_off_and_a_lamp_out_of_its_holder_are_no_faults() -> None:
    assert said_of(changed(("rcd: 30 mA", "rcd: 30 mA, off: yes"))) == []
    assert said_of(changed(("lamp: 8 W", "lamp: none"))) == []
    off_and_cut = changed(("rcd: 30 mA", "rcd: 30 mA, off: yes"), ("black: [N, N]", "black: [nothing, N]"))
    assert [(f.rule, f.gravity) for f in findings_of(off_and_cut)] == [("loose_core", Gravity.DANGER)], (
        "a way is not off for ever: what is live with it on is still said")


def test_what_could_not_be_judged_says_which_ends_it_waits_for() -> None:
    unjudged = reading_of(KNOWN).unjudged
    assert "never_lit" not in unjudged and "no_cpc" not in unjudged
    open_rose = changed(("cpc: [e, e]", "cpc: [e, ?]")) + (
        "  W5: {type: twin and earth 1.0, at: Rose, cores: {red: loop, black: N, cpc: E}}\n")
    waits = reading_of(open_rose).unjudged
    asked = {"loose_core", "no_cpc", "cpc_interrupted", "off_but_live", "never_lit", "switched_neutral",
             "borrowed_neutral"}
    assert {rule: waits[rule] for rule in asked} == dict.fromkeys(asked, ("where cores end in Hall", "where W5 goes"))
    assert "no_supply" not in waits, "line is seen to reach the rose"
    shut = reading_of(changed(("{kind: one-way switch}", "{kind: one-way switch, opened: no}"))).unjudged
    assert shut["never_lit"] == ("what is joined in Hall",)
    assert set(REST_ON_ENDS) < {rule.name for rule in RULES}


def test_no_rcd_is_judged_where_there_is_none_whatever_the_device() -> None:
    none = changed(("device: type B 6 A, rcd: 30 mA", "device: unknown, rcd: none"))
    assert said_of(none) == [("no_rcd", "There is no RCD for circuit 1.")] and "no_rcd" not in reading_of(none).unjudged
    unknown = changed(("device: type B 6 A, rcd: 30 mA", "device: unknown, rcd: unknown"))
    assert said_of(unknown) == [] and reading_of(unknown).unjudged["no_rcd"] == ("RCD of circuit 1",)


def test_pages_say_not_known_and_never_none_or_nothing_of_what_nobody_has_seen() -> None:
    text = changed(("red: [loop, COM], black: [SL, L1], cpc: [e, e]", "red: [loop, ?], black: [SL, ?], cpc: [?, ?]"),
                   ("rcd: 30 mA", "rcd: none, off: yes"))
    said = words_of_pages(text)
    for wanted in ("What Hall does is not known: core ends are not known.",
                   "What works Rose lamp is not known: core ends are not known.",
                   "What happens there cannot be told. Treat every conductor as live.",
                   "Whether a cpc reaches Hall is not known. Test before metal is fitted there.",
                   "type B 6 A, no RCD, off when this was written", "? not known", "COM (?), L1 (?)",
                   "empty, or one of those not known", "nothing can be said before every core here is traced",
                   "Core ends are not known: another circuit may feed what is opened."):
        assert wanted.casefold() in said, wanted
    assert "may have no earth" not in said
    metal = words_of_pages(text.replace("{kind: one-way switch}", "{kind: one-way switch, metal: yes}"))
    assert "hall has metal that may have no earth: treat it as live until it is tested." in metal
    looked_for = "core that ends in nothing"
    for never in ("on nothing", "no cpc at", "switches no lamp", "never lit", "neither line nor neutral",
                  "ends in nothing"):
        assert never not in said.replace(looked_for, ""), never


def test_where_an_end_was_not_seen_there_are_boxes_for_what_is_found() -> None:
    job = job_of(SEEN.encode(), Look(), "rose.yaml")
    (page,) = job_to_pages(job, ("connections",))
    groups = {group[0].text: group for block in page.blocks if isinstance(block, Columns) for group in block.groups
              if isinstance(group[0], Heading)}
    _, table = groups["W5, end not seen"]
    assert isinstance(table, Table)
    assert table.head == ("Found at", "RD on", "BK on", "bare on")
    assert table.rows == (("", "", "", ""),) and table.boxes == (0, 1, 2, 3)
    rose = next(block for block in groups["Rose"] if isinstance(block, Table))
    assert [row[2] for row in rose.rows if isinstance(row[1], Swatch) and row[1].text.startswith("W5")] == (
        ["end not seen"] * 3)


def test_what_nobody_has_opened_is_drawn_as_that() -> None:
    """Its terminals are those of its kind; nobody has seen them."""
    wiring = wiring_of(SEEN)
    said = {place.name: [title.text for title in place.titles]
            for sheet in wiring_to_layout(wiring, load_style()).sheets for place in sheet.accessories}
    assert said["Hall"] == ["Hall", "one-way switch", "not opened: treat as live"]
    assert said["Rose"] == ["Rose", "ceiling rose", "Landing"]
    assert said["W5, end not seen"] == ["W5, end not seen"]
    bare = wiring_of("job: An opened rose\ncolours: legacy\naccessories:\n  Landing: {kind: ceiling rose}\ncables:\n"
                     "  a: {type: twin and earth 1.0, at: Landing, cores: {red: ?, black: ?, cpc: ?}}\n")
    (sheet,) = wiring_to_layout(bare, load_style()).sheets
    board = next(place for place in sheet.accessories if place.board)
    assert [title.text for title in board.titles][-1] == "not opened: treat as live"
