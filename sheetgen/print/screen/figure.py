"""A drawing as inline SVG that wears every look: what a look paints is a rule for a class, not a drawing of its own."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

from markupsafe import Markup, escape

from sheetgen.draw.inking import bands, outline, strokes
from sheetgen.model.drawing import Area, Box, Circle, Drawing, Line, Shape, Text
from sheetgen.model.geometry import MM, PT
from sheetgen.model.style import Paint, Style

ROLES = ("conductor", "diagram wire", "diagram blade", "terminal", "enclosure", "code")  # that the page asks for
ABOUT = ("core", "terminal", "accessory", "moves", "position", "load")  # the same
Key = tuple[tuple[str, ...], str, str]
Worn = tuple[tuple[str, ...] | None, ...]  # for each look the paints of a mark; None: the look has no such mark


@dataclass(frozen=True)
class SvgShape:
    """A shape as elements without paint, and the paint of each element."""

    elements: tuple[str, ...]  # each without its closing: '<rect x="1" y="2"'
    paints: tuple[str, ...]  # CSS declarations, one for each element; "" paints nothing
    about: str  # data attributes
    inner: str = ""  # what is within the element: the words of a text

    @property
    def key(self) -> Key:
        """What is the same in every look that has the mark; how often a line is painted over is not."""
        return self.elements[:1] if self.is_line else self.elements, self.about, self.inner

    @property
    def is_line(self) -> bool:
        """Whether it is a line, painted in passes one upon another."""
        return self.elements[0].startswith("<polyline")


class Wardrobe:
    """The classes of all drawings of a page, and what each look paints them with."""

    def __init__(self, looks: Sequence[str]):
        self.looks = looks
        self._classes: dict[tuple[bool, Worn], str] = {}  # whether in a group, and the paints -> name

    def figure(self, drawings: Sequence[tuple[Drawing, Style]], number: int) -> Markup:
        """One drawing in every look, as an SVG element."""
        first = drawings[0][0]
        width, height = _mm(first.width), _mm(first.height)
        title = escape(_line(first.title or "Wiring drawing"))
        marks = "\n".join(self._element(worn) for worn in _together([_marks(*drawing) for drawing in drawings]))
        return Markup(
            f'<svg data-drawing="{number}" aria-label="{title}" xmlns="http://www.w3.org/2000/svg" width="{width}mm" '
            f'height="{height}mm" viewBox="0 0 {width} {height}" role="img" font-family="Sheet, sans-serif" '
            f'fill="none" stroke-linejoin="round">\n<title>{title}</title>\n{marks}\n</svg>'
        )

    def _element(self, worn: list[SvgShape | None]) -> str:
        """A mark that some looks have; None where a look has not."""
        mark = max((m for m in worn if m), key=lambda m: len(m.elements))
        paints: Worn = tuple(_padded(m.paints, len(mark.elements)) if m else None for m in worn)
        grouped = mark.is_line or len(mark.elements) > 1
        name = self._classes.setdefault((grouped, paints), f"k{len(self._classes)}")
        absent = "".join(f" no{number}" for number, m in enumerate(worn) if m is None)
        dress = f' class="{name}{absent}"{mark.about}'
        if grouped:
            return f"<g{dress}>{''.join(f'{element}/>' for element in mark.elements)}</g>"
        tag = mark.elements[0].split(" ", 1)[0][1:]
        return f"{mark.elements[0]}{dress}" + (f">{mark.inner}</{tag}>" if mark.inner else "/>")

    def rules(self) -> str:
        """The CSS: first what most looks share, then what each look paints otherwise, then what each has not."""
        usual: dict[str, list[str]] = {}
        other: dict[str, list[str]] = {}
        for (grouped, paints), name in self._classes.items():
            base = next(p for p in paints if p is not None)
            for child, paint in enumerate(base):
                where = f".{name}>:nth-child({child + 1})" if grouped else f".{name}"
                usual.setdefault(paint or "stroke:none", []).append(where)
                for look, worn in zip(self.looks, paints, strict=True):
                    if worn is not None and worn[child] != paint:
                        other.setdefault(_over(paint, worn[child]), []).append(f"{_look(look)} {where}")
        hidden = ",".join(f"{_look(look)} .no{number}" for number, look in enumerate(self.looks))
        rules = [f":where({','.join(where)}){{{paint}}}" for rules in (usual, other) for paint, where in rules.items()]
        return "\n".join([*rules, f"{hidden}{{display:none}}"])


def _look(name: str) -> str:
    return f"[data-look={json.dumps(name)}]"


def _padded(paints: tuple[str, ...], number: int) -> tuple[str, ...]:
    return (*paints, *("",) * (number - len(paints)))


def _over(usual: str, own: str) -> str:
    """The paint of a look laid over the usual: what the usual has and it has not is taken back."""
    names = {part.split(":")[0] for part in own.split(";")}
    back = [f"{name}:{'400' if name == 'font-weight' else 'none'}" for name in
            (part.split(":")[0] for part in usual.split(";") if part) if name not in names and name != "stroke-width"]
    return ";".join(filter(None, [own, *back])) or "stroke:none"


def _together(looks: Sequence[list[SvgShape]]) -> Iterable[list[SvgShape | None]]:
    """The marks of every look in one order of painting, each with what every look makes of it."""
    union: list[list[SvgShape | None]] = [[mark] for mark in looks[0]]
    keys = [mark.key for mark in looks[0]]
    for done, marks in enumerate(looks[1:], 1):
        merged: list[list[SvgShape | None]] = []
        merged_keys: list[Key] = []
        matcher = SequenceMatcher(None, keys, [mark.key for mark in marks], autojunk=False)
        for tag, i1, i2, j1, j2 in matcher.get_opcodes():
            if tag == "equal":
                merged += [[*union[i1 + n], marks[j1 + n]] for n in range(i2 - i1)]
                merged_keys += keys[i1:i2]
            else:
                merged += [[*worn, None] for worn in union[i1:i2]]
                merged += [[*(None for _ in range(done)), mark] for mark in marks[j1:j2]]
                merged_keys += [*keys[i1:i2], *(mark.key for mark in marks[j1:j2])]
        union, keys = merged, merged_keys
    return union


def _marks(drawing: Drawing, style: Style) -> list[SvgShape]:
    sheet = SvgShape((f'<rect width="{_mm(drawing.width)}" height="{_mm(drawing.height)}"',), ("fill:#ffffff",), "")
    return [sheet, *(_mark(shape, style) for shape in drawing.shapes)]


def _mark(shape: Shape, style: Style) -> SvgShape:
    about = _about(shape)
    match shape:
        case Line():
            element = f'<polyline points="{_points(shape.points)}"'
            passes = strokes(shape, style)
            return SvgShape((element,) * len(passes),
                        tuple(_stroke(s.colour, s.width, s.dash) for s in passes), about)
        case Text():
            lettering = style.letterings[shape.role]
            bold = ";font-weight:700" if lettering.weight == "bold" else ""
            paint = f"fill:{lettering.paint};font-size:{_mm(round(lettering.size * PT))}px{bold}"
            anchor = f' text-anchor="{shape.anchor}"' if shape.anchor != "start" else ""
            return SvgShape((f'<text x="{_mm(shape.x)}" y="{_mm(shape.y)}"{anchor}',), (paint,), about,
                        str(escape(_line(shape.text))))
        case Circle():
            return _closed(f'<circle cx="{_mm(shape.x)}" cy="{_mm(shape.y)}" r="{_mm(shape.radius)}"', shape, style)
        case Area():
            return _closed(f'<polygon points="{_points(shape.points)}"', shape, style)
        case Box():
            return _box(shape, style)


def _closed(element: str, shape: Box | Circle | Area, style: Style) -> SvgShape:
    return SvgShape((element,), (_ink(outline(shape, style)),), _about(shape))


def _box(box: Box, style: Style) -> SvgShape:
    """A box; with bands across it, filled first and edged last."""
    stripes, paint = bands(box, style), outline(box, style)
    if not stripes:
        return _closed(_corners(box), box, style)
    edge = Paint(stroke=paint.stroke, width=paint.width)
    return SvgShape(
        (_corners(box), *(_corners(stripe) for stripe, _ in stripes), _corners(box)),
        (_ink(Paint(fill=paint.fill)), *(f"fill:{colour}" for _, colour in stripes), _ink(edge)),
        _about(box),
    )


def _about(shape: Shape) -> str:
    pairs = [("role", shape.role)] if shape.role in ROLES else []
    pairs += [pair for pair in shape.about if pair[0] in ABOUT]
    return "".join(f' data-{key}="{escape(_line(value))}"' for key, value in pairs)


def _ink(paint: Paint) -> str:
    parts = [f"fill:{paint.fill}"] if paint.fill else []
    parts += [_stroke(paint.stroke, paint.width, paint.dash)] if paint.stroke else []
    return ";".join(parts)


def _stroke(colour: str, width: int, dash: tuple[int, ...]) -> str:
    dashes = f";stroke-dasharray:{' '.join(map(_mm, dash))}" if dash else ""
    return f"stroke:{colour};stroke-width:{_mm(width)}px{dashes}"


def _corners(box: Box) -> str:
    rounded = f' rx="{_mm(box.radius)}"' if box.radius else ""
    return f'<rect x="{_mm(box.x)}" y="{_mm(box.y)}" width="{_mm(box.width)}" height="{_mm(box.height)}"{rounded}'


def _points(points: tuple[tuple[int, int], ...]) -> str:
    return " ".join(f"{_mm(x)},{_mm(y)}" for x, y in points)


def _mm(length: int) -> str:
    return f"{length / MM:.2f}".rstrip("0").rstrip(".")


def _line(text: str) -> str:
    """On one line, without what HTML does not allow."""
    return "".join(" " if ord(c) < 32 or ord(c) == 127 else c for c in text)
