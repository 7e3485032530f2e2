"""Which end belongs to which: the pairing hidden in finished examples and in random circuits is always found."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from circuits import sound_wirings
from commands.runs import run
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from pages.jobs import says
from pypdfium2 import PdfDocument

from finding.hidden import answered, hidden, led_to_the_end
from sheetgen.circuit import circuit_of
from sheetgen.find.ends import orders
from sheetgen.find.identify import identify
from sheetgen.find.one_step import next_step
from sheetgen.find.pair_trials import PairTrials
from sheetgen.find.pairing import Search, Sieve, is_sound, lamps_switch
from sheetgen.find.plan import shortest_code
from sheetgen.find.typed import typed
from sheetgen.model.finding_out import TakenReading
from sheetgen.model.problems import Refused
from sheetgen.pages.identify import compose as identify_pages
from sheetgen.pipeline import Look, style_of, wiring_of
from sheetgen.pipeline.finding_out import identified, identify_sheet

EXAMPLES = Path(__file__).parents[2] / "examples"
SETS = style_of().sets
# example: candidates that fit with who works what, mean and worst number of tests; the method's note has 1.5 / 2 for
# the third, 2 / 2 for the fourth, 4.0 / 5 for joint-boxes
TABLE = {"one-way-loop-in": (2, 1, 1), "loop-at-switch": (4, 1, 1), "landing-borrowed-neutral": (4, 1, 1),
         "three-switches": (4, 1, 1), "joint-boxes": (48, 2.0, 2), "outbuildings": (8, 2.0, 2),
         "two-way-line-at-switch-current": (96, 1.25, 2), "two-strappers-conduit": (280, 2.02, 3)}


def example(name: str):
    return wiring_of((EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", TABLE)
def test_the_table_of_the_note_is_met(name: str) -> None:
    wiring, truth = hidden(example(name), who_works_what=True)
    first = identify(wiring, SETS, wiring.seen)
    fit, mean, worst = TABLE[name]
    assert first.all and first.candidates == fit
    assert first.figures.mean_tests <= mean and first.figures.worst_tests <= worst
    assert first.figures.mean_tests >= first.figures.mean_bound and first.figures.cost >= first.figures.cost_bound
    found, made = led_to_the_end(wiring, truth)
    assert made <= worst
    assert {frozenset(pair) for pair in found.pairs} == {frozenset(pair) for pair in truth.items()}


def test_no_plan_of_one_test_tells_the_outbuildings_apart() -> None:
    """At no place does one look part all eight ways, however every core elsewhere is joined: each way shows there by
    where the cores of that place come from, and of that there are fewer than eight."""
    wiring, _ = hidden(example("outbuildings"), who_works_what=True)
    search = Search(wiring, ())
    sieve = Sieve(wiring, search.ends, wiring.seen)
    fit = [p for p in search.everything() if sieve.leaves(p) is not None]
    assert len(fit) == 8
    for place in {end.ends[0] for end in search.ends}:
        here = [i for i, end in enumerate(search.ends) if end.ends[0] == place]
        assert len({tuple(p.partner[i] for i in here) for p in fit}) < 8, place


def test_a_large_house_is_planned_by_one_step_that_any_reading_may_follow() -> None:
    """Every pairing is among the ways in which the step may read, and the truth stays."""
    wiring, truth = hidden(example("bungalow"), who_works_what=True)
    for _ in range(2):
        search = Search(wiring, wiring.readings)
        step = next_step(PairTrials(search.ends), search, [])
        _, taken = answered(step, wiring, truth)
        wiring = replace(wiring, readings=(*wiring.readings, *taken))
    after = Search(wiring, wiring.readings)
    number = {end.name: i for i, end in enumerate(after.ends)}
    assert all(number[truth[end.name]] in domain for end, domain in zip(after.ends, after.domains, strict=True))
    assert sum(map(len, after.domains)) < sum(map(len, Search(replace(wiring, readings=()), ()).domains))


def test_pairs_by_themselves_are_read_from_the_file() -> None:
    """Two cables joined each in its own way; d closes as b was joined, so d is b; a/red was joined with no black."""
    text = SEEN + """\
