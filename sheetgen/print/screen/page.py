"""The HTML of a sheet for the screen. All text that a user wrote is escaped; nothing is loaded from anywhere."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from importlib.resources import files

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from sheetgen.circuit.names import Names
from sheetgen.model.accessory import Accessory
from sheetgen.model.drawing import Drawing, Text
from sheetgen.model.screen import Screen, View
from sheetgen.model.solution import Group, Solution
from sheetgen.model.words import CAUTION, RECORD, joined
from sheetgen.print.screen.faces import font_faces
from sheetgen.print.screen.figure import Wardrobe
from sheetgen.print.screen.table import table_of

MOST_ROWS = 16  # rows of a state table that is printed
HTML = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)


@dataclass(frozen=True)
class TitledSvg:
    """A drawing as SVG, with its title."""

    title: str
    svg: Markup


def screen_to_html(screen: Screen, solution: Solution) -> str:
    """The whole file."""
    view = screen.views[0]
    wardrobe = Wardrobe([v.name for v in screen.views])
    figures = [_figure(screen, number, wardrobe) for number in range(len(_all(view)))]
    script = _read("sheet.js")
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    return HTML.from_string(_read("sheet.html")).render(
        wiring=view.wiring, names=Names(view.wiring), views=screen.views, edge=_edge(screen),
        caution=f"{CAUTION} {RECORD}",
        rooms=list(dict.fromkeys(a.room for a in view.wiring.accessories if a.room)),
        landed=_landed(screen), switches=_switches(view), groups=_groups(view, solution), most=MOST_ROWS,
        sheets=figures[:len(view.sheets)], diagrams=figures[len(view.sheets):],
        digest=digest, script=Markup(script), table=_for_script(table_of(screen, solution)),
        style=Markup("\n".join([font_faces(_text_of(screen)), _read("sheet.css"), wardrobe.rules()])),
    )


def _read(name: str) -> str:
    return files("sheetgen.print.screen").joinpath(name).read_text(encoding="utf-8")


def _for_script(value: object) -> Markup:
    """JSON that cannot end the script element that holds it."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    return Markup(text.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e"))


def _all(view: View) -> tuple[Drawing, ...]:
    return (*view.sheets, *view.diagrams)


def _figure(screen: Screen, number: int, wardrobe: Wardrobe) -> TitledSvg:
    """A drawing in every look; a look without that sheet wears the first."""
    first = _all(screen.views[0])[number]
    worn = [(_all(view)[number] if number < len(_all(view)) else first, view.style) for view in screen.views]
    return TitledSvg(first.title, wardrobe.figure(worn, number))


def _text_of(screen: Screen) -> str:
    """Every character that the drawings and the page may show."""
    wiring = screen.views[0].wiring
    words = [wiring.job, wiring.place, wiring.drawn_by, *wiring.notes]
    for accessory in wiring.accessories:
        words += [wiring.printed(accessory.name), accessory.name, accessory.room, accessory.note]
        words += [label for _, label in accessory.labels]
        words += [terminal.name for terminal in accessory.kind.terminals]
    words += [core.label for core in wiring.cores()]
    shapes = (shape for view in screen.views for drawing in _all(view) for shape in drawing.shapes)
    words += [shape.text for shape in shapes if isinstance(shape, Text)]
    return "".join(sorted(set("".join(words))))


def _edge(screen: Screen) -> str:
    """By whom it was drawn and when, the file, its mark."""
    wiring = screen.views[0].wiring
    drawn = ", ".join(filter(None, [wiring.drawn_by, wiring.drawn_on]))
    status = "laid by method" if wiring.laid else wiring.status.value if wiring.status else ""
    parts = (status, f"drawn by {drawn}" if drawn else "", screen.source, screen.fingerprint)
    return " \N{MIDDLE DOT} ".join(filter(None, parts))


def _landed(screen: Screen) -> list[tuple[Accessory, str, list[tuple[str, str, list[tuple[str, str]]]]]]:
    """Every accessory, its name as printed, its terminals (key, as printed) and the cores there (key, name); last loose
    ends."""
    names = Names(screen.views[0].wiring)
    at: dict[tuple[str, str | None], list[tuple[str, str]]] = {}
    for core in names.wiring.cores():
        for place in dict.fromkeys((end.accessory, end.terminal) for end in core.ends):
            at.setdefault(place, []).append((core.key, str(core)))
    return [
        (a, names.wiring.printed(a.name), [*((str(t), names.label(t), at.get((t.accessory, t.name), []))
               for t in map(a.terminal, (kind.name for kind in a.kind.terminals))),
             *((("", "", loose),) if (loose := at.get((a.name, None))) else ())])
        for a in names.wiring.accessories
    ]


def _switches(view: View) -> list[tuple[str, str]]:
    """Every switch: its name, and how it is said."""
    names = Names(view.wiring)
    return [(name, names.part(name)) for name in names.switches]


def _groups(view: View, solution: Solution) -> Sequence[tuple[int, Group, str]]:
    """The groups that have lamps, with their numbers and what their tables are called."""
    names = Names(view.wiring)
    return [(number, group, joined(map(names.part, group.switches)) or "Not switched")
            for number, group in enumerate(solution.groups) if group.lamps]
