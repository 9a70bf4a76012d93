"""One attempt in a process of its own, watched from the worker.

Work on a model holds the interpreter for seconds at a time, and may take all
the memory there is. Apart from it the worker keeps the bar and the heartbeat
moving, ends the work the moment somebody asks, and outlives it.
"""

import os
import select
import subprocess
import sys
import time

from django.db import DatabaseError, connection

from studio.tasks.models import Work, WorkState
from studio.tasks.reporting import Pace, own, pace_of, write
from studio.tasks.running import finish

TICK_SECONDS = 0.4
_LINE_BYTES = 65536


def watch(work: Work) -> bool:
    """Have the attempt made, until it ends or is to stop; False where it broke off without a word."""
    # The same program as the worker's own, so that the same apps have registered their kinds.
    command = [sys.executable, os.path.abspath(sys.argv[0]), "attempt", str(work.pk), str(work.attempts)]
    source, sink = os.pipe()
    try:
        child = subprocess.Popen(command, stdin=subprocess.DEVNULL, stdout=sink)
        os.close(sink)
        try:
            stopped = not _until_it_ends(work, child, source)
        finally:
            child.kill()
            child.wait()
    finally:
        os.close(source)
    if stopped:
        finish(work, state=WorkState.CANCELLED)
    return not Work.objects.filter(**own(work)).exists()


def _until_it_ends(work: Work, child: "subprocess.Popen[bytes]", source: int) -> bool:
    """Keep bar and heartbeat moving; False when the work should stop."""
    attempt, pace, rest = own(work), Pace(0, 20, 2.0, "Starting"), b""
    open_still = True
    while child.poll() is None:
        if open_still and select.select([source], [], [], TICK_SECONDS)[0]:
            told = os.read(source, _LINE_BYTES)
            open_still = bool(told)
            *lines, rest = (rest + told).split(b"\n")
            if lines:
                pace = pace_of(lines[-1])
        elif not open_still:
            time.sleep(TICK_SECONDS)
        try:
            if not write(attempt, pace) or Work.objects.filter(**attempt, cancel_asked=True).exists():
                # What has just been finished is not to be stopped.
                return not Work.objects.filter(**attempt).exists()
        except DatabaseError:
            # A locked database: the next tick is not far.
            connection.close()
    return True
