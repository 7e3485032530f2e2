"""The tests in their order with what each should read, the limits, and blank boxes for what was measured."""

from __future__ import annotations

from collections.abc import Sequence

from sheetgen.circuit.outages import when
from sheetgen.circuit.shorts import always_in_short, always_joined, joining, shorting
from sheetgen.circuit.triggers import never_triggers
from sheetgen.model.page import Block, Cell, Columns, Form, Heading, Items, Page, SideBySide, Table, Words
from sheetgen.model.reading import Gravity
from sheetgen.model.reckoning import DropFigures, Limit, PointFigures, Setting
from sheetgen.model.wiring import Told, Way
from sheetgen.model.words import BLANK, CAUTION, CAUTION_SHORT, ZE, capital, joined, ohms, plain, volts
from sheetgen.pages.isolating import steps
from sheetgen.pages.lacking import asked_for
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import harmed_by_test
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.readings import SHORT, readings

FORM = Form(("Instruments, serial numbers", "Ze, \N{OHM SIGN}", "Date", "Tested by", "Signature"),
            (3.0, 1.1, 1.2, 2.0, 2.0))
OPEN = "\N{EN DASH}"
FAR = 0.5  # of the volt drop allowed: below it one sentence tells enough
BETWEEN = ("L and N of one joined, to L and N of the other joined, lamps out, in each setting above; the neutrals of "
           "both off their bar. Write down the lowest reading: at least 1.0 M\N{OHM SIGN}.")
FUNCTION = "Function: every switch in every position, against the operation sheet."
FUNCTION_AS_FOUND = ("Function: every switch in every position; the operation sheet shows the circuit {}, with its "
                     "faults.")
POINTS_AS_FOUND = "{}, with its faults: make the sheet anew when it is put right."
CPC_ALONE = ("Continuity of the cpc to every accessory, with a wander lead: R2. R1+R2, and line and neutral likewise, "
             "when every core end is found.")
WRITE_DOWN = "Function: every switch in every position; write down what it works."
ONE_CORE = "Test it by itself, to earth and to every other core."
EACH_CORE = "Test each of these by itself, to earth and to every other core."
TOGETHER_ALONE = "They are joined: test them together, to earth and to every other core."
TOGETHER = ("Those named with one another are joined: test them together, and all others each by itself, to earth and "
            "to every core that is not joined to them.")
NO_SWITCH, EACH_IN_TURN = "no switch to set", "every switch in each position"
ON_PAGE_1 = "The steps of safe isolation are on page 1."


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """The order of tests, the figures of every way and point, the readings at every terminal."""
    explained, tables = readings(lookup)
    parts = [*_isolation(lookup), *_first(lookup), *_second(lookup), *([explained] if explained else []),
             *_points(lookup)]
    caution = f"{CAUTION_SHORT} {ON_PAGE_1}" if "card" in lookup.kinds else CAUTION
    head = SideBySide(((Words(caution, "caution", "Caution."),), (FORM,)), (1.0, 1.3))
    return (Page("tests", "Tests", (head, Columns((*parts, *tables), loose=True)), follows=True),)


def _isolation(lookup: Lookup) -> list[tuple[Block, ...]]:
    """The steps, where the card is not in the set."""
    return [] if "card" in lookup.kinds else [(Heading("Safe isolation", 2), Items(steps(lookup), numbered=True))]


