"""Forecasts at the edges: nothing spent, nothing earned, all of it done."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.figures.forecast import EarnedValue, forecasts, usual
from materials.estimator.errors import EstimatorError


def at_completion(value: EarnedValue) -> list[int | None]:
    return [each.at_completion_minor for each in forecasts(value)]


def test_before_anything_is_spent_only_the_plan_can_be_told():
    value = EarnedValue(10_000, 0, 0, 0)
    assert at_completion(value) == [10_000, None, None]
    assert value.cost_index is None
    assert value.schedule_index is None
    assert usual(forecasts(value)).key == "as_planned"


def test_spent_without_anything_earned_gives_no_pace():
    value = EarnedValue(10_000, 2_000, 0, 1_500)
    assert at_completion(value) == [11_500, None, None]
    assert value.cost_index == 0


def test_before_the_programme_begins_there_is_a_cost_but_no_pace():
    assert at_completion(EarnedValue(10_000, 0, 1_000, 2_000)) == [11_000, 20_000, None]


def test_past_the_budget_nothing_can_bring_it_back():
    assert EarnedValue(10_000, 10_000, 8_000, 10_000).to_complete_index is None


@given(budget=st.integers(1, 10**9), spent=st.integers(1, 10**9), planned=st.floats(0.01, 1))
def test_when_all_is_done_every_forecast_is_what_it_cost(budget: int, spent: int, planned: float):
    value = EarnedValue(budget, max(1, int(budget * planned)), budget, spent)
    # One minor unit, for the index has 60 figures and the product is rounded once.
    assert all(each == pytest.approx(spent, abs=1) for each in at_completion(value))


@given(budget=st.integers(1, 10**9), share=st.floats(0.01, 1), spent=st.integers(1, 10**9))
def test_a_cost_index_below_one_forecasts_more_than_the_plan(budget: int, share: float, spent: int):
    earned = max(1, int(budget * share))
    as_planned, as_so_far, _ = at_completion(EarnedValue(budget, budget, earned, spent))
    assert as_so_far is not None
    assert as_planned is not None
    if spent >= earned:
        assert as_so_far >= as_planned - 1
    else:
        assert as_so_far <= as_planned + 1


@pytest.mark.parametrize(
    ("amounts", "told"),
    [
        ((-1, 0, 0, 0), "budget is -1 minor units; it must be at least 0"),
        ((100, 0, 101, 0), "earned is 101 minor units; it must be between 0 and 100"),
        ((100, 101, 0, 0), "planned by now is 101 minor units; it must be between 0 and 100"),
        ((100, 0, 0, -5), "spent is -5 minor units; it must be at least 0"),
    ],
)
def test_it_refuses_amounts_that_cannot_be(amounts: tuple[int, int, int, int], told: str):
    with pytest.raises(EstimatorError, match=told):
        EarnedValue(*amounts)
