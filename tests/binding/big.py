"""Wirings of up to 60 accessories, 20 lights on a switch and 20 switches on a light, right and wrong."""

from __future__ import annotations

from circuits import SOUND_ROOMS, WRONG_ROOMS, Circuit, Feed, conversion, strappers, wirings
from hypothesis import strategies as st

from sheetgen.circuit import circuit_of
from sheetgen.judge import judge
from sheetgen.model.job import Job
from sheetgen.model.wiring import Wiring
from sheetgen.pipeline import Look, diagrams_for, drawings_of, plots_for, style_of

LOOKS = tuple(Look(mono=mono, paper=paper) for mono in (False, True) for paper in ("a4", "a3"))
LONG = ("Hall", "Bathroom on the half landing over the old scullery", "Ironing-linen-sewing-and-box-room")
KINDS = ("light fitting", "batten lampholder")


def many_lights(c: Circuit, feed: Feed, name: str, lights: int, lost: bool) -> Feed:
    """Lights in a row behind one switch, the neutral carried along; with `lost` it ends before the first."""
    door = c.put(f"{name} door", "one-way switch", name, connectors=["joint"])
    c.twin(feed.accessory, door, (feed.line, "COM"), (feed.neutral, "joint"))
    before, line, neutral = door, "L1", None if lost else "joint"
    for i in range(1, lights + 1):
        light = c.put(f"{name} {i}", KINDS[i % 2 if lights < 8 else 0], name)
        c.twin(before, light, (line, "L"), (neutral, "N"))
        before, line, neutral = light, "L", "N"
    return Feed(door, "COM", "joint")


@st.composite
def big_wirings(draw) -> Wiring:
    """A house with rooms of many lights or many switches among the usual ones."""
    c = Circuit(draw(st.sampled_from(["current", "legacy"])))
    feed = c.way("1", serves=draw(st.sampled_from(LONG)))
    for i in range(draw(st.integers(1, 4))):
        name = f"{draw(st.sampled_from(LONG))} {i}"
        kind = draw(st.integers(0, 4))
        if len(c.accessories) > 40:
            break
        if kind == 0:
            many_lights(c, feed, name, draw(st.integers(1, 20)), draw(st.booleans()))
        elif kind == 1:
            draw(st.sampled_from([conversion, strappers]))(c, feed, name, draw(st.integers(2, 20)))
        else:
            draw(st.sampled_from(SOUND_ROOMS + WRONG_ROOMS))(c, feed, name)
    return c.wiring()


def any_wirings() -> st.SearchStrategy[Wiring]:
    """Big houses, and small ones with mistakes."""
    return big_wirings() | wirings()


def job_of(wiring: Wiring, look: Look) -> Job:
    """Everything that a job sheet of a wiring prints."""
    style, circuit = style_of(look), circuit_of(wiring)
    reading = judge(circuit, style.sets)
    return Job(wiring, circuit.solution, reading, drawings=drawings_of(wiring, reading, style),
               diagrams=diagrams_for(circuit, style), plots=plots_for(circuit, reading, style),
               sets=style.sets, source="random.yaml", fingerprint="0123abcd")
