"""Cables and cable ends added, changed, led elsewhere and taken away."""

from __future__ import annotations

import re
from collections.abc import Mapping

from sheetgen.catalogue.cables import CableType, find_type, split_type, type_names
from sheetgen.catalogue.colours import read_colour
from sheetgen.desk.accessory_changes import ENDS, things
from sheetgen.desk.asked import Mistaken, asked, needed
from sheetgen.desk.splicing import Draft
from sheetgen.model.description import UNKNOWN_WORDS
from sheetgen.model.problems import nearest
from sheetgen.model.style import ColourSet
from sheetgen.pipeline import style_of
from sheetgen.read.description_to_wiring.ledger import DEFAULT_COLOURS, folded

Fields = Mapping[str, str]
FACTS = ("type", "colours", "in", "length", "method", "note")


def the_cable(draft: Draft, name: str) -> dict[str, object]:
    """A cable as written; Mistaken where there is none."""
    cable = things(draft, "cables").get(name)
    if cable is None:
        raise Mistaken(f"There is no cable called '{name}' in the text.")
    return cable


def colours_of(draft: Draft, cable: Mapping[str, object]) -> ColourSet:
    """The colour set that a cable is in."""
    usual = DEFAULT_COLOURS if "flex" in str(cable.get("type", "")) else str(draft.at("colours") or DEFAULT_COLOURS)
    word = str(cable.get("colours") or usual).casefold()
    sets = style_of().sets
    return sets.get({"old": "legacy", "new": "current"}.get(word, word), sets[DEFAULT_COLOURS])


def cable_type(words: str) -> CableType:
    """The type that words such as 'twin and earth 1.0' mean; Mistaken names the nearest."""
    name = split_type(words)[0]
    found = find_type(name)
    if found is None:
        raise Mistaken(f"There is no cable called '{name}'. {nearest(name, type_names())}")
    return found


def core_names(kind: CableType, colours: ColourSet, single: str = "") -> list[str]:
    """What the cores of a cable are called: 'BN', 'BU', 'cpc'; those of one colour by number. `single` is the colour
    of a cable of one core."""
    if kind.name in ("single", "unsheathed single") and single:
        code = "cpc" if folded(single) == "cpc" else read_colour(single)
        if code is None:
            raise Mistaken(f"'{single}' is not a colour. {nearest(single, colours.cores['four-core'])}")
        return ["GNYE" if code == "cpc" else code]
    codes = [code or "cpc" for code in colours.cores[kind.name]]
    return [f"{code} {codes[:i + 1].count(code)}" if codes.count(code) > 1 else code for i, code in enumerate(codes)]


