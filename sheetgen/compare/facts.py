"""What is put side by side of two wirings: method, where current enters and leaves, material, what is where."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from fractions import Fraction

from sheetgen.catalogue.colours import CODES
from sheetgen.model.comparison import ComparedFact
from sheetgen.model.job import Job
from sheetgen.model.reading import Place, Sleeve, Standing
from sheetgen.model.wiring import Cable, Way, Wiring
from sheetgen.model.words import NOT_GIVEN, capital, joined, metres, plain, size_words

NEEDED = (Standing.FITTED, Standing.MISSING, Standing.WRONG)
NONE, ABSENT = "none", "not there"
NOTICED = "Noticed"


def facts_of(before: Job, after: Job) -> tuple[ComparedFact, ...]:
    """Every line of the table; the same lines for both sides."""
    left, right = dict(_facts(before)), dict(_facts(after))
    whats = sorted(dict.fromkeys((*left, *right)), key=lambda what: what == NOTICED)
    return tuple(ComparedFact(what, left.get(what, ABSENT), right.get(what, ABSENT)) for what in whats)


def _facts(job: Job) -> Iterator[tuple[str, str]]:
    circuits = [c for c in job.reading.circuits if c.lamps and c.switches]
    printed = job.wiring.printed
    yield "Method", _lines(c.method for c in circuits)
    yield "Line and neutral part at", _lines(printed(c.part_at) for c in circuits)
    yield "Line comes in at switch", _lines(c.line_in for c in circuits)
    yield "Switched line goes out at switch", _lines(c.switched_out for c in circuits)
    yield "Circuits to isolate", joined(dict.fromkeys(printed(w) for c in job.reading.circuits for w in c.ways))
    yield "At the board", _lines(map(_way, job.wiring.board.ways))
    yield "Loads", _loads(job.wiring)
    yield "Cables", _lines(_cables(job.wiring))
    yield "Conductors, cpc left out", str(sum(not core.cpc for core in job.wiring.cores()))
    yield "Sleeves needed", _sleeves(job.reading.sleeves)
    yield "Terminals used", str(len({end.node for core in job.wiring.cores() for end in core.ends if end.node}))
    yield "Joints in connectors", str(_joints(job.wiring))
    for place in job.reading.places:
        yield f"At {place.accessory}", _place(place)
    yield NOTICED, _lines(f"{capital(f.gravity.value)}: {f.says}" for f in job.reading.findings)


def _lines(parts: Iterable[str]) -> str:
    """Each once; sentences follow one another, other parts are parted by semicolons."""
    once = list(dict.fromkeys(part for part in parts if part))
    return (" " if once and once[0].endswith(".") else "; ").join(once) or NONE


def _way(way: Way) -> str:
    """'circuit 4: type B 6 A, RCD 30 mA'."""
    rcd = f"RCD {plain(way.rcd)} mA" if way.rcd is not None else "no RCD" if way.no_rcd else "RCD not known"
    device = str(way.device) if way.device else "no device" if way.no_device else "device not known"
    return f"{way.printed}: {device}, {rcd}"


def _loads(wiring: Wiring) -> str:
    """'2 x 8 W, 20 W (assumed)'."""
    counted = Counter((load.watts, load.assumed) for _, _, load in wiring.loads())
    return joined(f"{f'{n} x ' if n > 1 else ''}{plain(watts)} W{' (assumed)' if assumed else ''}"
                  for (watts, assumed), n in counted.items()) or NONE


def _cables(wiring: Wiring) -> Iterator[str]:
    """'2 twin and earth 1.0 mm², 13 m'."""
    sorts: dict[str, list[Cable]] = {}
    for cable in wiring.cables:
        if not cable.flex and not cable.link:
            size = f" {size_words(cable.size)}" if cable.size else ""
            sorts.setdefault(f"{cable.type}{size}", []).append(cable)
    for name, cables in sorts.items():
        lengths = [c.length for c in cables if c.length is not None]
        known = len(lengths) == len(cables)
        length = metres(sum(lengths, Fraction(0))) if known else f"length {NOT_GIVEN}"
        yield f"{len(cables)} {name}, {length}"


def _sleeves(sleeves: tuple[Sleeve, ...]) -> str:
    counted = Counter(s.colour for s in sleeves if s.standing in NEEDED)
    return joined(f"{n} {CODES[colour]}" for colour, n in counted.most_common()) or NONE


def _joints(wiring: Wiring) -> int:
    """Connectors and joint box terminals with something on them."""
    used = {end.node for core in wiring.cores() for end in core.ends if end.node}
    return sum(
        accessory.terminal(t.name) in used
        for accessory in wiring.accessories for t in accessory.kind.terminals
        if t.connector or "joint box" in accessory.kind.flags
    )


def _place(place: Place) -> str:
    here = [word for there, word in (
        (place.permanent_line, "permanent line"), (place.switched_line, "switched line"), (place.neutral, "neutral"),
        (place.cpc, "cpc")) if there]
    return joined(here) or NONE
