"""What stands in the calendar of the studio, and of one person: holds, answers due, days promised, work due back.

A person's has what the plan in force gives them too, for some weeks.

It is read by calendars outside the house, so that no hour, cost, maker or firm is in it.
"""

import datetime
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.db.models import Q, QuerySet
from django.utils import timezone

from jobs.asked import Asked, put_before
from jobs.figures.activities import DELIVERY
from jobs.models import Clock, Commission, CommissionState, HourEntry, Publication, Stage, Step
from jobs.plans.reading import PlanSheet, Task
from jobs.queries.plans import in_force
from jobs.queries.stages import out_of_the_house
from studio.accounts.models import User

RECENT = datetime.timedelta(days=60)
PLANNED_DAYS = 28
"""How far ahead a person's calendar holds the plan; what lies further will be another by then."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry: all day where ``when`` is a day; the key stays the same for as long as the entry is about the same."""

    key: str
    when: datetime.date | datetime.datetime
    summary: str
    about: str = ""
    until: datetime.datetime | None = None


def entries_of(person: User | None, now: datetime.datetime) -> list[Entry]:
    """The entries of one person, or of the whole studio, in nine queries."""
    stages = Stage.objects.filter(commission__state=CommissionState.ACCEPTED)
    plan = in_force()
    sheet = PlanSheet(plan) if plan else None
    tasks = sheet.tasks_of(str(person), timezone.localdate(now), PLANNED_DAYS) if sheet and person else []
    if person is not None:
        stages = stages.filter(_worked_on_by(person, now) | _given(tasks))
    commissions = list(_commissions(person, stages))
    held = stages.filter(hold_until__gt=now).select_related("section", "commission").order_by("hold_until", "pk")
    asked = put_before(commissions, timezone.localdate(now))
    days = [*_days(commissions), *_site(commissions), *(_planned(commissions, sheet) if sheet else ())]
    return [*_work(tasks), *_holds(held), *_answers(asked, commissions), *days, *_due_back(commissions)]


def _worked_on_by(person: User, now: datetime.datetime) -> Q:
    """Whether somebody has booked on a stage lately, runs a clock on it, or did a step of it."""
    lately = now - RECENT
    booked = HourEntry.objects.filter(person=person, work_date__gte=lately.date())
    did = Step.objects.filter(done_by=person, done_at__gte=lately)
    on_it = Clock.objects.filter(person=person)
    return Q(pk__in=booked.values("stage")) | Q(pk__in=did.values("stage")) | Q(pk__in=on_it.values("stage"))


def _given(tasks: Sequence[Task]) -> Q:
    """Whether the plan gives it to somebody."""
    marks = (task.row.stage for task in tasks)
    # One more mould has no stage of its own, nor has an enquiry.
    return Q(pk__in={int(mark[1:]) for mark in marks if mark[:1] == "s" and mark[1:].isdecimal()})


def _work(tasks: Sequence[Task]) -> Iterator[Entry]:
    """What the plan gives somebody, from its beginning to its end."""
    for task in tasks:
        begins, ends = timezone.make_aware(task.row.begins), timezone.make_aware(task.row.ends)
        yield Entry(f"work-{task.row.id}", begins, f"{task.commission}: {task.row.called}", until=ends)


def _commissions(person: User | None, stages: QuerySet[Stage]) -> QuerySet[Commission]:
    found = Commission.objects.in_hand()
    return found if person is None else found.filter(pk__in=stages.order_by().values("commission"))


def _holds(stages: QuerySet[Stage]) -> Iterator[Entry]:
    for stage in stages:
        if stage.hold_until is not None:
            summary = f"{stage.commission.title}: {stage} may go on"
            yield Entry(f"hold-{stage.pk}", stage.hold_until, summary, stage.hold_reason)


def _answers(asked: Sequence[Asked], commissions: Sequence[Commission]) -> Iterator[Entry]:
    titles = {commission.pk: commission.title for commission in commissions}
    for each in asked:
        if each.is_awaited and each.answer_by is not None:
            yield Entry(each.key, each.answer_by, f"{titles[each.commission_id]}: an answer is due", each.what)


def _days(commissions: Sequence[Commission]) -> Iterator[Entry]:
    """The days that were published; where none was, the day it is needed."""
    told: dict[int, Publication] = {}
    for publication in Publication.objects.filter(commission__in=commissions).order_by("number"):
        told[publication.commission_id] = publication
    for commission in commissions:
        last = told.get(commission.pk)
        days = {"promised": last.promised_on, "expected": last.expected_on} if last else {}
        if not any(days.values()):
            days = {"needed": commission.due_by}
        for name, on in days.items():
            if on is not None:
                yield Entry(f"{name}-{commission.pk}", on, f"{commission.title}: {name}", commission.place)


def _site(commissions: Sequence[Commission]) -> Iterator[Entry]:
    """The first and the last day on which each site takes its work."""
    for commission in commissions:
        for name, on in (("from today", commission.site_from), ("until today", commission.site_until)):
            if on is not None:
                key = name.replace(" ", "-")
                yield Entry(f"site-{key}-{commission.pk}", on, f"{commission.title}: the site takes it {name}")


def _planned(commissions: Sequence[Commission], sheet: PlanSheet) -> Iterator[Entry]:
    """The days on which the plan in force has each delivered and done."""
    for commission in commissions:
        for row in sheet.rows_of(commission.pk):
            if row.key == DELIVERY:
                yield Entry(f"delivery-{commission.pk}", row.start.date(), f"{commission.title}: delivered by the plan")
        finish = sheet.finish_of(commission.pk)
        if finish is not None:
            yield Entry(f"planned-{commission.pk}", finish.finish, f"{commission.title}: done by the plan")


def _due_back(commissions: Sequence[Commission]) -> Iterator[Entry]:
    titles = {commission.pk: commission.title for commission in commissions}
    for work in out_of_the_house(commissions).select_related("stage__section"):
        if work.due_back is not None:
            what = f"{work.stage}, work" if work.stage else "work"
            yield Entry(f"back-{work.pk}", work.due_back, f"{titles[work.commission_id]}: {what} due back")
