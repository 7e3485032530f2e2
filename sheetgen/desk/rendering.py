"""The page as HTML, from the description as written and what was judged of it."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import quote

from jinja2 import Environment

from sheetgen.catalogue import accessories, methods
from sheetgen.catalogue.cables import METRIC, TYPES
from sheetgen.catalogue.colours import CODES
from sheetgen.desk.accessory_changes import options_of
from sheetgen.desk.desk import Desk
from sheetgen.desk.moment import Judged
from sheetgen.desk.view import DeskView, Hand, next_chosen, view_of
from sheetgen.pipeline import style_of

KINDS = tuple(dict.fromkeys(accessories.names()))
CABLES = tuple(f"{kind.name} {size}" for kind in TYPES for size in METRIC[2:5])
EARTHINGS = ("TN-S", "TN-C-S", "TT", "IT")
ASKED = ("room", "lamp", "note", "connectors", "ways", "metal", "opened", "in", "labels")
SAID = {  # what a field of an accessory is called on the page, and an example
    "room": ("Room", ""), "lamp": ("Lamp", "8 W"), "note": ("Note", ""),
    "connectors": ("Connectors lying in it", "N joint"),
    "ways": ("Terminals that take more or fewer", "N: 4"), "metal": ("Metal plate", "yes"),
    "opened": ("Opened", "no"), "in": ("Lies in", "the accessory that it is in"),
    "labels": ("Printed on it", "COM: common"), "blocks": ("Terminal blocks", "two"),
    "gangs": ("Gangs", "two-way, one-way"), "loop": ("Loop terminal", "yes"), "class": ("Class", "I or II"),
    "on": ("On", "wall"), "cap": ("Cap", "E27"), "terminals": ("Terminals", "L, N, SL, E"),
    "flex": ("Flex colours", ""),
    "hangs from": ("Hangs from", ""), "switching": ("Switching", "two-way"),
}


def rendered(pages: Environment, desk: Desk, judged: Judged, hand: Hand, more: Mapping[str, object], added: bool,
             whole: bool) -> str:
    """The whole page, or what of it changes."""
    view = view_of(desk.text, judged)
    hand = _in_hand(view, hand, str(more["does"]) if added else "", str(more["called"]))
    if added or not hand.chosen:
        hand = Hand(hand.what, hand.name, next_chosen(view, hand))
    root = str(more["root"])
    context = {
        **more, "desk": desk, "view": view, "judged": judged, "hand": hand, "kinds": KINDS, "cable_types": CABLES,
        "here": f"{root}/at/{quote(desk.name, safe='')}", "sets": list(style_of().sets), "earthings": EARTHINGS,
        "loops": [loop.name for loop in methods.LOOPS], "joins": [join.name for join in methods.JOINS],
        "codes": CODES, "asked": _asked(view, hand), "said_of": SAID, "unknown": "?",
        "lines": (judged.problems and {p.at.line for p in judged.problems}) or set(),
        "last_type": view.cables[-1].facts.get("type", "") if view.cables else "",
    }
    return pages.get_template("page.html" if whole else "desk.html").render(context)


def _in_hand(view: DeskView, hand: Hand, added: str, called: str) -> Hand:
    """What was just added or called otherwise is in hand; what is gone is not."""
    if added == "add accessory" and view.accessories:
        return Hand("accessory", view.accessories[-1][0])
    if added == "add cable" and view.cables:
        return Hand("cable", view.cables[-1].name)
    if added in ("rename accessory", "rename cable"):
        hand = Hand(hand.what, called)
    if hand.what == "cable" and view.cable(hand.name) is None:
        return Hand()
    if hand.what == "accessory" and hand.name not in view.places:
        return Hand()
    return hand


def _asked(view: DeskView, hand: Hand) -> list[tuple[str, str]]:
    """The fields of the accessory in hand, with what they hold."""
    facts = dict(view.accessories).get(hand.name, {}) if hand.what == "accessory" else {}
    if not facts:
        return []
    names = dict.fromkeys((*ASKED[:2], *options_of(facts.get("kind", "")), *ASKED[2:], *facts))
    return [(name, facts.get(name, "")) for name in names if name != "kind"]
