"""Circuits given by their method: three choices and the rooms."""

from __future__ import annotations

from collections.abc import Mapping

from sheetgen.catalogue import methods
from sheetgen.desk.asked import Mistaken, asked, needed, number, several
from sheetgen.desk.splicing import Draft
from sheetgen.model.description import Path
from sheetgen.model.problems import nearest
from sheetgen.pipeline import written_out

Fields = Mapping[str, str]
LENGTHS = ("feed", "drop", "switches", "lights", "on")
CONDUIT = "singles in conduit"


def circuit_of(fields: Fields) -> dict[str, object]:
    """A circuit as it is written; Mistaken where the trade would not wire it so."""
    lights, switches = several(asked(fields, "lights")), several(asked(fields, "switches"))
    if not lights or not switches:
        raise Mistaken("Say the room of each light and of each switch, with commas between.")
    loop, join, wired = asked(fields, "loop"), asked(fields, "join"), asked(fields, "wired")
    _fits(loop, join, len(switches), wired == CONDUIT)
    method = {key: words for key, words in (("loop", loop), ("join", join), ("wired", wired)) if words}
    lengths = {key: words for key in LENGTHS if (words := asked(fields, f"length {key}"))}
    said: dict[str, object] = {key: words for key in ("name", "way") if (words := asked(fields, key))}
    said |= {"method": method} if method else {}
    said |= {"lights": lights, "switches": switches}
    said |= {key: words for key in ("lamp", "size") if (words := asked(fields, key))}
    return said | ({"lengths": lengths} if lengths else {})


def _fits(loop: str, join: str, switches: int, conduit: bool) -> None:
    chosen = methods.find_loop(loop) if loop else None
    if loop and chosen is None:
        raise Mistaken(f"There is no loop '{loop}'. {nearest(loop, (each.name for each in methods.LOOPS))}")
    joined = methods.find_join(join) if join else methods.usual_join(switches, conduit)
    if joined is None:
        raise Mistaken(f"There is no join '{join}'. {nearest(join, (each.name for each in methods.JOINS))}")
    if chosen is not None and (why := methods.refusal(chosen, joined, switches, conduit)):
        raise Mistaken(why)


def add_circuit(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """One more circuit by its method."""
    return draft.append(("circuits",), circuit_of(fields)), "The circuit is laid."


def _path(draft: Draft, fields: Fields) -> Path:
    if asked(fields, "circuit") == "head":
        return ()
    at, circuits = number(fields, "circuit"), draft.at("circuits")
    if not isinstance(circuits, list) or at >= len(circuits) or not isinstance(circuits[at], dict):
        raise Mistaken("That circuit is no longer there.")
    return ("circuits", at)


def set_circuit(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A circuit as the form has it now; what the form does not ask for stays."""
    path, wanted = _path(draft, fields), circuit_of(fields)
    for key in ("name", "way", "method", "lights", "switches", "lamp", "size", "lengths"):
        before = draft.at(*path, key)
        if key not in wanted:
            draft = draft.drop((*path, key)) if before is not None else draft
        elif isinstance(before, dict) and isinstance(inner := wanted[key], dict):
            kept = {k: v for k, v in before.items() if k == "switching"}
            draft = draft if before == {**kept, **inner} else draft.put((*path, key), {**kept, **inner})
        else:
            draft = draft.put((*path, key), wanted[key])
    return draft, "The circuit is laid anew."


def drop_circuit(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """A circuit taken away."""
    path = _path(draft, fields)
    if path:
        return draft.drop(path), "The circuit is taken away."
    for key in ("method", "lights", "switches", "lengths", "way", "lamp"):
        draft = draft.drop((key,)) if draft.at(key) is not None else draft
    return draft, "The circuit is taken away."


def write_out(draft: Draft, fields: Fields) -> tuple[Draft, str]:
    """Everything that methods lay written core by core, to be changed by choosing."""
    if needed(fields, "sure") != "yes":
        raise Mistaken("Nothing is changed.")
    return Draft(written_out(draft.text)), "Every accessory, cable and core is written out now."
