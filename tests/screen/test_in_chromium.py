"""The sheet for the screen in a real browser: every setting against the state table, by pointer and by key."""

from __future__ import annotations

import os
import re
import shutil
from functools import cache

import pypdfium2
import pytest
from judged_circuit import conditions_of
from pages.jobs import EXAMPLES, example

from sheetgen.circuit import Circuit
from sheetgen.circuit import Circuit as Solved
from sheetgen.commands.states import states_value
from sheetgen.pipeline import Look, drawing_files, drawings_of, job_sheet, style_of
from sheetgen.pipeline.screen import screen_of, screen_sheet
from sheetgen.print.svg import drawing_to_svg
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


@pytest.fixture(scope="module")
def tab(browser):
    """One page for all sheets, one after another: a new one each time takes longer than all that is done in it."""
    return browser.new_page()


@pytest.fixture
def open_sheet(tab, tmp_path):
    """Opens a sheet from its file; the page must ask for nothing else and report no error."""
    wrong: list[str] = []
    heard = {
        "pageerror": lambda error: wrong.append(str(error)),
        "console": lambda message: wrong.append(message.text) if message.type == "error" else None,
        "request": lambda request: None if request.url.startswith(("file:", "data:")) else wrong.append(request.url),
    }

    def opened(html: str, viewport=None):
        file = tmp_path / "sheet.html"
        file.write_text(html, encoding="utf-8")
        tab.set_viewport_size(viewport or {"width": 1400, "height": 900})
        tab.emulate_media(media="screen")
        tab.goto(file.as_uri())
        tab.wait_for_selector("body[data-ready]")
        return tab

    for event, hear in heard.items():
        tab.on(event, hear)
    yield opened
    tab.goto("about:blank")
    for event, hear in heard.items():
        tab.remove_listener(event, hear)
    assert wrong == []


@cache
def sheet(name: str) -> str:
    """The sheet of an example."""
    return screen_sheet((EXAMPLES / f"{name}.yaml").read_bytes(), f"{name}.yaml")


@pytest.mark.parametrize("name", WALKED)
def test_every_setting_shows_what_the_state_table_says(open_sheet, name):
    job, page = example(name), open_sheet(sheet(name))
    states = states_value(Circuit(job.wiring, job.solution))["groups"]
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


SHORTS = b"""job: Two rooms
board:
  earthing: TN-S
  ways:
    1: {serves: Lights, device: type B 6 A, rcd: 30 mA}
colours: current
accessories:
  Hall: {kind: ceiling rose, lamp: 8 W}
  Hall switch: {kind: one-way switch}
  Stairs: {kind: ceiling rose, lamp: 8 W}
  Stairs switch: {kind: one-way switch}
cables:
  W1: {type: twin and earth 1.0, from: way 1, to: Hall, cores: {BN: [L, loop], BU: [N, N], cpc: [E, E]}}
  W2: {type: twin and earth 1.0, from: Hall, to: Hall switch, cores: {BN: [loop, COM], BU: [N, L1], cpc: [E, E]}}
  W3: {type: twin and earth 1.0, from: Hall, to: Stairs, cores: {BN: [loop, loop], BU: [N, N], cpc: [E, E]}}
  W4: {type: twin and earth 1.0, from: Stairs, to: Stairs switch, cores: {BN: [loop, COM], BU: [SL, L1], cpc: [E, E]},
       sleeved: [BU]}
"""


def test_a_short_in_one_room_puts_out_the_other(open_sheet):
    page = open_sheet(screen_sheet(SHORTS, "rooms.yaml"))
    page.click('.bar [data-switch="Stairs switch"]')
    assert page.evaluate(SHOWN)["loads"]["Stairs lamp"] == "on"
    page.click('.bar [data-switch="Hall switch"]')
    shown = page.evaluate(SHOWN)
    assert shown["loads"]["Stairs lamp"] == "short" and shown["lit"] == []
    page.click('.bar [data-switch="Hall switch"]')
    assert page.evaluate(SHOWN)["loads"]["Stairs lamp"] == "on"


