"""A text worked out: understood and judged first, drawn after. What is known of it already is not done twice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from sheetgen.circuit import Circuit, circuit_of
from sheetgen.desk.moment import CoreRole, Cured, Drawn, FindingNow, Judged, LampNow, Refusal, SwitchNow
from sheetgen.desk.picture import plates_of
from sheetgen.desk.sheets import NO_CABLES
from sheetgen.draw.layout import DoesNotFit, wiring_to_layout
from sheetgen.draw.wiring import layout_to_drawing
from sheetgen.judge import judge
from sheetgen.model.accessory import Accessory, SwitchKind, Terminal
from sheetgen.model.drawing import Circle, Drawing, Line, Shape
from sheetgen.model.finding_out import FaultFound, Identified
from sheetgen.model.layout import Layout
from sheetgen.model.problems import Mark, Problem, Refused
from sheetgen.model.reading import Reading, Standing
from sheetgen.model.solution import LIT, Condition, Group, Row
from sheetgen.model.wiring import Board, Wiring
from sheetgen.pipeline import style_of
from sheetgen.print.svg import drawing_to_svg
from sheetgen.read.description_to_wiring import as_far_as_understood
from sheetgen.read.text_to_description import text_to_description
from sheetgen.tell.story import tell

Stands = Mapping[str, str]  # switch -> position
KEPT = 6  # texts of which what was worked out is kept: undo and redo go back and forth between a few


@lru_cache(maxsize=KEPT)
def _understood(text: str) -> tuple[Wiring | None, tuple[Problem, ...], frozenset[str]]:
    """The wiring as far as understood, the problems, and the accessories that the text names."""
    try:
        description = text_to_description(text)
    except Refused as refused:
        return None, refused.problems, frozenset()
    written = frozenset(description.content.accessories)
    try:
        wiring, problems = as_far_as_understood(description, style_of().sets)
    except Refused as refused:
        return None, refused.problems, written
    return wiring, tuple(sorted(problems)), written


@lru_cache(maxsize=KEPT)
def _judged(text: str) -> tuple[Circuit, Reading] | None:
    wiring, problems, _ = _understood(text)
    if wiring is None or problems or not wiring.cables:
        return None
    circuit = circuit_of(wiring)
    return circuit, judge(circuit, style_of().sets, cures=False)


@lru_cache(maxsize=KEPT)
def cured_now(text: str) -> Cured:
    """The findings with what mends them, found by trying it."""
    found = _judged(text)
    if found is None:
        return Cured()
    return Cured(_findings(judge(found[0], style_of().sets)))


@lru_cache(maxsize=KEPT)
def found_now(text: str, kind: str, said: tuple[str, ...]) -> FaultFound | Identified | Refusal:
    """The plan of tests for a fault that is seen, or for ends that nobody has followed; or why there is none."""
    from sheetgen.pipeline.finding_out import fault_search

    try:
        if kind == "fault":
            return fault_search(text, said).found
        from sheetgen.pipeline.finding_out import identified

        return identified(text, said)[1]
    except Refused as refused:
        return Refusal(tuple(f"{p.message} {p.hint}".strip() for p in refused.problems))


def _findings(reading: Reading) -> tuple[FindingNow, ...]:
    return tuple(FindingNow(f.gravity.value, f.says, f.means, f.cure, f.accessory) for f in reading.findings)


def judged_now(text: str, stands: Stands, operated: str = "") -> Judged:
    """Everything but the drawing."""
    wiring, problems, written = _understood(text)
    if wiring is None:
        return Judged(problems)
    found = _judged(text)
    if found is None:
        waiting = [p for p in problems if p.code != NO_CABLES]  # without a cable there is nothing to draw yet
        return Judged(tuple(waiting), plates_of(wiring, {}, written))
    circuit, reading = found
    setting = standing(circuit.wiring, stands)
    rows = [(group, row) for group in circuit.solution.groups if (row := row_of(group, setting)) is not None]
    return Judged(
        (), plates_of(circuit.wiring, reading.roles, written), _roles(circuit.wiring, reading),
        lamps=_lamps(circuit, rows),
        switches=tuple(SwitchNow(name, circuit.part(name), tuple(p.name for p in s.positions), setting[name],
                                 circuit.position(name, setting[name]))
                       for name, (_, s) in circuit.switches.items()),
        says=_says(circuit, rows, operated),
        findings=_findings(reading),
        unjudged=tuple(dict.fromkeys(word for words in reading.unjudged.values() for word in words)),
        whole=True,
    )


def standing(wiring: Wiring, stands: Stands) -> dict[str, str]:
    """A position for every switch: the one asked for where it has it, else its first."""
    return {name: stands[name] if stands.get(name) in {p.name for p in switch.positions} else switch.positions[0].name
            for name, _, switch in wiring.switches()}


def row_of(group: Group, setting: Stands) -> Row | None:
    """The row of a setting; None where there are too many switches and it was not worked out."""
    try:
        return group.row(setting)
    except KeyError:
        return None


def _lamps(circuit: Circuit, rows: list[tuple[Group, Row]]) -> tuple[LampNow, ...]:
    states = {name: lamp for group, row in rows for name, lamp in zip(group.lamps, row.lamps, strict=True)}
    return tuple(
        LampNow(circuit.part(name), states[name].state.value if name in states else "not worked out",
                name in states and states[name].state in LIT)
        for name in circuit.loads)


def _says(circuit: Circuit, rows: list[tuple[Group, Row]], operated: str) -> tuple[str, ...]:
    asked = [(g, r) for g, r in rows if operated in g.switches] or [(g, r) for g, r in rows if g.lamps][:1]
    return tuple(tell(circuit, group, row).says for group, row in asked)


def _roles(wiring: Wiring, reading: Reading) -> tuple[tuple[tuple[str, str, str], CoreRole], ...]:
    needs: dict[str, list[str]] = {}
    for sleeve in reading.sleeves:
        if sleeve.standing in (Standing.FITTED, Standing.MISSING, Standing.WRONG):
            needs.setdefault(sleeve.core, ["", ""])[sleeve.end] = sleeve.colour
    found = []
    for core in wiring.cores():
        here, there = needs.get(core.key, ["", ""])
        role = str(reading.roles.get(core.key, ""))
        name = "cpc" if core.cpc and core.colour in ("", "GNYE") else core.colour
        found.append(((core.cable, name, core.mark), CoreRole(role, (here, there))))
    return tuple(found)


def drawn_now(text: str, stands: Stands) -> Drawn:
    """The drawing, with every switch as it stands, what is live marked, and lamps that are lit."""
    found = _judged(text)
    if found is None:
        return Drawn()
    circuit, reading = found
    setting = standing(circuit.wiring, stands)
    style = style_of()
    try:
        layout = _layout(_bare(circuit.wiring))
    except DoesNotFit as refused:
        return Drawn(refused=str(refused))
    sheets = layout_to_drawing(layout, turned_to(circuit.wiring, setting), reading, style)
    marks = _Marks(circuit, setting)
    svgs = [drawing_to_svg(marks.marked(sheet), style) for sheet in sheets]
    return Drawn(tuple(svg[svg.index("<svg"):] for svg in svgs))


@lru_cache(maxsize=KEPT)
def _layout(wiring: Wiring) -> Layout:
    return wiring_to_layout(wiring, style_of())


def _bare(wiring: Wiring) -> Wiring:
    """The wiring without what moves nothing in a drawing: sleeves, lengths, notes, where it stands in the text."""
    accessories = tuple(replace(a, note="", at=Mark()) for a in wiring.accessories)
    cables = tuple(replace(
        cable, length=None, note="", at=Mark(), method="",
        cores=tuple(replace(core, ends=(replace(core.ends[0], sleeve=None), replace(core.ends[1], sleeve=None)))
                    for core in cable.cores)) for cable in wiring.cables)
    ways = tuple(replace(way, at=Mark(), isolated_by="") for way in wiring.board.ways)
    return Wiring("", accessories, cables, Board(ways=ways), colours=wiring.colours)


def turned_to(wiring: Wiring, setting: Stands) -> Wiring:
    """The same wiring with the position in which each switch stands named first, which is the one that is drawn."""
    def turned(accessory: Accessory, switch: SwitchKind) -> SwitchKind:
        stands = setting[accessory.switch_name(switch)]
        return replace(switch, positions=tuple(sorted(switch.positions, key=lambda p: p.name != stands)))

    return replace(wiring, accessories=tuple(
        replace(a, kind=replace(a.kind, switches=tuple(turned(a, s) for s in a.kind.switches)))
        if a.kind.switches else a for a in wiring.accessories))


class _Marks:
    """What is live and what is lit in a setting, marked in a drawing."""

    def __init__(self, circuit: Circuit, setting: Stands):
        at: dict[Terminal, Condition] = dict(circuit.solution.constant)
        self.lit: set[str] = set()
        for group in circuit.solution.groups:
            if row := row_of(group, setting):
                at |= dict(zip(group.terminals, row.conditions, strict=True))
                self.lit |= {name for name, lamp in zip(group.lamps, row.lamps, strict=True) if lamp.state in LIT}
        self.live = {core.key for core in circuit.wiring.cores()
                     if any(end.node is not None and end.node in at and at[end.node].live for end in core.ends)}
        self.lamps = {a.name: {a.load_name(load) for load in a.kind.loads} for a in circuit.wiring.accessories}

    def marked(self, sheet: Drawing) -> Drawing:
        return replace(sheet, shapes=tuple(map(self._marked, sheet.shapes)))

    def _marked(self, shape: Shape) -> Shape:
        if isinstance(shape, Line) and shape.role == "conductor" and dict(shape.about).get("core") in self.live:
            return replace(shape, about=(*shape.about, ("live", "yes")))
        if isinstance(shape, Circle) and shape.role == "symbol fill" and "switch" not in dict(shape.about):
            loads = self.lamps.get(dict(shape.about).get("accessory", ""), set())
            return replace(shape, about=(*shape.about, ("lit", "yes"))) if loads & self.lit else shape
        return shape
