"""One attempt at a piece of work, for the worker that claimed it and reads what is told here."""

import ctypes
import os
import signal
import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from studio.tasks.models import Work, WorkState
from studio.tasks.reporting import Pace
from studio.tasks.running import attempt

NICE = 10
_PR_SET_PDEATHSIG = 1


class Command(BaseCommand):
    """``manage.py attempt``, which only the worker calls."""

    help = "Make one attempt at a piece of work. The worker starts this itself."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        """Which piece of work, and which attempt at it."""
        parser.add_argument("pk", type=int)
        parser.add_argument("attempts", type=int)

    def handle(self, *args: Any, **options: Any) -> None:
        """Do the work, unless it is no longer this attempt's."""
        # Pages, and the worker's word on how far it is, come first on a machine of two cores.
        os.nice(NICE)
        if sys.platform == "linux":
            # A worker that is killed cannot end this process itself.
            ctypes.CDLL(None).prctl(_PR_SET_PDEATHSIG, signal.SIGKILL)
        work = Work.objects.filter(pk=options["pk"], attempts=options["attempts"], state=WorkState.RUNNING).first()
        if work is not None:
            attempt(work, _tell)


def _tell(pace: Pace) -> None:
    os.write(sys.stdout.fileno(), pace.line())
