"""Comparing two pieces of work on a machine that does other things too.

The tenth percentile of the thread's own CPU time, the two taken in turns in one
run, moved least under load of all the statistics tried.
"""

import time
from collections.abc import Callable


def cpu_p10_ratio(work: Callable[[], object], baseline: Callable[[], object], pairs: int) -> tuple[float, float]:
    """CPU time of ``work`` over that of ``baseline``, and the baseline's own in milliseconds."""
    times: tuple[list[float], list[float]] = ([], [])
    for act in (work, baseline):
        act()
    for _ in range(pairs):
        for act, kept in zip((work, baseline), times, strict=True):
            before = time.thread_time()
            act()
            kept.append(time.thread_time() - before)
    first, second = (sorted(kept)[len(kept) // 10] for kept in times)
    return first / second, second * 1000
