"""Handling by people: refusals, and how the figures move."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.delivery.handling import team_for, zones_passed
from jobs.delivery.lifting_equation import (
    RULED_OUT,
    OnePersonLift,
    averaged_rate,
    coupling_multiplier,
    frequency_multiplier,
    lifting_index,
    reach_cm,
    recommended,
)
from materials.estimator.errors import EstimatorError
from materials.estimator.lines import Term
from tests.jobs.delivery.handling_samples import delivered_filter, movement, term

HEIGHTS = st.floats(0, 2)
CONSTANT = term("lifting_constant")


def load(mass_kg: float) -> Term:
    return Term("load", mass_kg, "kg", "given")


def lift(**changed: object) -> OnePersonLift:
    usual: dict[str, object] = {
        "pick_cm": 80.0,
        "set_cm": 100.0,
        "pick_reach_cm": 30.0,
        "set_reach_cm": 30.0,
        "turned_deg": 0.0,
        "lifts_per_min": 0.2,
        "duration": "1",
        "coupling": "good",
    }
    return OnePersonLift(**(usual | changed))  # type: ignore[arg-type]


@given(HEIGHTS, HEIGHTS, HEIGHTS, st.floats(0, 15))
def test_a_longer_way_or_lifting_more_often_never_raises_what_one_lifts(
    a: float, b: float, c: float, rate: float
) -> None:
    low, middle, high = sorted((a, b, c))
    figures = delivered_filter("lower")
    alone = lambda **how: team_for(load(5), movement(**how), figures).alone.value  # noqa: E731
    assert alone(pick_m=low, set_m=high) <= alone(pick_m=low, set_m=middle)
    assert alone(pick_m=low, set_m=high) == alone(pick_m=high, set_m=low)
    assert alone(lifts_per_min=rate) <= alone(lifts_per_min=rate / 2)
    assert alone(twist="90") < alone(twist="45") < alone()
    assert alone(reach="arm") < alone(reach="close")


@given(st.floats(0.1, 200), st.floats(0.1, 200))
def test_a_heavier_load_never_takes_fewer_people(one: float, other: float) -> None:
    light, heavy = sorted((one, other))
    people = [team_for(load(mass), movement(), delivered_filter("higher")).people or 99 for mass in (light, heavy)]
    assert people[0] <= people[1]


def test_the_zone_that_allows_least_counts() -> None:
    assert zones_passed(movement(0.1, 0.8), delivered_filter().borders) == ("floor", "leg", "knuckle")
    assert team_for(load(5), movement(0.1, 0.8), delivered_filter()).zone == "floor"
    assert team_for(load(5), movement(0.8, 1.5), delivered_filter()).zone == "shoulder"


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"pick_m": -0.1}, "picked up is -0.1 m"),
        ({"set_m": 2.6}, "set down is 2.6 m"),
        ({"lifts_per_min": 16}, "use a machine"),
        ({"reach": "far"}, "close, arm"),
        ({"twist": "180"}, "none, 45, 90"),
    ],
)
def test_a_movement_nobody_makes_is_refused(changed: dict[str, object], said: str) -> None:
    with pytest.raises(EstimatorError, match=said):
        movement(**changed)


def test_a_load_of_nothing_is_refused() -> None:
    for mass in (0.0, -1.0, float("nan")):
        with pytest.raises(EstimatorError, match="Mass of the load"):
            team_for(load(mass), movement(), delivered_filter())
        with pytest.raises(EstimatorError, match="Mass of the load"):
            lifting_index(load(mass), lift(), CONSTANT)


@pytest.mark.parametrize("key", RULED_OUT)
def test_the_equation_is_refused_where_the_manual_rules_it_out(key: str) -> None:
    with pytest.raises(EstimatorError, match="does not apply to"):
        lifting_index(load(5), lift(), CONSTANT, key)


@pytest.mark.parametrize(
    ("changed", "nothing"),
    [
        ({"pick_reach_cm": 64.0}, "reach"),
        ({"set_cm": 176.0}, "height"),
        ({"turned_deg": 136.0}, "turned"),
        ({"lifts_per_min": 16.0}, "rate"),
    ],
)
def test_where_nothing_is_recommended_the_equation_says_what_is_in_the_way(
    changed: dict[str, float], nothing: str
) -> None:
    with pytest.raises(EstimatorError, match=f"factor “{nothing}” is nought"):
        lifting_index(load(5), lift(**changed), CONSTANT)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: lift(coupling="sticky"),
        lambda: lift(duration="12"),
        lambda: lift(pick_cm=-1.0),
        lambda: lift(turned_deg=181.0),
        lambda: lift(set_reach_cm=201.0),
        lambda: frequency_multiplier(1, "12", 50),
        lambda: coupling_multiplier("sticky", 50),
        lambda: reach_cm(-1, 50),
        lambda: averaged_rate(5, 16),
        lambda: lifting_index(load(5), lift(), CONSTANT, "upside down"),
    ],
)
def test_figures_outside_the_equation_are_refused(wrong: object) -> None:
    with pytest.raises(EstimatorError):
        wrong()  # type: ignore[operator]


@given(st.floats(25, 63), st.floats(0, 135), st.floats(0.2, 12), st.floats(0, 150))
def test_further_out_more_turned_or_more_often_never_recommends_more(
    reach: float, turned: float, rate: float, pick: float
) -> None:
    least = lambda **how: min(each.value for each in recommended(lift(pick_cm=pick, **how), CONSTANT))  # noqa: E731
    assert least(pick_reach_cm=reach, set_reach_cm=reach) <= least(pick_reach_cm=25.0, set_reach_cm=25.0)
    assert least(turned_deg=turned) <= least(turned_deg=turned / 2)
    assert least(lifts_per_min=rate) <= least(lifts_per_min=rate / 2)
    assert least(coupling="poor") <= least(coupling="fair") <= least(coupling="good")


def test_the_index_is_the_load_over_the_lower_of_both_ends() -> None:
    index, at_pick, at_set = lifting_index(load(12), lift(set_reach_cm=50.0), CONSTANT)
    assert at_set.value < at_pick.value
    assert index.value == pytest.approx(12 / at_set.value)
