"""Random circuits, program against oracle. The long run: `python -m tests.oracle.run --circuits 10000`."""

from __future__ import annotations

import pytest

from oracle.run import Tally, tally

pytestmark = pytest.mark.xdist_group("oracle")  # one process: they are worked out once
CIRCUITS = 50
ONCE_WRONG = (406830, 408383, 500230, 506232, 608342)  # met by a long run, and mended


@pytest.fixture(scope="module")
def met() -> Tally:
    return tally((*range(CIRCUITS), *ONCE_WRONG))


def kinds(met: Tally, *begin: str) -> dict[str, tuple[int, int, str]]:
    return {kind: met.smallest[kind] for kind in met.circuits_with if kind.startswith(begin)}


def test_nothing_crashes(met: Tally):
    assert met.circuits == CIRCUITS + len(ONCE_WRONG)
    assert kinds(met, "crash") == {}


def test_states_of_loads_and_terminals_and_shorts(met: Tally):
    assert kinds(met, "state", "condition", "terminal", "short") == {}


def test_a_short_puts_out_everything_on_its_way(met: Tally):
    assert kinds(met, "lit") == {}


def test_roles_and_sleeves_go_by_the_current(met: Tally):
    assert kinds(met, "role", "sleeve") == {}


def test_dangers_are_told_and_none_is_made_up(met: Tally):
    assert kinds(met, "danger") == {}


def test_every_cure_is_carried_out_and_harms_nothing(met: Tally):
    assert met.cures > 0
    assert kinds(met, "cure") == {}
