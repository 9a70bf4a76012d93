"""Clocks: started and stopped by the server's time, so that a phone may die meanwhile.

A clock that ran into another day, or for longer than anybody works, has been
forgotten. When it was left is asked, never guessed.
"""

import datetime
import uuid

from django.db import transaction
from django.utils import timezone

from jobs.models import Clock, HourEntry, Stage
from jobs.services.hours import LONGEST, QUARTER, NotBooked, book, check_open, hold
from studio.accounts.models import User
from studio.audit import record

_KEYS = uuid.UUID("6e2c2a4e-3f0c-5c0a-9a37-0d5a8f1c7b42")
_QUARTER = datetime.timedelta(minutes=QUARTER)


class Forgotten(NotBooked):
    """The clock ran on after work ended; when it was stopped has to be said."""


@transaction.atomic
def start(*, person: User, stage: Stage, at: datetime.datetime) -> Clock:
    """Start somebody's clock on a stage. Starting the one that runs already changes nothing."""
    held = hold(person)
    check_open(stage)
    running = Clock.objects.select_related("stage__section").filter(person=held).first()
    if running is None:
        return Clock.objects.create(person=held, stage=stage, started_at=at)
    if running.stage_id != stage.pk:
        raise NotBooked(f"A clock runs for {held} on {running.stage}. Stop that one first.")
    return running


@transaction.atomic
def stop(
    *, by: User, person: User, clock_id: int, at: datetime.datetime, left_at: datetime.datetime | None = None
) -> HourEntry:
    """Stop a clock and book its time, to the nearest quarter hour and at least one.

    ``left_at`` is when work ended, for a clock that was forgotten. Stopping twice books once.
    """
    held = hold(person)
    key = uuid.uuid5(_KEYS, str(clock_id))
    booked = HourEntry.objects.filter(key=key, person=held).first()
    if booked is not None:
        return booked
    clock = _running(held, clock_id)
    end = _end(clock, at, left_at)
    started = timezone.localdate(clock.started_at)
    entry = book(
        by=by,
        person=held,
        stage=clock.stage,
        work_date=started,
        minutes=_quarters(end - clock.started_at),
        key=key,
        at=at,
    )
    clock.delete()
    return entry


@transaction.atomic
def drop(*, by: User, person: User, clock_id: int) -> None:
    """Take a clock away without booking anything."""
    held = hold(person)
    clock = _running(held, clock_id)
    started = timezone.localtime(clock.started_at)
    record(
        actor=by,
        subject=clock.stage.commission.subject,
        act=f"Clock of {held} thrown away",
        before={"stage": str(clock.stage), "started": f"{started:%Y-%m-%d %H:%M}"},
    )
    clock.delete()


def is_forgotten(clock: Clock, at: datetime.datetime) -> bool:
    """Whether a clock ran into another day, or for longer than may be booked at a time."""
    if timezone.localdate(clock.started_at) != timezone.localdate(at):
        return True
    return _quarters(at - clock.started_at) > LONGEST


def quarter_marks(clock: Clock, at: datetime.datetime) -> list[datetime.datetime]:
    """The quarter hours by the wall clock at which a forgotten clock may have been left."""
    last = min(at, clock.started_at + datetime.timedelta(minutes=LONGEST))
    past = clock.started_at.timestamp() % _QUARTER.total_seconds()
    mark = clock.started_at + _QUARTER - datetime.timedelta(seconds=past)
    found = []
    while mark <= last:
        found.append(timezone.localtime(mark))
        mark += _QUARTER
    return found


def _running(person: User, clock_id: int) -> Clock:
    found = Clock.objects.select_related("stage__commission", "stage__section").filter(pk=clock_id, person=person)
    clock = found.first()
    if clock is None:
        raise NotBooked(f"This clock of {person}'s no longer runs. Start another, or book the hours.")
    return clock


def _end(clock: Clock, at: datetime.datetime, left_at: datetime.datetime | None) -> datetime.datetime:
    if not is_forgotten(clock, at):
        return at
    if left_at is None:
        raise Forgotten("The clock ran on after work ended. Choose when you stopped.")
    if left_at not in quarter_marks(clock, at):
        raise Forgotten("Choose one of the quarter hours shown, up to 12 h after the start.")
    return left_at


def _quarters(worked: datetime.timedelta) -> int:
    return max(1, int(worked / _QUARTER + 0.5)) * QUARTER