readings:
  - {joined: [b/red + b/black, c/red + c/cpc], between: [d/red + d/cpc], reads: closed}
  - {joined: [b/red + b/black, c/red + c/cpc], between: [d/red + d/black, d/black + d/cpc], reads: open}
"""
    wiring, found = identified(text)
    assert [(t.between, t.closed) for t in wiring.readings] == [
        ((("d", "RD"), ("d", "cpc")), True), ((("d", "RD"), ("d", "BK")), False), ((("d", "BK"), ("d", "cpc")), False)]
    assert wiring.readings[0].joined == ((("b", "RD"), ("b", "BK")), (("c", "RD"), ("c", "cpc")))
    assert ("c", "d") in found.pairs


def test_what_is_certain_is_what_the_finished_example_says() -> None:
    """Roles that the whole circuit has, at the ends at which they are certain before anything is tested."""
    wiring, _ = hidden(example("one-way-loop-in"), who_works_what=True)
    certain = {(c.end, c.core): c.role for c in identify(wiring, SETS, wiring.seen).certain}
    assert certain["W1a", "brown"] == "permanent line" and certain["W1a", "blue"] == "neutral"
    assert certain["W2b", "brown"] == "permanent line" and certain["W2b", "blue"] == "switched line"
    assert ("W1b", "blue") not in certain or certain["W1b", "blue"] == "neutral"


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(sound_wirings(max_rooms=1), st.booleans(), st.data())
def test_the_truth_is_never_thrown_out(wiring, who, data) -> None:
    assume(sum(not c.flex and not c.link for c in wiring.cables) <= 6)
    whole = circuit_of(wiring)
    assume(is_sound(whole) and lamps_switch(whole, ()))
    cut, truth = hidden(wiring, who)
    ends = [c.name for c in cut.cables if c.at_one_end]
    readings: list[TakenReading] = []
    for one, other in data.draw(st.lists(st.tuples(*[st.sampled_from(ends)] * 2), max_size=4)):
        a, b = cut.cable(one), cut.cable(other)
        if a.ends[0] != b.ends[0]:
            spots = (a.cores[0].label or "cpc"), (b.cores[0].label or "cpc")
            readings.append(TakenReading(((one, spots[0]), (other, spots[1])), truth[one] == other))
    search = Search(cut, readings)
    number = {end.name: i for i, end in enumerate(search.ends)}
    wanted = tuple(number[truth[end.name]] for end in search.ends)
    assert all(wanted[i] in domain for i, domain in enumerate(search.domains))
    listed = search.everything()
    if listed is not None:
        true = [p for p in listed if p.partner == wanted]
        assert any(Sieve(cut, search.ends, cut.seen).leaves(p) for p in true)


ROSE = """\
job: An opened rose
colours: legacy
accessories:
  Landing: {kind: ceiling rose, room: Landing}
cables:
""" + "".join(f"  {n}: {{type: twin and earth 1.0, at: Landing, cores: {{red: nothing, black: ?, cpc: nothing}}}}\n"
              for n in "abcd")


def test_one_opened_rose_of_four_cables_takes_one_dead_and_one_live_step() -> None:
    _, found = identified(ROSE)
    assert found.candidates == 4 * 3 * 2, "which is the feed, which the drop, and which core of the feed is line"
    assert (found.plan.trial.means.value, found.figures.worst_tests) == ("dead", 2)
    assert {o.reads for o in found.plan.outcomes} == {"a changes", "b changes", "c changes", "d changes"}
    assert {o.then.trial.means.value for o in found.plan.outcomes} == {"live"}
    after = next(o.then for o in found.plan.outcomes if o.reads == "c changes")
    assert "a, b and d to the cpc" in after.trial.says, "the drop is not tried again"


def test_after_both_readings_the_rose_goes_back_as_a_drawing() -> None:
    taken = ROSE + """\
