"""The card for the consumer unit: on one half the chart of the circuits, on the other what to know before working.

The chart says what BS 7671 514.9.1 asks for (from a secondary source): points served, number and size of conductors,
type of wiring, method of fault protection, what each device is and where, and what a test could harm.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from sheetgen.circuit.feeds import fed_by
from sheetgen.circuit.stays_live import stays_live
from sheetgen.judge.isolation import UNLESS_BOTH
from sheetgen.model.accessory import Accessory, LoadKind
from sheetgen.model.finding_out import Sight
from sheetgen.model.page import Block, Heading, Items, Page, Spare, Table, Turn, Words
from sheetgen.model.reading import Gravity, Role, each
from sheetgen.model.wiring import Cable, Report, Told, Way
from sheetgen.model.words import BLANK, CAUTION, cable_words, capital, count, joined, plain
from sheetgen.pages.findings import none_noticed, summary
from sheetgen.pages.isolating import parting, steps
from sheetgen.pages.lookup import Lookup
from sheetgen.pages.notices import harmed_by_test, notices
from sheetgen.pages.page_kind import PageKind
from sheetgen.pages.seen import stopped
from sheetgen.pages.small_drawing import small_drawing

MOST_LIVE = 10  # rows of what stays live
DASH = "\N{EN DASH}"
LABEL_SHARES = (1.0, 3.4)
LIVE_MEANS = (
    "Always: whatever the switches do. In some positions: of switches, sensors and timers, with every lamp switched "
    "off; a dark lamp may only be burnt out. Not listed: live only with a lamp on, or never. The board is live "
    "throughout."
)
TREATED = " With (?): not known, to be treated as live."
MOST_SEEN = 4  # sights that the card names; of more it says where they stand
AS_DRAWN = "The circuit is shown as it is drawn: where that differs, something is wrong."
TRIPS = "Leave it off: it trips. Test its insulation before it is switched on again."
ALTERED = Table(("Date", "What was altered", "By"), (("", "", ""),) * 3, (1.0, 4.0, 1.4), boxes=(0, 1, 2))


def compose(lookup: Lookup) -> tuple[Page, ...]:
    """Always: a chart can be kept even where there is little to say."""
    chart = Page("card", "Circuit chart", (*_before_work(lookup), Turn(), *_chart(lookup)), frame="card")
    return (chart, *small_drawing(lookup))


def _chart(lookup: Lookup) -> list[Block]:
    blocks: list[Block] = []
    board = lookup.wiring.board
    said = (f"{plain(board.voltage)} V", f"earthing {board.earthing or BLANK}",
            f"Ze {plain(board.ze)} \N{OHM SIGN}" if board.ze is not None else "")
    where = f"{board.where}. " if board.where else ""
    blocks.append(Words(f"{where}{', '.join(filter(None, said))}.", lead=f"{board.name}:"))
    blocks += _report(lookup.wiring.report)
    for way in board.ways:
        blocks += [Heading(_title(way), 2), Table(("", ""), _facts(lookup, way), LABEL_SHARES, plain=True)]
    blocks += _apart(lookup)
    if lookup.job.wiring.notes:
        blocks += [Heading("Notes", 3), Items(lookup.job.wiring.notes)]
    return blocks


def _report(report: Report) -> list[Block]:
    """What a landlord files the sheet by: the last report on the installation, and when the next one is due."""
    number_and_date = ", ".join(filter(None, (report.number, report.date)))
    said = (f"{number_and_date}." if number_and_date else "",
            f"Next inspection due {report.next_due}." if report.next_due else "")
    text = " ".join(filter(None, said))
    return [Words(text, lead="Last inspection report:" if number_and_date else "Inspection:")] if text else []


def _apart(lookup: Lookup) -> list[Block]:
    """Cables with an end that nobody has found; others on the chart of no way: those that may be live, for what nobody
    knows is never called reached by none, and those that no circuit reaches."""
    untraced = [c.name for c in lookup.wiring.cables if any(end.unknown for core in c.cores for end in core.ends)]
    apart = [c for c in lookup.of_no_way() if c.name not in untraced]
    unfed = [c.name for c in apart if any(map(lookup.not_traced, c.cores))]
    unreached = [c.name for c in apart if c.name not in unfed]
    blocks: list[Block] = []
    if untraced:
        blocks.append(Words(f"{joined(untraced)}.", "strong", "Cables not traced yet, treat as live:"))
    if unfed:
        blocks.append(Words(f"{joined(unfed)}.", "strong", "Cables whose feed is not known, treat as live:"))
    if unreached:
        blocks.append(Words(f"{joined(unreached)}.", "quiet", "Cables that no circuit reaches:"))
    return blocks


def _title(way: Way) -> str:
    name = f"Circuit {way.number or BLANK}"
    return f"{name}: {way.serves}" if way.serves else name


def _facts(lookup: Lookup, way: Way) -> tuple[tuple[Words, str], ...]:
    accessories = lookup.reached_by(way)
    lamps, others = _loads(lookup, way)
    facts = {
        "Device": _device(lookup, way),
        "Isolate by": _isolate_by(lookup, way),
        "Lights": lamps,
        "Other loads": others,
        "Switches": _switches(lookup, way),
        "Method": _method(lookup, way),
        "Conductors": conductors(lookup, way),
        "Wiring": _wiring_type([c for c in lookup.cables_of(way) if not c.link]),
        "Fault protection": _fault_protection(lookup, way),
        "Care when testing": joined(harmed_by_test(accessories)) or "none recorded; take lamps out first",
    }
    return tuple((Words(label, "strong"), text) for label, text in facts.items() if text)


def _isolate_by(lookup: Lookup, way: Way) -> str:
    """What the user says isolates it, else every way to isolate for work anywhere on it, and where it is not enough."""
    isolation = lookup.job.reading.isolation
    if way.isolated_by:
        stop = "" if way.isolated_by.endswith(".") else "."
        return f"{way.isolated_by}{stop} {UNLESS_BOTH}" if isolation.first else way.isolated_by
    met = isolation.meets[way.accessory]
    why = f" They meet at {joined(met)}." if met else ""
    return " ".join(parting(lookup, isolation.with_way[way.accessory])) + why


def _device(lookup: Lookup, way: Way) -> str:
    device = str(way.device or ("no device" if way.device_told is Told.NONE else BLANK))
    told = "no RCD" if way.rcd_told is Told.NONE else f"RCD {BLANK}"
    rcd = f"RCD {plain(way.rcd)} mA" if way.rcd is not None else told
    return f"{device}, {rcd}{', off when this was written' if way.off else ''}"


def _loads(lookup: Lookup, way: Way) -> tuple[str, str]:
    """The lamps that the way's line feeds, each a point, and those that only return their neutral to it; what else."""
    fed = fed_by(lookup.circuit, way)
    lamps = [(a, load) for a, load in fed if load.what == "lamp"]
    others = [(a, load) for a, load in fed if load.what != "lamp"]
    total = sum((load.watts for _, load in lamps), Fraction(0))
    says = _none(lookup, [lookup.loads[name] for name, _, load in lookup.wiring.loads() if load.what == "lamp"])
    if lamps:
        says = f"{_named(lookup, lamps)}; {count(len(lamps), 'point')}, {plain(total)} W together"
    dead = lookup.without_line(way)
    if unfed := [(a, load) for a, load in dead if load.what == "lamp"]:
        says = f"{f'{says}; ' if lamps else ''}{_unfed(lookup, unfed)}"
    returning = lookup.returning_to(way)
    says += f"; only the neutral of {joined(returning)}" if returning else ""
    other = [_named(lookup, others), _unfed(lookup, [(a, load) for a, load in dead if load.what != "lamp"])]
    return says, "; ".join(filter(None, other))


