"""Coatings and mixing: what is refused, and why."""

import math

import pytest

from materials.estimator.coatings import fairing_l, mixed_parts_l, paint_l, spreading_rate_m2_l, wet_film_um
from materials.estimator.errors import Missing, OutOfRange, WrongKind
from materials.estimator.mix import (
    batch_kg,
    catalyst_ml,
    filled_resin,
    gel_time_by_q10_min,
    q10_of_chart,
)


def test_loss_divides_and_is_not_added():
    assert paint_l(10, 1, 0.5, 50, 0.5) == pytest.approx(2 * paint_l(10, 1, 0.5, 50, 0.0), rel=1e-12)


def test_it_refuses_volume_solids_in_per_cent():
    with pytest.raises(OutOfRange) as refused:
        spreading_rate_m2_l(50, 50)
    assert str(refused.value) == (
        "Volume solids is 50; it must be between 0.01 and 1. It is a share of the volume, such as 0.50."
    )


def test_it_refuses_to_lose_all_the_paint():
    with pytest.raises(OutOfRange, match=r"Application loss is 1; it must be between 0 and 0\.9\."):
        paint_l(10, 1, 0.5, 50, 1.0)


def test_it_refuses_half_a_coat():
    with pytest.raises(WrongKind, match=r"^Coats is 1\.5; it must be a whole number\.$"):
        paint_l(10, 1.5, 0.5, 50, 0.5)  # type: ignore[arg-type]


def test_it_refuses_true_for_a_number():
    with pytest.raises(WrongKind, match=r"^Painted area is True; it must be a number\.$"):
        paint_l(True, 1, 0.5, 50, 0.5)


def test_it_refuses_to_sand_off_all_of_the_filler():
    with pytest.raises(OutOfRange, match="Share of filler sanded off is 1"):
        fairing_l(24, 0.3, 1.0, 1.0)


def test_it_refuses_a_ratio_without_base():
    with pytest.raises(OutOfRange, match="Part of base is 0"):
        mixed_parts_l(10, (0, 1))
    with pytest.raises(Missing, match="Mixing ratio is missing; give the parts by volume, base first"):
        mixed_parts_l(10, ())


def test_thinner_makes_the_wet_film_thicker():
    assert wet_film_um(50, 0.5, 0.2) == pytest.approx(1.2 * wet_film_um(50, 0.5))


def test_it_refuses_filler_that_no_hand_can_mix():
    with pytest.raises(OutOfRange) as refused:
        filled_resin(100.0, 1120.0, 25.0, 150.0)
    assert str(refused.value).startswith("Share of filler by volume is 0.651163; it must be between 0 and 0.6.")
    assert filled_resin(100.0, 1120.0, 15.0, 150.0).filler_share < 0.60


def test_catalyst_for_nothing_is_nothing():
    assert catalyst_ml(0.0, 2.0) == 0.0


@pytest.mark.parametrize("nonsense", [math.nan, math.inf])
def test_it_refuses_numbers_that_are_none(nonsense):
    with pytest.raises(OutOfRange):
        catalyst_ml(nonsense, 2.0)
    with pytest.raises(OutOfRange):
        batch_kg(nonsense, 0.65, 0.35)


def test_it_refuses_temperatures_no_shop_has():
    with pytest.raises(OutOfRange, match=r"Temperature is 293 C; it must be between -20 and 60 C\."):
        gel_time_by_q10_min(20, 293, 288, 2)


def test_a_chart_is_read_from_the_warmer_side():
    with pytest.raises(OutOfRange, match="Give the warmer reading first"):
        q10_of_chart(240, 15, 30, 25)


def test_the_rule_of_thumb_falls_short_of_a_published_chart():
    # Two published workshop charts imply about 8, so a rule of 2 would promise a quarter of the gel time at 15 C.
    by_rule = gel_time_by_q10_min(30, 25, 15, 2)
    assert 240 / by_rule == pytest.approx(4.0)