JOINED = SHORTS.replace(b"""30 mA}
colours""", b"""30 mA}
    2: {serves: Shed, device: type B 6 A, rcd: 30 mA}
colours""").replace(b"cables:", b"""  Porch switch: {kind: one-way switch}
  Shed switch: {kind: one-way switch}
  Shed: {kind: batten lampholder, lamp: 8 W}
cables:
  W6: {type: unsheathed single 1.0, from: way 1, to: Porch switch, cores: {BN: [L, COM]}}
  W7: {type: unsheathed single 1.0, from: way 2, to: Porch switch, cores: {BN: [L, L1]}}
  W8: {type: unsheathed single 1.0, from: way 2, to: Shed switch, cores: {BN: [L, COM]}}
  W9: {type: unsheathed single 1.0, from: Shed switch, to: Shed, cores: {BN: [L1, L]}}
  W10: {type: unsheathed single 1.0, from: way 2, to: Shed, cores: {BU: [N, N]}}""")


def test_a_short_puts_out_what_is_on_a_circuit_joined_to_its_own(open_sheet):
    """The lines of two circuits meet at one switch, another shorts one of them: the third one's light goes out."""
    page = open_sheet(screen_sheet(JOINED, "rooms.yaml"))
    told = []
    for switch in ("Shed switch", "Hall switch", "Porch switch", "Hall switch"):
        page.click(f'.bar [data-switch="{switch}"]')
        told.append(page.evaluate(SHOWN)["loads"]["Shed"])
    assert told == ["on", "on", "short", "on"]


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
    assert "L of circuit 4" in page.inner_text("#asked")


def test_looks_change_the_codes_and_back(open_sheet):
    page = open_sheet(sheet(FIRST))
    codes = """all => all.filter(e => getComputedStyle(e).display != 'none').map(e => e.textContent)"""
    found = page.eval_on_selector_all(".wiring text[data-role=code]", codes)
    before = page.evaluate(PAINTED)
    page.check("input[value=current]")
    current = page.eval_on_selector_all(".wiring text[data-role=code]", codes)
    assert any("RD" in code for code in found) and not any("RD" in code for code in current)
    assert any("BN" in code for code in current)
    page.check("input[value=mono]")
    assert page.eval_on_selector_all(".wiring text[data-role=code]", codes) == found
    assert page.evaluate(PAINTED) != before
    page.check("input[value=found]")
    assert page.evaluate(PAINTED) == before


PAINTED = """() => [...document.querySelectorAll('.drawn svg, svg[data-drawing]')].map(svg =>
  [...svg.querySelectorAll('polyline,rect,circle,polygon,text')].filter(e => {
    for (let at = e; at !== svg; at = at.parentElement) if (getComputedStyle(at).display === 'none') return false;
    return true;
  }).map(e => {
    const worn = getComputedStyle(e), edge = worn.stroke === 'none' ? [] : [worn.stroke, worn.strokeWidth,
      worn.strokeDasharray.replaceAll('px', '').replaceAll(',', '')];
    const at = ['points', 'x', 'y', 'width', 'height', 'cx', 'cy', 'r', 'rx'].map(name => e.getAttribute(name) || '');
    const set = e.tagName === 'text' ? [e.textContent, worn.fontSize, worn.fontWeight, worn.textAnchor] : [];
    return [e.tagName, ...at, worn.fill, ...edge, ...set].join('|');
  }).filter(mark => !/\\|none$/.test(mark) || /text/.test(mark)).sort())"""


@pytest.mark.parametrize("name", [FIRST, "old-meets-new", "outbuildings"])
def test_every_look_is_painted_as_its_own_drawing_is(open_sheet, browser, name):
    """The page paints by classes; the drawing of each look written as SVG by itself is painted by attributes."""
    screen, _ = screen_of((EXAMPLES / f"{name}.yaml").read_bytes())
    page = open_sheet(sheet(name))
    plain = browser.new_page()
    for view in screen.views:
        page.check(f"input[value={view.name}]")
        page.evaluate("for (const c of ['live', 'flow', 'lit', 'dim', 'away'])"
                      "for (const e of document.querySelectorAll('svg .' + c)) e.classList.remove(c)")
        svgs = [drawing_to_svg(drawing, view.style).split("?>")[1] for drawing in (*view.sheets, *view.diagrams)]
        plain.set_content(f"<div class='drawn'>{''.join(svgs)}</div>")
        wanted, shown = plain.evaluate(PAINTED), page.evaluate(PAINTED)
        assert len(wanted) == len(shown) and all(len(marks) > 10 for marks in wanted)
        for one, other in zip(wanted, shown, strict=True):
            assert other == one, view.name


