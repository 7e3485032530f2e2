"""A person at the page in Chromium: a newcomer's walk, keys alone, a phone, a screen reader, two pages, a crash."""

from __future__ import annotations

from pathlib import Path

import pytest
from desk.conftest import REQUIRED
from desk.hands import PRESSED, Browser, bare

EXAMPLES = Path(__file__).parents[2] / "examples"
TWO_WAY = (EXAMPLES / "two-way-conversion.yaml").read_text(encoding="utf-8")
BUNGALOW = (EXAMPLES / "bungalow.yaml").read_text(encoding="utf-8")
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
MARKUP = "<img src=x onerror=\"document.title='run'\">"
MOST_ACTIONS = 60

JOB = (("job-job", "Stairs light, one-way made two-way"), ("job-place", "3 Sorrel Row"), ("job-colours", "current"))
ABOUT = (("job-by", "A. Fitter"), ("job-on", "2026-02-09"), ("job-earthing", "TN-S"), ("job-ze", "0.41 ohm"))
WAY = (("number", "2"), ("serves", "Downstairs lights"), ("device", "type B 6 A"), ("rcd", "30 mA"))
ACCESSORIES = (("rose", "Stairs", "", "8 W"), ("2-way switch", "Hall", "Bottom", ""),
               ("two-way", "Landing", "Top", ""))
CABLES = (  # type, from, to, length, method; then the terminals of its live cores in their order; sleeves
    (("twin and earth 1.0", "", "Stairs", "9 m", "100"), (("L", "loop"), ("N", "N")), ()),
    (("", "", "Bottom", "4 m", "C"), (("loop", "L1"), ("SL", "L2")), (1,)),
    (("three-core and earth 1.0", "", "Top", "5 m", "C"), (("COM", "COM"), ("L1", "L1"), ("L2", "L2")), (1, 2)),
)


def walk(hands: Browser) -> None:
    """What a newcomer does: the job, the board, three accessories, three cables, each core on its terminals."""
    for control, value in JOB:
        hands.tell(control, value)
    hands.unfold("job-more")
    for control, value in ABOUT:
        hands.tell(control, value)
    for key, value in WAY:
        hands.write(f"new-way-{key}", value)
    hands.press("new-way-add")
    for accessory in ACCESSORIES:
        for key, value in zip(("kind", "room", "name", "lamp"), accessory, strict=True):
            if value:
                hands.write(f"new-{key}", value)
        hands.press("new-accessory-add")
    for facts, landings, sleeves in CABLES:
        for key, value in zip(("type", "from", "to", "length", "method"), facts, strict=True):
            if value:
                hands.write(f"new-{key}", value)
        hands.press("new-cable-add")
        for here, there in landings:
            hands.land("0", here)
            hands.land("1", there)
        hands.press("both-e")
        for core in sleeves:
            hands.press(f"sleeve-{core}")


def written_in_words(text: str) -> str:
    """The text with the words of the walk for the same accessories as the example has them."""
    return text.replace("kind: rose", "kind: ceiling rose").replace("2-way switch", "two-way switch").replace(
        "kind: two-way,", "kind: two-way switch,")


def test_a_newcomer_makes_the_two_way_example_in_under_sixty_actions(sit_down):
    hands = Browser(sit_down("walk.yaml"))
    walk(hands)
    assert bare(hands.text()) == bare(TWO_WAY)
    assert hands.actions < MOST_ACTIONS
    assert hands.page.inner_text("#findings").strip() == "Nothing was found that is wrong."
    hands.page.wait_for_selector("#drawing svg g[data-core='W3/2']")
    hands.page.click(".switch:has-text('Bottom')")
    hands.page.wait_for_selector("#lamps .lit")
    assert hands.page.inner_text("#lamps") == "Stairs lamp: on"


STOPS = """s => { const e = document.querySelector(s), a = document.activeElement;
  const here = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex]')]
    .filter(x => x.tabIndex >= 0 && !x.disabled && x.checkVisibility());
  const between = here.filter(x => a.compareDocumentPosition(x) & 4 && x.compareDocumentPosition(e) & 4).length;
  const before = here.filter(x => e.compareDocumentPosition(x) & 4 && x.compareDocumentPosition(a) & 4).length;
  return e === a ? 0 : !a || a === document.body || a.compareDocumentPosition(e) & 4 ? between + 1 : -before - 1; }"""
