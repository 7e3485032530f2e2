"""Forms to fill in by hand at the open accessory, in the order and the words of the description."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sheetgen.circuit.names import Names
from sheetgen.draw.face import face_of
from sheetgen.find.across import core_word
from sheetgen.model.accessory import Accessory, AccessoryKind, Meant
from sheetgen.model.finding_out import Sight
from sheetgen.model.page import Block, Cell, Form, Heading, Page, Picture, SideBySide, Table, Words
from sheetgen.model.wiring import Cable, Told, Wiring
from sheetgen.model.words import CAUTION_SHORT, capital, joined

CABLES, CORES = 5, 20  # rows on a form: cables; cores in each of two columns, together with the rows of the face
CORE_HEAD, CORE_SHARES = ("Cable", "Core", "Terminal", "Sleeve"), (0.8, 1.2, 1.4, 1)
SHORT = 6  # terminals of a face that leaves no room beside it for more than the cables
LAMPS, SETTINGS, WAYS = 7, 7, 7
TOLD = (Sight.WORKS, Sight.DIM, Sight.DEAD, Sight.ALWAYS)  # what stands in the words of the file
HOW = ("Photograph it before a core is moved, and write the number of the photograph here. Copy what is printed at the "
       "terminals. A connector that lies loose is a terminal too: name it by what is in it, as N joint. A core that "
       "ends in nothing: nothing. What cannot be seen: ?")
TYPED = ("In the file: {cable}: {{type: twin and earth 1.0, at: {name}, cores: {{{cores}}}{sleeved}}}. Where both ends "
         "are known: from and to, and [terminal, terminal] for each core.")
FIRST = ("Before anything is switched off or opened: work every switch, one at a time, and write down what each lamp "
         "does. It tells more than any meter.")
TYPED_FIRST = ("In the file, under seen: Landing is worked by Hall and Top; Hall L1, Top L2: Landing on; Landing dead. "
               "Under board, ways: 4: {serves: Upstairs lights, device: type B 6 A, rcd: 30 mA, off: yes}.")


@dataclass(frozen=True)
class SurveyForm:
    """One form: of an accessory that is known, or of a kind."""

    kind: AccessoryKind
    accessory: Accessory | None = None


def compose(sheets: Sequence[SurveyForm], wiring: Wiring | None = None) -> tuple[Page, ...]:
    """What the lamps did and the board, then a form for each accessory."""
    return (_first(wiring), *(_form(sheet, wiring) for sheet in sheets))


def unknown_places(wiring: Wiring) -> tuple[SurveyForm, ...]:
    """A form for every accessory that was not opened, or in which an end is not known, in the order of the file."""
    places = {end.accessory for _, end in wiring.unknown_ends}
    return tuple(SurveyForm(a.kind, a) for a in wiring.accessories if a.seen and (not a.opened or a.name in places))


def _first(wiring: Wiring | None) -> Page:
    blocks: list[Block] = [Words(CAUTION_SHORT, "caution", "Caution.")]
    if wiring is None:
        blocks.append(Form(("Job", "Place", "By", "On"), (3, 3, 2, 1.2)))
    lost = [c for c in wiring.cables if c.at_one_end] if wiring else []
    if lost:
        says = joined(f"{c.name} ({c.type}, seen at {_printed(wiring, c.ends[0])})" for c in lost)
        blocks.append(Words(f"{says}.", lead="Cables of which the other end was not found:"))
    blocks.append(Words(FIRST, "strong"))
    lamps = _lamps(wiring) if wiring else []
    blocks.append(SideBySide((
        (Heading("What works what", 3),
         _boxed(("Lamp", "Worked by", "Works? dim? dead?"), lamps, LAMPS, (1.6, 2, 1.4))),
        (Heading("How the switches stood", 3),
         _boxed(("Switches", "What was on", "Trips?"), [], SETTINGS, (2, 2, 0.8))),
    )))
    blocks += [Heading("Board", 3), Form(("Earthing", "Ze, if on record", "Where it is", "Photographs"), (1, 1, 2, 2)),
               _boxed(("Circuit", "Serves", "Device", "RCD", "Off?"), _ways(wiring), WAYS, (0.5, 3, 2, 1, 0.8)),
               Words(TYPED_FIRST, "quiet")]
    return Page("survey", "Survey: before anything is touched", tuple(blocks))


def _lamps(wiring: Wiring) -> list[tuple[Cell, ...]]:
    """Every lamp with what the file says was seen of it, whatever the switches did."""
    names = Names(wiring)
    found: list[tuple[Cell, ...]] = []
    for name, _, load in wiring.loads():
        if load.what != "lamp":
            continue
        seen = [s for s in wiring.seen if name in s.of and not s.setting]
        by = joined(dict.fromkeys(names.part(switch) for s in seen for switch in s.by))
        found.append((names.part(name), by, joined(dict.fromkeys(s.sight.value for s in seen if s.sight in TOLD))))
    return found


def _ways(wiring: Wiring | None) -> list[tuple[Cell, ...]]:
    found: list[tuple[Cell, ...]] = []
    for way in wiring.board.ways if wiring else ():
        rcd = f"{float(way.rcd):g} mA" if way.rcd is not None else "none" if way.rcd_told is Told.NONE else ""
        device = str(way.device) if way.device else "none" if way.device_told is Told.NONE else ""
        found.append((way.number, way.serves, device, rcd, "yes" if way.off else ""))
    return found


def _form(sheet: SurveyForm, wiring: Wiring | None) -> Page:
    accessory = sheet.accessory
    name = accessory.name if accessory else ""
    here = [c for c in wiring.cables if name in c.ends and not c.link] if wiring and name else []
    head: Block = Form(("Job", "Name", "Room", "Printed on it", "Photographs"), (2, 2, 1.6, 2, 1.4))
    if accessory:
        room = f", {accessory.room}" if accessory.room and accessory.room != name else ""
        head = Form((f"{name}: {sheet.kind.name}{room}. Printed on it", "Photographs"), (5, 3))
    labels = dict(accessory.labels) if accessory else {}
    cables = [(c.name, c.type + (f" {c.size.text}" if c.size else ""), _printed(wiring, _other(c, name)), "")
              for c in here]
    opened = accessory is not None and accessory.opened
    cores = [(c.name, core.label, _terminal(c, i, name, labels), _sleeve(c, i, name) if opened else "")
             for c in here for i, core in enumerate(c.cores)]
    rows = max(CORES - max(len(sheet.kind.face), 5), (len(cores) + 1) // 2)
    left, right = cores[:rows], cores[rows:]
    title = name or capital(sheet.kind.name)
    return Page("survey", f"Survey: {title}", (
        Words(CAUTION_SHORT, "caution", "Caution."), head,
        SideBySide((
            (Picture(face_of(sheet.kind, labels)),),
            (_boxed(("Cable", "Type and size, colours", "To, if known", "Length"), cables, CABLES, (0.7, 3, 2, 0.8)),
             Words(HOW), *_further(len(sheet.kind.face))),
        ), (1, 2.6)),
        SideBySide(tuple(
            (_boxed(CORE_HEAD, part, rows, CORE_SHARES),)
            for part in (left, right)
        )),
        Words(_typed(sheet.kind, labels, name, here), "quiet"),
    ))


def _typed(kind: AccessoryKind, labels: Mapping[str, str], name: str, here: Sequence[Cable]) -> str:
    """How a cable of two cores and cpc is written that ends here: on a switch its second core needs a line's sleeve."""
    cable = next((c for c in here if [core.cpc for core in c.cores] == [False, False, True]), None)
    one, two = (core_word(core) for core in cable.cores[:2]) if cable else ("red", "black")
    ports = dict(kind.ports)
    contacts = [t.name for t in kind.terminals if t.meant is Meant.CONTACT][:2]
    anything = [t.name for t in kind.terminals if t.meant is Meant.ANY and not t.inner]
    live = contacts or [ports[port] for port in ("line", "switched line") if port in ports][:1]
    live += [ports["neutral"]] if live and not contacts else anything[:2]
    earth = [ports["earth"]] if "earth" in ports else anything[2:3]
    terminals = [*(labels.get(t, t) for t in live), "nothing", "nothing"][:2] + [
        *(labels.get(t, t) for t in earth), "nothing"][:1]
    cores = ", ".join(f"{core}: {terminal}" for core, terminal in zip((one, two, "cpc"), terminals, strict=True))
    return TYPED.format(cable=cable.name if cable else "W1", name=name or "Landing", cores=cores,
                        sleeved=f", sleeved: [{two}]" if contacts else "")


