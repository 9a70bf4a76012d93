"""Changes to when people work and when they are away."""

import datetime
from collections.abc import Iterable, Sequence

from django.db import transaction

from jobs.models import Absence, CrewMember, StageTemplate
from studio.accounts.models import User
from studio.audit import record
from studio.locking import claim

SUBJECT = "people"


class NotAway(ValueError):
    """An absence that cannot be written down; the sentence says why."""


@transaction.atomic
def set_hours(
    *, by: User, person: User, version: int, hours: Sequence[float], stages: Iterable[StageTemplate]
) -> CrewMember:
    """Say what somebody works on each weekday and which stages they can do; no stage stands for every one."""
    member, _ = CrewMember.objects.get_or_create(person=person)
    claim(member, version)
    before = _in_words(member)
    member.hours = list(hours)
    member.save(update_fields=["hours"])
    member.stages.set(stages)
    record(actor=by, subject=SUBJECT, act=f"Working hours of {person}", before=before, after=_in_words(member))
    return member


@transaction.atomic
def add_absence(*, by: User, person: User, first: datetime.date, last: datetime.date, reason: str) -> Absence:
    """Write down that somebody is away; two absences of one person do not overlap."""
    there = Absence.objects.filter(person=person, first__lte=last, last__gte=first).first()
    if there is not None:
        raise NotAway(
            f"{person} is away from {there.first} to {there.last} already; remove that first, or change the days."
        )
    row = Absence.objects.create(person=person, first=first, last=last, reason=reason)
    record(actor=by, subject=SUBJECT, act=f"Away: {person}", after={"from": first, "to": last, "reason": reason})
    return row


@transaction.atomic
def remove_absence(*, by: User, absence: Absence) -> None:
    """Take an absence back."""
    before = {"from": absence.first, "to": absence.last, "reason": absence.reason}
    record(actor=by, subject=SUBJECT, act=f"Not away after all: {absence.person}", before=before)
    absence.delete()


def _in_words(member: CrewMember) -> dict[str, object]:
    return {"hours": member.hours, "stages": [str(stage) for stage in member.stages.all()]}
