"""Parse many files, each in a process of its own under the real limits, without starting Python anew each time.

Run as a program: a folder of numbered files in, one answer file and one line
of JSON (name, exit status, seconds) a file out.
"""

import json
import os
import signal
import sys
import time
from pathlib import Path

from materials.mesh import parsing

PATIENCE_S = 10.0
PROCESSOR_S = 6


def parse_one(path: Path) -> tuple[int, float]:
    """Parse in a fork; return its exit status, negative for a signal, and how long it took."""
    started = time.monotonic()
    child = os.fork()
    if child == 0:
        source = os.open(path, os.O_RDONLY)
        target = os.open(path.with_suffix(".answer"), os.O_RDWR | os.O_CREAT)
        try:
            parsing.serve(path.suffix[1:], source, target, PROCESSOR_S)
            os._exit(0)
        finally:
            os._exit(1)
    while True:
        ended, status = os.waitpid(child, os.WNOHANG)
        taken = time.monotonic() - started
        if ended:
            return os.waitstatus_to_exitcode(status), taken
        if taken > PATIENCE_S:
            os.kill(child, signal.SIGKILL)
        time.sleep(0.001)


def main() -> None:
    for kind in ("stl", "obj", "ply", "3mf", "glb"):
        parsing.parser_of(kind)
    for path in sorted(Path(sys.argv[1]).iterdir()):
        status, taken = parse_one(path)
        sys.stdout.write(json.dumps([path.name, status, taken]) + "\n")


if __name__ == "__main__":
    main()
