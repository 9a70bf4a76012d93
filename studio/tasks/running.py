"""Putting work into the queue, doing it, stopping it, and taking up what a dead worker left."""

import datetime
import logging
import os
import socket
from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import F
from django.utils import timezone
from django_tasks import task
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from studio.accounts.models import User
from studio.tasks.kinds import handler_of
from studio.tasks.models import WHOLE, Work, WorkState
from studio.tasks.reporting import Cancelled, Failed, Report

SILENT = datetime.timedelta(seconds=30)
MOST_ATTEMPTS = 3
BROKE_OFF = (
    "The work broke off, because the program has a fault in it. Try it once more; "
    "if it breaks off again, send the file to whoever looks after the program."
)
NO_MEMORY = "The work needs more memory than this machine has. Reduce the model and send it again."
DIED = "The work broke off three times, most likely for want of memory. Reduce the model and send it again."

log = logging.getLogger(__name__)


@transaction.atomic
def enqueue(*, kind: str, title: str, about: Mapping[str, Any], page: str, by: User) -> Work:
    """Put a piece of work into the queue. The worker sees it when the transaction is through."""
    work = Work.objects.create(kind=kind, title=title[:160], about=dict(about), page=page, started_by=by)
    _queue(work)
    return work


@transaction.atomic
def cancel(*, work: Work) -> None:
    """Stop work that waits at once, and work in hand at its next report."""
    Work.objects.filter(pk=work.pk, state=WorkState.WAITING).update(
        state=WorkState.CANCELLED, finished_at=timezone.now()
    )
    Work.objects.filter(pk=work.pk, state=WorkState.RUNNING).update(cancel_asked=True)


@task()
def run_work(pk: int) -> None:
    """What the queue holds: one attempt at a piece of work."""
    perform(pk, ticking=True)


def perform(pk: int, *, ticking: bool = False) -> None:
    """Do a piece of work that waits; where another worker has it already, nothing."""
    claimed = Work.objects.filter(pk=pk, state=WorkState.WAITING).update(
        state=WorkState.RUNNING,
        worker=worker_name(),
        attempts=F("attempts") + 1,
        heartbeat=timezone.now(),
        progress=0,
        step="",
    )
    if not claimed:
        return
    work = Work.objects.get(pk=pk)
    try:
        with Report(work, ticking=ticking) as report:
            result = handler_of(work.kind)(work, report)
    except Cancelled:
        _finish(work, state=WorkState.CANCELLED)
    except Failed as failed:
        _finish(work, state=WorkState.FAILED, problem=str(failed))
    except MemoryError:
        _finish(work, state=WorkState.FAILED, problem=NO_MEMORY)
    except Exception:
        log.exception("Work %s (%s) broke off", work.pk, work.kind)
        _finish(work, state=WorkState.FAILED, problem=BROKE_OFF)
    else:
        _finish(work, state=WorkState.DONE, result=dict(result), progress=WHOLE, step="")


def worker_name() -> str:
    """This process, by machine and number."""
    return f"{socket.gethostname()}:{os.getpid()}"


def requeue_stale() -> int:
    """Take up work whose worker is dead or silent, and work that the queue has lost; how many pieces that was."""
    taken = 0
    for work in Work.objects.filter(state=WorkState.RUNNING):
        if not _is_silent(work) and not _is_dead(work.worker):
            continue
        taken += _put_back(work)
    for work in Work.objects.filter(state=WorkState.WAITING, created_at__lt=timezone.now() - SILENT):
        queued = DBTaskResult.objects.filter(pk=work.queued_as, status=TaskResultStatus.READY)
        if not queued.exists():
            _queue(work)
            taken += 1
    return taken


@transaction.atomic
def _put_back(work: Work) -> int:
    same = Work.objects.filter(pk=work.pk, state=WorkState.RUNNING, worker=work.worker, attempts=work.attempts)
    if work.cancel_asked:
        return same.update(state=WorkState.CANCELLED, finished_at=timezone.now())
    if work.attempts >= MOST_ATTEMPTS:
        return same.update(state=WorkState.FAILED, problem=DIED, finished_at=timezone.now())
    rows = same.update(state=WorkState.WAITING, progress=0, step="", worker="")
    if rows:
        DBTaskResult.objects.filter(pk=work.queued_as).delete()
        _queue(work)
    return rows


def _queue(work: Work) -> None:
    work.queued_as = str(run_work.enqueue(work.pk).id)
    work.save(update_fields=["queued_as"])


def _is_silent(work: Work) -> bool:
    return work.heartbeat is None or work.heartbeat < timezone.now() - SILENT


def _is_dead(worker: str) -> bool:
    """Whether the worker ran on this machine and its process is gone; of another machine only its silence tells."""
    host, _, number = worker.rpartition(":")
    if host != socket.gethostname() or not number.isdecimal():
        return False
    try:
        os.kill(int(number), 0)
    except ProcessLookupError:
        return True
    except PermissionError:
        return False
    return False


def _finish(work: Work, **values: Any) -> None:
    # Only while the attempt is still this one: what a silent worker says late no longer counts.
    Work.objects.filter(pk=work.pk, state=WorkState.RUNNING, worker=work.worker, attempts=work.attempts).update(
        finished_at=timezone.now(), **values
    )