CARET = "() => { const t = document.getElementById('text'); return t.value.slice(0, t.selectionStart); }"


class Keys(Browser):
    """The same person without a pointer: everything by Tab, arrows, Enter and letters."""

    def go(self, control: str, inside: str = "") -> None:
        """To a control by the Tab key alone."""
        at = f"#{control}{inside}"
        for tried in range(400):
            stops = self.page.evaluate(STOPS, at)  # at most: of a set of choices the key stops at one
            if not stops:
                return
            for _ in range(abs(stops) if tried < 2 else 1):
                self.page.keyboard.press("Tab" if stops > 0 else "Shift+Tab")
        raise AssertionError(f"{at} cannot be reached by keys")

    def write(self, control, value):
        self.actions += 1
        self.go(control)
        if self.page.evaluate("() => document.activeElement.tagName") == "SELECT":
            self.page.keyboard.type(value)
        else:
            self.page.keyboard.press("Control+A")
            self.page.keyboard.type(value)

    def tell(self, control, value):
        self.go(control)
        if self.page.evaluate("() => document.activeElement.tagName") == "SELECT":
            self._changes(lambda: self.page.keyboard.type(value))
            return
        self._changes(lambda: (self.page.keyboard.press("Control+A"), self.page.keyboard.type(value),
                               self.page.keyboard.press("Tab")))

    def press(self, control):
        self.go(control)
        self._changes(lambda: self.page.keyboard.press("Enter"))

    def unfold(self, control):
        self.actions += 1
        self.go(control, " > summary")
        self.page.keyboard.press("Enter")

    def land(self, end, terminal):
        wanted = self.page.evaluate(PRESSED, [end, terminal])
        self.go("t0-0")
        while self.page.evaluate("() => document.activeElement.id") != wanted:
            self.page.keyboard.press("ArrowDown")
        self._changes(lambda: self.page.keyboard.press("Enter"))


def test_by_keys_alone_as_well(sit_down):
    hands = Keys(sit_down("keys.yaml"))
    walk(hands)
    assert bare(hands.text()) == bare(TWO_WAY)
    assert hands.actions < MOST_ACTIONS
    hands.page.keyboard.press("Control+s")
    hands.page.wait_for_selector("#state:text-is('Saved')")


@pytest.mark.parametrize(("how", "scheme"), [({}, "light"), (PHONE, "dark")])
def test_nothing_is_found_by_the_checks_of_access(desk, sit_down, how, scheme):
    axe = pytest.importorskip("axe_core_python.sync_playwright") if not REQUIRED else __import__(
        "axe_core_python.sync_playwright", fromlist=["Axe"])
    text, number, cable = (TWO_WAY, 2, "W3") if how else (BUNGALOW, 7, "W8")
    (desk.folder / "access.yaml").write_text(text.replace("COM, COM", "?, COM"), encoding="utf-8")
    page = sit_down("access.yaml", color_scheme=scheme, **how)
    page.wait_for_selector("#drawing svg")
    page.click(f"#c-{number}")
    page.wait_for_selector(f"#hand-title:has-text('{cable}')")
    page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true })")
    found = axe.Axe().run(page)
    assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found["violations"]] == []
    assert len(found["passes"]) > 20
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")


def test_a_finger_lands_a_core_on_a_phone(desk, sit_down):
    (desk.folder / "phone.yaml").write_text(TWO_WAY.replace("BU: [SL, L2]", "BU: [SL, ?]"), encoding="utf-8")
    page = sit_down("phone.yaml", **PHONE)
    page.tap("#c-1")
    page.wait_for_selector("#hand-title:has-text('W2')")
    page.tap(f"#{page.evaluate(PRESSED, ['1', 'L2'])}")
    page.wait_for_selector("#said:has-text('BU of W2 is on L2.')")
    assert "BU: [SL, L2]" in page.input_value("#text")


