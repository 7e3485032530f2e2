"""Reads the wiring back from drawings, from geometry alone.

A conductor's end is landed on the terminal on whose frame the end of its line lies, or on nothing where it lies on the
mark of a loose end. A lone single is one line from landing to landing. A core of a cable, or a single in a trunk, is
two lines, one at each end: each runs from its landing to a mouth, the mouth lies at an end of a sheath, the sheath's
other end leads to the other mouth or to a continuation mark, and the mark of the same number on another sheet leads on.
Where a single passes an accessory uncut, its line there runs from one mouth to another, whose sheath leads on.
Which line in one mouth is the same core as which line in the other is taken from the core's name that both carry, for
within a sheath it cannot be seen; likewise, where several cables end at one continuation mark, which is which is taken
from their names. Nothing else is taken from names.
"""

from __future__ import annotations

from layout.checker import SortedShapes, cables_of, rect, within

from sheetgen.model.drawing import Drawing

NOT_KNOWN = "?"
Landing = str | None  # "Hall COM", None for nothing, NOT_KNOWN for the mark of an end not known
End = tuple[str, object]


def connections(drawings: tuple[Drawing, ...], style) -> dict[str, tuple[Landing, Landing]]:
    """Core -> what its two ends are landed on, sorted (nothing first)."""
    fans: dict[object, dict[str, Landing]] = {}
    passing: dict[tuple[object, str], object] = {}
    joined: dict[object, object] = {}
    whole: dict[str, list[Landing]] = {}
    cut: dict[tuple[str, str], list[Landing]] = {}
    for sheet, drawing in enumerate(drawings):
        look = SortedShapes(drawing, style)
        _read_sheaths(look, sheet, joined)
        for line in look.conductors:
            core = dict(line.about)["core"]
            ends = [_end(look, sheet, line.points[i]) for i in (0, -1)]
            landed = [where for kind, where in ends if kind == "landed"]
            others = [(kind, where) for kind, where in ends if kind != "landed"]
            if not others:
                whole[core] = landed
            elif [kind for kind, _ in others] == ["mouth", "mouth"]:
                (_, one), (_, other) = others
                assert one != other, f"{core} goes back where it came from"
                passing[one, core], passing[other, core] = other, one
            elif others[0][0] == "mouth":
                fans.setdefault(others[0][1], {})[core] = landed[0]
            else:
                cut.setdefault((others[0][1], core), []).append(landed[0])
    found = {core: tuple(sorted(landed, key=str)) for core, landed in whole.items()}
    found |= {core: tuple(sorted(landed, key=str)) for (_, core), landed in cut.items()}
    for mouth, cores in fans.items():
        for core, landing in cores.items():
            other = _follow(joined, mouth)
            while (other, core) in passing:
                other = _follow(joined, passing[other, core])
            found[core] = tuple(sorted((landing, fans[other][core]), key=str))
    return found


def _end(look: SortedShapes, sheet: int, point: tuple[int, int]) -> End:
    """What a line's end lies on."""
    x, y = point
    for circle in look.circles:
        if circle.role == "loose end" and (circle.x, circle.y) == point:
            return "landed", None
        if circle.role == "unknown end" and abs(circle.x - x) + abs(circle.y - y) < circle.radius:
            queries = [(t.x, t.y, t.x, t.y) for t in look.texts if t.text == "?"]
            assert any(within(at, rect(circle)) for at in queries)
            return "landed", NOT_KNOWN
    for terminal in look.terminals:
        if terminal.x <= x <= terminal.x + terminal.width and terminal.y <= y <= terminal.y + terminal.height:
            return "landed", dict(terminal.about)["terminal"]
    for i, mouth in enumerate(look.mouths):
        if within((x, y, x, y), rect(mouth)):
            return "mouth", (sheet, i)
    for mark in look.marks:
        if within((x, y, x, y), rect(mark)):
            return "mark", dict(mark.about)["mark"]
    raise AssertionError(f"a line ends nowhere: {point}")


def _read_sheaths(look: SortedShapes, sheet: int, joined: dict[object, object]) -> None:
    """Join the mouths, or mouth and mark, at the two ends of every sheath."""
    for line in look.sheaths:
        ends = []
        for x, y in (line.points[0], line.points[-1]):
            at = [("mouth", (sheet, i)) for i, m in enumerate(look.mouths) if within((x, y, x, y), rect(m))]
            cable = min(cables_of(line))
            at += [("mark", (dict(m.about)["mark"], sheet, cable)) for m in look.marks if within((x, y, x, y), rect(m))]
            assert len(at) == 1, f"a sheath ends at {at}"
            ends.append(at[0])
        joined[ends[0]], joined[ends[1]] = ends[1], ends[0]


def _follow(joined: dict[object, object], mouth: object) -> object:
    """The mouth at the far end, over continuation marks where there are."""
    at = joined["mouth", mouth]
    while at[0] == "mark":
        number, sheet, cable = at[1]
        (onward,) = [
            k for k in joined if k[0] == "mark" and k[1][0] == number and k[1][1] != sheet and k[1][2] == cable
        ]
        at = joined[onward]
    return at[1]


def wired(wiring) -> dict[str, tuple[Landing, Landing]]:
    """The same, from the wiring."""
    return {
        core.key: tuple(sorted(
            (str(end.node) if end.node else NOT_KNOWN if end.unknown else None for end in core.ends), key=str))
        for core in wiring.cores()
    }


