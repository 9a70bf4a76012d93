"""Doing a piece of work: claimed once, finished once, whatever happens to the process in between."""

import logging
import os
import socket
from collections.abc import Callable
from typing import Any

from django.db.models import F
from django.utils import timezone

from studio.tasks.kinds import handler_of
from studio.tasks.models import WHOLE, Work, WorkState
from studio.tasks.reporting import Cancelled, Failed, Pace, Report, own

BROKE_OFF = (
    "The work broke off, because the program has a fault in it. Try it once more; "
    "if it breaks off again, tell whoever looks after the program what was asked for."
)
NO_MEMORY = "The work needs more memory than this machine has. Make it smaller, and ask again."

log = logging.getLogger(__name__)


def perform(pk: int) -> None:
    """Do a piece of work here and now; where another worker has it already, nothing."""
    work = claim(pk)
    if work is not None:
        attempt(work)


def claim(pk: int) -> Work | None:
    """Take a piece of work that waits; None where it does not."""
    claimed = Work.objects.filter(pk=pk, state=WorkState.WAITING).update(
        state=WorkState.RUNNING,
        worker=worker_name(),
        attempts=F("attempts") + 1,
        heartbeat=timezone.now(),
        progress=0,
        step="",
    )
    return Work.objects.get(pk=pk) if claimed else None


def attempt(work: Work, tell: Callable[[Pace], None] | None = None) -> None:
    """Do a piece of work that was claimed, and write down what came of it."""
    try:
        result = handler_of(work.kind)(work, Report(work, tell))
    except Cancelled:
        finish(work, state=WorkState.CANCELLED)
    except Failed as failed:
        finish(work, state=WorkState.FAILED, problem=str(failed))
    except MemoryError:
        finish(work, state=WorkState.FAILED, problem=NO_MEMORY)
    except Exception:
        log.exception("Work %s (%s) broke off", work.pk, work.kind)
        finish(work, state=WorkState.FAILED, problem=BROKE_OFF)
    else:
        finish(work, state=WorkState.DONE, result=dict(result), progress=WHOLE, step="")


def finish(work: Work, **values: Any) -> None:
    """Close the attempt, while it is still the one that counts: what a silent worker says late does not."""
    Work.objects.filter(**own(work)).update(finished_at=timezone.now(), **values)


def worker_name() -> str:
    """This process, by machine and number."""
    return f"{socket.gethostname()}:{os.getpid()}"
