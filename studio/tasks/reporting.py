"""How a handler says how far it is, and hears that it should stop."""

import json
import time
from collections.abc import Callable
from dataclasses import asdict, dataclass, field

from django.db import connection
from django.utils import timezone

from studio.tasks.models import WHOLE, Work, WorkState


class Cancelled(Exception):
    """Somebody asked for the work to stop, or another worker has taken it over."""


class Failed(Exception):
    """The work cannot be done; the sentence says why and what to do."""


@dataclass(frozen=True, slots=True)
class Pace:
    """Where the bar stands at a report, and how it moves on by the clock until the next."""

    start: int
    until: int
    seconds: float
    step: str
    since: float = field(default_factory=time.monotonic)

    def progress(self) -> int:
        """Where the bar is by now, in thousandths: most of the way after ``seconds``, and never beyond."""
        past = (time.monotonic() - self.since) / self.seconds
        return round(self.start + (self.until - self.start) * 2 * past / (1 + 2 * past))

    def words(self) -> str:
        """What is being done, and for how long: where a step outlasts its guess, the seconds go on all the same."""
        past = time.monotonic() - self.since
        return f"{self.step}, {past:.1f} s" if past >= 1 else self.step

    def line(self) -> bytes:
        """The pace as one process tells it to another; each reckons by its own clock."""
        told = asdict(self)
        del told["since"]
        return json.dumps(told).encode() + b"\n"


def pace_of(line: bytes) -> Pace:
    """The pace that another process told."""
    return Pace(**json.loads(line))


class Report:
    """One attempt's line to its row; with ``tell``, to the process that keeps the row."""

    def __init__(self, work: Work, tell: Callable[[Pace], None] | None = None) -> None:
        self._own = own(work)
        self._tell = tell or self._write

    def __call__(self, percent: float, step: str, *, until: float | None = None, seconds: float = 1.0) -> None:
        """Say what is being done now and how far the whole is.

        Until the next report the bar moves on towards ``until``, most of the way in about ``seconds``.
        Raises Cancelled where the work should stop.
        """
        start = round(percent * WHOLE / 100)
        end = start if until is None else round(until * WHOLE / 100)
        self.check()
        self._tell(Pace(start, end, max(seconds, 0.1), step[:100]))

    def check(self) -> None:
        """Raise Cancelled where the work should stop. Called in a transaction, it holds the row until its end."""
        rows = Work.objects.filter(**self._own)
        if connection.in_atomic_block:
            rows = rows.select_for_update()
        if rows.values_list("cancel_asked", flat=True).first() is not False:
            raise Cancelled

    def _write(self, pace: Pace) -> None:
        write(self._own, pace)


def own(work: Work) -> dict[str, object]:
    """What the row has to be for this attempt still to be the one that counts."""
    return {"pk": work.pk, "state": WorkState.RUNNING, "worker": work.worker, "attempts": work.attempts}


def write(attempt: dict[str, object], pace: Pace) -> bool:
    """Put the bar and the heartbeat into the row; False where the attempt no longer counts."""
    rows = Work.objects.filter(**attempt)
    return bool(rows.update(progress=pace.progress(), step=pace.words(), heartbeat=timezone.now()))