def _unfed(lookup: Lookup, loads: list[tuple[Accessory, LoadKind]]) -> str:
    them = "it" if len(loads) == 1 else "them"
    return f"{_named(lookup, loads)}: no line reaches {them}" if loads else ""


def _named(lookup: Lookup, loads: list[tuple[Accessory, LoadKind]]) -> str:
    return joined(f"{lookup.loads[a.load_name(load)]} ({plain(load.watts)} W{' assumed' if load.assumed else ''})"
                  for a, load in loads)


def _method(lookup: Lookup, way: Way) -> str:
    """The sentences of the way's circuits; what several begin with is said once, then which lamp is which."""
    circuits = [c for c in lookup.job.reading.circuits if way.accessory in c.ways and c.method]
    begins: dict[str, dict[str, list[str]]] = {}
    for circuit in circuits:
        beginning, _, rest = circuit.method.rstrip(".").partition("; ")
        lamps = begins.setdefault(beginning, {}).setdefault(rest, [])
        lamps += [lookup.loads[name] for name in circuit.lamps]
    return " ".join(_said_once(beginning, rests, len(begins) > 1) for beginning, rests in begins.items())


def _said_once(beginning: str, rests: dict[str, list[str]], several: bool) -> str:
    """`several`: other lamps of the way are wired otherwise, so that these are named."""
    if len(rests) == 1:
        ((rest, lamps),) = rests.items()
        said = "; ".join(filter(None, (beginning, rest))) + "."
        named = several and lamps and not said.startswith(tuple(map(capital, lamps)))
        mark = "," if ": " in said else ":"
        return f"{capital(joined(lamps))}{mark} {said[:1].lower()}{said[1:]}" if named else said
    return f"{beginning}: {'; '.join(f'{joined(lamps)} {rest}'.strip() for rest, lamps in rests.items())}."


