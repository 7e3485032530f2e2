"""What sheets say, whole: every page of every example as text, and of houses with mistakes in them.

A golden is no proof that a sentence is true; the other tests of pages are there for that. It shows what a change says
anew, and nothing is accepted unread.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import pytest
from houses import house as rooms
from oracle.mistakes import house
from pages.as_text import as_text, reading_as_text, value_as_text
from pages.jobs import EXAMPLES, FAULTY, faulty

from sheetgen.model.drawing import Drawing
from sheetgen.model.finding_out import FaultFound, Identified
from sheetgen.model.page import Page
from sheetgen.model.wiring import Wiring
from sheetgen.pages import PAGES
from sheetgen.pages.fault import compose as fault_pages
from sheetgen.pages.identify import compose as identify_pages
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.pages.plan_of_tests import plan_blocks
from sheetgen.pages.survey import compose as survey_pages
from sheetgen.pages.survey import unknown_places
from sheetgen.pipeline import Look, circuit_of, job_of, judged, wiring_of
from sheetgen.pipeline.comparison import comparison_sheet, wanted_of
from sheetgen.pipeline.finding_out import FaultSearch, fault_search, identified
from sheetgen.pipeline.gallery import gallery_sheet
from sheetgen.pipeline.handout import Wish, fault_sheets, handout_sheets
from sheetgen.pipeline.survey import pack as survey_pack
from sheetgen.tell.story import stories_of

EVERY_KIND = tuple(kind.name for kind in PAGES)
FINDING_OUT = EXAMPLES / "finding-out"
FILES = (*sorted(EXAMPLES.glob("*.yaml")), FINDING_OUT / "half-known.yaml",
         *sorted((Path(__file__).parent / "texts").glob("*.yaml")))
WITH_MISTAKES, WHOLLY = range(1, 51), range(1, 21)  # WHOLLY: with the method of each circuit, and what is where


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_every_page_of_an_example(path, golden: Callable[[str, str], None]) -> None:
    job = job_of(path.read_bytes(), Look(), path.name)
    text = as_text(job_to_pages(job, EVERY_KIND))
    golden(f"{path.stem}.txt", text)
    assert "circuit" in text.lower() and not re.search(r"\b[Ww]ays? \d", text)


@pytest.mark.parametrize("name", FAULTY)
def test_every_page_where_much_is_wrong(name: str, golden: Callable[[str, str], None]) -> None:
    """Without the wiring drawing, and without the table of symptoms, which tries every fault of a house."""
    golden(f"{name}.txt", as_text(job_to_pages(faulty(name), tuple(k for k in EVERY_KIND if k != "symptoms"))))


@pytest.mark.parametrize("name", FAULTY)
def test_all_that_is_judged_where_much_is_wrong(name: str, golden: Callable[[str, str], None]) -> None:
    golden(f"{name}-judged.txt", reading_as_text(faulty(name).reading))


@pytest.mark.parametrize("seed", [4, 11, 25])
def test_every_page_of_a_house_with_mistakes(seed: int, golden: Callable[[str, str], None]) -> None:
    golden(f"mistakes-{seed}.txt", as_text(job_to_pages(job_of(house(seed).text(), Look()), EVERY_KIND)))


def test_every_page_of_many_lights_with_a_switch_each(golden: Callable[[str, str], None]) -> None:
    golden("eight-rooms.txt", as_text(job_to_pages(job_of(rooms(8), Look()), EVERY_KIND)))


TWO_WAY = (EXAMPLES / "two-way-conversion.yaml").read_bytes()
BORROWED = (EXAMPLES / "landing-borrowed-neutral.yaml").read_bytes()
OLD = (EXAMPLES / "old-meets-new.yaml").read_bytes()
BOUND = {  # what is bound where no job sheet is
    "handout": ("handout", lambda: handout_sheets(TWO_WAY, Look(), Wish(versions=2))),
    "handout-harder": ("handout", lambda: handout_sheets(BORROWED, Look(), Wish(harder=True))),
    "handout-both": ("handout", lambda: handout_sheets(TWO_WAY, Look("both"))),
    "handout-fault": ("handout", lambda: fault_sheets(TWO_WAY, Look(), Wish(versions=2))),
    "comparison": ("comparison", lambda: comparison_sheet(OLD, wanted_of("legacy", OLD), Look())),
    "comparison-renewed": ("comparison", lambda: comparison_sheet(OLD, wanted_of("current", OLD), Look(), renew=True)),
    "comparison-method": ("comparison", lambda: comparison_sheet(
        TWO_WAY, wanted_of("line carried through", TWO_WAY), Look())),
    "gallery": ("gallery", lambda: gallery_sheet(Look())),
    "survey": ("survey", survey_pack),
}


@pytest.mark.parametrize("name", BOUND)
def test_what_else_is_bound(name: str, golden: Callable[[str, str], None], monkeypatch: pytest.MonkeyPatch) -> None:
    pages: list[Page] = []
    module, bind = BOUND[name]
    monkeypatch.setattr(f"sheetgen.pipeline.{module}.pages_to_pdf", lambda given, *_: pages.extend(given) or b"")
    bind()
    golden(f"bound-{name}.txt", as_text(pages))


@lru_cache
def searched(name: str) -> FaultSearch:
    return fault_search((FINDING_OUT / f"{name}.yaml").read_bytes())


@lru_cache
def told_apart(name: str) -> tuple[Wiring, Identified]:
    return identified((FINDING_OUT / f"{name}.yaml").read_bytes())


@pytest.mark.parametrize("name", ["dead-light", "trips-on-the-cord"])
def test_the_plan_that_finds_a_fault(name: str, golden: Callable[[str, str], None]) -> None:
    search = searched(name)
    wiring = search.circuit.wiring
    golden(f"{name}-fault.txt", as_text(fault_pages(search.found, search.seen, wiring.readings)))


@pytest.mark.parametrize("name", ["opened-rose", "half-known", "box-in-the-loft"])
def test_the_plan_that_identifies(name: str, golden: Callable[[str, str], None]) -> None:
    wiring, found = told_apart(name)
    golden(f"{name}-identify.txt", as_text(identify_pages(found, wiring, ())))


CHANGES = "readings:\n  - {between: [c/red, c/black], reads: changes}\n"
AT_THE_END = (CHANGES + "  - {between: [b/red, b/cpc], reads: voltage}\n",  # put back; and what fits nothing
              CHANGES + "  - {between: [d/red, d/black], reads: changes}\n")


def test_what_a_search_ends_with_and_what_is_planned_in_less_room(golden: Callable[[str, str], None]) -> None:
    """A plan that does not fit is cut to its first steps, and one whose first step does not fit to that step."""
    pages: list[Page] = []
    for more in AT_THE_END:
        wiring, found = identified((FINDING_OUT / "opened-rose.yaml").read_text(encoding="utf-8") + more)
        pages += identify_pages(found, wiring, (Drawing(5000, 3000, ()),))
    nothing = fault_search((FINDING_OUT / "dead-light.yaml").read_bytes(), ["trips"])
    pages += fault_pages(nothing.found, nothing.seen, ())
    found = told_apart("half-known")[1]
    pages += identify_pages(replace(found, all=False), told_apart("half-known")[0])
    pages += identify_pages(replace(found, figures=None, certain=found.certain[:1]), told_apart("half-known")[0])
    dead = searched("dead-light").found
    pages += fault_pages(replace(dead, figures=None, told_apart=False), (), ())
    pages += fault_pages(replace(dead, plan=None), (), ())
    plans = [(name, searched(name).found) for name in ("dead-light", "trips-on-the-cord")]
    for name, search in [*plans, *((name, told_apart(name)[1]) for name in ("opened-rose", "half-known"))]:
        says = [s.short for s in search.suspects] if isinstance(search, FaultFound) else search.says
        for room in (1, 8, 20):
            blocks = plan_blocks(search.plan, dict(enumerate(says)), dict(search.standings), brief=room == 8, room=room)
            pages.append(Page("plan", f"{name}, {room} rows", tuple(blocks)))
    golden("plans-in-less-room.txt", as_text([*pages, Page("plan", "None", tuple(plan_blocks(None, {}, {})))]))


def test_a_job_in_the_colours_of_another_set(golden: Callable[[str, str], None]) -> None:
    """What a sheet says besides where its colours are not those found."""
    job = job_of((EXAMPLES / "old-meets-new.yaml").read_bytes(), Look("current"), "old-meets-new.yaml")
    golden("old-meets-new-current.txt", as_text(job_to_pages(job, tuple(k for k in EVERY_KIND if k != "symptoms"))))


@pytest.mark.parametrize("path", [path for path in FILES if path.stem in ("half-known", "half-opened")],
                         ids=lambda path: path.stem)
def test_the_forms_of_a_survey(path: Path, golden: Callable[[str, str], None]) -> None:
    wiring = wiring_of(path.read_bytes())
    golden(f"{path.stem}-survey.txt", as_text(survey_pages(unknown_places(wiring), wiring)))


def test_findings_of_houses_with_mistakes(golden: Callable[[str, str], None]) -> None:
    """Everything that the check says of them, cures and what was not judged included."""
    lines: list[str] = []
    for seed in WITH_MISTAKES:
        reading = judged(house(seed).text())[1]
        lines.append(f"==== {seed}")
        for f in reading.findings:
            lines += [f"{f.gravity.value}: {f.says} [{f.rule}; {f.setting}; {f.accessory}/{f.terminal}/{f.core}]",
                      f"    {f.means} | {f.cure} | {f.clause} | also {len(f.also)}"]
        lines += [f"  {core}: {role.value}" for core, role in reading.roles.items()]
        lines += [f"  sleeve {s.core} {s.end} {s.colour} {s.standing.value}" for s in reading.sleeves]
        if seed in WHOLLY:
            lines += [f"  {value_as_text(told)}" for told in (*reading.circuits, *reading.places)]
            lines += [f"  {place}: isolate {', '.join(ways)}" for place, ways in reading.isolation.at.items()]
    golden("findings-of-mistakes.txt", "\n".join(lines) + "\n")


def test_stories_of_houses_with_mistakes(golden: Callable[[str, str], None]) -> None:
    """What happens in every setting, in words."""
    lines: list[str] = []
    for seed in WITH_MISTAKES:
        circuit = circuit_of(house(seed).text())
        lines.append(f"==== {seed}")
        for told in stories_of(circuit, lambda group: group.rows).values():
            lines += [f"{', '.join(setting)}: {story}" for setting, story in told.items()]
    golden("stories-of-mistakes.txt", "\n".join(lines) + "\n")
