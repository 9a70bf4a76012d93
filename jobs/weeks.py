"""Hours by the week: days across, stages down, a table a person."""

import datetime
from dataclasses import dataclass, field

from jobs.queries.hours import DaySum

DAYS = 7
_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Week:
    """An ISO week."""

    first: datetime.date

    @property
    def days(self) -> list[datetime.date]:
        """Monday to Sunday."""
        return [self.first + back * _DAY for back in range(DAYS)]

    @property
    def last(self) -> datetime.date:
        """Its Sunday."""
        return self.days[-1]

    @property
    def text(self) -> str:
        """As an address says it, "2026-W48"."""
        year, week, _ = self.first.isocalendar()
        return f"{year}-W{week:02}"

    @property
    def before(self) -> str:
        """The week before, as an address says it."""
        return Week(self.first - DAYS * _DAY).text

    @property
    def after(self) -> str:
        """The week after, as an address says it."""
        return Week(self.first + DAYS * _DAY).text


Days = list[tuple[datetime.date, int]]


@dataclass(frozen=True, slots=True)
class Row:
    """One stage over the week, in minutes."""

    week: Week
    commission: str
    stage: str
    days: list[int]

    @property
    def by_day(self) -> Days:
        """Minutes of each day."""
        return list(zip(self.week.days, self.days, strict=True))

    @property
    def total(self) -> int:
        """Minutes of the week."""
        return sum(self.days)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One person's week."""

    week: Week
    person_id: int
    person: str
    rows: list[Row] = field(default_factory=list)

    @property
    def by_day(self) -> Days:
        """Minutes of each day, all stages together."""
        return [(day, sum(row.days[number] for row in self.rows)) for number, day in enumerate(self.week.days)]

    @property
    def total(self) -> int:
        """Minutes of the week."""
        return sum(row.total for row in self.rows)


def week_of(day: datetime.date) -> Week:
    """The week a day lies in."""
    return Week(day - day.weekday() * _DAY)


def read_week(typed: str, today: datetime.date) -> Week:
    """The week an address names, or this one."""
    try:
        first = datetime.datetime.strptime(f"{typed}-1", "%G-W%V-%u").date()  # noqa: DTZ007 - a date alone
    except ValueError:
        return week_of(today)
    # The week before the calendar's first and the one after its last cannot be named.
    return Week(first) if 2000 <= first.year <= today.year + 1 else week_of(today)


def sheets(sums: list[DaySum], week: Week) -> list[Sheet]:
    """The sums as tables, in the order in which they came."""
    found: dict[int, Sheet] = {}
    rows: dict[tuple[int, int], Row] = {}
    for each in sums:
        sheet = found.setdefault(each.person_id, Sheet(week, each.person_id, each.person))
        key = (each.person_id, each.stage_id)
        if key not in rows:
            row = Row(week, f"{each.number} {each.title}", f"{each.section}, {each.stage.lower()}", [0] * DAYS)
            rows[key] = row
            sheet.rows.append(row)
        rows[key].days[(each.day - week.first).days] += each.minutes
    return list(found.values())
