"""Many things at once: each stands alone, whatever becomes of the process that does it; nothing is lost or doubled."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from many.acts import act

from sheetgen.many.apart import Apart, Limits
from sheetgen.many.attempt import Attempt, CameTo, attempt
from sheetgen.many.workers import each_done, pool

ROOT = Path(__file__).parents[2]
LIMITS = Limits(seconds=2, megabytes=300)


@pytest.fixture(scope="module")
def apart() -> Iterator[Apart]:
    made = Apart(LIMITS)
    yield made
    made.end()


def test_a_process_is_kept_for_the_next_thing(apart: Apart) -> None:
    first, second = apart.do(act, "pid"), apart.do(act, "pid")
    assert first.value == second.value != os.getpid()
    assert apart.do(act, "square 12") == Attempt(CameTo.DONE, 144)


def test_what_is_printed_does_not_come_between_the_answers(apart: Apart, capfd: pytest.CaptureFixture[str]) -> None:
    assert apart.do(act, "prints word").value == "word"
    assert apart.do(act, "square 3").value == 9
    assert capfd.readouterr().out == ""


def test_what_goes_wrong_is_a_value(apart: Apart) -> None:
    refused = apart.do(act, "refuses")
    assert refused.came_to is CameTo.NOT_UNDERSTOOD
    assert refused.lines("hall.yaml") == ("hall.yaml:3:4: E101 Wrong. Put right.",)
    not_written = apart.do(act, "cannot_write")
    assert not_written.came_to is CameTo.NOT_WRITTEN
    assert not_written.lines("hall.yaml") == ("hall.pdf cannot be written: no room.",)
    fault = apart.do(act, "fault")
    assert fault.came_to is CameTo.FAULT
    (line,) = fault.lines("hall.yaml")
    assert line.startswith("hall.yaml: This is a fault of the program, not of your file.")
    assert "KeyError at acts.py:" in line and "in fault" in line and "\n" not in line


def test_what_runs_for_ever_is_ended(apart: Apart) -> None:
    begun = time.monotonic()
    came = apart.do(act, "for_ever")
    assert came.came_to is CameTo.OVER_LIMIT and time.monotonic() - begun < 10
    assert came.lines("a.yaml") == ("a.yaml: It takes more than 2 s, the time that a file is given.",)
    assert apart.do(act, "square 5").value == 25


@pytest.mark.skipif(sys.platform != "linux", reason="memory is bounded there only")
def test_what_eats_the_memory_is_ended(apart: Apart) -> None:
    before = apart.do(act, "pid").value
    came = apart.do(act, "eats")
    assert came.came_to is CameTo.OVER_LIMIT
    assert came.says == "It needs more memory than a file is given."
    assert apart.do(act, "pid").value != before, "what is left without memory is not to be relied on"


def test_what_falls_is_done_again_once(apart: Apart, tmp_path: Path) -> None:
    assert apart.do(act, f"falls_once {tmp_path / 'there'}").value == "done again"
    came = apart.do(act, "falls")
    assert came.came_to is CameTo.FAULT and "ended 2 times (by signal 9)" in came.says
    assert apart.do(act, "square 7").value == 49


def test_all_come_once_while_some_fall(tmp_path: Path) -> None:
    words = {n: f"square {n}" for n in range(40)}
    words |= {40: "falls", 41: "for_ever", 42: "refuses", 43: f"falls_once {tmp_path / 'there'}"}
    order = [41, 40, *range(40), 42, 43]
    with pool(2, Limits(seconds=5)) as workers:
        came = list(each_done(workers, act, ((n, words[n]) for n in order)))
    assert sorted(key for key, _ in came) == list(range(44))
    values = dict(came)
    assert [values[n].value for n in range(40)] == [n * n for n in range(40)]
    assert [values[n].came_to for n in (40, 41, 42, 43)] == [
        CameTo.FAULT, CameTo.OVER_LIMIT, CameTo.NOT_UNDERSTOOD, CameTo.DONE]
    assert came[-1][0] == 41, "one that runs for ever holds up no other"


def test_few_are_in_hand_at_once() -> None:
    taken = 0

    def things() -> Iterator[tuple[int, str]]:
        nonlocal taken
        for n in range(30):
            taken += 1
            yield n, f"square {n}"

    with pool(2, LIMITS) as workers:
        for number, _ in enumerate(each_done(workers, act, things()), 1):
            assert taken - number <= 4


def test_no_process_is_left_when_a_run_is_broken_off() -> None:
    with pytest.raises(KeyboardInterrupt), pool(1, Limits(seconds=60)) as workers:
        pid = next(iter(each_done(workers, act, iter([(0, "pid"), (1, "for_ever")]))))[1].value
        raise KeyboardInterrupt
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


def test_a_process_ends_when_the_one_that_asks_is_killed() -> None:
    script = ("import os, signal\nfrom many.acts import act\nfrom sheetgen.many.apart import Apart, Limits\n"
              "apart = Apart(Limits(seconds=60))\nprint(apart.do(act, 'pid').value, flush=True)\n"
              "os.kill(os.getpid(), signal.SIGKILL)\n")
    paths = os.pathsep.join([str(ROOT), str(ROOT / "tests")])
    done = subprocess.run([sys.executable, "-c", script], env={**os.environ, "PYTHONPATH": paths}, capture_output=True)
    pid = int(done.stdout)
    for _ in range(100):
        try:
            os.kill(pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.05)
    pytest.fail("it is still there")


def test_here_and_apart_come_to_the_same() -> None:
    assert attempt(lambda: act("refuses")).lines("a") == ("a:3:4: E101 Wrong. Put right.",)
    assert attempt(lambda: act("square 4")) == Attempt(CameTo.DONE, 16)
