"""The tests in their order with what each should read, the limits, and blank boxes for what was measured."""

from __future__ import annotations

from sheetgen.model.page import Block, Cell, Columns, Form, Heading, Items, Page, SideBySide, Table, Words
from sheetgen.model.reckoning import Limit, PointFigures, Setting
from sheetgen.model.wiring import Told, Way
from sheetgen.model.words import CAUTION, CAUTION_SHORT, joined, ohms, plain, volts
from sheetgen.pages.isolating import steps
from sheetgen.pages.lacking import asked_for
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import harmed_by_test
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.readings import readings

FORM = Form(("Instruments, serial numbers", "Ze, \N{OHM SIGN}", "Date", "Tested by", "Signature"),
            (3.0, 1.1, 1.2, 2.0, 2.0))
OPEN = "\N{EN DASH}"
FAR = 0.5  # of the volt drop allowed: below it one sentence tells enough
ON_THE_CARD = "The steps of safe isolation are on the card."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """The order of tests, the figures of every way and point, the readings at every terminal."""
    explained, tables = readings(lookup)
    parts = [*_isolation(lookup), *_first(lookup), *_second(lookup), *([explained] if explained else []),
             *_points(lookup)]
    caution = f"{CAUTION_SHORT} {ON_THE_CARD}" if "card" in lookup.kinds else CAUTION
    head = SideBySide(((Words(caution, "caution", "Caution."),), (FORM,)), (1.0, 1.3))
    return (Page("tests", "Tests", (head, Columns((*parts, *tables), loose=True)), follows=True),)


def _isolation(lookup: Lookup) -> list[tuple[Block, ...]]:
    """The steps, where the card is not in the set."""
    return [] if "card" in lookup.kinds else [(Heading("Safe isolation", 2), Items(steps(lookup), numbered=True))]


def _first(lookup: Lookup) -> list[tuple[Block, ...]]:
    rcd = any(way.rcd_told is not Told.NONE for way in lookup.wiring.board.ways)
    harmed = joined(harmed_by_test(lookup.wiring.accessories))
    return [(
        Heading("Dead tests, in this order", 2),
        Items((
            "Continuity of the cpc to every point: R1+R2, or R2 with a wander lead. Line and neutral likewise.",
            f"Insulation, all lamps out{f', {harmed} disconnected' if harmed else ''}, in each setting below, which "
            "reach every core: 500 V d.c., at least 1.0 M\N{OHM SIGN} (BS 7671 Table 64). Where electronics cannot "
            "be disconnected: line and neutral joined, to earth, at 250 V d.c. (643.3.3).",
            "Polarity: switches and devices in the line only; line on the centre contact of Edison screw lampholders.",
        ), numbered=True),
    ), (
        Heading("Live tests, when every dead test is good", 2),
        Items((
            f"Ze, then Zs at every point{'; RCD at its rated current, within 300 ms for the general type' * rcd}.",
            "Function: every switch in every position, against the operation sheet.",
        ), numbered=True),
    )]


def _second(lookup: Lookup) -> list[tuple[Block, ...]]:
    return [
        (Heading("Insulation", 2), *_insulation(lookup)),
        (Heading("Circuits at the board", 2), _ways(lookup), *([_drops(lookup)] if lookup.figures.drops else [])),
    ]


def _insulation(lookup: Lookup) -> list[Block]:
    plan = lookup.figures.insulation
    settings = plan.settings or ((),)
    rows = tuple((_set_dead(lookup, s) or "as it is", "", "") for s in settings)
    blocks: list[Block] = [Table(("Switches at", "L and N to E, M\N{OHM SIGN}", "L to N, M\N{OHM SIGN}"), rows,
                                 (2.6, 1.1, 1.0), boxes=(1, 2))]
    if any(_linked(lookup, *put) for s in settings for put in s):
        blocks.append(Words("Take every link out again before the circuit is switched on.", "caution", "Links."))
    if plan.uncovered:
        cores = joined(str(lookup.cores[key]) for key in plan.uncovered)
        blocks.append(Words(f"{cores}. Test each of these by itself.", lead="Except"))
    return blocks


def _set_dead(lookup: Lookup, setting: Setting) -> str:
    """A setting as hands make it with the way off: what a sensor or a relay would join is linked instead."""
    said = []
    for name, position in setting:
        by_hand = lookup.circuit.switches[name][1].by_hand
        said += [_standing(lookup, name, position)] if by_hand else _linked(lookup, name, position)
    return ", ".join(said)


def _linked(lookup: Lookup, name: str, position: str) -> list[str]:
    """The links that stand for a position of what no hand works; none where an end is out of reach."""
    accessory, switch = lookup.circuit.switches[name]
    if switch.by_hand:
        return []
    joins = next(p.joins for p in switch.positions if p.name == position)
    ends = [(lookup.label(accessory.terminal(a)), lookup.label(accessory.terminal(b)))
            for a, b in joins if not any(accessory.kind.terminal(t).inner for t in (a, b))]
    return [f"link {a} and {b} at {accessory.name}" for a, b in ends]


