"""The take-off of a thousand sections, and how it grows."""

import gc
import math
import time

from tests.bench.table import Row

SIZES = (100, 1000)
ROUNDS = 15

SHAPES = (
    ("sphere", {"diameter": "1.6 m"}),
    ("ellipsoid", {"a": "1.1 m", "b": "0.55 m", "c": "1.5 m"}),
    ("superellipsoid", {"a": "0.5 m", "b": "0.5 m", "c": "0.9 m", "e1": 0.7, "e2": 1.1}),
    ("frustum", {"bottom_diameter": "1 m", "top_diameter": "0.6 m", "height": "1.2 m"}),
    ("box", {"length": "1 m", "width": "0.8 m", "height": "0.6 m"}),
    ("torus", {"ring_diameter": "1.2 m", "tube_diameter": "0.3 m"}),
)


def run() -> list[Row]:
    """CPU time of 1,000 sections, and of 1,000 over 100."""
    from materials.estimator.reference import studio_figures
    from materials.estimator.takeoff import take_off
    from materials.specfile import read_spec

    figures = studio_figures()
    took = {}
    jobs = {}
    for size in SIZES:
        sections = [
            {
                "name": f"Part {number}",
                "shape": SHAPES[number % len(SHAPES)][0],
                "dimensions": SHAPES[number % len(SHAPES)][1],
            }
            for number in range(size)
        ]
        jobs[size] = read_spec({"name": "Bench", "sections": sections}, defaults=figures)
        took[size] = math.inf
    # What was there before is not the take-off's: the collector would walk it again and again in the longer run only.
    gc.collect()
    gc.freeze()
    # The two sizes in turns, so that what else the machine does falls on both.
    for _ in range(ROUNDS):
        for size, job in jobs.items():
            before = time.thread_time()
            take_off(job)
            took[size] = min(took[size], time.thread_time() - before)
    gc.unfreeze()
    return [
        Row("take-off of 1,000 sections", took[1000], 1, "s CPU"),
        Row("1,000 sections over 100", took[1000] / took[100], 11, "×"),
    ]
