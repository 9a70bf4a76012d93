"""Holds at the workshop's temperature, and moments as people say them."""

import datetime
import math

import pytest

from jobs.figures.cure import Cold, hold_hours
from jobs.figures.moments import day_words, moment_words, span_words
from materials.estimator.errors import EstimatorError, OutOfRange

# Common practice, no source: twice as long below 15 °C, nothing below 10 °C.
USUAL = Cold(usual_c=20.0, slow_below_c=15.0, stop_below_c=10.0, factor=2.0)


@pytest.mark.parametrize(
    ("temperature_c", "hours"), [(20.0, 24.0), (15.0, 24.0), (14.9, 48.0), (10.0, 48.0), (30.0, 24.0)]
)
def test_a_cure_takes_twice_as_long_below_fifteen_degrees(temperature_c: float, hours: float) -> None:
    assert hold_hours(24.0, slower_when_cold=True, temperature_c=temperature_c, cold=USUAL) == hours


def test_what_does_not_cure_lasts_alike_in_the_cold() -> None:
    assert hold_hours(24.0, slower_when_cold=False, temperature_c=4.0, cold=USUAL) == 24.0


def test_it_refuses_to_cure_below_ten_degrees() -> None:
    with pytest.raises(OutOfRange, match="warm the workshop"):
        hold_hours(24.0, slower_when_cold=True, temperature_c=9.9, cold=USUAL)


@pytest.mark.parametrize("temperature_c", [-40.0, 60.0, math.nan, math.inf])
def test_it_refuses_a_temperature_that_is_not_credible(temperature_c: float) -> None:
    with pytest.raises(EstimatorError):
        hold_hours(24.0, slower_when_cold=False, temperature_c=temperature_c, cold=USUAL)


@pytest.mark.parametrize("hours", [-1.0, math.nan])
def test_it_refuses_a_hold_that_is_no_length_of_time(hours: float) -> None:
    with pytest.raises(EstimatorError):
        hold_hours(hours, slower_when_cold=True, temperature_c=20.0, cold=USUAL)


def test_cold_never_shortens_a_cure() -> None:
    cold = Cold(usual_c=20.0, slow_below_c=15.0, stop_below_c=10.0, factor=0.5)
    with pytest.raises(OutOfRange, match="lengthening"):
        hold_hours(24.0, slower_when_cold=True, temperature_c=12.0, cold=cold)


def test_a_moment_has_its_weekday() -> None:
    assert moment_words(datetime.datetime(2026, 11, 26, 14, 5)) == "Thu 26 Nov 14:05"  # noqa: DTZ001 - already local
    assert day_words(datetime.date(2026, 3, 2)) == "2 Mar"


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.2, "1 min"), (59, "59 min"), (60, "1 h"), (320, "5 h 20 min"), (1440, "1 day"), (3120, "2 days 4 h")],
)
def test_what_is_left_is_said_in_days_hours_and_minutes(minutes: float, words: str) -> None:
    assert span_words(datetime.timedelta(minutes=minutes)) == words
