"""Wirings without sense: any accessories, any cables between them, any core on any terminal or on nothing."""

from __future__ import annotations

from fractions import Fraction

from circuits import Circuit
from hypothesis import strategies as st

from sheetgen.catalogue.accessories import CATALOGUE, BadOption
from sheetgen.catalogue.accessories.lamps import lampholder
from sheetgen.model.accessory import Accessory, AccessoryKind, Level, LoadKind, Position, SwitchKind, TerminalKind
from sheetgen.model.wiring import Wiring


def _plain() -> tuple[tuple[str, dict[str, object]], ...]:
    """Every kind of the catalogue that needs no options, lampholders apart."""
    found = []
    for entry in CATALOGUE:
        try:
            entry.build({})
        except BadOption:
            continue
        if entry.name != "pendant lampholder":
            found.append((entry.name, {}))
    return tuple(found)


KINDS = (
    *_plain(), ("ceiling rose", {"blocks": "two"}), ("light fitting", {"on": "wall"}), ("ceiling rose", {}),
    ("plate", {"gangs": ["two-way", "intermediate", "one-way"]}), ("plate", {"gangs": {"porch": "one-way"}}),
    ("joint box", {"terminals": "9"}), ("joint box", {"terminals": ["L", "N", "SL", "E"]}),
)
CABLES = ("twin and earth", "three-core and earth", "twin", "four-core", "unsheathed single", "unsheathed single")
NAMES = ("Hall", "Back bedroom door", "Stairs", "Wc", "Outside lavatory by the coal store", "Cupboard under the stairs")


@st.composite
def random_wirings(draw, accessories: int = 6, cables: int = 8, own: int = 0) -> Wiring:
    """A wiring drawn at random."""
    c = Circuit(draw(st.sampled_from(["current", "legacy"])))
    for i in range(draw(st.integers(0, 2))):
        c.way(str(i + 1))
    for i in range(draw(st.integers(1, accessories))):
        kind, options = draw(st.sampled_from(KINDS))
        connectors = ["N joint"] if draw(st.integers(0, 5)) == 0 else []
        c.put(f"{draw(st.sampled_from(NAMES))} {i}", kind, draw(st.sampled_from(["", "Hall"])), connectors, **options)
    for i in range(draw(st.integers(0, own))):
        c.accessories.append(Accessory(f"Own {i}", draw(own_kinds())))
    _pendants(draw, c)
    places = [a.name for a in c.accessories]
    for i in range(draw(st.integers(0, cables))):
        kind = draw(st.sampled_from(CABLES))
        a, b = draw(st.sampled_from(places)), draw(st.sampled_from(places))
        count = {"twin and earth": 3, "three-core and earth": 4, "twin": 2, "four-core": 4}.get(kind, 1)
        pairs = [(_terminal(draw, c, a), _terminal(draw, c, b)) for _ in range(count)]
        sleeved = draw(st.sampled_from(["", "1", "2", "12"]))
        run_in = draw(st.sampled_from(["", "conduit", "conduit", "trunking"])) if count == 1 else ""
        name = f"{draw(st.sampled_from(['X', 'Feed ']))}{i + 1}"
        c.cable(kind, a, b, *pairs, sleeved=sleeved, name=name, run_in=run_in)
    return c.wiring()


@st.composite
def own_kinds(draw) -> AccessoryKind:
    """An accessory as a description may define it: any terminals, positions and loads, even of one terminal."""
    names = [f"{letter}{i}" for i, letter in enumerate(draw(st.text("LNEab", min_size=1, max_size=8)))]
    pair = st.tuples(st.sampled_from(names), st.sampled_from(names))
    switches = [
        SwitchKind(tuple(Position(f"p{i}", tuple(joins)) for i, joins in enumerate(positions)), what="own")
        for positions in draw(st.lists(st.lists(st.lists(pair, max_size=3), min_size=1, max_size=3), max_size=1))
    ]
    loads = [
        LoadKind(a, b, Fraction(8), str(i), draw(st.sampled_from(["lamp", "fan", "electronics"])))
        for i, (a, b) in enumerate(draw(st.lists(pair, max_size=3)))
    ]
    level = draw(st.sampled_from([Level.CEILING, Level.WALL, Level.PENDANT]))
    return AccessoryKind(
        "own", level, tuple(TerminalKind(name) for name in names), tuple((name,) for name in names), tuple(switches),
        tuple(loads),
    )


def _pendants(draw, c: Circuit) -> None:
    """Lampholders, most of them on a proper flex."""
    for accessory in [a for a in c.accessories if a.kind.name.startswith("ceiling rose")]:
        if draw(st.booleans()):
            name = f"{accessory.name} lamp"
            c.accessories.append(Accessory(name, lampholder({"lamp": Fraction(8)}), hangs_from=accessory.name))
            pairs = [(_terminal(draw, c, accessory.name), _terminal(draw, c, name)) for _ in range(2)]
            c.cable("two-core flex", accessory.name, name, *pairs, size="0.75", colours="current")


def _terminal(draw, c: Circuit, name: str) -> str | None:
    kind = next(a.kind for a in c.accessories if a.name == name)
    return draw(st.sampled_from([*(t.name for t in kind.terminals), None]))
