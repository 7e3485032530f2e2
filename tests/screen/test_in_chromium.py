"""The sheet for the screen in a real browser: every setting against the state table, by pointer and by key."""

from __future__ import annotations

import os
import shutil
from functools import cache

import pytest
from judged_circuit import conditions_of
from pages.jobs import EXAMPLES, example

from sheetgen.circuit import Circuit as Solved
from sheetgen.commands.states import states_value
from sheetgen.pipeline import drawings_of, style_of
from sheetgen.pipeline.screen import screen_sheet
from sheetgen.tell.story import tell

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or "/usr/bin/chromium"
REQUIRED = os.environ.get("SHEETGEN_REQUIRE_CHROMIUM") == "1"
ARGS = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
        "--disable-background-networking", "--disable-component-update", "--disable-sync"]
FIRST = "two-way-line-at-switch"
WALKED = (FIRST, "three-switches", "landing-borrowed-neutral", "bungalow", "loop-at-switch")
PHONE = {"width": 390, "height": 844}
MARKUP = "<img src=x onerror=\"document.title='run'\">"

pytestmark = pytest.mark.skipif(
    not REQUIRED and not os.path.exists(CHROMIUM), reason="no Chromium here; SHEETGEN_REQUIRE_CHROMIUM=1 requires it"
)

SHOWN = """() => ({
  loads: Object.fromEntries([...document.querySelectorAll('#loads li')].map(e => [e.dataset.load, e.dataset.state])),
  says: document.getElementById('says').textContent,
  rows: [...document.querySelectorAll('tr[aria-current]')].map(e => [Number(e.dataset.group), e.dataset.setting]),
  live: [...document.querySelectorAll('.wiring g[data-role=conductor].live')].map(e => e.dataset.core),
  dead: [...document.querySelectorAll('.wiring g[data-role=conductor]:not(.live)')].map(e => e.dataset.core),
  lit: [...new Set([...document.querySelectorAll('.wiring circle.lit')].map(e => e.dataset.load))],
  blades: [...document.querySelectorAll('.wiring [data-moves]:not(.away)')]
    .map(e => [e.dataset.moves, e.dataset.position]),
})"""


@pytest.fixture(scope="module")
def browser():
    """Chromium, started once."""
    sync_api = pytest.importorskip("playwright.sync_api") if not REQUIRED else __import__(
        "playwright.sync_api", fromlist=["sync_playwright"])
    with sync_api.sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGS)
        yield started
        started.close()


@pytest.fixture
def open_sheet(browser, tmp_path):
    """Opens a sheet from its file; the page must ask for nothing else and report no error."""
    wrong: list[str] = []

    def opened(html: str, viewport=None):
        file = tmp_path / "sheet.html"
        file.write_text(html, encoding="utf-8")
        page = browser.new_page(viewport=viewport or {"width": 1400, "height": 900})
        page.on("pageerror", lambda error: wrong.append(str(error)))
        page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
        page.on("request", lambda request: wrong.append(request.url)
                if not request.url.startswith(("file:", "data:")) else None)
        page.goto(file.as_uri())
        page.wait_for_selector("body[data-ready]")
        return page

    yield opened
    assert wrong == []


@cache
def sheet(name: str) -> str:
    """The sheet of an example."""
    return screen_sheet((EXAMPLES / f"{name}.yaml").read_bytes(), f"{name}.yaml")


@pytest.mark.parametrize("name", WALKED)
def test_every_setting_shows_what_the_state_table_says(open_sheet, name):
    job, page = example(name), open_sheet(sheet(name))
    states = states_value(job.solution)["groups"]
    standing = {n: s.positions[0].name for n, _, s in job.wiring.switches()}
    positions = {n: [p.name for p in s.positions] for n, _, s in job.wiring.switches()}
    for number, (group, state) in enumerate(zip(job.solution.groups, states, strict=True)):
        for row, wanted in zip(group.rows, state["rows"], strict=True):
            for switch, position in wanted["switches"].items():
                while standing[switch] != position:
                    page.click(f'.bar [data-switch="{switch}"]')
                    after = positions[switch].index(standing[switch]) + 1
                    standing[switch] = positions[switch][after % len(positions[switch])]
            shown = page.evaluate(SHOWN)
            for lamp, value in wanted["lamps"].items():
                assert shown["loads"][lamp] == value["state"], (name, wanted)
                assert (lamp in shown["lit"]) == (value["fraction"] > 0), (name, wanted)
            assert [number, "\n".join(row.setting)] in shown["rows"]
            if row is not group.rows[0]:
                assert shown["says"] == tell(Solved(job.wiring, job.solution), group, row).says
            live_cores(job, group, row, shown)
            assert {tuple(blade) for blade in shown["blades"]} == set(standing.items())


def live_cores(job, group, row, shown) -> None:
    """Every core of the group is shown live where the solution says so."""
    at = conditions_of(job.solution, group, row)
    for core in job.wiring.cores():
        nodes = [end.node for end in core.ends if end.node is not None]
        if nodes and nodes[0] in at:
            where = "live" if at[nodes[0]].live else "dead"
            assert core.key in shown[where], (core.key, row.setting)


def test_keys_operate_switches_and_the_sentence_is_announced(open_sheet):
    page = open_sheet(sheet(FIRST))
    before = page.text_content("#says")
    page.keyboard.press("2")
    assert page.get_attribute('#loads li[data-load="Landing lamp"]', "data-state") == "on"
    assert page.text_content("#says") != before
    assert page.get_attribute("#says", "role") == "status"
    page.focus('.bar [data-switch="Hall"]')
    page.keyboard.press("Enter")
    assert page.get_attribute('#loads li[data-load="Landing lamp"]', "data-state") == "off"
    assert "at L2" in page.inner_text('.bar [data-switch="Hall"]')


