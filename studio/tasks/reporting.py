"""How a handler says how far it is, and hears that it should stop.

Long steps say in advance how long they will take; between reports a thread
moves the bar by the clock and keeps the heartbeat.
"""

import math
import threading
import time
from types import TracebackType
from typing import Self

from django.db import DatabaseError, connection
from django.utils import timezone

from studio.tasks.models import WHOLE, Work, WorkState

TICK_SECONDS = 0.5


class Cancelled(Exception):
    """Somebody asked for the work to stop, or another worker has taken it over."""


class Failed(Exception):
    """The work cannot be done; the sentence says why and what to do."""


class Report:
    """One attempt's line to its row. ``ticking`` is for the worker; without it only reports are written."""

    def __init__(self, work: Work, *, ticking: bool) -> None:
        self._own = {"pk": work.pk, "state": WorkState.RUNNING, "worker": work.worker, "attempts": work.attempts}
        self._start, self._until, self._seconds, self._since, self._step = 0, 0, 1.0, time.monotonic(), ""
        self._stop = threading.Event()
        self._lock = threading.Lock()
        self._thread = threading.Thread(target=self._tick, daemon=True) if ticking else None

    def __enter__(self) -> Self:
        if self._thread:
            self._thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._stop.set()
        if self._thread:
            self._thread.join()

    def __call__(self, percent: float, step: str, *, until: float | None = None, seconds: float = 1.0) -> None:
        """Say what is being done now and how far the whole is.

        Until the next report the bar moves on towards ``until``, most of the way in about ``seconds``.
        Raises Cancelled where the work should stop.
        """
        with self._lock:
            self._start = round(percent * WHOLE / 100)
            self._until = self._start if until is None else round(until * WHOLE / 100)
            self._seconds, self._since, self._step = max(seconds, 0.1), time.monotonic(), step[:120]
        self.check()
        self._write()

    def check(self) -> None:
        """Raise Cancelled where the work should stop. Called in a transaction, it holds the row until its end."""
        asked = Work.objects.select_for_update().filter(**self._own) if connection.in_atomic_block else None
        rows = asked if asked is not None else Work.objects.filter(**self._own)
        if rows.values_list("cancel_asked", flat=True).first() is not False:
            raise Cancelled

    def _write(self) -> None:
        with self._lock:
            share = 1 - math.exp(-2 * (time.monotonic() - self._since) / self._seconds)
            progress = round(self._start + (self._until - self._start) * share)
            step = self._step
        Work.objects.filter(**self._own).update(progress=progress, step=step, heartbeat=timezone.now())

    def _tick(self) -> None:
        try:
            while not self._stop.wait(TICK_SECONDS):
                try:
                    self._write()
                except DatabaseError:
                    # A locked database: the next tick is half a second away.
                    connection.close()
        finally:
            connection.close()