def _switches(lookup: Lookup, way: Way) -> str:
    """The switches that the way's line reaches, and those in the neutral of its lamps."""
    of_neutral = {f.accessory for f in each(lookup.job.reading.findings) if f.rule == "switched_neutral"} & {
        lookup.circuit.switches[name][0].name for group in lookup.job.solution.groups for name in group.switches
        if any(way.accessory in lamp.ways for row in group.rows for lamp in row.lamps)}
    found = [
        lookup.switches[name] for name, a, switch in lookup.wiring.switches()
        if a.name in of_neutral
        or lookup.line_from(way, *(a.terminal(t) for p in switch.positions for pair in p.joins for t in pair))
    ]
    return joined(found) or _none(lookup, [lookup.switches[name] for name, *_ in lookup.wiring.switches()])


def _none(lookup: Lookup, on_sheet: Sequence[str] = ()) -> str:
    """What is said where nothing was found: none, where every core end was seen.

    Else, of the only circuit, which of those on the sheet it may be that are not traced yet.
    """
    if lookup.wiring.all_seen:
        return "none"
    if len(lookup.wiring.board.ways) == 1 and on_sheet:
        return f"not traced yet: {joined(on_sheet)}"
    return "none known; some core ends are not known"


def conductors(lookup: Lookup, way: Way) -> str:
    """Every cable, the fixed wiring before the flex: '3 \N{MULTIPLICATION SIGN} twin and earth 1.0 mm²'.

    One that two circuits share is counted with the first of them on the board, and named with the other.
    """
    counted: dict[tuple[bool, str], list[bool]] = {}
    shared = _counted_before(lookup, way)
    for cable in lookup.cables_of(way):
        if any(cable.name in names for names in shared.values()):
            continue
        cpc = all(core.cpc or lookup.job.reading.roles.get(core.key) is Role.CPC for core in cable.cores)
        counted.setdefault((cable.flex, cable_words(cable)), []).append(cpc)
    ordered = sorted(counted.items(), key=lambda item: item[0][0])
    said = (f"{len(cpcs)} \N{MULTIPLICATION SIGN} {words}{_of_them(cpcs)}" for (_, words), cpcs in ordered)
    with_others = (f"counted with {circuit}: {joined(names)}" for circuit, names in shared.items())
    return "; ".join((*said, *with_others)) or _none(lookup)


def _counted_before(lookup: Lookup, way: Way) -> dict[str, list[str]]:
    """The circuits before this one on the board with which some of its cables are counted, and those cables."""
    mine = [cable.name for cable in lookup.cables_of(way)]
    found: dict[str, list[str]] = {}
    ways = lookup.wiring.board.ways
    for other in ways[:ways.index(way)]:
        theirs = {cable.name for cable in lookup.cables_of(other)}
        told = {name for names in found.values() for name in names}
        if names := [name for name in mine if name in theirs - told]:
            found[other.printed] = names
    return found


