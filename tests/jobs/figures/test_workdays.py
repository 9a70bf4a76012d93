"""Working days in quarters, against a calendar on the wall."""

import datetime

import pytest

from jobs.figures.workdays import workdays
from materials.estimator.errors import EstimatorError

D = datetime.date
WEEK = (0, 1, 2, 3, 4)
# Thursday 24 December 2026; Christmas Day is a Friday, and Boxing Day, a Saturday, is kept on Monday the 28th.
EVE = D(2026, 12, 24)
CHRISTMAS = {D(2026, 12, 25), D(2026, 12, 28)}


def test_holidays_and_weekends_have_no_period() -> None:
    days = workdays(EVE, weekdays=WEEK, hours=8, off=CHRISTMAS, weeks=2)
    assert days.days[:3] == (D(2026, 12, 24), D(2026, 12, 29), D(2026, 12, 30))
    assert days.minutes == 120
    assert days.first_of(D(2026, 12, 26)) == 4
    assert days.first_of(D(2026, 12, 1)) == 0
    assert (days.day_of(3), days.day_of(4)) == (EVE, D(2026, 12, 29))
    # Work that ends as period 4 begins was over on Christmas Eve.
    assert days.last_day(4) == EVE


def test_a_hold_over_christmas_costs_no_working_day() -> None:
    calendar = workdays(EVE, weekdays=WEEK, hours=8, off=CHRISTMAS, weeks=2).calendar
    # Laid up until four o'clock on Christmas Eve, three days in the mould end on Sunday.
    assert calendar.first_from(calendar.over(0, 4) + 72 * 60) == 4


def test_a_night_covers_sixteen_hours_and_no_more() -> None:
    calendar = workdays(D(2026, 11, 23), weekdays=WEEK, hours=8, off=(), weeks=2).calendar
    assert calendar.first_from(calendar.over(0, 4) + 16 * 60) == 4
    assert calendar.first_from(calendar.over(0, 4) + 17 * 60) == 5


def test_some_saturdays_may_be_worked() -> None:
    days = workdays(D(2026, 11, 27), weekdays=WEEK, hours=8, off=(), besides={D(2026, 11, 28)}, weeks=1)
    assert days.days[:3] == (D(2026, 11, 27), D(2026, 11, 28), D(2026, 11, 30))


def test_moments_go_both_ways() -> None:
    days = workdays(EVE, weekdays=WEEK, hours=7.5, off=CHRISTMAS, weeks=2)
    nine = datetime.datetime.combine(D(2026, 12, 29), datetime.time(9, 30))
    assert days.at(days.minute_of(nine)) == nine
    assert days.minute_of(datetime.datetime.combine(EVE, datetime.time(7))) == -60


def test_no_working_day_is_refused() -> None:
    with pytest.raises(EstimatorError, match="no working day"):
        workdays(EVE, weekdays=(), hours=8, off=())