readings:
  - {between: [c/red, c/black], reads: changes}
  - {between: [b/red, b/cpc], reads: voltage}
"""
    _, found = identified(taken)
    assert found.pairs == ()
    assert found.says == ("b is the feed, c the switch drop, a and d go on. red of every cable to loop; black of a, b "
                          "and d to N; black of c, sleeved as line, to SL",)
    back = wiring_of(found.text)
    landed = {(c.name, core.colour): core.ends[0].terminal for c in back.cables if c.at_one_end for core in c.cores}
    assert landed["c", "BK"] == "SL" and landed["b", "BK"] == landed["a", "BK"] == "N"
    assert {landed[n, "RD"] for n in "abcd"} == {"loop"} and landed["a", ""] == "E"
    assert back.cable("c").cores[1].ends[0].sleeve == "RD"


EXCHANGED = ROSE + """\
readings:
  - {between: [c/red, c/black], reads: changes}
  - {between: [b/black, b/cpc], reads: voltage}
"""


def test_line_on_the_black_core_stops_the_work_and_nothing_is_joined() -> None:
    """A black core is at line where it was exchanged further back: of the cables that go on it tells nothing."""
    stop = "Stop: line and neutral are exchanged at the other end of b or before it; put that right, and test again"
    wiring, found = identified(EXCHANGED)
    assert (found.stop, found.text, found.pairs) == (stop, "", None)
    (page,) = identify_pages(found, wiring)
    assert stop in says(page) and "goes to the loop terminal" not in says(page)
    before_the_drop, _ = EXCHANGED.replace("  - {between: [c/red, c/black], reads: changes}\n", ""), None
    assert identified(before_the_drop)[1].stop == stop
    live = next(o.then for o in identified(ROSE)[1].plan.outcomes if o.reads == "c changes")
    first = identified(ROSE)[1]
    for outcome in live.outcomes:
        (left,) = outcome.left
        assert first.says[left].startswith("Stop: ") == ("black" in outcome.reads)
        assert ("to loop" in first.says[left]) == ("red" in outcome.reads)


def test_a_live_core_of_either_of_two_browns_is_nothing_exchanged() -> None:
    """Blue is neutral in these colours, and neither core is blue."""
    browns = EXCHANGED.replace("legacy", "current").replace("twin and earth", "twin brown and earth").replace(
        "red: nothing, black: ?", "brown 1: nothing, brown 2: ?").replace("/red", "/brown 1").replace(
        "/black", "/brown 2")
    assert identified(browns)[1].stop == ""


def test_a_reading_that_does_not_say_what_it_did_as_the_switch_was_worked_is_sent_back() -> None:
    with pytest.raises(Refused) as refused:
        identified(ROSE + "readings:\n  - {between: [c/red, c/black], reads: open}\n")
    assert [(p.code, p.hint) for p in refused.value.problems] == [
        ("E331", "Write changes, stays open or stays closed.")]


def test_what_is_not_known_is_not_called_certain() -> None:
    text = (EXAMPLES / "finding-out" / "half-known.yaml").read_text(encoding="utf-8") + """
readings:
  - {joined: [a/red, a/black], between: [d/red + d/black], reads: open}
  - {joined: [f/red, f/yellow], between: [e/red + e/yellow], reads: open}
