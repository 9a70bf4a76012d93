"""The program with a slow kind of work: it writes a line at each attempt, and is slow at the first only."""

import os
import sys
import time
from pathlib import Path

import django
from django.core.management import call_command

django.setup()

from studio.tasks.kinds import register  # noqa: E402 - after the apps are ready
from studio.tasks.models import Work  # noqa: E402
from studio.tasks.reporting import Report  # noqa: E402


def slow(work: Work, report: Report) -> dict[str, int]:
    with Path(os.environ["ATTEMPTS"]).open("a") as file:
        file.write(f"{work.attempts}\n")
    report(10, "Sleeping", until=90, seconds=60)
    if work.attempts == 1:
        time.sleep(60)
    return {"attempts": work.attempts}


register("slow", slow)
call_command(*sys.argv[1:])
