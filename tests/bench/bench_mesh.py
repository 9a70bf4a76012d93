"""Measuring a large model, cutting it twelve times, drawing it: against the bare work with the same libraries.

Every time is processor time, that of the parsing process included, the least of
several rounds, so that what else the machine does stays out of it.
"""

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from tests.bench.table import Row
from tests.materials.mesh import files, solids

ROUNDS = 7
RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])
# Peak memory of reading and measuring alone, and of the process that parses.
ALONE = """
import re, resource, sys
from pathlib import Path
from materials.mesh.measuring import first_look
from materials.mesh.reading import read_model
from materials.mesh.standing import placing_of
model = read_model(sys.argv[1])
first_look(model, placing_of(model, up="z", unit="m"))
print(int(re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]) / 1024)
print(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024)
"""


def cpu_s() -> float:
    """Processor time of this process and of those that it has ended [s]."""
    ended = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + ended.ru_utime + ended.ru_stime


def least(*acts: Callable[[], object]) -> list[float]:
    """The least processor time of each, taken in turns."""
    best = [float("inf")] * len(acts)
    for _ in range(ROUNDS):
        for index, act in enumerate(acts):
            before = cpu_s()
            act()
            best[index] = min(best[index], cpu_s() - before)
    return best


def measuring(path: Path) -> list[Row]:
    from materials.mesh.loading import load
    from materials.mesh.measuring import first_look, measure
    from materials.mesh.reading import read_model
    from materials.mesh.standing import placing_of

    def bare() -> tuple[float, float]:
        corners = np.fromfile(path, RECORD, offset=84)["corners"].astype(np.float64)
        a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
        normals = np.cross(b - a, c - a)
        return float(np.sqrt((normals * normals).sum(axis=1)).sum()) / 2, float((a * np.cross(b, c)).sum()) / 6

    def ours() -> object:
        model = read_model(path)
        return first_look(model, placing_of(model, up="z", unit="m"))

    def thorough() -> object:
        return measure(load(path, unit="m").tidied)

    bare_s, ours_s, thorough_s = least(bare, ours, thorough)
    done = subprocess.run([sys.executable, "-c", ALONE, str(path)], capture_output=True, text=True, check=True)
    own_mb, child_mb = (float(line) for line in done.stdout.split())
    triangles = path.stat().st_size // RECORD.itemsize
    note = f"{triangles:,} triangles, bare read and sums {bare_s:.3f} s"
    return [
        Row("measure a binary STL", ours_s / bare_s, 3, "×", note),
        Row("the same with every fault looked for", thorough_s / bare_s, None, "×", f"{thorough_s:.2f} s"),
        Row("peak memory, measuring", own_mb, None, "MB", "with the interpreter and its libraries"),
        Row("peak memory, parsing process", child_mb, None, "MB", "may use 1 GiB above its start"),
    ]


def cutting() -> Row:
    from manifold3d import Manifold, Mesh64

    from materials.mesh.cutting import cut
    from materials.mesh.planes import plane_at

    mesh = solids.figure(158)
    heights = [3.4 * part / 13 for part in range(1, 13)]
    planes = tuple(plane_at("z", height) for height in heights)

    def straight() -> int:
        rest = Manifold(Mesh64(mesh.vertices, mesh.faces.astype(np.uint64)))
        parts = []
        for height in heights:
            rest, below = rest.split_by_plane((0, 0, 1), height)
            parts.append(below)
        return sum(part.num_tri() for part in [*parts, rest])

    straight_s, ours_s = least(straight, lambda: cut(mesh, planes))
    note = f"{len(mesh.faces):,} triangles, straight {straight_s:.2f} s; with areas, volumes, centres and seams"
    return Row("12 parallel cuts", ours_s / straight_s, 1.5, "×", note)


def drawing() -> Row:
    from materials.mesh.drawing import outlines_of

    mesh = solids.figure(50)
    outlines_of(mesh)
    (took,) = least(lambda: outlines_of(mesh))
    return Row("front, side and plan drawn", took, 2, "s CPU", f"{len(mesh.faces):,} triangles")


def run() -> list[Row]:
    """Measure, cut and draw."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "large.stl"
        path.write_bytes(files.binary_stl(solids.loose(solids.figure(405))))
        rows = measuring(path)
    return [*rows, cutting(), drawing()]
