"""A description in which ends that were found to be one cable are written as that cable."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sheetgen.model.description import CableText, DescriptionText
from sheetgen.model.wiring import Cable, Core, CoreEnd, Wiring
from sheetgen.read.description_to_text import description_to_text

DONE = "Which end belongs to which was found by test; see the comment above each cable."


def with_joined_ends(content: DescriptionText, ends: Sequence[Cable], made: Mapping[tuple[str, str], Cable],
                     wiring: Wiring) -> str:
    """The text of a description. `made`: (end, other end) -> the cable that they are, as it stands in `wiring`."""
    second = {other for _, other in made}
    first = {one: (other, cable) for (one, other), cable in made.items()}
    places = {end.name: end.ends[0] for end in ends}
    cables, comments = {}, {}
    for name, text in content.cables.items():
        if name in second:
            continue
        if name not in first:
            cables[name] = text
            continue
        other, cable = first[name]
        cables[name] = _cable_text(text, content.cables[other], cable, wiring)
        comments[name] = f"{name} at {places[name]} and {other} at {places[other]} are the two ends of this cable"
    content = content.model_copy(update={"cables": cables, "readings": []})
    return description_to_text(content, comments, opening=DONE)


def _cable_text(one: CableText, other: CableText, cable: Cable, wiring: Wiring) -> CableText:
    """Both ends in one, with the sleeves of each."""
    value: dict[str, object] = {
        "type": one.type, "colours": one.colours, "in": one.in_ or other.in_, "from": one.at, "to": other.at,
        "length": one.length or other.length, "method": one.method or other.method,
        "note": " ".join(filter(None, (one.note, other.note))),
        "cores": {_word(core): [_terminal(end, wiring) for end in core.ends] for core in cable.cores},
    }
    sleeved = {_word(core): [end.sleeve or "nothing" for end in core.ends] for core in cable.cores
               if any(end.sleeve for end in core.ends) and not _usual(core)}
    bare = [_word(core) for core in cable.cores if core.cpc and not core.colour
            and not any(end.sleeve for end in core.ends)]
    return CableText.model_validate({k: v for k, v in {**value, "sleeved": sleeved, "bare": bare}.items() if v})


def _usual(core: Core) -> bool:
    """A bare cpc that is sleeved at both ends, as is taken for granted."""
    return core.cpc and not core.colour and all(end.sleeve for end in core.ends)


def _word(core: Core) -> str:
    return "cpc" if core.cpc and not core.colour else core.label


def _terminal(end: CoreEnd, wiring: Wiring) -> str:
    if end.terminal is None:
        return "?" if end.unknown else "nothing"
    return wiring.accessory(end.accessory).label(end.terminal)


def with_parts(content: DescriptionText, goes: Mapping[tuple[str, str], str], what: Mapping[str, str],
               sleeved: tuple[str, str], wiring: Wiring) -> str:
    """The text in which cores that hung loose are on terminals. `goes`: (cable, core) -> terminal; `what`: of a cable.

    `sleeved`: the cable and core that is over-marked as line.
    """
    cables = {}
    for name, text in content.cables.items():
        if name not in what:
            cables[name] = text
            continue
        cable = wiring.cable(name)
        cores = {word: [goes[name, word]] for _, word in (spot for spot in goes if spot[0] == name)}
        update: dict[str, object] = {"cores": cores, "note": text.note or what[name], "type": text.type}
        if name == sleeved[0] and not text.sleeved:
            update["sleeved"] = [sleeved[1]]
        cables[name] = text.model_copy(update=update)
        assert len(cores) == len(cable.cores)
    content = content.model_copy(update={"cables": cables, "readings": []})
    return description_to_text(content, opening="Which cable is which was found by test.")