def _first(lookup: Lookup) -> list[tuple[Block, ...]]:
    rcd = any(way.rcd_told is not Told.NONE for way in lookup.wiring.board.ways)
    harmed = joined(harmed_by_test(lookup.wiring.accessories))
    points = lookup.figures.points
    earthed = [p for p in points if not _bare(lookup, p)]
    reached = "every core but those named there" if lookup.figures.insulation.uncovered else "every core"
    untraced = not points and not lookup.wiring.all_seen  # the way to no point is known yet
    every = ("every point that has one" if len(earthed) < len(points) else
             "every point" if lookup.wiring.all_seen else "every point listed")
    cpcs = CPC_ALONE if untraced else (
        f"Continuity of the cpc to {every}: R1+R2, or R2 with a wander lead. Line and neutral likewise.")
    zs = "Zs at every point" if untraced else f"Zs at {every.replace('has one', 'has a cpc')}"
    then = (*([zs] if earthed or not points else []),
            *(["RCD at its rated current, within 300 ms for the general type"] if rcd else []))
    danger = any(f.gravity is Gravity.DANGER for f in lookup.job.reading.findings)
    first = [*(["every danger in the findings is put right"] if danger else []),
             *(["every core end is known"] if lookup.wiring.unknown_ends else []), "every dead test is good"]
    return [(
        Heading("Dead tests, in this order", 2),
        Items((
            cpcs if earthed or not points else "Continuity of line and neutral to every point.",
            f"Insulation, all lamps out{f', {harmed} disconnected' if harmed else ''}, in each setting below, which "
            f"reach {reached}: 500 V d.c., at least 1.0 M\N{OHM SIGN} (BS 7671 Table 64). Where electronics cannot "
            "be disconnected: line and neutral joined, to earth, at 250 V d.c. (643.3.3).",
            "Polarity: switches and devices in the line only; line on the centre contact of Edison screw lampholders.",
        ), numbered=True),
    ), (
        Heading(f"Live tests, when {joined(first)}", 2),
        Items((
            ZE,
            *([f"{'; '.join(then)}."] if then else []),
            WRITE_DOWN if untraced else
            FUNCTION_AS_FOUND.format(lookup.as_it_is) if lookup.job.reading.miswired else FUNCTION,
        ), numbered=True),
    )]


def _second(lookup: Lookup) -> list[tuple[Block, ...]]:
    return [
        (Heading("Insulation", 2), *_insulation(lookup)),
        (Heading("Circuits at the board", 2), _ways(lookup), *(_drops(lookup) if lookup.figures.drops else [])),
    ]


def _insulation(lookup: Lookup) -> list[Block]:
    plan = lookup.figures.insulation
    settings = plan.settings or ((),)
    unset = NO_SWITCH if lookup.wiring.all_seen else EACH_IN_TURN
    at, boxes = ("Switches at", "L and N to E, M\N{OHM SIGN}", "L to N, M\N{OHM SIGN}"), ("", "")
    if len(lookup.wiring.board.ways) > 1:
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (way.number, _set_dead(lookup, s) or unset, *boxes)
            for way in lookup.wiring.board.ways for s in plan.of_way[way.accessory] or ((),))
        blocks: list[Block] = [Table(("Circuit", *at), rows, (0.7, 2.6, 1.1, 1.0), boxes=(2, 3))]
    else:
        rows = tuple((_set_dead(lookup, s) or unset, *boxes) for s in settings)
        blocks = [Table(at, rows, (2.6, 1.1, 1.0), boxes=(1, 2))]
    blocks += _links(lookup, settings)
    blocks += _reads_short(lookup)
    if plan.uncovered:
        blocks.append(_apart(lookup, plan.uncovered))
    if plan.between:
        shared = tuple((joined(map(lookup.way_number, s.ways)), joined(s.at), "") for s in plan.between)
        head = ("Circuits", "Together in", "Lowest between them, M\N{OHM SIGN}")
        blocks += [Words(BETWEEN, lead="Between circuits that lie together:"),
                   Table(head, shared, (0.9, 3.1, 1.4), boxes=(2,)), *_joined_ways(lookup)]
    return blocks


def _joined_ways(lookup: Lookup) -> list[Block]:
    """Where the test between two circuits shows that they are joined, which is found already."""
    said = []
    for one, other in (shared.ways for shared in lookup.figures.insulation.between):
        reads = f"{lookup.circuit.way(one)} reads a short to {lookup.circuit.way(other)} until that is put right."
        if always_joined(lookup.circuit, one, other):
            said.append(f"However the switches stand {reads}")
        else:
            said += [f"With {when(lookup.circuit, o)} {reads}" for o in joining(lookup.circuit, one, other)]
    return [Words(" ".join(said), "danger", "Short.")] if said else []


def _reads_short(lookup: Lookup) -> list[Block]:
    """Where the test shows a short that is found already."""
    always = dict.fromkeys(short.rails[0].accessory for short in lookup.job.solution.shorts)
    said = [f"However the switches stand {lookup.circuit.way(way)} reads a short until that is put right."
            for way in always]
    said += [f"With {when(lookup.circuit, o)} {lookup.circuit.way(o.way)} reads a short until that is put right."
             for o in shorting(lookup.circuit) if o.way not in always]
    return [Words(" ".join(said), "danger", "Short.")] if said else []


