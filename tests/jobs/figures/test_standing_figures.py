"""What a stage has earned and cost, and since when it is past its budget."""

import datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.figures.standing import (
    Cost,
    HourRate,
    cost_sum,
    earned_minor,
    earned_share,
    past_since,
    planned_minor,
    rate_on,
    spread,
    work_minor,
)
from materials.estimator.errors import EstimatorError, Missing

MONDAY = datetime.date(2026, 3, 2)


def day(number: int) -> datetime.date:
    return MONDAY + datetime.timedelta(days=number)


def test_each_step_and_the_passing_earn_alike():
    shares = [earned_share(passed=False, steps_done=done, steps=4) for done in range(5)]
    assert shares == [Decimal(done) / 5 for done in range(5)]
    assert earned_share(passed=True, steps_done=4, steps=4) == 1


def test_a_stage_without_steps_earns_when_it_passes():
    assert earned_share(passed=False, steps_done=0, steps=0) == 0
    assert earned_share(passed=True, steps_done=0, steps=0) == 1


def test_it_refuses_more_steps_done_than_there_are():
    with pytest.raises(EstimatorError, match="steps done is 3 steps; it must be between 0 and 2"):
        earned_share(passed=False, steps_done=3, steps=2)


def test_what_is_earned_is_rounded_once():
    assert earned_minor(1_000, Decimal(1) / 3) == 333
    assert earned_minor(5, Decimal("0.5")) == 3


def test_the_plan_runs_evenly_from_acceptance_to_the_end_of_the_programme():
    planned = [planned_minor(8_400, MONDAY, 84, day(number)) for number in (-3, 0, 21, 84, 200)]
    assert planned == [0, 0, 2_100, 8_400, 8_400]


def test_it_refuses_a_programme_of_no_days():
    with pytest.raises(EstimatorError, match="programme is 0 days; it must be between 1 and 10000"):
        planned_minor(100, MONDAY, 0, MONDAY)


def test_hours_cost_what_they_cost_on_their_day():
    rates = [HourRate(day(7), Decimal(3_600)), HourRate(day(0), Decimal(3_000))]
    assert [rate_on(rates, day(number)) for number in (0, 6, 7, 30)] == [3_000, 3_000, 3_600, 3_600]
    assert work_minor(90, rate_on(rates, day(7))) == 5_400
    assert work_minor(-90, rate_on(rates, day(0))) == -4_500


def test_it_refuses_a_day_before_any_rate():
    with pytest.raises(Missing, match="The cost of an hour on 2026-03-01 is missing"):
        rate_on([HourRate(MONDAY, Decimal(1))], day(-1))


@given(total=st.integers(0, 10**9), weights=st.lists(st.integers(0, 10**6), min_size=1, max_size=20))
def test_a_shared_line_is_parted_to_the_minor_unit(total: int, weights: list[int]):
    parts = spread(total, weights)
    assert sum(parts) == total
    assert all(part >= 0 for part in parts)


def test_a_shared_line_without_weights_is_borne_by_the_last():
    assert spread(700, [0, 0, 0]) == [0, 0, 700]
    assert spread(0, []) == []
    with pytest.raises(EstimatorError, match="700 has no stage to bear it"):
        spread(700, [])


def test_costs_add_up_by_sort():
    total = cost_sum([Cost(1, 20, 300), Cost(4, 50, 600)])
    assert (total, total.total_minor) == (Cost(5, 70, 900), 975)
    assert cost_sum([]) == Cost()


def test_a_limit_is_passed_on_the_day_the_sum_goes_above_it():
    dated = [(day(4), Decimal(10)), (day(0), Decimal(60)), (day(2), Decimal(40))]
    assert past_since(dated, Decimal(100)) == day(4)
    assert past_since(dated, Decimal(99)) == day(2)
    assert past_since(dated, Decimal(110)) is None


def test_what_is_taken_back_counts():
    dated = [(day(0), Decimal(120)), (day(1), Decimal(-30)), (day(2), Decimal(5))]
    assert past_since(dated, Decimal(100)) is None
    assert past_since([*dated, (day(9), Decimal(20))], Decimal(100)) == day(9)
    # Hours are taken back on their own day, so that the day never was past.
    assert past_since([(day(0), Decimal(120)), (day(0), Decimal(-120))], Decimal(100)) is None
