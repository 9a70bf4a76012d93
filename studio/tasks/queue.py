"""Putting work into the queue, stopping it, and taking up what a dead worker left."""

import datetime
import os
import socket
from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone
from django_tasks import task
from django_tasks.base import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from studio.accounts.models import User
from studio.tasks.models import Work, WorkState
from studio.tasks.reporting import own
from studio.tasks.running import claim
from studio.tasks.watching import watch

SILENT = datetime.timedelta(seconds=30)
MOST_ATTEMPTS = 3
DIED = "The work broke off three times, most likely for want of memory. Make it smaller, and ask again."


@transaction.atomic
def enqueue(*, kind: str, title: str, about: Mapping[str, Any], page: str, by: User) -> Work:
    """Put a piece of work into the queue. The worker sees it when the transaction is through."""
    work = Work.objects.create(kind=kind, title=title[:160], about=dict(about), page=page, started_by=by)
    _queue(work)
    return work


@transaction.atomic
def cancel(*, work: Work) -> None:
    """Stop work that waits at once, and ask for work in hand to stop."""
    Work.objects.filter(pk=work.pk, state=WorkState.WAITING).update(
        state=WorkState.CANCELLED, finished_at=timezone.now()
    )
    Work.objects.filter(pk=work.pk, state=WorkState.RUNNING).update(cancel_asked=True)


@task()
def run_work(pk: int) -> None:
    """What the queue holds: one attempt at a piece of work, in a process of its own."""
    work = claim(pk)
    if work is not None and not watch(work):
        put_back(work)


def requeue_stale() -> int:
    """Take up work whose worker is dead or silent, and work that the queue has lost; how many pieces that was."""
    taken = 0
    for work in Work.objects.filter(state=WorkState.RUNNING):
        if _is_silent(work) or _is_dead(work.worker):
            taken += put_back(work)
    for work in Work.objects.filter(state=WorkState.WAITING, created_at__lt=timezone.now() - SILENT):
        queued = DBTaskResult.objects.filter(pk=work.queued_as, status=TaskResultStatus.READY)
        if not queued.exists():
            _queue(work)
            taken += 1
    return taken


@transaction.atomic
def put_back(work: Work) -> int:
    """Let work that broke off wait again, unless it was to stop or has broken off too often; 1 if it was still due."""
    same = Work.objects.filter(**own(work))
    if same.filter(cancel_asked=True).exists():
        return same.update(state=WorkState.CANCELLED, finished_at=timezone.now())
    if work.attempts >= MOST_ATTEMPTS:
        return same.update(state=WorkState.FAILED, problem=DIED, finished_at=timezone.now())
    rows = same.update(state=WorkState.WAITING, progress=0, step="", worker="")
    if rows:
        DBTaskResult.objects.filter(pk=work.queued_as, status=TaskResultStatus.RUNNING).delete()
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
