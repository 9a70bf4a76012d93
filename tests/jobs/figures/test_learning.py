"""Learning: two models that agree on nothing but the first cast and a rate of one."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.learning import crawford_total, crawford_unit, wright_average, wright_total, wright_unit
from materials.estimator.errors import OutOfRange

laws = settings(derandomize=True, deadline=None)

rates, counts = st.floats(0.55, 1.0), st.integers(1, 60)


@laws
@given(rates, counts)
def test_doubling_the_count_brings_each_models_own_measure_down_to_the_rate(rate, count):
    assert crawford_unit(10.0, rate, 2 * count) == pytest.approx(rate * crawford_unit(10.0, rate, count))
    assert wright_average(10.0, rate, 2 * count) == pytest.approx(rate * wright_average(10.0, rate, count))


@laws
@given(rates, counts)
def test_units_sum_to_the_total(rate, count):
    assert sum(wright_unit(10.0, rate, n) for n in range(1, count + 1)) == pytest.approx(
        wright_total(10.0, rate, count)
    )
    assert crawford_total(10.0, rate, count) >= wright_total(10.0, rate, count) * (1 - 1e-12)


def test_without_learning_every_cast_is_the_first():
    assert crawford_total(7.0, 1.0, 6) == wright_total(7.0, 1.0, 6) == 42.0


@pytest.mark.parametrize(("first", "rate", "count"), [(1.0, 0.5, 2), (1.0, 1.1, 2), (1.0, 0.9, 0), (-1.0, 0.9, 2)])
def test_it_refuses_what_is_no_learning(first, rate, count):
    for model in (crawford_unit, crawford_total, wright_average, wright_total, wright_unit):
        with pytest.raises(OutOfRange, match="it must be"):
            model(first, rate, count)
