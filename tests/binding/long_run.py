"""Binds thousands of random circuits to PDF, by command, and counts what came of them.

    PYTHONPATH=.:tests python tests/binding/long_run.py --count 5000 --seed 1
"""

from __future__ import annotations

import argparse
import time
import traceback
from collections import Counter

from binding.big import LOOKS, any_wirings, job_of
from binding.test_any_circuit_is_bound import bound
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from sheetgen.model.problems import Refused
from sheetgen.pages.job_to_pages import job_to_pages
from sheetgen.print.pdf import info_of

BOUND = 10.0  # CPU seconds that a circuit may take


def run(count: int, first: int) -> Counter[str]:
    """Counts of bound, refused, failed and slow circuits, and of sheets."""
    counts: Counter[str] = Counter()

    @seed(first)
    @settings(max_examples=count, deadline=None, database=None, phases=[Phase.generate],
              suppress_health_check=list(HealthCheck))
    @given(any_wirings(), st.sampled_from(LOOKS))
    def one(wiring, look) -> None:
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
            counts[f"over {BOUND:g} s"] += 1

    one()
    return counts


def main() -> int:
    """Exit status 1 where any circuit failed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    counts = run(asked.count, asked.seed)
    for what, number in sorted(counts.items()):
        print(f"{number:7} {what}")
    return int(counts["FAILED"] > 0)


if __name__ == "__main__":
    raise SystemExit(main())
