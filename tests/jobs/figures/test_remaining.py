"""What a stage still takes: the norm at first, then more and more what was booked. Common practice, no source."""

import pytest

from jobs.figures.remaining import casts_left, remaining, share_done
from jobs.figures.threepoint import ThreePoint
from materials.estimator.errors import EstimatorError

TEN = ThreePoint(8, 10, 15)


def test_nothing_done_leaves_the_norm() -> None:
    assert remaining(TEN, 0.0, share_done(10, 0, 5, 0)) == TEN


def test_work_to_the_norm_leaves_the_rest_of_the_norm() -> None:
    share = share_done(10, 4, 5, 2)
    assert share == pytest.approx(0.4)
    assert remaining(TEN, 4.0, share).likely == pytest.approx(6.0)


def test_what_was_booked_corrects_the_rest_in_proportion_to_what_is_done() -> None:
    # Half done in 7.5 of 5 hours: the rest is reckoned at half the overrun, 5 x (1 + 0.5 x 0.5).
    rest = remaining(TEN, 7.5, 0.5)
    assert rest.likely == pytest.approx(6.25)
    assert rest.low / rest.likely == pytest.approx(0.8)
    # With everything but the last tenth done the rest follows what was booked almost wholly.
    assert remaining(TEN, 18.0, 0.9).likely == pytest.approx(1 * (1 + 0.9))


def test_steps_done_without_hours_booked_leave_the_norm_of_the_others() -> None:
    assert remaining(TEN, 0.0, share_done(10, 0, 5, 4)).likely == pytest.approx(2.0)


def test_a_step_in_hand_counts_for_half_at_most() -> None:
    assert share_done(10, 1, 5, 0) == pytest.approx(0.1)
    assert share_done(10, 40, 5, 0) == pytest.approx(0.1)
    assert share_done(10, 3, 5, 5) == 1.0


def test_of_several_casts_the_hours_say_how_many_are_through() -> None:
    assert casts_left(6, 30.0, 0.0) == 6
    assert casts_left(6, 30.0, 11.4) == 4
    assert casts_left(6, 30.0, 60.0) == 1
    assert share_done(30, 11.4, 5, 3, casts=6) == pytest.approx(0.38)


def test_more_steps_done_than_there_are_is_refused() -> None:
    with pytest.raises(EstimatorError):
        share_done(10, 0, 3, 4)
