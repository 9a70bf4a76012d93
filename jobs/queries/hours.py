"""Named reads of hours: what was booked, by whom, on what."""

import datetime
import uuid
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db.models import Max, QuerySet, Sum

from jobs.models import Clock, CommissionState, HourEntry, Stage
from studio.accounts.models import Role, User

LATELY = datetime.timedelta(days=60)


def bookable_stages() -> QuerySet[Stage]:
    """Every stage that hours may be booked on, as the board orders them."""
    found = Stage.objects.filter(commission__state=CommissionState.ACCEPTED)
    return found.select_related("commission", "section").order_by(
        "-commission__number", "section__position", "position"
    )


def crew() -> list[User]:
    """Everybody who may sign in, the bench first."""
    active = User.objects.filter(is_active=True).order_by("shown_name")
    return sorted(active, key=lambda person: person.role != Role.BENCH)


def entry_under(key: uuid.UUID) -> HourEntry | None:
    """The entry that was booked under a key, if there is one."""
    return HourEntry.objects.select_related("person", "stage__section", "stage__commission").filter(key=key).first()


def clock_of(person: User) -> Clock | None:
    """The clock that runs for somebody, if one does."""
    found = Clock.objects.select_related("person", "stage__section", "stage__commission")
    return found.filter(person=person).first()


def lately(people: Iterable[User], today: datetime.date, most: int) -> dict[int, list[int]]:
    """For each person the stages they booked on of late, the latest first; in one query."""
    rows = (
        HourEntry.objects.filter(work_date__gte=today - LATELY, stage__commission__state=CommissionState.ACCEPTED)
        .values("person", "stage")
        .annotate(last=Max("pk"), minutes=Sum("minutes"))
        .filter(minutes__gt=0)
        .order_by("-last")
    )
    found: dict[int, list[int]] = {person.pk: [] for person in people}
    for row in rows:
        stages = found.get(row["person"])
        if stages is not None and len(stages) < most:
            stages.append(row["stage"])
    return found


def minutes_on(days: Collection[datetime.date]) -> dict[tuple[int, datetime.date], int]:
    """Minutes of each person on each of these days, what was taken back taken off; in one query."""
    rows = HourEntry.objects.filter(work_date__in=days).values("person", "work_date").annotate(total=Sum("minutes"))
    return {(row["person"], row["work_date"]): row["total"] for row in rows.order_by()}


def booked_minutes(stages: QuerySet[Stage]) -> dict[int, int]:
    """Minutes booked on each of these stages, what was taken back taken off; in one query."""
    rows = HourEntry.objects.filter(stage__in=stages).values("stage").annotate(total=Sum("minutes")).order_by()
    return {row["stage"]: row["total"] for row in rows}


@dataclass(frozen=True, slots=True)
class DaySum:
    """Minutes of one person on one stage on one day."""

    person_id: int
    person: str
    stage_id: int
    number: str
    title: str
    section: str
    stage: str
    day: datetime.date
    minutes: int


def day_sums(first: datetime.date, last: datetime.date, person: User | None = None) -> list[DaySum]:
    """What was worked in these days, by person, day and stage, without what cancels out; in one query."""
    rows = HourEntry.objects.filter(work_date__range=(first, last))
    if person is not None:
        rows = rows.filter(person=person)
    found = (
        rows.values(
            *("person", "person__shown_name", "stage", "stage__commission__number", "stage__commission__title"),
            *("stage__section__name", "stage__name", "work_date"),
        )
        .annotate(total=Sum("minutes"))
        .filter(total__gt=0)
        .order_by(
            *("person__shown_name", "person", "work_date", "stage__commission__number"),
            *("stage__section__position", "stage__position", "stage"),
        )
    )
    return [
        DaySum(
            person_id=row["person"],
            person=row["person__shown_name"],
            stage_id=row["stage"],
            number=row["stage__commission__number"],
            title=row["stage__commission__title"],
            section=row["stage__section__name"] or "Whole",
            stage=row["stage__name"],
            day=row["work_date"],
            minutes=row["total"],
        )
        for row in found
    ]


def entries_between(person: User, first: datetime.date, last: datetime.date) -> list[HourEntry]:
    """Every row of somebody's ledger in these days, the latest first, with what took it back; in one query."""
    found = HourEntry.objects.filter(person=person, work_date__range=(first, last))
    joined = found.select_related("stage__section", "stage__commission", "booked_by", "reversed_by", "reverses")
    return list(joined.order_by("-work_date", "-pk"))
