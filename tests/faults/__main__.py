"""Run what a workshop does to the program at its worst, for real, and print what was lost: ``python -m tests.faults``.

Each run drives a server process of its own over HTTP, on the embedded database
and on a PostgreSQL that is made for it. The exit code is 1 if an acknowledged
entry was lost, anything was booked twice, or a request was answered by an error.
"""

import signal
import sys
import time
from collections.abc import Callable, Sequence
from typing import Any

from tests.faults.backing_up import backed_up_meanwhile
from tests.faults.booking import PEOPLE, PHONES, everybody_at_once, killed, the_same_at_once
from tests.faults.cluster import cluster
from tests.faults.stores import racing_for_one_lot
from tests.faults.table import Row, table
from tests.real_server import RealStudio, real_studio

Run = Callable[[str, RealStudio, dict[str, Any]], Row]
ON_BOTH: tuple[Run, ...] = (everybody_at_once, the_same_at_once, racing_for_one_lot, backed_up_meanwhile)
CAST = str(PEOPLE + PHONES + 1)


def runs(name: str, studio: RealStudio, kinds: Sequence[Run]) -> list[Row]:
    """Each kind of run in turn, on one studio."""
    cast, found = studio.ask("people", CAST), []
    for kind in kinds:
        began = time.monotonic()
        found.append(kind(name, studio, cast))
        print(f"{found[-1].run}: {time.monotonic() - began:.0f} s", file=sys.stderr, flush=True)
    return found


def main() -> int:
    """Everything; 0 when nothing was lost."""
    with real_studio() as studio:
        rows = runs("SQLite", studio, (*ON_BOTH, killed))
    with cluster() as address, real_studio(database_url=address) as studio:
        rows += runs("PostgreSQL", studio, ON_BOTH)
    print(table(rows))
    return 0 if all(row.is_whole for row in rows) else 1


if __name__ == "__main__":
    # Asked to end, it still takes its servers with it.
    signal.signal(signal.SIGTERM, lambda number, frame: sys.exit(143))
    sys.exit(main())
