"""Accessories added, changed, called otherwise and taken away."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue import accessories as catalogue
from sheetgen.desk.asked import Mistaken, asked, needed, pairs, several
from sheetgen.desk.splicing import Draft
from sheetgen.model.problems import nearest
from sheetgen.read.description_to_wiring.ledger import folded

Fields = Mapping[str, str]
COMMON = ("kind", "room", "lamp", "note", "connectors", "ways", "metal", "opened", "in", "labels")
ENDS = ("from", "to", "at")


def things(draft: Draft, section: str) -> dict[str, dict[str, object]]:
    """The accessories or cables as written, those that are written so that they can be read."""
    held = draft.at(section)
    return {name: value for name, value in held.items() if isinstance(value, dict)} if isinstance(held, dict) else {}


def known(draft: Draft, name: str) -> str:
    """The accessory as it is written, from a form; Mistaken where there is none."""
    if name not in things(draft, "accessories"):
        raise Mistaken(f"There is no accessory called '{name}' in the text.")
    return name


def add_accessory(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """An accessory by what it is, in any of the words known; without a name it has that of its room."""
    kind, room = needed(fields, "kind", "what it is"), asked(fields, "room")
    _understood(draft, kind)
    name = _free(draft, asked(fields, "name") or room or kind.capitalize())
    said: dict[str, object] = {"kind": kind}
    for option in ("blocks", "gangs", "loop", "class", "on", "terminals"):
        if words := asked(fields, option):
            said[option] = option_value(option, words)
    said |= {key: words for key, words in (("room", room), ("lamp", asked(fields, "lamp"))) if words}
    return draft.put(("accessories", name), said), f"{name} is there: {kind}."


def _understood(draft: Draft, kind: str) -> None:
    own = draft.at("kinds")
    names = tuple(own) if isinstance(own, dict) else ()
    if catalogue.understood(kind)[0] is None and folded(kind) not in map(folded, names):
        raise Mistaken(f"There is no accessory called '{kind}'. {nearest(kind, (*names, *catalogue.names()))}")


def _free(draft: Draft, name: str) -> str:
    taken = {folded(word) for word in things(draft, "accessories")}
    if name.strip() in ("?", "nothing") or folded(name).startswith("way "):
        raise Mistaken(f"An accessory cannot be called '{name}'.")
    if folded(name) not in taken:
        return name
    return next(each for n in range(2, 1000) if folded(each := f"{name} {n}") not in taken)


def option_value(name: str, words: str) -> object:
    """What is written for an option: a list, pairs, or the words as they are."""
    if name in ("ways", "labels"):
        return pairs(words)
    if name == "gangs" and ":" in words:
        return pairs(words)
    if name in ("gangs", "terminals") and not words.isdecimal():
        return several(words)
    return several(words) if name == "connectors" else words


def set_accessory(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """One fact about an accessory; empty takes it away."""
    name, field, value = known(draft, needed(fields, "name")), needed(fields, "field"), asked(fields, "value")
    if field == "kind":
        _understood(draft, needed(fields, "value", "what it is"))
    elif field not in (*COMMON, *options_of(str(draft.at("accessories", name, "kind") or ""))):
        raise Mistaken(f"'{field}' is not known for this accessory.")
    path = ("accessories", name, field)
    return (draft.put(path, option_value(field, value)) if value else draft.drop(path)), ""


def options_of(kind: str) -> tuple[str, ...]:
    """The options that a kind of accessory takes beyond the usual ones."""
    entry = catalogue.understood(kind)[0]
    return tuple(option for option in entry.options if option not in COMMON) if entry else ()


def rename_accessory(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """Another name, in the text wherever the accessory is named."""
    old, new = known(draft, needed(fields, "name")), needed(fields, "value", "the name")
    if folded(new) != folded(old):
        new = _free(draft, new)
    for name, cable in things(draft, "cables").items():
        for end in ENDS:
            if folded(str(cable.get(end, ""))) == folded(old):
                draft = draft.put(("cables", name, end), new)
    for name, accessory in things(draft, "accessories").items():
        for key in ("in", "hangs from"):
            if folded(str(accessory.get(key, ""))) == folded(old):
                draft = draft.put(("accessories", name, key), new)
    return draft.rename(("accessories", old), new), f"{old} is now called {new}."


def drop_accessory(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """An accessory at which no cable ends taken away."""
    name = known(draft, needed(fields, "name"))
    ending = [cable for cable, text in things(draft, "cables").items()
              if any(folded(str(text.get(end, ""))) == folded(name) for end in ENDS)]
    if ending:
        end, it = ("ends", "it") if len(ending) == 1 else ("end", "them")
        raise Mistaken(f"{', '.join(ending)} still {end} at {name}: let {it} go elsewhere, or take {it} away first.")
    return draft.drop(("accessories", name)), f"{name} is taken away."