def test_a_drawing_as_svg_runs_nothing_and_asks_for_nothing(browser, tmp_path):
    asked, text = [], attacked()
    for number, (_, content) in enumerate(drawing_files(text, Look(), "svg")):
        file = tmp_path / f"{number}.svg"
        file.write_bytes(content)
        page = browser.new_page()
        page.on("request", lambda request: asked.append(request.url))
        page.goto(file.as_uri())
        assert page.evaluate("typeof window.run") == "undefined" and page.title() != "run"
        assert page.evaluate("document.querySelectorAll('script,img,a,foreignObject,iframe,image').length") == 0
        assert page.evaluate("""[...document.querySelectorAll('*')].every(
            e => [...e.attributes].every(a => !a.name.startsWith('on') && !a.name.includes('href')))""")
        assert PAYLOADS[0] in page.evaluate("document.documentElement.textContent")
    assert all(url.startswith("file:") for url in asked) and asked


def test_a_job_sheet_does_nothing_when_it_is_opened():
    pdf = job_sheet(attacked(), Look())
    outside = re.sub(rb"stream\r?\n.*?endstream", b"", pdf, flags=re.DOTALL)
    assert b"/Pages" in outside
    for word in (b"JavaScript", b"JS", b"OpenAction", b"Launch", b"AA", b"EmbeddedFile", b"URI", b"SubmitForm"):
        assert not re.search(rb"/" + word + rb"\b", outside)
    document = pypdfium2.PdfDocument(pdf)
    said = "".join(page.get_textpage().get_text_bounded() for page in document)
    assert "document.title='run'" in said


PAYLOADS = (
    MARKUP, "<script>window.run=1</script>", "</text><script>window.run=1</script>", "<svg onload=window.run=1>",
    "]]><script>window.run=1</script>", "&lt;script&gt;", "javascript:window.run=1", "<a href=javascript:run=1>x</a>",
    "{{ 7*7 }}", "{% raw %}", "${7*7}", "<para><font size=99>x</font>", "<link href='http://sheet.invalid/x'>",
    "http://sheet.invalid/", "' onmouseover='run=1", '" onmouseover="run=1',
)


def attacked() -> str:
    """The one-way example with a payload in every field that takes words."""
    def quoted(number: int) -> str:
        return "'" + PAYLOADS[number % len(PAYLOADS)].replace("'", "''") + "'"

    text = (EXAMPLES / "one-way-loop-in.yaml").read_text()
    text = text.replace("job: Study light", f"job: {quoted(0)}")
    text = text.replace("room: Study}", f"room: {quoted(1)}, note: {quoted(2)}}}")
    text = text.replace("Door:", f"{quoted(0)}:").replace("to: Door", f"to: {quoted(0)}")
    lines = [f"place: {quoted(3)}" if line.startswith("place:") else line for line in text.splitlines()]
    return "\n".join([*lines, "notes:", *(f"  - {quoted(n)}" for n in range(len(PAYLOADS))), ""])


@pytest.mark.parametrize("payload", PAYLOADS)
def test_no_payload_runs_or_asks_for_anything_on_the_screen(open_sheet, payload):
    quoted = "'" + payload.replace("'", "''") + "'"
    text = (EXAMPLES / "one-way-loop-in.yaml").read_text()
    text = text.replace("job: Study light", f"job: {quoted}")
    text = text.replace("room: Study}", f"room: {quoted}, note: {quoted}}}")
    text = text.replace("Door:", f"{quoted}:").replace("to: Door", f"to: {quoted}")
    page = open_sheet(screen_sheet(text + f"\nnotes: [{quoted}]\n", payload))
    page.keyboard.press("1")
    page.check("input[value=mono]")
    page.click(".list summary")
    assert page.text_content("h1") == payload and payload in page.inner_text(".notes")
    assert page.evaluate("typeof window.run") == "undefined" and page.title() == payload


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
    page = open_sheet(sheet(FIRST if viewport else "three-switches"), viewport)
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