def _apart(lookup: Lookup, uncovered: Sequence[str]) -> Words:
    """What no setting reaches, core by core; cores that conductors join are one to the tester."""
    alike: dict[object, list[str]] = {}
    for key in uncovered:
        core = lookup.cores[key]
        node = core.ends[0].node or core.ends[1].node
        alike.setdefault(lookup.job.solution.nets[node] if node else key, []).append(str(core))
    several = any(len(cores) > 1 for cores in alike.values())
    named = [f"{cores[0]} with {joined(cores[1:])}" if len(cores) > 1 else cores[0] for cores in alike.values()]
    listed = "; ".join(named) if several else joined(named)
    how = (TOGETHER if len(alike) > 1 else TOGETHER_ALONE) if several else EACH_CORE if len(alike) > 1 else ONE_CORE
    return Words(f"{listed}. {how}", lead="Except")


def _links(lookup: Lookup, settings: Sequence[Setting]) -> list[Block]:
    """A link stands for what a sensor or a dimmer joins in dead tests alone; Zs is measured without it, or not at
    all."""
    tested = [(p.accessory, put) for p in lookup.figures.points if not _bare(lookup, p)
              for put in p.setting if _linked(lookup, *put)]
    if not tested and not any(_linked(lookup, *put) for s in settings for put in s):
        return []
    alike: dict[tuple[str, str], list[str]] = {}
    for at in dict.fromkeys(at for at, _ in tested):
        alike.setdefault(_zs_without(lookup, [put for place, put in tested if place == at]), []).append(at)
    zs = [f" {before} {joined(at)} {after}" for (before, after), at in alike.items()]
    return [Words(f"take every one out again before the circuit is switched on.{''.join(zs)}", "caution", "Links:")]


def _zs_without(lookup: Lookup, puts: Sequence[tuple[str, str]]) -> tuple[str, str]:
    """How Zs is found with no link in, in words before and after those of the points."""
    by_hand = [_standing(lookup, *put) for put in puts if lookup.circuit.switches[put[0]][1].by_hand]
    others = [name for name, _ in puts if not lookup.circuit.switches[name][1].by_hand]
    if never := [name for name in others if name in never_triggers(lookup.circuit)]:
        says = joined(dict.fromkeys(lookup.switches[name] for name in never))
        return "Work Zs out at", f"as Ze + R1+R2: {says} never trigger{'s' if len(never) == 1 else ''}."
    alone = "is on by itself" if len(others) == 1 else "are on by themselves"
    so = [f"with {joined((*by_hand, 'no link'))}"] if by_hand else []
    so += [f"while {joined(lookup.switches[name] for name in others)} {alone}"] if others else []
    return "Measure Zs at", f"{' '.join(so)}, or work it out as Ze + R1+R2."


def _set_dead(lookup: Lookup, setting: Setting) -> str:
    """A setting as hands make it with the way off: what a sensor or a relay would join, or a dimmer that is taken off,
    is linked instead."""
    said = []
    for name, position in setting:
        said += (_linked(lookup, name, position) if _has_to_be_linked(lookup, name) else
                 [_standing(lookup, name, position)])
    return ", ".join(said)


def _has_to_be_linked(lookup: Lookup, name: str) -> bool:
    """No hand works it, or it is disconnected for the tests."""
    _, switch = lookup.circuit.switches[name]
    return not switch.by_hand or switch.what == "dimmer"


def _linked(lookup: Lookup, name: str, position: str) -> list[str]:
    """The links that stand for a position of such a switch; none where an end is out of reach."""
    if not _has_to_be_linked(lookup, name):
        return []
    accessory, switch = lookup.circuit.switches[name]
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
        typeless = any(m.startswith("type of ") for m in figures.missing)
        device = f"{way.device or ''}{f', type {BLANK}' if typeless else ''}"
        rows.append((way.number, device, *limits, rcd, OPEN if way.rcd_told is Told.NONE else "", ""))
    lacking = tuple(i for i in range(5) if any(row[i] == "" for row in rows))
    return Table(("Circuit", "Device", "Zs, table", "80 per cent", "RCD", "RCD, ms", "Polarity"), tuple(rows),
                 boxes=(*lacking, 5, 6))


