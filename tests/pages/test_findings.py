"""The findings page: nothing lost, most serious first, and plainly said where there is nothing."""

from __future__ import annotations

from dataclasses import replace

from circuits import sound_wirings, wirings
from hypothesis import given, settings
from pages.jobs import example, job_of, says, tables, words

from sheetgen.judge.rules import RULES
from sheetgen.model.page import Words
from sheetgen.model.reading import Finding, Gravity
from sheetgen.pages.findings import HEAD, summary
from sheetgen.pages.job_to_pages import job_to_pages


def findings(job):
    """The page."""
    (page,) = job_to_pages(job, ("findings",))
    return page


@settings(max_examples=60, deadline=None, derandomize=True)
@given(wirings())
def test_every_finding_is_printed_whole_and_the_most_serious_first(wiring):
    job = job_of(wiring)
    page = findings(job)
    text = says(page)
    for finding in job.reading.findings:
        for part in (finding.says, finding.means, finding.cure, finding.setting):
            assert part in text
        assert finding.clause in text or "from memory" in finding.clause
    assert "from memory" not in text  # a clause that is not confirmed stays off a customer's page
    if job.reading.findings:
        (table,) = [t for t in tables(page) if t.head == HEAD]
        assert len(table.rows) == len(job.reading.findings)
        ranks = [[g.value.upper() in words(row[0]).upper() for g in Gravity].index(True) for row in table.rows]
        assert ranks == sorted(ranks)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(sound_wirings())
def test_where_nothing_serious_is_found_no_danger_is_printed(wiring):
    assert "DANGER" not in says(findings(job_of(wiring)))


def test_where_nothing_was_found_the_page_says_what_was_looked_for():
    job = example("two-way-conversion")
    clean = replace(job, reading=replace(job.reading, findings=()))
    text = says(findings(clean))
    assert "Nothing was found" in text and "not inspected" in text
    for rule in RULES:
        assert rule.looks_for in text


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
    assert reasons["volt drop over the limit"].startswith("not given: length of ")
    zs = reasons["Zs over the limit of the device"]
    assert "earthing of the supply" in zs and "Ze" in zs and "device of way" in zs
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
