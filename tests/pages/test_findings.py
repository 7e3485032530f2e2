"""The findings page: nothing lost, most serious first, and plainly said where there is nothing."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import given, settings
from kept_houses import houses, one_process, sound_houses
from pages.jobs import blocks_of, example, job_of, says, tables, words

from sheetgen.judge.rules import RULES
from sheetgen.model.page import Words
from sheetgen.model.reading import Finding, Gravity
from sheetgen.model.reckoning import CableFigures
from sheetgen.pages.findings import HEAD, summary
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.lacking import asked_for, why_not_judged


def findings(job):
    """The page."""
    (page,) = job_to_pages(job, ("findings",))
    return page


def as_printed(text: str) -> str:
    """A way is a circuit on paper."""
    return re.sub(r"\b([Ww])ay(s?) (?=\d)", lambda m: f"{'Cc'[m[1] == 'w']}ircuit{m[2]} ", text)


@one_process
@settings(max_examples=60, deadline=None, derandomize=True)
@given(houses())
def test_every_finding_is_printed_whole_and_the_most_serious_first(wiring):
    job = job_of(wiring)
    page = findings(job)
    text = says(page)
    for finding in job.reading.findings:
        for part in (finding.says, finding.means, finding.cure, finding.setting):
            assert as_printed(part) in text
        assert finding.clause in text or "from memory" in finding.clause
    assert "from memory" not in text  # a clause that is not confirmed stays off a customer's page
    if job.reading.findings:
        assert sum(len(t.rows) for t in tables(page) if t.head == HEAD) == len(job.reading.findings)
        first = next(f.says for g in Gravity for f in job.reading.findings if f.gravity is g)
        assert all(text.index(as_printed(f.says)) >= text.index(as_printed(first)) for f in job.reading.findings)


@one_process
@settings(max_examples=25, deadline=None, derandomize=True)
@given(sound_houses())
def test_where_nothing_serious_is_found_no_danger_is_printed(wiring):
    assert "DANGER" not in says(findings(job_of(wiring)))


def test_where_nothing_was_found_the_page_says_what_was_looked_for():
    job = example("two-way-conversion")
    clean = replace(job, reading=replace(job.reading, findings=()))
    text = says(findings(clean))
    assert "Nothing was found" in text and "not inspected" in text
    for rule in RULES:
        assert rule.looks_for in text


def test_each_finding_stands_under_what_is_to_be_done_about_it():
    """Typed out: the danger of a neutral in a switch, with where a hand goes; a note that says what to do; one that
    does not."""
    job = example("two-way-line-at-switch")
    danger = Finding("a", Gravity.DANGER, "Line on E.", "It can kill.", "Move it.", accessory="Top")
    later = Finding("b", Gravity.NOTE, "Ten sleeves missing.", advice="Fit them.")
    left = Finding("c", Gravity.NOTE, "Two colour versions.")
    right = Finding("d", Gravity.PUT_RIGHT, "No cpc.", advice="Run one.")
    told = replace(job, reading=replace(job.reading, findings=(left, later, right, danger)))
    lines = says(findings(told)).splitlines()
    heads = [next(i for i, line in enumerate(lines) if words in line) for words in (
        "Dangerous: leave it off", "Have an electrician look", "Mind, or improve, when work is done here",
        "Safe to leave")]
    under = [lines.index(f.says) for f in (danger, right, later, left)]
    assert [i for pair in zip(heads, under, strict=True) for i in pair] == sorted(heads + under)
    assert ("It can kill. Before a hand goes into Top, or another box of circuit 4: switch off circuit 4. Then prove "
            "it dead.") in lines


def without_figures(name):
    """An example of which no length, no Ze, no earthing and no device is given, and in which nothing was found."""
    job = example(name)
    ways = tuple(replace(w, device=None, rcd=None) for w in job.wiring.board.ways)
    wiring = replace(job.wiring, cables=tuple(replace(c, length=None, method="") for c in job.wiring.cables),
                     board=replace(job.wiring.board, earthing="", ze=None, ways=ways))
    bare = job_of(wiring)
    return replace(bare, reading=replace(bare.reading, findings=()))


def test_what_could_not_be_judged_stands_apart_with_the_reason():
    page = findings(without_figures("two-way-conversion"))
    (table,) = tables(page)
    reasons = {words(rule): words(why) for rule, why in table.rows}
    assert reasons["volt drop over the limit"].startswith("not known: length of ")
    zs = reasons["Zs over the limit of the device"]
    assert "earthing of the supply" in zs and "Ze" in zs and "device of circuit" in zs
    (listed,) = [b.text for b in page.blocks if isinstance(b, Words) and b.lead == "Looked for and not met:"]
    met = set(listed.removesuffix(".").split("; "))
    assert met and not met & reasons.keys()
    assert met | reasons.keys() == {rule.looks_for for rule in RULES}
    assert "Nothing was found in what could be judged." in says(page)


def test_where_everything_is_given_everything_is_judged():
    assert not example("bungalow").reading.unjudged
    assert "Could not be judged" not in says(findings(example("bungalow")))


def test_findings_are_counted_in_words():
    def of(gravity):
        return Finding("rule", gravity, "says")

    assert summary([of(Gravity.DANGER)]) == "1 danger"
    assert summary([of(Gravity.NOTE)] * 2 + [of(Gravity.PUT_RIGHT)]) == "1 thing to put right and 2 notes"
    assert summary([]) == ""


def test_many_kinds_of_fault_that_lack_the_same_are_a_paragraph():
    page = findings(example("finding-out/half-known"))
    lead = "Not known: where a, b, c, d, e and f go, what is joined in Bedroom:"
    (listed,) = [b.text for b in blocks_of(page.blocks) if isinstance(b, Words) and b.lead == lead]
    assert {"switch in the neutral", "lamps in series"} <= {*listed.rstrip(".").split("; ")}
    assert says(page).count("Could not be judged") == 1
    assert max(len(words(cell)) for table in tables(page) for row in table.rows for cell in row) < 250


def test_what_the_tables_lack_is_said_in_plain_words() -> None:
    assert why_not_judged(("length of W1", "rating of single 1.0", "Zs limit of MCB 6 A")) == (
        "not known: length of W1; the tables used here give no rating of single 1.0 and no Zs limit of MCB 6 A")
    assert [(b.lead, b.text) for b in asked_for([CableFigures("W1", 0.0, None, "", ("rating of single 1.0",))])] == [
        ("The tables used here give no", "rating of single 1.0.")]
