"""Three-point estimates against a second method, and the hours of a job."""

from math import sqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.figures.threepoint import ThreePoint, job_hours
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import HourLine

laws = settings(derandomize=True, deadline=None)

points = st.lists(st.integers(0, 4000), min_size=3, max_size=3).map(
    lambda quarters: ThreePoint(*sorted(quarter / 4 for quarter in quarters))
)


@laws
@given(points.filter(lambda point: point.high > point.low), st.floats(0.01, 0.99))
def test_beta_and_triangular_quantiles_agree_with_a_second_library(point, share):
    from scipy.stats import beta, triang

    width = point.high - point.low
    a, b = 1 + 4 * (point.likely - point.low) / width, 1 + 4 * (point.high - point.likely) / width
    assert point.beta_quantile(share) == pytest.approx(
        beta.ppf(share, a, b, point.low, width), abs=1e-9 * width + 1e-12
    )
    peak = (point.likely - point.low) / width
    expected = triang.ppf(share, peak, point.low, width)
    assert point.triangular_quantile(share) == pytest.approx(expected, abs=1e-9 * width + 1e-12)


@laws
@given(points, st.floats(0.01, 0.98))
def test_a_larger_share_never_needs_fewer_hours_and_stays_within_the_estimate(point, share):
    for quantile in (point.beta_quantile, point.triangular_quantile):
        assert point.low <= quantile(share) <= quantile(share + 0.01) <= point.high


def test_an_estimate_without_doubt_is_itself():
    sure = ThreePoint(4.0, 4.0, 4.0)
    assert sure.beta_quantile(0.8) == sure.triangular_quantile(0.8) == sure.normal_quantile(0.8) == 4.0


@pytest.mark.parametrize("values", [(3, 2, 4), (1, 5, 4), (-1, 2, 3), (1, float("nan"), 3), (1, 2, float("inf"))])
def test_estimates_out_of_order_are_refused(values):
    with pytest.raises(EstimatorError, match=r"out of order; give low, likely and high, rising|it must be at least 0"):
        ThreePoint(*values)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.1, float("nan")])
def test_a_share_of_outcomes_lies_between_nought_and_one(share):
    point = ThreePoint(1.0, 2.0, 3.0)
    for quantile in (point.normal_quantile, point.triangular_quantile, point.beta_quantile):
        with pytest.raises(EstimatorError, match="share of outcomes is"):
            quantile(share)


def hour(section, stage, step, low, likely, high):
    return HourLine(section, stage, step, low, likely, high, "", ())


def test_one_step_moves_together_across_sections_and_steps_move_apart():
    job = job_hours(
        [
            hour("Body", "pattern", "carve", 2.0, 3.5, 8.0),
            hour("Leaf", "pattern", "carve", 2.0, 3.5, 8.0),
            hour("Body", "cast", "laminate", 4.0, 7.0, 16.0),
        ]
    )
    # Each step has the range 4 to 16: a deviation of 2, and two of them independent.
    assert job.mean == pytest.approx(16.0)
    assert job.deviation == pytest.approx(sqrt(8.0))
    assert job.p50 == job.mean
    assert job.p80 == pytest.approx(16.0 + 0.8416212 * sqrt(8.0), rel=1e-6)
    assert job.likely == 14.0


def test_a_job_without_hours_has_none():
    job = job_hours([])
    assert (job.mean, job.deviation, job.p80) == (0.0, 0.0, 0.0)