"""
    _, found = identified(text)
    assert {(c.end, c.core, c.role) for c in found.certain} == {
        ("a", "red", "permanent line"), ("a", "black", "neutral"), ("a", "cpc", "cpc")}


def test_the_sheet_says_how_a_reading_is_typed_and_that_joins_are_undone() -> None:
    """Typed as printed, the reading leaves what its outcome leaves; the two cables that were tried are two pairs."""
    text = (EXAMPLES / "finding-out" / "half-known.yaml").read_text(encoding="utf-8")
    wiring, found = identified(text)
    (page, *_) = identify_pages(found, wiring)
    entry = "{joined: [a/red + a/black, f/red + f/yellow], between: [d/red + d/black], reads: open}"
    assert f"- {entry}" in says(page)
    assert "Before the next step undo every join that a step made." in says(page)
    for outcome in found.plan.outcomes:
        entries = typed(found.plan.trial, outcome.closed)
        again = identified(text + "\nreadings:\n" + "".join(f"  - {e}\n" for e in entries))[1]
        assert again.candidates == len(outcome.left)


def test_readings_that_fit_nothing_are_said_so() -> None:
    _, found = identified(ROSE + "readings:\n  - {between: [c/red, c/black], reads: changes}\n"
                                 "  - {between: [a/red, a/black], reads: changes}\n")
    assert found.candidates == 0 and found.plan is None


def test_two_reds_may_be_either() -> None:
    wiring, truth = hidden(example("two-way-conversion"), who_works_what=True)
    three = next(c for c in wiring.cables if c.type == "three-core and earth")
    reds = replace(three, cores=tuple(
        replace(core, colour="BN", mark=str(core.index)) if core.index < 3 else core for core in three.cores))
    assert sorted(orders(reds, reds)) == [(0, 1, 2, 3), (1, 0, 2, 3)]
    assert orders(three, three) == [(0, 1, 2, 3)]
    assert truth


SEEN = """\
job: Landing light as opened
board: {ways: {4: {serves: Upstairs lights}}}
colours: legacy
accessories:
  Landing: {kind: ceiling rose, room: Landing}
  Hall: {kind: two-way switch, room: Hall}
  Top: {kind: two-way switch, room: Landing}
cables:
  a: {type: twin and earth 1.0, at: way 4, cores: {red: L, black: N, cpc: E}}
  b: {type: twin and earth 1.0, at: Landing, cores: {red: loop, black: N, cpc: E}}
  c: {type: twin and earth 1.0, at: Landing, cores: {red: loop, black: SL, cpc: E}, sleeved: [black], length: 4 m}
  d: {type: twin and earth 1.0, at: Hall, cores: {red: L1, black: L2, cpc: E}}
  e: {type: three-core and earth 1.0, at: Hall, cores: {red: COM, yellow: L1, blue: L2, cpc: E}}
  f: {type: three-core and earth 1.0, at: Top, cores: {red: COM, yellow: L1, blue: L2, cpc: E}}
seen:
  - Landing is worked by Hall and Top