def test_markup_in_every_field_is_only_words(desk, sit_down):
    name, kind = "markup.yaml", {"kind": "ceiling rose", "room": MARKUP, "note": MARKUP, "connectors": [MARKUP]}
    import json

    text = json.dumps({
        "job": MARKUP, "place": MARKUP, "drawn": {"by": MARKUP}, "board": {"where": MARKUP, "ways": {
            "1": {"serves": MARKUP}}}, "accessories": {MARKUP: kind}, "notes": [MARKUP],
        "cables": {MARKUP: {"type": "single 1.0", "from": "way 1", "to": MARKUP, "note": MARKUP, "in": MARKUP,
                            "cores": {"BN": ["L", "loop"]}}}})
    (desk.folder / name).write_text(text, encoding="utf-8")
    page = sit_down(name)
    page.wait_for_selector("#drawing svg")
    for button in ("#a-1", "#c-0"):
        page.click(button)
        page.wait_for_timeout(150)
    page.fill("#new-kind", MARKUP)
    page.click("#new-accessory-add")
    page.wait_for_selector("#mistake p")
    assert page.locator("img").count() == 0
    assert "run" not in page.title()


def test_a_half_written_word_stays_while_the_page_changes_and_a_mistake_keeps_the_form(desk, sit_down):
    (desk.folder / "half.yaml").write_text(TWO_WAY, encoding="utf-8")
    page = sit_down("half.yaml")
    page.fill("#new-kind", "two-way swich")
    page.fill("#new-room", "Attic")
    page.click("#new-accessory-add")
    page.wait_for_selector("#mistake:has-text(\"Did you mean 'two-way switch'?\")")
    assert page.input_value("#new-kind") == "two-way swich" and page.input_value("#new-room") == "Attic"
    page.fill("#new-length", "7 m")
    page.fill("#job-place", "Elsewhere")
    page.click("#save")  # leaving the field takes what it holds, and the press that left it is not lost
    page.wait_for_selector("#said:has-text('half.yaml is saved.')")
    assert "place: Elsewhere" in (desk.folder / "half.yaml").read_text(encoding="utf-8")
    assert page.input_value("#new-length") == "7 m"
    assert page.input_value("#text") == TWO_WAY.replace("3 Sorrel Row", "Elsewhere")


def test_the_text_is_edited_beside_and_a_problem_leads_to_its_line(desk, sit_down):
    (desk.folder / "text.yaml").write_text(TWO_WAY, encoding="utf-8")
    page = sit_down("text.yaml")
    page.click("#text-fold > summary")
    page.fill("#text", TWO_WAY.replace("{kind: two-way switch, room: Hall}", "{kind: two-way swich, room: Hall}"))
    page.wait_for_selector("#problem-0")
    line = TWO_WAY.splitlines().index("  Bottom:  {kind: two-way switch, room: Hall}") + 1
    assert page.inner_text("#problem-0") == (
        f"Line {line}: There is no accessory called 'two-way swich'. Did you mean 'two-way switch'?")
    page.click("#problem-0")
    assert page.evaluate(CARET).count("\n") + 1 == line
    page.click("#undo")
    page.wait_for_selector("#problems", state="detached")
    assert page.input_value("#text") == TWO_WAY
    page.fill("#text", "job: [never closed\n")
    page.wait_for_selector("#unreadable")
    page.click("#undo")
    page.wait_for_selector("#accessories")
    page.click("#redo")
    page.wait_for_selector("#unreadable")


def test_two_pages_on_one_file_and_another_program(desk, sit_down):
    file = desk.folder / "shared.yaml"
    file.write_text(TWO_WAY, encoding="utf-8")
    one, two = sit_down("shared.yaml"), sit_down("shared.yaml")
    one.fill("#job-place", "Rosehip Cottage")
    one.press("#job-place", "Tab")
    one.wait_for_selector("#undo:not([aria-disabled])")
    two.wait_for_function("() => document.querySelector('#job-place').value === 'Rosehip Cottage'", timeout=8000)
    file.write_text(TWO_WAY.replace("3 Sorrel Row", "Lark Rise"), encoding="utf-8")
    one.wait_for_selector("#elsewhere", timeout=8000)
    one.click("#save")
    one.wait_for_timeout(200)
    assert "Lark Rise" in file.read_text(encoding="utf-8")  # what is there is not written over unasked
    one.click("#theirs")
    one.wait_for_function("() => document.querySelector('#job-place').value === 'Lark Rise'")
    one.click("#undo")
    one.wait_for_function("() => document.querySelector('#job-place').value === 'Rosehip Cottage'")
