"""Circuits given by their method: the method lays every accessory and core, as if they had been written out.

What is laid joins what is written: an accessory written under the name of a laid one takes its place (a batten
lampholder for a rose, a pull-cord for a plate switch), and written cables may go on from laid accessories.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sheetgen.catalogue import methods
from sheetgen.catalogue.cables import METRIC, read_size
from sheetgen.catalogue.methods.plan import Plan
from sheetgen.catalogue.methods.ports import End, Feed, Join, Light, Loop, SwitchPlace, Wanted
from sheetgen.model.description import ByMethod, CableText, Description, DescriptionText, MethodText, Path
from sheetgen.model.problems import Refused, nearest
from sheetgen.model.style import ColourSet
from sheetgen.model.wiring import Status
from sheetgen.read.description_to_wiring.board import UNNAMED, numbered
from sheetgen.read.description_to_wiring.laying import Laid, Laying, Request
from sheetgen.read.description_to_wiring.ledger import DEFAULT_COLOURS, Ledger, folded

DEFAULT_SIZE = "1.0"
MOST = 20  # lights or switches in one circuit
TO_TEACH = "For a class `sheetgen handout --bad-practice` draws it, with this warning on it."
WIRED = {
    "": False, "sheathed cable": False, "cable": False, "sheathed": False, "twin and earth": False,
    "singles in conduit": True, "conduit": True, "singles": True, "in conduit": True,
}


def lay_methods(ledger: Ledger, colours: str) -> Laid:
    """Put the accessories and cables that methods lay into the description in hand; what was laid, with comments."""
    requests = _requests(ledger)
    if not requests:
        return Laid()
    laying = Laying(ledger, ledger.sets[colours])
    plan = Plan()
    feeds: dict[tuple[str, bool], Feed] = {}
    for i, request in enumerate(requests):
        goes_on = any(_same_run(request, later) for later in requests[i + 1:])
        wanted = replace(request.wanted, goes_on=goes_on)
        key = (wanted.way, wanted.conduit)
        before = len(plan.runs)
        feeds[key] = request.loop.lay(wanted, feeds.get(key) or _from_board(wanted.way), plan)
        laying.lay(plan, plan.runs[before:], request)
    laid = laying.finish(plan)
    ledger.description = _joined(ledger.description, laid)
    return laid


def written_out(description: Description, sets: Mapping[str, ColourSet]) -> tuple[DescriptionText, Laid]:
    """The same description with everything that methods lay written out, and what was laid. Refused with problems."""
    ledger = Ledger(description, sets)
    content = description.content
    laid = lay_methods(ledger, ledger.colour_set(content.colours, "colours") or DEFAULT_COLOURS)
    if ledger.problems:
        raise Refused(dict.fromkeys(ledger.problems))
    usual = {name: field.get_default(call_default_factory=True) for name, field in ByMethod.model_fields.items()}
    written = ledger.description.content
    named = numbered(content) or "board" in map(folded, written.accessories)
    cables = written.cables if named else {name: _from_any(cable) for name, cable in written.cables.items()}
    status = status_of(written, laid)
    return written.model_copy(update={**usual, "circuits": [], "status": status or "", "cables": cables}), laid


def _from_any(cable: CableText) -> CableText:
    """The cable with no number of a circuit that nobody gave."""
    ends = {"from_": cable.from_, "to": cable.to}
    return cable.model_copy(update={key: "board" for key, end in ends.items() if end == f"way {UNNAMED}"})


def status_of(content: DescriptionText, laid: Laid) -> Status | None:
    """What the description says of itself; where it says nothing, and methods laid every cable and nobody saw or
    measured anything, that it is by method."""
    if content.status:
        return Status(content.status)
    alone = laid.cables.keys() == content.cables.keys() and not (content.seen or content.readings)
    return Status.BY_METHOD if laid.cables and alone else None


def _joined(description: Description, laid: Laid) -> Description:
    content = description.content.model_copy(update={
        "accessories": {**laid.accessories, **description.content.accessories, **laid.widened},
        "cables": {**laid.cables, **description.content.cables},
    })
    return replace(description, content=content, marks={**laid.marks, **description.marks})


def _from_board(way: str) -> Feed:
    return Feed(End(way, "line"), End(way, "neutral"), way)


def _same_run(a: Request, b: Request) -> bool:
    """The second can be fed from the first: same way, and both in cable or both in conduit."""
    return (a.wanted.way, a.wanted.conduit) == (b.wanted.way, b.wanted.conduit)


def _requests(ledger: Ledger) -> list[Request]:
    content = ledger.description.content
    asked: list[tuple[ByMethod, Path]] = [(c, ("circuits", i)) for i, c in enumerate(content.circuits)]
    if content.lights or content.switches or (content.method and not asked):
        asked.insert(0, (content, ()))
    names = LaidNames(asked)
    return [r for text, path in asked if (r := _request(ledger, text, path, names)) is not None]


def _request(ledger: Ledger, text: ByMethod, path: Path, names: LaidNames) -> Request | None:
    """The circuit with every word understood; None where one is not."""
    found = len(ledger.problems)
    whole = ledger.description.content
    method = text.method or whole.method
    where = (*path, "method") if text.method else ("method",)
    if method is None:
        ledger.note(path, "E401", "The circuit names no method.",
                    "Write 'method: {loop: at the rose}'; the join of the switches may be left out.")
        return None
    for key in ("lights", "switches"):
        rooms = getattr(text, key)
        if not 1 <= len(rooms) <= MOST:
            ledger.note((*path, key), "E402", f"A circuit has 1 to {MOST} {key}, not {len(rooms)}.",
                        f"Write the room of each: {key}: [Hall, Landing].")
    loop = methods.find_loop(method.loop or "at the rose")
    if loop is None:
        ledger.note((*where, "loop"), "E403", f"Line and neutral cannot loop '{method.loop}'.",
                    nearest_of(method.loop, methods.LOOPS))
    conduit = _choice(ledger, method.wired, (*where, "wired"))
    join = _join(ledger, method, where, len(text.switches), conduit)
    if len(ledger.problems) > found or loop is None or join is None:
        return None
    asked = (loop, join, len(text.switches), conduit)
    warning = methods.bad_practice(*asked)
    if warning and ledger.to_teach:
        ledger.warnings.append(warning)
    elif reason := methods.refusal(*asked):
        ledger.note((*path, "method") if text.method else where, "E404", reason, TO_TEACH if warning else "")
        return None
    wanted = Wanted(join, names.seats(path, text), names.lights(ledger, path, text, whole), conduit,
                    way=_way(ledger, text.way or whole.way, path))
    request = Request(text, path, wanted, loop, _size(ledger, text.size or whole.size, path))
    return request if len(ledger.problems) == found else None


def nearest_of(word: str, known: tuple[Loop, ...] | tuple[Join, ...]) -> str:
    """The hint for a loop or join that is not known."""
    return nearest(word, (*(k.name for k in known), *(a for k in known for a in k.also)))


def _choice(ledger: Ledger, word: str, path: Path) -> bool:
    if folded(word) not in WIRED:
        ledger.note(path, "E405", f"A circuit is not wired in '{word}'.",
                    nearest(word, ("sheathed cable", "singles in conduit")))
    return WIRED.get(folded(word), False)


def _join(ledger: Ledger, method: MethodText, where: Path, switches: int, conduit: bool) -> Join | None:
    if not 1 <= switches <= MOST:
        return None
    right = methods.switching_of(switches)
    if method.switching and folded(method.switching) != folded(right):
        ledger.note((*where, "switching"), "E406", f"'{method.switching}' does not go with {switches} "
                    f"{'switch' if switches == 1 else 'switches'}.", f"That is {right}.")
    join = methods.find_join(method.join) if method.join else methods.usual_join(switches, conduit)
    if join is None:
        ledger.note((*where, "join"), "E407", f"There is no join called '{method.join}'.",
                    nearest_of(method.join, methods.JOINS))
    return join


def _way(ledger: Ledger, word: str, path: Path) -> str:
    known = list(ledger.description.content.board.ways or {UNNAMED: None})
    number = word.strip().removeprefix("way ") if word else known[0]
    if number not in known:
        ledger.note((*path, "way"), "E408", f"The board has no way '{word}'.", nearest(number, known))
    return f"way {number}"


def _size(ledger: Ledger, word: str, path: Path) -> str:
    size = read_size(word) if word else read_size(DEFAULT_SIZE)
    if size is None:
        ledger.note((*path, "size"), "E315", f"There is no cable of size {word}.",
                    f"Known: {', '.join(METRIC)} mm2; 1/.044, 3/.029, 3/.036, 7/.029.")
    return size.text if size else DEFAULT_SIZE


class LaidNames:
    """What laid accessories are called: a light as its room, a switch 'Hall switch', numbered where there are more."""

    def __init__(self, asked: list[tuple[ByMethod, Path]]):
        self._lights = self._numbered([(p, i, room) for t, p in asked for i, room in enumerate(t.lights)], "")
        self._switches = self._numbered(
            [(p, i, room) for t, p in asked for i, room in enumerate(t.switches) if "." not in room], " switch")

    @staticmethod
    def _numbered(places: list[tuple[Path, int, str]], word: str) -> dict[tuple[Path, int], str]:
        found: dict[tuple[Path, int], str] = {}
        seen: dict[str, int] = {}
        for path, i, room in places:
            same = [r for _, _, r in places if folded(r) == folded(room)]
            seen[folded(room)] = number = seen.get(folded(room), 0) + 1
            found[(path, i)] = f"{room}{word} {number}" if len(same) > 1 else f"{room}{word}"
        return found

    def lights(self, ledger: Ledger, path: Path, text: ByMethod, whole: ByMethod) -> tuple[Light, ...]:
        """The lights of a circuit."""
        word = text.lamp or whole.lamp
        watts = ledger.quantity(word, "W", "8 W", (*path, "lamp")) if word else None
        return tuple(Light(self._lights[(path, i)], room, watts) for i, room in enumerate(text.lights))

    def seats(self, path: Path, text: ByMethod) -> tuple[SwitchPlace, ...]:
        """The switches of a circuit: two-way at the ends, intermediate between; 'Hall.stairs' is a gang of a plate."""
        seats: list[SwitchPlace] = []
        last = len(text.switches) - 1
        for i, room in enumerate(text.switches):
            what = "one-way" if last == 0 else "two-way" if i in (0, last) else "intermediate"
            if "." in room:
                place, _, gang = room.partition(".")
                seats.append(SwitchPlace(f"{place.strip()} plate", what, place.strip(), gang.strip()))
            else:
                seats.append(SwitchPlace(self._switches[(path, i)], what, room))
        return tuple(seats)
