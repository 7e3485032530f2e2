"""Every example built anew from nothing by the page's controls alone is the same wiring.

That takes minutes, so a few are built here; SHEETGEN_EVERY=1 builds them all, in Chromium too.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from desk.conftest import TOKEN
from desk.hands import Browser, Reader, bare, rebuild

EXAMPLES = Path(__file__).parents[2] / "examples"
ALL = sorted(path.stem for path in EXAMPLES.glob("*.yaml"))
EVERY = os.environ.get("SHEETGEN_EVERY") == "1"
IN_CHROMIUM = ALL if EVERY else ("by-method",)
READ = ALL if EVERY else ("old-meets-new",)


@pytest.mark.parametrize("name", READ)
def test_an_example_is_built_anew_by_what_the_controls_send(desk, name):
    wanted = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    hands = Reader(desk.host, f"/{TOKEN}/at/{name}-read.yaml/")
    rebuild(hands, wanted)
    assert bare(hands.text()) == bare(wanted)


@pytest.mark.parametrize("name", IN_CHROMIUM)
def test_an_example_is_built_anew_in_chromium(desk, sit_down, name):
    wanted = (EXAMPLES / f"{name}.yaml").read_text(encoding="utf-8")
    hands = Browser(sit_down(f"{name}-anew.yaml"))
    rebuild(hands, wanted)
    assert bare(hands.text()) == bare(wanted)
    hands.page.click("#save")
    hands.page.wait_for_selector("#state:text-is('Saved')")
    assert bare((desk.folder / f"{name}-anew.yaml").read_text(encoding="utf-8")) == bare(wanted)
