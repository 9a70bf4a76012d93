"""The shadow that stands in the wind."""

import math

import pytest

from jobs.delivery.shadow import shadow
from materials.estimator.errors import Missing

SQUARE = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def moved(ring, x, z):
    return tuple((px + x, pz + z) for px, pz in ring)


def test_a_square_has_its_area_and_its_middle():
    # Closed form.
    found = shadow([[moved(SQUARE, 0, 2)]])
    assert (found.area_m2, found.middle_m, found.top_m) == pytest.approx((1.0, 2.5, 3.0), rel=1e-9)


def test_a_disc_comes_out_as_a_disc():
    # Closed form: pi r², to a thousandth.
    disc = [(0.5 * math.cos(2 * math.pi * n / 400), 1 + 0.5 * math.sin(2 * math.pi * n / 400)) for n in range(400)]
    found = shadow([[disc]])
    assert found.area_m2 == pytest.approx(math.pi / 4, rel=1e-3)
    assert found.middle_m == pytest.approx(1.0, rel=1e-6)


def test_what_hides_behind_another_is_counted_once():
    # Geometry: half of the second square lies behind the first.
    assert shadow([[SQUARE], [moved(SQUARE, 0.5, 0)]]).area_m2 == pytest.approx(1.5, rel=1e-9)
    assert shadow([[SQUARE], [moved(SQUARE, 2, 0)]]).area_m2 == pytest.approx(2.0, rel=1e-9)


def test_a_hole_lets_the_wind_through():
    hole = tuple((0.25 + x / 2, 0.25 + z / 2) for x, z in SQUARE)
    assert shadow([[SQUARE, hole]]).area_m2 == pytest.approx(0.75, rel=1e-2)


@pytest.mark.parametrize("silhouettes", [[], [[]], [[((0.0, 1.0), (2.0, 1.0), (1.0, 1.0))]]])
def test_nothing_to_see_is_said_so(silhouettes):
    with pytest.raises(Missing, match="no outline from this side"):
        shadow(silhouettes)
