"""Every method drawn: the gallery examples/gallery/methods.md and its pictures, which are goldens."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from method_catalogue import Combination, accepted

from sheetgen.catalogue import methods
from sheetgen.pipeline import drawings_of, style_of, understood
from sheetgen.print.svg import drawing_to_svg
from sheetgen.teach.gallery import arrangements, told

GALLERY = Path(__file__).parents[2] / "examples" / "gallery" / "methods.md"
PICTURES = "../../tests/goldens"


def shown() -> Iterator[Combination]:
    """Every loop with every join in cable and in conduit, with as few switches as it takes; and once with three."""
    seen = set()
    for combination in accepted():
        key = (combination.loop, combination.join, combination.conduit)
        if key not in seen:
            seen.add(key)
            yield combination
        elif combination.switches == 3 and (combination.join, 3) not in seen:
            seen.add((combination.join, 3))
            yield combination


SHOWN = list(shown())


def picture(combination: Combination) -> str:
    return f"method-{combination}.svg".replace(",", "")


def gallery() -> str:
    lines = [
        "# Wiring methods", "",
        "Where line and neutral loop, times how the switches are joined. Each is laid by the lines above its picture;",
        "`sheetgen new` writes them for you, short or in full; `sheetgen compare` says how to get from one to another.",
    ]
    for loop in methods.LOOPS:
        lines += ["", f"## {loop.name.capitalize()}: {loop.says}"]
        for c in (c for c in SHOWN if c.loop == loop.name):
            join = methods.find_join(c.join)
            number = "one switch" if c.switches == 1 else {2: "two", 3: "three"}[c.switches] + " switches"
            lines += ["", f"### {c.join.capitalize()}, {number}, {c.wired}", "", f"{join.says.capitalize()}.", "",
                      "```yaml", *c.text().splitlines()[2:-1], "```", "",
                      f"![{c.loop}, {c.join}, {number}, {c.wired}]({PICTURES}/{picture(c)})"]
    return "\n".join(lines) + "\n"


def test_what_a_class_is_told_is_true_of_the_drawing():
    """Where line and neutral leave the board in two cables they are not said to lie together; nor three to be two."""
    for each in arrangements():
        wiring, _, reading = understood(each.text)
        says = told(each, wiring, reading)
        fed = [cable.name for cable in wiring.cables if any(end.startswith("way ") for end in cable.ends)
               and not any(core.cpc for core in cable.cores)]
        ends = {next(end for end in wiring.cable(name).ends if not end.startswith("way ")) for name in fed}
        apart = "neutral from the board straight to the lights. Where the two do not lie in one conduit" in says
        assert apart is (len(ends) > 1), each.name
        assert each.switches < 3 or not re.search("both switches|gets a second", says), each.name


def test_the_gallery_shows_every_method(request: pytest.FixtureRequest):
    if request.config.getoption("--accept"):
        GALLERY.parent.mkdir(exist_ok=True)
        GALLERY.write_text(gallery(), encoding="utf-8")
    assert GALLERY.read_text(encoding="utf-8") == gallery(), "run pytest --accept tests/methods/test_gallery.py"
    assert {(c.loop, c.join) for c in SHOWN} == {(c.loop, c.join) for c in accepted()}


@pytest.mark.parametrize("combination", SHOWN, ids=str)
def test_the_pictures_of_the_gallery_are_as_they_were(combination: Combination, golden):
    wiring, _, reading = understood(combination.text())
    (drawing,) = drawings_of(wiring, reading, style_of())
    golden(picture(combination), drawing_to_svg(drawing, style_of()))