def _of_them(cpcs: list[bool]) -> str:
    """How many of some cables are cpcs by themselves."""
    return f" ({'all' if all(cpcs) else sum(cpcs)} of them cpc)" if any(cpcs) else ""


def _wiring_type(cables: list[Cable]) -> str:
    fixed = [c for c in cables if not c.flex]
    kinds = {
        "sheathed cable": any(c.sheath == "sheathed" and not c.run_in for c in fixed),
        "unsheathed singles, not enclosed": any(c.sheath == "unsheathed" and not c.run_in for c in fixed),
    }
    runs = dict.fromkeys(f"in {c.run_in}" for c in fixed if c.run_in)
    words = [kind for kind, found in kinds.items() if found] + list(runs)
    words += ["flex to the lamps"] if any(c.flex for c in cables) else []
    return joined(words)


def _fault_protection(lookup: Lookup, way: Way) -> str:
    """Automatic disconnection, where everything it rests on is given."""
    earthing = lookup.wiring.board.earthing
    needed = {"the earthing of the supply": earthing, "the device": way.device}
    missing = [what for what, given in needed.items() if not given]
    if earthing == "TT" and way.rcd_told is Told.NONE:
        return "no RCD, and a TT supply needs one to disconnect"
    if earthing == "TT" and way.rcd is None:
        missing.append("an RCD, which a TT supply needs to disconnect")
    if missing:
        return f"cannot be said without {joined(missing)}"
    reached = {a.name for a in lookup.reached_by(way)}
    bare = [name for name in lookup.job.reading.without_cpc if name in reached]
    says = f"automatic disconnection of supply (ADS), {earthing}"
    return says + (f"; but no earthed cpc at {joined(bare)}" if bare else "")


def _still_live(lookup: Lookup) -> list[Block]:
    """A row for each accessory; in a large house accessories with the same terminals live share one."""
    rows: dict[tuple[str, str, str], list[str]] = {}
    live = stays_live(lookup.circuit)
    for found in live:
        apart = found.accessory.name if len(live) <= MOST_LIVE else ""
        rows.setdefault((apart, ", ".join(found.always), ", ".join(found.sometimes)), []).append(found.accessory.name)
    if not rows:
        return []
    cells = tuple((", ".join(names), always or DASH, some or DASH) for (_, always, some), names in rows.items())
    table = Table(("At", "Always", "In some positions"), cells, (1.6, 1.3, 1.5))
    means = LIVE_MEANS if lookup.wiring.all_seen else LIVE_MEANS + TREATED
    return [Heading("Still live when every lamp is off", 3), table, Words(means, "quiet")]


def _seen(lookup: Lookup) -> list[Block]:
    """What somebody saw that the drawing does not show, in danger's own type where it trips."""
    seen = lookup.wiring.seen
    if not seen:
        return []
    told = dict.fromkeys(stopped(found.says) for found in seen)
    says = " ".join(told) if len(told) <= MOST_SEEN or "seen" not in lookup.kinds else "see the page of that name."
    trips = any(found.sight is Sight.TRIPS for found in seen)
    drawn = f" {AS_DRAWN}" if lookup.wiring.all_seen else ""
    return [Words(f"{says}{f' {TRIPS}' if trips else ''}{drawn}", "danger" if trips else "strong", "What was seen:")]


def _before_work(lookup: Lookup) -> list[Block]:
    blocks: list[Block] = [Heading("Before you work on this", 2)]
    blocks += notices(lookup)
    noticed = summary(lookup.job.reading.findings)
    said = f"{noticed}; see the findings." if noticed else none_noticed(lookup)
    blocks += _seen(lookup)
    blocks.append(Words(said, lead="Noticed:"))
    dangers = [f for f in lookup.job.reading.findings if f.gravity is Gravity.DANGER]
    blocks += [Words(f"{f.says} {f.means}".strip(), "danger", "Danger.") for f in dangers]
    blocks += _still_live(lookup)
    blocks += [Heading("Safe isolation", 3), Items(steps(lookup), numbered=True)]
    return [*blocks, Words(CAUTION, "caution", "Caution."), Spare((Heading("Altered since", 3), ALTERED))]


ENTRY = PageKind("card", "a card to fold into the consumer unit: the chart of the circuits, what stays live", compose)