def _further(terminals: int) -> tuple[Block, ...]:
    """Rows for more cores beside a tall face: where there are many terminals there are many cores and joints."""
    rows = (terminals - SHORT) * 3 // 2
    table = _boxed(CORE_HEAD, [], rows, CORE_SHARES)
    return (SideBySide(((table,), (table,))),) if rows > 1 else ()


def _boxed(head: tuple[str, ...], rows: Sequence[tuple[Cell, ...]], least: int, shares: tuple[float, ...]) -> Table:
    """What is known, and blank rows to the number there is room for; every cell is a box to write in."""
    blank = (("",) * len(head),) * max(1 if rows else 0, least - len(rows))
    return Table(head, (*rows, *blank), shares, boxes=tuple(range(len(head))))


def _printed(wiring: Wiring | None, accessory: str) -> str:
    return wiring.printed(accessory) if wiring else accessory


def _other(cable: Cable, name: str) -> str:
    return "" if cable.at_one_end else next((end for end in cable.ends if end != name), "")


def _end_of(cable: Cable, name: str) -> int:
    return cable.ends.index(name)


def _terminal(cable: Cable, i: int, name: str, labels: dict[str, str]) -> str:
    end = cable.cores[i].ends[_end_of(cable, name)]
    if end.terminal is None:
        return "" if end.unknown else "nothing"
    return labels.get(end.terminal, end.terminal)


def _sleeve(cable: Cable, i: int, name: str) -> str:
    end = cable.cores[i].ends[_end_of(cable, name)]
    return "" if end.unknown else end.sleeve or "none"
