"""The sheet for the screen without a browser: its table is the solution's, its text is escaped, nothing is loaded."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from collections import Counter
from functools import cache
from html.parser import HTMLParser

import pytest
from pages.jobs import EXAMPLES, example

from sheetgen.circuit import Circuit
from sheetgen.circuit import Circuit as Solved
from sheetgen.commands.states import states_value
from sheetgen.pipeline.screen import screen_of, screen_sheet
from sheetgen.tell.story import tell

FIRST = "two-way-line-at-switch"
PASSING = {"two-strappers-conduit": {"W5": 2}}  # single -> how many boxes it passes, where its code stands as well
MARKUP = '"</script><img src=x onerror=alert(1)>&amp;{{}}'


@cache
def sheet(name: str) -> str:
    """The sheet of an example."""
    return screen_sheet((EXAMPLES / f"{name}.yaml").read_bytes(), f"{name}.yaml")


def table(html: str) -> dict:
    """The table inside a sheet."""
    return json.loads(re.search(r'<script type="application/json" id="table">(.*?)</script>', html, re.DOTALL)[1])


class Tags(HTMLParser):
    """Every tag with its attributes, and the text outside scripts and styles."""

    def __init__(self, html: str):
        super().__init__()
        self.tags: list[tuple[str, dict]] = []
        self.text: list[str] = []
        self.inside = ""
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        """Keep a tag."""
        self.tags.append((tag, dict(attrs)))
        self.inside = tag

    def handle_endtag(self, tag):
        """Out of a tag."""
        self.inside = ""

    def handle_data(self, data):
        """Keep text."""
        if self.inside not in ("script", "style"):
            self.text.append(data)


@pytest.mark.parametrize("name", [FIRST, "three-switches", "landing-borrowed-neutral", "bungalow"])
def test_the_table_says_what_the_solution_says(name):
    job, found = example(name), table(sheet(name))
    states = states_value(Circuit(job.wiring, job.solution))["groups"]
    assert len(found["groups"]) == len(states)
    for group, mine, other in zip(job.solution.groups, found["groups"], states, strict=True):
        assert mine["switches"] == other["switches"] and mine["loads"] == other["lamps"]
        assert len(mine["rows"]) == len(other["rows"]) == len(group.rows)
        for row, wanted in zip(group.rows, other["rows"], strict=True):
            loads, letters, flow, says = mine["rows"]["\n".join(row.setting)]
            assert [(state, share) for state, share in loads] == [
                (lamp["state"], lamp["fraction"]) for lamp in wanted["lamps"].values()]
            live = [bool(found["conditions"][letter][1]) for letter in letters]
            assert live == [condition.live for condition in row.conditions]
            assert found["stories"]["found"][says] == tell(Solved(job.wiring, job.solution), group, row).says
            assert bool(flow) == any(lamp.fraction for lamp in row.lamps)


def test_the_first_example_is_small_and_whole():
    html = sheet(FIRST)
    assert len(html.encode()) < 120_000
    assert screen_sheet((EXAMPLES / f"{FIRST}.yaml").read_bytes(), f"{FIRST}.yaml") == html
    tags = Tags(html).tags
    for tag, attributes in tags:
        for key in ("src", "href", "action", "data", "srcset"):
            assert attributes.get(key, "data:").startswith("data:"), (tag, attributes)
        assert not any(key.startswith("on") for key in attributes), (tag, attributes)
    assert sum(tag == "circle" for tag, _ in tags) > 30  # it is drawn, not only small
    assert any(a.get("http-equiv") == "Content-Security-Policy" for _, a in tags)
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", html)


def test_only_the_script_of_the_page_may_run():
    html = sheet(FIRST)
    allowed = re.search(r"script-src 'sha256-([^']+)'", html)[1]
    script = html.rsplit("<script>", 1)[1].split("</script>")[0]
    assert base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() == allowed


def test_what_a_user_writes_is_text():
    text = (EXAMPLES / "one-way-loop-in.yaml").read_text()
    given_text = json.dumps(MARKUP)
    text = text.replace("job: Study light", f"job: {given_text}")
    text = text.replace("room: Study}", f"room: {given_text}, note: {given_text}}}")
    text = text.replace("Door:", f"{given_text}:").replace("to: Door", f"to: {given_text}")
    html = screen_sheet(text, MARKUP)
    tags = Tags(html)
    assert not [tag for tag, _ in tags.tags if tag == "img"]
    assert sum(tag == "script" for tag, _ in tags.tags) == 2
    assert MARKUP in "".join(tags.text)
    assert MARKUP in table(html)["accessories"]


@pytest.mark.parametrize("name", [FIRST, "old-meets-new", "two-strappers-conduit"])
def test_each_look_has_its_own_colour_codes(name):
    screen, _ = screen_of((EXAMPLES / f"{name}.yaml").read_bytes())
    assert {view.name for view in screen.views} >= {"found", "legacy", "current", "mono"}
    for view in screen.views:
        wiring = example(name, view.name if view.name in ("legacy", "current") else "").wiring
        wanted = Counter(code(cable, core) for cable in wiring.cables for core in cable.cores for end in core.ends
                         if end.accessory in {a.name for a in wiring.accessories})
        for cable, boxes in PASSING.get(name, {}).items():
            wanted[code(wiring.cable(cable), wiring.cable(cable).cores[0])] += boxes
        shapes = [shape for sheet in view.sheets for shape in sheet.shapes if getattr(shape, "text", "")]
        assert Counter(shape.text for shape in shapes if shape.role == "code") == wanted, view.name


def test_the_sentences_are_in_the_colours_of_the_look():
    found = table(sheet("one-way-loop-in"))
    (group,) = found["groups"]
    said = {name: stories[group["rows"]["on"][3]] for name, stories in found["stories"].items() if stories}
    assert "on W1 and W2 (brown)" in said["found"] and "on W2 (blue)" in said["found"]
    assert set(said) == {"found", "legacy"}  # it is in current colours already, and black and white has the same words
    assert "on W1 and W2 (red)" in said["legacy"] and "on W2 (black)" in said["legacy"]
    assert found["recoloured"] == {"found": "", "current": "", "mono": "", "legacy": (
        "This sheet shows the circuit in legacy (red, black) colours. Identify every conductor by test, not by this "
        "sheet.")}


def code(cable, core) -> str:
    """Colour, mark and, on a single, which has no tag, the cable's name."""
    colour = f"{core.colour or 'bare'} {core.mark}".strip()
    return f"{colour} {cable.name}" if cable.single or cable.ends[0] == cable.ends[1] else colour


