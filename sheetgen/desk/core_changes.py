"""Cores landed on terminals, sleeved and called otherwise."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue.colours import CODES, read_colour, read_core_name
from sheetgen.desk.asked import Mistaken, asked, needed
from sheetgen.desk.cable_changes import colours_of, the_cable
from sheetgen.desk.splicing import Draft
from sheetgen.model.description import Path
from sheetgen.read.description_to_wiring.cables import NOTHING
from sheetgen.read.description_to_wiring.ledger import folded

Fields = Mapping[str, str]
Sleeves = dict[str, tuple[str, str]]  # core as written -> colour at each end, "" for none


def _core(draft: Draft, fields: Fields) -> tuple[str, str, object]:
    name, core = needed(fields, "name"), needed(fields, "core", "the core")
    cores = the_cable(draft, name).get("cores")
    if not isinstance(cores, dict) or core not in cores:
        raise Mistaken(f"'{core}' is no core of {name}.")
    return name, core, cores[core]


def land(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A core end put on a terminal, or '?' or 'nothing'. End 0 or 1; 'both' where both are to be the same."""
    name, core, held = _core(draft, fields)
    terminal, end = needed(fields, "terminal", "the terminal"), needed(fields, "end")
    path: Path = ("cables", name, "cores", core)
    said = {"?": f"Where {core} of {name} is landed is not known.",
            "nothing": f"{core} of {name} ends in nothing."}.get(terminal, f"{core} of {name} is on {terminal}.")
    if not isinstance(held, list):
        return draft.put(path, terminal), said
    if end == "both":
        return draft.put(path, [terminal] * len(held)), said
    if end not in ("0", "1") or int(end) >= len(held):
        raise Mistaken(f"{core} of {name} has no such end.")
    return draft.put((*path, int(end)), terminal), said


def call_core(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """Another colour or mark for a core: 'RD', 'RD 1', 'red tape'."""
    name, core, _ = _core(draft, fields)
    new = needed(fields, "value", "the colour")
    if read_core_name(new) is None:
        raise Mistaken(f"'{new}' is not a colour, as in: {', '.join(list(CODES)[:6])}, RD 1.")
    if new != core and new in (the_cable(draft, name)["cores"] or ()):  # type: ignore[operator]
        raise Mistaken(f"{name} has a core called '{new}' already. Tell them apart by a mark: {new} 1, {new} 2.")
    sleeves, bare = sleeves_of(draft, name), _bare(draft, name)
    draft = draft.rename(("cables", name, "cores", core), new)
    if core in sleeves:
        draft = _with_sleeves(draft, name, {new if c == core else c: ends for c, ends in sleeves.items()})
    if core in bare:
        draft = draft.put(("cables", name, "bare"), [new if c == core else c for c in bare])
    return draft, ""


def sleeve(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A sleeve put on a core end or taken off: `colour` at `end` 0, 1 or both; "" takes it off.

    A bare cpc counts as sleeved until the text says that it is bare.
    """
    name, core, _ = _core(draft, fields)
    colour, end = asked(fields, "colour"), needed(fields, "end")
    code = read_colour(colour) if colour else ""
    if code is None:
        raise Mistaken(f"'{colour}' is not a colour.")
    if read_core_name(core) == ("cpc", ""):
        bare = _bare(draft, name)
        wanted = [c for c in bare if c != core] + ([] if code else [core])
        path: Path = ("cables", name, "bare")
        return (draft.put(path, wanted) if wanted else draft.drop(path)), (
            f"{core} of {name} is {'sleeved' if code else 'bare'}.")
    sleeves = sleeves_of(draft, name)
    before = sleeves.get(core, ("", ""))
    after = (code if end in ("0", "both") else before[0], code if end in ("1", "both") else before[1])
    sleeves = {**sleeves, core: after} if any(after) else {c: ends for c, ends in sleeves.items() if c != core}
    said = f"sleeved {CODES[code]}" if code else "without a sleeve"
    return _with_sleeves(draft, name, sleeves), f"{core} of {name} is {said}."


def sleeves_of(draft: Draft, name: str) -> Sleeves:
    """The sleeves that the text has on the cores of a cable, by the names of the cores as written."""
    cable = the_cable(draft, name)
    given = cable.get("sleeved")
    listed: list[object] = given if isinstance(given, list) else [given] if given else []
    words: Mapping[str, object] = given if isinstance(given, dict) else dict.fromkeys(
        map(str, listed), colours_of(draft, cable).line)
    written = {read_core_name(str(core)): str(core) for core in (cable.get("cores") or {})}  # type: ignore[attr-defined]
    found: Sleeves = {}
    for word, colours in words.items():
        core = written.get(read_core_name(str(word)))
        both = [*colours, ""][:2] if isinstance(colours, list) else [colours, colours]
        if core is not None:
            here, there = ("" if folded(str(c)) in NOTHING else read_colour(str(c)) or str(c) for c in both)
            found[core] = (here, there)
    return found


def _with_sleeves(draft: Draft, name: str, sleeves: Sleeves) -> Draft:
    """Written as a list where every sleeve is one of the line, at both ends; else with the colours."""
    path: Path = ("cables", name, "sleeved")
    cable = the_cable(draft, name)
    if not sleeves:
        return draft.drop(path)
    line = colours_of(draft, cable).line
    if all(ends == (line, line) for ends in sleeves.values()) and not isinstance(cable.get("sleeved"), dict):
        return draft.put(path, list(sleeves))
    return draft.put(path, {core: here if here == there else [here or "nothing", there or "nothing"]
                            for core, (here, there) in sleeves.items()})


def _bare(draft: Draft, name: str) -> list[str]:
    given = the_cable(draft, name).get("bare")
    return [str(word) for word in given] if isinstance(given, list) else [str(given)] if given else []
