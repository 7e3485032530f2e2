"""The tests in their order with what each should read, the limits, and blank boxes for what was measured."""

from __future__ import annotations

from sheetgen.model.page import Block, Cell, Columns, Form, Heading, Items, Page, Table, Words
from sheetgen.model.reckoning import Limit, PointFigures, Setting
from sheetgen.model.words import CAUTION, NOT_GIVEN, joined, ohms, plain, volts
from sheetgen.pages.isolating import steps
from sheetgen.pages.lacking import asked_for
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import harmed_by_test
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.readings import readings

FORM = Form(("Instruments, with serial numbers", "Ze measured, \N{OHM SIGN}", "Date", "Tested by", "Signature"),
            (3.0, 1.1, 1.2, 2.0, 2.0))
OPEN = "\N{EN DASH}"


def compose(look: Lookup) -> tuple[Page, ...]:
    """The order of tests, the figures of every way and point, the readings at every terminal."""
    explained, tables = readings(look)
    parts = [_first(look), *_second(look), *([explained] if explained else [])]
    order: tuple[Block, ...] = (Words(CAUTION, "caution", "Caution."), FORM, Columns(tuple(parts)))
    return (Page("tests", "Tests", (*order, *_points(look), *tables), follows=True),)


def _first(look: Lookup) -> tuple[Block, ...]:
    harmed = joined(harmed_by_test(look.wiring.accessories))
    return (
        Heading("Safe isolation", 2),
        Items(steps(look), numbered=True),
        Heading("Dead tests, in this order", 2),
        Items((
            "Continuity of the cpc to every point: R1+R2, or R2 with a long lead. Line and neutral likewise.",
            f"Insulation, all lamps out{f', {harmed} disconnected' if harmed else ''}, in each setting of the table: "
            "500 V d.c., at least 1.0 M\N{OHM SIGN} (BS 7671 Table 64). Where electronics cannot be disconnected: line "
            "and neutral joined, to earth, at 250 V d.c. (643.3.3).",
            "Polarity: switches and devices in the line only; line on the centre contact of Edison screw lampholders.",
        ), numbered=True),
        Heading("Live tests, when every dead test is good", 2),
        Items((
            "Ze, then Zs at every point; RCD at its rated current, within 300 ms for the general type.",
            "Function: every switch in every position, against the state tables.",
        ), numbered=True),
    )


def _second(look: Lookup) -> list[tuple[Block, ...]]:
    return [
        (Heading("Insulation", 2), *_insulation(look)),
        (Heading("Circuits at the board", 2), _ways(look)),
        *([(Heading("Volt drop at each lamp, in its worst setting", 2), _drops(look))] if look.figures.drops else []),
    ]


def _insulation(look: Lookup) -> list[Block]:
    plan = look.figures.insulation
    settings = plan.settings or ((),)
    rows = tuple((_set_dead(look, s) or "as it is", "", "") for s in settings)
    blocks: list[Block] = [Table(("Switches at", "L and N to E, M\N{OHM SIGN}", "L to N, M\N{OHM SIGN}"), rows,
                                 (2.6, 1.1, 1.0), boxes=(1, 2))]
    few = "The fewest settings" if plan.proven else "Settings"
    if any(not look.circuit.switches[name][1].by_hand for s in settings for name, _ in s):
        blocks.append(Words("Take every link out again before the way is switched on.", "caution", "Links."))
    blocks.append(Words(f"{few} in which conductors and contacts join every core to line or neutral.", "quiet"))
    if plan.uncovered:
        cores = joined(str(look.cores[key]) for key in plan.uncovered)
        blocks.append(Words(f"{cores}. Test each of these by itself.", lead="Except"))
    return blocks


def _set_dead(look: Lookup, setting: Setting) -> str:
    """A setting as hands make it with the way off: what a sensor or a relay would join is linked instead."""
    said = []
    for name, position in setting:
        accessory, switch = look.circuit.switches[name]
        if switch.by_hand:
            said.append(f"{look.switches[name]} {look.position(name, position)}")
            continue
        joins = next(p.joins for p in switch.positions if p.name == position)
        said += [f"link {look.label(accessory.terminal(a))} and {look.label(accessory.terminal(b))} at {accessory.name}"
                 for a, b in joins if not any(accessory.kind.terminal(t).inner for t in (a, b))]
    return ", ".join(said)


def _setting(look: Lookup, setting: Setting) -> str:
    return ", ".join(f"{look.switches[switch]} {look.position(switch, position)}" for switch, position in setting)


def _ways(look: Lookup) -> Table:
    rows = []
    for figures, way in zip(look.figures.ways, look.wiring.board.ways, strict=True):
        limits = [ohms(figures.limit.table), ohms(figures.limit.measured)] if figures.limit else [NOT_GIVEN] * 2
        rcd = f"{plain(way.rcd)} mA" if way.rcd is not None else NOT_GIVEN
        rows.append((way.number, str(way.device or NOT_GIVEN), *limits, rcd, "", ""))
    return Table(("Way", "Device", "Zs, table", "80 per cent", "RCD", "RCD, ms", "Polarity"), tuple(rows), boxes=(5, 6))


def _drops(look: Lookup) -> Table:
    rows = tuple(
        (look.loads[drop.lamp], _setting(look, drop.setting) or OPEN, volts(drop.volts), volts(drop.limit))
        for drop in look.figures.drops
    )
    return Table(("Lamp", "Switches at", "Volt drop", "At most"), rows)


def _points(look: Lookup) -> list[Block]:
    """Continuity and loop impedance at every point, and what the figures lack."""
    figures = look.figures
    if not figures.points:
        return []
    head = ("Point", "Way", "Line at", "Switches at", "R1+R2", "Read", "Rn+R2", "Read", "Zs", "At most", "Read")
    limits = {f.way: f.limit for f in figures.ways}
    rows = tuple(_point(look, point, limits[point.way]) for point in figures.points)
    note = ("At 20 \N{DEGREE SIGN}C from the lengths given, without the resistance of contacts. Zs is Ze + R1+R2 with "
            "cold conductors; at most: 80 per cent of the table.")
    asked = asked_for((*figures.points, *figures.drops, *figures.ways))
    return [Heading("Every point", 2), Table(head, rows, boxes=(5, 7, 10)), Words(note, "quiet"), *asked]


def _point(look: Lookup, point: PointFigures, limit: Limit | None) -> tuple[Cell, ...]:
    return (
        point.accessory, look.way_number(point.way), look.label(point.line) if point.line else OPEN,
        _set_dead(look, point.setting) or OPEN, ohms(point.r1_r2), "", ohms(point.rn_r2) if point.neutral else OPEN, "",
        ohms(point.zs), ohms(limit.measured if limit else None), "",
    )


ENTRY = PageKind("tests", "the tests in order, what each should read, boxes for what was measured", compose)
