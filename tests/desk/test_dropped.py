"""A newer text drops the work on an older one: at once, and without starting the worker anew."""

from __future__ import annotations

import asyncio
import os
import signal
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from houses import house

from sheetgen.desk.latest import Dropped, Latest

SHORT, LONG = house(1), house(90)  # the long one keeps a processor busy for seconds
OTHER = house(89)  # as long, and not known from the other


def done(work):
    """What came of it, in a loop of its own; another may be running in this thread."""
    with ThreadPoolExecutor(1) as pool:
        return pool.submit(asyncio.run, work).result(60)


def busy(latest: Latest) -> float:
    """Seconds that a worker has kept a processor busy."""
    words = Path(f"/proc/{latest._process.pid}/stat").read_text(encoding="ascii").rpartition(")")[2].split()
    return (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no /proc tells what a worker did")
@pytest.mark.parametrize("inherited", [signal.default_int_handler, signal.SIG_IGN])  # SIG_IGN: begun in the background
def test_what_is_being_drawn_is_dropped_for_the_newer_text_and_the_worker_stays(inherited):
    async def both() -> tuple[float, float, bool]:
        latest = Latest()
        await latest.judged(OTHER, {})
        before = busy(latest)
        await latest.drawn(OTHER, {})
        whole = busy(latest) - before
        await latest.judged(LONG, {})
        first, before = latest._process.pid, busy(latest)
        older = asyncio.create_task(latest.drawn(LONG, {}))
        while busy(latest) - before < 0.1:  # it is at work
            await asyncio.sleep(0.01)
        at_work = busy(latest)
        newer = await latest.judged(SHORT, {})
        with pytest.raises(Dropped):
            await older
        assert newer.whole and len(newer.lamps) == 1
        took = busy(latest) - at_work
        latest.stop()
        return took, whole, latest._process.pid == first

    handler = signal.signal(signal.SIGINT, inherited)
    try:
        took, whole, same = done(both())
    finally:
        signal.signal(signal.SIGINT, handler)
    assert same
    assert took < 0.8 * whole


def test_the_search_for_cures_gives_way_to_a_switch_and_is_still_answered():
    text = house(6).replace("[SL, L1]", "[SL, nothing]")

    async def both() -> tuple[bool, int]:
        latest = Latest()
        await latest.judged(text, {})
        cured = asyncio.create_task(latest.cured(text))
        await asyncio.sleep(0.05)
        before = await latest.judged(text, {"Switch 1": "on"})
        was_done = cured.done()
        found = (await cured).findings
        latest.stop()
        assert before.switches[0].stands == "on"
        return was_done, len(found)

    _, found = done(both())
    assert found > 0


def test_a_worker_that_is_gone_is_replaced():
    async def twice() -> int:
        latest = Latest()
        await latest.judged(SHORT, {})
        latest._process.terminate()
        latest._process.join(5)
        for _ in range(5):
            try:
                judged = await latest.judged(SHORT, {})
                break
            except (Dropped, OSError):
                await asyncio.sleep(0.1)
        latest.stop()
        return len(judged.lamps)

    assert done(twice()) == 1


def test_a_drawing_that_was_begun_is_the_one_that_is_given():
    async def both() -> tuple[str, str, str]:
        latest = Latest()
        await latest.judged(SHORT, {})
        latest.begin_drawing(SHORT, {"Switch 1": "on"})
        off = await latest.drawn(SHORT, {"Switch 1": "off"})  # another than was begun
        latest.begin_drawing(SHORT, {"Switch 1": "on"})
        begun = await latest.drawn(SHORT, {"Switch 1": "on"})
        asked = await latest.drawn(SHORT, {"Switch 1": "on"})
        latest.stop()
        return off.sheets[0], begun.sheets[0], asked.sheets[0]

    off, begun, asked = done(both())
    assert begun == asked
    assert 'data-lit="yes"' in begun and 'data-lit="yes"' not in off


def test_a_drawing_begun_for_an_older_text_is_not_given_for_the_newer():
    async def both() -> int:
        latest = Latest()
        await latest.judged(LONG, {})
        latest.begin_drawing(LONG, {})
        await asyncio.sleep(0.05)
        await latest.judged(SHORT, {})
        drawn = await latest.drawn(SHORT, {})
        latest.stop()
        return len(drawn.sheets)

    assert done(both()) == 1
