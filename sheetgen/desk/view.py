"""What the template shows: the description as written, beside what was understood and judged of it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field

from sheetgen.catalogue.colours import CODES, read_core_name
from sheetgen.desk.accessory_changes import options_of, things
from sheetgen.desk.cable_changes import colours_of
from sheetgen.desk.core_changes import sleeves_of
from sheetgen.desk.moment import CoreRole, Judged, Plate
from sheetgen.desk.splicing import Draft
from sheetgen.model.problems import Refused
from sheetgen.read.description_to_wiring.cables import NOTHING, far_end
from sheetgen.read.description_to_wiring.ledger import folded

UNKNOWN = "?"


@dataclass(frozen=True)
class CoreView:
    """A core as written: its name there, its colour code, and for each end the terminal word and the sleeve."""

    name: str
    code: str
    role: str
    cpc: bool
    landed: tuple[str, ...]  # one word where the cable was seen at one end
    sleeves: tuple[str, str]
    needs: tuple[str, str]
    fits: str  # the colour that a sleeve put on by one press has

    @property
    def sleeved(self) -> bool:
        """It has a sleeve at an end."""
        return any(self.sleeves)

    @property
    def lacking(self) -> bool:
        """A sleeve is needed and missing at an end."""
        return any(need and need != has for need, has in zip(self.needs, self.sleeves, strict=True))


@dataclass(frozen=True)
class CableView:
    """A cable as written. `ends` are the accessories, "" where nobody has followed it."""

    name: str
    facts: Mapping[str, str]
    ends: tuple[str, str]
    cores: tuple[CoreView, ...]

    @property
    def open_ends(self) -> int:
        """How many core ends are not landed yet."""
        return sum(word == UNKNOWN for core in self.cores for word in core.landed)


@dataclass(frozen=True)
class Hand:
    """What is in hand: an accessory or a cable, and which core is chosen: (cable, core, end or "")."""

    what: str = ""  # "accessory", "cable"
    name: str = ""
    chosen: tuple[str, ...] = ()


@dataclass(frozen=True)
class DeskView:
    """Everything that the template needs of the description."""

    readable: bool
    head: Mapping[str, str] = field(default_factory=dict)
    ways: tuple[tuple[str, Mapping[str, str]], ...] = ()
    accessories: tuple[tuple[str, Mapping[str, str]], ...] = ()
    cables: tuple[CableView, ...] = ()
    circuits: tuple[tuple[str, Mapping[str, str]], ...] = ()
    places: tuple[str, ...] = ()
    rooms: tuple[str, ...] = ()
    notes: str = ""
    seen: str = ""
    plates: Mapping[str, Plate] = field(default_factory=dict)

    @property
    def open_ends(self) -> int:
        """How many core ends are not landed yet."""
        return sum(cable.open_ends for cable in self.cables)

    def cable(self, name: str) -> CableView | None:
        """The cable of that name."""
        return next((cable for cable in self.cables if cable.name == name), None)

    def plate(self, place: str) -> Plate | None:
        """The picture of an accessory, or of the one that it lies in, by the name that a cable calls it by."""
        wanted = folded(place)
        return next((plate for name, plate in self.plates.items()
                     if wanted in (folded(name), folded(name.removeprefix("way ")), *map(folded, plate.holds))), None)

    def ends_at(self, place: str) -> list[tuple[CableView, int]]:
        """Every cable end at an accessory."""
        return [(cable, i) for cable in self.cables for i, end in enumerate(cable.ends)
                if end and folded(end) == folded(place)]


def words_of(value: object) -> str:
    """A value as a field shows it: 'L, N, SL', 'N: 4'."""
    if isinstance(value, dict):
        return ", ".join(f"{key}: {words_of(inner)}" for key, inner in value.items())
    if isinstance(value, list):
        return ", ".join(map(words_of, value))
    return "" if value is None else str(value)


def facts_of(value: object) -> dict[str, str]:
    """A mapping as fields show it."""
    return {str(key): words_of(inner) for key, inner in value.items()} if isinstance(value, dict) else {}


def view_of(text: str, judged: Judged) -> DeskView:
    """The view of a text; `readable` is false where it is not YAML, and nothing can be changed by choosing."""
    draft = Draft(text)
    try:
        head = facts_of(draft.value)
    except Refused:
        return DeskView(False)
    board = draft.at("board")
    head |= {f"board {key}": words for key, words in facts_of(board).items() if key != "ways"}
    head |= {f"drawn {key}": words for key, words in facts_of(draft.at("drawn")).items()}
    ways = draft.at("board", "ways")
    plates = {plate.name: plate for plate in judged.plates}
    accessories = tuple((name, facts_of(a)) for name, a in things(draft, "accessories").items())
    rooms = dict.fromkeys(word for _, facts in accessories if (word := facts.get("room", "")))
    laid = tuple(name for name, plate in plates.items() if not plate.unseen and not plate.name.endswith(" lamp"))
    roles = dict(judged.roles)
    return DeskView(
        True, head, tuple((str(n), facts_of(w)) for n, w in ways.items()) if isinstance(ways, dict) else (),
        accessories, tuple(_cable(draft, name, cable, roles) for name, cable in things(draft, "cables").items()),
        _circuits(draft), tuple(dict.fromkeys([*laid, *(name for name, _ in accessories)])), tuple(rooms),
        _lines(draft.at("notes")), _lines(draft.at("seen")), plates,
    )


def _lines(value: object) -> str:
    return "\n".join(map(words_of, value)) if isinstance(value, list) else words_of(value)


def _circuits(draft: Draft) -> tuple[tuple[str, Mapping[str, str]], ...]:
    """Circuits by method, each with the name a form calls it by; the one at the head of the file is 'head'."""
    found: list[tuple[str, Mapping[str, str]]] = []
    if draft.at("lights") or draft.at("switches"):
        found.append(("head", _circuit(draft.value)))
    circuits = draft.at("circuits")
    if isinstance(circuits, list):
        found += [(str(i), _circuit(circuit)) for i, circuit in enumerate(circuits)]
    return tuple(found)


def _circuit(value: object) -> dict[str, str]:
    if not isinstance(value, dict):
        return {}
    facts = {key: words_of(value.get(key)) for key in ("name", "way", "lights", "switches", "lamp", "size")}
    facts |= facts_of(value.get("method"))
    return facts | {f"length {key}": words for key, words in facts_of(value.get("lengths")).items()}


def _cable(draft: Draft, name: str, cable: Mapping[str, object],
           roles: Mapping[tuple[str, str, str], CoreRole]) -> CableView:
    ends = (words_of(cable.get("at") or cable.get("from")), words_of(cable.get("to")))
    cores, sleeves = cable.get("cores"), sleeves_of(draft, name) if isinstance(cable.get("cores"), dict) else {}
    bare = cable.get("bare")
    line = colours_of(draft, cable).line
    found = []
    for word, held in (cores.items() if isinstance(cores, dict) else ()):
        code, mark = read_core_name(str(word)) or ("", "")
        role = roles.get((name, "cpc" if code == "GNYE" else code, mark), CoreRole("", ("", "")))
        own = sleeves.get(str(word), ("", ""))
        if code == "cpc":
            off = str(word) in map(str, bare if isinstance(bare, list) else [bare])
            own = ("", "") if off else ("GNYE", "GNYE")
        landed = [words_of(w) for w in held] if isinstance(held, list) else [words_of(held)]
        found.append(CoreView(
            str(word), code, role.role, code in ("cpc", "GNYE"), tuple(map(_landing, landed)), own,
            role.needs, "GNYE" if code == "cpc" else next(filter(None, role.needs), line)))
    return CableView(name, facts_of({k: v for k, v in cable.items() if k not in ("cores", "sleeved", "bare")}), ends,
                     tuple(found))


def _landing(word: str) -> str:
    return "nothing" if folded(word) in NOTHING else word


def next_chosen(view: DeskView, hand: Hand) -> tuple[str, ...]:
    """The core that is to be landed next: the one in hand while an end of it is open, else the next that is."""
    if hand.what == "cable" and (cable := view.cable(hand.name)):
        names = [core.name for core in cable.cores]
        start = names.index(hand.chosen[1]) if hand.chosen[1:] and hand.chosen[1] in names else 0
        for core in (*cable.cores[start:], *cable.cores[:start]):
            if UNKNOWN in core.landed:
                return (cable.name, core.name, "")
        return (cable.name, names[start], "") if names else ()
    if hand.what == "accessory":
        ends = [(cable.name, core.name, str(i), core.landed[i] if i < len(core.landed) else core.landed[0])
                for cable, i in view.ends_at(hand.name) for core in cable.cores]
        keys = [end[:3] for end in ends]
        start = keys.index(hand.chosen[:3]) if hand.chosen[:3] in keys else 0  # type: ignore[arg-type]
        for end in (*ends[start:], *ends[:start]):
            if end[3] == UNKNOWN:
                return end[:3]
        return keys[start] if keys else ()
    return ()


def key_of(*words: object) -> str:
    """Words as one field of a form."""
    return json.dumps([str(word) for word in words], ensure_ascii=False)


def colour_word(code: str) -> str:
    """'BN' -> 'brown'."""
    return CODES.get(code, "bare" if code in ("", "cpc") else code)


__all__ = ["CableView", "CoreView", "DeskView", "Hand", "colour_word", "far_end", "key_of", "next_chosen", "options_of",
           "view_of"]
