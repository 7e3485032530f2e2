"""The earth terminal and connectors stand where the fewest conductors cross, alike in all of a kind."""

from __future__ import annotations

from itertools import permutations, product

from hypothesis import given
from hypothesis import strategies as st
from layout.measure import at_random, by_method, crossings_of
from method_catalogue import Combination

from sheetgen.draw.layout import wiring_to_layout
from sheetgen.draw.layout.strips import _fewest
from sheetgen.model.accessory import Meant
from sheetgen.pipeline import wiring_of
from sheetgen.read.style_from_yaml import load_style

STYLE = load_style()
ENTRIES = st.lists(st.tuples(st.booleans(), st.just(False), st.lists(st.integers(0, 4), min_size=1, max_size=3)),
                   max_size=4)


def by_pairs(tops, lows) -> int:
    """Crossings of one half, from the strip outward: two cores cross where their order at the strip is wrong."""
    count = sum(x > y for i, a in enumerate(tops) for b in tops[i + 1:] for x, y in product(a, b))
    count += sum(x < y for i, a in enumerate(lows) for b in lows[i + 1:] for x, y in product(a, b))
    return count + sum(x > y for a, b in product(tops, lows) for x, y in product(a, b))


@given(ENTRIES)
def test_the_fewest_crossings_are_those_of_the_best_of_all_ways_in(entries):
    counts = []
    for order in permutations(entries):
        for sides in product((0, 1), repeat=len(order)):
            half = [[e for e, its in zip(order, sides, strict=True) if its == side] for side in (0, 1)]
            counts.append(sum(
                by_pairs([rows for up, _, rows in some if up], [rows for up, _, rows in some if not up])
                for some in half))
    assert _fewest(tuple((up, hangs, tuple(rows)) for up, hangs, rows in entries)) == min(counts)


def test_a_rose_that_is_fed_and_feeds_on_from_above_has_its_earth_over_its_blocks():
    """From below the flex then meets one core on its way to the neutral, where it met two."""
    wiring = wiring_of(Combination("at a joint box", "one-way", 1, False).text(3))
    for sheet in wiring_to_layout(wiring, STYLE).sheets:
        for place in sheet.accessories:
            if place.name in ("Room 1", "Room 2"):
                assert names_down(place) == ["E", "N", "SL"]


def names_down(place) -> list[str]:
    """The terminals of an accessory from top to bottom."""
    return [t.terminal for t in sorted(place.terminals, key=lambda t: t.frame.y)]


def test_roses_of_one_kind_are_alike_and_no_switch_has_anything_between_its_contacts():
    for _, wiring in (*list(by_method())[::20], *at_random()[::6]):
        kinds = {a.name: a.kind for a in wiring.accessories}
        earths: dict[str, set[int]] = {}
        for place in (p for sheet in wiring_to_layout(wiring, STYLE).sheets for p in sheet.accessories):
            kind = kinds[place.name]
            names = [n for n in names_down(place) if not kind.terminal(n).connector]
            earth = [i for i, n in enumerate(names) if kind.terminal(n).meant == Meant.EARTH]
            if len({t.frame.x for t in place.terminals}) == 1:
                earths.setdefault(kind.name, set()).update(earth)
                own = names_down(place)
                for switch in kind.switches:
                    contacts = {t for p in switch.positions for pair in p.joins for t in pair}
                    at = [i for i, n in enumerate(own) if n in contacts]
                    assert not at or {kind.terminal(n).meant for n in own[at[0]:at[-1]]} == {Meant.CONTACT}
        assert all(len(places) <= 1 for places in earths.values()), earths


def test_a_joint_box_has_one_crossing_where_the_order_of_its_names_would_make_two():
    wiring = wiring_of(Combination("at a joint box", "one-way", 1, False).text())
    (sheet,) = wiring_to_layout(wiring, STYLE).sheets
    assert sum(crossings_of(sheet).values()) == 1
