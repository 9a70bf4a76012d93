"""Do the background work, one piece after another."""

import os
import signal
import threading
import time
from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandParser
from django.db import DatabaseError, connection

from studio.tasks.queue import requeue_stale

REQUEUE_SECONDS = 60
LOOK_SECONDS = 1


class Command(BaseCommand):
    """``manage.py worker``; ``serve`` starts one beside the server."""

    help = "Do background work until stopped."

    def add_arguments(self, parser: CommandParser) -> None:
        """Whether to end with the process that started it."""
        parser.add_argument("--with-parent", action="store_true", help="End when the process that started it ends.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Take up what a dead worker left, then work."""
        call_command("prune_db_task_results", min_age_days=7, verbosity=0)
        requeue_stale()
        parent = os.getppid() if options["with_parent"] else None
        threading.Thread(target=_mind, args=(parent,), daemon=True).start()
        call_command("db_worker", interval=0.5, reload=False, startup_delay=False, verbosity=0)


def _mind(parent: int | None) -> None:
    """Look for stale work every minute, and end the worker when its parent is gone, however that ended."""
    looked = time.monotonic()
    while True:
        time.sleep(LOOK_SECONDS)
        if parent is not None and os.getppid() != parent:
            os.kill(os.getpid(), signal.SIGTERM)
            return
        if time.monotonic() - looked > REQUEUE_SECONDS:
            looked = time.monotonic()
            try:
                requeue_stale()
            except DatabaseError:
                # Locked or away: the next look is a minute off.
                pass
            finally:
                connection.close()
