"""By when a work is promised, and when the place where it will stand takes it: a crane, a closed road, a market."""

import datetime
from dataclasses import dataclass

from jobs.figures.plan.problem import Away
from jobs.figures.workdays import Workdays

_DAY = datetime.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Site:
    """When something may be delivered and stood up.

    Attributes
    ----------
    opens : int
        The first period in which it takes anything.
    shut : tuple of Away
        Periods in which it takes nothing.
    """

    opens: int = 0
    shut: tuple[Away, ...] = ()


@dataclass(frozen=True, slots=True)
class Promise:
    """The days that were agreed.

    Attributes
    ----------
    needed_by : date or None
    site_from, site_until : date or None
        The first and the last day on which the site takes it. The last is no rule of a plan: what comes after it is
        late, and a plan that is late is still one.
    shut : tuple of date
        Days on which the site takes nothing.
    """

    needed_by: datetime.date | None = None
    site_from: datetime.date | None = None
    site_until: datetime.date | None = None
    shut: tuple[datetime.date, ...] = ()

    @property
    def last_day(self) -> datetime.date | None:
        """The last day on which it is in time: the day it is needed by, or the last on which the site takes it."""
        return min((day for day in (self.needed_by, self.site_until) if day is not None), default=None)

    def due(self, days: Workdays) -> int | None:
        """The period by whose beginning everything has to be done.

        Parameters
        ----------
        days : Workdays

        Returns
        -------
        int or None
            None where nothing is promised.
        """
        return None if self.last_day is None else days.first_of(self.last_day + _DAY)

    def site(self, days: Workdays) -> Site:
        """The site in the periods of a plan.

        Parameters
        ----------
        days : Workdays

        Returns
        -------
        Site
        """
        spans = [(days.first_of(day), days.first_of(day + _DAY)) for day in sorted(set(self.shut))]
        shut = tuple(Away(start, end, 1) for start, end in spans if start < end)
        return Site(days.first_of(self.site_from) if self.site_from else 0, shut)
