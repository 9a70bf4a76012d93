"""Who is there to work, when, and on which stages."""

import datetime
from collections.abc import Collection, Iterable, Mapping, Sequence

from jobs.figures.crewing import Hand
from jobs.figures.plan.problem import Away
from jobs.figures.workdays import PERIODS, Workdays
from jobs.models import Absence, CrewMember
from jobs.queries.plans import absences, crew_members, people_at_work
from studio.accounts.models import User
from studio.office.models import House


def usual_hours(row: House) -> list[float]:
    """The hours of each weekday of somebody who works the studio's week."""
    return [float(row.hours_per_day) if weekday in row.working_days else 0.0 for weekday in range(7)]


def hands(days: Workdays, row: House, besides: Collection[datetime.date] = ()) -> list[Hand]:
    """Everybody who is planned with, in four queries; on ``besides`` everybody is there for the day."""
    members, gone = crew_members(), _by_person(absences(days.days[0]))
    return [
        _hand(person, members.get(person.pk), gone.get(person.pk, ()), days, row, besides)
        for person in people_at_work()
    ]


def hired(days: Workdays, *, name: str, first: datetime.date, last: datetime.date, stages: Iterable[str]) -> Hand:
    """Somebody who is there from one day to another alone."""
    begin, end = days.first_of(first), days.first_of(last + datetime.timedelta(days=1))
    horizon = len(days.days) * PERIODS
    away = tuple(Away(*span, 1) for span in ((0, begin), (end, horizon)) if span[0] < span[1])
    return Hand(name, name, frozenset(stages), away)


def _hand(
    person: User,
    member: CrewMember | None,
    gone: Sequence[Absence],
    days: Workdays,
    row: House,
    besides: Collection[datetime.date],
) -> Hand:
    hours = member.hours if member else usual_hours(row)
    there = [_periods(day, hours, float(row.hours_per_day), gone, besides) for day in days.days]
    stages = frozenset(stage.key for stage in member.stages.all()) if member else frozenset()
    return Hand(str(person.pk), str(person), stages, _away(there))


def _periods(
    day: datetime.date, hours: Sequence[float], full: float, gone: Sequence[Absence], besides: Collection[datetime.date]
) -> int:
    """How many periods of a day somebody is there; short days end early."""
    # Whoever is away until Friday does not come in on Saturday.
    away_from = day - datetime.timedelta(days=1) if day in besides else day
    if any(absence.first <= day and absence.last >= away_from for absence in gone):
        return 0
    if day in besides:
        return PERIODS
    return min(PERIODS, round(PERIODS * hours[day.weekday()] / full))


def _away(there: Sequence[int]) -> tuple[Away, ...]:
    """The times between presences, days that touch taken together."""
    found: list[Away] = []
    for number, periods in enumerate(there):
        start, end = number * PERIODS + periods, (number + 1) * PERIODS
        if start == end:
            continue
        if found and found[-1].end == start:
            start = found.pop().start
        found.append(Away(start, end, 1))
    return tuple(found)


def _by_person(rows: Iterable[Absence]) -> Mapping[int, list[Absence]]:
    found: dict[int, list[Absence]] = {}
    for row in rows:
        found.setdefault(row.person_id, []).append(row)
    return found
