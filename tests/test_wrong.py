"""Every wrong file under tests/wrong/ says, in a comment on the line, the codes expected there, and no others come."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from sheetgen.model.problems import Refused
from sheetgen.pipeline import wiring_of

WRONG = sorted(Path(__file__).with_name("wrong").glob("*.yaml"))


def expected(data: bytes) -> Counter:
    """(line, code) for every code in a comment; 'file' in the comment means the file as a whole (any line)."""
    found: Counter = Counter()
    for number, line in enumerate(data.decode("latin-1").splitlines(), 1):
        comment = re.search(r"#((?: (?:file|E\d{3}))+)\s*$", line)
        if comment:
            words = comment[1].split()
            for code in words:
                if code != "file":
                    found[0 if "file" in words else number, code] += 1
    return found


@pytest.mark.parametrize("path", WRONG, ids=lambda p: p.stem)
def test_every_problem_is_said_at_once_on_its_line(path: Path) -> None:
    data = path.read_bytes()
    wanted = expected(data)
    assert wanted, "a wrong file says what is expected"
    with pytest.raises(Refused) as refused:
        wiring_of(data)
    whole_file = {code for line, code in wanted if line == 0}
    said = Counter((0 if p.code in whole_file else p.at.line, p.code) for p in refused.value.problems)
    assert said == wanted, "\n".join(p.text(path.name) for p in refused.value.problems)


@pytest.mark.parametrize("path", WRONG, ids=lambda p: p.stem)
def test_problems_are_sentences_in_file_order(path: Path) -> None:
    with pytest.raises(Refused) as refused:
        wiring_of(path.read_bytes())
    problems = refused.value.problems
    assert [p.at for p in problems] == sorted(p.at for p in problems)
    for problem in problems:
        assert problem.message.rstrip()[-1] in ".?", problem
        assert not problem.hint or problem.hint.rstrip()[-1] in ".?", problem


@pytest.mark.parametrize(
    ("wrong", "right", "offered"),
    [
        ("two-way switch, room: Hall}", "two-way swich, room: Hall}", "two-way switch"),
        ("accessories:", "acessories:", "accessories"),
        ("to: Hall,", "to: Hal,", "Hall"),
        ("[L, COM]", "[L, CON]", "COM"),
        ("brown:", "bronw:", "brown"),
        ("twin and earth 1.0", "twin and erth 1.0", "twin and earth"),
    ],
)
def test_the_nearest_right_word_is_offered(wrong: str, right: str, offered: str) -> None:
    good = (
        "job: J\naccessories:\n  Hall: {kind: two-way switch, room: Hall}\ncables:\n"
        "  W1: {type: twin and earth 1.0, from: way 1, to: Hall,\n"
        "       cores: {brown: [L, COM], blue: [N, L1], cpc: [E, E]}}\n"
    )
    wiring_of(good)
    with pytest.raises(Refused) as refused:
        wiring_of(good.replace(wrong, right))
    assert f"Did you mean '{offered}'?" in {p.hint for p in refused.value.problems}