def test_touching_a_conductor_tells_about_it(open_sheet):
    page = open_sheet(sheet(FIRST))
    page.locator('.wiring g[data-core="W3/2"] polyline').first.dispatch_event("click")
    said = page.inner_text("#asked")
    assert "W3 YE" in said and "Yellow" in said and "Red sleeve fitted at Hall" in said
    assert "from L1 of Hall to L1 of Top" in said and "230 V to neutral" in said
    page.locator('.wiring rect[data-terminal="Landing SL"]').first.dispatch_event("click")
    assert "SL of Landing" in page.inner_text("#asked") and "0 V to neutral" in page.inner_text("#asked")
    page.keyboard.press("2")
    assert "230 V to neutral" in page.inner_text("#asked")


def test_the_list_offers_all_that_the_drawing_does_without_a_pointer(open_sheet):
    job, page = example(FIRST), open_sheet(sheet(FIRST))
    offered = set(page.eval_on_selector_all(".list button.core", "all => all.map(e => e.dataset.core)"))
    assert offered == {core.key for core in job.wiring.cores()}
    terminals = set(page.eval_on_selector_all(".list button.terminal", "all => all.map(e => e.dataset.terminal)"))
    assert terminals == {str(node) for node in job.wiring.nodes()}
    page.focus(".list summary")
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert "L of way 4" in page.inner_text("#asked")


def test_looks_change_the_codes_and_back(open_sheet):
    page = open_sheet(sheet(FIRST))
    codes = "all => all.map(e => e.textContent).filter(Boolean)"
    found = page.eval_on_selector_all(".wiring text[data-role=code]", codes)
    paints = "all => all.map(e => e.getAttribute('stroke'))"
    before = page.eval_on_selector_all(".wiring polyline", paints)
    page.check("input[value=current]")
    current = page.eval_on_selector_all(".wiring text[data-role=code]", codes)
    assert any("RD" in code for code in found) and not any("RD" in code for code in current)
    assert any("BN" in code for code in current)
    page.check("input[value=mono]")
    assert page.eval_on_selector_all(".wiring text[data-role=code]", codes) == found
    assert page.eval_on_selector_all(".wiring polyline", paints) != before
    page.check("input[value=found]")
    assert page.eval_on_selector_all(".wiring polyline", paints) == before


def test_a_room_is_found(open_sheet):
    page = open_sheet(sheet("bungalow"))
    page.select_option("#room", "Bedroom 2")
    marked = page.eval_on_selector_all("svg .found", "all => all.map(e => e.dataset.accessory)")
    assert marked == ["Bedroom 2", "Bedroom 2 lamp", "Bed 2 switch"]
    opened = page.eval_on_selector_all(".list details[open]", "all => all.map(e => e.dataset.accessory)")
    assert set(opened) == set(marked)


def test_a_phone_held_upright_has_everything_within_its_width(open_sheet):
    page = open_sheet(sheet("three-switches"), PHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    for button in page.query_selector_all(".bar .switch"):
        box = button.bounding_box()
        assert box["height"] >= 44 and box["y"] + box["height"] <= PHONE["height"]
    page.click('.bar [data-switch="Kitchen"]')
    assert page.get_attribute('#loads li[data-load="South lamp"]', "data-state") == "on"


@pytest.mark.parametrize("viewport", [None, PHONE])
def test_no_accessibility_violation_is_found(open_sheet, viewport):
    axe = pytest.importorskip("axe_core_python.sync_playwright") if not REQUIRED else __import__(
        "axe_core_python.sync_playwright", fromlist=["Axe"])
    page = open_sheet(sheet("three-switches"), viewport)
    page.keyboard.press("1")
    page.click(".list summary")
    page.click(".list details[open] button")
    found = axe.Axe().run(page)
    assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found["violations"]] == []
    assert found["passes"]


def test_it_prints_as_the_paper_sheet_does(open_sheet):
    job, page = example(FIRST), open_sheet(sheet(FIRST))
    (drawing,) = drawings_of(job.wiring, job.reading, style_of())
    page.keyboard.press("2")
    page.emulate_media(media="print")
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert not page.is_visible(".bar") and not page.is_visible(".side section")
    width = page.locator(".wiring svg").first.bounding_box()["width"]
    assert abs(width - drawing.width / 100 / 25.4 * 96) < 1
    shown = page.evaluate(SHOWN)
    assert dict(shown["blades"]) == {n: s.positions[0].name for n, _, s in job.wiring.switches()}
    stroke = "e => getComputedStyle(e.querySelector('polyline')).stroke"
    assert page.eval_on_selector('.wiring g[data-core="W1/1"]', stroke) == "rgb(42, 42, 42)"
    page.evaluate("dispatchEvent(new Event('afterprint'))")
    assert dict(page.evaluate(SHOWN)["blades"])["Top"] == "L2"


def test_markup_in_a_description_shows_as_text(open_sheet):
    text = (EXAMPLES / "one-way-loop-in.yaml").read_text()
    quoted = "'" + MARKUP.replace("'", "''") + "'"
    text = text.replace("job: Study light", f"job: {quoted}").replace("room: Study}", f"room: {quoted}}}")
    text = text.replace("Door:", f"{quoted}:").replace("to: Door", f"to: {quoted}")
    page = open_sheet(screen_sheet(text, MARKUP))
    assert page.text_content("h1") == MARKUP and page.title() == MARKUP
    assert MARKUP in page.inner_text(".bar")
    page.keyboard.press("1")
    assert MARKUP in page.text_content("#says")
    page.check("input[value=mono]")
    assert page.query_selector("img") is None
