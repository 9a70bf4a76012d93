"""Slings against what is published."""

import pytest

from jobs.delivery.lifting import leg_factor, mode_factor, tension_factor
from tests.jobs.delivery.lifting_samples import even, rig


@pytest.mark.parametrize(
    ("from_level_deg", "printed"),
    # A sling catalogue's table of 1.000, 1.155, 1.414, 2.000 by the angle from the horizontal.
    [(90, 1.0), (60, 1.1547), (45, 1.4142), (30, 2.0)],
)
def test_the_pull_of_a_leg_by_its_angle(from_level_deg: float, printed: float) -> None:
    assert tension_factor(90 - from_level_deg) == pytest.approx(printed, abs=0.001)


def test_ten_thousand_pounds_on_two_legs_at_half_a_right_angle() -> None:
    # The same catalogue prints 7 070 lb.
    lift = even(10_000, rig(legs=2, out=1.0, hook=1.0, dynamic=1.0))
    assert lift.tension.value == pytest.approx(7071.07, abs=5)
    # Common practice, no source: a tonne on two legs with 60 degrees between them puts 0.58 t in each.
    assert even(1000, rig(legs=2, out=1.0, hook=3**0.5, dynamic=1.0)).tension.value == pytest.approx(577.35, abs=1)


@pytest.mark.parametrize(
    ("legs", "angle", "factor", "printed_t"),
    # EN 13414-1:2003 Table 4, its line of leg factors, and its row of an 8 mm rope whose single leg holds 0.75 t;
    # the printed limits are rounded down from the product.
    [
        (1, 0, 1.0, 0.75),
        (2, 45, 1.4, 1.05),
        (2, 60, 1.0, 0.75),
        (3, 45, 2.1, 1.55),
        (4, 45, 2.1, 1.55),
        (4, 60, 1.5, 1.1),
    ],
)
def test_the_leg_factors_of_the_standard(legs: int, angle: float, factor: float, printed_t: float) -> None:
    assert leg_factor(legs, angle) == pytest.approx(factor, rel=1e-9)
    assert leg_factor(legs, angle) * 0.75 == pytest.approx(printed_t, abs=0.03)


def test_an_endless_rope_choked() -> None:
    # EN 13414-1:2003 Table 4: 1.6, and 1.2 t of the same rope.
    assert mode_factor(1, "endless", 0) == pytest.approx(1.6, rel=1e-9)
    assert mode_factor(1, "endless", 0) * 0.75 == pytest.approx(1.2, abs=0.01)


@pytest.mark.parametrize(
    ("legs", "hitch", "angle", "factor"),
    # BS EN 1492-1 and -2, mode factors; two legs choked from memory.
    [
        (1, "straight", 0, 1.0),
        (1, "choked", 0, 0.8),
        (1, "basket", 0, 2.0),
        (1, "basket", 45, 1.4),
        (1, "basket", 60, 1.0),
        (2, "straight", 45, 1.4),
        (2, "choked", 45, 1.12),
        (4, "straight", 45, 2.1),
    ],
)
def test_the_mode_factors_of_webs_and_round_slings(legs: int, hitch: str, angle: float, factor: float) -> None:
    assert mode_factor(legs, hitch, angle) == pytest.approx(factor, abs=1e-9)
