"""A plan followed on the page says, step for step, what the printed plan says; on a phone, by a thumb."""

from __future__ import annotations

import re
from pathlib import Path
from urllib.parse import urlencode

import pytest
from commands.runs import run
from desk.conftest import REQUIRED, TOKEN
from desk.test_attacks import ask

EXAMPLES = Path(__file__).parents[2] / "examples"
TWO_WAY = (EXAMPLES / "two-way-conversion.yaml").read_text(encoding="utf-8")
PHONE = {"viewport": {"width": 360, "height": 740}, "has_touch": True, "is_mobile": True}
LAMP_FAILED = "The lamp at Stairs has failed."


def printed(tmp_path: Path) -> dict[int, dict[str, str]]:
    """The plan on a terminal: step -> reading -> 'step 3' or the letter of an end."""
    file = tmp_path / "stairs.yaml"
    file.write_text(TWO_WAY, encoding="utf-8")
    said = run("fault", file, "--seen", "Stairs dead", "--print").output
    steps: dict[int, dict[str, str]] = {}
    for line in said.splitlines():
        if found := re.match(r" {0,2}(\d+)  Supply", line):
            steps[int(found[1])] = now = {}
        elif found := re.match(r" {7}(.+): (step \d+|[A-Z]+)$", line):
            now[found[1]] = found[2]
    return steps


def test_the_page_goes_the_way_of_the_printed_plan(desk, tmp_path):
    steps = printed(tmp_path)
    assert len(steps) > 3
    (desk.folder / "guide.yaml").write_text(TWO_WAY, encoding="utf-8")
    seen, ways = [(1, "")], 0
    while seen:
        number, way = seen.pop()
        query = urlencode({"begun": "yes", "seen": "Stairs dead", "way": way})
        status, _, body = ask(desk, "GET", f"/{TOKEN}/at/guide.yaml/guide/fault?{query}")
        assert status == 200 and f"Step {number}:" in body
        shown = re.findall(r'<li><a class="button" href="[^"]*">([^<]+)</a>', body)
        assert [words.casefold() for words in shown] == [words.casefold() for words in steps[number]]
        for i, goes_on in enumerate(steps[number].values()):
            if goes_on.startswith("step "):
                seen.append((int(goes_on.removeprefix("step ")), f"{way}.{i}".strip(".")))
            ways += 1
        if ways > 25:
            return


def test_a_thumb_follows_it_to_the_failed_lamp(desk, sit_down):
    (desk.folder / "thumb.yaml").write_text(TWO_WAY, encoding="utf-8")
    page = sit_down("thumb.yaml", **PHONE)
    page.tap("#guide-fault")
    page.fill("#seen", "Stairs dead\nBottom L2: Stairs off")
    page.tap("#begin")
    page.wait_for_selector("#reads")
    axe = pytest.importorskip("axe_core_python.sync_playwright") if not REQUIRED else __import__(
        "axe_core_python.sync_playwright", fromlist=["Axe"])
    found = axe.Axe().run(page)
    assert [(v["id"], [n["html"] for n in v["nodes"]]) for v in found["violations"]] == []
    assert page.evaluate("() => document.documentElement.scrollWidth <= innerWidth")
    assert "CAUTION" in page.inner_text(".caution").upper()
    page.tap(".reads li a >> nth=0")
    page.wait_for_selector("#back")
    page.tap("#back")
    page.wait_for_selector("#reads")
    assert LAMP_FAILED in page.text_content("main")


def test_words_that_say_nothing_are_named(desk):
    (desk.folder / "guide.yaml").write_text(TWO_WAY, encoding="utf-8")
    query = urlencode({"begun": "yes", "seen": "Stares dead"})
    _, _, body = ask(desk, "GET", f"/{TOKEN}/at/guide.yaml/guide/fault?{query}")
    assert 'class="mistake"' in body and "Stairs" in body
    for way in ("9", "0.99", "x", "-1"):
        query = urlencode({"begun": "yes", "seen": "Stairs dead", "way": way})
        status, _, body = ask(desk, "GET", f"/{TOKEN}/at/guide.yaml/guide/fault?{query}")
        assert status == 200 and 'class="mistake"' in body
    assert ask(desk, "GET", f"/{TOKEN}/at/guide.yaml/guide/other")[0] == 404


BOXES = (EXAMPLES / "joint-boxes.yaml").read_text(encoding="utf-8")
HIDDEN = (  # two cables of the box seen at either end only; they went to the kitchen door and the kitchen's rose
    ("from: Box 1, to: Kitchen door, length: 4 m,\n       "
     "cores: {RD: [L, COM], BK: [SL, L1], cpc: [E, E]}, sleeved: [BK]}",
     "at: Box 1, cores: {RD: L, BK: SL, cpc: E}}\n"
     "  Door end: {type: twin and earth 1.0, at: Kitchen door, cores: {RD: COM, BK: L1, cpc: E}}"),
    ("from: Box 1, to: Kitchen, length: 3 m, cores: {RD: [SL, SL], BK: [N, N], cpc: [E, E]}}",
     "at: Box 1, cores: {RD: SL, BK: N, cpc: E}}\n"
     "  Rose end: {type: twin and earth 1.0, at: Kitchen, cores: {RD: SL, BK: N, cpc: E}}"),
)


def test_the_ends_of_two_cables_are_told_apart_by_one_test(desk):
    text = BOXES
    for whole, ends in HIDDEN:
        assert whole in text
        text = text.replace(whole, ends)
    (desk.folder / "ends.yaml").write_text(text, encoding="utf-8")
    path = f"/{TOKEN}/at/ends.yaml/guide/identify?begun=yes&seen="
    _, _, body = ask(desk, "GET", path)
    assert "2 still fit" in body and "Step 1:" in body
    assert "At Box 1 join red and black of W2; at Kitchen door look whether Door end closes." in body
    left = [re.search(r'class="does">([^<]*)<', ask(desk, "GET", f"{path}&way={way}")[2])[1] for way in (0, 1)]
    assert left[0] == "W2 and Door end are one cable, W3 and Rose end are one cable"  # as in the example
    assert left[1] != left[0]