def _limits(lookup: Lookup, way: Way, limit: Limit) -> tuple[str, str]:
    """What the table allows and 80 per cent of it; where the RCD has to open 50 V over its current, whole."""
    if way.rcd is not None and lookup.wiring.board.opens_by_rcd(way):
        return f"{ohms(limit.table)}: 50 V / {plain(way.rcd)} mA", OPEN
    return ohms(limit.table), ohms(limit.measured)


def _drops(lookup: Lookup) -> list[Block]:
    """Those near their limit, each in a row of its own where there are several; else the greatest."""
    drops = [d for d in lookup.figures.drops if d.volts is not None]
    worst = max(drops, key=_share, default=None)
    if worst is None:
        return [Words("lengths are missing, so it cannot be worked out.", lead="Volt drop:")]
    load = "lamp" if all(d.lamp in lookup.circuit.lamp_names for d in lookup.figures.drops) else "load"
    near = [d for d in lookup.figures.drops if d.volts is None or _share(d) >= FAR]
    others = f"at every other {load} less than half of what is allowed" if len(near) < len(lookup.figures.drops) else ""
    if len(near) > 1:
        rows = tuple((lookup.loads[d.lamp], _setting(lookup, d.setting) or OPEN, volts(d.volts), volts(d.limit))
                     for d in near)
        table = Table((load.capitalize(), "Switches at", "Volt drop", "At most"), rows)
        return [table, Words(f"{others}.", lead="Volt drop:")] if others else [table]
    where = _setting(lookup, worst.setting)
    says = f"{volts(worst.volts)} at {lookup.loads[worst.lamp]}{f' with {where}' if where else ''}"
    most = f", the most of any {load}" if len(drops) > 1 else ""
    said = f"{says}, where at most {volts(worst.limit)} is allowed; {others}" if near and others else (
        f"{says}{most}; at most {volts(worst.limit)} is allowed")
    return [Words(f"{said}.", lead="Volt drop:")]


def _share(drop: DropFigures) -> float:
    return (drop.volts or 0.0) / float(drop.limit)


def _points(lookup: Lookup) -> list[tuple[Block, ...]]:
    """Continuity and loop impedance at every point that a cpc reaches, and what the figures lack."""
    figures = lookup.figures
    if not figures.points:
        return []
    asked = asked_for((*figures.points, *figures.drops, *figures.ways))
    points = [point for point in figures.points if not _bare(lookup, point)]
    heading = Heading("Every point", 2, POINTS_AS_FOUND.format(capital(lookup.as_it_is))
                      if lookup.job.reading.miswired else "")
    if not points:
        return [(heading, *asked)] if asked else []
    rows = tuple(_point(lookup, point) for point in points)
    opens = [lookup.wiring.board.opens_by_rcd(way) for way in lookup.wiring.board.ways]
    limits = (("80 per cent of the table", not all(opens)),
              ("50 V over the rated current of the RCD, which has to open on a TT supply", any(opens)))
    limit = joined((says for says, so in limits if so), "or")
    reckoned = any(x is not None for point in points for x in (point.r1_r2, point.rn_r2, point.zs))
    expected = "Expected at 20 \N{DEGREE SIGN}C from the lengths given, with room for what was read. "
    note = f"{expected * reckoned}Zs is Ze + R1+R2; compare it with {limit}."
    head = ("Point", "Circuit", "Line at", "Switches at", "R1+R2", "Rn+R2", "Zs")
    table = Table(head, rows, (2.0, 0.6, 1.1, 3.2, 1.7, 1.7, 1.7), boxes=(4, 5, 6))
    return [(heading, table, Words(note, "quiet"), *asked)]


def _bare(lookup: Lookup, point: PointFigures) -> bool:
    """No cpc comes to a point: there is nothing to measure with R2 in it."""
    return point.accessory in lookup.job.reading.without_cpc


def _point(lookup: Lookup, point: PointFigures) -> tuple[Cell, ...]:
    if point.line and always_in_short(lookup.circuit, point.line):
        return point.accessory, lookup.way_number(point.way), SHORT, OPEN, "", "", ""
    return (
        point.accessory, lookup.way_number(point.way), lookup.label(point.line) if point.line else OPEN,
        _set_dead(lookup, point.setting) or OPEN, ohms(point.r1_r2), ohms(point.rn_r2) if point.neutral else OPEN,
        ohms(point.zs),
    )


ENTRY = PageKind("tests", "the tests in order, what each should read, boxes for what was measured", compose)
