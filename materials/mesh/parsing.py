"""What runs in the parsing process: one model from standard input, one answer into a file, within limits.

The process is started by ``reading`` for one file and ended after it. Once
everything it needs is loaded it lowers its own limits: memory to 1 GiB above
what it holds at that point, processor time, the size of its answer, and the
number of open files to those already open, so that from then on it can reach
neither another file nor the network.
"""

import json
import os
import resource
import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path

import numpy as np

from materials.mesh.formats.parsed import MAX_BYTES, Parsed, Refusal

Parser = Callable[[bytes], Parsed]

# What each format needs loaded before the limits, which forbid loading later; the first holds its parser.
_MODULES = {
    "stl": ("materials.mesh.formats.stl",),
    "obj": ("materials.mesh.formats.obj", "manifold3d"),
    "ply": ("materials.mesh.formats.ply", "manifold3d"),
    "3mf": ("materials.mesh.formats.threemf",),
    "glb": ("materials.mesh.formats.glb",),
}
MEMORY_BYTES = 1024**3
_ANSWER_BYTES = 256 * 1024**2
_TOO_BIG = (
    "Reading the file needs more memory than is allowed; reduce the model in the modelling program and export it again."
)
_BROKEN = "The file cannot be read as a model; export it again, best as binary STL."


def parser_of(kind: str) -> Parser:
    """Load what a format needs and return its parser.

    Parameters
    ----------
    kind : str
        The file's ending, "stl".

    Returns
    -------
    callable
        Bytes in, Parsed out.
    """
    module, *_ = [import_module(name) for name in _MODULES[kind]]
    parser: Parser = module.parse
    return parser


def limit(processor_seconds: int) -> None:
    """Lower this process's limits for good.

    Parameters
    ----------
    processor_seconds : int
        Processor time from now on [s].
    """
    pages = int(Path("/proc/self/statm").read_text().split()[0])
    memory = pages * os.sysconf("SC_PAGE_SIZE") + MEMORY_BYTES
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    resource.setrlimit(resource.RLIMIT_CPU, (processor_seconds, processor_seconds))
    resource.setrlimit(resource.RLIMIT_FSIZE, (_ANSWER_BYTES, _ANSWER_BYTES))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    files = max(int(name) for name in os.listdir("/proc/self/fd") if os.path.exists(f"/proc/self/fd/{name}")) + 1
    resource.setrlimit(resource.RLIMIT_NOFILE, (files, files))


def answer(parser: Parser, data: bytes) -> tuple[dict[str, object], list[memoryview]]:
    """Parse, and say what was found or why not: a head and the arrays' bytes.

    Parameters
    ----------
    parser : callable
    data : bytes
        The whole file.

    Returns
    -------
    tuple of (dict, list of memoryview)
        What is said of the arrays, or the refusal, and the arrays.
    """
    try:
        with np.errstate(all="ignore"):
            parsed = parser(data)
    except Refusal as refusal:
        return {"refusal": str(refusal)}, []
    except MemoryError:
        return {"refusal": _TOO_BIG}, []
    except Exception:
        # The last resort against a file nobody thought of: one sentence instead of a traceback.
        return {"refusal": _BROKEN}, []
    head: dict[str, object] = {
        "points": len(parsed.points),
        "kind": parsed.points.dtype.str[1:],
        "faces": None if parsed.faces is None else len(parsed.faces),
        "unit": parsed.unit,
        "up": parsed.up,
    }
    arrays = [parsed.points] if parsed.faces is None else [parsed.points, parsed.faces]
    return head, [np.ascontiguousarray(array).reshape(-1).view(np.uint8).data for array in arrays]


def serve(kind: str, source: int, target: int, processor_seconds: int) -> None:
    """Parse the file open at ``source`` and write the answer into the one open at ``target``.

    Parameters
    ----------
    kind : str
        The file's ending, "stl".
    source, target : int
        Open file descriptors [dimensionless].
    processor_seconds : int
        Processor time [s].
    """
    parser = parser_of(kind)
    limit(processor_seconds)
    with open(source, "rb", closefd=False) as file:
        data = file.read(MAX_BYTES + 1)
    head, parts = answer(parser, data)
    with open(target, "wb", buffering=0, closefd=False) as file:
        line = json.dumps(head).encode()
        # The arrays start on a boundary that numpy can read in place.
        line += b" " * (-(len(line) + 4) % 64)
        file.write(len(line).to_bytes(4, "little") + line)
        for part in parts:
            written = 0
            while written < len(part):
                written += file.write(part[written:])


def main() -> None:
    """Entry of the process: format, the answer's file descriptor, processor seconds."""
    serve(sys.argv[-3], 0, int(sys.argv[-2]), int(sys.argv[-1]))
