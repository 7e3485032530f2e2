"""What can be done to a description by choosing: each is a change of its text, under the name a form calls it by."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sheetgen.desk.accessory_changes import (
    add_accessory,
    drop_accessory,
    rename_accessory,
    set_accessory,
)
from sheetgen.desk.asked import Mistaken, asked, needed
from sheetgen.desk.cable_changes import add_cable, drop_cable, goes_to, rename_cable, set_cable
from sheetgen.desk.circuit_changes import add_circuit, drop_circuit, set_circuit, write_out
from sheetgen.desk.core_changes import call_core, land, sleeve
from sheetgen.desk.splicing import Draft
from sheetgen.model.description import Path

Fields = Mapping[str, str]
HEAD: dict[str, Path] = {
    "job": ("job",), "place": ("place",), "status": ("status",), "colours": ("colours",), "size": ("size",),
    "drawn by": ("drawn", "by"), "drawn on": ("drawn", "on"), "board name": ("board", "name"),
    "board where": ("board", "where"), "earthing": ("board", "earthing"), "ze": ("board", "ze"),
    "voltage": ("board", "voltage"),
}
OF_A_WAY = ("serves", "device", "rcd", "isolated by", "off")


def set_head(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """One of the facts about the whole job; empty takes it away."""
    name = needed(fields, "field")
    if name not in HEAD:
        raise Mistaken(f"There is no '{name}' in a description.")
    value = asked(fields, "value")
    if name == "job":
        value = value or "(no name)"
    return (draft.put(HEAD[name], value) if value else draft.drop(HEAD[name])), ""


def set_way(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A fact about a way of the board."""
    way, name, value = needed(fields, "way"), needed(fields, "field"), asked(fields, "value")
    if name not in OF_A_WAY:
        raise Mistaken(f"There is no '{name}' of a circuit of the board.")
    path: Path = ("board", "ways", way)
    if value:
        return (draft if isinstance(draft.at(*path), dict) else _with_way(draft, way)).put((*path, name), value), ""
    held = draft.at(*path)
    if isinstance(held, dict) and set(held) == {name}:
        return draft.put(path, {}), ""
    return draft.drop((*path, name)) if isinstance(held, dict) and name in held else draft, ""


def _with_way(draft: Draft, way: str) -> Draft:
    path: Path = ("board", "ways", way)
    ways = draft.at("board", "ways")
    return draft if isinstance(ways, dict) and isinstance(ways.get(way), dict) else draft.put(path, {})


def add_way(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A way, with what is said of it at once."""
    way = needed(fields, "way", "the number of the circuit")
    ways = draft.at("board", "ways")
    if isinstance(ways, dict) and way in ways:
        raise Mistaken(f"Circuit {way} is there already.")
    said = {name: words for name in OF_A_WAY if (words := asked(fields, name))}
    return draft.put(("board", "ways", way), said), f"Circuit {way} is added."


def drop_way(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A way taken away."""
    way = needed(fields, "way")
    return draft.drop(("board", "ways", way)), f"Circuit {way} is taken away."


def set_lines(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """The notes, or what was seen, one to a line."""
    name = needed(fields, "field")
    if name not in ("notes", "seen"):
        raise Mistaken(f"There is no '{name}' in a description.")
    lines = [" ".join(line.split()) for line in fields.get("value", "").splitlines() if line.strip()]
    return (draft.put((name,), lines) if lines else draft.drop((name,))), ""


CHANGES: dict[str, Callable[[Draft, Fields], tuple[Draft, str]]] = {
    "head": set_head,
    "way": set_way,
    "add way": add_way,
    "drop way": drop_way,
    "lines": set_lines,
    "add accessory": add_accessory,
    "accessory": set_accessory,
    "rename accessory": rename_accessory,
    "drop accessory": drop_accessory,
    "add cable": add_cable,
    "cable": set_cable,
    "rename cable": rename_cable,
    "drop cable": drop_cable,
    "goes to": goes_to,
    "land": land,
    "sleeve": sleeve,
    "call core": call_core,
    "add circuit": add_circuit,
    "circuit": set_circuit,
    "drop circuit": drop_circuit,
    "write out": write_out,
}


def changed(text: str, fields: Fields) -> tuple[str, str]:
    """The new text, and what is said of it. Mistaken, NoPlace or Refused say why not."""
    does = CHANGES.get(asked(fields, "do"))
    if does is None:
        raise Mistaken("The page asked for something that this desk does not know.")
    draft, said = does(Draft(text), fields)
    return draft.text, said
