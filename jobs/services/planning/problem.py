"""The whole studio as one problem for the solver."""

import datetime
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from jobs.figures.activities import BAYS, BOOTHS, Part, ToPlan, to_plan
from jobs.figures.crewing import Crew, Hand, crew_of
from jobs.figures.plan.pinning import pin
from jobs.figures.plan.problem import Activity, After, Away, Problem, Resource
from jobs.figures.todo import CommissionToDo
from jobs.figures.weather import OUTDOORS, courses, outdoors
from jobs.figures.workdays import PERIODS, Workdays, workdays
from jobs.models import Commission
from jobs.queries.plans import Estimated, in_force, local, waited_for
from jobs.services.planning.crew import hands, hired
from jobs.services.planning.enquiries import enquiry_to_do
from jobs.services.planning.gather import Circumstances, circumstances, commissions_to_do, mould_again
from jobs.services.planning.suppositions import (
    HIRE,
    ORDER,
    SECOND_MOULD,
    TAKE_ON,
    Supposition,
    saturdays,
    supposed,
)
from materials.queries.figures import studio_figures
from studio.office.models import House
from studio.office.public_holidays import from_day
from studio.office.queries import house

YEARS = 2
"""So long a plan may take, from the latest day that anything waits for."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of the solver, with what a reader has to know of it."""

    problem: Problem
    parts: Mapping[str, Part]
    commissions: Sequence[CommissionToDo]
    crew: Sequence[Hand]
    days: Workdays
    period_h: float
    weather: Mapping[str, Sequence[tuple[Away, ...]]]


def begins_on(now: datetime.datetime) -> datetime.date:
    """The day a plan begins: today, or from noon on the next."""
    return now.date() if now.hour < 12 else now.date() + datetime.timedelta(days=1)


def calendar_of(
    row: House, first: datetime.date, besides: Iterable[datetime.date] = (), waits: Iterable[datetime.date] = ()
) -> Workdays:
    """The studio's working days from a day on; ``waits`` are days that something waits for."""
    latest = max([first, *waits])
    off = {holiday.day for holiday in from_day(row.country, row.region, first, latest.year - first.year + YEARS + 1)}
    return workdays(
        first,
        weekdays=row.working_days,
        hours=float(row.hours_per_day),
        off=off,
        besides=frozenset(besides),
        weeks=(latest - first).days // 7 + 52 * YEARS,
    )


def asked(now: datetime.datetime, suppositions: Sequence[Supposition] = ()) -> Asked:
    """Put everything together that a plan from now on is worked out from; ``now`` is aware."""
    row, figures = house(), studio_figures()
    extra_days = saturdays(suppositions)
    commissions = list(Commission.objects.in_hand())
    days = calendar_of(row, begins_on(local(now)), extra_days, _waits(commissions, suppositions))
    around = circumstances(days, figures, now)
    to_do = commissions_to_do(commissions, around)
    to_do += [_enquiry(each, around) for each in suppositions if each.kind == TAKE_ON]
    for each in suppositions:
        to_do = [_supposed(work, each, around) for work in to_do]
    crew = hands(days, row, extra_days)
    crew += [person for each in suppositions if each.kind == HIRE for person in _hired(each, days)]
    period_h = float(row.hours_per_day) * figures.value("productive_share") / PERIODS
    keys = {stage.key for work in to_do for stage in work.stages}
    able = {key: sum(hand.does(key) for hand in crew) for key in keys}
    planned = [to_plan(work, period_h, PERIODS, able, around.doubts) for work in to_do]
    parts = {part.activity.id: part for plan in planned for part in plan.parts}
    problem = _problem(planned, crew, around)
    in_hand = [each for plan in planned for each in plan.in_hand]
    for each in suppositions:
        if each.kind == ORDER:
            problem = _in_order(problem, parts, each)
            in_hand = [own for own in in_hand if parts[own].stage != each.later]
    return Asked(
        problem=pin(problem, in_hand),
        parts=parts,
        commissions=to_do,
        crew=crew,
        days=days,
        period_h=period_h,
        weather={
            place.id: courses(days, around.winter, place.capacity)
            for place in problem.resources
            if place.id == OUTDOORS
        },
    )