def add_cable(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A cable end where one stands, or a whole cable; where its cores are landed is not known yet."""
    kind_words, here = needed(fields, "type", "the type of cable"), needed(fields, "from", "where it ends")
    kind, there = cable_type(kind_words), asked(fields, "to")
    said: dict[str, object] = {"type": kind_words}
    if colours := asked(fields, "colours"):
        said["colours"] = colours
    cores = core_names(kind, colours_of(draft, said), asked(fields, "core"))
    if run_in := asked(fields, "in"):
        said["in"] = run_in
    both = there and folded(there) not in UNKNOWN_WORDS
    said |= {"from": here, "to": there} if both else {"at": here}
    said |= {key: words for key in ("length", "method") if (words := asked(fields, key))}
    said["cores"] = {core: ["?", "?"] if both else "?" for core in cores}
    name = _next_name(draft)
    return draft.put(("cables", name), said), f"{name} is there. Choose a core, then the terminal that it is on."


def _next_name(draft: Draft) -> str:
    cables = draft.at("cables")
    numbers = [int(found[1]) for name in (cables if isinstance(cables, dict) else ())
               if (found := re.fullmatch(r"W([0-9]{1,6})", str(name)))]
    return f"W{max(numbers, default=0) + 1}"


def set_cable(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """One fact about a cable; empty takes it away. A change of type or colours calls its cores anew, in their order."""
    name, field, value = needed(fields, "name"), needed(fields, "field"), asked(fields, "value")
    cable = the_cable(draft, name)
    if field not in FACTS:
        raise Mistaken(f"'{field}' is not known for a cable.")
    if field == "type":
        cable_type(needed(fields, "value", "the type of cable"))
    before = _names_now(draft, cable)
    draft = draft.put(("cables", name, field), value) if value else draft.drop(("cables", name, field))
    if field in ("type", "colours") and before:
        draft = _called_anew(draft, name, before)
    return draft, ""


def _names_now(draft: Draft, cable: Mapping[str, object]) -> list[str]:
    """The names of the cores if they are those of its type and colours; else none, and they are left alone."""
    cores = cable.get("cores")
    kind = find_type(split_type(str(cable.get("type", "")))[0])
    if not isinstance(cores, dict) or kind is None:
        return []
    usual = core_names(kind, colours_of(draft, cable))
    return usual if set(usual) == set(cores) or kind.name in ("single", "unsheathed single") else []


def _called_anew(draft: Draft, name: str, before: list[str]) -> Draft:
    cable = the_cable(draft, name)
    after = core_names(cable_type(str(cable["type"])), colours_of(draft, cable))
    cores = cable["cores"]
    if after == before or not isinstance(cores, dict):
        return draft
    unknown: object = "?" if cable.get("at") else ["?", "?"]
    held = [cores.get(core, unknown) for core in before]
    cpc = held.pop() if before[-1:] == ["cpc"] else unknown
    live = [core for core in after if core != "cpc"]
    anew = {core: held[i] if i < len(held) else unknown for i, core in enumerate(live)}
    if len(after) > len(live):
        anew["cpc"] = cpc
    draft = draft.put(("cables", name, "cores"), anew)
    return draft.drop(("cables", name, "sleeved")).drop(("cables", name, "bare"))


def rename_cable(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """Another name for a cable."""
    old, new = needed(fields, "name"), needed(fields, "value", "the name")
    the_cable(draft, old)
    if new != old and new in things(draft, "cables"):
        raise Mistaken(f"There is a cable called '{new}' already.")
    return draft.rename(("cables", old), new), f"{old} is now called {new}."


def drop_cable(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A cable taken away."""
    name = needed(fields, "name")
    the_cable(draft, name)
    return draft.drop(("cables", name)), f"{name} is taken away."


def goes_to(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """An end of a cable led to another accessory, or to where nobody has followed it; where its cores are landed there
    is not known then."""
    name, end, there = needed(fields, "name"), needed(fields, "end"), asked(fields, "value")
    cable = the_cable(draft, name)
    if end not in ("0", "1"):
        raise Mistaken("A cable has two ends.")
    places = [str(cable.get("at") or cable.get("from") or ""), str(cable.get("to") or "")]
    places[int(end)] = "" if folded(there) in UNKNOWN_WORDS else there
    if not any(places):
        raise Mistaken(f"{name} ends nowhere then: take it away instead.")
    kept = [place and i != int(end) for i, place in enumerate(places)]
    cores = {core: _ends(held) for core, held in _cores(cable).items()}
    if all(places):
        if cable.get("at"):
            cores = {core: [*held[:1], "?"] for core, held in cores.items()}
        anew: dict[str, object] = {core: [held[i] if kept[i] and i < len(held) else "?" for i in (0, 1)]
                                   for core, held in cores.items()}
        draft = _placed(draft, name, {"from": places[0], "to": places[1]})
    else:
        i = 0 if places[0] else 1
        anew = {core: held[i] if kept[i] and i < len(held) else "?" for core, held in cores.items()}
        draft = _placed(draft, name, {"at": places[i]})
    for core, landed in anew.items():
        draft = draft.put(("cables", name, "cores", core), landed)
    return draft, f"{name} goes to {there}." if there else f"Where {name} goes is not known."


def _placed(draft: Draft, name: str, places: dict[str, str]) -> Draft:
    for key, place in places.items():
        draft = draft.put(("cables", name, key), place)
    for key in ENDS:
        if key not in places:
            draft = draft.drop(("cables", name, key))
    return draft


def _cores(cable: Mapping[str, object]) -> dict[str, object]:
    cores = cable.get("cores")
    return dict(cores) if isinstance(cores, dict) else {}


def _ends(held: object) -> list[object]:
    return list(held) if isinstance(held, list) else [held or "?"]
