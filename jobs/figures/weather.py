"""What winter takes from outdoor work: quarters of days in which nobody gets on with it."""

import datetime
from math import floor

from jobs.figures.plan.problem import Away, Resource
from jobs.figures.threepoint import ThreePoint
from jobs.figures.workdays import PERIODS, Workdays

OUTDOORS = "outdoors"
WINTER = (11, 12, 1, 2, 3)
"""Months that take some; where winter falls otherwise the studio sets its allowance to nought."""
COURSES = 9
"""Winters told apart when chances are played through."""


def outdoors(days: Workdays, more: float, works: int) -> Resource:
    """Outdoors as a place of a plan, shut whenever winter stops the work.

    Quarters at the end of days are lost, when it is dark, cold and wet, in an even sequence that is the same from
    whichever day it is counted. Work waits for them and takes so much longer; its hours and its people stay.

    Parameters
    ----------
    days : Workdays
    more : float
        How much longer it takes in winter, share of its time [dimensionless].
    works : int
        How many works may be in hand outdoors at once [each].

    Returns
    -------
    Resource

    References
    ----------
    Common practice, no source.
    """
    lost_a_day = PERIODS * more / (1 + more)
    lost = []
    for number, day in enumerate(days.days):
        periods = _lost(day, lost_a_day)
        if periods:
            end = (number + 1) * PERIODS
            lost.append(Away(end - periods, end, works))
    return Resource(OUTDOORS, works, tuple(lost))


def courses(days: Workdays, more: ThreePoint, works: int) -> tuple[tuple[Away, ...], ...]:
    """Winters as they may come, each as likely as any other.

    Parameters
    ----------
    days : Workdays
    more : ThreePoint
        How much longer outdoor work takes in winter, share of its time [dimensionless].
    works : int
        How many works may be in hand outdoors at once [each].

    Returns
    -------
    tuple of tuple of Away
        When outdoors is shut in each.
    """
    shares = ((number + 0.5) / COURSES for number in range(COURSES))
    return tuple(outdoors(days, more.triangular_quantile(share), works).away for share in shares)


def _lost(day: datetime.date, a_day: float) -> int:
    if day.month not in WINTER:
        return 0
    counted = day.toordinal()
    return floor((counted + 1) * a_day) - floor(counted * a_day)
