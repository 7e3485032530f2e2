"""Binds thousands of random circuits to PDF, by command, and counts what came of them.

    PYTHONPATH=.:tests python tests/binding/long_run.py --count 5000 --seed 1 --minutes 60

Each is bound or refused by the layout, within the bounds. The counts stand at the end, as a table for a note. The same
seed gives the same circuits.
"""

from __future__ import annotations

import argparse
import resource
import time
import traceback
from collections import Counter

from binding.big import LOOKS, any_wirings, job_of
from binding.test_any_circuit_is_bound import bound
from circuits import wirings
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from sheetgen.model.problems import Refused
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.print.pdf import info_of

BOUND = 10.0  # CPU seconds that a circuit may take
MOST_MEMORY = 500  # MB that the process may take at any time
NEVER = ("FAILED", f"over {BOUND:g} CPU s", f"over {MOST_MEMORY} MB")


def memory() -> int:
    """The most that the process has taken so far, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024


def run(count: int, first: int, minutes: float = float("inf"), small: bool = False) -> Counter[str]:
    """Counts of bound, refused and failed circuits, of those beyond a bound, and of sheets; `small`: of houses of up
    to three rooms, with mistakes, alone."""
    counts: Counter[str] = Counter(dict.fromkeys(NEVER, 0))
    most, end = MOST_MEMORY, time.monotonic() + 60 * minutes

    @seed(first)
    @settings(max_examples=count, deadline=None, database=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))
    @given(wirings() if small else any_wirings(), st.sampled_from(LOOKS))
    def one(wiring, look) -> None:
        nonlocal most
        if time.monotonic() > end:
            return
        start = time.process_time()
        counts["circuits"] += 1
        counts["largest, in accessories"] = max(counts["largest, in accessories"], len(wiring.accessories))
        try:
            job = job_of(wiring, look)
            counts["sheets"] += bound(job_to_pages(job), look, info_of(job))
            counts["bound"] += 1
        except Refused:
            counts["refused by the layout"] += 1
        except Exception:
            counts["FAILED"] += 1
            print(f"circuit {counts['circuits']} of seed {first}:", traceback.format_exc(limit=-6), flush=True)
        if time.process_time() - start > BOUND:
            counts[NEVER[1]] += 1
            print(f"circuit {counts['circuits']} of seed {first}: {time.process_time() - start:.1f} CPU s", flush=True)
        if memory() > most:
            most = memory()
            counts[NEVER[2]] += 1
            print(f"circuit {counts['circuits']} of seed {first}: {most} MB", flush=True)

    one()
    return counts


def main() -> int:
    """Exit status 1 where any circuit failed or took more than it may."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--minutes", type=float, default=float("inf"), help="no new circuit is begun after these")
    parser.add_argument("--small", action="store_true", help="houses of up to three rooms, with mistakes, alone")
    asked = parser.parse_args()
    began = time.process_time()
    counts = run(asked.count, asked.seed, asked.minutes, asked.small)
    for what, number in sorted(counts.items()):
        print(f"{number:9,} {what}")
    print(f"{time.process_time() - began:9,.0f} CPU s, at most {memory()} MB; seed {asked.seed}")
    return int(any(counts[what] for what in NEVER))


if __name__ == "__main__":
    raise SystemExit(main())