def test_notes_are_on_the_screen_and_a_group_not_solved_in_full_says_so():
    from commands.runs import chain_of_switches

    html = screen_sheet(chain_of_switches(13) + "notes: [Ring the bell <first>.]\n")
    said = "".join(Tags(html).text)
    assert "Ring the bell <first>." in said
    assert "Too many switches for every setting" in said and "90 more settings." in said
    assert "Too many switches" not in "".join(Tags(sheet(FIRST)).text)


def test_what_is_off_but_live_is_not_called_off():
    html = screen_sheet(SWITCHED_NEUTRAL)
    cells = re.findall(r"<td>([^<]*)</td>", html)
    assert "off but live" in cells
    states = {state for group in table(html)["groups"] for row in group["rows"].values() for state, _ in row[0]}
    assert "off but live" in states and "on" in states and "off" not in states


SWITCHED_NEUTRAL = """
job: Switch in the neutral
board: {ways: {1: {serves: Lights}}}
colours: current
accessories:
  Door: {kind: one-way switch}
  Lamp: {kind: batten lampholder}
cables:
  W1: {type: single 1.0, from: way 1, to: Lamp, cores: {brown: [L, L]}}
  W2: {type: single 1.0, from: way 1, to: Door, cores: {blue: [N, COM]}}
  W3: {type: single 1.0, from: Door, to: Lamp, cores: {blue: [L1, N]}}
"""
