"""The HTML of a sheet for the screen. All text that a user wrote is escaped; nothing is loaded from anywhere."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable
from html import escape
from importlib.resources import files

from sheetgen.draw.typeface import FAMILY
from sheetgen.model.drawing import Drawing, Text
from sheetgen.model.screen import Screen, View
from sheetgen.model.solution import Group, Solution
from sheetgen.model.words import CAUTION, RECORD, joined
from sheetgen.print.screen.faces import font_faces
from sheetgen.print.screen.patches import Changes, elements_of, patch
from sheetgen.print.screen.table import table_of
from sheetgen.print.svg import drawing_to_svg

MOST_ROWS = 16  # rows of a state table that is printed


def screen_to_html(screen: Screen, solution: Solution) -> str:
    """The whole file."""
    wiring = screen.views[0].wiring
    table = table_of(screen, solution)
    drawings = [_Drawn(screen, number, drawing) for number, drawing in enumerate(_all(screen.views[0]))]
    table["patches"] = {view.name: [drawn.patch(view) for drawn in drawings] for view in screen.views[1:]}
    data = json.dumps(table, ensure_ascii=False, separators=(",", ":"))
    data = data.replace("&", "\\u0026").replace("<", "\\u003c").replace(">", "\\u003e")
    sheets = len(screen.views[0].sheets)
    body = "\n".join([
        _head_of_sheet(screen),
        '<main id="main">',
        _drawings("Wiring", drawings[:sheets], "wiring"),
        '<div class="side">',
        _now(solution),
        _asked(),
        _find(screen),
        _list(screen),
        "</div>",
        _diagrams(solution, drawings[sheets:]),
        _states(screen, solution),
        f'<p class="caution"><strong>Caution.</strong> {escape(CAUTION)} {escape(RECORD)}</p>',
        "</main>",
        _bar(screen),
        f'<script type="application/json" id="table">{data}</script>',
    ])
    script = _read("sheet.js")
    style = font_faces(_text_of(screen)) + _read("sheet.css")
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()
    policy = (f"default-src 'none'; style-src 'unsafe-inline'; script-src 'sha256-{digest}'; font-src data:; "
              "img-src data:; base-uri 'none'; form-action 'none'")
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f'<title>{escape(wiring.job)}</title>\n<link rel="icon" href="data:,">\n<style>{style}</style>\n</head>\n'
        f"<body>\n{body}\n<script>{script}</script>\n</body>\n</html>\n"
    )


def _read(name: str) -> str:
    return files("sheetgen.print.screen").joinpath(name).read_text(encoding="utf-8")


def _all(view: View) -> tuple[Drawing, ...]:
    return (*view.sheets, *view.diagrams)


def _text_of(screen: Screen) -> str:
    """Every character that the drawings and the page may show."""
    wiring = screen.views[0].wiring
    words = [wiring.job, wiring.place, wiring.drawn_by, *wiring.notes]
    for accessory in wiring.accessories:
        words += [accessory.name, accessory.room, accessory.note, *(label for _, label in accessory.labels)]
        words += [terminal.name for terminal in accessory.kind.terminals]
    words += [core.label for core in wiring.cores()]
    shapes = (shape for view in screen.views for drawing in _all(view) for shape in drawing.shapes)
    words += [shape.text for shape in shapes if isinstance(shape, Text)]
    return "".join(sorted(set("".join(words))))


class _Drawn:
    """One drawing of the first look as inline SVG, and what the other looks change in it."""

    def __init__(self, screen: Screen, number: int, drawing: Drawing):
        self.number, self.drawing = number, drawing
        self.opening, self.elements, self.closing = elements_of(_svg(drawing, screen.views[0]))

    def patch(self, view: View) -> Changes:
        """The changes of another look; all of it where that look has no such sheet."""
        others = _all(view)
        if self.number >= len(others):
            return []
        return patch(self.elements, elements_of(_svg(others[self.number], view))[1])

    def html(self) -> str:
        """The SVG element."""
        label = escape(self.drawing.title or "Wiring drawing", quote=True)
        opening = self.opening.replace("<svg ", f'<svg data-drawing="{self.number}" aria-label="{label}" ', 1)
        return "\n".join([opening, *self.elements, self.closing])


def _svg(drawing: Drawing, view: View) -> str:
    return drawing_to_svg(drawing, view.style).replace(f"{FAMILY}, DejaVu Sans, sans-serif", "Sheet, sans-serif")


def _head_of_sheet(screen: Screen) -> str:
    wiring = screen.views[0].wiring
    drawn = ", ".join(filter(None, [wiring.drawn_by, wiring.drawn_on]))
    edge = " \N{MIDDLE DOT} ".join(escape(t) for t in (f"drawn by {drawn}" if drawn else "", screen.source,
                                                        screen.fingerprint) if t)
    looks = "".join(
        f'<label><input type="radio" name="look" value="{view.name}"{" checked" if n == 0 else ""}> '
        f"{escape(view.title)}</label>"
        for n, view in enumerate(screen.views)
    )
    return (
        f'<header><h1>{escape(wiring.job)}</h1><p class="place">{escape(wiring.place)}</p><p class="edge">{edge}</p>\n'
        f'<fieldset class="looks screen"><legend>Colours</legend>{looks}</fieldset></header>'
    )


def _drawings(title: str, drawings: Iterable[_Drawn], what: str) -> str:
    figures = "\n".join(
        f'<figure class="sheet" tabindex="0" aria-label="{escape(d.drawing.title or title, quote=True)}, scrolls">'
        f"{d.html()}</figure>" for d in drawings
    )
    zoom = ('<div class="zoom screen"><button type="button" data-zoom="-1" aria-label="Smaller">\N{MINUS SIGN}</button>'
            '<button type="button" data-zoom="1" aria-label="Larger">+</button></div>')
    head = f'<div class="head"><h2 id="{what}-title">{title}</h2>{zoom}</div>'
    return f'<section class="{what}" aria-labelledby="{what}-title">{head}\n{figures}\n</section>'


def _now(solution: Solution) -> str:
    """The state row and the sentence, which follow the switches."""
    return (
        '<section class="now screen" aria-labelledby="now-title"><h2 id="now-title">Now</h2>'
        '<ul id="loads"></ul><p id="says" role="status" aria-live="polite"></p></section>'
    )


def _asked() -> str:
    return (
        '<section class="asked screen" aria-labelledby="asked-title"><h2 id="asked-title">Conductor or terminal</h2>'
        '<div id="asked" aria-live="polite"><p>Touch one in the drawing, or choose it in the list below.</p></div>'
        "</section>"
    )


def _find(screen: Screen) -> str:
    wiring = screen.views[0].wiring
    rooms = dict.fromkeys(a.room for a in wiring.accessories if a.room)
    options = "".join(f'<option value="{escape(room, quote=True)}">{escape(room)}</option>' for room in rooms)
    return (
        '<section class="find screen" aria-labelledby="find-title"><h2 id="find-title">Find</h2>'
        f'<label for="room">Room</label> <select id="room"><option value="">choose</option>{options}</select></section>'
    )


def _list(screen: Screen) -> str:
    """Every conductor and terminal as buttons, accessory by accessory: what the drawing offers, without a pointer."""
    wiring = screen.views[0].wiring
    parts = []
    for accessory in wiring.accessories:
        room = f' <span class="room">{escape(accessory.room)}</span>' if accessory.room else ""
        rows = "".join(
            '<li><button type="button" class="terminal" '
            f'data-terminal="{escape(f"{accessory.name} {t.name}", quote=True)}">'
            f"{escape(accessory.label(t.name))}</button> {_landed(screen, accessory.name, t.name)}</li>"
            for t in accessory.kind.terminals
        )
        loose = _landed(screen, accessory.name, None)
        rows += f"<li>in nothing {loose}</li>" if loose else ""
        parts.append(
            f'<details data-accessory="{escape(accessory.name, quote=True)}"><summary>{escape(accessory.name)}{room}'
            f"</summary><ul>{rows}</ul></details>"
        )
    return (
        '<section class="list screen" aria-labelledby="list-title">'
        f'<h2 id="list-title">All conductors and terminals</h2>{"".join(parts)}</section>'
    )


def _landed(screen: Screen, accessory: str, terminal: str | None) -> str:
    return " ".join(
        f'<button type="button" class="core" data-core="{escape(core.key, quote=True)}">{escape(str(core))}</button>'
        for core in screen.views[0].wiring.cores()
        if any((end.accessory, end.terminal) == (accessory, terminal) for end in core.ends)
    )


def _diagrams(solution: Solution, drawings: list[_Drawn]) -> str:
    return _drawings("Circuit diagram", drawings, "diagrams") if drawings else ""


def _states(screen: Screen, solution: Solution) -> str:
    """The state tables; the row of the present setting is marked."""
    tables = "".join(_state_table(screen, number, group) for number, group in enumerate(solution.groups) if group.lamps)
    head = '<h2 id="states-title">State tables</h2>'
    return f'<section class="states" aria-labelledby="states-title">{head}{tables}</section>'


def _state_table(screen: Screen, number: int, group: Group) -> str:
    head = "".join(f'<th scope="col">{escape(name)}</th>' for name in (*group.switches, *group.lamps))
    rows = "".join(
        f'<tr data-group="{number}" data-setting="{escape(chr(10).join(row.setting), quote=True)}">'
        + "".join(f"<td>{escape(position)}</td>" for position in row.setting)
        + "".join(f"<td>{escape(lamp.state.value)}{f' ({lamp.fraction})' if lamp.state.value == 'dim' else ''}</td>"
                  for lamp in row.lamps)
        + "</tr>"
        for row in group.rows[:MOST_ROWS]
    )
    caption = joined(group.switches) or "Not switched"
    more = f"<p>{len(group.rows) - MOST_ROWS} more settings.</p>" if len(group.rows) > MOST_ROWS else ""
    return (
        f'<div class="table" tabindex="0" role="group" aria-label="State table: {escape(caption, quote=True)}"><table>'
        f"<caption>{escape(caption)}</caption><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>{more}</div>"
    )


def _bar(screen: Screen) -> str:
    """The switches, within reach of a thumb; keys 1 to 9 operate the first nine."""
    buttons = "".join(
        f'<button type="button" class="switch" data-switch="{escape(name, quote=True)}">'
        f'{f"<kbd>{n}</kbd> " if n < 10 else ""}<span class="name">{escape(f"{a.name} {s.name}".strip())}</span> '
        '<span class="stands"></span></button>'
        for n, (name, a, s) in enumerate(screen.views[0].wiring.switches(), 1)
    )
    return f'<nav class="bar screen" aria-label="Switches">{buttons or "No switches"}</nav>'