"""
READ = SEEN + "readings:\n  - {joined: [a/red, a/black], between: [b/red, b/black], reads: closed}\n"


def test_json_has_the_shape_that_its_schema_says(tmp_path: Path) -> None:
    schema = json.loads(run("identify", "x", "--schema").output)
    Draft202012Validator.check_schema(schema)
    values = []
    for text in (SEEN, READ, ROSE):
        file = tmp_path / "seen.yaml"
        file.write_text(text, encoding="utf-8")
        values.append(json.loads(run("identify", file, "--format", "json").output))
        Draft202012Validator(schema).validate(values[-1])
    first, done, _ = values
    assert (first["candidates"], first["all"], first["result"]) == (2, True, None)
    test = first["test"]
    assert test["dead"] and test["joined"] == [["b/red", "b/black"]] and test["between"] == ["a/red", "a/black"]
    assert [(o["reads"], o["candidates"], o["then"]) for o in test["outcomes"]] == [
        ("a closed", 1, None), ("none closed", 1, None)]
    assert done["test"] is None and done["pairs"] == [["a", "b"], ["c", "d"], ["e", "f"]]


def test_the_full_description_is_written_and_nothing_overwritten(tmp_path: Path) -> None:
    seen, read, new = tmp_path / "seen.yaml", tmp_path / "read.yaml", tmp_path / "new.yaml"
    seen.write_text(SEEN, encoding="utf-8")
    read.write_text(READ, encoding="utf-8")
    early = run("identify", seen, "--write", new)
    assert early.exit_code == 1 and not new.exists() and "more than one way is left" in early.output
    done = run("identify", read, "--write", new)
    assert done.exit_code == 0 and "a and b are one cable." in done.output
    text = new.read_text(encoding="utf-8")
    assert "# c at Landing and d at Hall are the two ends of this cable" in text
    cable = wiring_of(text).cable("c")
    assert cable.ends == ("Landing", "Hall") and cable.length == 4 and not cable.at_one_end
    assert [(core.colour, core.ends[0].terminal, core.ends[1].terminal) for core in cable.cores] == [
        ("RD", "loop", "L1"), ("BK", "SL", "L2"), ("", "E", "E")]
    assert (cable.cores[1].ends[0].sleeve, cable.cores[1].ends[1].sleeve) == ("RD", None)
    again = run("identify", read, "--write", new)
    assert again.exit_code == 1 and "is there already" in again.output and new.read_text(encoding="utf-8") == text


def test_an_end_that_stays_open_is_not_the_partner() -> None:
    """The feed does not end at the block that was tried, so it is the other cable at the rose, and all else follows."""
    _, found = identified(READ.replace("reads: closed", "reads: open"))
    assert found.pairs == (("a", "c"), ("b", "d"), ("e", "f"))


def test_a_whole_description_has_nothing_to_identify() -> None:
    with pytest.raises(Refused) as refused:
        identified((EXAMPLES / "one-way-loop-in.yaml").read_text(encoding="utf-8"))
    assert [p.code for p in refused.value.problems] == ["E333"]


def test_ends_that_go_to_a_place_not_opened_are_no_pairs_of_necessity() -> None:
    closed = SEEN.replace("Top: {kind: two-way switch, room: Landing}",
                          "Top: {kind: two-way switch, room: Landing, opened: no}").replace(
        "  f: {type: three-core and earth 1.0, at: Top, cores: {red: COM, yellow: L1, blue: L2, cpc: E}}\n", "")
    _, found = identified(closed)
    assert found.all and found.candidates > 2
    assert "a, b, c, d and e go to a place not opened" in found.says
    assert any("read closed are the two ends of one cable" in words for words in found.assumed)
    assert "a and b are one cable, c and d are one cable, and e goes to a place not opened" in found.says


def test_the_sheet_says_what_it_is_of_and_speaks_as_people_do() -> None:
    data = (EXAMPLES / "finding-out" / "half-known.yaml").read_bytes()
    wiring, found = identified(data)
    sheet = identify_sheet(data, wiring, found, Look(), "half-known.yaml")
    said = " ".join(" ".join(page.get_textpage().get_text_range().split()) for page in PdfDocument(sheet))
    assert "Bryony House, first floor · AS FOUND" in said
    assert "Steps to the end: 1.9 on average, 2 at most." in said
    assert "a cpc cpc" in said and "a red Permanent line" in said
    assert "one cable each: a and b, c and d, e and f" in said and "d is e" not in said
    opened = (EXAMPLES / "finding-out" / "opened-rose.yaml").read_bytes()
    (page, *_) = identify_pages(identified(opened)[1], identified(opened)[0])
    assert "file, sheetgen identify draws it." in says(page) and "`" not in says(page)


@pytest.mark.parametrize(("weights", "branches", "mean", "worst"), [
    ([1, 1, 1, 1], 2, 2.0, 2), ([8, 4, 2, 1, 1], 2, 1.875, 3), ([1, 1, 1], 3, 1.0, 1), ([1] * 9, 3, 2.0, 2),
    ([5], 2, 0.0, 0), ([3, 1, 1, 1], 3, 8 / 6, 2),
])
def test_the_bound_is_the_shortest_code(weights, branches: int, mean: float, worst: int) -> None:
    """By hand: Huffman's codes of two and of three letters."""
    assert shortest_code(weights, branches) == (pytest.approx(mean), worst)
