"""Whatever stands in a text is shown, and a change of it is made or refused: the page goes on."""

from __future__ import annotations

import random

from fuzz.mutate import corpus, mutated

from sheetgen.desk.app import pages
from sheetgen.desk.asked import Mistaken
from sheetgen.desk.changes import CHANGES, changed
from sheetgen.desk.computing import judged_now
from sheetgen.desk.desk import Desk
from sheetgen.desk.history import History
from sheetgen.desk.rendering import rendered
from sheetgen.desk.splicing import NoPlace
from sheetgen.desk.view import Hand
from sheetgen.model.problems import Refused

TEXTS, SHOWN = 60, {"root": "/t", "stands": "{}", "operated": "", "said": "", "mistake": "", "form": {}, "does": "",
                    "drawing_key": "", "called": "", "sheets": []}
WORDS = ("W1", "W2", "Hall", "Top", "red", "RD", "cpc", "?", "L1", "0", "both", "way 1", "twin and earth 1.0", "plate",
         "8 W", "N: 4", "a", "type", "colours", "job", "kind", "gangs", "-1", "{", "BU")
FIELDS = ("name", "field", "value", "core", "end", "terminal", "colour", "kind", "type", "from", "to", "way", "lights",
          "switches", "circuit", "room", "sure")


class Nowhere:
    """A folder in which nothing lies."""

    def read(self, _name: str) -> None:
        """Nothing."""

    def stamp(self, _name: str) -> None:
        """Nothing."""


def test_a_text_with_anything_done_to_it_is_shown_and_changed_or_refused():
    chance, page, desk = random.Random(7), pages(), Desk(Nowhere(), "any.yaml")
    texts = [text for text in corpus() if len(text) < 2500]
    done = 0
    for _ in range(TEXTS):
        text = mutated(chance.choice(texts), texts, chance)
        desk.history = History((text,))
        judged = judged_now(text, {})
        for hand in (Hand("cable", "W1"), Hand("accessory", "Hall")):
            html = rendered(page, desk, judged, hand, SHOWN, False, False)
            assert ('id="accessories"' in html) != ('id="unreadable"' in html)
        for _ in range(6):
            asked = {f: chance.choice(WORDS) for f in FIELDS if chance.random() < 0.8}
            asked["do"] = chance.choice(list(CHANGES))
            try:
                after, _said = changed(text, asked)
            except (Mistaken, NoPlace, Refused):
                continue
            done += after != text
            judged_now(after, {})
    assert done > 5
