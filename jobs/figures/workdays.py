"""The working calendar: which days are worked, and quarters of them numbered as a plan counts."""

import datetime
from bisect import bisect_left
from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property

from jobs.figures.plan.calendar import Calendar
from materials.estimator.errors import EstimatorError

PERIODS = 4
"""A crew is not moved to other work more often than four times a day; common practice, no source."""
BEGINS = datetime.time(8)
"""When a day's work begins; holds over night are counted from it."""
_DAY = datetime.timedelta(days=1)
_DAY_MINUTES = 24 * 60


@dataclass(frozen=True)
class Workdays:
    """Working days from the first on, each in four periods.

    Attributes
    ----------
    days : tuple of date
        In order.
    hours : float
        Hours of a working day [h].
    """

    days: tuple[datetime.date, ...]
    hours: float

    @cached_property
    def calendar(self) -> Calendar:
        """The same as a plan counts it."""
        minutes = self.minutes
        first = self.days[0]
        clock = tuple(
            (day - first).days * _DAY_MINUTES + quarter * minutes for day in self.days for quarter in range(PERIODS)
        )
        return Calendar(clock, minutes)

    @property
    def minutes(self) -> int:
        """How long a period lasts [min]."""
        return int(self.hours * 60 / PERIODS)

    def first_of(self, day: datetime.date) -> int:
        """The first period of a day, or of the next day that is worked.

        Parameters
        ----------
        day : date

        Returns
        -------
        int
            0 for days before the first.
        """
        return bisect_left(self.days, day) * PERIODS

    def day_of(self, period: int) -> datetime.date:
        """The day a period lies in.

        Parameters
        ----------
        period : int
            Of the calendar.

        Returns
        -------
        date
        """
        return self.days[min(period // PERIODS, len(self.days) - 1)]

    def last_day(self, end: int) -> datetime.date:
        """The day on which work is over that ends as a period begins.

        Parameters
        ----------
        end : int
            The first period after it.

        Returns
        -------
        date
            The first day where it ends as the plan begins.
        """
        return self.day_of(max(0, end - 1))

    def at(self, minute: int) -> datetime.datetime:
        """The moment so many minutes from the beginning of the first day's work.

        Parameters
        ----------
        minute : int
            By the clock [min].

        Returns
        -------
        datetime
            In the workshop's own time, without a zone.
        """
        return datetime.datetime.combine(self.days[0], BEGINS) + datetime.timedelta(minutes=minute)

    def minute_of(self, moment: datetime.datetime) -> int:
        """How long after the beginning of the first day's work a moment is.

        Parameters
        ----------
        moment : datetime
            In the workshop's own time, without a zone.

        Returns
        -------
        int
            By the clock, below nought before it, rounded up [min].
        """
        seconds = (moment - datetime.datetime.combine(self.days[0], BEGINS)).total_seconds()
        return -int(-seconds // 60)


def workdays(
    first: datetime.date,
    *,
    weekdays: Collection[int],
    hours: float,
    off: Collection[datetime.date],
    besides: Collection[datetime.date] = (),
    weeks: int = 104,
) -> Workdays:
    """The days that are worked.

    Parameters
    ----------
    first : date
        Where to begin.
    weekdays : collection of int
        Monday is 0.
    hours : float
        Hours of a working day [h].
    off : collection of date
        Public holidays.
    besides : collection of date
        Days that are worked all the same, such as some Saturdays.
    weeks : int
        How far to go [week].

    Returns
    -------
    Workdays

    Raises
    ------
    EstimatorError
        Where no day is left to work on.

    References
    ----------
    Common practice, no source.
    """
    span = (first + number * _DAY for number in range(weeks * 7))
    free = frozenset(off)
    days = tuple(day for day in span if day in besides or (day.weekday() in weekdays and day not in free))
    if not days:
        message = "There is no working day to plan on; set the working days in the office, under the working week."
        raise EstimatorError("working days", "", message)
    return Workdays(days, hours)
