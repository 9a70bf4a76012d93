"""Lifts: what holds, what is refused, and how the figures move."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.delivery.balance import balanced, shell_height_m
from jobs.delivery.lifting import leg_factor, mode_factor, tension_factor
from materials.estimator.errors import EstimatorError, Missing, OutOfRange, UnknownChoice
from materials.estimator.form import Form, Station
from tests.jobs.delivery.lifting_samples import even, part, rig

LEGS = st.integers(2, 4)


@given(st.integers(1, 4), st.floats(0, 60), st.floats(0, 60))
def test_a_wider_angle_never_lowers_the_pull_or_raises_what_slings_hold(legs: int, one: float, other: float) -> None:
    near, far = sorted((one, other))
    assert tension_factor(near) <= tension_factor(far)
    assert leg_factor(legs, near) >= leg_factor(legs, far)


@given(LEGS, st.floats(0.1, 2), st.floats(0.3, 0.95), st.floats(0, 0.9), st.booleans())
def test_more_mass_a_lower_hook_or_a_point_off_the_middle_never_lowers_the_pull(
    legs: int, out: float, nearer: float, off: float, is_stiff: bool
) -> None:
    hook = 2.5 * out
    base = even(200, rig(legs=legs, out=out, hook=hook, is_stiff=is_stiff))
    lower = even(200, rig(legs=legs, out=out, hook=hook * max(nearer, 0.6), is_stiff=is_stiff))
    aside = even(200, rig(legs=legs, out=out, hook=hook, is_stiff=is_stiff), aside_m=off * out)
    heavier = even(400, rig(legs=legs, out=out, hook=hook, is_stiff=is_stiff))
    assert lower.tension.value >= base.tension.value
    assert aside.tension.value >= base.tension.value
    assert heavier.tension.value == pytest.approx(2 * base.tension.value)
    for lift in (base, lower, aside, heavier):
        assert lift.capacity.value >= lift.tension.value * (1 - 1e-9)


def test_the_near_leg_of_two_holds_what_the_lever_says() -> None:
    # Two points 1 m apart, the mass 0.2 m from the middle: 70 and 30 % of it, by the lever; the hook so far up that
    # the legs are upright.
    lift = even(100, rig(legs=2, out=0.5, hook=100, dynamic=1.0), aside_m=-0.2)
    assert lift.tension.value == pytest.approx(70, rel=1e-3)


def test_a_stiff_load_on_four_legs_is_taken_by_two_of_them() -> None:
    stiff, sharing = (even(300, rig(legs=4, is_stiff=is_stiff)) for is_stiff in (True, False))
    assert stiff.tension.value == pytest.approx(1.5 * sharing.tension.value)
    assert stiff.tension.value == pytest.approx(even(300, rig(legs=2)).tension.value)


def test_a_basket_is_two_legs_of_one_sling_and_choking_takes_its_share() -> None:
    basket, legs = even(200, rig(legs=1, hitch="basket")), even(200, rig(legs=2))
    assert basket.tension.value == pytest.approx(legs.tension.value)
    assert basket.capacity.value == pytest.approx(legs.capacity.value)
    assert basket.angle.value == legs.angle.value > 0
    assert even(200, rig(legs=2, hitch="choked")).capacity.value == pytest.approx(legs.capacity.value / 0.8)
    assert even(200, rig(legs=2, hitch="endless")).capacity.value == pytest.approx(legs.capacity.value / 1.6)


def test_points_below_the_balance_point_turn_it_over() -> None:
    assert not even(100, rig(points=0.51), height_m=0.5).turns_over
    assert even(100, rig(points=0.5), height_m=0.5).turns_over
    assert even(100, rig(points=0.2), height_m=0.5).above.value == pytest.approx(-0.3)


def test_a_point_is_designed_for_its_pull_times_the_factor() -> None:
    lift = even(100, rig(legs=1, dynamic=1.0, design=5.0))
    # 100 kg pull with 0.981 kN, ISO 80000-3.
    assert lift.force.value == pytest.approx(0.980665)
    assert lift.point.value == pytest.approx(4.903325)
    assert lift.angle.value == 0


def test_parts_balance_where_the_lever_says() -> None:
    balance = balanced([part(40, 1.0), part(20, 0.4, 0.3, "steel"), part(60, 0.0, 0.0, "base"), part(0, 9, 9, "none")])
    assert balance.mass.value == 120
    assert balance.height.value == pytest.approx((40 * 1.0 + 20 * 0.4) / 120)
    assert balance.aside.value == pytest.approx(20 * 0.3 / 120)
    assert "none" not in balance.mass.formula
    assert balanced([part(10, aside_m=0.3, behind_m=-0.4)]).off.value == pytest.approx(0.5)
    with pytest.raises(Missing, match="Mass of the load"):
        balanced([part(0)])


@pytest.mark.parametrize(
    ("changed", "aside_m", "said"),
    [
        ({"out": 1.0, "hook": 0.5}, 0.0, "63.4349 degrees.*no sling is rated"),
        ({"out": 0.5, "hook": 1.0}, 0.5, "set the points further out"),
        ({"legs": 5}, 0.0, "under a beam"),
        ({"legs": 0}, 0.0, "Sling legs is 0"),
        ({"hitch": "knotted"}, 0.0, "straight, choked"),
        ({"hitch": "basket"}, 0.0, "Slings in a basket is 2"),
        ({"dynamic": 0.9}, 0.0, "Dynamic factor is 0.9"),
        ({"hook": 0.0}, 0.0, "Hook above the points is 0 m"),
        ({"design": 0.5}, 0.0, "Design factor"),
    ],
)
def test_a_rig_that_cannot_be_is_refused(changed: dict[str, object], aside_m: float, said: str) -> None:
    with pytest.raises(EstimatorError, match=said):
        even(100, rig(**changed), aside_m=aside_m)


def test_angles_and_hitches_that_no_standard_rates_are_refused() -> None:
    for refused in (lambda: tension_factor(60.1), lambda: leg_factor(2, 61), lambda: mode_factor(2, "basket", 10)):
        with pytest.raises(OutOfRange):
            refused()
    with pytest.raises(UnknownChoice):
        mode_factor(1, "knotted", 0)


def form(area_m2: float, *stations: tuple[float, float, float]) -> Form:
    cuts = tuple(Station(*each) for each in stations)
    return Form(area_m2, None, 1.0, 1.0, cuts[-1].z_m, cuts, None, "given")


def test_a_skin_balances_where_geometry_says() -> None:
    # Closed forms: an open cylinder in its middle; an open cone a third up from its rim; a closed cone lower, for its
    # foot counts as well; a sphere in its middle.
    assert shell_height_m(form(math.pi * 2, (0, 1, 1), (2, 1, 1))) == pytest.approx(1.0)
    slant = math.hypot(3, 1)
    cone = math.pi * slant
    assert shell_height_m(form(cone, (0, 2, 2), (3, 0, 0))) == pytest.approx(1.0)
    closed = cone + math.pi
    assert shell_height_m(form(closed, (0, 2, 2), (3, 0, 0))) == pytest.approx(cone * 1.0 / closed)
    angles = [math.pi * step / 40 for step in range(41)]
    ball = [(1 - math.cos(a), 2 * math.sin(a), 2 * math.sin(a)) for a in angles]
    assert shell_height_m(form(4 * math.pi, *ball)) == pytest.approx(1.0, abs=1e-6)


@given(st.floats(0.2, 3), st.floats(0.2, 3), st.floats(0.2, 4))
def test_a_skin_balances_within_its_height(foot: float, top: float, height: float) -> None:
    lateral = math.pi * (foot + top) / 2 * math.hypot(height, (foot - top) / 2)
    found = shell_height_m(form(lateral, (0, foot, foot), (height, top, top)))
    # Closed form of an open frustum: h (D + 2 d) / (3 (D + d)).
    assert found == pytest.approx(height * (foot + 2 * top) / (3 * (foot + top)), rel=1e-9)


def test_what_only_rounding_takes_off_the_middle_stands_in_it() -> None:
    # A model's triangles sum to a middle that is off by rounding alone; parts on either side may cancel to as little.
    assert balanced([part(50, 0.5, aside_m=3e-14)]).off.value == 0
    either = [part(0.1, 0.5, aside_m=0.3), part(0.3, 0.5, aside_m=-0.1)]
    assert balanced(either).aside.value == 0
    assert balanced([part(50, 0.5, aside_m=0.001)]).off.value == pytest.approx(0.001)