def _standing(lookup: Lookup, name: str, position: str) -> str:
    return f"{lookup.switches[name]} {lookup.position(name, position)}"


def _setting(lookup: Lookup, setting: Setting) -> str:
    return ", ".join(_standing(lookup, switch, position) for switch, position in setting)


def _ways(lookup: Lookup) -> Table:
    rows: list[tuple[Cell, ...]] = []
    for figures, way in zip(lookup.figures.ways, lookup.wiring.board.ways, strict=True):
        limits = _limits(lookup, way, figures.limit) if figures.limit else ("", "")
        rcd = "none" if way.rcd_told is Told.NONE else f"{plain(way.rcd)} mA" if way.rcd is not None else ""
        rows.append((way.number, str(way.device or ""), *limits, rcd, OPEN if way.rcd_told is Told.NONE else "", ""))
    lacking = tuple(i for i in range(5) if any(row[i] == "" for row in rows))
    return Table(("Circuit", "Device", "Zs, table", "80 per cent", "RCD", "RCD, ms", "Polarity"), tuple(rows),
                 boxes=(*lacking, 5, 6))


def _limits(lookup: Lookup, way: Way, limit: Limit) -> tuple[str, str]:
    """What the table allows and 80 per cent of it; where the RCD has to open 50 V over its current, whole."""
    if way.rcd is not None and lookup.wiring.board.opens_by_rcd(way):
        return f"{ohms(limit.table)}: 50 V / {plain(way.rcd)} mA", OPEN
    return ohms(limit.table), ohms(limit.measured)


def _drops(lookup: Lookup) -> Block:
    """The greatest, where every one is far from its limit; else a row for each lamp."""
    drops = [d for d in lookup.figures.drops if d.volts is not None]
    worst = max(drops, key=lambda d: (d.volts or 0.0) / float(d.limit), default=None)
    if worst is None:
        return Words("lengths are missing, so it cannot be worked out.", lead="Volt drop:")
    if (worst.volts or 0.0) < FAR * worst.limit:
        where = _setting(lookup, worst.setting)
        says = f"{volts(worst.volts)} at {lookup.loads[worst.lamp]}{f' with {where}' if where else ''}"
        others = "" if len(drops) == 1 else ", the most of any lamp"
        return Words(f"{says}{others}; at most {volts(worst.limit)} is allowed.", lead="Volt drop:")
    rows = tuple((lookup.loads[d.lamp], _setting(lookup, d.setting) or OPEN, volts(d.volts), volts(d.limit))
                 for d in drops)
    lamps = all(d.lamp in lookup.circuit.lamp_names for d in drops)
    return Table(("Lamp" if lamps else "Load", "Switches at", "Volt drop", "At most"), rows)


def _points(lookup: Lookup) -> list[tuple[Block, ...]]:
    """Continuity and loop impedance at every point, and what the figures lack."""
    figures = lookup.figures
    if not figures.points:
        return []
    rows = tuple(_point(lookup, point) for point in figures.points)
    opens = [lookup.wiring.board.opens_by_rcd(way) for way in lookup.wiring.board.ways]
    limits = (("80 per cent of the table", not all(opens)),
              ("50 V over the rated current of the RCD, which has to open on a TT supply", any(opens)))
    limit = joined((says for says, so in limits if so), "or")
    reckoned = any(x is not None for point in figures.points for x in (point.r1_r2, point.rn_r2, point.zs))
    expected = "Expected at 20 \N{DEGREE SIGN}C from the lengths given, with room for what was read. "
    note = f"{expected * reckoned}Zs is Ze + R1+R2; compare it with {limit}."
    asked = asked_for((*figures.points, *figures.drops, *figures.ways))
    head = ("Point", "Circuit", "Line at", "Switches at", "R1+R2", "Rn+R2", "Zs")
    table = Table(head, rows, (2.0, 0.6, 1.1, 3.2, 1.7, 1.7, 1.7), boxes=(4, 5, 6))
    return [(Heading("Every point", 2), table, Words(note, "quiet"), *asked)]


def _point(lookup: Lookup, point: PointFigures) -> tuple[Cell, ...]:
    return (
        point.accessory, lookup.way_number(point.way), lookup.label(point.line) if point.line else OPEN,
        _set_dead(lookup, point.setting) or OPEN, ohms(point.r1_r2), ohms(point.rn_r2) if point.neutral else OPEN,
        ohms(point.zs),
    )


ENTRY = PageKind("tests", "the tests in order, what each should read, boxes for what was measured", compose)
