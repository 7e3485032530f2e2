"""Wiring to circuit diagrams in IEC 60617 symbols: drawn from what the wiring joins, never from a template.

Passes: schematic (what is joined), arrange (columns, order, rows, tracks), setting_out (lengths), ink (shapes).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from sheetgen.circuit import Circuit
from sheetgen.circuit.current import flow_of
from sheetgen.draw.diagram.arrange import plan_of
from sheetgen.draw.diagram.figure_to_shapes import ShownSetting, figure_to_drawing
from sheetgen.draw.diagram.plan_to_figure import CLOSE, LARGE, SMALL, WidthOf, plan_to_figure
from sheetgen.draw.diagram.schematic import schematic_of
from sheetgen.draw.paper import drawing_space
from sheetgen.draw.typeface import text_width
from sheetgen.model.accessory import Terminal
from sheetgen.model.diagram import DiagramPlan, Figure, Schematic, outer
from sheetgen.model.drawing import Drawing, Shape
from sheetgen.model.geometry import MM
from sheetgen.model.job import Diagram, LivePath
from sheetgen.model.solution import Group, Row
from sheetgen.model.style import Style

AT_REST = ShownSetting()
ALL_SETTINGS = 4  # switches up to which every setting has its miniature


Stories = Mapping[tuple[str, ...], Mapping[tuple[str, ...], str]]


def wiring_to_diagrams(circuit: Circuit, style: Style, stories: Stories) -> tuple[Diagram, ...]:
    """The diagram of every group, with its live paths.

    `stories` has the words: switches of the group (its lamps, where it has no switch) -> setting -> sentences.
    """
    found = []
    for group, drawing in zip(circuit.solution.groups, _drawings(circuit, style), strict=True):
        schematic = schematic_of(circuit, group, most_rungs=1)
        folded, drawn = plan_of(schematic), drawn_terminals(schematic)
        told = stories.get(group.switches or group.lamps, {})
        small = plan_to_figure(folded, SMALL, _widths(style))
        whole = small.width <= _room(style) and small.height <= drawing_space(style)[1]
        paths = tuple(
            LivePath(row.setting, told.get(row.setting, ""),
                     _miniature(small, state_of(circuit, group, row, drawn), circuit.setting(group, row))
                     if whole else None)
            for row in rows_to_tell(group)
        )
        found.append(Diagram(group.switches, drawing, paths, group.lamps))
    return tuple(found)


def diagrams_of(circuit: Circuit, style: Style) -> tuple[Drawing, ...]:
    """The circuit diagrams on their own, one for each group of switches."""
    return _drawings(circuit, style)


def _drawings(circuit: Circuit, style: Style) -> tuple[Drawing, ...]:
    """The diagram of every group; the codes of the cores stand in all of them or in none."""
    groups = circuit.solution.groups
    plans = [plan_of(schematic_of(circuit, group)) for group in groups]
    coded = all(plan_to_figure(plan, LARGE, _widths(style)).width <= _room(style) for plan in plans)
    return tuple(_large(plan, style, _title(circuit, group), coded=coded)
                 for plan, group in zip(plans, groups, strict=True))


def _title(circuit: Circuit, group: Group) -> str:
    return f"Circuit diagram: {', '.join(map(circuit.part, group.switches or group.lamps))}"


def _room(style: Style) -> int:
    return (style.paper.width - 2 * style.paper.margin) * MM


def diagrams_in(circuit: Circuit, style: Style) -> tuple[Drawing, ...]:
    """The diagrams with the contacts of every position in them, for a page that shows one at a time."""
    return tuple(
        _every_position(plan_of(schematic_of(circuit, group, most_rungs=len(group.lamps))),
                        style, group, _title(circuit, group))
        for group in circuit.solution.groups
    )


def _every_position(plan: DiagramPlan, style: Style, group: Group, title: str) -> Drawing:
    first = _large(plan, style, title)
    shapes: list[Shape] = []
    for number in range(max((len(positions) for positions in group.positions), default=1)):
        setting = {s: p[min(number, len(p) - 1)] for s, p in zip(group.switches, group.positions, strict=True)}
        drawn = _large(plan, style, title, ShownSetting(setting))
        moves = {s for s, p in zip(group.switches, group.positions, strict=True) if number < len(p)}
        for shape in drawn.shapes:
            about = dict(shape.about)
            if shape.role == "diagram blade" and about["symbol"] in moves:
                more = (("moves", about["symbol"]), ("position", setting[about["symbol"]]))
                shapes.append(replace(shape, about=(*shape.about, *more)))
    rest = [
        replace(s, about=(*s.about, ("load", dict(s.about)["symbol"]))) if s.role == "diagram body" else s
        for s in first.shapes if s.role != "diagram blade"
    ]
    return replace(first, shapes=(*rest, *shapes))


def rows_to_tell(group: Group) -> Sequence[Row]:
    """The settings that are shown: all of a small group; of a larger one the first, then each switch operated once.

    Of one with too many switches for every setting the first, and all switches in their last position.
    """
    if len(group.switches) <= ALL_SETTINGS:
        return group.rows
    first = group.rows[0].setting
    if not group.complete:
        return group.rows[0], group.row(dict(zip(group.switches, (p[-1] for p in group.positions), strict=True)))
    once = (row for row in group.rows if sum(a != b for a, b in zip(row.setting, first, strict=True)) == 1)
    return (group.rows[0], *sorted(once, key=lambda row: _operated(row, first)))


def _operated(row: Row, first: tuple[str, ...]) -> int:
    return next(i for i, (a, b) in enumerate(zip(row.setting, first, strict=True)) if a != b)


def _widths(style: Style) -> WidthOf:
    return lambda text, role: text_width(text, style.letterings[role])


def _large(
    plan: DiagramPlan, style: Style, title: str, state: ShownSetting = AT_REST, coded: bool = True
) -> Drawing:
    for measures in (LARGE, CLOSE, SMALL) if coded else (CLOSE, SMALL):
        figure = plan_to_figure(plan, measures, _widths(style))
        if figure.width <= _room(style):
            break
    return figure_to_drawing(figure, measures, state, title)


def _miniature(figure: Figure, state: ShownSetting, words: str) -> Drawing:
    return figure_to_drawing(figure, SMALL, state, words)


def drawn_terminals(schematic: Schematic) -> frozenset[Terminal]:
    """The terminals of accessories that a diagram shows or passes."""
    pins = [pin for symbol in schematic.symbols for pin in symbol.pins]
    pins += [rail.terminal for rail in schematic.rails]
    for wire in schematic.wires:
        pins += [*wire.ends, *(end for _, a, b in wire.cores for end in (a, b))]
    return frozenset(map(outer, pins))


def state_of(circuit: Circuit, group: Group, row: Row, drawn: frozenset[Terminal]) -> ShownSetting:
    """What a miniature of a setting shows, of the terminals that are drawn."""
    at = circuit.conditions_in(group, row)
    steps = flow_of(circuit, group, row).steps().values()
    return ShownSetting(
        setting=dict(zip(group.switches, row.setting, strict=True)),
        live=frozenset(terminal for terminal in drawn if terminal in at and at[terminal].live),
        flow={step.name: step.start for step in steps if step.kind == "core"},
        carrying=frozenset(t for step in steps if step.kind != "core" for t in (step.start, step.end)),
        lit={name: lamp.state.value for name, lamp in zip(group.lamps, row.lamps, strict=True)},
        shown=True,
    )
