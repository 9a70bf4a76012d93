"""Booking hours, and taking them back.

Every entry comes under a key made where it was tapped, so that sending it again
books nothing more: the same key with the same content gives the same entry.
"""

import datetime
import uuid

from django.db import IntegrityError, transaction
from django.db.models import Sum
from django.utils import timezone

from jobs.models import CommissionState, HourEntry, Stage
from jobs.services.stages import begun_by_work
from studio.access import sees_money
from studio.accounts.models import User
from studio.once import KeyUsed, fingerprint

QUARTER = 15
LONGEST = 12 * 60
WHOLE_DAY = 24 * 60
DAYS_BACK = 31


class NotBooked(ValueError):
    """Hours that may not be booked or taken back; the sentence says why and what to do."""


@transaction.atomic
def book(
    *,
    by: User,
    person: User,
    stage: Stage,
    work_date: datetime.date,
    minutes: int,
    key: uuid.UUID,
    at: datetime.datetime,
) -> HourEntry:
    """Book somebody's quarter hours on a stage; the first of them begin it, where its turn has come."""
    mark = fingerprint({"person": person.pk, "stage": stage.pk, "day": work_date, "minutes": minutes})
    held = hold(person)
    before = _under(key, mark)
    if before is not None:
        return before
    _check_length(minutes)
    _check_day(work_date, timezone.localdate(at))
    _check_person(held)
    check_open(stage)
    _check_total(held, work_date, minutes)
    begun_by_work(by=by, stage=stage, at=at)
    return _kept(
        HourEntry(
            person=held, stage=stage, work_date=work_date, minutes=minutes, key=key, fingerprint=mark, booked_by=by
        )
    )


@transaction.atomic
def take_back(*, by: User, entry: HourEntry, key: uuid.UUID) -> HourEntry:
    """Book the reversal of a whole entry."""
    mark = fingerprint({"takes back": entry.pk})
    hold(entry.person)
    before = _under(key, mark)
    if before is not None:
        return before
    if not may_take_back(by, entry):
        raise NotBooked(f"Only {entry.person}, whoever booked it, or the office takes these hours back.")
    if entry.reverses_id is not None:
        raise NotBooked("This row takes other hours back already. Book the hours anew instead.")
    if HourEntry.objects.filter(reverses=entry).exists():
        raise NotBooked("These hours have been taken back already.")
    return _kept(
        HourEntry(
            person=entry.person,
            stage=entry.stage,
            work_date=entry.work_date,
            minutes=-entry.minutes,
            reverses=entry,
            key=key,
            fingerprint=mark,
            booked_by=by,
        )
    )


def may_take_back(person: User, entry: HourEntry) -> bool:
    """Whether somebody may take an entry back: whose hours they are, who booked them, the office."""
    return person.pk in (entry.person_id, entry.booked_by_id) or sees_money(person)


def hold(person: User) -> User:
    """Let nobody else book for this person until the transaction ends, on PostgreSQL; SQLite has one writer anyway."""
    return User.objects.select_for_update(no_key=True).get(pk=person.pk)


def check_open(stage: Stage) -> None:
    """Refuse a stage whose commission is not in hand."""
    commission = stage.commission
    if commission.state == CommissionState.ACCEPTED:
        return
    if commission.state == CommissionState.DONE:
        raise NotBooked(f"{commission} has been handed over; the office opens it again before hours go on it.")
    raise NotBooked(f"{commission} has no accepted quote yet; hours go on it once the office records the answer.")


def _check_length(minutes: int) -> None:
    if minutes % QUARTER or not QUARTER <= minutes <= LONGEST:
        raise NotBooked(f"{minutes} min was given; book quarter hours, from a quarter up to 12 h at a time.")


def _check_day(work_date: datetime.date, today: datetime.date) -> None:
    if work_date > today:
        raise NotBooked(f"{_spoken(work_date)} has not come yet. Look at the phone's date, then book the day worked.")
    if work_date < today - datetime.timedelta(days=DAYS_BACK):
        raise NotBooked(f"{_spoken(work_date)} is more than {DAYS_BACK} days back. Ask the office to look into it.")


def _check_person(person: User) -> None:
    if not person.is_active:
        raise NotBooked(f"{person} no longer signs in here. Choose who did the work.")


def _check_total(person: User, work_date: datetime.date, minutes: int) -> None:
    day = HourEntry.objects.filter(person=person, work_date=work_date).aggregate(total=Sum("minutes"))
    total = day["total"] or 0
    if total + minutes > WHOLE_DAY:
        raise NotBooked(
            f"{person} has {hours_text(total)} on {_spoken(work_date)} already, and a day has 24 h. "
            "Book less, or take back what is wrong."
        )


def _under(key: uuid.UUID, mark: str) -> HourEntry | None:
    found = HourEntry.objects.filter(key=key).first()
    if found is not None and found.fingerprint != mark:
        raise KeyUsed
    return found


def _kept(entry: HourEntry) -> HourEntry:
    """Save it; where another person's tap took the key at the same moment, answer as if it had come first."""
    try:
        with transaction.atomic():
            entry.save(force_insert=True)
    except IntegrityError:
        before = _under(entry.key, entry.fingerprint)
        if before is None:
            raise
        return before
    return entry


def _spoken(day: datetime.date) -> str:
    return f"{day:%A} {day.day} {day:%B}"


def hours_text(minutes: int) -> str:
    """Minutes as people say them, "1 h 15"."""
    sign, (whole, rest) = "−" if minutes < 0 else "", divmod(abs(minutes), 60)
    if not whole:
        return f"{sign}{rest} min"
    return f"{sign}{whole} h {rest:02}" if rest else f"{sign}{whole} h"
