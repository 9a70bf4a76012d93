"""Margin and mark-up are never taken for one another."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.profit import Margin, MarkUp
from materials.estimator.errors import OutOfRange

laws = settings(derandomize=True, deadline=None)


@pytest.mark.parametrize("rate", ["-0.01", "0.96", "1", "20", "NaN"])
def test_a_margin_is_a_share_of_the_price_and_so_below_one(rate):
    with pytest.raises(
        OutOfRange, match=r"margin is .*; it must be between 0 and 0\.95\. Give it as a share of the price"
    ):
        Margin(Decimal(rate))


@pytest.mark.parametrize("rate", ["-0.01", "20", "Infinity"])
def test_a_mark_up_is_a_share_of_the_cost(rate):
    with pytest.raises(
        OutOfRange, match=r"mark-up is .*; it must be between 0 and 19\. Give it as a share of the cost"
    ):
        MarkUp(Decimal(rate))


@laws
@given(st.decimals(0, Decimal("0.9"), places=4), st.integers(0, 10**9))
def test_each_turned_into_the_other_gives_the_same_price(rate, cost):
    margin = Margin(rate)
    assert margin.as_mark_up().as_margin().price_minor(cost) == margin.price_minor(cost)
    assert margin.as_mark_up().price_minor(cost) == margin.price_minor(cost)


def test_no_profit_leaves_the_cost():
    assert Margin(Decimal(0)).price_minor(12345) == MarkUp(Decimal(0)).price_minor(12345) == 12345