def _waits(commissions: Sequence[Commission], suppositions: Sequence[Supposition]) -> list[datetime.date]:
    """The days that anything waits for, as it is and as it is supposed."""
    taken_on = Commission.objects.filter(pk__in=[int(each.commission) for each in suppositions if each.kind == TAKE_ON])
    supposed_days = [datetime.date.fromisoformat(each.site_from) for each in suppositions if each.site_from]
    return [*waited_for([*commissions, *taken_on]), *supposed_days]


def _problem(planned: Sequence[ToPlan], crew: Sequence[Hand], around: Circumstances) -> Problem:
    activities = [part.activity for plan in planned for part in plan.parts]
    people = crew_of(crew, [kind for activity in activities for kind in activity.needs])
    days, figures = around.days, around.figures
    shared = [Resource(BAYS, int(figures.value("plan_bays"))), Resource(BOOTHS, int(figures.value("plan_booths")))]
    stays = tuple(stay for plan in planned for stay in plan.stays)
    works = sum(stay.resource == OUTDOORS for stay in stays)
    if works:
        shared.append(outdoors(days, around.winter.likely, works))
    return Problem(
        calendar=days.calendar,
        resources=(*people.resources, *shared, *(place for plan in planned for place in plan.places)),
        activities=tuple(_with_people(activity, people) for activity in activities),
        stays=stays,
        commissions=tuple(plan.commission for plan in planned),
        published=_published((each.id for each in activities if not each.done), days),
    )


def _with_people(activity: Activity, people: Crew) -> Activity:
    needs = [people.needs(kind, count) for kind, count in activity.needs.items()]
    return replace(activity, needs={name: count for each in needs for name, count in each.items()})


def _enquiry(each: Supposition, around: Circumstances) -> CommissionToDo:
    return enquiry_to_do(Commission.objects.get(pk=int(each.commission)), Estimated.of(each.estimate), around)


def _supposed(work: CommissionToDo, each: Supposition, around: Circumstances) -> CommissionToDo:
    again = each.kind == SECOND_MOULD and each.commission == work.id
    return supposed(
        work,
        each,
        spraying_days=around.spraying_days,
        days=around.days,
        mould=mould_again(each.commission, each.section, around) if again else None,
    )


def _in_order(problem: Problem, parts: Mapping[str, Part], each: Supposition) -> Problem:
    """The problem with one stage begun only when another is worked through."""
    earlier = tuple(After(own) for own, part in parts.items() if part.stage == each.earlier)
    later = {own for own, part in parts.items() if part.stage == each.later and not part.activity.done}
    first = {own for own in later if not any(link.activity in later for link in parts[own].activity.after)}
    activities = tuple(
        replace(activity, after=(*activity.after, *earlier)) if activity.id in first else activity
        for activity in problem.activities
    )
    return replace(problem, activities=activities)


def _hired(each: Supposition, days: Workdays) -> list[Hand]:
    return [
        hired(days, name=f"Hired {number}", first=each.first_day, last=each.last_day, stages=())
        for number in range(1, each.people + 1)
    ]


def _published(parts: Iterable[str], days: Workdays) -> dict[str, int]:
    """When the plan in force begins what is still to be planned, in periods from now on."""
    plan = in_force()
    if plan is None:
        return {}
    known = set(parts)
    starts = {row["id"]: datetime.datetime.fromisoformat(row["start"]) for row in plan.result["rows"]}
    found = {own: days.calendar.first_from(days.minute_of(start)) for own, start in starts.items() if own in known}
    return {own: period for own, period in found.items() if days.minute_of(starts[own]) >= 0}
